"""The back: what is made before a block is laid. Every part by number, its place, what holds it, in which order."""

from __future__ import annotations

from collections.abc import Callable, Iterable

from bossage.body import Joint, MadeAt, Part, Role
from bossage.drawing.model import Drawing
from bossage.hang.lasting import COVER_NM
from bossage.layout.records import Leaf
from bossage.pack.drawings.back import back_drawing
from bossage.pack.drawings.backview import BackView, back_view
from bossage.pack.drawings.cut import cut_of, hidden_by, named_together
from bossage.pack.drawings.fit import SCALES, fitted, scale_words
from bossage.pack.drawings.section import end_drawings, section_drawing
from bossage.pack.sheet import Beside, Care, Column, Drawn, Heading, Para, Sheet, Steps, Table
from bossage.pack.sheet import Part as SheetPart
from bossage.pack.sheets.back_places import beyond_words, places_table, screw_places
from bossage.pack.sheets.back_words import (
    corner_words,
    held_words,
    hidden_words,
    past_backer_words,
    past_words,
    step_words,
)
from bossage.pack.sheets.common import check_cares, checks_of, room, words_of
from bossage.pack.sheets.shims import material_words
from bossage.pack.words import Words, listed, sentence
from bossage.plan import Plan

GAP_MM = 8.0
SECTION_SHARE = 0.52  # of the page's height


def back_sheets(plan: Plan) -> list[Sheet]:
    """One for each leaf; leaves whose backs are alike share one."""
    groups: dict[tuple[object, ...], list[Leaf]] = {}
    for leaf in plan.layout.leaves:
        groups.setdefault(_kind(plan, leaf), []).append(leaf)
    return [_back_sheet(plan, leaves) for leaves in groups.values()]


def _kind(plan: Plan, leaf: Leaf) -> tuple[object, ...]:
    """What makes two backs alike: the same parts at the same places, before the same things."""
    view = back_view(plan, leaf)
    x, y = view.backer.from_x_nm, view.backer.box.y0
    parts = tuple(
        (
            part.number,
            part.name,
            part.material,
            part.from_x_nm - x,
            part.to_x_nm - x,
            tuple((a - y, z) for a, z in part.outline_nm),
            tuple((x0 - x, y0 - y, x1 - x, y1 - y) for x0, y0, x1, y1 in part.openings_nm),
            tuple((x0 - x, x1 - x, z0, z1) for x0, x1, z0, z1 in part.notches_nm),
        )
        for part in view.parts
    )
    hidden = tuple((one.name, one.box.x0 - x, one.box.y0 - y) for one in hidden_by(plan, leaf))
    return parts, hidden, view.screws, tuple(view.pins.items())


def _back_sheet(plan: Plan, leaves: list[Leaf]) -> Sheet:
    words, space, leaf = words_of(plan), room(plan), leaves[0]
    view = back_view(plan, leaf)
    drawing = _largest(back_drawing(plan, leaf, words), view, width_mm=space.width_mm, height_mm=0.38 * space.height_mm)
    joints = [joint for joint in plan.body.joints if joint.leaf == leaf.name and joint.copy == leaf.copy]
    names = {one.name for one in leaves}
    hatched = " Hatched: sawn out." if any(view.slots(part) for part in view.parts) else ""
    parts: list[SheetPart] = [
        *check_cares(plan, tuple(c for c in checks_of(plan, "body") if c.subject in ("", *names))),
        Drawn(
            drawing=drawing,
            caption=(
                f"{scale_words(drawing.scale_n)}, seen from behind: left and right have changed places; what a name "
                "calls left stands at the right. All figures run from the red corner, the lower left one of the "
                "backer. Dashed: behind something, or on "
                f"the wall.{hatched}{_screw_words(plan, leaf, words)} Lengths in {words.unit_name}."
            ),
        ),
        Heading(text="What it is made of"),
        _made_of(view, joints, words),
        *_cut_and_steps(plan, leaf, view, words),
    ]
    return Sheet(
        name="back",
        title=_title(plan, leaves),
        todo="Make the back before a block is laid. Measure every part from the red corner, try it dry, then fix it.",
        wrong=(
            "A part does not fit where it is drawn? Do not plane it to fit. Measure what is in the way, put that into "
            "the brief and plan again."
        ),
        parts=tuple(parts),
        scale="as marked",
    )


