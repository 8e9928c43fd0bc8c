"""What `paint` gives: areas and volumes by shade, the ground, the sanding, the pots."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.checks import Caution, Check
from bossage.colour.pots import OnePot
from bossage.colour.recipes import Recipe
from bossage.paint.days import PaintDays
from bossage.paint.way_records import FaceCoat, GroundWay, PaintWay, StainFamily, Tins


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadePaint:
    """Paint of one shade, over all leaves and copies. `colour_ml` holds all coats of its blocks and the reserve,
    `extra_ml` two spares for the blocking test and what a family's pot loses."""

    shade: str
    blocks: int
    face_mm2: float
    sides_shown_mm2: float
    painted_mm2: float
    colour_ml: float
    extra_ml: float = 0.0

    @property
    def mix_ml(self) -> float:
        """What is mixed or bought of it."""
        return self.colour_ml + self.extra_ml


@dataclass(frozen=True, slots=True, kw_only=True)
class CountedPaint:
    """What the paint would come to by the maker's own share of the sides (`paint.side_share`), to hold beside the rest.

    Ring blocks count up to their level. Volumes hold all coats and the reserve, and nothing that a tool keeps.
    """

    share: float
    painted_mm2: float
    primer_ml: float
    colour_ml: float
    mean_per_shade_ml: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundPaint:
    """The backer's own coat: its front where the ground shows and its edges; the back sealed alike against bow.

    `front_mm2` is what the chosen way colours of the front, `strips_mm2` of the edge strips' fronts. Where the front is
    dyed, `dye_ml` holds one coat on both; `colour_ml` is paint: edges, and what is not dyed. Both hold the reserve.
    What is sawn out of the backer is neither front nor back; its edges are in `edges_mm2`.
    """

    name: str
    colour_hex: str
    way: str
    front_mm2: float
    edges_mm2: float  # round the backers and in their openings
    openings_mm2: float  # of that, in the openings
    shows_mm2: float  # of the front, where no block stands before it
    shows_share: float  # of all leaves' faces
    back_mm2: float
    wall_half_mm2: float  # of the wall half's face, behind openings of the backer
    strips_mm2: float
    ring_backs_mm2: float  # bare end grain past the strips, primed once the ring has cured
    behind_mm2: float  # sides of the parts on the back, backs of outer blocks past the backer: sealed with it
    dye_ml: float
    colour_ml: float
    seal_ml: float


@dataclass(frozen=True, slots=True, kw_only=True)
class EdgeWork:
    """Breaking edges and sanding, before any paint."""

    blocks: int
    front_edges: int
    front_edges_mm: float
    grits: tuple[int, ...]
    minutes: float


@dataclass(frozen=True, slots=True, kw_only=True)
class FamilyPots:
    """How the shades of one family are mixed from its base and tinters, at what can be measured.

    `one_pot` is None where there are several tinters or no order of additions can be measured out; `why` then says so.
    """

    family: str
    tinters: tuple[str, ...]
    base_g_per_ml: float | None
    tinter_g_per_ml: tuple[float | None, ...]
    resolution_ml: float
    recipes: tuple[Recipe, ...]  # a pot for each shade
    one_pot: OnePot | None
    smallest_separate_ml: float  # exact, before rounding
    worst_separate_de: float
    worst_one_pot_de: float | None
    one_pot_advised: bool
    guessed: tuple[str, ...]  # tinters without a test card: their ratios are a first guess
    mixed: bool  # the pots stand there already; recipes tell how to mix more of the same
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Paint:
    """The paint of the whole job.

    `painted_mm2` is all wood of blocks under paint, in its shade (`rows`) or in the ground's colour (`side_mm2`);
    `shown_mm2` what is seen above the neighbours. `basis` says in words how the sides were counted. Volumes hold all
    coats and the reserve.
    """

    rows: tuple[ShadePaint, ...]
    painted_mm2: float
    shown_mm2: float
    side_mm2: float
    primer_ml: float
    colour_ml: float  # of all shades
    side_ml: float  # of the ground's colour, on sides
    topcoat_ml: float
    mean_per_shade_ml: float
    coats: int  # of colour, or the most of a clear finish
    days: PaintDays  # every round of the work with paint, as they follow one another
    reserve: float
    basis: str
    counted: CountedPaint | None  # None where the brief has no count of its own
    ground: GroundPaint
    ways: tuple[PaintWay, ...]
    ground_ways: tuple[GroundWay, ...]
    glue_field_mm2: NDArray[np.float64]  # by block: bare wood of the backer under it; 0 for a ring block
    face_coats: tuple[FaceCoat, ...]
    buy: tuple[Tins, ...]
    edge_work: EdgeWork
    pots: tuple[FamilyPots, ...]  # of families with a base and a tinter
    stains: tuple[StainFamily, ...]  # of families with a clear finish
    dry_paint_g_per_leaf: tuple[float, ...]
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]

    @property
    def way(self) -> PaintWay:
        """The way that amounts and papers are for."""
        return next(way for way in self.ways if way.chosen)

    @property
    def ground_way(self) -> GroundWay:
        """The way in which the backer's front gets its colour."""
        return next(way for way in self.ground_ways if way.chosen)
