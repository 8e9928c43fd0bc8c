"""The cards, shims, clock and checks of the way that is chosen or advised."""

from __future__ import annotations

from collections import Counter

import pytest

from bossage.brief import read_brief
from bossage.brief.faults import BriefFaults
from bossage.brief.terms import PRESS_WAYS
from bossage.checks import Verdict
from bossage.layout.records import Zone
from bossage.press import job_calendar
from bossage.press.bed import BAG_G, BAG_G_PER_M2, bag_cards
from bossage.press.schedule_records import DAY_S
from tests.layout.factory import change
from tests.press.cases import EXAMPLES, NAMES, body_of, check, made, paint_days_of, pressed, pressing, saw_of

WORK_H = {"saw": 1.0, "break edges and sand": 1.0, "prime and paint": 1.0, "lay": 1.0}


def in_way(scenario, way, **more):
    brief, layout, relief = made(scenario)
    brief = change(brief, glue__way=way, **more)
    return brief, pressing(brief, layout, relief, saw_of(scenario))


@pytest.mark.parametrize("scenario", NAMES)
def test_one_way_is_taken_and_it_is_the_advised_one_until_the_brief_says_another(scenario):
    assert pressed(scenario).way.advised
    for way in PRESS_WAYS:
        taken = in_way(scenario, way)[1]
        assert (taken.way.name, sum(m.chosen for m in taken.methods)) == (way, 1)


@pytest.mark.parametrize("scenario", NAMES)
def test_on_the_bed_every_block_lies_once_mirrored_and_level(scenario):
    _, layout, relief = made(scenario)
    press = pressed(scenario)
    field = layout.blocks.zone == Zone.FIELD
    assert sorted(one.block for bed in press.beds for one in bed.blocks) == [k for k in range(len(field)) if field[k]]
    for bed in press.beds:
        place = layout.leaves[bed.leaf]
        for one in bed.blocks:
            level = relief.levels_nm[int(relief.level[one.block])]
            assert one.shim_nm + level == bed.constant_nm == max(relief.levels_nm)
            from_front = int(layout.blocks.x_nm[one.block]) - place.x_nm
            assert one.x_nm + one.width_nm + from_front == place.width_nm
        assert dict(bed.shims) == Counter(one.shim_nm for one in bed.blocks if one.shim_nm)
    assert sum(bed.glue_g for bed in press.beds) == pytest.approx(sum(card.glue_g for card in press.rows))


def test_shims_are_those_of_the_way():
    press = in_way("S2", "face down")[1]
    # S2: 40 mm is the highest; of 256 blocks 20 + 10 + 10 are 18 high, so 40 shims of 22, and so on up to 62 of none
    assert [(s.thickness_nm // 10**6, s.to_make) for s in press.shims] == [
        (22, 40),
        (18, 43),
        (14, 43),
        (10, 44),
        (5, 45),
    ]
    assert {s.thickness_nm for s in in_way("S2", "row by row")[1].shims} == {s.thickness_nm for s in press.shims}
    for way in ("bags", "screws"):
        assert in_way("S2", way)[1].shims == ()
        assert in_way("S2", way)[1].shim_cut is None


def test_bags_by_hand():
    # a row of S2 is 1120 × 45 mm in one go: 0.0504 m² × 100 kg = 5.04 kg, two bags of five kilograms
    brief, press = in_way("S2", "bags")
    assert (BAG_G_PER_M2, BAG_G) == (100_000, 5_000)
    cards = bag_cards(brief, press.rows)
    assert {card.bags for card in cards if card.of == 1} == {2}
    assert sum(card.blocks for card in cards) == 256


def test_the_open_time_of_a_bed_by_hand():
    # S2: 1.12 × 0.72 m at 0.15 m² a minute is 5.376 min, and 2 to close: 7.4 of 8
    found = check(in_way("S2", "face down")[1], "open_time")
    assert found.verdict is Verdict.FINE
    assert "7.4 min" in found.found
    short = check(in_way("S2", "face down", glue__open_min=6.0)[1], "open_time")
    assert short.verdict is Verdict.CAUTION
    assert "2 people" in short.remedy
    cured = check(in_way("S2", "face down", glue__open_min=6.0, tools__people=2)[1], "open_time")
    assert cured.verdict is Verdict.FINE


@pytest.mark.parametrize("way", PRESS_WAYS)
@pytest.mark.parametrize("scenario", ["S2", "S3", "S8"])
def test_the_calendar_presses_in_the_way_of_the_cards(scenario, way):
    brief, press = in_way(scenario, way)
    calendar = job_calendar(
        brief, body_of(brief, made(scenario)[1]), press, paint_days_of(brief), work_h=WORK_H, fixed_h=4.0
    )
    entries = [entry for entry in calendar.entries if entry.step == "press"]
    for entry in entries:
        assert entry.from_s % DAY_S >= 9 * 3600
        assert entry.to_s <= entry.from_s // DAY_S * DAY_S + 17 * 3600
    spread = [entry for entry in entries if "Spread" in entry.title]
    assert len(spread) == (len(press.beds) if way == "face down" else 0)
    # what is spread is closed without a break, within the open time
    assert all(entry.to_s - entry.from_s <= brief.glue.open_min * 60 for entry in spread)


def test_the_brief_names_the_way():
    text = (EXAMPLES / "first.toml").read_text()
    assert read_brief(text + '\n[glue]\nway = "face down"\n').glue.way == "face down"
    with pytest.raises(BriefFaults, match=r"glue\.way"):
        read_brief(text + '\n[glue]\nway = "sideways"\n')
