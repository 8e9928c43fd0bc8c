"""At the wall: where the piece goes, what lies behind it, how deep it stands."""

from __future__ import annotations

from bossage.checks import Check
from bossage.drawing.model import Drawing
from bossage.errors import BossageError
from bossage.layout.records import Leaf
from bossage.pack.drawings.cut import cut_of, hidden_by
from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.section import depth_drawing
from bossage.pack.drawings.wall import wall_drawing, whole_wall
from bossage.pack.drawings.zones import zone_words
from bossage.pack.sheet import Beside, Column, Drawn, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import LINE_MM, check_cares, checks_of, lines_n, room, words_of
from bossage.pack.words import Words
from bossage.plan import Plan

BESIDE_LEAST_MM, BESIDE_GAP_MM = 72.0, 6.0
UNDER_MM = 82.0  # for margins and section under the drawing, captions and headings included
CARE_MM = 2.2  # the space round a caution
OF_THE_MAKING = {"drift", "lighter", "leaf_split", "corner_bond"}


def wall_sheets(plan: Plan) -> list[Sheet]:
    """One for each copy whose fixtures differ; copies alike share a sheet."""
    sheets = []
    seen: dict[tuple[str, ...], int] = {}
    for copy in range(1, plan.brief.piece.copies + 1):
        behind = tuple(f.name for f in plan.brief.fixtures if not f.copies or copy in f.copies)
        if behind not in seen:
            seen[behind] = copy
            sheets.append(_wall_sheet(plan, copy))
    return sheets


