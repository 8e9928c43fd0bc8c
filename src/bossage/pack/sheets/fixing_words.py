"""How the wall half is fixed, in steps: at studs and in masonry, with what is measured before and what may differ."""

from __future__ import annotations

from collections import Counter

from bossage.body import Role
from bossage.brief.records import FixingKind, Opens
from bossage.hang.records import CleatPlan, LeafHang
from bossage.hang.wall_holes import fixing_words
from bossage.hang.wall_records import InStuds
from bossage.pack.drawings.hanging import still_of
from bossage.pack.sheets.drilling import wall_drill_words
from bossage.pack.sheets.loads import force_words
from bossage.pack.words import Words, listed
from bossage.plan import Plan


def fix_steps(plan: Plan, hung: LeafHang, cleat: CleatPlan, words: Words) -> list[str]:
    """From the holes in the loose wall half to the last screw."""
    if not cleat.fixings:
        return [f"Drill nothing and do not fix it here: {cleat.count_reason}. Change the brief and plan again."]
    fix = f"Fix it at the red crosses, {_rows(cleat, words)}: {_what_where(plan, cleat)}."
    heads, own = _heads_words(plan), plan.brief.cleat.hole_pitch_nm is not None
    drills = wall_drill_words(cleat.holes, "wall half", words, own_holes=own)
    if cleat.holes is not None and cleat.holes.into == "masonry":
        return [
            f"{_loose_holes(plan, hung, cleat, words)} Hold the wall half on the line, level, and prick each place "
            "through its hole into the wall. Take it down.",
            f"{drills} Blow the dust out of every hole and push each plug in until the plaster is before it.",
            f"{fix} Put the wall half back on the line and drive all screws loosely, look at the level, then drive "
            f"them home.{heads}",
        ]
    if cleat.in_studs is None:
        return [f"{fix} {drills}{heads}"]
    return [
        _find_studs(cleat, cleat.in_studs, words, own_holes=own),
        lining_words(cleat, cleat.in_studs, words),
        f"{fix} {drills} Tape the thin bit {words.length(cleat.screw.length_nm)} from its tip.{heads}",
    ]


def why_so_many(cleat: CleatPlan, words: Words) -> str:
    """Why there are so many fixings, and what the hardest-worked takes."""
    return f"Why so many fixings: {cleat.count_reason}. {_hardest(cleat, words)}"


def wrong_words(plan: Plan, words: Words) -> str:
    """What to do where a fixing of wall half or hinge post does not hold; a sheet's foot has two lines for it."""
    held = "wall half" if plan.brief.access.opens is Opens.LIFT_OFF else "hinge post"
    if plan.brief.cleat.hole_pitch_nm is not None and plan.brief.access.opens is Opens.LIFT_OFF:
        return (
            "A screw spins, or a plug turns with it? Take the wall half down, and plan again with a thicker fixing. "
            "What is bought is not drilled wider. Never on fewer."
        )
    if not plan.brief.into_studs:
        return (
            "A screw spins, or a plug turns with it? Set the next thicker plug and screw in the same place; widen the "
            f"{held}'s hole for it. No other place without a new plan. Never on fewer."
        )
    told = next((leaf.cleat.in_studs for leaf in plan.hang.leaves if leaf.cleat and leaf.cleat.in_studs), None)
    deep = (
        f", its tip no more than {words.length(told.most_nm)} behind the stud's face" if told and told.most_nm else ""
    )
    return (
        f"A screw spins in its stud? Drive a thicker one, as long, in the same hole{deep}. No lower: there it is "
        "pulled harder. Never on fewer."
    )


def _loose_holes(plan: Plan, hung: LeafHang, cleat: CleatPlan, words: Words) -> str:
    """Where the holes stand on the wall half while it lies on the bench."""
    holes = cleat.holes
    assert holes is not None
    up = listed([words.bare(y - cleat.wall_half_bottom_nm) for y in sorted({one.y_nm for one in cleat.fixings})])
    ends = []
    for half in still_of(plan, hung, Role.WALL_HALF):
        mine = sorted(one.x_nm - half.from_x_nm for one in cleat.fixings if half.from_x_nm <= one.x_nm <= half.to_x_nm)
        ends.append(", ".join(words.bare(x) for x in mine))
    along = "; on the other piece ".join(dict.fromkeys(ends))
    bought = plan.brief.cleat
    if bought.hole_pitch_nm is not None:
        return (
            f"The screws go through these holes of the wall half, in {words.unit} from its left end, seen from its "
            f"face: {along}. Drill none."
        )
    edge = "lower" if bought.kind == "metal" else "square"
    return (
        f"On the bench drill {words.drill(holes.clearance_hole_mm)} holes through the wall half, {up} {words.unit} up "
        f"from its {edge} edge; from its left end, seen from its face: {along}."
    )