def _largest(draw: Callable[[float], Drawing], view: BackView, *, width_mm: float, height_mm: float) -> Drawing:
    """The back at the largest scale that fits; tried one by one, as names that find no room go beside the drawing."""
    box = view.box(view.backer)
    for scale_n in SCALES:
        if box.width_mm <= scale_n * width_mm and box.height_mm <= scale_n * height_mm:
            drawing = draw(scale_n).framed()
            if drawing.paper_width_mm <= width_mm and drawing.paper_height_mm <= height_mm:
                return drawing
    return fitted(draw, width_mm=width_mm, height_mm=height_mm)


def _title(plan: Plan, leaves: list[Leaf]) -> str:
    several = len({one.name for one in plan.layout.leaves}) > 1
    names = list(dict.fromkeys(one.name for one in leaves))
    copies = sorted({one.copy for one in leaves})
    which = f", {'leaf' if len(names) == 1 else 'leaves'} {listed(names)}" if several else ""
    all_copies = len(copies) == plan.brief.piece.copies
    of = f", {'piece' if len(copies) == 1 else 'pieces'} {listed([str(n) for n in copies])}"
    return f"The back{which}{'' if all_copies else of}"


def _screw_words(plan: Plan, leaf: Leaf, words: Words) -> str:
    """Which screws the red crosses are."""
    hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
    if hung.cleat is None:
        return ""
    panel = hung.cleat.panel
    side = ", from the other side" if panel.from_front else ", from this side"
    return f" Red crosses, bold figures: screws of the panel half, {words.screw(panel.gauge, panel.length_nm)}{side}."


def _alike(parts: Iterable[Part]) -> list[list[Part]]:
    """Parts by their number."""
    found: dict[int, list[Part]] = {}
    for part in sorted(parts, key=lambda one: one.number):
        found.setdefault(part.number, []).append(part)
    return list(found.values())


def _material(part: Part) -> str:
    if part.made_at is not MadeAt.BOUGHT:
        return material_words(part.material).partition(" (")[0]
    return "hardwood offcut" if part.role in (Role.BUTTON, Role.LEDGE) else "bought"


def _made_of(view: BackView, joints: list[Joint], words: Words) -> Table:
    """Number, what, material, size, how many, what holds it, whether it stays on the wall."""
    rows = []
    for same in _alike(view.parts):
        part = same[0]
        held = held_words(same, view.parts, joints) or ["the blocks are glued to its face"]
        rows.append(
            (
                str(part.number),
                named_together([one.name for one in same]),
                _material(part),
                size_words(part, words),
                sentence(_upper("; ".join([*held, *_kept_words(part, held)]))),
            )
        )
    return Table(
        columns=(
            Column(head="no.", kind="strong", align="right"),
            Column(head="what", kind="strong", mm=40.0),
            Column(head="material", mm=31.0),
            Column(head=f"size, {words.unit}", mm=38.0),
            Column(head="what holds it", wide=True),
        ),
        rows=tuple(rows),
        groups=tuple(range(len(rows))),
        tight=True,
    )


def _kept_words(part: Part, held: list[str]) -> list[str]:
    """What else is said: a bevel that is sawn; that it stays on the wall, where what holds it does not tell."""
    said = ["one edge bevelled"] if part.bevelled and part.made_at is not MadeAt.BOUGHT else []
    on_wall = not part.moves and not any("the wall" in text for text in held)
    return [*said, *(["stays on the wall"] if on_wall else [])]


def size_words(part: Part, words: Words) -> str:
    """Length, width and thickness: the longest first."""
    box = part.box
    sides = sorted((box.x1 - box.x0, box.y1 - box.y0, box.z1 - box.z0), reverse=True)
    return " × ".join(words.bare(side) for side in sides)


