"""What one fixing may carry, and the link that says how hard the hardest-worked of them is worked."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.fasteners import Anchor, AnchorKind, AnchorUse, anchor_use, combined_use
from bossage.hang.case import Case, link
from bossage.hang.records import Factor, Link, Load


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What one fixing may carry, all factors inside. `kind` None: a screw in wood. `pull_n` None: nobody has said."""

    kind: AnchorKind | None
    pull_n: float | None
    shear_n: float
    basis: str
    factors: tuple[Factor, ...]
    source: str

    def use(self, load: Load) -> float | None:
        """Share of what is allowed that a load uses up; None where the fixing is pulled and has no figure for that."""
        if load.whole_n == 0:
            return 0.0
        if self.kind is None:
            assert self.pull_n is not None
            return combined_use(load.pull_n, load.shear_n, self.pull_n, self.shear_n)
        anchor = Anchor(kind=self.kind, pull_n=self.pull_n, shear_n=self.shear_n)
        found = anchor_use(anchor, load.pull_n, load.shear_n)
        return found.both if isinstance(found, AnchorUse) else None

    def margin(self, load: Load) -> float:
        """Allowable over demand; nothing where a pull has no figure, no end where there is no load."""
        used = self.use(load)
        return 0.0 if used is None else math.inf if used == 0 else 1 / used


def hold_link(
    case: Case, name: str, part: str, hold: Hold | str, load: Load, *, assumptions: tuple[str, ...] = ()
) -> Link:
    """The link of the hardest-worked fixing, its pull and its shear apart.

    Args:
        case: The leaf.
        name: Of the link.
        part: Which fixing it is.
        hold: What one may carry, or why nothing is counted on.
        load: On that fixing.
        assumptions: Printed beside the figures.
    """
    if isinstance(hold, str):
        return _nothing(case, name, part, hold, load, assumptions)
    used = hold.use(load)
    if used is None:
        reason = (
            f"each is pulled out of the wall by {case.voice.bare_force(load.pull_n)}, and the brief has no figure for "
            "its pull: a load along the wall says nothing of it"
        )
        return _nothing(case, name, part, reason, load, assumptions, shear_allowable_n=hold.shear_n)
    return link(
        case,
        name,
        part=part,
        demand_n=load.whole_n,
        allowable_n=load.whole_n / used if used else math.inf,
        basis=hold.basis,
        factors=hold.factors,
        assumptions=assumptions,
        source=hold.source,
        load=load,
        pull_allowable_n=hold.pull_n,
        shear_allowable_n=hold.shear_n,
    )


def _nothing(
    case: Case,
    name: str,
    part: str,
    reason: str,
    load: Load,
    assumptions: tuple[str, ...],
    shear_allowable_n: float | None = None,
) -> Link:
    return link(
        case,
        name,
        part=part,
        demand_n=max(load.whole_n, 1e-9),
        allowable_n=0.0,
        basis=f"nothing is counted on: {reason}",
        assumptions=assumptions,
        source="",
        load=load,
        shear_allowable_n=shear_allowable_n,
    )
