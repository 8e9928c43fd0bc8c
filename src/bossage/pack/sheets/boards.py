"""The boards at the saw: a drawing of each with its cuts numbered, and the cuts in words."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import groupby

from bossage.brief.records import LengthUnit
from bossage.drawing.extent import label_box
from bossage.drawing.model import Drawing
from bossage.drawing.plain import plain
from bossage.drawing.shapes import Label
from bossage.hang.spread import Tape
from bossage.pack.drawings.boards import board_drawing, panel_name
from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.sheet import Beside, Care, Column, Drawn, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import cares, check_cares, checks_of, room, words_of
from bossage.pack.sheets.shims import material_words
from bossage.pack.sheets.works import numbers_note, strip_parts, work_parts
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.press.shim_records import ShimPanels
from bossage.saw import BoardCut, CutSheet, SheetCut, SheetPlan, shorter_than_hands
from bossage.timber import species_or_board

FENCE = (
    "Distances run from the edge at the fence to the near side of the kerf: what they name is what you get. One that "
    "holds kerfs is rounded up to what a rule shows. What is left at its end is then a little wider than its name "
    "says. Rip a part to its own width. Leave a strip for short parts as wide as it comes."
)
EITHER_WAY = "Plywood may be cut with its face grain either way: the sums leave room for the weaker way."
CLEAR_MM = 1.0  # on paper, between the capitals of two words: brackets reach past them
BOARD_MM = (50.0, 60.0, 72.0, 88.0, 104.0)  # heights of a board's drawing: the lowest on which its words stand clear


def boards_sheet(plan: Plan) -> Sheet:
    """One sheet for all boards of all materials."""
    words, parts, scales = words_of(plan), list[Part](), list[float]()
    parts += cares(plan, "boards")
    parts += check_cares(plan, tuple(c for c in checks_of(plan, "saw") if c.name == "board_too_small"))
    parts.append(Para(text=f"Every cut takes {words.thin(plan.brief.tools.kerf_nm)} of kerf. {FENCE}", small=True))
    parts += numbers_note(tuple(key for board in plan.saw.boards for key in board.parts))
    parts += _either_way(plan)
    for board in plan.saw.boards:
        parts += _board_parts(plan, board, words, scales)
    parts += strip_parts(plan, tuple(strip for board in plan.saw.boards for strip in board.strips))
    parts += work_parts(plan, tuple(key for board in plan.saw.boards for key in board.parts))
    for one in plan.press.shim_panels:
        parts += _shim_parts(plan, one, words, scales)
    return Sheet(
        name="boards",
        title="Saw: boards",
        todo="Cut along the heavy lines in the order of their numbers, each from edge to edge of the piece in hand.",
        wrong=(
            "A panel is out of square? Cut it down to the next smaller panel on this sheet, if there is one; else "
            "take a new board."
        ),
        parts=tuple(parts),
        scale=scale_words(scales[0]) if scales and len(set(scales)) == 1 else ("as marked" if scales else ""),
    )


def _board_parts(plan: Plan, board: BoardCut, words: Words, scales: list[float]) -> list[Part]:
    name = f"{species_or_board(board.material).name}, {words.length(board.thickness_nm)}: {listed(board.serves)}"
    parts: list[Part] = [Heading(text=name[:1].upper() + name[1:])]
    if board.plan is None:
        parts.append(Care(title="Stop: the boards do not suffice for these.", text=_missing(board, words)))
        return parts
    alike_to: dict[object, list[CutSheet]] = {}
    for sheet in board.plan.sheets:
        alike_to.setdefault(_same_board(sheet), []).append(sheet)
    for same in alike_to.values():
        numbers = listed([str(sheet.number) for sheet in same])
        alike = f"Board {numbers}" if len(same) == 1 else f"Boards {numbers}, all alike"
        shelf = ", from the shelf" if same[0].stock.owned else ""
        said = _how_good(board, board.plan, words) if same[0] is board.plan.sheets[0] else ""
        shims = " Shims come out of what is left over, as below." if _gives_shims(plan, board, same) else ""
        parts.append(_board(plan, same[0], words, scales, f"{alike}{shelf}", shims, said, _grain(plan, board)))
    return parts


def _board(
    plan: Plan,
    sheet: CutSheet,
    words: Words,
    scales: list[float],
    name: str,
    more: str = "",
    how_good: str = "",
    grain: bool = False,
) -> Part:
    """One board's drawing beside its cuts."""
    space = room(plan)
    draw = board_drawing(sheet, words, grain=grain, openings=plan.saw.openings)
    drawings = (fitted(draw, width_mm=0.55 * space.width_mm, height_mm=high) for high in BOARD_MM)
    drawing = next((one for one in drawings if _clear(one)), None) or fitted(
        draw, width_mm=0.55 * space.width_mm, height_mm=BOARD_MM[-1]
    )
    scales.append(drawing.scale_n)
    picture = Drawn(drawing=drawing, caption=f"{name}, {scale_words(drawing.scale_n)}. Hatched: left over.")
    right: list[Part] = [_cut_table(sheet, plan.brief.tools.kerf_nm, words)]
    if sheet.offcuts:
        rest = sheet.offcuts[0]
        text = f"Largest rest: {words.size(rest.width_nm, rest.length_nm)}.{more}"
        right.append(Para(text=text, lead="Left over.", small=True))
    if how_good:
        right.append(Para(lead="How good this is:", text=how_good, small=True))
    return Beside(left=(picture,), right=tuple(right), left_mm=drawing.paper_width_mm)


