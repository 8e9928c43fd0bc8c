"""At the wall with the drill: the load path, the cleat, the lift, how it comes off again."""

from __future__ import annotations

from bossage.body import Role
from bossage.checks import Check, Verdict
from bossage.hang.hinge_records import HingePlan
from bossage.hang.records import LeafHang
from bossage.layout.records import Leaf
from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.grip import grip_drawing
from bossage.pack.drawings.hanging import crowded, face_of, hanging_drawing, still_of, wall_half_reach
from bossage.pack.drawings.swing import swing_drawing
from bossage.pack.drawings.zones import zone_words
from bossage.pack.sheet import Beside, Care, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Steps
from bossage.pack.sheets.common import Room, cares, check_cares, checks_of, room, words_of
from bossage.pack.sheets.fixing_words import fix_steps, wrong_words
from bossage.pack.sheets.hanging_words import (
    between_step,
    feet_steps,
    feet_touch_words,
    seen_steps,
)
from bossage.pack.sheets.hinged import before_words, day_words, under_props
from bossage.pack.sheets.loads import load_sheet
from bossage.pack.sheets.lock_words import lock_steps, set_steps
from bossage.pack.sheets.stand_words import clear_step, move_steps, people_to_lift, stand_steps
from bossage.pack.sheets.trial_words import panel_numbers, proof_steps
from bossage.pack.words import Words, count_of, listed, split_unit
from bossage.plan import Plan

CIRCLES = {True: "", False: " red circles: hinges;"}
FOOT = {True: "the leaf and its foot", False: "the leaf"}
TODO = {
    True: "Find what is in the wall before you drill. Draw the level line, fix the wall half and load it as a trial; "
    "lift on the day that it hangs.",
    False: "Find what is in the wall before you drill. Join post and leaf by their hinges at the bench; then screw the "
    "post to the wall, the leaf open.",
}
TODO_LEVEL = (
    "Find what is in the wall before you drill. Screw the post to the wall; then two people set the closed leaf on "
    "props and screw it to its hinges."
)
GRIP_MM = 84.0  # its height on paper
GAP_MM, LEAST_WORDS_MM = 8.0, 70.0  # between a drawing and words beside it; narrower, words are broken too often


def hang_sheets(plan: Plan) -> list[Sheet]:
    """Leaf by leaf of one copy and of each copy that hangs otherwise, then the load path of all."""
    several = sum(hung.copy == 1 for hung in plan.hang.leaves) > 1
    seen: set[tuple[object, ...]] = set()
    sheets = []
    for hung in plan.hang.leaves:
        behind = tuple(f.name for f in plan.brief.fixtures if not f.copies or hung.copy in f.copies)
        kind = (hung.leaf, behind, hung.cleat, hung.hinges, hung.feet)
        if kind not in seen:
            seen.add(kind)
            sheets.append(_leaf_sheet(plan, hung, several=several))
    return [*sheets, load_sheet(plan)]


def _leaf_sheet(plan: Plan, hung: LeafHang, *, several: bool) -> Sheet:
    words, space = words_of(plan), room(plan)
    leaf = next(one for one in plan.layout.leaves if one.name == hung.leaf and one.copy == hung.copy)
    drawing = fitted(
        hanging_drawing(plan, hung, leaf, words), width_mm=space.width_mm, height_mm=0.34 * space.height_mm
    )
    parts: list[Part] = [
        *cares(plan, "drill"),
        *check_cares(plan, tuple(c for c in checks_of(plan, "hang") if _heeded(c, hung))),
        *check_cares(plan, tuple(c for c in checks_of(plan, "press") if c.name == "cleat_bow")),
        Drawn(
            drawing=drawing,
            caption=(
                f"{scale_words(drawing.scale_n)}, seen from the front; dashed: {FOOT[hung.cleat is not None]}; red "
                f"crosses: fixings;{CIRCLES[hung.cleat is not None]} crossed circle: "
                "where it balances. Left: heights over the floor. Below the leaf: from the left corner of the wall"
                f"{', fixings bold' if hung.cleat is not None else ''}. Lengths in {words.unit_name}."
            ),
        ),
        *_zones(plan, hung, leaf),
        *(_fixing_places(hung, words) if hung.hinges is not None or crowded(drawing) else []),
        _figures(hung, words),
        *_told("Before a block is laid", _before(plan, hung, words)),
        *_day_parts(
            _grip(plan, hung, leaf, words), cares(plan, "lift", "hang"), _hanging_day(plan, hung, words), space
        ),
        *_swing(plan, hung, leaf, words),
    ]
    copy = f" of piece {hung.copy}" if plan.brief.piece.copies > 1 else ""
    return Sheet(
        name="hang",
        title=f"Hang{f' leaf {hung.leaf}' if several else ''}{copy}",
        todo=TODO_LEVEL if hung.hinges is not None and hung.hinges.stay is not None else TODO[hung.cleat is not None],
        wrong=wrong_words(plan, words),
        parts=tuple(parts),
        scale="as marked",
    )


