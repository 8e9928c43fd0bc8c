"""The layout's rows and flips of our worked scenarios, from the examples, and that a flip turns nothing else."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from bossage.brief import read_brief
from bossage.brief import records as r
from bossage.layout import Layout, plan_layout
from tests.layout.scenario_rows import FLIPS, ROWS

EXPECTED: dict[str, Any] = json.loads((Path(__file__).parents[1] / "scenarios" / "scenarios.json").read_text())
EXAMPLES = Path(__file__).parents[2] / "examples"
BRIEFS = {path.name[:2].upper(): read_brief(path.read_text()) for path in sorted(EXAMPLES.glob("s*.toml"))}
READINGS = [(scenario, row) for scenario, rows in ROWS.items() for row in rows]
OURS = ("layout", "edge", "vent", "space", "swing")


def laid(brief: r.Brief) -> Layout:
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    return layout


def verdicts(layout: Layout, name: str, subject: str) -> set[str]:
    return {c.verdict.value for c in layout.checks if c.name == name and subject in c.subject} or {"none"}


@pytest.mark.parametrize(("scenario", "row"), READINGS)
def test_figures_are_those_worked_out(scenario: str, row: str) -> None:
    brief = BRIEFS[scenario]
    expected = EXPECTED[scenario][row]
    got = ROWS[scenario][row](brief, laid(brief))
    assert got == pytest.approx(expected["value"], rel=1e-15 if expected["exact"] else 0, abs=expected["tolerance"])


@pytest.mark.parametrize(("scenario", "row", "name", "subject", "turn"), FLIPS, ids=[f"{f[0]}-{f[1]}" for f in FLIPS])
def test_verdicts_follow_their_cause(
    scenario: str, row: str, name: str, subject: str, turn: Callable[[r.Brief], r.Brief]
) -> None:
    layout = laid(turn(BRIEFS[scenario]))
    assert verdicts(layout, name, subject) == {EXPECTED[scenario][row]["value"]}


@pytest.mark.parametrize(("scenario", "row", "name", "subject", "turn"), FLIPS, ids=[f"{f[0]}-{f[1]}" for f in FLIPS])
def test_a_flip_turns_only_its_own_verdict(
    scenario: str, row: str, name: str, subject: str, turn: Callable[[r.Brief], r.Brief]
) -> None:
    before = {(c.name, c.subject): c.verdict for c in laid(BRIEFS[scenario]).checks}
    after = {(c.name, c.subject): c.verdict for c in laid(turn(BRIEFS[scenario])).checks}
    changed = {k[0] for k in before.keys() & after.keys() if before[k] is not after[k]}
    assert changed <= {name} | FOLLOWS.get(row, set())


# What follows from an input besides its own verdict.
FOLLOWS = {
    "check.mixed_unsquared": {"vent", "eye_level"},  # the whole grid grows
    "check.ready_access_lift_off": {"swing_angle", "door_swing"},
    "check.swing_angle_80": {"door_swing"},
    "check.door_swing_leaf_55": {"swing_angle"},
}


def test_every_row_of_the_layout_is_read() -> None:
    wanted = {(s, row) for s, rows in EXPECTED.items() for row in rows if row.split(".")[0] in OURS and s in BRIEFS}
    wanted.discard(("S1", "layout.mismatch_unsquared"))  # read below, from the flip
    assert wanted <= set(READINGS)


def test_the_mismatch_of_unsquared_posts_is_half_an_inch() -> None:
    from tests.layout.scenario_rows import unsquared

    expected = EXPECTED["S1"]["layout.mismatch_unsquared"]["value"]
    assert laid(unsquared(BRIEFS["S1"])).figures_nm["mismatch"] / 25_400_000 == expected


def test_three_quarters_of_a_column_less_falls_out_of_the_band() -> None:
    from tests.layout.factory import change

    layout = laid(change(BRIEFS["S8"], blocks__columns=15))
    assert verdicts(layout, "width_band", "") == {"caution"}


def test_base_scenarios_have_no_stop_but_those_said() -> None:
    stops = {
        (s, c.name, c.subject) for s, brief in BRIEFS.items() for c in laid(brief).checks if c.verdict.value == "stop"
    }
    assert stops == {("S4", "lift_off", "keypad, copy 4")}