def _clear(drawing: Drawing) -> bool:
    """Whether no word of a drawing stands on another."""
    boxes = [
        label_box(shape, drawing.scale_n)
        for one in drawing.shapes
        for shape in plain(one, drawing.scale_n)
        if isinstance(shape, Label)
    ]
    gap_mm = CLEAR_MM * drawing.scale_n
    return not any(one.meets(other, gap_mm) for number, one in enumerate(boxes) for other in boxes[:number])


def _shim_parts(plan: Plan, panels: ShimPanels, words: Words, scales: list[float]) -> list[Part]:
    """Thin shims, out of rests of the boards above or out of boards of their own."""
    size = words.size(panels.width_nm, panels.length_nm)
    head = f"Shims for the press, {words.length(panels.thickness_nm)} thick: {panels.count} of {size}"
    parts: list[Part] = [Heading(text=head)]
    if panels.plan is None:
        return [*parts, Para(text="The boards named do not suffice: cut them from card or sheet of that thickness.")]
    parts += _held_words(plan, panels, words)
    for source, sheet in zip(panels.boards, panels.plan.sheets, strict=True):
        material = material_words(source.material)
        name = (
            f"Left over of board {source.rest_of}, {material}"
            if source.rest_of is not None
            else f"Board for shims, {material}" + (", from the shelf" if sheet.stock.owned else "")
        )
        parts.append(_board(plan, sheet, words, scales, name))
    return parts


def _held_words(plan: Plan, panels: ShimPanels, words: Words) -> list[Part]:
    """How shims are parted from their strips that are too short to be guided past a blade."""
    if not shorter_than_hands(plan.brief, max(panels.width_nm, panels.length_nm)):
        return []
    hold = words.length(plan.brief.tools.hold_nm)
    return [
        Care(
            title="The last cuts of a strip leave nothing to hold: part these by hand.",
            text=(
                f"At a power saw cut the board into strips alone. Clamp each strip in a mitre box and "
                f"cut the shims off by hand. Or stop at the crosscut saw while {hold} and more of the strip still lie "
                "behind the cut, and part the rest by hand."
            ),
        )
    ]


def _gives_shims(plan: Plan, board: BoardCut, same: list[CutSheet]) -> bool:
    numbers = {sheet.number for sheet in same}
    return any(
        panels.thickness_nm == board.thickness_nm and one.material == board.material and one.rest_of in numbers
        for panels in plan.press.shim_panels
        for one in panels.boards
    )


def _grain(plan: Plan, board: BoardCut) -> bool:
    stocks = [
        s for s in plan.brief.backer.sheets if (s.material, s.thickness_nm) == (board.material, board.thickness_nm)
    ]
    return not all(stock.turn for stock in stocks)


def _either_way(plan: Plan) -> list[Part]:
    """Which way the face grain of plywood runs, where the brief leaves boards to be turned."""
    turned = any(board.material.startswith("plywood") and not _grain(plan, board) for board in plan.saw.boards)
    return [Para(text=EITHER_WAY, small=True)] if turned else []


def _missing(board: BoardCut, words: Words) -> str:
    assert board.shortfall is not None
    said = [f"{p.count} {p.name} {words.size(p.width_nm, p.length_nm)}" for p in board.shortfall.missing]
    return f"Not cut: {listed(said)}."


def _how_good(board: BoardCut, found: SheetPlan, words: Words) -> str:
    boards = count_of(len(found.sheets), "board")
    trims = {sheet.stock.trim_nm for sheet in found.sheets if sheet.stock.trim_nm}
    first = f"The first four cuts take {words.length(max(trims))} off each factory edge. " if trims else ""
    if found.proven:
        return f"{first}{boards}, proven: no layout of edge-to-edge cuts costs less."
    if board.priced and found.bound_cents:
        return (
            f"{first}{boards} for {words.money(found.money_cents)}; by area alone nothing under "
            f"{words.money(found.bound_cents)} would do. What lies between is not proven."
        )
    return (
        f"{first}{boards}; by area alone no fewer than {found.bound_sheets} would do. What lies between is not proven."
    )


def _same_board(sheet: CutSheet) -> tuple[object, ...]:
    return (
        sheet.stock.name,
        sheet.stock.width_nm,
        sheet.stock.length_nm,
        tuple((p.name, p.mark, p.x_nm, p.y_nm, p.width_nm, p.length_nm) for p in sheet.panels),
    )


