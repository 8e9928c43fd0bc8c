"""What one fixing may carry, and the link that says how hard the hardest-worked of them is worked."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.fasteners import Anchor, AnchorKind, AnchorUse, anchor_use, combined_use
from bossage.hang.case import Case, link
from bossage.hang.records import Factor, Link, Load

LEAST_MARGIN = 1.25
"""Asked of fixings in the wall, for what is left out of their reckoning: ours. Each of these alone takes some of it:
wood that is a tenth heavier 0.91, holes 2 mm low 0.94, a wall half that bears 2 mm above its edge 0.96."""

LEFT_OUT = (
    f"a margin of {LEAST_MARGIN:g} is asked for: wood may be a tenth heavier, holes lie low, what is screwed to the "
    "wall bear above its edge, and none of that is reckoned"
)


def short_of(margin: float, least: float) -> str:
    """A margin beside the one that is asked for; one that falls short is never rounded up to it."""
    said = f"{margin:.2f}"
    if margin < least <= float(said):
        said = f"{math.floor(margin * 100) / 100:.2f}"
    return f"a margin of {said}, {least:g} is asked for"


@dataclass(frozen=True, slots=True, kw_only=True)
class Hold:
    """What one fixing may carry, all factors inside. `kind` None: a screw in wood. `pull_n` None: nobody has said.
    `shear_n` is its figure along the wall, for the rule of both at once; `along_n` is what it carries that way.

    `assumed`: the figures are ours, as the brief has none.
    """

    kind: AnchorKind | None
    pull_n: float | None
    shear_n: float
    basis: str
    factors: tuple[Factor, ...]
    source: str
    assumed: bool = False
    bends_n: float | None = None  # along the wall: a plug's screw, by its own steel over what holds nothing

    @property
    def along_n(self) -> float:
        """What it may carry straight down the wall, by itself: the lesser of its figure and of what bends its screw."""
        return self.shear_n if self.bends_n is None else min(self.shear_n, self.bends_n)

    def use(self, load: Load) -> float | None:
        """Share of what is allowed that a load uses up; None where the fixing is pulled and has no figure for that."""
        if load.whole_n == 0:
            return 0.0
        held = self._held(load)
        return held if held is None or self.bends_n is None else max(held, load.shear_n / self.bends_n)

    def _held(self, load: Load) -> float | None:
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
        return _nothing(case, name, part, reason, load, assumptions, shear_allowable_n=hold.along_n)
    return link(
        case,
        name,
        part=part,
        demand_n=load.whole_n,
        allowable_n=load.whole_n / used if used else math.inf,
        basis=hold.basis,
        factors=hold.factors,
        assumptions=(*assumptions, LEFT_OUT),
        least=LEAST_MARGIN,
        assumed=hold.assumed,
        source=hold.source,
        load=load,
        pull_allowable_n=hold.pull_n,
        shear_allowable_n=hold.along_n,
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
        least=LEAST_MARGIN,
        load=load,
        shear_allowable_n=shear_allowable_n,
    )
