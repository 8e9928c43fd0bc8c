"""The lift at the hook, by the revised NIOSH equation in the form of the piece's unit."""

from __future__ import annotations

from bossage.brief.records import Furniture, LengthUnit
from bossage.handling import (
    Coupling,
    Lift,
    System,
    frequency_multiplier,
    hands_out,
    lift_metric,
    lift_us,
    lifting_index,
)
from bossage.hang.case import Case
from bossage.hang.records import Lifting
from bossage.layout.grid import bevel_rise_nm
from bossage.units import NM_PER_IN, NM_PER_MM

STAND_NM = 500 * NM_PER_MM
"""Room to stand close before the piece: ours."""

MOST_NM = 1990 * NM_PER_MM
"""The equation's own range ends before this, so longer reaches are cut to it: the answer is 0 either way."""

KNUCKLE_NM = 750 * NM_PER_MM


def plan_lift(case: Case) -> Lifting:
    """The worse end of the lift: hands at the hook, or at the floor where it starts.

    What the brief leaves open is worked out: the hands hold the leaf by its sides at half its height; at the hook it
    is raised by the bevel's rise over where it hangs; it comes up from the floor, where it stands on its foot; the
    reach follows from half the depth of the leaf and the height of the hands, with what stands below moved out of the
    way.
    """
    asked, leaf = case.brief.lift, case.leaf
    hook = _lift(case, _hook_nm(case), "at the hook")
    if None not in (asked.horizontal_nm, asked.vertical_nm, asked.travel_nm):
        return hook
    floor = _lift(case, leaf.height_nm // 2, "from the floor")
    return min(hook, floor, key=lambda end: end.recommended_g)


def furniture_below(case: Case) -> Furniture | None:
    """What stands under the leaf, where one would stand, and reaches furthest; None where the floor is free."""
    leaf, stand_nm = case.leaf, case.layout.depth_nm + STAND_NM
    below = [
        item
        for item in case.brief.furniture
        if item.x_nm < leaf.x_nm + leaf.width_nm
        and item.right_nm > leaf.x_nm
        and item.top_nm <= leaf.y_nm
        and item.near_nm < stand_nm
    ]
    return max(below, key=lambda item: item.far_nm, default=None)


def _hands_out_nm(case: Case, height_nm: int) -> int:
    asked = case.brief.lift.horizontal_nm
    if asked is not None:
        return asked
    system, unit_nm = _system(case)
    return round(hands_out(case.layout.depth_nm / unit_nm, height_nm / unit_nm, system) * unit_nm)


def _system(case: Case) -> tuple[System, int]:
    """The printed form that goes with the brief's unit, and the length of that form's unit, nm."""
    if case.brief.piece.unit is LengthUnit.IN:
        return System.US, NM_PER_IN
    return System.METRIC, 10 * NM_PER_MM


def _hook_nm(case: Case) -> int:
    if case.brief.lift.vertical_nm is not None:
        return case.brief.lift.vertical_nm
    rise = 0 if case.swings else bevel_rise_nm(case.brief)
    return case.leaf.y_nm + case.leaf.height_nm // 2 + rise


def _lift(case: Case, height_nm: int, where: str) -> Lifting:
    asked = case.brief.lift
    reach_nm = _hands_out_nm(case, height_nm)
    rise = 0 if case.swings else bevel_rise_nm(case.brief)
    travel_nm = asked.travel_nm if asked.travel_nm is not None else case.leaf.y_nm + rise
    lift = _equation(case, reach_nm, height_nm, travel_nm)
    return Lifting(
        leaf=case.leaf.name,
        system=lift.system.value,
        where=where,
        horizontal_nm=reach_nm,
        vertical_nm=height_nm,
        travel_nm=travel_nm,
        turn_deg=asked.turn_deg,
        HM=lift.HM,
        VM=lift.VM,
        DM=lift.DM,
        AM=lift.AM,
        FM=lift.FM,
        CM=lift.CM,
        recommended_g=lift.recommended_g,
        index=lifting_index(case.mass.total_g, lift),
        people=asked.people,
        assumptions=tuple(_assumed(case)),
        leaves_out=lift.leaves_out,
    )


def _equation(case: Case, reach_nm: int, height_nm: int, travel_nm: int) -> Lift:
    asked = case.brief.lift
    coupling = Coupling(asked.coupling.value)
    FM = frequency_multiplier(asked.per_minute, 1.0, height_nm >= KNUCKLE_NM)
    system, unit_nm = _system(case)
    H, V, D = (min(max(0, length), MOST_NM) / unit_nm for length in (reach_nm, height_nm, travel_nm))
    if system is System.US:
        return lift_us(H_in=H, V_in=V, D_in=D, A_deg=asked.turn_deg, FM=FM, coupling=coupling)
    return lift_metric(H_cm=H, V_cm=V, D_cm=D, A_deg=asked.turn_deg, FM=FM, coupling=coupling)


def _assumed(case: Case) -> list[str]:
    asked = case.brief.lift
    said = []
    if asked.horizontal_nm is None:
        item = furniture_below(case)
        moved = f", with {item.name} moved out of the way" if item else ""
        said.append(
            "reach worked out: half the depth of the leaf and 20 cm (8 in) to the ankles, 25 cm (10 in) where the "
            f"hands are lower than that over the floor{moved}"
        )
    if asked.vertical_nm is None:
        said.append("height worked out: hands at half the height of the leaf, raised to clear the bevel")
    if asked.travel_nm is None:
        said.append("travel worked out: from standing on the floor up to where it hangs")
    return said
