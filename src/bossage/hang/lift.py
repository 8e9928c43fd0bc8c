"""The lift that counts for a leaf, by the revised NIOSH equation in the form of the piece's unit."""

from __future__ import annotations

from bossage.hang.case import Case
from bossage.hang.records import Lifting
from bossage.hang.standing import Ground, equation, governing, standings
from bossage.hang.standing_records import Standing


def ground_of(case: Case) -> Ground:
    """The leaf in its room."""
    return Ground(brief=case.brief, leaf=case.leaf, depth_nm=case.layout.depth_nm, mass_g=case.mass.total_g)


def plan_lift(case: Case) -> Lifting:
    """The worse end of the lift from the best place to stand, with furniture where the brief leaves it.

    What the brief leaves open is worked out: the hands hold the leaf by its sides at half its height; at the hook it
    is raised by the bevel's rise over where it hangs; it comes up from the floor, where it stands on its foot; the
    reach follows from half the depth of the leaf, the height of the hands and what stands below.
    """
    ground = ground_of(case)
    best = governing(standings(ground), case.leaf.name)
    lift = equation(ground, best.horizontal_nm, best.vertical_nm, best.turn_deg)
    return Lifting(
        leaf=case.leaf.name,
        system=lift.system.value,
        where=best.where,
        place=best.place,
        horizontal_nm=best.horizontal_nm,
        vertical_nm=best.vertical_nm,
        travel_nm=best.travel_nm,
        turn_deg=best.turn_deg,
        HM=lift.HM,
        VM=lift.VM,
        DM=lift.DM,
        AM=lift.AM,
        FM=lift.FM,
        CM=lift.CM,
        recommended_g=best.recommended_g,
        index=best.index,
        people=case.brief.lift.people,
        carries_g=best.carries_g,
        why_not=best.why_not,
        assumptions=tuple(_assumed(case, best)),
        leaves_out=lift.leaves_out,
    )


def _assumed(case: Case, best: Standing) -> list[str]:
    asked = case.brief.lift
    said = []
    if asked.horizontal_nm is None:
        moved = "".join(f", with {one.name} moved out of the way" for one in best.moved)
        said.append(
            "reach worked out: half the depth of the leaf and 20 cm (8 in) to the ankles, 25 cm (10 in) where the "
            f"hands are lower than that over the floor{moved}; over what stays, the ankles are 15 cm (6 in) before it "
            "(ours)"
        )
    if asked.vertical_nm is None:
        said.append("height worked out: hands at half the height of the leaf, raised to clear the bevel")
    if asked.travel_nm is None:
        said.append("travel worked out: from standing on the floor up to where it hangs")
    return said
