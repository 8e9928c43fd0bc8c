"""What `press` says of wood in its house: movement of blocks, rows and backer, and bow."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class FaceMovement:
    """One size across the grain, with the footprints that have it. Swelling is positive."""

    footprints: tuple[str, ...]
    size_nm: int
    species_row: str  # row of the table of coefficients
    reason: str  # why that row stands for the wood
    column: str
    coefficient_per_pct: float
    fsp_pct: float
    from_memory: bool
    moved_mm: float  # from the saw to the driest day in use
    swells_mm: float  # from the driest it ever is to the dampest
    opens_mm: float  # smaller than when laid, on the driest day
    closes_mm: float  # larger than when laid, on the dampest day


@dataclass(frozen=True, slots=True, kw_only=True)
class YearPart:
    """A stretch of the year in the shop or the room, and what the wood has done by then since it was laid."""

    place: str  # "shop" or "room"
    when: str
    air_degc: float
    humidity_pct: float
    moisture_pct: float
    block_mm: float  # the largest face; swelling is positive
    joint_opens_mm: float  # between two of the largest blocks
    row_against_backer_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class House:
    """Wood in its house: moisture from saw to room, and what moves by how much."""

    faces: tuple[FaceMovement, ...]  # largest size first
    sawn_pct: float
    laid_pct: float
    driest_pct: float
    dampest_pct: float
    driest_humidity_pct: float  # what a hygrometer reads where wood becomes so dry
    use_humidity_pct: float  # the same at the damp end of use
    backer_across_mm: float
    backer_up_mm: float
    row_free_mm: float  # a whole row since it was laid, if nothing held it
    row_against_backer_mm: float  # how much more it wants to move than the backer under it
    joint_opens_mm: float  # between two of the largest blocks since they were laid; minus where it closes
    rested_share: float  # weight of a slice when laid over its weight on the day of sawing
    gap_free_nm: int  # what is left of the gap when the paint of both sides is in it
    outline_across_mm: float  # drift of the whole outline
    outline_up_mm: float
    most_swelling_mm: float
    gap_advice_nm: int
    year: tuple[YearPart, ...]  # shop first; empty where the brief gives moistures and no air
    leaves_out: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class BowStrip:
    """Bow of a leaf along one way, `across` or `up`: least, likely and most rise over the line between its ends."""

    way: str
    span_nm: int
    ribs: int  # that run along it
    least_mm: float
    likely_mm: float
    most_mm: float
    hollow: bool  # the ends come forward, as likely
    risk: str  # low, medium, high


@dataclass(frozen=True, slots=True, kw_only=True)
class BowChange:
    """Something a maker could change, cheapest at rank 0, and what the bow would be then."""

    text: str
    rank: int
    likely_mm: float
    most_mm: float
    risk: str


@dataclass(frozen=True, slots=True, kw_only=True)
class BackerBow:
    """Bow of the largest leaf."""

    strips: tuple[BowStrip, ...]
    worst: BowStrip
    change_pct: float
    changes: tuple[BowChange, ...]
    cheapest: BowChange | None  # the first change that brings the class down; None where it is low or none does
    leaves_out: tuple[str, ...]
