"""Each piece of a series takes another choice of the shades, and every shade is taken about equally often."""

from __future__ import annotations

import itertools
import math
import re
from collections import Counter

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.scenarios.cases import plan_of, source

from bossage.brief import BriefFaults, read_brief
from bossage.fade.choice import chosen_shades


@settings(max_examples=60, deadline=None)
@given(st.data())
def test_choices_are_of_the_size_asked_for_and_differ_as_long_as_they_can(data: st.DataObject):
    shades_n = data.draw(st.integers(1, 12))
    each_n = data.draw(st.integers(1, shades_n))
    copies_n = data.draw(st.integers(1, 14))
    needed = data.draw(st.frozensets(st.integers(0, shades_n - 1), max_size=each_n))
    seed = data.draw(st.integers(0, 99))
    choices = chosen_shades(shades_n, each_n, copies_n, seed=seed, needed=needed)
    assert choices == chosen_shades(shades_n, each_n, copies_n, seed=seed, needed=needed)
    assert len(choices) == copies_n
    for choice in choices:
        assert len(set(choice)) == len(choice) == each_n
        assert needed <= set(choice) <= set(range(shades_n))
        assert list(choice) == sorted(choice)
    possible = math.comb(shades_n - len(needed), each_n - len(needed))
    # One or two shades replaced reach every choice of up to two, or all but two, of them.
    if min(each_n, shades_n - each_n) <= 2 and not needed:
        assert len(set(choices)) == min(copies_n, possible)


@pytest.mark.parametrize(("shades_n", "each_n", "copies_n"), [(8, 6, 6), (12, 5, 9), (7, 7, 3)])
def test_no_shade_is_taken_much_more_often_than_another(shades_n: int, each_n: int, copies_n: int):
    taken = Counter(itertools.chain.from_iterable(chosen_shades(shades_n, each_n, copies_n, seed=4)))
    assert max(taken.values()) - min(taken[shade] for shade in range(shades_n)) <= 2


def test_each_room_of_the_inn_has_another_six_of_the_eight_shades_and_a_map_of_its_own():
    plan = plan_of("S4")
    of_leaf = [plan.layout.blocks.leaf == leaf for leaf in range(len(plan.layout.leaves))]
    rooms = [frozenset(plan.fade.shade[mine].tolist()) for mine in of_leaf]
    assert {len(room) for room in rooms} == {6}
    assert len(set(rooms)) == len(rooms) == 6
    assert frozenset().union(*rooms) == set(range(8))
    for mine in of_leaf:
        counts = np.bincount(plan.fade.shade[mine], minlength=8)
        assert sorted(counts.tolist()) == [0, 0, 24, 24, 24, 24, 24, 24]
    maps = [
        list(zip(plan.relief.level[mine].tolist(), plan.fade.shade[mine].tolist(), strict=True)) for mine in of_leaf
    ]
    for one, other in itertools.combinations(maps, 2):
        assert sum(a != b for a, b in zip(one, other, strict=True)) >= len(one) / 2


PINS = """shades_each = 1
[[pin]]
block = "1.1"
shade = "tar 19"
[[pin]]
block = "2.1"
shade = "oat 79"
"""


@pytest.mark.parametrize(
    ("lines", "said"), [("shades_each = 9", "at most the 8 shades"), (PINS, "at least the 2 shades")]
)
def test_a_choice_that_cannot_be_is_refused(lines: str, said: str):
    with pytest.raises(BriefFaults, match=f"(?s)fade.shades_each.*{said}"):
        read_brief(source("S4").replace("shades_each = 6", lines))


def test_quotas_and_a_choice_do_not_go_together():
    quoted = re.sub(r"(lightness = .*)", r"\1\nquotas = [18]", source("S4"))
    with pytest.raises(BriefFaults, match=r"(?s)fade.shades_each.*shades_each or quotas"):
        read_brief(quoted)
