"""Factors that turn a reference value into an allowable one, and the rules of placing: NDS 2018."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bossage.ranges import within

END_GRAIN_LATERAL = 0.67
"""C_eg sideways in end grain, NDS 2018 12.5.2.2 (read in a public transcription)."""

END_GRAIN_LAG_WITHDRAWAL = 0.75
"""C_eg of a lag screw drawn out of end grain, NDS 2018 12.2 (read). Wood screws and nails: not permitted."""

WET_SERVICE = 0.7
"""C_M of screws in service above 19 % moisture, NDS 2018 Table 11.3.3 (read in a public transcription)."""

WET_FROM_PCT = 19.0
"""Moisture in service from which wood counts as wet: the NDS says above 19 %; that 19 % itself counts is ours."""

FULL_PENETRATION_DIAMETERS = 10.0
"""Penetration that the printed wood screw values assume, NDS 2018 Table 12L."""

LEAST_PENETRATION_DIAMETERS = 6.0
"""Least penetration of a wood screw loaded sideways, tip included, NDS 2018 12.1.5.6 (read). Lag screws: 4."""

LEAST_PENETRATION_LAG_DIAMETERS = 4.0
"""Least penetration of a lag screw loaded sideways, tip included, NDS 2018 12.1.4.6 (read)."""


class LoadDuration(StrEnum):
    """How long a load acts in all."""

    PERMANENT = "permanent"
    TEN_YEARS = "ten_years"
    TWO_MONTHS = "two_months"
    SEVEN_DAYS = "seven_days"
    TEN_MINUTES = "ten_minutes"


_LOAD_DURATION = {
    LoadDuration.PERMANENT: 0.9,
    LoadDuration.TEN_YEARS: 1.0,
    LoadDuration.TWO_MONTHS: 1.15,
    LoadDuration.SEVEN_DAYS: 1.25,
    LoadDuration.TEN_MINUTES: 1.6,
}


def load_duration_factor(duration: LoadDuration) -> float:
    """C_D of NDS 2018 Table 2.3.2; impact is left out because 11.3.2 does not allow more than 1.6 in a connection."""
    return _LOAD_DURATION[duration]


def wet_service_factor(service_pct: float) -> float:
    """C_M of a screw: 0.7 where the wood's moisture in service reaches 19 %, else 1.

    Args:
        service_pct: The dampest that the wood gets in use, 0 to 40 %.

    Returns:
        The factor, for withdrawal and for lateral values alike.

    Raises:
        OutOfRange: The moisture lies outside its range.

    Leaves out:
        Screws driven into green wood that dries in service, which the NDS lowers as well (0.4 sideways).

    Source:
        NDS 2018 Table 11.3.3 (read in a public transcription).
    """
    return WET_SERVICE if within("Moisture in service", service_pct, 0, 40, "%") >= WET_FROM_PCT else 1.0


def penetration_factor(penetration_mm: float, diameter_mm: float) -> float:
    """Share of the full lateral value of a wood screw or nail that goes less than ten diameters deep.

    Args:
        penetration_mm: Depth in the member that holds the tip, tip included, 6 diameters or more.
        diameter_mm: Shank diameter, 1 to 12 mm.

    Returns:
        p/10D, at most 1.

    Raises:
        OutOfRange: Less than six diameters deep: the NDS then gives no lateral value at all.

    Leaves out:
        Lag screws, whose printed values assume eight diameters.

    Source:
        NDS 2018 12.1.5.6 and the footnotes of Table 12L (six diameters read, ten from memory).
    """
    D = within("Screw diameter", diameter_mm, 1, 12, "mm")
    least_mm = LEAST_PENETRATION_DIAMETERS * D
    hint = f"Use a screw that is at least {max(0.0, least_mm - penetration_mm):.1f} mm longer, or a thinner one."
    p = within("Penetration into the holding member", penetration_mm, least_mm, 1e4, "mm", hint)
    return min(1.0, p / (FULL_PENETRATION_DIAMETERS * D))


@dataclass(frozen=True, slots=True, kw_only=True)
class Placing:
    """Least distances of a screw, mm, so that the wood does not split."""

    edge_mm: float
    end_mm: float
    along_grain_mm: float
    across_grain_mm: float
    source: str


def least_placing(diameter_mm: float, prebored: bool) -> Placing:
    """Edge and end distance and spacing for screws and nails under 1/4 in.

    Args:
        diameter_mm: Shank diameter, 1 to 6.35 mm.
        prebored: Whether a lead hole is drilled, which lets the lengthwise distances come down.

    Returns:
        The least distances.

    Raises:
        OutOfRange: The screw is thicker than 1/4 in.

    Leaves out:
        Brittle or thin wood: the standard itself only asks for enough to prevent splitting.

    Source:
        NDS 2018 12.1.5.7 (rule read); the figures are those of its commentary (from memory).
    """
    D = within("Screw diameter", diameter_mm, 1, 6.35, "mm")
    lengthwise = 10 * D if prebored else 15 * D
    return Placing(
        edge_mm=2.5 * D,
        end_mm=lengthwise,
        along_grain_mm=lengthwise,
        across_grain_mm=5 * D,
        source="NDS 2018 12.1.5.7, commentary figures (from memory)",
    )
