"""What `press` says of the ways to press: the caul, screws from behind, and the methods side by side."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Caul:
    """The caul for the longest row, its clamps and the pressure that they give."""

    length_nm: int
    breadth_nm: int
    depth_nm: int  # on edge
    clamps: int  # used on one row
    end_in_nm: int  # the outermost clamps sit so far from its ends
    spacing_nm: int  # from clamp to clamp
    sag_nm: int  # out of the straight line, clamps in their places
    end_clamped_sag_nm: int  # the same with the outermost clamps at its very ends
    end_depth_nm: int  # of a caul that is clamped at its ends alone
    camber_nm: int  # by which that one is fuller in the middle, so that it presses evenly
    reach_wanted_nm: int
    rows_out_of_reach: int
    opening_wanted_nm: int  # of the clamps, pad to pad: caul or cauls, highest block, backer, its back
    pressure_mpa: float
    wanted_mpa: tuple[float, float]
    clamps_for_wanted: int
    bond_margin: float


@dataclass(frozen=True, slots=True, kw_only=True)
class ScrewFit:
    """A screw from behind into one level: the longest usual length that cannot come through, if it bites enough."""

    level_nm: int
    blocks: int
    length_nm: int | None
    bite_nm: int  # in the block
    short_of_face_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class PressMethod:
    """One way to press the whole job. Hours of preparing (shims, holes, bags) stand apart from those at the glue."""

    name: str  # row by row, several sets, face down, bags, screws
    title: str
    elapsed_h: float
    attended_h: float
    prepare_h: float
    presses: int  # closings of the clamps, or leaves put down
    shims: int
    clamps: int
    cauls: int
    weights_g: float
    screws: int
    pressure_mpa: float  # 0 where nothing is pressed
    has_means: bool
    missing: tuple[str, ...]
    risks: tuple[str, ...]
    advised: bool
    why: str
    chosen: bool = False  # the cards, the shims and the calendar are for this one

    @property
    def rank_h(self) -> float:
        """Hours that decide which is advised: waiting counts a quarter of working."""
        return self.prepare_h + self.attended_h + (self.elapsed_h - self.attended_h) / 4
