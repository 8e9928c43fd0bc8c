"""Ten corridors and ten walls with benches, counters and tables, each worked out by hand.

The piece reaches from 1150 to 1650 along the wall and from 1300 to 1700 over the floor. With a tallest level of 65 mm
it is 101 mm deep, 1 mm more than may jut out where people walk along; with 64 mm it is 100 mm deep.
"""

from __future__ import annotations

import pytest

from bossage.brief.records import DefaultUsed
from bossage.checks import Check
from bossage.layout import plan_layout
from bossage.layout.records import Layout
from tests.hang.making import hung, verdict
from tests.layout.factory import furniture, mm, plain

DEEP, SHALLOW = (mm(20), mm(65)), (mm(20), mm(64))


def checks_of(**changes) -> dict[str, Check]:
    layout = plan_layout(plain(**changes))
    assert isinstance(layout, Layout)
    return {check.name: check for check in layout.checks}


#: width of the way, what has to stay, levels, verdict: left is the way less 101 mm, or less 100 mm.
CORRIDORS = [
    (1301, 1200, DEEP, "fine"),  # 1200 left
    (1300, 1200, DEEP, "stop"),  # 1199
    (1300, 1200, SHALLOW, "fine"),  # 1200
    (1299, 1200, SHALLOW, "stop"),  # 1199
    (2000, 1200, DEEP, "fine"),
    (1000, 900, DEEP, "stop"),  # 899
    (1001, 900, DEEP, "fine"),  # 900
    (900, 900, SHALLOW, "stop"),
    (None, 1200, DEEP, "caution"),  # nobody has measured the way
    (1500, None, DEEP, "caution"),  # nobody has asked how wide it has to stay
]


@pytest.mark.parametrize(("passage", "wanted", "levels", "told"), CORRIDORS)
def test_an_escape_route_keeps_the_width_that_the_brief_says(passage, wanted, levels, told):
    check = checks_of(
        wall__escape_route=True,
        wall__passage_nm=None if passage is None else mm(passage),
        wall__escape_width_nm=None if wanted is None else mm(wanted),
        blocks__levels_nm=levels,
    )["escape_width"]
    assert check.verdict == told
    if passage is not None:
        assert check.figure is not None
        assert check.figure.value == passage - (101 if levels is DEEP else 100)
    assert ("wall.escape_width" in check.care) == (wanted is None)
    assert ("wall.passage" in check.care) == (passage is None)


def test_what_is_no_escape_route_is_asked_for_no_width():
    assert "escape_width" not in checks_of(wall__passage_nm=mm(900))


#: furniture under the piece where people walk along, verdict. A cane finds what is at 685 mm or lower.
WALLS = [
    ([("bench", 1100, 600, 450, {})], "caution"),  # under all of it, 600 deep
    ([("bench", 1100, 600, 450, {"far_nm": mm(100)})], "stop"),  # 1 mm less deep than the piece
    ([("bench", 1100, 600, 450, {"far_nm": mm(101)})], "caution"),
    ([("bench", 1151, 600, 450, {})], "stop"),  # 1 mm of the piece is over free floor
    ([("bench", 1100, 300, 450, {}), ("cabinet", 1400, 300, 900, {})], "caution"),  # both together
    ([("bench", 1100, 300, 450, {}), ("cabinet", 1401, 300, 900, {})], "stop"),  # a gap between them
    ([("counter", 1100, 600, 900, {})], "caution"),  # down to the floor
    ([("shelf", 1100, 600, 900, {"bottom_nm": mm(700)})], "stop"),  # higher than the cane
    ([("table", 1100, 600, 740, {})], "stop"),  # a cane passes under it
    ([("table", 1100, 600, 450, {})], "caution"),
]


@pytest.mark.parametrize(("things", "told"), WALLS)
def test_what_a_cane_finds_ends_the_rule_about_what_juts_out(things, told):
    stood = tuple(
        furniture(f"{kind} {n}", kind, x, wide, top, **more) for n, (kind, x, wide, top, more) in enumerate(things, 1)
    )
    check = checks_of(wall__circulation=True, blocks__levels_nm=DEEP, furniture=stood)["protrusion"]
    assert check.verdict == told
    assert ("a cane finds it" in check.found) == (told == "caution")
    assert bool(check.remedy) == (told == "stop")


@pytest.mark.parametrize("kind", ["table", "counter", "desk", "other"])
def test_who_sits_or_works_at_a_table_is_asked(kind):
    stood = (furniture("it", kind, 1100, 600, 740),)
    said = (DefaultUsed(field="wall.below", value="none", reason=""),)
    assert verdict(hung(furniture=stood, defaults=said), "who_is_below") == "caution"
    assert verdict(hung(furniture=stood, defaults=()), "who_is_below") == "none"  # the brief has said it
