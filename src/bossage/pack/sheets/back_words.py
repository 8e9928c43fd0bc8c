"""What holds each part of the back, and the order of making, in sentences."""

from __future__ import annotations

from collections.abc import Iterable

from bossage.body import FixtureSolid, How, Joint, Part, Role, Step
from bossage.body.order import order_of_making
from bossage.brief.records import EdgeStyle
from bossage.hang.records import CleatPlan, LeafHang
from bossage.hang.screw_records import GlueScrews
from bossage.layout.records import Leaf
from bossage.pack.drawings.backview import BackView
from bossage.pack.drawings.cut import named_together
from bossage.pack.sheets.drilling import glue_drill_words, panel_drill_words
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan

TELLS = {
    How.GLUE: "glued to {}",
    How.GLUE_AND_SCREWS: "glued and screwed to {}",
    How.SCREWS: "screwed to {}",
    How.BEVEL: "hooks over {}",
    How.BEARING: "bears on {}",
    How.HINGE: "other flap on {}",
    How.HOOK: "catches {}",
}
DOES = {How.GLUE: "Glue", How.GLUE_AND_SCREWS: "Glue and screw", How.SCREWS: "Screw"}


def held_words(same: list[Part], parts: Iterable[Part], joints: list[Joint]) -> list[str]:
    """What parts alike are held on, and how: `glued and screwed to the backer`."""
    numbers = {part.name: part.number for part in parts}
    names = {part.name for part in same}
    found: dict[How, list[str]] = {}
    for joint in joints:
        if joint.a in names:
            partners = found.setdefault(joint.how, [])
            if joint.b not in partners:
                partners.append(joint.b)
    return [TELLS[how].format(_with_numbers(partners, numbers)) for how, partners in found.items()]


def _with_numbers(names: list[str], numbers: dict[str, int]) -> str:
    """`rib 1 and 2 (no. 3)`, `the wall`."""
    groups: dict[int, list[str]] = {}
    for name in names:
        groups.setdefault(numbers.get(name, 0), []).append(name)
    return listed([_the(group) + (f" (no. {number})" if number else "") for number, group in groups.items()])


def _the(names: list[str]) -> str:
    together = named_together(names)
    return together if together[-1:].isdigit() else f"the {together}"


def hidden_words(one: FixtureSolid, view: BackView, words: Words) -> str:
    """What the leaf hides: its size, its lower left corner as the back is seen, how far it stands off the wall."""
    box, seen = one.box, view.of(one.box.x0, one.box.y0, one.box.x1, one.box.y1)
    return (
        f"{one.name[:1].upper()}{one.name[1:]}, {words.size(box.x1 - box.x0, box.y1 - box.y0)}: left edge "
        f"{words.of_mm(seen.left_mm)}, lower edge {words.of_mm(seen.bottom_mm)}, {words.bare(box.z1)} proud."
    )


def past_words(leaf: Leaf, words: Words) -> str:
    """How far the face reaches past the backer, seen from behind; nothing where both are as large."""
    left = leaf.backer_x_nm - leaf.x_nm
    foot = leaf.backer_y_nm - leaf.y_nm
    past = {
        "at the left": leaf.width_nm - leaf.backer_width_nm - left,
        "at the right": left,
        "above": leaf.height_nm - leaf.backer_height_nm - foot,
        "below": foot,
    }
    told = {side: nm for side, nm in past.items() if nm > 0}
    if not told:
        return ""
    if len(told) == len(past) and len(set(told.values())) == 1:
        return f"reach {words.length(left)} past the backer on all four sides."
    each = listed([f"{words.length(nm)} {side}" for side, nm in told.items()])
    return f"reach past the backer, seen from behind: {each}."


def corner_words(view: BackView, words: Words) -> str:
    """That the corners of a frame are open where its uprights end short of its rails; nothing where they meet."""
    lying = [p.box for p in view.parts if p.role is Role.FRAME and p.box.x1 - p.box.x0 >= p.box.y1 - p.box.y0]
    standing = [p.box for p in view.parts if p.role in (Role.FRAME, Role.STILE) and p.box not in lying]
    gaps = []
    for up in standing:
        gaps += [up.y0 - rail.y1 for rail in lying if rail.y1 < up.y0] + [r.y0 - up.y1 for r in lying if r.y0 > up.y1]
    if not gaps:
        return ""
    return (
        f"between rails and stiles stay open, {words.length(min(gaps))} of them: air passes there, and no "
        "joint is asked for."
    )


