"""How screws share a leaf: each cleat takes its own part, and the screws of one cleat share it as evenly as can be."""

from __future__ import annotations

from collections.abc import Sequence

from bossage.hang.case import Case
from bossage.hang.statics import carried_shares


def shares_of(case: Case, places_nm: Sequence[int]) -> tuple[float, ...] | None:
    """Share of the leaf that each screw carries, in the order given; None where the leaf would tip.

    A single cleat is one stiff row under the centre of gravity. Of two cleats each takes its part by the lever rule,
    as if the leaf hung by the cleat's middle, or by the screw nearest to it where none stands beyond; its own screws
    share that part.
    """
    cleat = case.cleat
    if len(cleat.pieces) == 1:
        return carried_shares([float(x) for x in places_nm], case.at_nm)
    on = [[k for k, x in enumerate(places_nm) if start <= x <= stop] for start, stop in cleat.pieces]
    if not all(on):
        return None
    holds = []
    for mine, (start, stop) in zip(on, cleat.pieces, strict=True):
        xs = [places_nm[k] for k in mine]
        holds.append(min(max((start + stop) / 2, min(xs)), max(xs)))
    parts = carried_shares(holds, case.at_nm)
    if parts is None:
        return None
    shares = [0.0] * len(places_nm)
    for mine, hold, part in zip(on, holds, parts, strict=True):
        held = carried_shares([float(places_nm[k]) for k in mine], hold)
        assert held is not None
        for k, share in zip(mine, held, strict=True):
            shares[k] = share * part
    return tuple(shares)
