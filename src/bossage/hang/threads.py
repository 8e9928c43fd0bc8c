"""What the thread of one screw holds in the part that receives it: metric screws by EN and DIN, others by the NDS."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.errors import BossageError
from bossage.fasteners import (
    Bite,
    allowed_share,
    bite,
    metric_allowable_n,
    metric_screw,
    metric_screws,
    panel_share,
    screw_gauges,
    wood_screw,
    wood_screw_withdrawal_n_per_mm,
)
from bossage.fasteners.lengths import SOLD_NM
from bossage.hang.case import DURATION, gravity_of, product
from bossage.hang.records import Factor
from bossage.timber import species_or_board
from bossage.units import NM_PER_MM

NDS = "NDS 2018 Eq. 12.2-2 (read); tip and least depth: `fasteners.thread`"
METRIC = "EN 1995-1-1 8.7.2 and DIN 1052:2008 12.8.2 (from memory); tip and least depth: `fasteners.thread`"
CHIPS_AND_FIBRES = ("osb", "mdf", "particleboard")

DENSEST_KG_M3 = 840.0
"""Denser wood counts as this, the densest that the characteristic values cover."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Shank:
    """A screw as it is sold, metric or numbered, mm."""

    name: str
    shank_mm: float
    root_mm: float
    head_mm: float
    lengths_nm: tuple[int, ...]
    metric: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """What one thread holds, its factors inside."""

    allowable_n: float
    factors: tuple[Factor, ...]
    source: str


def shank_of(gauge: str) -> Shank:
    """The screw that a brief names: `#8`, or `4 mm`.

    Raises:
        BossageError: No such screw is on the shelf.
    """
    if gauge.startswith("#"):
        screw = wood_screw(int(gauge[1:]))
        return Shank(
            name=gauge,
            shank_mm=screw.shank_mm,
            root_mm=screw.root_mm,
            head_mm=screw.head_mm,
            lengths_nm=SOLD_NM["in"],
            metric=False,
        )
    sold = metric_screw(float(gauge.removesuffix("mm").strip()))
    return Shank(
        name=gauge,
        shank_mm=sold.diameter_mm,
        root_mm=sold.core_mm,
        head_mm=sold.head_mm,
        lengths_nm=tuple(round(length * NM_PER_MM) for length in sold.lengths_mm),
        metric=True,
    )


def shank_or_reason(gauge: str) -> Shank | str:
    """The screw, or in words why nothing is known of it."""
    try:
        return shank_of(gauge)
    except BossageError as error:
        return str(error)


def thinner_than(gauge: str) -> tuple[str, ...]:
    """Thinner screws of the same shelf, thickest first."""
    shank = shank_or_reason(gauge)
    if isinstance(shank, str):
        return ()
    if shank.metric:
        sizes = [screw.diameter_mm for screw in metric_screws() if screw.diameter_mm < shank.shank_mm]
        return tuple(f"{size:g} mm" for size in reversed(sizes))
    number = int(gauge[1:])
    # odd numbers have all but gone from the shelf; common practice, no source
    return tuple(f"#{n}" for n in reversed(screw_gauges()) if n < number and n % 2 == 0)


def bite_of(shank: Shank, length_nm: int, through_nm: int, receiving_nm: int) -> Bite:
    """Thread of that screw in the part that receives it; `OutOfRange` where the science covers no such screw."""
    return bite(length_nm / NM_PER_MM, shank.shank_mm, through_nm / NM_PER_MM, receiving_nm / NM_PER_MM)


def held_by(shank: Shank, material: str, found: Bite, service: tuple[Factor, ...] = ()) -> Held:
    """Allowable pull of one thread in a wood or board for a load that never leaves; 0 where it does not go deep enough.

    Args:
        shank: The screw.
        material: Key of the wood or board that the thread bites in.
        found: How much of the thread lies there.
        service: Factors of the place beyond load duration, as damp.

    Raises:
        OutOfRange: The screw or the wood lies outside what the source covers.

    Source:
        `NDS`, `METRIC`; plywood holds the share that `fasteners.panels` states. For boards of chips and fibres no
        equation of metric screws was made, so that there the lesser of both counts.
    """
    more, share = service, panel_share(plywood=material.startswith("plywood"))
    if share < 1:
        more += (Factor(name="plywood", value=share, source="ours, `fasteners.panels`"),)
    holds_mm = found.holds_mm if found.enough else 0.0
    each = wood_screw_withdrawal_n_per_mm(gravity_of(material), shank.shank_mm)
    by_nds = Held(
        allowable_n=each * max(0.0, holds_mm) * product((DURATION, *more)), factors=(DURATION, *more), source=NDS
    )
    if not shank.metric:
        return by_nds
    lasting = Factor(
        name="k_mod over partial factors, permanent load",
        value=allowed_share(material),
        source="EN 1995-1-1 and EN 1990, from memory",
    )
    whole = 0.0
    if holds_mm > 0:
        density = min(DENSEST_KG_M3, species_or_board(material).density_12pct_kg_m3)
        whole = metric_allowable_n(shank.shank_mm, max(1.0, holds_mm), density, material=material) * min(1.0, holds_mm)
    by_en = Held(allowable_n=whole * product(more), factors=(lasting, *more), source=METRIC)
    if material in CHIPS_AND_FIBRES:
        return min(by_en, by_nds, key=lambda held: held.allowable_n)
    return by_en