def _wall_sheet(plan: Plan, copy: int) -> Sheet:
    words, space = words_of(plan), room(plan)
    covers, cares = _covers(plan, words, copy), check_cares(plan, _at_the_wall(plan))
    hatched = zone_words(plan, copy, whole_wall(plan))
    # What else the sheet holds takes from the drawing, unless that would make it far smaller or leave no room for it.
    taken_mm = (
        UNDER_MM
        + LINE_MM * -(-len(hatched) // 120)
        + sum(CARE_MM + LINE_MM * lines_n(f"{care.title} {care.text}", space.width_mm - 8.0) for care in cares)
    )
    drawings = [
        drawing
        for height_mm in (space.height_mm - taken_mm, 0.6 * space.height_mm, 0.9 * space.height_mm)
        for drawing in _that_fits(plan, words, copy, width_mm=space.width_mm, height_mm=height_mm)
    ]
    drawing = drawings[0] if drawings[0].scale_n <= 1.7 * drawings[min(1, len(drawings) - 1)].scale_n else drawings[1]
    caption = f"Lengths in {words.unit_name}. Dashed: what the piece hides."
    kept = Para(text=hatched, small=True)
    drawn = Drawn(drawing=drawing, caption=caption)
    parts: list[Part] = list(cares)
    beside_mm = space.width_mm - drawing.paper_width_mm - BESIDE_GAP_MM
    beside = _depth(plan, words, beside_mm, copy) if beside_mm >= BESIDE_LEAST_MM else []
    if beside:
        parts += [Beside(left=(drawn,), right=(*beside, kept), left_mm=drawing.paper_width_mm), *covers]
    else:
        parts += [drawn, kept, *_side_by_side(covers, plan, words, space.width_mm, copy)]
    which = f", piece {copy}" if plan.brief.piece.copies > 1 else ""
    return Sheet(
        name="wall",
        title=f"The wall{which}",
        todo=(
            "Measure each length again at the wall, from the left corner and from the floor. Tape the outline up "
            "and live with it for a day."
        ),
        wrong=(
            "A length differs by more than the air it has? Put the new one into the brief and plan again before "
            "wood is bought."
        ),
        parts=tuple(parts),
        scale=scale_words(drawing.scale_n),
    )


def _at_the_wall(plan: Plan) -> tuple[Check, ...]:
    """Checks that are settled at the wall; those of the making stand on the first page and at their station."""
    return tuple(check for check in checks_of(plan, "layout") if check.name not in OF_THE_MAKING)


def _side_by_side(covers: list[Part], plan: Plan, words: Words, width_mm: float, copy: int) -> list[Part]:
    """Margins and section beside each other, so that both stay on the wall's page; else one under the other."""
    section = _depth(plan, words, BESIDE_LEAST_MM, copy) if covers else []
    if not section:
        return [*covers, *_depth(plan, words, 0.62 * width_mm, copy)]
    return [Beside(left=tuple(covers), right=tuple(section), left_mm=width_mm - BESIDE_LEAST_MM - BESIDE_GAP_MM)]


def _that_fits(plan: Plan, words: Words, copy: int, *, width_mm: float, height_mm: float) -> list[Drawing]:
    """The wall drawing in this room; nothing where its words and dimensions alone are too large for it."""
    try:
        return [fitted(wall_drawing(plan, words, copy=copy), width_mm=width_mm, height_mm=height_mm)]
    except BossageError:
        return []


def _depth(plan: Plan, words: Words, width_mm: float, copy: int) -> list[Part]:
    """How deep it stands; nothing where the section is too wide for the room beside the wall."""
    drawn = depth_drawn(plan, words, width_mm=width_mm, height_mm=62.0, copy=copy)
    return [] if drawn is None else [Heading(text="How deep it stands"), drawn]


def depth_drawn(plan: Plan, words: Words, *, width_mm: float, height_mm: float, copy: int = 1) -> Drawn | None:
    """The section from wall to face before what stands proudest; None where it is too wide."""
    leaf = _before_most(plan, copy)
    try:
        section = fitted(depth_drawing(plan, leaf, words), width_mm=width_mm, height_mm=height_mm)
    except BossageError:
        return None
    seen = "Cut from the side" if cut_of(plan, leaf).along == "y" else "Cut level, seen from above"
    caption = f"{seen}, {scale_words(section.scale_n)}. Lengths in {words.unit_name}."
    return Drawn(drawing=section, caption=caption)


def _before_most(plan: Plan, copy: int) -> Leaf:
    """The leaf of a copy that hangs before what stands proudest, or the first."""
    leaves = [leaf for leaf in plan.layout.leaves if leaf.copy == copy]
    return max(leaves, key=lambda leaf: max((one.box.z1 for one in hidden_by(plan, leaf)), default=0))


def _covers(plan: Plan, words: Words, copy: int) -> list[Part]:
    covers = [cover for cover in plan.layout.covers if cover.copy == copy]
    if not covers:
        return []
    columns = (
        Column(head="the piece reaches past", kind="strong"),
        *(
            Column(head=f"{side}, {words.unit}", kind="strong", align="right")
            for side in ("left", "right", "below", "above")
        ),
    )
    rows = tuple(
        (cover.fixture, *(words.bare(nm) for nm in (cover.left_nm, cover.right_nm, cover.below_nm, cover.above_nm)))
        for cover in covers
    )
    note = Para(
        text=f"Air over the proudest of them: {words.length(plan.layout.stand_off.air_nm)}.{_nearer(plan, words)}"
    )
    return [Heading(text="How far it covers"), Table(columns=columns, rows=rows), note]


def _nearer(plan: Plan, words: Words) -> str:
    """Less air than under the backer: which part of a back lies before something hidden, and how much it leaves."""
    least: tuple[int, str] | None = None
    for leaf in plan.layout.leaves:
        for one in hidden_by(plan, leaf):
            a = one.box
            for part in plan.body.of(leaf.name, leaf.copy):
                b = part.box
                if part.moves and a.x0 < b.x1 and b.x0 < a.x1 and a.y0 < b.y1 and b.y0 < a.y1:
                    air = b.z0 - a.z1, part.name
                    least = air if least is None else min(least, air)
    if least is None or least[0] >= plan.layout.stand_off.air_nm:
        return ""
    return f" Under the {least[1]}: {words.length(least[0])}."
