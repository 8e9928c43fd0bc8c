"""The least that has to be given up where no field exists."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np

from bossage.relief.draw.on_graph import GRID_FROM_N, fast_field, grid_field
from bossage.relief.exact.cp_sat import fewest_colours, fewest_moved, fewest_released, nearest_quotas
from bossage.relief.order.chess import Chess, chess_ways, draw_chess, grown_higher, growth_orders, least_higher
from bossage.relief.order.regions import SWEEP_WORK_N
from bossage.relief.order.stripes import fitting_stripes, four_levels, nearest_stripes
from bossage.relief.problem.graph import Graph, counts_of
from bossage.relief.problem.records import Effort, IntArray, NoField, Proof, QuotaChange, Relaxation
from bossage.relief.problem.verdict import EXACT_UP_TO_N, Finding
from bossage.relief.prove.arguments import first_proofs, later_proofs
from bossage.relief.prove.chess import hold_chess

RELAX_UNITS = 15.0  # deterministic time that the least relaxation may take
SEARCHED_UP_TO_N = 100  # blocks up to which a relaxation that is near the least is searched for a better one
CUTS_N = 60  # arguments collected about quotas before the search for others is left to CP-SAT
TRIES = Effort(repair_rounds=1500, draws=2, mix_sweeps=0)
SHORT_TRIES = Effort(repair_rounds=120, draws=1, mix_sweeps=0)  # about what a program takes instead


def with_relaxation(graph: Graph, found: Finding, effort: Effort) -> NoField:
    """The same verdict with the least change that heals it, and a sentence that says so.

    Moving blocks between levels comes first; only where no quotas at all would do are pins let go or choices widened.
    The proofs give what quotas have to keep; the nearest quotas that keep it are tried with the fast engine. If
    these hold, nothing less can. If not, CP-SAT looks for the fewest moves on graphs small enough.
    """
    no = _with_easing(graph, found, effort)
    words = f"{found.gap_n:,} fewer will do" if found.gap_n else ""
    if words and (no.relaxation is None or no.relaxation.moved_n > found.gap_n):
        # The argument gives a bound; only a field that meets it may promise that so many will do.
        first = no.reasons[0].replace(words, f"{found.gap_n:,} fewer at the least")
        no = replace(no, reasons=(first, *no.reasons[1:]))
    return no


def _with_easing(graph: Graph, found: Finding, effort: Effort) -> NoField:
    no, least_n, quotas_exist = found.no, 0, True
    if no.proof is Proof.FEW_LEVELS:
        return _with_levels(graph, no, effort)
    if no.proof is not Proof.EMPTIED and not (no.proof is Proof.PINS and found.cut is None):
        easing, least_n, quotas_exist = _nearest(graph, found)
        if easing:
            return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(graph, easing)))
        if graph.n > EXACT_UP_TO_N:
            return no
        exact = (
            fewest_moved(graph, units=min(effort.exact_units, RELAX_UNITS), least_n=least_n) if quotas_exist else None
        )
        if exact and exact.levels is not None:
            easing = moved(graph, counts_of(graph, exact.levels), smallest=exact.best)
            return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(graph, easing)))
        if exact and not exact.best:
            return no
    return _with_freed(graph, no, effort) if graph.n <= EXACT_UP_TO_N else no


def _nearest(graph: Graph, found: Finding) -> tuple[Relaxation | None, int, bool]:
    """Quotas that hold with a lower bound of moves that they reach; the bound; whether any quotas keep the proofs."""
    cuts = [found.cut] if found.cut else []
    least_n = 0
    ways = chess_ways(graph)
    if ways:
        return _on_chessboard(graph, ways, [(c.coef, c.most) for c in cuts])
    if found.no.proof is Proof.SEARCH:
        return None, 1, True
    levels = four_levels(graph)
    if levels is not None:
        return _instead(graph, nearest_stripes(graph, levels)[1].reshape(1, -1))
    for _ in range(CUTS_N):
        near = nearest_quotas(graph, [(c.coef, c.most) for c in cuts])
        if near is None:
            return None, least_n, False
        quotas, least_n = near
        trial = Graph(problem=replace(graph.problem, quotas=quotas))
        again = first_proofs(trial) or later_proofs(trial, with_solver=True)
        if again is None:
            return (moved(graph, quotas, smallest=True) if _exists(trial) else None), least_n, True
        if again.cut is None:
            return None, least_n, True
        cuts.append(again.cut)
    return None, least_n, True


def _exists(trial: Graph) -> bool:
    """Whether a field is found: a short draw first, then on small graphs by a program in whole numbers."""
    rng = np.random.Generator(np.random.PCG64(trial.problem.seed))
    if trial.problem.grid is not None and trial.n >= GRID_FROM_N:
        return grid_field(trial, rng, TRIES) is not None
    if trial.n > EXACT_UP_TO_N:
        return fast_field(trial, rng, TRIES) is not None
    from bossage.relief.exact.linear import some_field

    return fast_field(trial, rng, SHORT_TRIES) is not None or some_field(trial) is not None


def _on_chessboard(
    graph: Graph, ways: list[Chess], cuts: list[tuple[IntArray, int]]
) -> tuple[Relaxation | None, int, bool]:
    """The nearest quotas that a chessboard of low and high can have, if a field with them can be drawn."""
    near = []
    for way in ways:
        leasts = [least_higher(graph, way, step, work_n=SWEEP_WORK_N) for step in way.steps]
        near.append(nearest_quotas(graph, cuts, partial(hold_chess, graph, way, leasts)))
    least_n = min((found[1] for found in near if found), default=0)
    rng = np.random.Generator(np.random.PCG64(graph.problem.seed))
    for way, found in zip(ways, near, strict=True):
        if found and found[1] == least_n and _drawn_chess(graph, way, found[0], rng):
            return moved(graph, found[0], smallest=True), least_n, True
    quotas = _grown_quotas(graph, ways, cuts, least_n, rng) if any(near) else None
    if quotas is None:
        return None, least_n, any(near)
    easing = moved(graph, quotas, smallest=False)
    if easing.moved_n == least_n:
        return replace(easing, smallest=True), least_n, True
    return (easing if graph.n > SEARCHED_UP_TO_N else None), least_n, True


def _drawn_chess(graph: Graph, way: Chess, quotas: IntArray, rng: np.random.Generator) -> bool:
    trial = Graph(problem=replace(graph.problem, quotas=quotas))
    trial.narrow(graph.choice)
    return draw_chess(trial, [way], rng) is not None


def _grown_quotas(
    graph: Graph, ways: list[Chess], cuts: list[tuple[IntArray, int]], least_n: int, rng: np.random.Generator
) -> IntArray | None:
    """The nearest quotas that regions grown from some side or corner have, if not the nearest of all."""
    best, best_n = None, graph.n + 1
    for way in ways:
        for order in growth_orders(graph, way, rng):
            grown = [grown_higher(graph, way, step, order) for step in way.steps]
            hold = partial(hold_chess, graph, way, grown)
            found = nearest_quotas(graph, cuts, hold, within=(least_n, best_n - 1))
            if found and _drawn_chess(graph, way, found[0], rng):
                best, best_n = found
                if best_n == least_n:
                    return best
    return best


def _instead(graph: Graph, quotas: IntArray) -> tuple[Relaxation | None, int, bool]:
    """The nearest quotas of an argument that names them: the least that can do, if a field has them."""
    trial = Graph(problem=replace(graph.problem, quotas=quotas))
    least_n = int(np.maximum(graph.problem.quotas - quotas, 0).sum())
    if first_proofs(trial) or later_proofs(trial, with_solver=False):
        return None, least_n, True
    kinds = fitting_stripes(trial, four_levels(trial) or [])
    plain = graph.problem.pins is None and graph.problem.allowed is None
    return (moved(graph, quotas, smallest=True) if kinds and plain else None), least_n, True


def _with_freed(graph: Graph, no: NoField, effort: Effort) -> NoField:
    for quotas_too in (True, False):
        freed = fewest_released(graph, units=effort.exact_units, quotas_too=quotas_too)
        if freed.levels is None:
            continue
        rows = np.arange(graph.n)
        released = np.flatnonzero((graph.pins >= 0) & (graph.pins != freed.levels))
        widened = np.flatnonzero(~graph.allowed[rows, freed.levels])
        change = change_of(graph, counts_of(graph, freed.levels))
        easing = Relaxation(
            quotas=change,
            moved_n=sum(c.change_n for c in change if c.change_n > 0),
            released=tuple(released.tolist()),
            widened=tuple(widened.tolist()),
            smallest=freed.best,
        )
        return replace(no, relaxation=easing, reasons=(*no.reasons, _freed_words(graph, easing)))
    if no.proof is Proof.SEARCH:
        return _with_levels(graph, no, effort)
    return no


def _with_levels(graph: Graph, no: NoField, effort: Effort) -> NoField:
    """How many levels the neighbours need at least, whatever the quotas."""
    start = "No quotas whatever would do with these levels and this rule"
    touching_n = len(no.blocks) if no.proof is Proof.FEW_LEVELS else 2
    if graph.problem.level_conflict is not None:
        text = f"{start}: add a level that stands further from the others, or make the rule looser."
        return replace(no, reasons=(*no.reasons, text))
    greedy_n, least_n = _greedy_colours_n(graph), max(2, touching_n)
    colours_n, proven = greedy_n, greedy_n == least_n
    if not proven and graph.n <= EXACT_UP_TO_N:
        units = min(effort.exact_units, RELAX_UNITS)
        colours_n, proven = fewest_colours(graph, least_n, greedy_n, units=units)
    levels_n = (colours_n - 1) * graph.problem.min_step + 1
    if levels_n <= graph.L:
        return replace(no, reasons=(*no.reasons, f"{start}: add a level, or make the rule looser."))
    text = f"{start}; with {levels_n} levels there are some that do."
    if graph.problem.min_step > 1:
        step = (graph.L - 1) // (colours_n - 1)
        text += f" Or keep these and let neighbours differ by {step}." if step else ""
    easing = Relaxation(levels_n=levels_n, smallest=proven)
    return replace(no, relaxation=easing, reasons=(*no.reasons, text))


def _greedy_colours_n(graph: Graph) -> int:
    """Levels that surely do, any two of which may touch: by chessboard where there is one, else block by block."""
    if graph.two_sides is not None:
        return 2 if len(graph.edges) else 1
    grid = graph.problem.grid
    if grid is not None:
        return 4
    near = graph.neighbours
    colour = [-1] * graph.n
    for v in sorted(range(graph.n), key=lambda v: -len(near[v])):
        used = {colour[u] for u in near[v]}
        colour[v] = next(c for c in range(graph.n + 1) if c not in used)
    return max(colour, default=0) + 1


def moved(graph: Graph, quotas: IntArray, *, smallest: bool) -> Relaxation:
    """The relaxation that asks for these quotas instead."""
    gap = graph.problem.quotas - quotas
    fewer, more = int(np.maximum(gap, 0).sum()), int(np.maximum(-gap, 0).sum())
    return Relaxation(quotas=change_of(graph, quotas), moved_n=max(fewer, more), smallest=smallest)


def change_of(graph: Graph, quotas: IntArray) -> tuple[QuotaChange, ...]:
    """What to change in the problem's quotas to have these."""
    gap = quotas - graph.problem.quotas
    return tuple(
        QuotaChange(group=g, level=level, change_n=int(gap[g, level])) for g, level in np.argwhere(gap != 0).tolist()
    )


