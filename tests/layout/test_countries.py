"""Each check that a country's figure decides, under each set and with a figure of the place."""

from __future__ import annotations

from typing import Any

import pytest

from bossage.brief import BriefFaults, read_brief
from bossage.brief import records as r
from bossage.checks import Check, Verdict
from bossage.countries import COMPARED, MEANING, OWN, Country, LocalFigure, Rule, Rules
from bossage.examples import example_text
from bossage.layout import Layout, plan_layout
from tests.layout.factory import change, fixture, furniture, leaf, mm, plain

GRID = {"blocks__columns": 10, "blocks__rows": 8, "blocks__leaves": (leaf("a", 1150, 1300),)}
BOARD = fixture("board", 1200, 1350, 400, 300, kind=r.FixtureKind.ELECTRICAL, proud_nm=mm(20))
SWUNG = {"access__opens": r.Opens.SWING, "wall__passage_nm": mm(3000)}
SEATED = {"access__opened_by": r.OpenedBy.SEATED}
WAY = {"wall__circulation": True}
US, GB, EU = Country.UNITED_STATES, Country.GREAT_BRITAIN, Country.EUROPE


def check_of(name: str, country: Country, changes: dict[str, Any], *local: LocalFigure) -> Check:
    layout = plan_layout(plain(**{"fixtures": (BOARD,)} | GRID | changes, rules=Rules(country=country, local=local)))
    assert isinstance(layout, Layout)
    return next(check for check in layout.checks if check.name == name)


def board(**more: Any) -> dict[str, Any]:
    return SWUNG | {"fixtures": (change(BOARD, **more),)}


# check, the least breach of the United States' figure, what just passes it; then what each set says of both
BREACHES = [
    ("space", SWUNG | {"wall__passage_nm": mm(933)}, SWUNG | {"wall__passage_nm": mm(934)}),
    ("space", SWUNG | {"wall__height_nm": mm(1980)}, SWUNG),
    ("space", SWUNG | {"furniture": (furniture("c", "cabinet", 600, 600, 900),), "wall__width_nm": mm(1961)}, SWUNG),
    ("space", board(volts=1000.0), board(volts=600.0)),
    ("handle", board(handle_nm=mm(2001)), board(handle_nm=mm(2000))),
    ("swing_angle", SWUNG | {"access__angle_deg": 89.0}, SWUNG),
    ("protrusion", WAY | {"blocks__levels_nm": (mm(20), mm(65))}, WAY | {"blocks__levels_nm": (mm(20), mm(64))}),
]


@pytest.mark.parametrize(("name", "breach", "passing"), BREACHES)
def test_a_figure_stops_in_its_own_country_and_only_asks_elsewhere(
    name: str, breach: dict[str, Any], passing: dict[str, Any]
) -> None:
    assert check_of(name, US, breach).verdict is Verdict.STOP
    assert check_of(name, US, passing).verdict is Verdict.FINE
    for changes in (breach, passing):
        check = check_of(name, EU, changes)
        assert check.verdict is Verdict.CAUTION
        assert "ask the authority" in check.care
        assert "[[local]]" in check.care
        assert name == "protrusion" or "licensed electrician" in check.care
        assert f"in the {COMPARED.value}, for comparison" in check.allowed
        assert "for comparison, the rule of the United States" in check.source
    # a change is thought about where the shown figure is missed, and not where it is met
    assert check_of(name, EU, breach).remedy or "volts" in str(breach)
    assert not check_of(name, EU, passing).remedy


def test_great_britain_has_its_own_figures_for_ways_and_reach() -> None:
    deep = WAY | {"blocks__levels_nm": (mm(20), mm(65))}
    high = deep | {"blocks__leaves": (leaf("a", 1150, 2030),)}  # over 80 in, under 2100 mm
    assert check_of("protrusion", US, high).verdict is Verdict.FINE
    assert check_of("protrusion", GB, high).verdict is Verdict.STOP
    assert "Approved Document M" in check_of("protrusion", GB, high).source
    bench = deep | {"furniture": (furniture("b", "bench", 1100, 600, 450, bottom_nm=mm(400)),)}
    assert check_of("protrusion", US, bench).verdict is Verdict.CAUTION  # a cane finds what is at 685 mm or lower
    assert check_of("protrusion", GB, bench).verdict is Verdict.STOP  # here at 300 mm or lower
    at = [(1220, US, "fine"), (1220, EU, "fine"), (1220, GB, "caution"), (1200, GB, "fine"), (449, GB, "caution")]
    for grip, country, verdict in at:
        found = check_of("reach", country, SEATED | {"access__grip_nm": mm(grip)})
        assert (grip, country, found.verdict) == (grip, country, verdict)


