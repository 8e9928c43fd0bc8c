"""Fixings in the wall, and what is measured, tried and loaded at the wall half of a cleat, as records."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.fasteners.wall_lengths import WallScrew


@dataclass(frozen=True, slots=True, kw_only=True)
class OtherLining:
    """Another thickness of what covers the studs, and the screw that holds under it, with its drill; 0: its packet."""

    lining_nm: int
    screw: WallScrew
    drill_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class InStuds:
    """What is measured at studs. `deep_nm`: from a stud's face to the tip of a screw, `most_nm` the most; None: any."""

    lining_nm: int
    deep_nm: int
    most_nm: int | None
    others: tuple[OtherLining, ...]
    follow_nm: int  # a screw follows its stud so far to either side of the planned place
    edge_nm: int  # from a screw to the side of its stud, at least


@dataclass(frozen=True, slots=True, kw_only=True)
class ProofLoad:
    """What a wall half is tried with: weights on each of its pieces, left to right; a pull straight out, as a mass.

    `pull_g` is None where the weights themselves push the wall half out, over a bevel.
    """

    weights_g: tuple[float, ...]
    pull_g: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TrialBattens:
    """Battens on a loose panel half, from which the weights of the trial hang; upper ends flush with its upper edge."""

    thick_nm: int
    wide_nm: int  # at most
    long_nm: int  # at most, where they hang before something
    sunk_nm: int  # how deep the screw's head is sunk in it
    up_nm: int  # of its screw, over the sharp edge of the panel half
    below_top_nm: int  # of its screw, under the upper edge
    hole_up_nm: int  # from its lower end to the hole of its rope
    places_nm: tuple[tuple[int, ...], ...]  # of each panel half, from its left end, seen from the glue face
    before: tuple[str, ...]  # fixtures that they hang before; none where all hang clear


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingPoint:
    """Where one fixing goes into the wall. `load_share` is its part of the leaf's weight.

    `shear_n` is what it carries along the wall, `pull_n` what draws it straight out; in the post of a leaf that swings
    both are of the angle that works this fixing hardest. `clear_nm` is from its middle to
    the nearest zone that binds it, None where there is none; `depth_in_stud_mm` how deep its tip lies in the stud,
    None where there is no stud. `beside_nm`: how far it stands beside the middle of its stud, right plus.
    """

    x_nm: int  # from the left corner
    y_nm: int  # from the floor
    from_leaf_left_nm: int
    into: str  # "stud", "metal stud", "masonry", "wallboard"
    load_share: float
    pull_n: float
    shear_n: float
    clear_nm: int | None
    depth_in_stud_mm: float | None
    beside_nm: int = 0

    @property
    def line_nm(self) -> int:
        """The middle of its stud; its own place where it stands in none, or on that line."""
        return self.x_nm - self.beside_nm


@dataclass(frozen=True, slots=True, kw_only=True)
class WallHoles:
    """What is drilled for one wall screw. `depth_mm` is that in the masonry itself, or in the stud itself."""

    into: str  # "masonry" or "stud"
    clearance_hole_mm: float  # through the wall half or hinge post
    drill_mm: float
    depth_mm: float
    plug_mm: float  # length of the plug
    reach_mm: float = 0.0  # of the screw's tip behind the face of the wall
    plaster_mm: tuple[float, float] = (0.0, 0.0)  # least and most for which that hole and that screw do
