"""A field among fair draws of its problem: figure by figure, how many standard deviations it lies from them."""

from __future__ import annotations

import pickle
from dataclasses import dataclass, replace
from functools import lru_cache

import numpy as np

from bossage.relief.draw.first_field import first_field, repair
from bossage.relief.draw.grid_bits import draw_by_bits
from bossage.relief.draw.shuffle import shuffle
from bossage.relief.measure import Frame, Randomness, frame_of, measured, rounded
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_bits
from bossage.relief.problem.records import Effort, HeightProblem, IntArray


@dataclass(frozen=True, slots=True, kw_only=True)
class Likeness:
    """How a field stands among fair draws of the same problem: distance from their mean in standard deviations.

    `caught` names what an eye would see: stripes, checkers, clumps; empty when the field passes for a fair draw.
    """

    z: dict[str, float]
    caught: tuple[str, ...]
    own: Randomness  # the field's own figures


FAIR_FROM_ONE = 8  # fair draws that one first field is shuffled on to
FAIR_KEPT = 8  # problems whose fair draws are remembered; a few hundred figures each
CAUGHT_Z = 5.0  # standard deviations; some fifteen figures are looked at, and fair draws have longer tails than normal
SEEN_AS = {
    "stripes": ("abab_rows", "abab_cols", "lag2_rows", "lag2_cols"),
    "checkers": ("alternation", "diagonal", "antidiagonal"),
    "clumps": ("drift", "peak", "two_apart"),
}


def compare_with_fair(problem: HeightProblem, levels: IntArray, *, draws: int = 24, sweeps: int = 16) -> Likeness:
    """Measure a field beside fair draws of the same problem, each shuffled for `sweeps` sweeps after the one before.

    Args:
        problem: The problem that the field answers; its seed is not used.
        levels: The field to judge.
        draws: Fair draws to compare with; fewer make the deviations coarser.
        sweeps: Swaps tried for each block in each of them.
    """
    frame, seen = _fair_figures(_Asked(problem), draws, sweeps)
    field = measured(frame, levels)
    own = field.figures()
    z = {}
    for name, value in own.items():
        fair_values = np.array([s[name] for s in seen])
        # Where all fair draws agree to the last digit any difference counts, and none counts as none.
        spread = float(fair_values.std(ddof=1)) if len(seen) > 1 else 0.0
        gap = value - float(fair_values.mean()) if seen else 0.0
        z[name] = rounded(gap / max(spread, 1e-6)) if abs(gap) > 1e-9 else 0.0
    caught = tuple(word for word, names in SEEN_AS.items() if any(z.get(n, 0.0) > CAUGHT_Z for n in names))
    return Likeness(z=z, caught=caught, own=field)


class _Asked:
    """A problem without its seed and its names: equal to one that asks for the same."""

    __slots__ = ("content", "problem")

    def __init__(self, problem: HeightProblem) -> None:
        self.problem = replace(problem, seed=0, level_names=(), group_names=(), block_names=())
        self.content = pickle.dumps(self.problem, protocol=5)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Asked) and self.content == other.content

    def __hash__(self) -> int:
        return hash(self.content)


# Fair draws cost most of a relief, and neither another seed nor another place on the wall changes them.
@lru_cache(maxsize=FAIR_KEPT)
def _fair_figures(asked: _Asked, draws: int, sweeps: int) -> tuple[Frame, tuple[dict[str, float], ...]]:
    graph = Graph(problem=asked.problem)
    frame = frame_of(graph)
    rng = np.random.Generator(np.random.PCG64(20_250_101))
    if suits_bits(graph):
        drawn = (draw_by_bits(graph, rng, Effort(sweeps=sweeps)) for _ in range(draws))
        return frame, tuple(measured(frame, solved.levels).figures() for solved in drawn if solved)
    seen: list[dict[str, float]] = []
    # A first field costs as much as a shuffle, so one first field gives several draws, each shuffled from the last.
    fair: IntArray | None = None
    for _ in range(3 * draws):
        anew = fair is None or len(seen) % FAIR_FROM_ONE == 0
        fair = _filled(graph, rng) if anew else fair
        if fair is not None:
            fair = shuffle(graph, fair, rng, sweeps=sweeps, onward=not anew).levels
            seen.append(measured(frame, fair).figures())
        if len(seen) == draws:
            break
    return frame, tuple(seen)


def _filled(graph: Graph, rng: np.random.Generator) -> IntArray | None:
    draft = repair(graph, first_field(graph, rng), rng, rounds=2000)
    return draft.levels if draft.conflicts == 0 else None