@dataclass(slots=True)
class _Step:
    """Cuts one after the other with the fence where it stands."""

    first: int
    last: int
    way: str
    distance_nm: int
    trim: bool
    far: bool
    board: tuple[int, int, int, int]
    whole: tuple[int, int]  # size of the piece that the first of them is made in
    across: bool  # measured across the board, from its left edge; else along it, from its near end
    pieces: int  # equal pieces that they are made in
    gives: list[str]


def _cut_table(sheet: CutSheet, kerf_nm: int, words: Words) -> Table:
    rows = []
    for step in _steps(sheet, kerf_nm, words):
        number = str(step.first) if step.first == step.last else f"{step.first}–{step.last}"
        rows.append(
            (
                number,
                _cut_words(step, words),
                "",
            )
        )
    return Table(
        columns=(
            Column(head="cut", kind="strong", align="right"),
            Column(head="what", wide=True),
            Column(head="done", kind="tick"),
        ),
        rows=tuple(rows),
        tight=True,
    )


def _steps(sheet: CutSheet, kerf_nm: int, words: Words) -> list[_Step]:
    """The cuts in order; equal ones on what the last left over, or on its like, are one step."""
    steps: list[_Step] = []
    for cut in sheet.cuts:
        rip = cut.along == "y"
        near = cut.board[0] if rip else cut.board[1]
        over = cut.board[2] if rip else cut.board[3]
        far = cut.trim and cut.at_nm > (near + over) // 2
        distance = over - cut.at_nm if far else cut.at_nm - near
        gives = _gives(sheet, cut, kerf_nm, words)
        last = steps[-1] if steps else None
        wide, long = _size(cut.board)
        # an end narrower than the piece is long turns at the fence: such a cut is a crosscut, however the board lies
        way = "Rip" if (long >= wide if rip else wide > long) else "Crosscut"
        if (
            last is not None
            and not cut.trim
            and not last.trim
            and (last.way, last.across, last.distance_nm) == (way, rip, distance)
            and (_on_the_rest(last.board, cut.board, rip) or _size(cut.board) == last.whole)
        ):
            last.pieces += not _on_the_rest(last.board, cut.board, rip)
            last.last, last.board = cut.number, cut.board
            last.gives += gives
            continue
        steps.append(
            _Step(
                first=cut.number,
                last=cut.number,
                way=way,
                distance_nm=distance,
                trim=cut.trim,
                far=far,
                board=cut.board,
                whole=_size(cut.board),
                across=rip,
                pieces=1,
                gives=gives,
            )
        )
    return steps


def _size(board: tuple[int, int, int, int]) -> tuple[int, int]:
    return board[2] - board[0], board[3] - board[1]


def _on_the_rest(before: tuple[int, int, int, int], now: tuple[int, int, int, int], rip: bool) -> bool:
    """Whether a board is what the cut before left over on its far side."""
    across = (before[1], before[2], before[3]) == (now[1], now[2], now[3])
    along = (before[0], before[2], before[3]) == (now[0], now[2], now[3])
    return across if rip else along


def _gives(sheet: CutSheet, cut: SheetCut, kerf_nm: int, words: Words) -> list[str]:
    """Panels that a cut frees, with their size where one name has several."""
    x0, y0, x1, y1 = cut.board
    at, beyond = cut.at_nm, cut.at_nm + kerf_nm
    two = ((x0, y0, at, y1), (beyond, y0, x1, y1)) if cut.along == "y" else ((x0, y0, x1, at), (x0, beyond, x1, y1))
    sizes = {(panel.name, *sorted((panel.width_nm, panel.length_nm))) for panel in sheet.panels}
    several = {name for name, *_ in sizes if sum(name == other for other, *_ in sizes) > 1}
    return [
        panel_name(panel) + (f" {words.size(panel.width_nm, panel.length_nm)}" if panel.name in several else "")
        for panel in sheet.panels
        if (panel.x_nm, panel.y_nm, panel.x_nm + panel.width_nm, panel.y_nm + panel.length_nm) in two
    ]


def _on_a_rule(nm: int, words: Words) -> int:
    """A distance as it is, where a rule shows it to half a step; else the next that it shows."""
    tape = Tape(LengthUnit(words.unit))
    return nm if 2 * nm % tape.step_nm == 0 else tape.after(nm)


def _cut_words(step: _Step, words: Words) -> str:
    side = ("right" if step.far else "left") if step.across else ("far" if step.far else "near")
    edge = f"{side} {'edge' if step.way == 'Rip' else 'end'}"
    said = f"{step.way} {words.length(_on_a_rule(step.distance_nm, words))} from the {edge}"
    if step.trim:
        return f"{said}: the factory edge comes off."
    times = step.last - step.first + 1
    if step.pieces == times > 1:
        said += f", once in each of {times} pieces"
    elif times > 1:
        said += f", {count_of(times, 'time')}" + (f" in {step.pieces} equal pieces" if step.pieces > 1 else "")
    gives = [f"{len(list(group))} × {name}" for name, group in groupby(sorted(step.gives))]
    return f"{said}: {listed(gives)}." if gives else f"{said}."
