"""What `paint` gives: areas and volumes by shade, the ground, the sanding, the pots."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.checks import Caution, Check


@dataclass(frozen=True, slots=True, kw_only=True)
class ShadePaint:
    """Paint of one shade, over all leaves and copies. `colour_ml` holds all coats and the reserve."""

    shade: str
    blocks: int
    face_mm2: float
    sides_shown_mm2: float
    painted_mm2: float
    colour_ml: float


@dataclass(frozen=True, slots=True, kw_only=True)
class GroundPaint:
    """The backer's own coat: front and edges in the ground colour, the back sealed alike against bow."""

    name: str
    colour_hex: str
    front_mm2: float
    edges_mm2: float
    back_mm2: float
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
class Paint:
    """The paint of the whole job.

    `painted_mm2` is what volumes are bought for; `shown_mm2` what is seen above the neighbours. `basis` says in
    words how the painted share of the sides was taken.
    """

    rows: tuple[ShadePaint, ...]
    painted_mm2: float
    shown_mm2: float
    primer_ml: float
    colour_ml: float
    mean_per_shade_ml: float
    coats: int
    reserve: float
    basis: str
    ground: GroundPaint
    edge_work: EdgeWork
    dry_paint_g_per_leaf: tuple[float, ...]
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]
