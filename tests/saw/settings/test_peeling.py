"""How many more of a length go into a stick, against every way of sharing its slices among the spans."""

from __future__ import annotations

from itertools import product

import pytest

from bossage.saw.settings.peeling import Rooms

WIDTHS, DEMAND = (7, 5, 3), (2, 3, 4)


def fit(caps: tuple[int, ...], counts: tuple[int, ...]) -> bool:
    """Whether so many of each go into one or two spans, by trying all that the first span may hold."""
    load = sum(w * n for w, n in zip(WIDTHS, counts, strict=True))
    return any(
        first <= caps[0] and load - first <= sum(caps[1:])
        for held in product(*(range(n + 1) for n in counts))
        for first in [sum(w * n for w, n in zip(WIDTHS, held, strict=True))]
    )


@pytest.mark.parametrize("caps", [(24,), (13, 11), (8, 16), (17, 4)])
def test_as_many_more_of_a_length_go_in_as_some_way_of_sharing_has(caps: tuple[int, ...]) -> None:
    rooms = Rooms((caps,), WIDTHS, DEMAND)
    for counts in product(*(range(n + 1) for n in DEMAND)):
        if not fit(caps, counts):
            continue
        held = tuple((i, n) for i, n in enumerate(counts) if n)
        room = sum(caps) - sum(WIDTHS[i] * n for i, n in held)
        for i in (i for i, n in enumerate(counts) if not n):
            # Most wanted last and first again: what was found for one number serves the others.
            for n in (*range(DEMAND[i] + 1), 0):
                ways = [m for m in range(n + 1) if fit(caps, (*counts[:i], m, *counts[i + 1 :]))]
                assert rooms.most(0, held, i, room, n) == max(ways), (counts, i, n)
