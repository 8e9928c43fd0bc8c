"""What a remedy costs: what a plan with it has more, or less, than the plan without."""

from __future__ import annotations

from bossage.checks import Price
from bossage.plan import Plan
from bossage.units import format_mass, format_money


def price_of(before: Plan, after: Plan) -> Price:
    """The difference of two plans."""
    one, other = before.layout.leaves[0], after.layout.leaves[0]
    return Price(
        blocks=after.layout.blocks.count - before.layout.blocks.count,
        leaves=_leaves(after) - _leaves(before),
        columns=other.columns - one.columns,
        rows=other.rows - one.rows,
        mass_g=_mass_g(after) - _mass_g(before),
        materials_cents=_materials_cents(after) - _materials_cents(before),
        unpriced=after.cost.unpriced - before.cost.unpriced,
        hours=after.cost.hours - before.cost.hours,
    )


def price_words(price: Price, unit: str, currency: str) -> str:
    """A price as a sentence: `It costs a row, 16 blocks, 0.9 kg and €4.00, and saves 0.5 hours.`"""
    figures = (
        (price.leaves, _counted(price.leaves, "leaf", "leaves")),
        (price.columns, _counted(price.columns, "column", "columns")),
        (price.rows, _counted(price.rows, "row", "rows")),
        (price.blocks, _counted(price.blocks, "block", "blocks")),
        (price.mass_g, _unless_nothing(format_mass(abs(price.mass_g), unit))),
        (price.materials_cents, format_money(abs(price.materials_cents), currency)),
        (price.unpriced, _counted(price.unpriced, "line without a price", "lines without a price")),
        (price.hours, _unless_nothing(f"{abs(price.hours):.1f} hours")),
    )
    costs = [words for figure, words in figures if figure > 0 and words]
    saves = [words for figure, words in figures if figure < 0 and words]
    if not costs and not saves:
        return "It costs nothing."
    said = [f"{verb} {_listed(words)}" for verb, words in (("costs", costs), ("saves", saves)) if words]
    return f"It {', and '.join(said)}."


def _leaves(plan: Plan) -> int:
    return len(plan.layout.leaves) // plan.brief.piece.copies


def _mass_g(plan: Plan) -> float:
    return sum(leaf.total_g for leaf in plan.hang.leaf_masses)


def _materials_cents(plan: Plan) -> int:
    return plan.cost.materials_cents + plan.cost.shims_cents


def _counted(count: int, one: str, many: str) -> str:
    if abs(count) == 1:
        return f"a {one}"
    return f"{abs(count):,} {many}"


def _unless_nothing(words: str) -> str:
    """The words, or none where the figure is rounded to nothing."""
    return "" if float(words.split(maxsplit=1)[0].replace(",", "")) == 0 else words


def _listed(words: list[str]) -> str:
    return " and ".join(words) if len(words) < 3 else f"{', '.join(words[:-1])} and {words[-1]}"
