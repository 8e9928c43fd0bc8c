"""What is measured, tried and loaded at the wall half of a cleat, as records."""

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
