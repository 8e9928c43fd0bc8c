"""Which of the shades each piece of a series takes: another choice for each, every shade about equally often."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from hashlib import sha256
from itertools import islice, product

MOST_TRIED = 4000  # choices looked at for one piece before a choice may come twice


def chosen_shades(
    shades_n: int, each_n: int, copies_n: int, *, seed: int, needed: frozenset[int] = frozenset()
) -> tuple[tuple[int, ...], ...]:
    """Shades of each piece, in order.

    A piece takes those shades that earlier ones took least; among equals the lot decides, which hangs on the seed.
    As long as there are choices that no earlier piece has, no two pieces have the same.

    Args:
        shades_n: How many shades there are.
        each_n: How many a piece takes, 1 to `shades_n`.
        copies_n: How many pieces.
        seed: Chooses one of many equally good series.
        needed: Shades that every piece must have, because they are pinned; no more than `each_n`.
    """
    taken: Counter[int] = Counter()
    found: list[tuple[int, ...]] = []
    for copy in range(copies_n):
        order = sorted(
            (shade for shade in range(shades_n) if shade not in needed),
            key=lambda shade: (taken[shade], _lot(seed, copy, shade)),
        )
        picks = (tuple(sorted({*needed, *pick})) for pick in _cheapest_first(order, each_n - len(needed)))
        first: tuple[int, ...] | None = None
        for pick in islice(picks, MOST_TRIED):
            first = first or pick
            if pick not in found:
                first = pick
                break
        assert first is not None
        found.append(first)
        taken.update(first)
    return tuple(found)


def _cheapest_first(order: list[int], count: int) -> Iterator[tuple[int, ...]]:
    """Choices of some of a list: its first ones, then those with one of them replaced, then with two, and so on."""
    kept, rest = order[:count], order[count:]
    yield tuple(kept)
    yield from ((*kept[:out], *kept[out + 1 :], other) for other, out in product(rest, reversed(range(count))))
    for one, two in ((a, b) for b in range(count) for a in range(b)):
        left = [shade for number, shade in enumerate(kept) if number not in (one, two)]
        yield from ((*left, a, b) for j, b in enumerate(rest) for a in rest[:j])


def _lot(seed: int, copy: int, shade: int) -> str:
    return sha256(f"{seed}|shades|{copy}|{shade}".encode()).hexdigest()
