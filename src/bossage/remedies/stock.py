"""Ways that add wood: sticks where the blocks or the shims find none, a thicker lowest level."""

from __future__ import annotations

from bossage.brief.records import LengthUnit, StickStock
from bossage.checks import Check, Edit, EditValue
from bossage.layout.edits import toml_length
from bossage.plan import Plan
from bossage.remedies.way import Way, Ways, up_to_mark
from bossage.saw import thinnest_nm
from bossage.units import format_length


def more_sticks(plan: Plan, check: Check) -> Ways:
    """As many more sticks of the section as the slices that find none need, or one just long enough for them."""
    cut = next((cut for cut in plan.saw.sections if cut.section == check.subject), None)
    shims = plan.press.shim_cut
    short = cut.shortfall if check.stage == "saw" and cut is not None else shims.shortfall if shims else None
    stocks = [stick for stick in plan.brief.sticks if stick.name == check.subject]
    if short is None or not stocks:
        return
    like = next((stick for stick in stocks if not stick.owned), stocks[0])
    usable = like.length_nm - like.trim_nm - like.stub_nm
    for cure in short.cures:
        if cure.buy_nm is not None and cure.buy_nm < like.length_nm:
            yield _bought(plan, like, 1, up_to_mark(plan, cure.buy_nm))
    if usable > 0:
        fewest = max(1, -(-short.short_nm // usable))
        for count in (fewest, fewest + 1, fewest + 2):
            yield _bought(plan, like, count, like.length_nm)


def _bought(plan: Plan, like: StickStock, count: int, length_nm: int) -> Way:
    """So many sticks like one that is known, of that length, to be bought."""
    unit = plan.brief.piece.unit
    entry: dict[str, EditValue] = {
        "name": like.name,
        "width": toml_length(like.section_width_nm, unit),
        "height": toml_length(like.section_height_nm, unit),
        "bought_as": like.bought_as,
        "length": toml_length(length_nm, unit),
        "count": count,
        "trim": toml_length(like.trim_nm, unit),
        "stub": toml_length(like.stub_nm, unit),
        "spares": like.spares_pct,
        "species": like.species,
    }
    if like.price_cents is not None and not like.owned and length_nm == like.length_nm:
        entry["price"] = like.price_cents / 100
    sticks = "one more stick" if count == 1 else f"{count} more sticks"
    words = f"Buy {sticks} of {like.name}, {format_length(length_nm, unit.value)} long"
    return Way(words=words, edits=(Edit(op="append", path=("stick",), value=entry),))


def thicker_lowest(plan: Plan, check: Check) -> Ways:
    """The lowest level as thick as its face asks for; nothing where that reaches the next level."""
    cut = next((cut for cut in plan.saw.sections if cut.section == check.subject), None)
    levels, unit = plan.brief.blocks.levels_nm, plan.brief.piece.unit
    if cut is None:
        return
    wanted = up_to_mark(plan, thinnest_nm(cut))
    if len(levels) > 1 and wanted >= levels[1]:
        return
    new = (wanted, *levels[1:])
    edits = [Edit(op="set", path=("blocks", "levels"), value=[toml_length(nm, unit) for nm in new])]
    if plan.brief.blocks.ring_quotas is not None:
        edits.append(_by_height(("blocks", "ring_quotas"), new, plan.brief.blocks.ring_quotas, unit))
    for number, footprint in enumerate(plan.brief.blocks.footprints):
        if footprint.quotas is not None:
            edits.append(_by_height(("footprint", number, "quotas"), new, footprint.quotas, unit))
    yield Way(words=f"Raise the lowest level to {format_length(wanted, unit.value)}", edits=tuple(edits))


def _by_height(
    path: tuple[str | int, ...], levels: tuple[int, ...], numbers: tuple[int, ...], unit: LengthUnit
) -> Edit:
    """Numbers by level under the height of each, without those of none."""
    table: dict[str, EditValue] = {
        str(toml_length(nm, unit)): number for nm, number in zip(levels, numbers, strict=True) if number
    }
    return Edit(op="set", path=path, value=table)
