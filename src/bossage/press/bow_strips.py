"""Strips of a leaf, row by row and column by column, and how far each bows with its blocks on.

Every block with the board under it is a cell (`timber.glued_cell`); its curvature times its size turns the strip, and
the turns of a strip add up to its rise. What the board does by itself, one face damper than the other, comes on top.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bossage.brief.records import BehindPart, Brief
from bossage.layout.lines import block_lines
from bossage.layout.records import Layout, Leaf, Zone
from bossage.press.house import backer_expansion_per_pct, moved_mm, side_build_nm, wood_of
from bossage.press.ribs import RIB_DEPTH_NM, RIB_MPA, RIB_WIDTH_NM
from bossage.press.wood_records import BowStrip
from bossage.relief import Relief
from bossage.timber import (
    GluedCell,
    Layer,
    RibLayer,
    block_plane,
    board_plane,
    glued_cell,
    layered_bow,
    modulus_mpa,
    strip_moduli_mpa,
    strip_rise_mm,
)
from bossage.timber.movement import DEFAULT_FSP_PCT, LONGITUDINAL_SHRINKAGE_PCT
from bossage.units import NM_PER_MM

if TYPE_CHECKING:
    import numpy.typing as npt

UNEVEN = {0: (0.0, 0.2, 0.5), 1: (0.25, 0.5, 1.0), 2: (0.0, 0.1, 0.25)}
"""How much less one face of the board follows the room than the other, by sealed faces: least, likely, most. Ours. Two
bare faces differ because blocks cover one of them, two sealed ones by the luck of the brush."""

KEPT = (0.3, 0.6, 1.0)
"""Share of the blocks' stiffness that is left when they have dried: softest, likely, full elastic case. Ours: wood that
is held back while its moisture changes gives way (mechano-sorptive creep), by a half and more across the grain."""

HEIGHT_STEP = 1.1
"""Heights are taken in steps of a tenth of themselves, so that a piece of many levels has few different cells."""

GLUED_OVER = 3
"""A part behind runs along a strip when it is this many thirds of the span long."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Strip:
    """One strip of the backer: lengths of its parts, mm, and which cell each is, -1 where no block is."""

    lengths_mm: npt.NDArray[np.float64]
    cells: npt.NDArray[np.int64]
    width_mm: float

    @property
    def mark(self) -> bytes:
        """Equal for strips that bow alike."""
        return self.lengths_mm.tobytes() + self.cells.tobytes()


