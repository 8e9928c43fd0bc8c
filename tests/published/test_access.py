"""Room to work before electrical boards and reach from a wheelchair, against printed tables; each row says if read."""

from __future__ import annotations

import pytest
from tests.published.reading import read_published

from bossage.brief.records import Facing
from bossage.countries import OWN, Country, Rule
from bossage.layout.working_space import CONDITION, Approach, reach_range_nm, working_depth_nm

MM = 1_000_000


@pytest.mark.parametrize(
    "row", read_published("working_space.csv"), ids=lambda row: f"{row['volts_to_ground']}-{row['facing']}"
)
def test_depth_of_working_space(row):
    facing = Facing(row["facing"])
    found = working_depth_nm(float(row["volts_to_ground"]), facing)
    assert found == int(row["depth_mm"]) * MM
    assert found / MM / 304.8 == pytest.approx(float(row["depth_ft"]), abs=0.002)
    assert CONDITION[facing] == int(row["condition"])


def test_above_600_volts_the_table_ends_and_the_highest_grip_is_at_79_in():
    assert working_depth_nm(601, Facing.NOTHING) is None
    # 6 ft 7 in, printed beside 2.0 m (NEC 240.24(A), from memory)
    grip = OWN[Country.UNITED_STATES][Rule.HIGHEST_GRIP].value
    assert grip / 25.4e6 == pytest.approx(79, abs=0.3)


@pytest.mark.parametrize(
    "row", read_published("ada_reach.csv"), ids=lambda row: f"{row['approach']}-{row['depth_mm']}-{row['over_mm']}"
)
def test_reach_ranges(row):
    found = reach_range_nm(Approach(row["approach"]), int(row["depth_mm"]) * MM, int(row["over_mm"]) * MM)
    assert found == ((int(row["low_mm"]) * MM, int(row["high_mm"]) * MM) if row["high_mm"] else None)
