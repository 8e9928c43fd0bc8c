"""Children, earthquakes, heat and sun: silent unless the brief gives cause, and each at its figure by hand."""

from __future__ import annotations

from math import pi
from typing import Any

import pytest

from bossage.brief import BriefFaults, read_brief
from bossage.brief import records as r
from bossage.checks import Check
from bossage.examples import example_text
from bossage.layout import Layout, plan_layout
from bossage.layout.lived_in import CYLINDER_NM, is_small_part
from tests.layout.factory import footprint, furniture, leaf, mm, plain

NAMES = ("child_reach", "earthquake", "heat_near", "sunlight")
GRID = {"blocks__columns": 10, "blocks__rows": 8, "blocks__leaves": (leaf("a", 1150, 1300),)}
# the piece: 1150 to 1650 along the wall, 1300 to 1700 high


def checks(**changes: Any) -> list[Check]:
    layout = plan_layout(plain(**(GRID | changes)))
    assert isinstance(layout, Layout)
    return [check for check in layout.checks if check.name in NAMES]


def one(**changes: Any) -> Check:
    (check,) = checks(**changes)
    return check


def hot(kind: str, **more: Any) -> r.HeatSource:
    values: dict[str, Any] = {
        "x_nm": mm(1200),
        "width_nm": mm(400),
        "bottom_nm": mm(200),
        "top_nm": mm(800),
        "near_nm": mm(30),
        "far_nm": mm(130),
        "clear_nm": None,
    }
    return r.HeatSource(name="it", kind=kind, **(values | more))


def test_nothing_is_said_where_the_brief_gives_no_cause() -> None:
    assert checks() == []
    assert checks(room=r.Room(sun_hours=0.0)) == []


def test_the_lower_edge_in_reach_of_children_asks_for_a_lock_and_for_parts_that_are_not_small() -> None:
    def at(reach: float, **more: Any) -> Check:
        return one(room=r.Room(children_reach_nm=mm(reach)), **more)

    assert at(1300).verdict == "fine"  # they reach the edge, and not over it
    loose = at(1301, access__lock=False)
    assert loose.verdict == "caution"
    assert "lock" in loose.remedy
    assert at(1301, access__lock=True).verdict == "fine"  # blocks of 50 mm: sqrt(20² + 50²) is over 31.7
    small = {
        "blocks__footprints": (footprint("twenty", mm(20), mm(20)),),
        "blocks__module_width_nm": mm(20),
        "blocks__module_height_nm": mm(20),
        "blocks__fills": (r.Fill(rows=(("twenty",),), count=None),),
    }
    told = at(1301, access__lock=True, **small)  # sqrt(20² + 20²) = 28.3
    assert told.verdict == "caution"
    assert told.found.endswith("10 of the 10 blocks up to there can be small parts")  # the lowest row alone
    assert "not for children under 3" in told.care
    assert "20 of the 20" in at(1321, access__lock=True, **small).found  # and the row above it


def test_what_fits_into_the_cylinder_by_its_volume_and_by_its_sides() -> None:
    wide, deep = CYLINDER_NM
    for sides in ((mm(22), mm(22), mm(57)), (mm(10), mm(30), mm(40)), (mm(22), mm(57), mm(22))):
        assert is_small_part(sides)
        assert sides[0] * sides[1] * sides[2] <= pi / 4 * wide**2 * deep  # no more than the cylinder holds
    assert not is_small_part((mm(22), mm(22), mm(58)))
    assert not is_small_part((mm(23), mm(23), mm(23)))


def test_where_the_ground_shakes_the_hook_closes() -> None:
    shaken = r.Room(earthquakes=True)
    assert one(room=shaken, access__lock=False).verdict == "caution"
    assert "lock" in one(room=shaken, access__lock=False).remedy
    assert one(room=shaken, access__lock=True).verdict == "fine"
    assert one(room=shaken, access__opens=r.Opens.SWING).verdict == "fine"
    over = one(room=shaken, access__lock=True, wall__below=r.Below.BED)
    assert over.verdict == "caution"
    assert "over a bed" in over.found


@pytest.mark.parametrize(
    ("source", "verdict", "away"),
    [
        (hot("radiator", top_nm=mm(1200)), "fine", 100),  # 1300 - 1200
        (hot("radiator", top_nm=mm(1201)), "caution", 99),
        (hot("radiator", top_nm=mm(1201), clear_nm=mm(99)), "fine", 99),
        (hot("radiator", top_nm=mm(1201), clear_nm=mm(100)), "stop", 99),  # its maker says so
        (hot("heater", top_nm=mm(386)), "fine", 914),
        (hot("stove", top_nm=mm(387)), "caution", 913),
        (hot("lamp", bottom_nm=mm(1400), top_nm=mm(1500), x_nm=mm(1950)), "caution", 300),  # 1950 - 1650
        (hot("lamp", bottom_nm=mm(2000), top_nm=mm(2100), x_nm=mm(2050)), "fine", 500),  # 400 along, 300 up
        (hot("lamp", near_nm=mm(600), far_nm=mm(700), bottom_nm=mm(1400), top_nm=mm(1500)), "fine", None),
        (hot("lamp", bottom_nm=mm(1400), top_nm=mm(1500)), "caution", 0),
    ],
)
def test_what_is_hot_keeps_its_distance(source: r.HeatSource, verdict: str, away: int | None) -> None:
    check = one(heat=(source,))
    assert check.verdict == verdict
    if away is not None:
        assert f"ends {away} mm from" in check.found
    assert bool(check.remedy) == (verdict != "fine")


def test_sun_is_reckoned_by_the_class_of_the_colours() -> None:
    def sun(hours: float, grade: int | None) -> Check:
        return one(room=r.Room(sun_hours=hours), paint__blue_wool=grade)

    # 1 h × 365 × 50,000 lx = 18.25 million lux hours a year: class 8 lasts 6.6 years, at half an hour 13
    assert sun(1, 8).verdict == "caution"
    assert sun(0.5, 8).verdict == "fine"
    assert sun(0.5, 7).verdict == "caution"  # 50 / 9.125 = 5.5
    asked = sun(0.25, None)
    assert asked.verdict == "caution"
    assert "paint.blue_wool" in asked.care
    assert "class 7 or better" in asked.allowed  # 50 / 4.5625 = 11
    assert "no class" in sun(4, 8).allowed


def test_a_brief_says_it_in_keys() -> None:
    extra = """
[room]
children_reach = "900 mm"
earthquakes = true
sun_hours = 2
[[heat]]
kind = "radiator"
x = 0
width = 800
bottom = 100
top = 700
far = 120
clear = 60
"""
    brief = read_brief(example_text("first") + extra)
    assert brief.room == r.Room(children_reach_nm=mm(900), earthquakes=True, sun_hours=2.0)
    assert (brief.heat[0].name, brief.heat[0].clear_nm) == ("radiator", mm(60))
    turned = extra.replace("top = 700", "top = 90").replace("far = 120", "near = 130\nfar = 120")
    with pytest.raises(BriefFaults) as caught:
        read_brief(example_text("first") + turned)
    assert {fault.field for fault in caught.value.faults} == {"heat[1].top", "heat[1].far"}


def test_furniture_is_no_heat() -> None:
    assert checks(furniture=(furniture("s", "sofa", 1000, 900, 800),)) == []
