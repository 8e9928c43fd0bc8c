"""How far each strip of a leaf bows with its blocks on.

Every block with the board under it is a cell (`timber.glued_cell`); its curvature times its size turns the strip, and
the turns of a strip add up to its rise. What the board does by itself, one face damper than the other, comes on top.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from bossage.brief.records import Brief
from bossage.press.house import backer_expansion_per_pct, moved_mm, side_build_nm, wood_of
from bossage.press.ribs import RIB_MPA, RIB_WIDTH_NM
from bossage.press.strips import Cell, Lines
from bossage.press.wood_records import BowStrip
from bossage.timber import (
    GluedCell,
    Layer,
    Plane,
    RibLayer,
    block_plane,
    board,
    board_keys,
    board_plane,
    glued_cell,
    layered_bow,
    strip_moduli_mpa,
    strip_rise_mm,
)
from bossage.timber.movement import DEFAULT_FSP_PCT, LONGITUDINAL_SHRINKAGE_PCT
from bossage.units import NM_PER_MM

if TYPE_CHECKING:
    import numpy.typing as npt

    Floats = npt.NDArray[np.float64]

UNEVEN = {0: (0.0, 0.2, 0.5), 1: (0.25, 0.5, 1.0), 2: (0.0, 0.1, 0.25)}
"""How much less one face of the board follows the room than the other, by sealed faces: least, likely, most. Ours. Two
bare faces differ because blocks cover one of them, two sealed ones by the luck of the brush."""

KEPT = (0.3, 0.6, 1.0)
"""Share of the blocks' stiffness that is left when they have dried: softest, likely, full elastic case. Ours: wood that
is held back while its moisture changes gives way (mechano-sorptive creep), by a half and more across the grain."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Slotted:
    """Ribs in slots: they hold the leaf straight and do not hold its length."""

    way: str = ""
    count: int = 0
    depth_nm: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class Bends:
    """How every strip of a leaf rises along one way, before ribs in slots hold it straight.

    By case (softest, likely, full elastic), by end of the room's range, by the face of the board that is held back, by
    strip. `stiffest_n_mm` is that of the stiffest cell, by case, per mm of width.
    """

    lines: Lines
    rises_mm: Floats
    stiffest_n_mm: tuple[float, ...]
    glued_ribs: int


def bends_of(brief: Brief, lines: Lines) -> Bends:
    """Every strip of a leaf along one way, bent as far as its blocks and its board want."""
    strains = _strains(brief, lines)
    cases = [_case(brief, lines, case) for case in range(len(KEPT))]
    bends = np.array([_curvatures(brief, lines, case, strains) for case in cases])
    return Bends(
        lines=lines,
        rises_mm=strip_rise_mm(lines.lengths_mm, bends[..., lines.parts]),
        stiffest_n_mm=tuple(max(cell.stiffness_n_mm for cell in case.cells) for case in cases),
        glued_ribs=len(lines.ribs),
    )


def bow_of(bends: Bends, slotted: Slotted | None = None) -> BowStrip:
    """Bow along one way: mean of all strips where they are softest and where they are likely, the worst strip of all.

    Positive bulges into the room; the record gives sizes without the sign, and the way it goes by `hollow`.
    """
    lines = bends.lines
    held = [_held_share(lines, stiffest, slotted) for stiffest in bends.stiffest_n_mm]
    rises = bends.rises_mm * np.array(held).reshape(-1, 1, 1, 1)
    mean = np.average(rises, axis=-1, weights=lines.widths_mm)
    by_end = np.abs(mean[1]).max(axis=1)
    end = int(by_end.argmax())
    softest = mean[0][end]
    least = 0.0 if softest.min() * softest.max() < 0 else float(np.abs(softest).min())
    likely = float(by_end[end])
    return BowStrip(
        way=lines.way,
        span_nm=lines.span_nm,
        ribs=bends.glued_ribs,
        least_mm=min(least, likely),
        likely_mm=likely,
        most_mm=max(float(np.abs(rises).max()), likely),
        hollow=bool(mean[1][end][int(np.abs(mean[1][end]).argmax())] < 0),
        risk="",
    )


def change_pct(brief: Brief) -> float:
    """The larger change of moisture from the day of gluing to an end of the room's range."""
    return max(abs(end - brief.blocks.moisture_laid_pct) for end in _ends(brief))


@dataclass(frozen=True, slots=True, kw_only=True)
class _Case:
    """How stiff all is in one of the three cases, and what every kind of cell does then."""

    uneven: float
    board_mpa: float
    ribs: tuple[RibLayer, ...]
    planes: dict[int, Plane]  # by footprint
    cells: list[GluedCell]


def _case(brief: Brief, lines: Lines, number: int) -> _Case:
    board_mpa = strip_moduli_mpa(brief.backer.material)[2 - number]
    backer = board_plane(brief.backer.material, board_mpa)
    ribs = _rib_layers(lines, number)
    planes = {of: block_plane(_species_of(brief, of), KEPT[number]) for of in {cell.footprint for cell in lines.cells}}
    return _Case(
        uneven=UNEVEN[brief.backer.sealed_faces][number],
        board_mpa=board_mpa,
        ribs=ribs,
        planes=planes,
        cells=[
            glued_cell(
                block_mm=cell.size_mm,
                height_mm=cell.height_mm,
                covers=cell.covers,
                block=planes[cell.footprint],
                board_mm=brief.backer.thickness_nm / NM_PER_MM,
                board=backer,
                ribs=ribs,
            )
            for cell in lines.cells
        ],
    )


