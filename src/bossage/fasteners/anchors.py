"""A fixing in a wall that is pulled and sheared at once: which published rule goes with which kind of fixing."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from enum import StrEnum

from bossage.ranges import within


class AnchorKind(StrEnum):
    """What takes hold in the wall."""

    HOLLOW = "hollow"  # a fixing that spreads behind the board of a hollow wall
    PLUG = "plug"  # a plastic plug and its screw in masonry
    METAL = "metal"  # a metal anchor in concrete or solid masonry
    STEEL = "steel"  # a screw in the thin steel of a metal stud


RULES = {
    AnchorKind.HOLLOW: "pull and shear added, each over its own allowable: the straight line that makers of such "
    "fixings give (from memory); no standard covers fixings in wallboard",
    AnchorKind.PLUG: "one allowable for every direction, so the resultant counts: ETAG 020 Annex C (from memory); or "
    "pull and shear added, each over its own allowable: MSJC 1999, anchors in masonry (read as quoted in TMS Journal)",
    AnchorKind.METAL: "three straight lines, together at most 1.2: ACI 318-19 17.8 and ETAG 001 Annex C 5.2.4 (both "
    "read as quoted in makers' design guides)",
    AnchorKind.STEEL: "pull and shear added, each over its own allowable: ours; AISI S100 lets them add up to "
    "more (from memory)",
}
"""The rule in words, with its source, for each kind."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Anchor:
    """What one fixing may carry straight out of the wall and along the wall, factors inside; `pull_n` None: unknown."""

    kind: AnchorKind
    pull_n: float | None
    shear_n: float


@dataclass(frozen=True, slots=True, kw_only=True)
class AnchorUse:
    """Share of what is allowed that a pull and a shear use up together: 1 is the limit. `rule` names the source."""

    pull: float
    shear: float
    both: float
    rule: str


@dataclass(frozen=True, slots=True, kw_only=True)
class UnratedPull:
    """The fixing is pulled, and nobody has said what it holds that way."""

    pull_n: float
    reason: str


def anchor_use(anchor: Anchor, pull_n: float, shear_n: float) -> AnchorUse | UnratedPull:
    """How far a pull and a shear together use up one fixing.

    Args:
        anchor: Its allowables.
        pull_n: Demand straight out of the wall, 0 N or more.
        shear_n: Demand along the wall, 0 N or more.

    Returns:
        The three shares, or that the pull has no figure to be held against.

    Raises:
        OutOfRange: A demand is negative, or an allowable is not above 0.

    Leaves out:
        Bending of a screw that stands off the wall, edges and groups: the allowables have to be those of the place.

    Source:
        `RULES`, by the kind of fixing.
    """
    T = within("Pull", pull_n, 0, 1e15, "N")
    V = within("Shear", shear_n, 0, 1e15, "N")
    shear = V / within("Allowable shear", anchor.shear_n, 1e-9, 1e9, "N")
    if anchor.pull_n is None:
        if T > 0:
            return UnratedPull(
                pull_n=T,
                reason="The fixing is pulled out of the wall, and its sheet or packet was given for shear alone.",
            )
        return AnchorUse(pull=0.0, shear=shear, both=shear, rule=RULES[anchor.kind])
    pull = T / within("Allowable pull", anchor.pull_n, 1e-9, 1e9, "N")
    return AnchorUse(pull=pull, shear=shear, both=_BOTH[anchor.kind](pull, shear, anchor), rule=RULES[anchor.kind])


def _straight(pull: float, shear: float, anchor: Anchor) -> float:
    return pull + shear


def _any_direction(pull: float, shear: float, anchor: Anchor) -> float:
    """Each of the two rules holds by itself, so that the kinder one counts.

    ETAG 020 knows one allowable: of two that differ the lesser is taken for it.
    """
    assert anchor.pull_n is not None
    one = min(anchor.pull_n, anchor.shear_n)
    return min(math.hypot(pull * anchor.pull_n, shear * anchor.shear_n) / one, pull + shear)


def _three_lines(pull: float, shear: float, anchor: Anchor) -> float:
    # a side of 0.2 or less counts for nothing beside the other, which is what this comes to
    return max(pull, shear, (pull + shear) / 1.2)


_BOTH: dict[AnchorKind, Callable[[float, float, Anchor], float]] = {
    AnchorKind.HOLLOW: _straight,
    AnchorKind.PLUG: _any_direction,
    AnchorKind.METAL: _three_lines,
    AnchorKind.STEEL: _straight,
}