def past_backer_words(view: BackView, words: Words) -> str:
    """How much of a hinge stile lies on the backer, and how far its outer edge stands past the backer."""
    backer, told = view.backer.box, []
    for part in (p for p in view.parts if p.role is Role.HINGE_STILE):
        box = part.box
        level = box.x1 - box.x0 > box.y1 - box.y0
        low, high = (box.y0, box.y1) if level else (box.x0, box.x1)
        first, last = (backer.y0, backer.y1) if level else (backer.x0, backer.x1)
        past = max(first - low, high - last)
        if past > 0:
            told.append(
                f"{words.bare(high - low - past)} of its {words.length(high - low)} lie on the backer, and its outer "
                f"edge stands {words.length(past)} past the backer's edge."
            )
    return " ".join(told)


def margin_words(plan: Plan, words: Words) -> str:
    """The margin of the back that edge strips are glued to; nothing without an edge ring."""
    if plan.brief.edge.style is not EdgeStyle.OUTRIGGER:
        return ""
    return f"a margin of {words.length(plan.brief.edge.strip_behind_nm)} all round"


def step_words(plan: Plan, leaf: Leaf, view: BackView, words: Words) -> tuple[str, ...]:
    """The order of making in sentences."""
    parts = plan.body.of(leaf.name, leaf.copy)
    joints = tuple(j for j in plan.body.joints if j.leaf == leaf.name and j.copy == leaf.copy)
    steps = [step for step in plan.body.steps if step.leaf == leaf.name] if leaf.copy == 1 else []
    return tuple(_step(plan, leaf, view, step, words) for step in (steps or order_of_making(tuple(parts), joints)))


def _step(plan: Plan, leaf: Leaf, view: BackView, step: Step, words: Words) -> str:
    numbers = {part.name: part.number for part in view.parts}
    what, on = _with_numbers(list(step.parts), numbers), _with_numbers(list(step.on), numbers)
    swings = any(part.role is Role.HINGE for part in view.parts)
    if step.kind == "saw":
        return f"Saw what is hatched out of {what}, before anything is glued or sealed."
    if step.kind == "wall":
        return f"{DOES[step.how or How.SCREWS]} {what} to {on}. The hang sheet says at which height and with what."
    if step.kind == "proof":
        return (
            f"Load {on} as a trial: let {what} down on it while it is loose, and hang weights from it, as the hang "
            "sheet says. Only then is it glued or screwed to the back."
        )
    if step.kind == "bench":
        if any(part.role is Role.CATCH and part.name in step.parts for part in view.parts):
            return f"Screw {what} to {on} with the screws of its packet, in the middle of its slots."
        return f"Join {on} by {what}, at the bench, as the hang sheet says."
    if step.kind == "keep":
        return f"Fix {what} to {on} where the magnet marks it, as the hang sheet says."
    if step.kind == "ring":
        return (
            f"Last of all, once the field is laid and its glue has cured: {what} to {on}, with the ring's blocks, as "
            f"the sheet 'Edge ring' says. Until then {margin_words(plan, words)} of the back stays bare."
        )
    if step.kind == "try":
        must = (
            "turn as far as it shall and touch nothing" if swings else "sit down by itself, stand plumb, and come off"
        )
        return (
            f"Hang {what} bare, as a trial, on {on}. It must {must}, as the hang sheet says. Only then is it sealed. "
            "Only then are blocks laid."
        )
    return f"{DOES[step.how or How.GLUE]} {what} to {on}.{_screws_of(plan, leaf, view, step, words)}"


