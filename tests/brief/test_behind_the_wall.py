"""Keys that say what is behind the wall."""

from __future__ import annotations

import pytest
from tests.scenarios.cases import ROOT

from bossage.brief import BriefFaults, read_brief
from bossage.brief import records as r

FIRST = (ROOT / "examples" / "first.toml").read_text()
RUN = '[[run]]\nkind = "cable"\nfrom = [100, 0]\nto = [100, 2500]\n'


def test_a_run_without_more_counts_as_hearsay_and_is_kept_far_from() -> None:
    run = read_brief(FIRST + RUN).runs[0]
    assert run == r.Run(
        name="cable",
        kind=r.RunKind.CABLE,
        from_nm=(100_000_000, 0),
        to_nm=(100_000_000, 2_500_000_000),
        clear_nm=150_000_000,
        found=r.FoundBy.TOLD,
    )
    seen = read_brief(FIRST + RUN + 'found = "seen"\n').runs[0]
    assert seen.clear_nm < run.clear_nm


@pytest.mark.parametrize(
    ("bad", "field"),
    [
        (RUN.replace("[100, 2500]", "[100, 0]"), "run[1].to"),
        (RUN.replace("[100, 2500]", "[100, 2501]"), "run[1].to"),
        (RUN.replace("from = [100, 0]\n", ""), "run[1].from"),
        (RUN.replace("cable", "river"), "run[1].kind"),
    ],
)
def test_a_run_that_is_none_is_refused_by_its_key(bad: str, field: str) -> None:
    with pytest.raises(BriefFaults) as refused:
        read_brief(FIRST + bad)
    assert [fault.field for fault in refused.value.faults] == [field]


def test_a_name_says_what_must_stay_clear_and_the_brief_rules() -> None:
    area = "x = 100\ny = 1000\nwidth = 80\nheight = 80\n"
    brief = read_brief(
        FIRST
        + f'[[keep_clear]]\nname = "Light switch"\n{area}'
        + f'[[keep_clear]]\nname = "switchboard picture"\n{area}'
        + f'[[keep_clear]]\nname = "old socket"\nkind = "other"\n{area}'
    )
    assert [one.kind.value for one in brief.keep_clear] == ["switch", "other", "other"]
    assert brief.left_open("keep_clear[1].kind")


def test_screws_end_near_the_face_of_a_stud_that_nobody_has_looked_into() -> None:
    # NEC 300.4, as quoted: 1-1/4 in; the board 12.5 and the cleat 18 mm come before
    text = FIRST.replace('build = "masonry"', 'studs = [400, 800, 1200, 1600]\ncovering = "12.5 mm"')
    unseen, seen = (
        read_brief(text),
        read_brief(text.replace("studs = [400, 800, 1200", "studs_seen = true\nstuds = [400, 800, 1200")),
    )
    before = unseen.wall.covering_nm + unseen.cleat.thickness_nm
    assert unseen.fixings.length_nm - before <= 31_750_000
    assert seen.fixings.length_nm == 80_000_000


METER = 'kind = "meter"\nmedium = "water"\n'


@pytest.mark.parametrize(
    ("name", "medium"),
    [("gas meter", "gas"), ("Water meter", "water"), ("electric meter", "electricity"), ("gas and water", None)],
)
def test_a_name_says_what_a_meter_counts_and_the_brief_rules(name: str, medium: str | None) -> None:
    text = FIRST.replace('name = "meter cupboard"', f'name = "{name}"')
    assert METER in text
    assert read_brief(text).fixtures[0].medium is r.Medium.WATER
    brief = read_brief(text.replace(METER, 'kind = "meter"\n'))
    assert brief.fixtures[0].medium == medium
    assert bool(brief.left_open("fixture[1].medium")) == (medium is not None)


def test_a_hidden_switch_of_no_special_kind_is_one_by_its_name() -> None:
    text = FIRST.replace(METER, "")
    assert read_brief(text.replace('"meter cupboard"', '"old dimmer"')).fixtures[0].kind is r.FixtureKind.ACCESSORY
    assert read_brief(text.replace('"meter cupboard"', '"picture hook"')).fixtures[0].kind is r.FixtureKind.OTHER


@pytest.mark.parametrize(("kind", "volts"), [("thermostat", 230), ("chime", 24), ("keypad", 24), ("router", 24)])
def test_a_thermostat_counts_as_one_of_the_mains_until_the_brief_gives_its_volts(kind: str, volts: float) -> None:
    text = FIRST.replace(METER, f'kind = "{kind}"\n')
    assert read_brief(text).fixtures[0].volts == volts
    assert read_brief(text).left_open("fixture[1].volts")
    assert read_brief(text.replace(f'"{kind}"\n', f'"{kind}"\nvolts = 12\n')).fixtures[0].volts == 12
