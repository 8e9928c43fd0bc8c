"""At the saw: one sheet a section of stock, by setting of the stop; the boards; the long parts."""

from __future__ import annotations

from itertools import groupby

from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.sticks import board_drawing, stick_drawing
from bossage.pack.sheet import Beside, Care, Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, check_cares, checks_of, room, words_of
from bossage.pack.words import Words, count_of, listed, split_unit
from bossage.plan import Plan
from bossage.saw.records import CutStick, SawPlan
from bossage.saw.sheet_records import CutSheet
from bossage.saw.shop_records import BoardCut, LengthCut, SectionCut

STICK_MM = 300.0


def saw_sheets(plan: Plan) -> list[Sheet]:
    """A sheet for each section, one for the boards, one for ribs, rails and lipping."""
    sheets = [_section_sheet(plan, cut) for cut in plan.saw.sections]
    if plan.saw.boards:
        sheets.append(_boards_sheet(plan))
    if plan.saw.lengths:
        sheets.append(_lengths_sheet(plan))
    return sheets


def _section_sheet(plan: Plan, cut: SectionCut) -> Sheet:
    words = words_of(plan)
    parts: list[Part] = list(cares(plan, "saw"))
    parts += check_cares(tuple(c for c in checks_of(plan, "saw") if c.subject in ("", cut.section)))
    bought = cut.bought
    scale = ""
    if bought is None:
        parts.append(_short(cut, words))
    else:
        parts.append(_figures(cut, bought, words))
        parts.append(_settings(cut, bought, words))
        parts.append(Para(lead="How good this is:", text=_how_good(cut, bought)))
        parts.append(Heading(text="Stick by stick"))
        drawn, scale = _sticks(plan, bought.sticks, words)
        parts += drawn
    return Sheet(
        name="saw",
        title=f"Saw: {cut.bought_as}",
        todo=(
            "Set the stop for one line, longest first, and cut all its slices from all sticks before you move it. "
            "Measure the first slice."
        ),
        wrong=(
            "A slice came out short or split? It makes a shorter level: put it by, and cut one more from the same "
            "stick."
        ),
        parts=tuple(parts),
        scale=scale,
    )


def _figures(cut: SectionCut, bought: SawPlan, words: Words) -> Figures:
    section, unit = split_unit(words.size(cut.section_width_nm, cut.section_height_nm))
    kerf, kerf_unit = split_unit(words.thin(cut.kerf_nm))
    trim, stub = bought.sticks[0].stock.trim_nm, bought.sticks[0].stock.stub_nm
    return Figures(
        items=(
            Figure(value=str(len(bought.sticks)), unit="", words="sticks"),
            Figure(value=section, unit=unit, words="section, measured"),
            Figure(value=kerf, unit=kerf_unit, words="kerf"),
            Figure(value=words.bare(trim), unit=words.unit, words="squared off first"),
            Figure(value=words.bare(stub), unit=words.unit, words="stub, never cut"),
        )
    )


def _settings(cut: SectionCut, bought: SawPlan, words: Words) -> Table:
    row_of = {row.length_nm: row for row in cut.rows}
    rows = []
    for setting in bought.settings:
        row = row_of[setting.length_nm]
        sticks = ", ".join(f"{count} from {number}" for number, count in setting.per_stick)
        rows.append((words.bare(setting.length_nm), str(setting.count), str(row.blocks), str(row.spares), sticks, ""))
    blocks, spares = sum(row.blocks for row in cut.rows), sum(row.spares for row in cut.rows)
    return Table(
        columns=(
            Column(head=f"stop at, {words.unit}", kind="figure", align="right"),
            Column(head="slices", kind="figure", align="right"),
            Column(head="blocks", align="right"),
            Column(head="spares", align="right"),
            Column(head="slices from stick", wide=True),
            Column(head="done", kind="tick"),
        ),
        rows=tuple(rows),
        total=("", str(blocks + spares), str(blocks), str(spares), "", ""),
    )


def _how_good(cut: SectionCut, bought: SawPlan) -> str:
    said = [
        f"{count_of(len(bought.sticks), 'stick')}, "
        + ("proven fewest for the money." if bought.proven else f"no plan needs fewer than {bought.bound_sticks}.")
    ]
    if cut.plan is not None and cut.plan is not bought:
        said.append(
            f"{count_of(len(cut.plan.sticks), 'stick')} would do with next to nothing to spare: one knot breaks "
            "that plan."
        )
    return " ".join(said)


def _sticks(plan: Plan, sticks: tuple[CutStick, ...], words: Words) -> tuple[list[Part], str]:
    """Sticks cut alike share a drawing; all are drawn at one scale."""
    space = room(plan)
    longest = max(sticks, key=lambda stick: stick.stock.length_nm)
    scale_n = fitted(stick_drawing(longest, words), width_mm=space.width_mm, height_mm=STICK_MM).scale_n
    parts: list[Part] = []
    for _, group in groupby(sorted(sticks, key=_alike), key=_alike):
        same = list(group)
        numbers = listed([str(stick.number) for stick in same])
        drawing = stick_drawing(same[0], words)(scale_n)
        name = f"Stick {numbers}" if len(same) == 1 else f"Sticks {numbers}, all alike"
        parts.append(Drawn(drawing=drawing, caption=f"{name}: {words.length(same[0].offcut_nm)} left in one length."))
    return parts, scale_words(scale_n)


