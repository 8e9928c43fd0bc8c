"""Rows of colour: the colours given, where families meet, what is too little to measure."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from bossage.colour.meetings import End, Meeting, meeting
from bossage.colour.spaces import hex_to_lab
from bossage.fade.scales import family_scales
from bossage.plan import Plan
from tests.scenarios.cases import Toml, plan_of, varied, verdict

Row = Callable[[str], Any]


def lowered(brief: Toml) -> None:
    """The two lightest shades at 90 in place of 92."""
    for family in brief["family"]:
        family["lightness"] = [90 if L == 92 else L for L in family["lightness"]]


def without_clay(brief: Toml) -> None:
    brief["family"] = [family for family in brief["family"] if family["name"] != "clay"]


def met(plan: Plan) -> Meeting:
    first, second = family_scales(plan.brief)
    fade = plan.brief.fade
    return meeting(first, second, ends=End.ORDER, max_dl=fade.meet_dl, max_de=fade.meet_de)


def given(which: str, axis: int) -> Row:
    def row(scenario: str) -> float:
        family = plan_of(scenario).brief.families[0 if which in ("base", "fern") else 1]
        colour = family.base if which == "base" else family.tinters[0].colour
        return float(hex_to_lab(colour)[axis])

    return row


def fraction(name: str) -> Row:
    return lambda s: next(shade.tinter_fraction for shade in plan_of(s).fade.shades if shade.name == name)


ROWS: dict[str, Row] = {
    **{
        f"colour.{which}.{axis}": given(which, number)
        for which in ("base", "fern", "umber")
        for number, axis in enumerate("Lab")
    },
    "colour.meet_dL": lambda s: abs(met(plan_of(s)).dl),
    "colour.meet_dE_92": lambda s: met(plan_of(s)).de,
    "colour.meet_dE_90": lambda s: met(varied(s, "met at 90", lowered)).de,
    "colour.meet_lowest_L": lambda s: met(plan_of(s)).lowest_lightness,
    "colour.fern_92_fraction": fraction("fern 92"),
    "colour.umber_92_fraction": fraction("umber 92"),
    "check.meeting_92": lambda s: verdict(plan_of(s), "meeting"),
    "check.meeting_90": lambda s: verdict(varied(s, "met at 90", lowered), "meeting"),
    "check.unmeasurable": lambda s: verdict(plan_of(s), "unmeasurable"),
    "check.without_clay": lambda s: verdict(varied(s, "without clay", without_clay), "cross_mix"),
}
