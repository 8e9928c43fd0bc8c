"""Sinkhorn scaling: the fair law of two neighbours' levels, P(i, j) ~ u_i u_j over levels that may touch."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.relief.problem.graph import Graph
from bossage.relief.problem.records import FloatArray, IntArray

SINKHORN_ROUNDS = 200
SINKHORN_STILL = 1e-13  # far below the digits that are kept


def fair_moran(graph: Graph, law: FloatArray) -> float:
    """I* of the fair pair law: what Moran's I of neighbours' levels is under it (Moran 1950; Cliff and Ord 1981)."""
    counts = graph.problem.quotas.sum(axis=0)
    rank = np.arange(graph.L) - float((np.arange(graph.L) * counts).sum()) / max(1, graph.n)
    var = float((rank * rank * counts).sum()) / max(1, graph.n)
    return float((law * rank[:, None] * rank[None, :]).sum()) / var if var > 0 else 0.0


def pair_law(graph: Graph, edges: IntArray) -> FloatArray:
    """The fair law of the levels of two neighbours, symmetric, adding up to 1.

    Blocks of different quota groups have each their own shares, so the law is made for every pair of groups and
    summed by how often the groups touch.
    """
    law = np.zeros((graph.L, graph.L))
    if not len(edges):
        return law
    ends = np.sort(graph.group[edges], axis=1)
    kinds, times = np.unique(ends, axis=0, return_counts=True)
    shares = graph.problem.quotas / np.maximum(1, graph.problem.quotas.sum(axis=1))[:, None]
    parts = _scaled(~graph.conflict, shares[kinds[:, 0]], shares[kinds[:, 1]])
    for part, count in zip(parts, times.tolist(), strict=True):
        law += count / len(edges) * (part + part.T) / 2
    return law


def _scaled(may: NDArray[np.bool_], a: FloatArray, b: FloatArray) -> FloatArray:
    """For every pair of shares (rows of `a` and `b`) the law with those sums, all at once."""
    law = may * (a[:, :, None] * b[:, None, :])
    for _ in range(SINKHORN_ROUNDS):
        before = law.copy()
        rows = law.sum(axis=2)
        law *= np.divide(a, rows, out=np.zeros_like(a), where=rows > 0)[:, :, None]
        cols = law.sum(axis=1)
        law *= np.divide(b, cols, out=np.zeros_like(b), where=cols > 0)[:, None, :]
        if np.abs(law - before).max(initial=0.0) < SINKHORN_STILL:
            break
    total = law.sum(axis=(1, 2), keepdims=True)
    scaled: FloatArray = np.divide(law, total, out=law, where=total > 0)
    return scaled
