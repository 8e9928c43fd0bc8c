"""Every check of the product has its kind; taste stops nothing and stands last; what can kill stands first."""

from __future__ import annotations

import itertools

import pytest

from bossage.checks import Check, Verdict, in_order, worst
from bossage.stakes import AT_STAKE, KINDS, Kind, kind_of
from tests.check_calls import check_calls

CALLS = tuple(check_calls())
WORDS = {"stage": "layout", "title": "", "found": "", "allowed": "", "why": "", "remedy": "", "source": ""}


def check(name: str, verdict: Verdict) -> Check:
    return Check(name=name, verdict=verdict, **WORDS)


def test_every_check_of_the_product_has_its_kind_and_no_kind_is_of_nothing() -> None:
    written = {name for call in CALLS for name in call.names}
    assert len(written) > 90
    assert written - set(KINDS) == set()
    assert set(KINDS) - written == set()


def test_no_check_stands_in_two_kinds() -> None:
    from bossage import stakes

    names = [name for rows in stakes._NAMES.values() for row in rows for name in row.split()]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    "call", [call for call in CALLS if any(kind_of(name) is Kind.TASTE for name in call.names)], ids=str
)
def test_no_check_of_taste_is_written_as_a_stop(call) -> None:
    assert "STOP" not in call.verdict


def test_taste_stops_nothing_whoever_says_so() -> None:
    for name, kind in KINDS.items():
        stopped = check(name, Verdict.STOP)
        assert stopped.kind is kind
        assert stopped.verdict is (Verdict.CAUTION if kind is Kind.TASTE else Verdict.STOP)


def test_a_name_of_no_list_is_taken_for_the_gravest() -> None:
    assert kind_of("nobody_has_thought_of_it") is Kind.HARM
    assert set(AT_STAKE) == set(Kind)


def test_what_can_kill_stands_first_and_taste_last_in_one_block() -> None:
    harm, spoil, taste = "load_path", "budget", "eye_level"
    given = [check(name, verdict) for name, verdict in itertools.product((taste, spoil, harm), Verdict)]
    told = [(one.name, one.verdict.value) for one in in_order(given)]
    assert told == [
        (harm, "stop"), (spoil, "stop"),
        (harm, "caution"), (spoil, "caution"),
        (harm, "fine"), (spoil, "fine"),
        (taste, "caution"), (taste, "caution"), (taste, "fine"),
    ]  # fmt: skip
    assert worst(given) is Verdict.STOP
    # what is equal stays as it came: in the order of the work
    pair = [check("lift", Verdict.STOP), check("studs", Verdict.STOP)]
    assert in_order(pair) == tuple(pair)
