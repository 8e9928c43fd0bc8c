"""The trial of the wall half in steps: battens on its loose panel half, wax, weights on ropes."""

from __future__ import annotations

from bossage.body import Role
from bossage.hang.records import CleatPlan, LeafHang, PanelFixing
from bossage.hang.wall_records import TrialBattens
from bossage.pack.words import Words, listed
from bossage.plan import Plan
from bossage.units import NM_PER_IN, NM_PER_MM

ROPE_HOLE_NM = {False: 8 * NM_PER_MM, True: NM_PER_IN * 5 // 16}
OVER_FLOOR_NM = {False: 100 * NM_PER_MM, True: 4 * NM_PER_IN}
"""What falls from no higher does no harm; ours."""


def proof_steps(plan: Plan, hung: LeafHang, cleat: CleatPlan, words: Words) -> list[str]:
    """The wall half is tried by its own panel half, so that the bevel pushes it out as the leaf will for good."""
    weights = listed([words.mass(mass) for mass in cleat.proof.weights_g])
    each = " on the left and the right one" if len(cleat.proof.weights_g) > 1 else ""
    low = f"{words.length(OVER_FLOOR_NM[words.inches])} over the floor or over what stands there"
    clear = (
        "Stand clear of where they would fall. Nothing may give. Look at both ends of the wall half: no gap may open "
        "between its back and the wall."
    )
    if cleat.battens is None:
        pull = f", to {words.mass(cleat.proof.pull_g)}" if cleat.proof.pull_g is not None else ""
        return [
            f"Hook the bare panel part on and hang {weights} of weights from it{each} on ropes, {low}, for five "
            f"minutes. Then draw it straight out in the middle with a hand scale{pull}. {clear}"
        ]
    before = cleat.battens.before
    padded = (
        f" The ropes hang before {listed([f'the {name}' for name in before])}: lay a folded blanket between."
        if before
        else ""
    )
    return [
        *batten_steps(plan, hung, cleat.panel, cleat.battens, words),
        "Rub both bevels with candle wax, none on the glue face. Let the panel half down into the groove over its "
        f"whole length. Hang {weights} of weights from the two ropes, half on each{each}, for five minutes. The "
        f"weights "
        f"hang {low}."
        f"{padded} {clear} Take it out and the battens off. On wax the bevel pulls at the fixings a quarter harder "
        "than the leaf ever will. Weights that are tied to the wall half itself try too little: no bevel pushes it out "
        "then.",
    ]


def batten_steps(plan: Plan, hung: LeafHang, panel: PanelFixing, battens: TrialBattens, words: Words) -> list[str]:
    """Two battens on the glue face of each loose panel half: its back lies on the wall, so nothing grips it there."""
    told = dict.fromkeys(listed([words.bare(x) for x in places]) for places in battens.places_nm)
    where = "; ".join(f"{places} {words.unit} from its left end" for places in told)
    screw = words.screw(panel.gauge, panel.length_nm)
    if panel.from_front:
        sunk = (
            f"head sunk {words.length(battens.sunk_nm)} in it, in a seat as wide as the head"
            if battens.sunk_nm
            else "head flush"
        )
        way, holes = f"through the batten, {sunk}", ("through the batten", "into the panel half")
    else:
        way, holes = "from the face at the wall, head flush", ("through the panel half", "into the batten")
    bits = ""
    if panel.lead_hole_mm:
        wide, thin = words.drill(panel.clearance_hole_mm), words.drill(panel.lead_hole_mm)
        bits = f" Bits: {wide} {holes[0]}, {thin} {words.length(panel.thread_nm)} deep {holes[1]}."
    ends = (
        f"no longer than {words.length(battens.long_nm)}, so that they end above "
        f"{listed([f'the {name}' for name in battens.before])}"
        if battens.before
        else f"{words.length(battens.long_nm)} long"
    )
    sorts = "" if panel.from_front else ", and no thinner"
    return [
        f"Try the wall half before the panel half ({panel_numbers(plan, hung)}) goes on the back. Saw two battens, "
        f"{words.length(battens.thick_nm)} thick{sorts}, {words.length(battens.wide_nm)} wide at most, {ends}. Drill "
        f"{words.length(ROPE_HOLE_NM[words.inches])} through each from side to side, "
        f"{words.length(battens.hole_up_nm)} over its lower end, and tie a rope through "
        f"it.",
        "Screw the battens upright to the glue face of the loose panel half, upper ends flush with its upper "
        "edge. They "
        f"stand at two places of its later screws: {where}, seen from the glue face. Both places are "
        f"{words.length(battens.up_nm)} above its sharp edge, {words.length(battens.below_top_nm)} under the "
        "upper one. A slip of card between keeps each batten off the wall half's face. "
        f"Each takes one of those screws, {screw}, {way}.{bits}",
    ]


def panel_numbers(plan: Plan, hung: LeafHang) -> str:
    """The panel half by its number in the drawings."""
    parts = [part for part in plan.body.of(hung.leaf, hung.copy) if part.role is Role.PANEL_HALF]
    return listed(list(dict.fromkeys(f"no. {part.number}" for part in parts)))