def _around(plan: Plan, leaf: Leaf, view: BackView, words: Words) -> list[SheetPart]:
    """How far the blocks reach past the backer, and where that lies which the leaf hides."""
    said: list[SheetPart] = [
        Para(lead="Behind it.", text=hidden_words(one, view, words), small=True) for one in hidden_by(plan, leaf)
    ]
    past, corners = past_words(leaf, words), corner_words(view, words)
    said += [Para(lead="The blocks", text=past, small=True)] if past else []
    stile = past_backer_words(view, words)
    said += [Para(lead="The hinge stile:", text=stile, small=True)] if stile else []
    return [*said, *([Para(lead="Corners", text=corners, small=True)] if corners else [])]


def _cut_and_steps(plan: Plan, leaf: Leaf, view: BackView, words: Words) -> list[SheetPart]:
    """The order of making, then the cut beside the places; a level cut stands over all of them."""
    space = room(plan)
    places: list[SheetPart] = [
        Heading(text="Where each part goes"),
        Para(text=f"Seen from behind, from the red corner, in {words.unit_name}.{beyond_words(view)}", small=True),
        places_table(view, words),
        *screw_places(view, words),
    ]
    around = _around(plan, leaf, view, words)
    told: list[SheetPart] = [
        Heading(text="In this order"),
        _screw_care(plan, words),
        Steps(texts=step_words(plan, leaf, view, words)),
    ]
    if cut_of(plan, leaf).along == "x":
        drawing = fitted(section_drawing(plan, leaf, words), width_mm=space.width_mm, height_mm=0.4 * space.height_mm)
        caption = (
            f"Level cut through the hinge, {scale_words(drawing.scale_n)}, seen from above; it steps to the catch."
        )
        cut = [Heading(text="Cut"), Drawn(drawing=drawing, caption=caption), *_ends(plan, leaf, words)]
        return [*cut, *told, *places, *around]
    drawing = fitted(
        section_drawing(plan, leaf, words), width_mm=0.38 * space.width_mm, height_mm=SECTION_SHARE * space.height_mm
    )
    caption = (
        f"{scale_words(drawing.scale_n)}. The cut steps sideways, to meet cleat, what is hidden and foot. Dashed: its "
        f"air, and what runs behind the cut. Lengths in {words.unit_name}."
    )
    beside = Beside(
        left=(Heading(text="Cut from the side"), Drawn(drawing=drawing, caption=caption)),
        right=tuple(places),
        left_mm=drawing.paper_width_mm,
    )
    return [*told, beside, *around]


def _screw_care(plan: Plan, words: Words) -> Care:
    """How long a screw may be; where its tip would hurt."""
    return Care(
        title="A screw that comes through hurts whoever works on the other side.",
        text=(
            f"Let each end {words.length(COVER_NM[plan.brief.piece.unit])} short of the next face. Clamp before you "
            "drill. Keep hands out of the line of the bit; wear glasses."
        ),
    )


def _ends(plan: Plan, leaf: Leaf, words: Words) -> list[SheetPart]:
    """Both ends of a level cut, larger, side by side."""
    wide = (room(plan).width_mm - GAP_MM) / 2
    drawn = []
    for name, draw in end_drawings(plan, leaf, words):
        drawing = fitted(draw, width_mm=wide, height_mm=90.0)
        drawn.append(Drawn(drawing=drawing, caption=f"Its {name}, {scale_words(drawing.scale_n)}."))
    if len(drawn) < 2:
        return list(drawn)
    return [Beside(left=(drawn[0],), right=(drawn[1],), left_mm=wide)]


def cleat_words(plan: Plan, leaf: Leaf) -> str:
    """Why the cleat is where it is, and where else it could have been; nothing where there was no choice."""
    choice = plan.body.choice(leaf.name, leaf.copy)
    if choice is None:
        return ""
    other = "".join(f" Looked at too: {one.words}, which {one.against}." for one in choice.runners)
    return f"It lies {choice.words}: {'; '.join(choice.reasons)}.{other}"


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]
