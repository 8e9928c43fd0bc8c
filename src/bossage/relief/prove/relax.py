"""The least that has to be given up where no field exists."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

import numpy as np

from bossage.relief.draw.grid_classes import draw_by_classes
from bossage.relief.draw.on_graph import draw_on_graph
from bossage.relief.exact.cp_sat import fewest_colours, fewest_moved, fewest_released, nearest_quotas
from bossage.relief.order.chess import Chess, chess_ways, draw_chess, grown_higher, growth_orders, least_higher
from bossage.relief.order.regions import SWEEP_WORK
from bossage.relief.order.stripes import fitting_stripes, four_levels, nearest_stripes
from bossage.relief.problem.field import counts_of
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.limits import suits_classes, suits_cp_sat
from bossage.relief.problem.records import Effort, IntArray, NoField, Proof, QuotaChange, Relaxation
from bossage.relief.problem.verdict import Finding
from bossage.relief.prove.arguments import first_proofs, later_proofs
from bossage.relief.prove.chess import hold_chess

RELAX_UNITS = 15.0  # deterministic time that the least relaxation may take
SEARCHED_UP_TO = 100  # blocks up to which a relaxation that is near the least is searched for a better one
CUTS = 60  # arguments collected about quotas before the search for others is left to CP-SAT
TRIES = Effort(repair_rounds=1500, draws=2, sweeps=0)
SHORT_TRIES = Effort(repair_rounds=120, draws=1, sweeps=0)  # about what a program takes instead


def with_relaxation(graph: Graph, found: Finding, effort: Effort) -> NoField:
    """Add to a verdict the least change after which a field exists, and a sentence that says so.

    Moving blocks between levels comes first; only where no quotas at all would do are pins let go or choices widened.
    The proofs give what quotas have to keep; the nearest quotas that keep it are drawn for a test. If
    these hold, nothing less can. If not, CP-SAT looks for the fewest moves on graphs small enough.
    """
    no = _with_easing(graph, found, effort)
    words = f"{found.gap:,} fewer will do" if found.gap else ""
    if words and (no.relaxation is None or no.relaxation.moved > found.gap):
        # The argument gives a bound; only a field that meets it may promise that so many will do.
        first = no.reasons[0].replace(words, f"{found.gap:,} fewer at the least")
        no = replace(no, reasons=(first, *no.reasons[1:]))
    return no


def _with_easing(graph: Graph, found: Finding, effort: Effort) -> NoField:
    no, least, quotas_exist = found.no, 0, True
    if no.proof is Proof.FEW_LEVELS:
        return _with_levels(graph, no, effort)
    if no.proof is not Proof.EMPTIED and not (no.proof is Proof.PINS and found.cut is None):
        easing, least, quotas_exist = _nearest(graph, found)
        if easing:
            return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(graph, easing)))
        if not suits_cp_sat(graph):
            return no
        exact = fewest_moved(graph, units=min(effort.exact_units, RELAX_UNITS), least=least) if quotas_exist else None
        if exact and exact.levels is not None:
            easing = moved(graph, counts_of(graph, exact.levels), smallest=exact.best)
            return replace(no, relaxation=easing, reasons=(*no.reasons, quota_words(graph, easing)))
        if exact and not exact.best:
            return no
    return _with_freed(graph, no, effort) if suits_cp_sat(graph) else no


def _nearest(graph: Graph, found: Finding) -> tuple[Relaxation | None, int, bool]:
    """Quotas that hold with a lower bound of moves that they reach; the bound; whether any quotas keep the proofs."""
    cuts = [found.cut] if found.cut else []
    least = 0
    ways = chess_ways(graph)
    if ways:
        return _on_chessboard(graph, ways, [(c.coef, c.most) for c in cuts])
    if found.no.proof is Proof.SEARCH:
        return None, 1, True
    levels = four_levels(graph)
    if levels is not None:
        return _instead(graph, nearest_stripes(graph, levels)[1].reshape(1, -1))
    for _ in range(CUTS):
        near = nearest_quotas(graph, [(c.coef, c.most) for c in cuts])
        if near is None:
            return None, least, False
        quotas, least = near
        trial = Graph(problem=replace(graph.problem, quotas=quotas))
        again = first_proofs(trial) or later_proofs(trial, with_solver=True)
        if again is None:
            return (moved(graph, quotas, smallest=True) if _exists(trial) else None), least, True
        if again.cut is None:
            return None, least, True
        cuts.append(again.cut)
    return None, least, True


def _exists(trial: Graph) -> bool:
    """Whether a field is found: a short draw first, then on small graphs by a program in whole numbers."""
    rng = np.random.Generator(np.random.PCG64(trial.problem.seed))
    if suits_classes(trial):
        return draw_by_classes(trial, rng, TRIES) is not None
    if not suits_cp_sat(trial):
        return draw_on_graph(trial, rng, TRIES) is not None
    from bossage.relief.exact.linear import some_field

    return draw_on_graph(trial, rng, SHORT_TRIES) is not None or some_field(trial) is not None


def _on_chessboard(
    graph: Graph, ways: list[Chess], cuts: list[tuple[IntArray, int]]
) -> tuple[Relaxation | None, int, bool]:
    """The nearest quotas that a chessboard of low and high can have, if a field with them can be drawn."""
    near = []
    for way in ways:
        leasts = [least_higher(graph, way, step, work=SWEEP_WORK) for step in way.steps]
        near.append(nearest_quotas(graph, cuts, partial(hold_chess, graph, way, leasts)))
    least = min((found[1] for found in near if found), default=0)
    rng = np.random.Generator(np.random.PCG64(graph.problem.seed))
    for way, found in zip(ways, near, strict=True):
        if found and found[1] == least and _drawn_chess(graph, way, found[0], rng):
            return moved(graph, found[0], smallest=True), least, True
    quotas = _grown_quotas(graph, ways, cuts, least, rng) if any(near) else None
    if quotas is None:
        return None, least, any(near)
    easing = moved(graph, quotas, smallest=False)
    if easing.moved == least:
        return replace(easing, smallest=True), least, True
    return (easing if graph.n > SEARCHED_UP_TO else None), least, True


def _drawn_chess(graph: Graph, way: Chess, quotas: IntArray, rng: np.random.Generator) -> bool:
    trial = Graph(problem=replace(graph.problem, quotas=quotas))
    trial.narrow(graph.choice)
    return draw_chess(trial, [way], rng) is not None


def _grown_quotas(
    graph: Graph, ways: list[Chess], cuts: list[tuple[IntArray, int]], least: int, rng: np.random.Generator
) -> IntArray | None:
    """The nearest quotas that regions grown from some side or corner have, if not the nearest of all."""
    best, best_moved = None, graph.n + 1
    for way in ways:
        for order in growth_orders(graph, way, rng):
            grown = [grown_higher(graph, way, step, order) for step in way.steps]
            hold = partial(hold_chess, graph, way, grown)
            found = nearest_quotas(graph, cuts, hold, within=(least, best_moved - 1))
            if found and _drawn_chess(graph, way, found[0], rng):
                best, best_moved = found
                if best_moved == least:
                    return best
    return best


def _instead(graph: Graph, quotas: IntArray) -> tuple[Relaxation | None, int, bool]:
    """The nearest quotas of an argument that names them: the least that can do, if a field has them."""
    trial = Graph(problem=replace(graph.problem, quotas=quotas))
    least = int(np.maximum(graph.problem.quotas - quotas, 0).sum())
    if first_proofs(trial) or later_proofs(trial, with_solver=False):
        return None, least, True
    kinds = fitting_stripes(trial, four_levels(trial) or [])
    plain = graph.problem.pins is None and graph.problem.allowed is None
    return (moved(graph, quotas, smallest=True) if kinds and plain else None), least, True


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
            moved=sum(c.change for c in change if c.change > 0),
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
    touching = len(no.blocks) if no.proof is Proof.FEW_LEVELS else 2
    greedy, least = _greedy_colours(graph), max(2, touching)
    colours, proven = greedy, greedy == least
    if not proven and suits_cp_sat(graph):
        units = min(effort.exact_units, RELAX_UNITS)
        colours, proven = fewest_colours(graph, least, greedy, units=units)
    level_count = (colours - 1) * graph.problem.min_step + 1
    if level_count <= graph.L:
        return replace(no, reasons=(*no.reasons, f"{start}: add a level, or make the rule looser."))
    text = f"{start}; with {level_count} levels there are some that do."
    if graph.problem.min_step > 1:
        step = (graph.L - 1) // (colours - 1)
        text += f" Or keep these and let neighbours differ by {step}." if step else ""
    easing = Relaxation(level_count=level_count, smallest=proven)
    return replace(no, relaxation=easing, reasons=(*no.reasons, text))


def _greedy_colours(graph: Graph) -> int:
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
    return Relaxation(quotas=change_of(graph, quotas), moved=max(fewer, more), smallest=smallest)


def change_of(graph: Graph, quotas: IntArray) -> tuple[QuotaChange, ...]:
    """What to change in the problem's quotas to have these."""
    gap = quotas - graph.problem.quotas
    return tuple(
        QuotaChange(group=g, level=level, change=int(gap[g, level])) for g, level in np.argwhere(gap != 0).tolist()
    )


def quota_words(graph: Graph, easing: Relaxation) -> str:
    """The quota changes as one sentence."""
    parts = []
    for change in sorted(easing.quotas, key=lambda c: (c.change > 0, c.group, c.level)):
        name = graph.problem.group_name(change.group)
        what = f"{abs(change.change):,} {'more' if change.change > 0 else 'fewer'} of level "
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
