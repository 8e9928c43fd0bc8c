"""What a proof says: that there is no field, in words, and what other quotas would have to keep."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import IntArray, NoField


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut:
    """What any quotas have to keep: sum of coef x quotas at most `most`."""

    coef: IntArray  # (groups, levels)
    most: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Finding:
    """A proof that there is no field, and, if it is about quotas, what other quotas would have to keep."""

    no: NoField
    cut: Cut | None = None
    gap: int = 0  # the 'fewer will do' of the sentence, to be confirmed by a field


def names_of(graph: Graph, levels: list[int]) -> str:
    """Levels in a maker's words: 'level 18 mm', 'levels 18 mm, 22 mm and 26 mm'."""
    return f"level{'' if len(levels) == 1 else 's'} {level_list([graph.problem.level_name(x) for x in levels])}"


def level_list(names: list[str]) -> str:
    """'18 mm, 22 mm and 26 mm'."""
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"


def in_group(graph: Graph, g: int) -> str:
    """' among big blocks', or nothing where there is one group."""
    name = graph.problem.group_name(g)
    return f" among {name}" if name else ""


def count_of(n: int, word: str) -> str:
    """'1 block', '3 blocks'."""
    return f"{n:,} {word}" if n == 1 else f"{n:,} {word}s"


def cut_of(graph: Graph, terms: list[tuple[int, list[int], int]], most: int) -> Cut:
    """The cut with a weight on some levels of one group, or of all (-1)."""
    coef = np.zeros(graph.problem.quotas.shape, dtype=np.int64)
    for g, levels, weight in terms:
        for level in levels:
            coef[slice(None) if g < 0 else g, level] += weight
    return Cut(coef=coef, most=most)