def quota_words(graph: Graph, easing: Relaxation) -> str:
    """The quota changes as one sentence."""
    parts = []
    for change in sorted(easing.quotas, key=lambda c: (c.change_n > 0, c.group, c.level)):
        name = graph.problem.group_name(change.group)
        what = f"{abs(change.change_n):,} {'more' if change.change_n > 0 else 'fewer'} of level "
        parts.append(what + graph.problem.level_name(change.level) + (f" among {name}" if name else ""))
    least = "Nothing less will do." if easing.smallest else "Less may do; that is not proven."
    return f"Ask for {', '.join(parts)}. {least}"


def _freed_words(graph: Graph, easing: Relaxation) -> str:
    parts = []
    if easing.released:
        where = ", ".join(graph.problem.block_name(v) for v in easing.released)
        parts.append(f"let the {'pin' if len(easing.released) == 1 else 'pins'} at {where} go")
    if easing.widened:
        where = ", ".join(graph.problem.block_name(v) for v in easing.widened)
        parts.append(f"allow more levels at {where}")
    text = " and ".join(parts)
    least = "Nothing less will do." if easing.smallest else "Less may do; that is not proven."
    more = f" {quota_words(graph, easing)}" if easing.quotas else ""
    return f"{text[:1].upper()}{text[1:]}. {least}{more}"
