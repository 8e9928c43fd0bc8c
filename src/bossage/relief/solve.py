"""Heights for every block: quotas exact, no two neighbours on conflicting levels, random to the eye, or why not.

`ENGINES` is the order of attack. A row answers with a field or with a proof that there is none, or leaves the problem
to the next row. The thresholds between rows are in `bossage.relief.problem.limits`.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np

from bossage.engines import Engine, first_answer
from bossage.relief.draw.grid_bits import draw_by_bits
from bossage.relief.draw.grid_classes import draw_by_classes
from bossage.relief.draw.on_graph import draw_on_graph, shuffled_field
from bossage.relief.order.draw import bound_to_order, lay_bands, lay_in_order
from bossage.relief.problem import limits
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_bits, suits_classes, suits_cp_sat
from bossage.relief.problem.records import Effort, HeightProblem, NoField, Proof, Solved
from bossage.relief.problem.verdict import Finding
from bossage.relief.prove.arguments import first_proofs, later_proofs

DEFAULT_EFFORT = Effort()


def solve_heights(problem: HeightProblem, *, effort: Effort = DEFAULT_EFFORT) -> Solved | NoField:
    """The level of every block, or the reason why there is none.

    Args:
        problem: Blocks, neighbours, levels, quotas, pins and seed.
        effort: How much work to put in; the same effort gives the same answer on any machine.

    Returns:
        `Solved` with a field that keeps every rule exactly, shuffled so that it looks random; or `NoField` with
        sentences for a maker, the kind of proof and the least that has to be given up. `NoField.proven` is false
        when the patience ran out before a field or a proof was found.
    """
    rng = np.random.Generator(np.random.PCG64(problem.seed))
    task = Task(Graph(problem=problem), rng, effort)
    return first_answer(ENGINES, task) or _open(task.graph)


@dataclass
class Task:
    """What every engine is given."""

    graph: Graph
    rng: np.random.Generator
    effort: Effort

    @cached_property
    def ordered(self) -> bool:
        """Whether the rule leaves nothing but stripes, bands, or a chessboard of low and high."""
        return bound_to_order(self.graph)


def _bits(task: Task) -> Solved | NoField | None:
    return draw_by_bits(task.graph, task.rng, task.effort)


def _count(task: Task) -> Solved | NoField | None:
    return _explained(task, first_proofs(task.graph) or later_proofs(task.graph, with_solver=False))


def _prove(task: Task) -> Solved | NoField | None:
    return _explained(task, later_proofs(task.graph, with_solver=True))


def _order(task: Task) -> Solved | NoField | None:
    return lay_in_order(task.graph, task.rng, task.effort)


def _bands(task: Task) -> Solved | NoField | None:
    return lay_bands(task.graph, task.rng, task.effort)


def _first_draw(task: Task) -> Solved | NoField | None:
    return _draw(task, range(1))


def _more_draws(task: Task) -> Solved | NoField | None:
    return _draw(task, range(1, task.effort.draws))


def _draw(task: Task, draws: range) -> Solved | None:
    by = draw_by_classes if suits_classes(task.graph) else draw_on_graph
    return by(task.graph, task.rng, task.effort, draws)


def _search(task: Task) -> Solved | NoField | None:
    from bossage.relief.exact.cp_sat import search

    graph, effort = task.graph, task.effort
    found = search(graph, units=effort.exact_units)
    if found.levels is not None:
        return shuffled_field(graph, found.levels, task.rng, effort, engine="cp-sat", draws=effort.draws, repairs=0)
    if not found.best:
        return None
    text = "These quotas cannot be met with these neighbours: every way was tried."
    return _explained(task, Finding(no=NoField(reasons=(text,), proof=Proof.SEARCH, proven=True)))


def _open(graph: Graph) -> NoField:
    text = (
        f"No field was found for these {graph.n:,} blocks, and none is proven impossible: "
        f"loosen a quota, let a pin go, or add a level."
    )
    return NoField(reasons=(text,), proof=Proof.NONE, proven=False)


def _explained(task: Task, found: Finding | None) -> NoField | None:
    if found is None:
        return None
    from bossage.relief.prove.relax import with_relaxation

    return with_relaxation(task.graph, found, task.effort)


ENGINES: tuple[Engine[Task, Solved | NoField], ...] = (
    Engine(
        name="Bit-parallel swaps (multi-spin coding)",
        module="relief/draw/grid_bits.py",
        when=(
            f"Plain grids of {limits.BITS_FROM} blocks or more and {limits.BITS_ROWS_FROM} rows or more, with "
            f"{limits.BITS_LEVELS_FROM} to {limits.BITS_LEVELS_UP_TO} levels in use, none on more than "
            f"{limits.BITS_MOST_SHARE:.0%} of the blocks; one quota group, no pins, no bans, corners may be alike, "
            "and neighbours only have to differ."
        ),
        why="A handful of shifts swaps pairs all over the grid at once, and shuffles at the same price.",
        proof="A field. Where swaps do not take the last conflict away, nothing is said.",
        source="Jacobs and Rebbi 1981; the swaps are Kawasaki's (1966).",
        runs=lambda task: suits_bits(task.graph),
        run=_bits,
    ),
    Engine(
        name="Counting, Hall's condition, Kőnig's theorem",
        module="relief/prove/arguments.py",
        when="All problems that the row above left.",
        why="What cannot be is mostly seen by counting, long before a search would give up; no solver is loaded.",
        proof="That there is no field, in words, with the least that has to be given up.",
        source="Hall 1935; Kőnig 1931; the arguments on order and company are our own.",
        runs=lambda _: True,
        run=_count,
    ),
    Engine(
        name="Stripes, bands and chessboards, laid at once",
        module="relief/order/draw.py",
        when=(
            "Plain grids of one quota group whose rule leaves only order: four levels that may all touch where corners "
            "must differ, or two levels that may touch. Bands and chessboards on up to "
            f"{limits.CP_SAT_UP_TO:,} blocks, stripes on any number."
        ),
        why="Swaps hardly ever find such a field, and hardly change one once it is found.",
        proof="A field.",
        source="Own derivation.",
        runs=lambda task: task.ordered,
        run=_order,
    ),
    Engine(
        name="Linear program over small tiles, independent sets by CP-SAT",
        module="relief/prove/arguments.py",
        when="The same pieces, where their order gave no field at once.",
        why="What order does not give at once is sooner proven than drawn.",
        proof="That there is no field.",
        source="Farkas 1902 for the program: its infeasibility is the proof.",
        runs=lambda task: task.ordered,
        run=_prove,
    ),
    Engine(
        name="Checkerboard updating, else tabu search over swaps: first draw",
        module="relief/draw/grid_classes.py, relief/draw/on_graph.py",
        when=(
            f"Checkerboard updating on plain grids of {limits.CLASSES_FROM:,} blocks or more with up to "
            f"{limits.CLASSES_LEVELS_UP_TO} levels, tabu search on all others: small pieces, mosaics, rings."
        ),
        why="Most problems that have a field have it in the first draw.",
        proof="A field.",
        source="Minton and others 1992 (min-conflicts); Hertz and de Werra 1987 (tabu search for colourings).",
        runs=lambda _: True,
        run=_first_draw,
    ),
    Engine(
        name="Linear program over small tiles, independent sets by CP-SAT",
        module="relief/prove/arguments.py",
        when="All pieces that are not bound to order.",
        why="What the first draw missed often cannot be, and a proof ends the search.",
        proof="That there is no field.",
        source="Farkas 1902 for the program: its infeasibility is the proof.",
        runs=lambda task: not task.ordered,
        run=_prove,
    ),
    Engine(
        name="Bands of levels by growing regions, many layings",
        module="relief/order/bands.py",
        when=f"Pieces bound to stripes of bands, up to {limits.CP_SAT_UP_TO:,} blocks, that no row above answered.",
        why="Open cells and bans leave few layings in which the counts come out, so that many are tried.",
        proof="A field.",
        source="Own derivation.",
        runs=lambda task: task.ordered,
        run=_bands,
    ),
    Engine(
        name="Checkerboard updating, else tabu search over swaps: further draws",
        module="relief/draw/grid_classes.py, relief/draw/on_graph.py",
        when="As for the first draw.",
        why="Another start mostly does where one start got stuck, and is cheaper than a search.",
        proof="A field.",
        source="As for the first draw.",
        runs=lambda _: True,
        run=_more_draws,
    ),
    Engine(
        name="Constraint programming (CP-SAT)",
        module="relief/exact/cp_sat.py",
        when=f"Up to {limits.CP_SAT_UP_TO:,} blocks.",
        why="It tries every way, within its patience.",
        proof="A field, or that there is none.",
        source="OR-Tools; cliques of neighbours in place of pairs.",
        runs=lambda task: suits_cp_sat(task.graph),
        run=_search,
    ),
)
