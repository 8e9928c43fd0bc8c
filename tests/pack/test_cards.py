"""The cards that stay with the piece never ask for fewer hands than the checks do."""

from __future__ import annotations

import pytest
from tests.scenarios.cases import BRIEFS, plan_of

from bossage.brief.records import Opens
from bossage.checks import Verdict
from bossage.pack.sheet import Figures
from bossage.pack.sheets.cards import access_sheet
from bossage.pack.sheets.stand_words import people_to_lift


@pytest.mark.parametrize("scenario", BRIEFS)
def test_the_access_card_asks_for_two_where_a_check_does(scenario: str) -> None:
    plan = plan_of(scenario)
    asked = any(c.name in {"two_people", "lift"} and c.verdict is not Verdict.FINE for c in plan.checks)
    asked = asked or plan.brief.access.opens is Opens.SWING  # one holds the open leaf while the post comes off
    assert (people_to_lift(plan) >= 2) == asked
    figures = next(part for part in access_sheet(plan).parts if isinstance(part, Figures))
    hands = next(item for item in figures.items if item.words == "to take it off")
    assert hands.value == str(people_to_lift(plan))
    assert hands.unit == ("people" if asked else "person")
