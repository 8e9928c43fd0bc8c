"""Ways that give every solid part a place, a way off and air."""

from __future__ import annotations

from bossage.brief.records import Opens, Side
from bossage.checks import Check, Edit
from bossage.layout.edits import toml_length
from bossage.layout.grid import lift_room_wanted
from bossage.layout.stand_off import HOLDS_OFF
from bossage.plan import Plan
from bossage.remedies.hanging import packed_out
from bossage.remedies.places import moved, resized, sound_place
from bossage.remedies.way import Way, Ways, put, up_to_mark
from bossage.units import NM_PER_MM, format_length

WISHES = {
    "arm": "Leave the foot spacer's height to be found",
    "line_below_top": "Leave the cleat's height to be found",
    "length": "Leave the cleat's length to be found",
    "offset": "Put the cleat in the middle",
    "packer": "Leave the packer's thickness to be found",
    "strip": "Leave the height of the cleat's halves to be found",
}
STEPS_MM = (25, 50, 100, 150)


def place_found(plan: Plan, check: Check) -> Ways:
    """The brief's own wishes for the cleat taken back one by one, then a larger piece."""
    yield from _unwished(plan)
    yield from resized(plan, ((0, 1), (0, 2), (1, 0), (2, 0)))


def held_off(plan: Plan, check: Check) -> Ways:
    """A deeper frame or stiles where these hold the backer off the wall, else a packer."""
    brief = plan.brief
    short = brief.access.air_nm - plan.layout.stand_off.air_nm
    holding = [n for n, part in enumerate(brief.behind) if part.role in HOLDS_OFF]
    deepest = max((brief.behind[n].depth_nm for n in holding), default=0)
    if short > 0 and deepest >= plan.layout.stand_off.stand_off_nm:
        nm = up_to_mark(plan, deepest + short)
        words = f"Make frame and stiles {format_length(nm, brief.piece.unit)} deep"
        value = toml_length(nm, brief.piece.unit)
        edits = tuple(Edit(op="set", path=("behind", n, "depth"), value=value) for n in holding)
        yield Way(words=words, edits=edits)
    yield from packed_out(plan, check)


def apart(plan: Plan, check: Check) -> Ways:
    """Parts that the brief places left to be placed, then wishes for the cleat taken back, then more stand-off."""
    for number, part in enumerate(plan.brief.behind):
        if part.at_nm:
            edit = Edit(op="remove", path=("behind", number, "at"))
            yield Way(words=f"Leave the place of the {part.name} to be found", edits=(edit,))
    if plan.brief.cleat.foot == "wall":
        yield put("Fix the foot spacer to the leaf", "cleat", "foot", to="leaf")
    yield from packed_out(plan, check)
    yield from _unwished(plan)


def way_off(plan: Plan, check: Check) -> Ways:
    """The hinge on the other side, less of an angle, or the piece moved."""
    access = plan.brief.access
    if access.opens is Opens.SWING:
        other = {Side.LEFT: "right", Side.RIGHT: "left", Side.TOP: "bottom", Side.BOTTOM: "top"}[access.hinge]
        yield put(f"Hinge it at the {other}", "access", "hinge", to=other)
        for angle in (90, 75, 60):
            if angle < access.angle_deg:
                yield put(f"Let it open to {angle}° only", "access", "angle", to=angle)
    else:
        yield from sound_place(plan, check)
    for mm in STEPS_MM:
        for dx, dy in ((1, 0), (-1, 0), (0, -1)):
            yield from moved(plan, dx * mm * NM_PER_MM, dy * mm * NM_PER_MM)


def lowered(plan: Plan, check: Check) -> Ways:
    """The piece as much lower as the room above is short, else at another place."""
    short = lift_room_wanted(plan.brief) - plan.layout.lift_room_nm
    if short > 0:
        yield from moved(plan, 0, -up_to_mark(plan, short))
    yield from sound_place(plan, check)


def aired(plan: Plan, check: Check) -> Ways:
    """The frame's rails left out, or the whole frame, so that air passes at the rim."""
    frame = [number for number, part in enumerate(plan.brief.behind) if part.role == "frame"]
    lying = [number for number in frame if not plan.brief.behind[number].upright]
    for words, numbers in (("Leave out the frame's rails", lying), ("Leave out the frame", frame)):
        edits = tuple(Edit(op="remove", path=("behind", number)) for number in reversed(numbers))
        if edits:
            yield Way(words=words, edits=edits)


def left_out(plan: Plan, check: Check) -> Ways:
    """The brief's own wishes for the cleat taken back, then the part that has no place left out."""
    yield from _unwished(plan)
    for number, part in enumerate(plan.brief.behind):
        if part.name == check.subject:
            yield Way(words=f"Leave out the {part.name}", edits=(Edit(op="remove", path=("behind", number)),))


def _unwished(plan: Plan) -> Ways:
    cleat = plan.brief.cleat
    given = {
        "arm": cleat.arm_nm is not None,
        "line_below_top": cleat.line_below_top_nm is not None,
        "length": cleat.length_nm is not None,
        "offset": cleat.offset_nm != 0,
        "packer": not plan.brief.left_open("cleat.packer"),
        "strip": not plan.brief.left_open("cleat.strip"),
    }
    for key, words in WISHES.items():
        if given[key]:
            yield Way(words=words, edits=(Edit(op="remove", path=("cleat", key)),))
