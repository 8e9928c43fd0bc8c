"""The screws of a butt hinge's flaps: how hard the pins draw at them, and what they hold."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from bossage.brief.records import Butt, Side
from bossage.errors import BossageError
from bossage.fasteners import Bite, combined_allowable_n, wood_screw_lateral
from bossage.fasteners.hinged import level_forces
from bossage.hang.case import Case, gravity_of, link, product, screw_or_reason
from bossage.hang.hinge_records import HingePlan
from bossage.hang.records import Link
from bossage.hang.statics import carried_shares
from bossage.hang.strengths import STEEL_BEARING_MPA
from bossage.hang.swung import flapped, turned
from bossage.hang.threads import Shank, bite_of, held_by, shank_or_reason
from bossage.units import NM_PER_MM

HINGE_SCREWS = "hinge screws"


@dataclass(frozen=True, slots=True, kw_only=True)
class FlapLoad:
    """What a pin does to one flap: off its wood, square to the flap; and across the flap's screws."""

    off_n: float  # 0: it presses the flap on
    along_n: float = 0.0  # across the screws, along the pin and so beside their line
    across_n: float = 0.0  # across the screws, square to the pin


def flap_screws(case: Case, plan: HingePlan) -> Link:
    """The hardest-worked screw of the harder-worked flap: what draws it out, and what pushes across it.

    Source:
        Moments on a stiff flap, our calculation. The pin draws beside the line of the screws, so the flap pries about
        its far edge. A weight along the pin turns the flap in its plane: elastic method for eccentrically loaded
        joints.
    """
    butt, count = case.brief.butt, plan.screws_per_flap
    part = f"each of {count} in the harder-worked flap"
    held = _screw_values(case, plan)
    found = [on_a_screw(butt, load) for load in flap_loads(case, plan)]
    if isinstance(held, str):
        worst = max(math.hypot(*one) for one in found)
        return link(
            case,
            HINGE_SCREWS,
            part=part,
            demand_n=worst,
            allowable_n=0.0,
            basis=f"nothing is counted on: {held}",
            source="",
        )
    lateral, withdrawal, basis = held

    def allowed(load: tuple[float, float]) -> float:
        angle = math.degrees(math.atan2(*load)) if any(load) else 0.0
        return combined_allowable_n(withdrawal, lateral, angle)

    pull, across = max(found, key=lambda load: math.hypot(*load) / allowed(load))
    say = case.voice
    return link(
        case,
        HINGE_SCREWS,
        part=part,
        demand_n=math.hypot(pull, across),
        allowable_n=allowed((pull, across)),
        basis=basis,
        factors=case.wood_factors,
        assumptions=(
            *_assumed(case, plan),
            f"the pin draws {say.say(butt.line_nm)} beside the line of the screws, and the flap pries about its far "
            f"edge: {say.bare_force(pull)} straight out of the wood and {say.bare_force(across)} across",
            "nobody leans on the open leaf",
        ),
        source="NDS 2018 12.2, 12.3, 12.4",
    )


def flap_loads(case: Case, plan: HingePlan) -> Iterator[FlapLoad]:
    """What the pins do to the flaps of one hinge, on the leaf and on the post, in every state.

    Flaps lie on the outer edges of post and stile, so a force along the leaf draws at their screws, and one off the
    wall pushes across them. Of hinges over one another the upper draws at its stile as hard as the lower at its post.
    """
    if case.swing.upright:
        yield from _upright_loads(case, plan)
        return
    swing, top = case.swing, case.swing.side is Side.TOP
    share = max(carried_shares([float(place) for place in swing.middles_nm], case.at_nm) or (1.0,))
    for state in flapped(case):
        (leaf,) = level_forces(
            state.level_n, state.up_n, angle_deg=state.angle_deg, top=top, shares=(share,), places_mm=(0.0,)
        )
        yield FlapLoad(off_n=max(0.0, -leaf.along_n), across_n=abs(leaf.off_n))
        down = share * state.up_n
        yield FlapLoad(off_n=max(0.0, -down if top else down), across_n=abs(share * state.level_n))