def _rows(cleat: CleatPlan, words: Words) -> str:
    """Every row with its height; of two or more also its own places, as each stands beside the line of its stud."""
    heights = sorted({one.y_nm for one in cleat.fixings}, reverse=True)
    if len(heights) == 1:
        return f"{words.length(heights[0])} above the floor"
    told = []
    for y in heights:
        places = ", ".join(words.bare(one.x_nm) for one in sorted(cleat.fixings, key=lambda f: f.x_nm) if one.y_nm == y)
        told.append(f"{words.length(y)} above the floor at {places}")
    beside = max(abs(one.beside_nm) for one in cleat.fixings)
    by = f"; each {words.length(beside)} beside the middle of its stud, left and right by turns" if beside else ""
    return f"{'; '.join(told)}, from the left corner of the wall{by}"


def _find_studs(cleat: CleatPlan, told: InStuds, words: Words, *, own_holes: bool) -> str:
    """Where the studs truly are, and how far a screw may follow."""
    lines = {stud.x_nm for stud in cleat.studs} if own_holes else {one.line_nm for one in cleat.fixings}
    places = listed([words.bare(x) for x in sorted(lines)])
    follow = (
        f"A screw follows the middle that you find, by up to {words.length(told.follow_nm)} to either side"
        if told.follow_nm
        else "This wall half has no strength to spare for a screw that follows its stud by more than a pencil line"
    )
    if own_holes:
        follow = "A screw stands in a hole of the wall half and cannot follow its stud"
    return (
        f"Find both sides of each stud, with the detector and, where the wall half will cover it, a thin nail that "
        "goes no deeper than the lining; mark its middle. "
        f"The plan has the middles {places} {words.unit} from the left corner. {follow}. It stays at least "
        f"{words.length(told.edge_nm)} from the sides of its stud and out of what is hatched. Where the stud is "
        "farther off or missing: drill nothing, measure all studs, write them as wall.studs and plan again."
    )


def lining_words(cleat: CleatPlan, told: InStuds, words: Words) -> str:
    """For which thickness of covering a screw is meant, how deep its tip may lie, and what to take under another."""
    screw = words.screw(cleat.screw.gauge, cleat.screw.length_nm)
    limit = (
        f"; no tip may lie deeper than {words.length(told.most_nm)} there, where cables and pipes run"
        if told.most_nm is not None
        else ""
    )
    ways: dict[str, list[str]] = {}
    for one in told.others:
        drill = f" with a lead hole of {words.drill(one.drill_mm)}" if one.drill_mm else ""
        own = one.screw == cleat.screw
        ways.setdefault(
            "the same screw does" if own else f"take {words.screw(one.screw.gauge, one.screw.length_nm)}{drill}", []
        ).append(words.length(one.lining_nm))
    under = "".join(f" Under {listed(linings)} {way}." for way, linings in ways.items())
    return (
        f"{screw} is for {words.length(told.lining_nm)} of lining (wallboard or plaster) before the stud: its tip "
        f"then lies {words.length(told.deep_nm)} behind the stud's face{limit}. Measure the lining at the first hole."
        f"{under} Under any other lining drive no screw: write wall.covering and plan again."
    )


def _heads_words(plan: Plan) -> str:
    """What kind of head: battens and leaf slide down before the wall half."""
    if plan.brief.cleat.kind != "wood" or plan.brief.fixings.kind is FixingKind.HOLLOW:
        return ""
    return " Countersunk heads, sunk flush: nothing may stand out of the wall half's face."


def _what_where(plan: Plan, cleat: CleatPlan) -> str:
    """How many of which fixing into what."""
    counts = Counter(fixing.into for fixing in cleat.fixings)
    return listed([f"{n} {fixing_words(plan.brief, into, cleat.screw)} into {into}" for into, n in counts.items()])


def _hardest(cleat: CleatPlan, words: Words) -> str:
    """What the hardest-worked fixing takes, so that another can be chosen at the shop."""
    worst = max(cleat.fixings, key=lambda one: (one.pull_n, one.shear_n))
    unit = "lbf" if words.inches else "kg"
    return (
        f"Each is pulled straight out by up to {force_words(worst.pull_n, words)} {unit} and carries up to "
        f"{force_words(max(one.shear_n for one in cleat.fixings), words)} {unit} along the wall."
    )
