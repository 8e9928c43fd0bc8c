"""Ways that change how the piece hangs and opens."""

from __future__ import annotations

from dataclasses import replace
from functools import partial
from itertools import islice

from bossage.body import Choice
from bossage.brief.records import Opens, Side
from bossage.checks import Check, Edit, EditValue, Verdict
from bossage.fasteners import MOST_IN_STUD_NM, longest_sold_nm
from bossage.hang.hang_checks import OVER_BED_MOST_G
from bossage.hang.hinge_stile import BESIDE_STILE, STILE_GLUE
from bossage.hang.records import LeafHang
from bossage.hang.stays import BLOCK_SCREWS
from bossage.hang.stile_screws import STILE_SCREWS
from bossage.hang.tug import FIT_A_LOCK
from bossage.layout.edits import toml_length
from bossage.plan import Plan
from bossage.remedies.making import smaller_overhang, thicker_backer
from bossage.remedies.places import lighter_than, moved, resized, sound_place
from bossage.remedies.way import Way, Ways, put, put_length, up_to_mark
from bossage.units import NM_PER_MM
from bossage.zones import free_studs

MOVE_STEP_NM = 10 * NM_PER_MM
MOVES, MOST_COLUMNS = 60, 24

#: A stile that a hinge screw finds enough wood in; common practice, no source.
STILE_WIDTH_NM, STILE_DEPTH_NM = 44_450_000, 38_100_000


def packed_out(plan: Plan, check: Check) -> Ways:
    """A packer behind the cleat that gives the air that is missing."""
    brief = plan.brief
    short = brief.access.air_nm - plan.layout.stand_off.air_nm
    if short > 0:
        nm = up_to_mark(plan, brief.cleat.packer_nm + short)
        yield put_length(plan, "Pack the cleat out by", "cleat", "packer", nm=nm)