@dataclass(frozen=True, slots=True, kw_only=True)
class Cell:
    """One kind of block along a strip: size along it, height off the board, share of the width, wood."""

    size_mm: float
    height_mm: float
    covers: float
    footprint: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Lines:
    """All strips of a leaf one way."""

    way: str
    span_nm: int
    width_nm: int
    strips: tuple[Strip, ...]
    cells: tuple[Cell, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Slotted:
    """Ribs in slots: they hold the leaf straight and do not hold its length."""

    way: str = ""
    count: int = 0


def lines_of(brief: Brief, layout: Layout, relief: Relief, leaf_no: int, way: str) -> Lines:
    """Strips of a leaf along one way, `across` or `up`."""
    leaf, blocks = layout.leaves[leaf_no], layout.blocks
    mine = np.flatnonzero((blocks.leaf == leaf_no) & (blocks.zone == Zone.FIELD))
    along, size = (blocks.x_nm, blocks.width_nm) if way == "across" else (blocks.y_nm, blocks.height_nm)
    begin, span, width = _backer(leaf, way)
    kinds: dict[Cell, int] = {}
    strips = []
    for line in block_lines(blocks, mine, way):
        wide = line.high_nm - line.low_nm
        share = wide / (wide + brief.blocks.gap_nm)
        parts: list[tuple[float, int]] = []
        at = begin
        for k in line.blocks if way == "across" else line.blocks[::-1]:
            start, end = max(begin, int(along[k])), min(begin + span, int(along[k] + size[k]))
            if end <= start:
                continue
            if start > at:
                parts.append(((start - at) / NM_PER_MM, -1))
            cell = Cell(
                size_mm=int(size[k]) / NM_PER_MM,
                height_mm=_stepped(int(relief.length_nm[k]) / NM_PER_MM),
                covers=round(float(share), 3),
                footprint=int(blocks.footprint[k]),
            )
            parts.append(((end - start) / NM_PER_MM, kinds.setdefault(cell, len(kinds))))
            at = end
        if at < begin + span:
            parts.append(((begin + span - at) / NM_PER_MM, -1))
        strips.append(
            Strip(
                lengths_mm=np.array([length for length, _ in parts]),
                cells=np.array([cell for _, cell in parts], dtype=np.int64),
                width_mm=wide / NM_PER_MM,
            )
        )
    return Lines(way=way, span_nm=span, width_nm=width, strips=tuple(strips), cells=tuple(kinds))


def bow_of(brief: Brief, lines: Lines, slotted: Slotted | None = None) -> BowStrip:
    """Bow along one way: mean of all strips where they are softest and where they are likely, the worst strip of all.

    Positive bulges into the room; the record gives sizes without the sign, and the way it goes by `hollow`.
    """
    ribs = _glued_ribs(brief, lines)
    rises = [_rises(brief, lines, ribs, case, slotted) for case in range(3)]
    weights = np.array([strip.width_mm for strip in lines.strips])
    mean = [np.average(rise, axis=-1, weights=weights) for rise in rises]  # by end of the room's range, by open face
    by_end = np.abs(mean[1]).max(axis=1)
    end = int(by_end.argmax())
    softest = mean[0][end]
    least = 0.0 if softest.min() * softest.max() < 0 else float(np.abs(softest).min())
    likely = float(by_end[end])
    most = float(max(np.abs(rise).max() for rise in rises))
    return BowStrip(
        way=lines.way,
        span_nm=lines.span_nm,
        ribs=0 if ribs is None else sum(part.count for part in _parts_along(brief, lines)),
        least_mm=min(least, likely),
        likely_mm=likely,
        most_mm=max(most, likely),
        hollow=bool(mean[1][end][int(np.abs(mean[1][end]).argmax())] < 0),
        risk="",
    )


def change_pct(brief: Brief) -> float:
    """The larger change of moisture from the day of gluing to an end of the room's range."""
    return max(abs(end - brief.blocks.moisture_laid_pct) for end in _ends(brief))


def _rises(
    brief: Brief, lines: Lines, ribs: RibLayer | None, case: int, slotted: Slotted | None
) -> npt.NDArray[np.float64]:
    """Rise of every strip, mm: by end of the room's range, by the face that is held back, by strip."""
    board_mpa = strip_moduli_mpa(brief.backer.material)[2 - case]
    cells = [_cell(brief, cell, ribs, case, board_mpa) for cell in lines.cells]
    straight = _held_share(lines, cells, slotted)
    uneven = UNEVEN[brief.backer.sealed_faces][case]
    out = np.zeros((2, 2, len(lines.strips)))
    for e, end in enumerate(_ends(brief)):
        for f, front_open in enumerate((True, False)):
            bends = _curvatures(brief, lines, cells, ribs, board_mpa, end, uneven, case, front_open=front_open)
            out[e, f] = _strip_rises(lines, bends)
    return out * straight


def _strip_rises(lines: Lines, bends: npt.NDArray[np.float64]) -> list[float]:
    """Rise of every strip; strips that are alike are reckoned once."""
    known: dict[bytes, float] = {}
    rises = []
    for strip in lines.strips:
        if strip.mark not in known:
            known[strip.mark] = strip_rise_mm(strip.lengths_mm, bends[strip.cells])
        rises.append(known[strip.mark])
    return rises


def _curvatures(
    brief: Brief,
    lines: Lines,
    cells: list[GluedCell],
    ribs: RibLayer | None,
    board_mpa: float,
    end_pct: float,
    uneven: float,
    case: int,
    *,
    front_open: bool,
) -> npt.NDArray[np.float64]:
    """Curvature of every kind of cell, and of the bare board at the end, so that -1 finds it."""
    change = end_pct - brief.blocks.moisture_laid_pct
    full = backer_expansion_per_pct(brief) * change
    held = full * (1 - uneven)
    front, back = (full, held) if front_open else (held, full)
    along = LONGITUDINAL_SHRINKAGE_PCT / 100 / DEFAULT_FSP_PCT * change
    bends = []
    for cell, per in zip(lines.cells, cells, strict=True):
        strain = _strain(brief, cell, end_pct)
        free = min(strain, _open_joint_mm(brief) / cell.size_mm)
        bend = per.per_block * free + per.per_board * back + per.per_faces * (front - back) + per.per_ribs * along
        if strain > free:
            # the joints have closed: from here on the blocks push as one layer without end
            bend += (strain - free) * _closed_per_strain(brief, cell, ribs, case, board_mpa)
        bends.append(bend)
    layers = [_board_layer(brief, board_mpa, back, front)]
    if ribs is not None:
        layers.insert(0, _rib_layer(ribs, along))
    bends.append(layered_bow(layers, 1.0).curvature_per_mm)
    return np.array(bends)


def _strain(brief: Brief, cell: Cell, end_pct: float) -> float:
    wood = wood_of(brief, brief.blocks.footprints[cell.footprint])
    size_nm = round(cell.size_mm * NM_PER_MM)
    return moved_mm(size_nm, wood, brief.blocks.moisture_laid_pct, end_pct) / cell.size_mm


def _cell(brief: Brief, cell: Cell, ribs: RibLayer | None, case: int, board_mpa: float) -> GluedCell:
    return glued_cell(
        block_mm=cell.size_mm,
        height_mm=cell.height_mm,
        covers=cell.covers,
        block=block_plane(_species_of(brief, cell), KEPT[case]),
        board_mm=brief.backer.thickness_nm / NM_PER_MM,
        board=board_plane(brief.backer.material, board_mpa),
        ribs=ribs,
    )


def _closed_per_strain(brief: Brief, cell: Cell, ribs: RibLayer | None, case: int, board_mpa: float) -> float:
    plane = block_plane(_species_of(brief, cell), KEPT[case])
    layers = [_board_layer(brief, board_mpa, 0.0, 0.0)]
    if ribs is not None:
        layers.insert(0, _rib_layer(ribs, 0.0))
    # per thousandth, so that the strain stays a small one
    layers.append(_layer(cell.height_mm, cell.covers, plane.along_mpa, 1e-3, 1e-3))
    return layered_bow(layers, 1.0).curvature_per_mm / 1e-3


def _board_layer(brief: Brief, board_mpa: float, back: float, front: float) -> Layer:
    return _layer(brief.backer.thickness_nm / NM_PER_MM, 1.0, board_mpa, back, front)


def _rib_layer(ribs: RibLayer, along: float) -> Layer:
    return _layer(ribs.depth_mm, ribs.share, ribs.along_mpa, along, along)


def _layer(thickness_mm: float, width: float, mpa: float, lower: float, upper: float) -> Layer:
    return Layer(thickness_mm=thickness_mm, width_mm=width, modulus_mpa=mpa, lower_strain=lower, upper_strain=upper)


def _held_share(lines: Lines, cells: list[GluedCell], slotted: Slotted | None) -> float:
    """What is left of the bow where ribs in slots hold the leaf straight: they share its bending, not its length."""
    if slotted is None or slotted.way != lines.way or not slotted.count:
        return 1.0
    # the stiffest cell keeps most of its bow
    own = max(cell.stiffness_n_mm for cell in cells) * lines.width_nm / NM_PER_MM
    ribs = RIB_MPA * slotted.count * RIB_WIDTH_NM / NM_PER_MM * (RIB_DEPTH_NM / NM_PER_MM) ** 3 / 12
    return own / (own + ribs)


def _glued_ribs(brief: Brief, lines: Lines) -> RibLayer | None:
    parts = _parts_along(brief, lines)
    if not parts:
        return None
    return RibLayer(
        depth_mm=max(part.depth_nm for part in parts) / NM_PER_MM,
        along_mpa=min(modulus_mpa(part.species, along=True) for part in parts),
        share=min(1.0, sum(part.count * part.width_nm for part in parts) / lines.width_nm),
    )


def _parts_along(brief: Brief, lines: Lines) -> list[BehindPart]:
    """Parts behind that run along the strips over two thirds of them or more."""
    return [
        part
        for part in brief.behind
        if part.upright == (lines.way == "up") and part.length_nm * GLUED_OVER >= lines.span_nm * 2
    ]


def _species_of(brief: Brief, cell: Cell) -> str:
    """The wood of a block's stick; the stiffest where several sticks have that section."""
    section = brief.blocks.footprints[cell.footprint].section
    keys = [stick.species for stick in brief.sticks if stick.name == section] or [brief.blocks.species]
    return max(keys, key=lambda key: block_plane(key).along_mpa)


def _open_joint_mm(brief: Brief) -> float:
    """What is left of a gap when the paint of both sides is in it."""
    return max(0, brief.blocks.gap_nm - 2 * side_build_nm(brief)) / NM_PER_MM


def _ends(brief: Brief) -> tuple[float, float]:
    return brief.blocks.moisture_use_low_pct, brief.blocks.moisture_use_high_pct


def _backer(leaf: Leaf, way: str) -> tuple[int, int, int]:
    if way == "across":
        return leaf.backer_x_nm, leaf.backer_width_nm, leaf.backer_height_nm
    return leaf.backer_y_nm, leaf.backer_height_nm, leaf.backer_width_nm


def _stepped(height_mm: float) -> float:
    steps = round(float(np.log(max(1.0, height_mm)) / np.log(HEIGHT_STEP)))
    return float(HEIGHT_STEP**steps)