def _heeded(check: Check, hung: LeafHang) -> bool:
    """Whether a check is a caution of this leaf's sheet: who lifts a leaf, and from where, its steps say."""
    in_steps = hung.room is not None and check.name in ("two_people", "lift") and check.verdict is not Verdict.STOP
    return check.subject in ("", hung.leaf) and not in_steps


def _told(head: str, steps: tuple[str, ...]) -> list[Part]:
    return [Heading(text=head), Steps(texts=steps)] if steps else []


def _day_parts(grip: list[Part], heed: tuple[Care, ...], steps: tuple[str, ...], space: Room) -> list[Part]:
    """What to heed, then the steps beside the grip, where its drawing leaves them that room."""
    told = Steps(texts=steps)
    drawn = next((part for part in grip if isinstance(part, Drawn)), None)
    head = Heading(text="On the day that it hangs")
    if drawn is None or space.width_mm - drawn.drawing.paper_width_mm - GAP_MM < LEAST_WORDS_MM:
        return [head, *heed, told, *grip]
    return [head, *heed, Beside(left=tuple(grip), right=(told,), left_mm=drawn.drawing.paper_width_mm)]


def _zones(plan: Plan, hung: LeafHang, leaf: Leaf) -> list[Part]:
    """What is hatched on the drawing, by name."""
    said = zone_words(plan, hung.copy, face_of(leaf))
    return [Para(text=said, small=True)]


def _fixing_places(hung: LeafHang, words: Words) -> list[Part]:
    """Every fixing by its place, where they lie too close for the drawing to measure each."""
    if hung.hinges is not None:
        return _post_places(hung.hinges, words)
    if hung.cleat is None:
        return []
    places = ", ".join(words.bare(fixing.x_nm) for fixing in hung.cleat.fixings)
    return [Para(lead="Fixings", text=f"from the left corner of the wall, in {words.unit_name}: {places}.")]


def _post_places(hinges: HingePlan, words: Words) -> list[Part]:
    """The fixings of a post along the line on which they stand."""
    post, upright = hinges.post, hinges.stay is None
    places = ", ".join(words.bare(fixing.y_nm if upright else fixing.x_nm) for fixing in post.fixings)
    line, along = ("from the left corner of the wall", "above the floor")[:: 1 if upright else -1]
    text = f"{words.length(post.line_nm)} {line}; {along}, in {words.unit_name}: {places}."
    return [Para(lead="Fixings of the hinge post", text=text)] if places else []


def _grip(plan: Plan, hung: LeafHang, leaf: Leaf, words: Words) -> list[Part]:
    """A wooden cleat from the side; one of metal has its maker's own drawing."""
    if hung.cleat is None or hung.cleat.kind != "wood":
        return []
    drawing = fitted(grip_drawing(plan, hung, hung.cleat, leaf, words), width_mm=90.0, height_mm=GRIP_MM)
    caption = (
        f"{scale_words(drawing.scale_n)}, cut from the side. Dashed: the panel half where it comes free. Lengths in "
        f"{words.unit_name}."
    )
    return [Drawn(drawing=drawing, caption=f"How the halves grip. {caption}")]


def _swing(plan: Plan, hung: LeafHang, leaf: Leaf, words: Words) -> list[Part]:
    if hung.hinges is None:
        return []
    drawing = fitted(swing_drawing(plan, leaf, words), width_mm=110.0, height_mm=78.0)
    caption = (
        f"{scale_words(drawing.scale_n)}. Dashed: closed. Red: what the outer edge sweeps; keep it free. Lengths in "
        f"{words.unit_name}."
    )
    return [Heading(text="How it swings"), Drawn(drawing=drawing, caption=caption)]


def _figures(hung: LeafHang, words: Words) -> Figures:
    mass, unit = split_unit(words.mass(hung.mass_g))
    items = [Figure(value=mass, unit=unit, words="this leaf")]
    if hung.cleat is not None:
        items.append(
            Figure(
                value=words.bare(hung.cleat.wall_half_bottom_nm),
                unit=words.unit,
                words="floor to lower edge of wall half",
            )
        )
        items.append(Figure(value=str(len(hung.cleat.fixings)), unit="", words="fixings"))
    if hung.hinges is not None:
        edge = "left corner to outer edge of hinge post" if hung.hinges.stay is None else "floor to edge of hinge post"
        items.append(Figure(value=words.bare(hung.hinges.post.edge_nm), unit=words.unit, words=edge))
        items.append(Figure(value=str(len(hung.hinges.every_fixing)), unit="", words="fixings"))
    return Figures(items=tuple(items))


def _moved_first(plan: Plan, hung: LeafHang, words: Words, *, lifts: bool) -> tuple[str, ...]:
    """What is moved before anything else; what stays too, where the leaf is lifted."""
    return move_steps(plan, hung.leaf, words, props_on=under_props(plan, hung), lifts=lifts)


