"""What the trial of the wall half takes, to lend or to have: battens, ropes, weights."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, LengthUnit
from bossage.costing.records import ShoppingLine
from bossage.hang.records import CleatPlan, Hang
from bossage.units import NM_PER_IN, NM_PER_MM, format_length, format_mass, format_size

TIED_NM = 200_000_000
"""For the knots at both ends of a rope; ours."""

STEP_NM = {LengthUnit.MM: 100 * NM_PER_MM, LengthUnit.IN: 6 * NM_PER_IN}


def for_the_trial(brief: Brief, hang: Hang) -> Iterator[ShoppingLine]:
    """Lines for one leaf, the one whose weights are the heaviest; none of a leaf that swings."""
    cleats = [leaf.cleat for leaf in hang.leaves if leaf.cleat is not None]
    if not cleats:
        return
    cleat, unit = max(cleats, key=_weights_g), brief.piece.unit
    ropes = 2 * len(cleat.proof.weights_g)
    if cleat.battens is not None:
        battens, ropes = cleat.battens, sum(map(len, cleat.battens.places_nm))
        size = format_size(battens.thick_nm, battens.wide_nm, unit)
        yield _line(
            f"battens for the trial, {size}",
            f"{ropes} of {format_length(battens.long_nm, unit)}",
            "weights hang from them on the loose panel half; any scrap of that thickness, no wider",
        )
    step = STEP_NM[unit]
    high = format_length(-(-(cleat.line_nm + TIED_NM) // step) * step, unit)
    yield _line("rope for the trial", f"{ropes} of {high} or less", "weights hang on it, low over the floor")
    yield _line(
        "weights for the trial, to lend",
        f"{format_mass(_weights_g(cleat), unit)} in {ropes} equal ones",
        "canisters of water or bags of sand; they load the wall half as the hang sheet says",
    )


def _weights_g(cleat: CleatPlan) -> float:
    return sum(cleat.proof.weights_g)


def _line(what: str, amount: str, note: str) -> ShoppingLine:
    return ShoppingLine(what=what, amount=amount, for_what="other", each_cents=None, cents=None, note=note)