def _screws_of(plan: Plan, leaf: Leaf, view: BackView, step: Step, words: Words) -> str:
    """The screws that are reckoned, those of the panel half; of all others from where they come and how long at most.

    Screws beside glue only keep it shut while it dries; the load path does not count on them.
    """
    parts = [part for part in view.parts if part.name in step.parts]
    roles = {part.role for part in parts}
    if step.how is not How.GLUE_AND_SCREWS and step.how is not How.SCREWS:
        own = " It has no screws of its own: those of the panel half pass through it later."
        return f" Clamp until the glue holds.{own if Role.PACKER in roles else ''}"
    hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
    if hung.cleat is not None and Role.PANEL_HALF in roles:
        panel = hung.cleat.panel
        sunk = f"{words.length(panel.sunk_nm)} below it" if panel.sunk_nm else "flush"
        side = f"from the backer's face, heads sunk {sunk}, "
        if not panel.from_front:
            side = "from the panel half's face at the wall, heads sunk flush, as that face lies on the wall, "
        ahead = "panel half's face at the wall" if panel.from_front else "backer's face"
        return (
            f" Use {count_of(len(panel.screws), 'screw')} {words.screw(panel.gauge, panel.length_nm)} at the red "
            f"crosses, {side}into the {panel.into}. {panel_drill_words(panel, words)}Their tips end "
            f"{words.length(panel.tip_to_face_nm)} short of the {ahead}. " + _half_words(hung.cleat, parts, view)
        )
    return _held_shut(hung, parts, view, words)


def _half_words(cleat: CleatPlan, halves: list[Part], view: BackView) -> str:
    """Which way round the panel half goes."""
    if cleat.kind == "metal":
        return "The hook looks down and towards the wall, and nothing is sawn off it."
    return (
        "The bevel looks down and away from the wall: its sharp edge is the lower one, at the wall. "
        f"{_corner_words(halves, view)}"
    )


def _corner_words(halves: list[Part], view: BackView) -> str:
    """What is done about the corner under the panel half, which the sharp edge of the wall half comes up into."""
    half, packers = halves[0], [part for part in view.parts if part.role in (Role.PACKER, Role.FILLER)]
    clean = "Scrape the corner under it clean of glue before that sets"
    if any(part.box.z0 == half.box.z1 for part in packers):
        return f"{clean}."
    return f"{clean}, and plane the wall half's sharp edge back a little: it comes up close before the backer."


def _held_shut(hung: LeafHang, parts: list[Part], view: BackView, words: Words) -> str:
    """Screws that keep parts shut while the glue dries: which, how many in each, where, and their bits."""
    names = {part.name for part in parts}
    mine = [screws for screws in hung.glue_screws if screws.part in names]
    if not mine:
        return " Clamp until the glue holds; it is too thin for a screw."
    alike: dict[tuple[str, int, int, bool], list[GlueScrews]] = {}
    for screws in mine:
        alike.setdefault((screws.gauge, screws.length_nm, screws.sunk_nm, screws.lasting), []).append(screws)
    said = (_use_words(group, several=len(parts) > 1, view=view, words=words) for group in alike.values())
    return "".join(said) + " Their places stand in the table “Screws from the backer's face”."


def _use_words(group: list[GlueScrews], *, several: bool, view: BackView, words: Words) -> str:
    """Screws that are alike: how many in each part, their heads and bits, and how long they hold."""
    one, backer = group[0], view.backer.box
    kinds: dict[int, list[str]] = {}
    for screws in group:
        kinds.setdefault(len(screws.spots), []).append(screws.part)
    counts = [f"{count_of(count, 'screw')} {words.screw(one.gauge, one.length_nm)}" for count in kinds]
    if len(kinds) > 1 or (several and len(group) == 1):
        counts = [f"{many} into {_each_of(names)}" for many, names in zip(counts, kinds.values(), strict=True)]
    elif len(group) > 1:
        counts = [f"{counts[0]} each"]
    heads = f"{words.length(one.sunk_nm)} below it" if one.sunk_nm else "flush"
    lasts = "hold for good, beside the glue: leave none out" if one.lasting else "only hold while the glue dries"
    bits = glue_drill_words(one, backer.z1 - backer.z0, words)
    return f" Use {listed(counts)}, from the backer's face, heads sunk {heads}.{bits} They {lasts}."


def _each_of(names: list[str]) -> str:
    return f"each of {named_together(names)}" if len(names) > 1 else f"the {names[0]}"
