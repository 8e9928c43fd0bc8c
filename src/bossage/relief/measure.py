"""How random a field looks, measured against what is fair under the rule that neighbours differ.

Neighbours that must differ are negatively correlated by nature, so nothing here is compared with 0: the reference is
the pair law P(i, j) ~ u_i u_j over the pairs of levels that may touch, scaled to the quotas (Sinkhorn 1964), and the
correlation I* that follows from it (Moran 1950; Cliff and Ord 1981). On plain grids rows and columns are measured
apart and the patterns that an eye catches are counted; on other graphs blocks two steps apart take their place.
"""

from __future__ import annotations

from dataclasses import dataclass, fields, replace

import numpy as np

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.pair_law import fair_moran, pair_law
from bossage.relief.problem.records import FloatArray, GridShape, HeightProblem, IntArray

DIGITS = 9  # figures are rounded so that no last bit of a float differs between machines


@dataclass(frozen=True, slots=True, kw_only=True)
class Randomness:
    """Figures of one field; those that a graph without a grid does not have are None.

    Attributes:
        moran: Correlation of neighbours' levels (by rank), Moran's I.
        moran_fair: What I is under the fair pair law, I*.
        pair_distance: Total variation distance of the observed pairs of neighbours from the fair pair law, 0 to 1.
        two_apart: Correlation of blocks two steps apart (neighbour of a neighbour, not a neighbour).
        moran_rows, moran_cols, pair_distance_rows, pair_distance_cols: The same for neighbours in a row or column.
        lag2_rows, lag2_cols: Correlation two cells along.
        diagonal, antidiagonal: Correlation one cell across and one down, and the other way.
        alternation: Share of 2 x 2 cells that read a b / b a.
        abab_rows, abab_cols: Share of runs of 4 that read a b a b.
        peak: Highest line of the periodogram over (mean line x ln N); about 1 when no wave stands out.
        drift: Correlation of a cell with the mean of the 5 x 5 cells round it, its 3 x 3 left out; high in clumps.
    """

    moran: float
    moran_fair: float
    pair_distance: float
    two_apart: float
    moran_rows: float | None = None
    moran_cols: float | None = None
    pair_distance_rows: float | None = None
    pair_distance_cols: float | None = None
    lag2_rows: float | None = None
    lag2_cols: float | None = None
    diagonal: float | None = None
    antidiagonal: float | None = None
    alternation: float | None = None
    abab_rows: float | None = None
    abab_cols: float | None = None
    peak: float | None = None
    drift: float | None = None

    def figures(self) -> dict[str, float]:
        """All figures that this field has, by name."""
        pairs = ((f.name, getattr(self, f.name)) for f in fields(self))
        return {name: value for name, value in pairs if value is not None}


def measure_randomness(problem: HeightProblem, levels: IntArray) -> Randomness:
    """Measure a field against the fair pair law of its problem; see `Randomness` for the figures."""
    return measured(frame_of(Graph(problem=problem)), levels)


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """What all fields of one problem are measured against; made once."""

    graph: Graph
    edges: IntArray
    law: FloatArray
    second: IntArray


def frame_of(graph: Graph) -> Frame:
    """The pairs of neighbours, their fair law, and the pairs two steps apart."""
    edges = np.asarray(graph.problem.edges, dtype=np.int64).reshape(-1, 2)
    return Frame(graph=graph, edges=edges, law=pair_law(graph, edges), second=_second_neighbours(graph))


def measured(frame: Frame, levels: IntArray) -> Randomness:
    """The figures of a field of the problem behind a frame."""
    graph, problem, edges, law = frame.graph, frame.graph.problem, frame.edges, frame.law
    z = levels - levels.mean() if graph.n else np.zeros(0)
    var = float((z * z).mean()) if graph.n else 0.0
    figures = Randomness(
        moran=rounded(_along(z, edges, var)),
        moran_fair=rounded(fair_moran(graph, law)),
        pair_distance=rounded(_distance(levels, edges, law)),
        two_apart=rounded(_along(z, frame.second, var)),
    )
    if problem.grid is None:
        return figures
    return _on_grid(figures, problem.grid, levels, z, var, law)


def _along(z: FloatArray, pairs: IntArray, var: float) -> float:
    if not len(pairs):
        return 0.0
    return _ratio(float((z[pairs[:, 0]] * z[pairs[:, 1]]).mean()), var)


def _ratio(part: float, whole: float) -> float:
    return part / whole if whole > 0 else 0.0


def rounded(x: float) -> float:
    """A figure without the last digits, in which machines may differ."""
    return round(float(x), DIGITS) + 0.0


