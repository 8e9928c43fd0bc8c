"""What the fixings hold by themselves where a bowed leaf lies on the middle or on the ends of its cleat alone."""

from __future__ import annotations

from bossage.hang.records import BowedHold, CleatPlan
from bossage.hang.wall import WallHold


def bowed_hold(cleat: CleatPlan, hold: WallHold) -> BowedHold:
    """Margins of the fixings in the middle half of the cleat, and of those in the quarters at its ends.

    The whole load goes to the fixings there, in the proportions that they carry now.
    """
    margin = min((link.margin for link in hold.links if link.pull_n is not None), default=0.0)
    quarter = (cleat.to_nm - cleat.from_nm) / 4
    middle = [one.load_share for one in cleat.fixings if quarter <= one.x_nm - cleat.from_nm <= 3 * quarter]
    every = sum(one.load_share for one in cleat.fixings) or 1.0
    inside = min(1.0, sum(middle) / every)
    return BowedHold(
        cleat_nm=cleat.to_nm - cleat.from_nm, middle_margin=margin * inside, ends_margin=margin * (1 - inside)
    )


def least(held: BowedHold) -> float:
    """By what leaves are compared."""
    return min(held.middle_margin, held.ends_margin)