def _curvatures(brief: Brief, lines: Lines, case: _Case, strains: Floats) -> Floats:
    """Curvature of every kind of cell, and of the bare board at the end, so that `BARE` finds it.

    By end of the room's range, by the face of the board that is held back, by cell.
    """
    open_joint = _open_joint_mm(brief) / np.array([cell.size_mm for cell in lines.cells])
    per_block, per_board, per_faces = np.array([(per.per_block, per.per_board, per.per_faces) for per in case.cells]).T
    per_ribs = np.array([per.per_ribs for per in case.cells])
    rib_expansions = [_expansion_per_pct(part.material) for part in lines.ribs]
    free = np.minimum(strains, open_joint)
    by_blocks = per_block * free
    # where the joints have closed, from there on the blocks push as one layer without end
    for e, k in np.argwhere(strains > open_joint):
        by_blocks[e, k] += (strains[e, k] - free[e, k]) * _closed_per_strain(brief, lines.cells[k], case)
    bends = np.zeros((2, 2, len(lines.cells) + 1))
    for e, end_pct in enumerate(_ends(brief)):
        change = end_pct - brief.blocks.moisture_laid_pct
        full = backer_expansion_per_pct(brief) * change
        held = full * (1 - case.uneven)
        along = [expansion * change for expansion in rib_expansions]
        for f, (front, back) in enumerate(((full, held), (held, full))):
            bends[e, f, :-1] = by_blocks[e] + per_board * back + per_faces * (front - back) + per_ribs @ along
            bare = [_board_layer(brief, case, back, front), *_behind(case.ribs, along)]
            bends[e, f, -1] = layered_bow(bare, 1.0).curvature_per_mm
    return bends


def _strains(brief: Brief, lines: Lines) -> Floats:
    """What every kind of cell would swell by, by end of the room's range."""
    laid = brief.blocks.moisture_laid_pct
    by_size: dict[tuple[int, int], list[float]] = {}
    for cell in lines.cells:
        key = cell.footprint, cell.size_nm
        if key not in by_size:
            wood = wood_of(brief, brief.blocks.footprints[cell.footprint])
            by_size[key] = [moved_mm(cell.size_nm, wood, laid, end) / cell.size_mm for end in _ends(brief)]
    return np.array([by_size[cell.footprint, cell.size_nm] for cell in lines.cells]).T


def _closed_per_strain(brief: Brief, cell: Cell, case: _Case) -> float:
    blocks = _layer(cell.height_mm, cell.covers, case.planes[cell.footprint].along_mpa, 1e-3, 1e-3)
    layers = [_board_layer(brief, case, 0.0, 0.0), blocks, *_behind(case.ribs, [0.0] * len(case.ribs))]
    # per thousandth, so that the strain stays a small one
    return layered_bow(layers, 1.0).curvature_per_mm / 1e-3


def _board_layer(brief: Brief, case: _Case, back: float, front: float) -> Layer:
    return _layer(brief.backer.thickness_nm / NM_PER_MM, 1.0, case.board_mpa, back, front)


def _behind(ribs: tuple[RibLayer, ...], along: list[float]) -> list[Layer]:
    """Ribs as layers of a strip whose board begins at 0."""
    return [
        _layer(rib.depth_mm, rib.share, rib.along_mpa, swollen, swollen, base=-rib.off_mm - rib.depth_mm)
        for rib, swollen in zip(ribs, along, strict=True)
    ]


def _layer(
    thickness_mm: float, width: float, mpa: float, lower: float, upper: float, base: float | None = None
) -> Layer:
    return Layer(
        thickness_mm=thickness_mm,
        width_mm=width,
        modulus_mpa=mpa,
        lower_strain=lower,
        upper_strain=upper,
        base_mm=base,
    )


def _held_share(lines: Lines, stiffest_n_mm: float, slotted: Slotted | None) -> float:
    """What is left of the bow where ribs in slots hold the leaf straight: they share its bending, not its length."""
    if slotted is None or slotted.way != lines.way or not slotted.count:
        return 1.0
    # the stiffest cell keeps most of its bow
    own = stiffest_n_mm * lines.width_nm / NM_PER_MM
    ribs = RIB_MPA * slotted.count * RIB_WIDTH_NM / NM_PER_MM * (slotted.depth_nm / NM_PER_MM) ** 3 / 12
    return own / (own + ribs)


def _rib_layers(lines: Lines, number: int) -> tuple[RibLayer, ...]:
    """The parts that run along the strips as layers; of a board whose way is not known the modulus of that case."""
    return tuple(
        RibLayer(
            depth_mm=(part.deep_nm - part.near_nm) / NM_PER_MM,
            along_mpa=strip_moduli_mpa(part.material)[2 - number],
            share=min(1.0, part.width_nm / lines.width_nm),
            off_mm=part.near_nm / NM_PER_MM,
        )
        for part in lines.ribs
    )


def _expansion_per_pct(material: str) -> float:
    """Movement of a part along its length: that of a board in its plane, that of wood along its grain."""
    if material in board_keys():
        return board(material).expansion_per_pct
    return LONGITUDINAL_SHRINKAGE_PCT / 100 / DEFAULT_FSP_PCT


def _species_of(brief: Brief, footprint: int) -> str:
    """The wood of a block's stick; the stiffest where several sticks have that section."""
    section = brief.blocks.footprints[footprint].section
    keys = [stick.species for stick in brief.sticks if stick.name == section] or [brief.blocks.species]
    return max(keys, key=lambda key: block_plane(key).along_mpa)


def _open_joint_mm(brief: Brief) -> float:
    """What is left of a gap when the paint of both sides is in it."""
    return max(0, brief.blocks.gap_nm - 2 * side_build_nm(brief)) / NM_PER_MM


def _ends(brief: Brief) -> tuple[float, float]:
    return brief.blocks.moisture_use_low_pct, brief.blocks.moisture_use_high_pct
