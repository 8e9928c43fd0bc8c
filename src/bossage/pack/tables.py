"""The plan as tables for other programs: CSV by RFC 4180, units in the heads, numbers without thousands signs."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable

from bossage.cells import cell_text
from bossage.layout.records import Zone
from bossage.pack.sheets.shims import stick_names
from bossage.plan import Plan
from bossage.saw import CutStick

Cell = str | int | float | None
NM_PER_MM = 10**6


def csv_files(plan: Plan) -> dict[str, bytes]:
    """Every table by its file name. Lengths are millimetres whatever the brief's unit."""
    return {
        "blocks.csv": _csv(_blocks(plan)),
        "counts.csv": _csv(_counts(plan)),
        "cuts.csv": _csv(_cuts(plan)),
        "shopping.csv": _csv(_shopping(plan)),
        "paint.csv": _csv(_paint(plan)),
        "checks.csv": _csv(_checks(plan)),
    }


def _csv(rows: Iterable[Iterable[Cell]]) -> bytes:
    file = io.StringIO()
    csv.writer(file, lineterminator="\r\n").writerows([[_cell(cell) for cell in row] for row in rows])
    return file.getvalue().encode("utf-8")


def _cell(cell: Cell) -> str | int | float:
    if cell is None:
        return ""
    return cell_text(cell) if isinstance(cell, str) else cell


def _mm(nm: int) -> str:
    """Exact: a nanometre is the sixth decimal."""
    sign, whole = ("-" if nm < 0 else ""), abs(int(nm))
    text = f"{whole // NM_PER_MM}.{whole % NM_PER_MM:06}".rstrip("0").rstrip(".")
    return f"{sign}{text}"


def _blocks(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    yield (
        "copy", "leaf", "address", "row", "column", "footprint", "zone", "shade", "level_mm", "length_mm",
        "x_mm", "y_mm", "width_mm", "height_mm",
    )  # fmt: skip
    blocks, relief, fade = plan.layout.blocks, plan.relief, plan.fade
    for block in range(blocks.count):
        leaf = plan.layout.leaves[int(blocks.leaf[block])]
        yield (
            leaf.copy,
            leaf.name,
            blocks.address(block),
            int(blocks.row[block]),
            int(blocks.column[block]),
            plan.brief.blocks.footprints[int(blocks.footprint[block])].name,
            Zone(int(blocks.zone[block])).name.lower(),
            fade.shades[int(fade.shade[block])].name,
            _mm(relief.levels_nm[int(relief.level[block])]),
            _mm(int(relief.length_nm[block])),
            _mm(int(blocks.x_nm[block])),
            _mm(int(blocks.y_nm[block])),
            _mm(int(blocks.width_nm[block])),
            _mm(int(blocks.height_nm[block])),
        )


def _counts(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    yield ("footprint", "zone", "level_mm", "length_mm", "shade", "blocks")
    for row in plan.fade.count_table:
        yield (row.footprint, row.zone, _mm(row.level_nm), _mm(row.length_nm), row.shade, row.count)


def _cuts(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    yield ("from", "stick_or_board", "part", "from_mm", "to_mm", "x_mm", "y_mm", "width_mm", "length_mm")
    for section in plan.saw.sections:
        for stick in section.bought.sticks if section.bought else ():
            yield from _slices(section.bought_as, stick)
    for board in plan.saw.boards:
        for sheet in board.plan.sheets if board.plan else ():
            for panel in sheet.panels:
                yield (
                    sheet.stock.name, sheet.number, panel.name, None, None,
                    _mm(panel.x_nm), _mm(panel.y_nm), _mm(panel.width_nm), _mm(panel.length_nm),
                )  # fmt: skip
        for strip in board.strips:
            for piece in strip.pieces:
                for _ in piece.parts:
                    yield (
                        strip.name, None, piece.name, None, None,
                        None, None, _mm(strip.width_nm), _mm(piece.length_nm),
                    )  # fmt: skip
    for length in plan.saw.lengths:
        for stick in length.plan.sticks if length.plan else ():
            yield from _slices(length.name, stick)
    yield from _shim_cuts(plan)


def _shim_cuts(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    cut = plan.press.shim_cut
    if cut is not None and cut.plan is not None:
        for name, stick in zip(stick_names(cut), cut.plan.sticks, strict=True):
            yield from _slices(f"{cut.section}, {name}", stick, part="shim")
    for one in plan.press.shim_panels:
        for board, sheet in zip(one.boards, one.plan.sheets if one.plan else (), strict=True):
            of = f"{board.material}, rest of board {board.rest_of}" if board.rest_of is not None else board.material
            for panel in sheet.panels:
                yield (
                    of, sheet.number, panel.name, None, None,
                    _mm(panel.x_nm), _mm(panel.y_nm), _mm(panel.width_nm), _mm(panel.length_nm),
                )  # fmt: skip


def _slices(name: str, stick: CutStick, part: str = "slice") -> Iterable[tuple[Cell, ...]]:
    for piece in stick.slices:
        yield (
            name,
            stick.number,
            part,
            _mm(piece.from_nm),
            _mm(piece.to_nm),
            None,
            None,
            None,
            _mm(piece.length_nm),
        )


def _shopping(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    currency = plan.brief.piece.currency
    yield ("group", "what", "how_much", f"each_{currency}", f"price_{currency}", "note")
    for line in (*plan.cost.shopping, *plan.cost.shims):
        yield (line.for_what, line.what, line.amount, _money(line.each_cents), _money(line.cents), line.note)


def _money(cents: int | None) -> str:
    return "" if cents is None else f"{cents // 100}.{cents % 100:02}"


def _paint(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    yield ("shade", "colour_srgb", "blocks", "face_mm2", "sides_shown_mm2", "painted_mm2", "colour_ml", "mix_ml")
    colour = {shade.name: shade.colour_hex for shade in plan.fade.shades}
    for row in plan.paint.rows:
        yield (
            row.shade, colour[row.shade], row.blocks,
            f"{row.face_mm2:.1f}", f"{row.sides_shown_mm2:.1f}", f"{row.painted_mm2:.1f}", f"{row.colour_ml:.2f}",
            f"{row.mix_ml:.2f}",
        )  # fmt: skip
    ground = plan.paint.ground
    dyed = ground.front_mm2 + ground.strips_mm2
    area = ground.edges_mm2 + (0.0 if ground.dye_ml else dyed)
    yield (f"ground: {ground.name}", ground.colour_hex, 0, "", "", f"{area:.1f}", *[f"{ground.colour_ml:.2f}"] * 2)
    if ground.dye_ml:
        yield (f"dye: {ground.name}", ground.colour_hex, 0, "", "", f"{dyed:.1f}", *[f"{ground.dye_ml:.2f}"] * 2)


def _checks(plan: Plan) -> Iterable[tuple[Cell, ...]]:
    head = "kind verdict settled stage name subject title found allowed why care advice remedy source"
    yield tuple(head.split())
    for check in plan.checks:
        yield (
            check.kind.value, check.verdict.value, str(check.settled or ""),
            check.stage, check.name, check.subject, check.title,
            check.found, check.allowed, check.why, check.care, check.advice.value, check.remedy, check.source,
        )  # fmt: skip