def _distance(levels: IntArray, pairs: IntArray, law: FloatArray) -> float:
    if not len(pairs):
        return 0.0
    L = len(law)
    seen = np.bincount(levels[pairs[:, 0]] * L + levels[pairs[:, 1]], minlength=L * L).reshape(L, L) / len(pairs)
    return float(np.abs((seen + seen.T) / 2 - law).sum() / 2)


def _second_neighbours(graph: Graph) -> IntArray:
    """Pairs with a neighbour in common that are no neighbours themselves, each once."""
    table = graph.padded
    width = table.shape[1]
    parts = []
    for i in range(width):
        for j in range(i + 1, width):
            both = (table[:, i] < graph.n) & (table[:, j] < graph.n)
            parts.append(np.stack([table[both, i], table[both, j]], axis=1))
    if not parts:
        return np.zeros((0, 2), dtype=np.int64)
    pairs = np.sort(np.concatenate(parts), axis=1)
    key = np.unique(pairs[:, 0] * graph.n + pairs[:, 1])
    touching = graph.edges[:, 0] * graph.n + graph.edges[:, 1]
    key = key[~np.isin(key, touching)]
    return np.stack([key // graph.n, key % graph.n], axis=1)


def _on_grid(
    figures: Randomness, grid: GridShape, levels: IntArray, z: FloatArray, var: float, law: FloatArray
) -> Randomness:
    block = grid.block

    def pairs(down: int, right: int) -> IntArray:
        rows, cols = block.shape
        if down >= rows or abs(right) >= cols:
            return np.zeros((0, 2), dtype=np.int64)
        here = block[: rows - down, max(0, -right) : cols - max(0, right)]
        there = block[down:, max(0, right) : cols - max(0, -right)]
        both = (here >= 0) & (there >= 0)
        return np.stack([here[both], there[both]], axis=1)

    def correlation(down: int, right: int) -> float:
        return rounded(_along(z, pairs(down, right), var))

    cells = np.where(block >= 0, levels[np.maximum(block, 0)], -1)
    return replace(
        figures,
        moran_rows=correlation(0, 1),
        moran_cols=correlation(1, 0),
        pair_distance_rows=rounded(_distance(levels, pairs(0, 1), law)),
        pair_distance_cols=rounded(_distance(levels, pairs(1, 0), law)),
        lag2_rows=correlation(0, 2),
        lag2_cols=correlation(2, 0),
        diagonal=correlation(1, 1),
        antidiagonal=correlation(1, -1),
        alternation=rounded(_alternation(cells)),
        abab_rows=rounded(_abab(cells)),
        abab_cols=rounded(_abab(cells.T)),
        peak=rounded(_peak(block, z)),
        drift=rounded(_drift(block, z, var)),
    )


def _alternation(cells: IntArray) -> float:
    a, b, c, d = cells[:-1, :-1], cells[:-1, 1:], cells[1:, :-1], cells[1:, 1:]
    whole = (a >= 0) & (b >= 0) & (c >= 0) & (d >= 0)
    return _ratio(float((whole & (a == d) & (b == c)).sum()), float(whole.sum()))


def _abab(cells: IntArray) -> float:
    a, b, c, d = cells[:, :-3], cells[:, 1:-2], cells[:, 2:-1], cells[:, 3:]
    whole = (a >= 0) & (b >= 0) & (c >= 0) & (d >= 0)
    return _ratio(float((whole & (a == c) & (b == d)).sum()), float(whole.sum()))


def _peak(block: IntArray, z: FloatArray) -> float:
    field = np.where(block >= 0, z[np.maximum(block, 0)], 0.0)
    power = np.abs(np.fft.rfft2(field)) ** 2
    power[0, 0] = 0.0
    mean = float((field * field).sum())  # Parseval: the mean line over all N of them
    if field.size < 3 or mean <= 0:
        return 0.0
    return float(power.max()) / (mean * float(np.log(field.size)))


def _drift(block: IntArray, z: FloatArray, var: float) -> float:
    """A clump is a region that stands high or low as a whole, whatever its neighbours do."""
    there = (block >= 0).astype(np.float64)
    field = np.where(block >= 0, z[np.maximum(block, 0)], 0.0)
    near, count = _box(field, 2) - _box(field, 1), _box(there, 2) - _box(there, 1)
    mean = np.divide(near, count, out=np.zeros_like(near), where=count > 0)
    return _ratio(float((field * mean).sum()) / max(1.0, float(there.sum())), var)


def _box(x: FloatArray, reach: int) -> FloatArray:
    """Sum over the square of cells within reach."""
    wide = np.pad(x, ((reach + 1, reach), (reach + 1, reach)))
    total = wide.cumsum(axis=0).cumsum(axis=1)
    side = 2 * reach + 1
    out: FloatArray = total[side:, side:] - total[:-side, side:] - total[side:, :-side] + total[:-side, :-side]
    return out
