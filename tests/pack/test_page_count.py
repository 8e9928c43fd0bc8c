"""A pack that a shop would tape up: so many pages at most, each of them in use, everything said once."""

from __future__ import annotations

from functools import cache
from itertools import pairwise

import pytest
from tests.pack.made import picture_of
from tests.pack.pdf_checks import pages_of, short_pages
from tests.scenarios.cases import BRIEFS, source

from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.examples import example_text
from bossage.pack.catalogue import ON_REQUEST, STATIONS, pack_sheets
from bossage.pack.causes import COUNTS, told
from bossage.pack.files import pack_pdf, wall_picture
from bossage.pack.printed import runs
from bossage.pack.sheet import Care, parts_of
from bossage.plan import Plan, make_plan
from bossage.remedies import advised
from bossage.stakes import Kind

MOST = {"S1": 26, "S2": 24, "first": 21}
"""Pages of A4 or Letter at most, with nothing asked for."""


@cache
def planned(name: str) -> Plan:
    """As `bossage plan` makes it: with its remedies tried."""
    text = source(name) if name in BRIEFS else example_text(name)
    made = make_plan(read_brief(text))
    assert isinstance(made, Plan)
    return advised(text, made)


@cache
def pack_of(name: str) -> bytes:
    plan = planned(name)
    return pack_pdf(plan, picture_of(name) if name in BRIEFS else wall_picture(plan))


@pytest.mark.parametrize("name", MOST)
def test_a_pack_has_so_many_pages_at_most(name: str) -> None:
    assert len(pages_of(pack_of(name))) <= MOST[name]


@pytest.mark.parametrize("name", ["first", *BRIEFS])
def test_no_page_has_less_than_a_third_of_its_height_in_use(name: str) -> None:
    assert short_pages(pack_of(name)) == []


def test_sheets_come_in_the_order_of_the_work() -> None:
    order = [name for station in STATIONS for name in station.names]
    for before, after in (
        ("testcard", "shopping"),  # cards are tried before paint is bought
        ("methods", "saw"),  # a way to press is chosen before its shims are sawn
        ("wood", "saw"),  # wood rests before the saw
        ("hang", "press"),  # the bare back hangs as a trial before glue is opened
        ("sand", "trays"),
        ("trays", "paint"),
    ):
        assert order.index(before) < order.index(after)


@pytest.mark.parametrize("name", ["first", *BRIEFS])
def test_within_a_run_a_caution_stands_once_and_none_is_lost(name: str) -> None:
    sheets = pack_sheets(planned(name))
    for run in runs(sheets):
        cares = [part for sheet in run for part in parts_of(sheet) if isinstance(part, Care)]
        assert len(cares) == len(set(cares))
        assert set(cares) == {part for sheet in sheets for part in parts_of(sheet) if isinstance(part, Care)
                              and sheet.title in {one.title for one in run}}  # fmt: skip
        assert len({sheet.place for sheet in run}) == 1
        assert len(run) == 1 or run[0].place


def test_sheets_read_at_different_places_share_no_page() -> None:
    place = {sheet.title: sheet.place or sheet.title for sheet in pack_sheets(planned("S2"))}
    for page in pages_of(pack_of("S2")):
        assert len({place[title] for title in page.titles}) == 1


@pytest.mark.parametrize("name", ["first", *BRIEFS])
def test_cautions_of_one_cause_are_one_what_harms_first_and_taste_last(name: str) -> None:
    plan = planned(name)
    found = told(plan, plan.checks)
    titles = [one.title for one in found]
    assert len(titles) == len(set(titles))
    order = [(one.kind is Kind.TASTE, -list(Verdict).index(one.verdict), list(Kind).index(one.kind)) for one in found]
    assert all(one <= other for one, other in pairwise(order))
    names = {said.check.name for one in found for said in one.said}
    assert names == {check.name for check in plan.checks if check.verdict is not Verdict.FINE}


def test_leaves_alike_are_said_once() -> None:
    plan = planned("S3")
    (tug,) = [one for one in told(plan, plan.checks) if one.said[0].check.name == "tug"]
    assert [said.of for said in tug.said] == [f"{COUNTS[3]} leaves; figures of left"]


def test_what_is_wanted_less_often_is_there_when_asked_for() -> None:
    plan = planned("S2")
    usual = {sheet.name for sheet in pack_sheets(plan)}
    assert not usual & set(ON_REQUEST)
    assert "testcard" not in usual  # its paint is bought as it is
    for name in (*ON_REQUEST, "testcard"):
        made = pack_sheets(plan, (name,))
        assert made or name in ("slips", "touch")
