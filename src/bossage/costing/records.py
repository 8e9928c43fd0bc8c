"""What `costing` gives: the shopping list, the hours, the price of the job."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.checks import Check
from bossage.units import format_money


@dataclass(frozen=True, slots=True, kw_only=True)
class ShoppingLine:
    """One thing to buy. `cents` is None where the brief gives no price; `amount` is in the piece's own units.

    `for_what` groups the lines: wood, boards, paint, glue, fixings, other. `parts` are parts of the body that are
    bought as such on this line, each as `leaf/copy/name`.
    """

    what: str
    amount: str
    for_what: str
    each_cents: int | None
    cents: int | None
    note: str
    parts: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class StepHours:
    """Hours of one step of the work over the whole job, repeats at their discount."""

    step: str
    minutes_per_block: float
    hours: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Quote:
    """A price for a client: labour with overhead and contingency, materials with their markup."""

    hourly_cents: int
    labour_cents: int
    overhead_cents: int
    contingency_cents: int
    materials_cents: int
    markup_cents: int
    total_cents: int
    each_cents: int
    deposit_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cost:
    """Money and hours. `first_h` is what the first copy of a series takes, `hours` the whole job."""

    shopping: tuple[ShoppingLine, ...]
    materials_cents: int
    shims: tuple[ShoppingLine, ...]  # sticks and boards bought for shims alone: tools of the press, not of the piece
    shims_cents: int  # not in `materials_cents`
    unpriced: int  # lines of both lists without a price, in neither sum
    steps: tuple[StepHours, ...]
    fixed_h: float
    first_h: float
    hours: float
    if_compounded_h: float  # what a discount on the discounted hours would give; for comparison
    budget_left_cents: int | None  # None without a budget, and where nothing has a price
    quote: Quote | None
    checks: tuple[Check, ...]

    @property
    def reckoned(self) -> bool:
        """Whether anything at all has a price."""
        return any(line.cents is not None for line in (*self.shopping, *self.shims))


def materials_words(cost: Cost, currency: str) -> str:
    """What the materials come to: `€142.70`; `not known` where nothing has a price."""
    return format_money(cost.materials_cents, currency) if cost.reckoned else "not known"
