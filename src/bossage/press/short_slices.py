"""Short slices, blocks and shims alike: one rule for what is too short to be sliced off end grain as usual.

And shims that are slices anyway: with block and shim as high as the lowest and the highest level together, every shim
is a level, so that the stop is set no more often.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

from bossage.brief.records import Brief
from bossage.checks import Caution, Check, Verdict
from bossage.press.records import RowCard
from bossage.press.schedule_records import Schedule
from bossage.press.shim_records import ShimNeed, ShimWay
from bossage.press.shims import shims_to_make
from bossage.relief import Relief
from bossage.units import format_length


def is_short(brief: Brief, length_nm: int) -> bool:
    """Whether a slice, block or shim, is shorter than `tools.short_slice`."""
    return length_nm < brief.tools.short_slice_nm


def check_short_slices(brief: Brief, relief: Relief, shims: tuple[ShimNeed, ...]) -> Check:
    """`short_slices`: blocks and sliced shims under the height, and how to cut them all the same."""
    unit, tools = brief.piece.unit, brief.tools
    limit = format_length(tools.short_slice_nm, unit)
    levels, lengths = relief.levels_nm, sorted(set(relief.length_nm.tolist()))
    blocks = [length for length in lengths if is_short(brief, length)]
    sliced = [need.thickness_nm for need in shims if need.section and is_short(brief, need.thickness_nm)]
    short = sorted({*blocks, *sliced})
    power = tools.saw == "power saw"
    said = ", ".join(format_length(length, unit) for length in short)
    whose = " and ".join(name for name, some in (("blocks", blocks), ("shims", sliced)) if some)
    return Check(
        stage="press",
        name="short_slices",
        title="Short slices off end grain",
        verdict=Verdict.CAUTION if short and power else Verdict.FINE,
        found=f"{whose[:1].upper()}{whose[1:]} of {said} are sliced{'' if power else ' by hand'}."
        if short
        else f"The shortest slice is {format_length(min(lengths), unit)}; thinner shims come out of board or card.",
        allowed=f"{limit} and more at a power saw.",
        why="A slice so short turns in the stop or the kerf and is thrown, and it splits where nothing backs it.",
        remedy=f"raise the lowest level to {limit}" if blocks and min(levels) < tools.short_slice_nm else "",
        care=short_slice_words(),
        source="Common practice, no source; the height is ours (tools.short_slice).",
    )


def short_slice_words() -> str:
    """How a short slice is cut, at a power saw or by hand."""
    return (
        "Swing the stop away before the cut; press the stick down with a hold-down, never with fingers; a fence with "
        "no opening but the kerf backs the slice against tear-out; let the blade come to rest before it is raised. "
        "Cut one for trial. Or cut these by hand in a mitre box."
    )


def short_slice_cautions(brief: Brief, check: Check) -> tuple[Caution, ...]:
    """The same at the saw, where the check speaks."""
    if check.verdict is Verdict.FINE:
        return ()
    text = f"{check.found} {short_slice_words()}"
    return (Caution(step="saw", text=text, source="Common practice, no source"),)


def compare_shims(
    brief: Brief, relief: Relief, cards: tuple[RowCard, ...], found: Schedule, chosen: tuple[ShimNeed, ...]
) -> tuple[ShimWay, ...]:
    """Shims up to the highest level, beside shims that are all levels; empty where the second way does not go.

    It goes where the lowest and the highest level together, less any level, are a level again.
    """
    levels = set(relief.levels_nm)
    low, high = min(levels), max(levels)
    if len(levels) < 2 or any(low + high - level not in levels for level in levels):
        return ()
    usual = Counter({need.thickness_nm: need.to_make for need in chosen})
    raised = tuple(
        replace(
            card,
            batches=tuple(
                replace(batch, blocks=tuple(replace(one, shim_nm=one.shim_nm + low) for one in batch.blocks))
                for batch in card.batches
            ),
        )
        for card in cards
    )
    return (
        _way(brief, "up to the highest level", usual, levels),
        _way(brief, "every shim a level", shims_to_make(brief, raised, found), levels),
    )


def _way(brief: Brief, name: str, shims: Counter[int], levels: set[int]) -> ShimWay:
    """Settings that are added at the saw, the wood of sliced shims with their kerfs, and what is not sliced."""
    sliced = {thickness: count for thickness, count in shims.items() if not is_short(brief, thickness)}
    return ShimWay(
        name=name,
        settings_added=len(set(sliced) - levels),
        count=sum(shims.values()),
        sliced=sum(sliced.values()),
        wood_nm=sum((thickness + brief.tools.kerf_nm) * count for thickness, count in sliced.items()),
    )
