"""Backers, strips, cleats, packers and ripped ribs out of boards; long parts without stock out of bought lengths."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator

from bossage.brief.records import Brief, EdgeStyle, Opens
from bossage.brief.records import SheetStock as Board
from bossage.layout.records import Layout
from bossage.saw.boards.plan import plan_sheets
from bossage.saw.boards.records import Panel, SheetJob, SheetShortfall, SheetStock
from bossage.saw.job.records import Piece, SawJob, Shortfall, StickStock
from bossage.saw.parts import BoardPart, LongPart
from bossage.saw.records import BoardCut, LengthCut
from bossage.saw.section_cuts import time_model
from bossage.saw.sticks.advise import plan_sticks
from bossage.units import NM_PER_MM

# Boards and lengths as shops keep them, for materials that the brief names none of: a shade under 2 × 4 ft, 4 × 8 ft,
# 8 ft and their metric sisters, so that one brief gives one plan in either unit. Common practice, no source.
USUAL_BOARDS_NM = ((609 * NM_PER_MM, 1219 * NM_PER_MM), (1219 * NM_PER_MM, 2438 * NM_PER_MM))
USUAL_LENGTH_NM = 2400 * NM_PER_MM
CENT_NM2 = 10**15  # where no board has a price, a square decimetre or so counts a cent


def cut_boards(brief: Brief, layout: Layout, ribs: tuple[BoardPart, ...]) -> tuple[BoardCut, ...]:
    """Everything that comes out of boards, by material and thickness; `ribs` lie among backers and strips."""
    parts: dict[tuple[str, int], list[BoardPart]] = defaultdict(list)
    for part in (*_board_parts(brief, layout), *ribs):
        parts[part.material, part.thickness_nm].append(part)
    return tuple(_cut_board(brief, material, thickness, alike) for (material, thickness), alike in parts.items())


def cut_lengths(brief: Brief, parts: tuple[LongPart, ...]) -> tuple[LengthCut, ...]:
    """Long parts that the brief names no stock for, by role, section and material."""
    wanted: dict[tuple[str, str, int, int], dict[tuple[int, str], int]] = defaultdict(lambda: defaultdict(int))
    for part in parts:
        wanted[part.role, part.material, part.width_nm, part.depth_nm][part.length_nm, part.name] += part.count
    return tuple(_cut_length(brief, *key, counts) for key, counts in wanted.items())


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


def _board_parts(brief: Brief, layout: Layout) -> Iterator[BoardPart]:
    backer, cleat, leaves = brief.backer, brief.cleat, len(layout.leaves)
    sizes: dict[tuple[int, int], int] = defaultdict(int)
    for leaf in layout.leaves:
        sizes[leaf.backer_width_nm, leaf.backer_height_nm] += 1
    for (width, height), count in sizes.items():
        yield BoardPart(
            serves="backer",
            material=backer.material,
            thickness_nm=backer.thickness_nm,
            width_nm=width,
            length_nm=height,
            count=count,
        )
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        for strip in layout.strips:
            yield BoardPart(
                serves="edge strips",
                material=strip.material,
                thickness_nm=strip.thickness_nm,
                width_nm=strip.width_nm,
                length_nm=strip.length_nm,
                count=strip.count * leaves,
            )
    if cleat.kind == "wood" and brief.access.opens is Opens.LIFT_OFF:
        widest = max(leaf.backer_width_nm for leaf in layout.leaves)
        length = cleat.length_nm or (widest if cleat.pieces == 1 else widest // 3)
        halves = {
            "cleat": (cleat.thickness_nm, cleat.strip_nm, 2 * cleat.pieces),
            "packer": (cleat.packer_nm, cleat.packer_height_nm, cleat.pieces),
        }
        for name, (thickness, width, each) in halves.items():
            if thickness:
                yield BoardPart(
                    serves=name,
                    material=cleat.material,
                    thickness_nm=thickness,
                    width_nm=width,
                    length_nm=length,
                    count=each * leaves,
                )


def _cut_board(brief: Brief, material: str, thickness_nm: int, parts: list[BoardPart]) -> BoardCut:
    named = [s for s in brief.backer.sheets if (s.material, s.thickness_nm) == (material, thickness_nm)]
    turn = all(board.turn for board in named)
    stocks = board_stocks(brief, material, thickness_nm)
    answer = plan_sheets(
        SheetJob(
            panels=tuple(
                Panel(
                    name=p.serves,
                    width_nm=p.width_nm,
                    length_nm=p.length_nm,
                    count=p.count,
                    turn=p.turn and turn,
                )
                for p in parts
            ),
            sheets=tuple(stock for stock, _ in stocks) or _usual_boards(material),
            kerf_nm=brief.tools.kerf_nm,
        )
    )
    short = isinstance(answer, SheetShortfall)
    return BoardCut(
        material=material,
        thickness_nm=thickness_nm,
        serves=tuple(dict.fromkeys(part.serves for part in parts)),
        plan=None if isinstance(answer, SheetShortfall) else answer,
        shortfall=answer if isinstance(answer, SheetShortfall) else None,
        priced=bool(stocks) and not short and all(priced for _, priced in stocks),
    )


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
    brief: Brief, name: str, species: str, width_nm: int, depth_nm: int, counts: dict[tuple[int, str], int]
) -> LengthCut:
    usual = USUAL_LENGTH_NM
    first = brief.sticks[0]
    longest = max(length for length, _ in counts) + first.trim_nm + first.stub_nm + brief.tools.kerf_nm
    answer = plan_sticks(
        SawJob(
            pieces=tuple(Piece(length_nm=length, count=n, name=part) for (length, part), n in counts.items()),
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
        plan=None if isinstance(answer, Shortfall) else answer,
        shortfall=answer if isinstance(answer, Shortfall) else None,
    )
