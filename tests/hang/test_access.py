"""Every kind of fixture: what it asks, with its source, and who may say so."""

from __future__ import annotations

import re

import pytest

from bossage.brief.records import FixtureKind
from bossage.hang.access import ACCESS, NEVER_COVERED, SPACE_KEPT
from bossage.layout.access import REFUSED
from bossage.pack.sheet import Para, Table, parts_of
from bossage.pack.sheets.cards import access_sheet
from tests.scenarios.cases import plan_of


@pytest.mark.parametrize("kind", FixtureKind)
def test_every_kind_says_what_it_asks_and_defers(kind):
    rule = ACCESS[kind]
    assert rule.grant.strip()
    assert rule.source.strip()
    assert re.search(r"govern|licensed", rule.ask)
    assert not re.search(r"\bsafe", f"{rule.grant} {rule.ask}")


def test_what_is_refused_is_never_granted():
    assert {kind for kind, rule in ACCESS.items() if not rule.covered} == set(REFUSED)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7", "S8"])
def test_the_card_says_it_for_each_fixture_behind_the_piece(scenario):
    plan = plan_of(scenario)
    parts = list(parts_of(access_sheet(plan)))  # the table stands beside the drawing of the back
    said = {row[0]: row[1] for part in parts if isinstance(part, Table) for row in part.rows}
    for fixture in plan.brief.fixtures:
        rule = ACCESS[fixture.kind]
        # with its leaf open S7 leaves too little working space: its card never says that it is kept empty
        grant = rule.grant.removesuffix(f"{SPACE_KEPT}.") if scenario == "S7" else rule.grant
        assert grant in said[fixture.name]
        assert rule.ask in said[fixture.name]
        assert any(rule.source in part.text for part in parts if isinstance(part, Para))
    assert any(NEVER_COVERED in part.text for part in parts if isinstance(part, Para))
