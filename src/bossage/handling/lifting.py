"""How much one person should lift: the revised NIOSH lifting equation.

NIOSH, 'Applications Manual for the Revised NIOSH Lifting Equation', DHHS (NIOSH) 94-110 (1994, revised 2021), read
through transcriptions. Its metric and US forms are not exact conversions of each other (51 lb is 23.13 kg): a plan
computes in one of them from end to end. H, V, D, A and the multipliers keep the manual's letters.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import ROUND_HALF_UP, Decimal
from enum import StrEnum

from bossage.ranges import within
from bossage.tables import table_rows
from bossage.units import G_PER_LB

TEAM_SHARE = {1: 1.0, 2: 2 / 3}
"""What a team can do over the sum of what each can, as an approximate guide: HSE L23 (2004), paragraph 120."""

LEAVES_OUT = (
    "lifting or lowering with one hand, seated, kneeling, or where there is no room to stand upright",
    "lifting for more than eight hours, fast or jerky lifts, and loads that shift in the hands",
    "slippery or sloping floors, ladders, and heat or cold",
    "two people on one load: together they count for two thirds of the sum of both (HSE L23), as one bears more",
    "carrying, pushing and pulling on the way",
)
"""What the equation does not cover; printed beside every recommended weight (from memory, in our words)."""


class Coupling(StrEnum):
    """How well the hands hold the load; a large flat board without handles is poor, or fair with finger slots."""

    GOOD = "good"
    FAIR = "fair"
    POOR = "poor"


class System(StrEnum):
    """The two printed forms of the equation."""

    METRIC = "metric"
    US = "us"


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift:
    """One evaluated end of a lift: the six multipliers and the recommended weight limit."""

    system: System
    HM: float
    VM: float
    DM: float
    AM: float
    FM: float
    CM: float
    recommended_g: float
    leaves_out: tuple[str, ...] = LEAVES_OUT

    @property
    def recommended_lb(self) -> float:
        """The recommended weight limit in pounds."""
        return self.recommended_g / G_PER_LB

    @property
    def recommended_kg(self) -> float:
        """The recommended weight limit in kilograms."""
        return self.recommended_g / 1000


@dataclass(frozen=True, slots=True, kw_only=True)
class _Form:
    """Constants of one printed form: lengths in its unit, the load constant in grams."""

    unit: str
    load_g: float
    reach_least: float
    reach_most: float
    knuckle: float
    per_height: float
    height_most: float
    travel_part: float
    travel_least: float
    travel_most: float
    printed_reach: dict[float, float]
    printed_travel: dict[float, float]


_FORMS = {
    System.METRIC: _Form(
        unit="cm",
        load_g=23_000,
        reach_least=25,
        reach_most=63,
        knuckle=75,
        per_height=0.003,
        height_most=175,
        travel_part=4.5,
        travel_least=25,
        travel_most=175,
        printed_reach={},
        printed_travel={130: 0.86},
    ),
    System.US: _Form(
        unit="in",
        load_g=51 * G_PER_LB,
        reach_least=10,
        reach_most=25,
        knuckle=30,
        per_height=0.0075,
        height_most=70,
        travel_part=1.8,
        travel_least=10,
        travel_most=70,
        printed_reach={22: 0.46, 23: 0.44},
        printed_travel={},
    ),
}


def lift_metric(
    *,
    H_cm: float,
    V_cm: float,
    D_cm: float,
    A_deg: float,
    FM: float,
    coupling: Coupling,
    as_printed: bool = False,
) -> Lift:
    """Recommended weight limit by the metric form, load constant 23 kg.

    Args:
        H_cm: Hands in front of the ankles, 0 to 200 cm. Under 25 counts as 25; above 63 nothing may be lifted.
        V_cm: Hands above the floor, 0 to 300 cm; above 175 nothing may be lifted.
        D_cm: Height that the load travels, 0 to 300 cm. Under 25 counts as 25; above 175 nothing may be lifted.
        A_deg: Twist of the load off the straight ahead, 0 to 180°; above 135 nothing may be lifted.
        FM: Frequency multiplier, 0 to 1, from `frequency_multiplier`; 1 for a lift now and then.
        coupling: How the hands hold the load.
        as_printed: Round each multiplier to two places as the manual's worksheets do, with the cells of its tables
            that differ from its formulas (46 and 44 hundredths at 22 and 23 in; 86 at 130 cm).

    Returns:
        Multipliers and limit; the limit is 0 g where the equation says that nothing may be lifted.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        See `LEAVES_OUT`.

    Source:
        DHHS (NIOSH) 94-110 (1994, revised 2021).
    """
    return _lift(System.METRIC, H_cm, V_cm, D_cm, A_deg, FM, coupling, as_printed)


def lift_us(
    *,
    H_in: float,
    V_in: float,
    D_in: float,
    A_deg: float,
    FM: float,
    coupling: Coupling,
    as_printed: bool = False,
) -> Lift:
    """Recommended weight limit by the US form, load constant 51 lb.

    Args:
        H_in: Hands in front of the ankles, 0 to 79 in. Under 10 counts as 10; above 25 nothing may be lifted.
        V_in: Hands above the floor, 0 to 118 in; above 70 nothing may be lifted.
        D_in: Height that the load travels, 0 to 118 in. Under 10 counts as 10; above 70 nothing may be lifted.
        A_deg: Twist of the load off the straight ahead, 0 to 180°; above 135 nothing may be lifted.
        FM: Frequency multiplier, 0 to 1.
        coupling: How the hands hold the load.
        as_printed: As in `lift_metric`.

    Returns:
        Multipliers and limit; the limit is 0 g where the equation says that nothing may be lifted.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        See `LEAVES_OUT`.

    Source:
        DHHS (NIOSH) 94-110 (1994, revised 2021).
    """
    return _lift(System.US, H_in, V_in, D_in, A_deg, FM, coupling, as_printed)


def frequency_multiplier(lifts_per_min: float, hours: float, hands_high: bool) -> float:
    """Frequency multiplier FM.

    Args:
        lifts_per_min: Lifts a minute, averaged over 15 minutes, 0 to 60. Under 0.2 counts as 0.2.
        hours: How long the lifting goes on, above 0 to 8 h, with the rest that the manual asks for.
        hands_high: Whether the hands start at 75 cm (30 in) above the floor or higher.

    Returns:
        0 to 1. Between two printed rates the faster counts; above 15 a minute the result is 0.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Recovery periods: an hour of lifting must be followed by 1.2 h of light work to count as short.

    Source:
        DHHS (NIOSH) 94-110 Table 5, `data/frequency_multiplier.csv`. Taking the faster rate is ours.
    """
    rate = within("Lifts a minute", lifts_per_min, 0, 60, "per minute")
    spell = within("Hours of lifting", hours, 1e-6, 8, "h", "The equation does not cover more than eight hours.")
    rows = table_rows("bossage.handling", "frequency_multiplier.csv")
    longest = min(float(row["up_to_h"]) for row in rows if float(row["up_to_h"]) >= spell)
    for row in rows:
        if float(row["up_to_h"]) == longest and float(row["lifts_per_min"]) >= rate:
            return float(row["high_hands" if hands_high else "low_hands"])
    return 0.0


def lifting_index(load_g: float, lift: Lift, people: int = 1) -> float:
    """Load over what one person, or two together, should lift: 1 or less is the goal.

    Args:
        load_g: The whole load, 0 g or more.
        lift: The worse end of the lift, of two people that of the worse placed.
        people: 1, or 2, who count for two thirds of the sum of both.

    Returns:
        The index; infinite where the recommended limit is 0.

    Raises:
        OutOfRange: The load is negative.

    Leaves out:
        As the lift; of two people, how unlike they are, and steps.
        Above 3 some experts see nearly every worker at risk (read as attributed to them).

    Source:
        DHHS (NIOSH) 94-110 for one; `TEAM_SHARE` for two.
    """
    load = within("Load", load_g, 0, 1e7, "g")
    able_g = lift.recommended_g * people * TEAM_SHARE[people]
    return load / able_g if able_g > 0 else float("inf")


def _lift(
    system: System, H: float, V: float, D: float, A: float, FM: float, coupling: Coupling, as_printed: bool
) -> Lift:
    form = _FORMS[system]
    most = 79 if system is System.US else 200
    highest = 118 if system is System.US else 300
    H = max(within("Reach of the hands", H, 0, most, form.unit), form.reach_least)
    V = within("Height of the hands", V, 0, highest, form.unit)
    D = max(within("Travel of the load", D, 0, highest, form.unit), form.travel_least)
    A = within("Twist", A, 0, 180, "°")
    FM = within("Frequency multiplier", FM, 0, 1, "(ratio)")
    HM = form.reach_least / H if form.reach_most >= H else 0.0
    VM = 1 - form.per_height * abs(V - form.knuckle) if form.height_most >= V else 0.0
    DM = 0.82 + form.travel_part / D if form.travel_most >= D else 0.0
    AM = 1 - 0.0032 * A if A <= 135 else 0.0
    CM = _coupling(coupling, hands_low=form.knuckle > V)
    if as_printed:
        HM = form.printed_reach.get(H, _two_places(HM))
        DM = form.printed_travel.get(D, _two_places(DM))
        VM, AM = _two_places(VM), _two_places(AM)
    return Lift(
        system=system,
        HM=HM,
        VM=VM,
        DM=DM,
        AM=AM,
        FM=FM,
        CM=CM,
        recommended_g=form.load_g * HM * VM * DM * AM * FM * CM,
    )


def _coupling(coupling: Coupling, hands_low: bool) -> float:
    if coupling is Coupling.FAIR:
        return 0.95 if hands_low else 1.0
    return 1.0 if coupling is Coupling.GOOD else 0.9


def _two_places(value: float) -> float:
    # Rounded to nine places first, so that 0.745 in binary still rounds up as a worksheet does.
    return float(Decimal(str(round(value, 9))).quantize(Decimal("0.01"), rounding=ROUND_HALF_UP))