def _before(plan: Plan, hung: LeafHang, words: Words) -> tuple[str, ...]:
    """What is done at the wall while the back is bare."""
    first = _moved_first(plan, hung, words, lifts=hung.hinges is not None)
    if hung.hinges is not None:
        return (*first, *before_words(plan, hung, hung.hinges, words))
    if hung.cleat is None:
        return ()
    cleat = hung.cleat
    locked = " With its lock set it must not lift out as it is pushed up." if plan.brief.access.lock else ""
    trial = (
        f"{_panel_half_on(plan, hung)}Hang the bare backer as a trial. Both halves must close over their whole length. "
        f"To stand plumb, {feet_touch_words(plan, hung, words)} must touch the wall.{locked} Take the backer off again."
    )
    return (
        *first,
        f"Draw a level line {words.length(cleat.wall_half_bottom_nm)} above the floor, "
        f"{wall_half_reach(plan, hung, words)}. Both ends are measured from the left corner of the wall.",
        between_step(plan, hung, words),
        f"Take {_wall_half(plan, hung)} of the back sheet. {_set_on_line(plan)}",
        *_packed_out(plan, hung, words),
        *fix_steps(plan, hung, cleat, words),
        *feet_steps(plan, hung, words),
        *lock_steps(plan, hung, words),
        *proof_steps(plan, hung, cleat, words),
        trial,
        *seen_steps(plan, hung, words),
    )


def _set_on_line(plan: Plan) -> str:
    """Which way round the wall half goes; one of metal stays as it was bought."""
    cleat = plan.brief.cleat
    if cleat.kind == "metal":
        drilled = ", and no hole is drilled in it" if cleat.hole_pitch_nm is not None else ""
        return f"Set its lower edge on the line, its hook up and away from the wall. Nothing is sawn off it{drilled}."
    return (
        "Set its square edge on the line. The bevelled edge is up and its sharp side looks to the room: a groove opens "
        "upwards between it and the wall."
    )


def _panel_half_on(plan: Plan, hung: LeafHang) -> str:
    """That the back is made between the trial of the wall half and that of the bare leaf."""
    return (
        f"Now make the back, with the panel half ({panel_numbers(plan, hung)}) on it, as the back sheet says. "
        f"{_no_lock(plan)}"
    )


def _no_lock(plan: Plan) -> str:
    """Whether a lock belongs to it, so that nobody looks for its parts or waits for a place to be drawn."""
    if plan.brief.access.lock:
        return ""
    return (
        "No anti-lift lock belongs to this piece: a hard push from below lifts it off. Whoever wants a lock writes "
        "access.lock = true and plans again before the back is made. "
    )


def _hanging_day(plan: Plan, hung: LeafHang, words: Words) -> tuple[str, ...]:
    """From the scales to the last catch."""
    steps = [*_moved_first(plan, hung, words, lifts=True), _weighing(plan, hung, words)]
    if hung.hinges is not None:
        steps += day_words(plan, hung, hung.hinges, words)
    if hung.room is not None:
        leaf = next(one for one in plan.layout.leaves if one.name == hung.leaf and one.copy == hung.copy)
        home = "into the hook" if plan.brief.cleat.kind == "metal" else "on the bevel"
        steps += [clear_step(plan, leaf, words), *stand_steps(plan, hung.leaf, words)]
        steps.append(
            f"{_people(plan, hung)}ift the leaf {words.length(hung.room.wanted_nm)} over its place, at least "
            f"{words.length(hung.room.bevel_rise_nm)} or the halves do not pass one another, and let it down "
            f"{home}; there are {words.length(hung.room.room_nm)} of room above. Taken off it goes the same way back."
        )
    return (*steps, *set_steps(plan, hung, words))


def _people(plan: Plan, hung: LeafHang) -> str:
    """Who lifts it, said at the step; the first letters of its sentence."""
    return "Two people, one at each end; l" if people_to_lift(plan, hung.leaf) > 1 else "L"


def _weighing(plan: Plan, hung: LeafHang, words: Words) -> str:
    """Scales before the wall: what they say rules every holding number."""
    if plan.brief.piece.weighed_g is not None:
        return f"It weighed {words.mass(hung.mass_g)}: all numbers here are for that."
    return (
        "Weigh it before it hangs: step on bathroom scales with the leaf and without, and take the difference. If that "
        f"is over {words.mass(hung.mass_g)}, write it into the brief as piece.weighed and plan again."
    )


def _wall_half(plan: Plan, hung: LeafHang) -> str:
    halves = still_of(plan, hung, Role.WALL_HALF)
    numbers = listed(list(dict.fromkeys(f"no. {part.number}" for part in halves)))
    return f"the wall half ({numbers})" if len(halves) == 1 else f"both pieces of the wall half ({numbers}), each"


def _packed_out(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """Packers under the wall half come first."""
    packers = still_of(plan, hung, Role.WALL_PACKER)
    if not packers:
        return []
    deep = packers[0].box.z1 - packers[0].box.z0
    places = ", ".join(f"{words.bare(part.from_x_nm)} to {words.bare(part.to_x_nm)}" for part in packers)
    return [
        f"Lay {count_of(len(packers), 'packer')} (no. {packers[0].number}), {words.length(deep)} thick, under it: "
        f"{places} from the left corner. The fixings go through them."
    ]