def swung(plan: Plan, check: Check) -> Ways:
    """The piece on hinges: as it is, with stiles behind the backer that hold their screws, and moved to a stud."""
    if plan.brief.access.opens is not Opens.LIFT_OFF:
        return
    unit, leaf = plan.brief.piece.unit, plan.layout.leaves[0]
    depth = max(STILE_DEPTH_NM, up_to_mark(plan, plan.layout.stand_off.stand_off_nm))
    stile: dict[str, EditValue] = {
        "name": "stile",
        "role": "stile",
        "count": 2,
        "length": toml_length(leaf.backer_height_nm // NM_PER_MM * NM_PER_MM, unit),
        "width": toml_length(STILE_WIDTH_NM, unit),
        "depth": toml_length(depth, unit),
        "upright": True,
    }
    stiles = Edit(op="append", path=("behind",), value=stile)
    for side in ("left", "right"):
        hinged = (
            Edit(op="set", path=("access", "opens"), value="swing"),
            Edit(op="set", path=("access", "hinge"), value=side),
        )
        yield Way(words=f"Hinge it at the {side}", edits=hinged)
        words = f"Hinge it at the {side}, on stiles behind the backer"
        yield Way(words=words, edits=(*hinged, stiles))
        off_nm = _to_a_stud_nm(plan, side)
        for way in moved(plan, off_nm, 0):
            edits = (*hinged, stiles, *way.edits)
            yield Way(words=f"{words}, and {way.words[:1].lower()}{way.words[1:]} to a stud", edits=edits)


def opened_further(plan: Plan, check: Check) -> Ways:
    """Hinges that let it open out of the way."""
    for degrees in (90, 95, 120, 180):
        if degrees > plan.brief.access.angle_deg:
            yield put(f"Hinge it so that it opens to {degrees}°", "access", "angle", to=degrees)


def opened_by_hand(plan: Plan, check: Check) -> Ways:
    """Hinges where it lifts off, and a catch that asks for no tool."""
    catch = put("Use a catch that opens by hand", "access", "tool", to=False)
    if plan.brief.access.opens is Opens.LIFT_OFF:
        yield from swung(plan, check)
    elif plan.brief.access.tool:
        yield catch


def post_to_a_stud(plan: Plan, check: Check) -> Ways:
    """The piece moved until a stud stands behind its hinge post, the nearest two; or the hinges on another side."""
    for leaf in _leaves(plan, check):
        post = leaf.hinges.post if leaf.hinges is not None else None
        if post is not None and plan.brief.access.hinge in (Side.LEFT, Side.RIGHT):
            offs = sorted((stud - post.line_nm for stud in plan.brief.wall.studs_nm), key=abs)
            for off in offs[:2]:
                yield from moved(plan, off, 0)
    yield from _other_side(plan)


def out_of_the_space(plan: Plan, check: Check) -> Ways:
    """A leaf that opens right out of the working space, or stands open at its other side."""
    yield from opened_further(plan, check)
    yield from _other_side(plan)


def _other_side(plan: Plan) -> Ways:
    for side in ("left", "right"):
        if side != plan.brief.access.hinge.value:
            yield put(f"Hinge it at the {side}", "access", "hinge", to=side)


def _to_a_stud_nm(plan: Plan, side: str) -> int:
    """How far to the right the piece moves until that edge stands over the nearest stud; 0 where there is none."""
    layout = plan.layout
    edge = layout.x_nm if side == "left" else layout.x_nm + layout.width_nm
    return min((stud - edge for stud in plan.brief.wall.studs_nm), key=abs, default=0)


def met_studs(plan: Plan, check: Check) -> Ways:
    """The cleat shifted or made longer until it meets another stud, else the piece moved."""
    for leaf in _leaves(plan, check):
        missed = None if leaf.cleat is None else leaf.cleat.missed
        if missed is not None and missed.shift_nm is not None:
            side = "right" if missed.shift_nm > 0 else "left"
            nm = plan.brief.cleat.offset_nm + missed.shift_nm
            way = put_length(plan, f"Move the cleat to the {side} by", "cleat", "offset", nm=abs(missed.shift_nm))
            exact = put_length(plan, "", "cleat", "offset", nm=nm)
            yield Way(words=way.words, edits=exact.edits)
        if missed is not None and missed.shortest_fits:
            yield put_length(plan, "Make the cleat as long as", "cleat", "length", nm=missed.shortest_nm)
    yield from sound_place(plan, check)


def out_of_zones(plan: Plan, check: Check) -> Ways:
    """The cleat shifted or made longer, the piece moved or made wider, until two studs that are free are met."""
    for way in met_studs(plan, check):
        if any(edit.path[0] == "cleat" for edit in way.edits):
            yield way
    end = plan.brief.cleat.end_distance_nm
    for leaf in _leaves(plan, check):
        choice = plan.body.choice(leaf.leaf, leaf.copy)
        if choice is None or not plan.brief.into_studs:
            continue
        met = partial(_free_met, choice, end)
        step = up_to_mark(plan, MOVE_STEP_NM)
        moves = (side * step * n for n in range(1, MOVES) for side in (1, -1))
        for right in islice((nm for nm in moves if met(nm, 0) > 1), 2):
            yield from moved(plan, right, 0)
        lifts = (side * step * n for n in range(1, MOVES) for side in (1, -1))
        lift = next((nm for nm in lifts if _free_met(_lifted(plan, leaf, choice, nm), end, 0, 0) > 1), 0)
        yield from moved(plan, 0, lift)
        module = plan.brief.blocks.module_width_nm
        wider = next((n for n in range(1, MOST_COLUMNS) if met(0, n * module) > 1), None)
        if wider is not None:
            yield from resized(plan, ((wider, 0), (wider + 1, 0)))
        return
    yield from resized(plan, ((2, 0), (4, 0), (0, 2)))


def _free_met(choice: Choice, end_nm: int, right_nm: int, longer_nm: int) -> int:
    """How many free studs a cleat would meet further to the right, and so much longer about its middle."""
    grown = end_nm - longer_nm // 2
    reach = [(a + right_nm + grown, b + right_nm - grown) for a, b in choice.wall_pieces_nm]
    return sum(any(a <= x <= b for a, b in reach) for x in choice.free_studs_nm)


def _lifted(plan: Plan, leaf: LeafHang, choice: Choice, up_nm: int) -> Choice:
    """The cleat so much higher, with the studs that are free there."""
    brief, cleat = plan.brief, leaf.cleat
    assert cleat is not None
    low = cleat.wall_half_bottom_nm + up_nm
    zones = [zone for zone in plan.zones if not zone.copies or leaf.copy in zone.copies]
    high = low + brief.cleat.strip_nm - cleat.engagement_nm
    return replace(choice, free_studs_nm=free_studs(brief.wall, zones, low, high))


def less_deep(plan: Plan, check: Check) -> Ways:
    """The longest wall screws on the shelf that end where a stud may be screwed into unseen."""
    brief = plan.brief
    cleats = [leaf.cleat for leaf in _leaves(plan, check) if leaf.cleat]
    deep = [p.depth_in_stud_mm for cleat in cleats for p in cleat.fixings]
    over = round(max((mm for mm in deep if mm is not None), default=0.0) * NM_PER_MM) - MOST_IN_STUD_NM
    longest = max((cleat.screw.length_nm for cleat in cleats), default=0)
    nm = longest_sold_nm(max(0, longest - over), brief.piece.unit)
    if over > 0 and nm:
        yield put_length(plan, "Use wall screws as long as", "fixings", "length", nm=nm)


def shorter_screws(plan: Plan, check: Check) -> Ways:
    """Panel screws whose tips stay covered."""
    yield from screws_left_open(plan)
    for leaf in _leaves(plan, check):
        if leaf.cleat is not None:
            nm = leaf.cleat.panel.length_nm
            yield put_length(plan, "Use panel screws as long as", "fixings", "panel_length", nm=nm)


def screws_left_open(plan: Plan) -> Ways:
    """The size of the panel half's screws as the plan finds it, where the brief gives one."""
    given = [name for name in ("panel_gauge", "panel_length") if not plan.brief.left_open(f"fixings.{name}")]
    if given:
        edits = tuple(Edit(op="remove", path=("fixings", name)) for name in given)
        yield Way(words="Leave the size of the panel half's screws to the plan", edits=edits)


def stronger(plan: Plan, check: Check) -> Ways:
    """More of what the weakest link is made of."""
    name = plan.hang.weakest.name
    if name in ("fixings in the wall", "screws by the brief's allowable", "fixings behind the hinges"):
        if plan.hang.weakest.allowable_n > 0:  # without a figure no number of them heals it
            yield from more_fixings(plan, check)
    elif name == "screws in the studs":
        for each in range(plan.brief.fixings.per_stud + 1, 5):
            yield put(f"Drive {each} screws into each stud", "fixings", "per_stud", to=each)
    elif name == "panel half's screws":
        if not plan.brief.fixings.panel_glued:
            yield put("Glue the panel half as well", "fixings", "panel_glued", to=True)
        yield from screws_left_open(plan)
        have = max((len(leaf.cleat.panel.screws) for leaf in plan.hang.leaves if leaf.cleat is not None), default=0)
        for more in (2, 4, 8):
            yield put(f"Hold the panel half with {have + more} screws", "fixings", "panel_count", to=have + more)
    elif name == "wall half":
        nm = up_to_mark(plan, plan.brief.cleat.thickness_nm + 6 * NM_PER_MM)
        yield put_length(plan, "Rip the cleat from board as thick as", "cleat", "thickness", nm=nm)
        yield from more_fixings(plan, check)
    elif name == "backer":
        yield from thicker_backer(plan, check)
    elif name in (STILE_GLUE, STILE_SCREWS, BESIDE_STILE, BLOCK_SCREWS):
        if name == BESIDE_STILE:
            yield from thicker_backer(plan, check)
        yield from hung_elsewhere(plan)
    elif name == "block's bond":
        yield from smaller_overhang(plan, check)


def hung_elsewhere(plan: Plan) -> Ways:
    """Hinges at another side, where their stile may have room to lap further, and a leaf a tenth or a third lighter."""
    for side in Side:
        if side is not plan.brief.access.hinge:
            yield put(f"Hinge it at the {side.value}", "access", "hinge", to=side.value)
    heaviest = max(leaf.total_g for leaf in plan.hang.leaf_masses)
    yield from lighter_than(plan, 0.9 * heaviest, heaviest * 2 / 3)


def more_fixings(plan: Plan, check: Check) -> Ways:
    """More fixings in each leaf's cleat: as many as the plan finds where the brief gives a number, else more."""
    if not plan.brief.left_open("fixings.count"):
        yield Way(
            words="Leave the number of fixings to the plan", edits=(Edit(op="remove", path=("fixings", "count")),)
        )
    have = max((len(leaf.cleat.fixings) for leaf in plan.hang.leaves if leaf.cleat is not None), default=0)
    for more in (1, 2, 3, 4, 6):
        yield put(f"Use {have + more} fixings in each cleat", "fixings", "count", to=have + more)


def over_head(plan: Plan, check: Check) -> Ways:
    """An anti-lift lock, less weight where it is too heavy, else more fixings.

    None of them makes it more than a caution, so where it is one already there is nothing to try.
    """
    if check.verdict is not Verdict.STOP:
        return
    lock = put("Fit an anti-lift lock", "access", "lock", to=True)
    heavy = max(leaf.total_g for leaf in plan.hang.leaf_masses) > OVER_BED_MOST_G
    others = lighter_than(plan, OVER_BED_MOST_G, 0.9 * OVER_BED_MOST_G) if heavy else more_fixings(plan, check)
    if plan.brief.access.lock:
        yield from others
        return
    yield lock
    for way in others:
        words = f"{lock.words}, and {way.words[:1].lower()}{way.words[1:]}"
        yield Way(words=words, edits=(*lock.edits, *way.edits))


def locked(plan: Plan, check: Check) -> Ways:
    """An anti-lift lock, where a push up that takes the leaf off is all that is amiss."""
    if check.remedy == FIT_A_LOCK and plan.brief.access.opens is Opens.LIFT_OFF:
        yield put("Fit an anti-lift lock", "access", "lock", to=True)


def higher_strip(plan: Plan, check: Check) -> Ways:
    """A cleat strip with room between its screws."""
    for more in (15, 25, 40):
        nm = up_to_mark(plan, plan.brief.cleat.strip_nm + more * NM_PER_MM)
        yield put_length(plan, "Rip the cleat's halves as high as", "cleat", "strip", nm=nm)


def _leaves(plan: Plan, check: Check) -> list[LeafHang]:
    """The leaf that a check is about, or all."""
    named = [leaf for leaf in plan.hang.leaves if leaf.leaf == check.subject]
    return named or list(plan.hang.leaves)
