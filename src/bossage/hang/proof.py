"""What is hung on the wall half as a trial, so that its fixings feel the pull of the leaf and not its weight alone."""

from __future__ import annotations

from bossage.hang.case import Case
from bossage.hang.holds import LEAST_MARGIN
from bossage.hang.prying import turning_nmm
from bossage.hang.statics import mass_of_g, wedge_n
from bossage.hang.wall_records import ProofLoad

WAXED_FRICTION = 0.2
"""Between bevels that are rubbed with candle wax, no more: ours. Waxed wood slides at about 0.2 (from memory)."""


def proof_load(case: Case) -> ProofLoad:
    """Weights for each piece of the wall half, hung from the loose panel half that sits in its bevel.

    The bevel pushes the wall half out in proportion to what hangs on it, less by friction. The weights are so many
    that all fixings together are pulled `LEAST_MARGIN` times as hard as the leaf will pull them for good, without any
    friction; they carry at least as much more of its weight. Straps over the wall half alone would pull at its
    fixings about half as hard.

    A metal cleat has no bevel: it carries the weights, and is drawn straight out with a hand scale.

    Source:
        Moments about the lower edge of the wall half, `prying.turning_nmm`.
    """
    weight = case.weight_n * LEAST_MARGIN
    if case.brief.cleat.kind == "metal":
        shares = tuple(mass_of_g(weight * share) for share in case.cleat_shares)
        return ProofLoad(weights_g=shares, pull_g=mass_of_g(case.thrust_n * LEAST_MARGIN))
    asked = turning_nmm(case, case.weight_n, case.thrust_n) * LEAST_MARGIN
    each = turning_nmm(case, 1.0, wedge_n(1.0, case.brief.cleat.bevel_deg, WAXED_FRICTION))
    whole = max(weight, asked / each)
    return ProofLoad(weights_g=tuple(mass_of_g(whole * share) for share in case.cleat_shares), pull_g=None)