def _alike(stick: CutStick) -> tuple[int, tuple[int, ...]]:
    return (-stick.stock.length_nm, tuple(-piece.length_nm for piece in stick.slices))


def _short(cut: SectionCut, words: Words) -> Care:
    assert cut.shortfall is not None
    missing = ", ".join(f"{piece.count} of {words.length(piece.length_nm)}" for piece in cut.shortfall.missing)
    return Care(title="Stop: the stock does not suffice.", text=f"Not cut: {missing}.")


def _boards_sheet(plan: Plan) -> Sheet:
    words, parts, scales = words_of(plan), list[Part](), list[float]()
    parts += cares(plan, "saw")
    for board in plan.saw.boards:
        parts += _board_parts(plan, board, words, scales)
    return Sheet(
        name="boards",
        title="Saw: boards",
        todo="Cut along the lines in the order of their numbers. Each cut runs from edge to edge of the piece in hand.",
        wrong=(
            "A panel is out of square? Cut it down to the next smaller panel on this sheet, if there is one; else "
            "take a new board."
        ),
        parts=tuple(parts),
        scale=scale_words(scales[0]) if scales and len(set(scales)) == 1 else ("as marked" if scales else ""),
    )


def _board_parts(plan: Plan, board: BoardCut, words: Words, scales: list[float]) -> list[Part]:
    name = f"{board.material.replace('_', ' ')}, {words.length(board.thickness_nm)}: {listed(board.serves)}"
    parts: list[Part] = [Heading(text=name[:1].upper() + name[1:])]
    if board.plan is None:
        parts.append(Care(title="Stop: the boards do not suffice for these.", text=name))
        return parts
    space = room(plan)
    for _, group in groupby(sorted(board.plan.sheets, key=_same_board), key=_same_board):
        same = list(group)
        drawing = fitted(board_drawing(same[0], words), width_mm=0.6 * space.width_mm, height_mm=104.0)
        scales.append(drawing.scale_n)
        numbers = listed([str(sheet.number) for sheet in same])
        alike = f"Board {numbers}" if len(same) == 1 else f"Boards {numbers}, all alike"
        picture = Drawn(drawing=drawing, caption=f"{alike}, {scale_words(drawing.scale_n)}. Hatched: left over.")
        steps = Steps(texts=tuple(_cut_words(sheet_cut, words) for sheet_cut in _cuts(same[0])))
        parts.append(Beside(left=(picture,), right=(steps,), left_mm=drawing.paper_width_mm))
    return parts


def _same_board(sheet: CutSheet) -> tuple[object, ...]:
    return (
        sheet.stock.name,
        sheet.stock.width_nm,
        sheet.stock.length_nm,
        tuple((p.name, p.x_nm, p.y_nm, p.width_nm, p.length_nm) for p in sheet.panels),
    )


def _cuts(sheet: CutSheet) -> list[tuple[str, int, bool]]:
    """Each cut as: which way, how far from the near edge of the piece in hand, whether it only squares an edge."""
    found = []
    for cut in sheet.cuts:
        rip = cut.along == "y"
        near = cut.board[0] if rip else cut.board[1]
        found.append(("Rip" if rip else "Crosscut", cut.at_nm - near, cut.trim))
    return found


def _cut_words(cut: tuple[str, int, bool], words: Words) -> str:
    way, distance, trim = cut
    edge = "left edge" if way == "Rip" else "near end"
    return f"{way} {words.length(distance)} from the {edge}" + (" to square it." if trim else ".")


def _lengths_sheet(plan: Plan) -> Sheet:
    words, scale = words_of(plan), ""
    parts: list[Part] = list(cares(plan, "saw"))
    for cut in plan.saw.lengths:
        drawn, found = _length_parts(plan, cut, words)
        parts += drawn
        scale = found if scale in ("", found) else "as marked"
    return Sheet(
        name="lengths",
        title="Saw: long parts",
        todo="Cut these to length against one stop each, so that parts of one name are equal.",
        wrong=(
            "One came out short? Cut all of its name to the short one only if the sheet of the wall still has room; "
            "else cut it anew."
        ),
        parts=tuple(parts),
        scale=scale,
    )


def _length_parts(plan: Plan, cut: LengthCut, words: Words) -> tuple[list[Part], str]:
    name = f"{cut.name}: {cut.species.replace('_', ' ')}, {words.size(cut.width_nm, cut.depth_nm)}"
    parts: list[Part] = [Heading(text=name[:1].upper() + name[1:])]
    if cut.plan is None:
        parts.append(Care(title="Stop: the lengths do not suffice.", text=name))
        return parts, ""
    rows = tuple((words.bare(s.length_nm), str(s.count), listed(s.names), "") for s in cut.plan.settings)
    columns = (
        Column(head=f"length, {words.unit}", kind="figure", align="right"),
        Column(head="pieces", kind="figure", align="right"),
        Column(head="what", wide=True),
        Column(head="done", kind="tick"),
    )
    drawn, scale = _sticks(plan, cut.plan.sticks, words)
    return [*parts, Table(columns=columns, rows=rows), *drawn], scale
