"""Parts of the body out of boards; long parts without stock out of bought lengths."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from bossage.brief.records import Brief
from bossage.brief.records import SheetStock as Board
from bossage.saw.boards.plan import plan_sheets
from bossage.saw.boards.records import Panel, SheetJob, SheetPlan, SheetShortfall, SheetStock
from bossage.saw.job.records import Piece, SawJob, Shortfall, StickStock
from bossage.saw.parts import BoardPart, LongPart, numbered
from bossage.saw.records import BoardCut, LengthCut, ShortStrip
from bossage.saw.section_cuts import time_model
from bossage.saw.short_parts import LONGEST_STRIPS_NM, panel_of, strips_of, too_short
from bossage.saw.sticks.advise import plan_sticks
from bossage.units import NM_PER_MM

# Boards and lengths as shops keep them, for materials that the brief names none of: a shade under 2 × 4 ft, 4 × 8 ft,
# 8 ft and their metric sisters, so that one brief gives one plan in either unit. Common practice, no source.
USUAL_BOARDS_NM = ((609 * NM_PER_MM, 1219 * NM_PER_MM), (1219 * NM_PER_MM, 2438 * NM_PER_MM))
USUAL_LENGTH_NM = 2400 * NM_PER_MM
CENT_NM2 = 10**15  # where no board has a price, a square decimetre or so counts a cent


def cut_boards(brief: Brief, parts: tuple[BoardPart, ...]) -> tuple[BoardCut, ...]:
    """Everything that comes out of boards, by material and thickness."""
    alike: dict[tuple[str, int], list[BoardPart]] = defaultdict(list)
    for part in parts:
        alike[part.material, part.thickness_nm].append(part)
    return tuple(_cut_board(brief, material, thickness, same) for (material, thickness), same in alike.items())


def cut_lengths(brief: Brief, parts: tuple[LongPart, ...]) -> tuple[LengthCut, ...]:
    """Long parts that the brief names no stock for, by role, section and material."""
    wanted: dict[tuple[str, str, int, int], list[LongPart]] = defaultdict(list)
    for part in parts:
        wanted[part.role, part.material, part.width_nm, part.depth_nm].append(part)
    return tuple(_cut_length(brief, *key, same) for key, same in wanted.items())


def board_stocks(brief: Brief, material: str, thickness_nm: int) -> tuple[tuple[SheetStock, bool], ...]:
    """The boards that the brief names, each with whether it costs nothing or its price is known."""
    return tuple(
        (
            SheetStock(
                name=s.name,
                width_nm=s.width_nm,
                length_nm=s.height_nm,
                price_cents=0 if s.owned else _price(s),
                count=s.count,
                owned=s.owned,
                trim_nm=s.edge_trim_nm,
            ),
            s.owned or s.price_cents is not None,
        )
        for s in brief.backer.sheets
        if (s.material, s.thickness_nm) == (material, thickness_nm)
    )


def _cut_board(brief: Brief, material: str, thickness_nm: int, parts: list[BoardPart]) -> BoardCut:
    """Short parts come out of strips; where the boards do not suffice for these, each part is cut by itself."""
    strips: tuple[ShortStrip, ...] = ()
    for longest in LONGEST_STRIPS_NM:
        whole, strips = strips_of(brief, tuple(parts), longest)
        lying = [*whole, *(panel_of(strip, material, thickness_nm) for strip in strips)]
        cut = _cut_panels(brief, material, thickness_nm, lying)
        if not strips or cut.shortfall is None:
            break
    else:
        strips, cut = (), _cut_panels(brief, material, thickness_nm, parts)
    return replace(
        cut,
        serves=tuple(dict.fromkeys(part.name for part in parts)),
        parts=tuple(key for part in parts for key in part.parts),
        strips=strips,
        unheld=() if strips else tuple(part.name for part in parts for _ in part.parts if too_short(brief, part)),
    )


def _cut_panels(brief: Brief, material: str, thickness_nm: int, parts: list[BoardPart]) -> BoardCut:
    named = [s for s in brief.backer.sheets if (s.material, s.thickness_nm) == (material, thickness_nm)]
    turn = all(board.turn for board in named)
    stocks = board_stocks(brief, material, thickness_nm)
    sizes: dict[tuple[int, int, bool], list[BoardPart]] = defaultdict(list)
    for part in parts:
        sizes[part.width_nm, part.length_nm, part.turn and turn].append(part)
    # what has one size is one panel to the search, whatever becomes of it
    panels = {
        size: Panel(
            name=" and ".join(dict.fromkeys(part.name for part in same)),
            width_nm=size[0],
            length_nm=size[1],
            count=sum(part.count for part in same),
            turn=size[2],
        )
        for size, same in sizes.items()
    }
    answer = plan_sheets(
        SheetJob(
            panels=tuple(panels.values()),
            sheets=tuple(stock for stock, _ in stocks) or _usual_boards(material),
            kerf_nm=brief.tools.kerf_nm,
        )
    )
    short = isinstance(answer, SheetShortfall)
    return BoardCut(
        material=material,
        thickness_nm=thickness_nm,
        serves=(),
        parts=(),
        strips=(),
        unheld=(),
        plan=None
        if isinstance(answer, SheetShortfall)
        else _dealt(answer, {(p.name, p.width_nm, p.length_nm): sizes[size] for size, p in panels.items()}),
        shortfall=answer if isinstance(answer, SheetShortfall) else None,
        priced=bool(stocks) and not short and all(priced for _, priced in stocks),
    )


def _dealt(plan: SheetPlan, parts: dict[tuple[str, int, int], list[BoardPart]]) -> SheetPlan:
    """The plan with each panel named as one of the parts of its size, these in turn, so that boards stay alike."""
    queues = {}
    for kind, same in parts.items():
        turns = [((n + 0.5) / one.count, k) for k, one in enumerate(same) for n in range(one.count)]
        queues[kind] = iter([same[k] for _, k in sorted(turns)])
    sheets = []
    for sheet in plan.sheets:
        panels = []
        for panel in sheet.panels:
            size = (panel.width_nm, panel.length_nm)
            part = next(queues[(panel.name, *(size[::-1] if panel.turned else size))])
            panels.append(replace(panel, name=part.name, mark=part.mark))
        sheets.append(replace(sheet, panels=tuple(panels)))
    return replace(plan, sheets=tuple(sheets))


def _usual_boards(material: str) -> tuple[SheetStock, ...]:
    return tuple(
        SheetStock(name=material, width_nm=width, length_nm=height, price_cents=_area_price(width, height))
        for width, height in USUAL_BOARDS_NM
    )


def _price(board: Board) -> int:
    return _area_price(board.width_nm, board.height_nm) if board.price_cents is None else board.price_cents


def _area_price(width_nm: int, height_nm: int) -> int:
    return max(1, width_nm * height_nm // CENT_NM2)


def _cut_length(
    brief: Brief, name: str, species: str, width_nm: int, depth_nm: int, parts: list[LongPart]
) -> LengthCut:
    usual = USUAL_LENGTH_NM
    first = brief.sticks[0]
    longest = max(part.length_nm for part in parts) + first.trim_nm + first.stub_nm + brief.tools.kerf_nm
    answer = plan_sticks(
        SawJob(
            pieces=tuple(
                Piece(length_nm=part.length_nm, count=part.count, name=numbered(part.name, part.mark)) for part in parts
            ),
            # bought in whole multiples of the usual length where a part is longer than one
            sticks=(
                StickStock(
                    name=name,
                    length_nm=usual * -(-longest // usual),
                    price_cents=1,
                    trim_nm=first.trim_nm,
                    stub_nm=first.stub_nm,
                ),
            ),
            kerf_nm=brief.tools.kerf_nm,
            keep_offcut_nm=brief.tools.keep_offcut_nm,
            time=time_model(brief),
        )
    )
    return LengthCut(
        name=name,
        species=species,
        width_nm=width_nm,
        depth_nm=depth_nm,
        parts=tuple(key for part in parts for key in part.parts),
        plan=None if isinstance(answer, Shortfall) else answer,
        shortfall=answer if isinstance(answer, Shortfall) else None,
    )