def _upright_loads(case: Case, plan: HingePlan) -> Iterator[FlapLoad]:
    """Closed as on the leaf, whose flap turns with it; on the post the couple turns from a pull to a push across."""
    per = case.weight_n / (plan.spacing_nm / NM_PER_MM)
    for state in turned(case):
        yield FlapLoad(off_n=per * abs(state.along_mm), along_n=case.weight_n, across_n=per * abs(state.out_mm))


def on_a_screw(butt: Butt, load: FlapLoad) -> tuple[float, float]:
    """What draws the hardest-worked screw out of the wood, and what acts across it, N.

    Args:
        butt: The hinge: its screws stand on one line, evenly along its knuckle.
        load: On the whole flap.
    """
    far, proud = butt.flap_nm - butt.line_nm, butt.knuckle_nm / 2
    offs = [(number - (butt.holes - 1) / 2) * butt.height_nm / butt.holes for number in range(butt.holes)]
    worst = max(offs) / sum(off**2 for off in offs)
    # the pin stands half a knuckle before the wood: what acts across the screws turns the flap off the wood as well
    pull = (load.off_n * butt.flap_nm + load.across_n * proud) / far / butt.holes + load.along_n * proud * worst
    aside = load.along_n * butt.line_nm * worst
    return pull, math.hypot(load.along_n / butt.holes, load.across_n / butt.holes + aside)


def thread_nm(butt: Butt, length_nm: int, deep_nm: int) -> int:
    """Thread of a flap's screw that holds in a post or stile so deep; 0 where nothing is known of it."""
    found = _bite(butt, length_nm, deep_nm)
    return 0 if isinstance(found, str) else round(found[1].holds_mm * NM_PER_MM)


def _assumed(case: Case, plan: HingePlan) -> tuple[str, ...]:
    say = case.voice
    if plan.stay is None:
        return (
            f"couple: weight × {say.say(plan.arm_nm)} from the axis ÷ {say.say(plan.spacing_nm)} between the hinges, "
            "at any angle of opening",
            "the upper hinge carries the whole weight",
        )
    return (
        f"two stays hold it open, {say.say(plan.stay.on_leaf_nm)} from the axis on the leaf and "
        f"{say.say(plan.stay.on_wall_nm)} on the wall, the harder-worked with {say.bare_force(plan.stay.force_n)}",
        "the hinges share by the lever rule; the worse of closed and open counts",
    )


def _bite(butt: Butt, length_nm: int, deep_nm: int) -> tuple[Shank, Bite] | str:
    """A flap's screw and its thread in post or stile, or why there is none."""
    shank = shank_or_reason(butt.gauge)
    if isinstance(shank, str):
        return shank
    try:
        return shank, bite_of(shank, length_nm, butt.thickness_nm, deep_nm)
    except BossageError as error:
        return str(error)


def _screw_values(case: Case, plan: HingePlan) -> tuple[float, float, str] | str:
    """Allowable across and along a screw of a flap, all factors inside, with their basis; or why there is none."""
    screw = screw_or_reason(plan.gauge)
    if isinstance(screw, str):
        return screw
    butt = case.brief.butt
    found = _bite(butt, plan.length_nm, plan.length_nm + plan.tip_to_face_nm)
    if isinstance(found, str):
        return case.voice.retold(found)
    gravity = gravity_of(plan.into)
    try:
        lateral = wood_screw_lateral(
            screw,
            side_mm=butt.thickness_nm / NM_PER_MM,
            penetration_mm=(plan.length_nm - butt.thickness_nm) / NM_PER_MM,
            main_gravity=gravity,
            side_gravity=gravity,
            side_bearing_mpa=STEEL_BEARING_MPA,
        )
        held = held_by(found[0], plan.into, found[1], case.service_factors)
    except BossageError as error:
        return case.voice.retold(str(error))
    if held.allowable_n <= 0:
        least, thread = case.voice.mm(found[1].least_mm), case.voice.mm(found[1].thread_mm)
        return f"{thread} of thread, at least {least} is asked for; take hinges for thinner screws (access.butt)"
    across, say = lateral.z_n * product(case.wood_factors), case.voice.bare_force
    return (
        across,
        held.allowable_n,
        f"{plan.gauge}: across {say(across)} ({'; '.join(lateral.basis)}), pull {say(held.allowable_n)}, both with "
        "their factors; both at once by Eq. 12.4-1",
    )