LOCAL = [
    (
        "space",
        Rule.SPACE_DEPTH,
        mm(1200),
        SWUNG | {"wall__passage_nm": mm(1219)},
        SWUNG | {"wall__passage_nm": mm(1220)},
    ),
    (
        "space",
        Rule.SPACE_HEIGHT,
        mm(2400),
        SWUNG | {"wall__height_nm": mm(2399)},
        SWUNG | {"wall__height_nm": mm(2400)},
    ),
    ("handle", Rule.HIGHEST_GRIP, mm(1800), board(handle_nm=mm(1801)), board(handle_nm=mm(1800))),
    ("swing_angle", Rule.OPENING, 95, SWUNG | {"access__angle_deg": 94.0}, SWUNG | {"access__angle_deg": 95.0}),
    (
        "protrusion",
        Rule.JUTTING,
        mm(80),
        WAY | {"blocks__levels_nm": (mm(20), mm(45))},
        WAY | {"blocks__levels_nm": (mm(20), mm(44))},
    ),
]


@pytest.mark.parametrize("country", list(Country))
@pytest.mark.parametrize(("name", "rule", "value", "breach", "passing"), LOCAL)
def test_a_figure_of_the_place_goes_before_every_set(
    country: Country, name: str, rule: Rule, value: int, breach: dict[str, Any], passing: dict[str, Any]
) -> None:
    said = LocalFigure(rule=rule, value=value, by="the city's building office")
    stopped, met = (check_of(name, country, changes, said) for changes in (breach, passing))
    assert stopped.verdict is Verdict.STOP
    assert "local figure, by the city's building office" in stopped.source
    # fine only where every figure of the check is known
    others = {"space": {Rule.SPACE_WIDTH, Rule.SPACE_HEIGHT, Rule.SPACE_DEPTH} - {rule}}.get(name, set())
    known = all(one in OWN[country] for one in others)
    assert met.verdict is (Verdict.FINE if known else Verdict.CAUTION)


def test_a_local_reach_counts_and_furniture_still_lowers_it() -> None:
    said = LocalFigure(rule=Rule.HIGHEST_REACH, value=mm(1300), by="her own arm")
    over = {"furniture": (furniture("b", "bench", 1000, 900, 450, far_nm=mm(400)),)}
    for grip, more, verdict in (
        (1300, {}, "fine"),
        (1301, {}, "caution"),
        (1170, over, "fine"),
        (1171, over, "caution"),
    ):
        assert check_of("reach", EU, SEATED | more | {"access__grip_nm": mm(grip)}, said).verdict == verdict


def test_in_a_home_the_depth_in_a_passage_stays_advice_and_says_whose_figure_it_is() -> None:
    deep = {"wall__passage_nm": mm(1000), "blocks__levels_nm": (mm(20), mm(65))}
    assert [check_of("hall_depth", country, deep).verdict for country in Country] == ["caution"] * 3
    assert "of the United States" in check_of("hall_depth", EU, deep).allowed
    assert "of the United States" not in check_of("hall_depth", GB, deep).allowed


def test_the_sets_can_be_compared_rule_by_rule() -> None:
    assert set(OWN[COMPARED]) == set(Rule) == set(MEANING)
    for figures in OWN.values():
        assert all(figure.source and figure.value > 0 for figure in figures.values())


def text(extra: str, unit: str = "mm") -> str:
    return example_text("first").replace('unit = "mm"', f'unit = "{unit}"') + extra


def test_the_unit_chooses_the_set_until_the_brief_names_one() -> None:
    metric, inches = read_brief(example_text("first")), read_brief(example_text("s8-gannet-row"))
    assert (metric.rules.country, inches.rules.country) == (EU, US)
    assert metric.left_open("rules.country")
    named = read_brief(text('\n[rules]\ncountry = "great britain"\n'))
    assert named.rules.country is GB
    assert not named.left_open("rules.country")


def test_local_figures_are_read_with_their_units() -> None:
    brief = read_brief(
        text(
            '\n[[local]]\nrule = "jutting out"\nfigure = "3 in"\nby = "school office"\n'
            '\n[[local]]\nrule = "opening angle"\nfigure = "95°"\nby = "network operator"\n'
        )
    )
    assert brief.rules.held(Rule.JUTTING).value == 76_200_000
    assert brief.rules.held(Rule.OPENING).value == 95


@pytest.mark.parametrize(
    ("entry", "told"),
    [
        ('rule = "jutting out"\nfigure = "95°"\nby = "x"', "a length"),
        ('rule = "opening angle"\nfigure = "3 in"\nby = "x"', "degrees"),
        ('rule = "opening angle"\nfigure = 200\nby = "x"', "at most 180"),
        ('rule = "jutting out"\nfigure = 0\nby = "x"', "above 0"),
        ('rule = "jutting out from"\nfigure = 2500\nby = "x"', "jutting out from below jutting out to"),
        ('rule = "jutting out"\nfigure = 80\nby = ""', "words in quotes"),
        ('rule = "how wide"\nfigure = 80\nby = "x"', "working space width"),
        (
            'rule = "jutting out"\nfigure = 8\nby = "x"\n[[local]]\nrule = "jutting out"\nfigure = 9\nby = "y"',
            "one for",
        ),
    ],
)
def test_a_local_figure_that_cannot_be_one_is_told(entry: str, told: str) -> None:
    with pytest.raises(BriefFaults) as caught:
        read_brief(text(f"\n[[local]]\n{entry}\n"))
    (fault,) = caught.value.faults
    assert told in fault.allowed
