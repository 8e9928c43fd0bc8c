"""Footprints that truly tile: sets of measured sizes whose rows come out equally long.

Nominal sizes rarely do: 1-1/2 + 1-1/2 is not 3-1/2. European planed widths do at equal piece counts
(70 + 70 = 95 + 45), Australasian ones as exact multiples (45 and 90). Only measured sizes count.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations_with_replacement
from math import gcd

from bossage.brief.records import Brief, Fill
from bossage.checks import Check, Verdict
from bossage.layout.fill import fills_of, template_of
from bossage.layout.words import Voice

PIECES_MOST = 6
PIECES_NEAR = 4  # of a row that is held against another within their spread: more, and nearly all are near


@dataclass(frozen=True, slots=True, kw_only=True)
class RowSet:
    """Rows of measured sizes that are equally long, gaps counted: each row largest first."""

    length_nm: int
    rows: tuple[tuple[int, ...], ...]
    off_nm: int = 0  # by how much the longest row is longer, where only the spread of the pieces makes them equal

    @property
    def pieces(self) -> int:
        """Pieces of its longest row."""
        return max(len(row) for row in self.rows)

    @property
    def equal_counts(self) -> bool:
        """Whether all rows hold equally many pieces, so that the gap drops out."""
        return len({len(row) for row in self.rows}) == 1


@dataclass(frozen=True, slots=True, kw_only=True)
class Rip:
    """A size that becomes another on the saw so that a set tiles: `count` of `of_nm` and their gaps fill `to_nm`."""

    from_nm: int
    to_nm: int
    of_nm: int
    count: int


def find_tilings(sections_nm: Sequence[int], gap_nm: int = 0, pieces_most: int = PIECES_MOST) -> tuple[RowSet, ...]:
    """All sets of rows, up to so many pieces a row, that are equally long and share no piece.

    Rows that share a piece are left out: they hold because a shorter pair does. Fewest pieces first, then shortest.
    Exact multiples are the sets in which a row is one piece.
    """
    sizes = sorted(set(sections_nm), reverse=True)
    by_length: dict[int, list[tuple[int, ...]]] = {}
    for pieces in range(1, pieces_most + 1):
        for row in combinations_with_replacement(sizes, pieces):
            by_length.setdefault(sum(row) + (pieces - 1) * gap_nm, []).append(row)
    found: list[RowSet] = []
    for long, rows in by_length.items():
        apart = _disjoint(rows)
        if len(apart) > 1:
            found.append(RowSet(length_nm=long, rows=tuple(apart)))
    return tuple(sorted(found, key=lambda s: (s.pieces, s.length_nm, s.rows)))


def near_tilings(spreads_nm: Mapping[int, int], gap_nm: int = 0, pieces_most: int = PIECES_NEAR) -> tuple[RowSet, ...]:
    """Pairs of rows that are not equally long, but differ by no more than the pieces of either row may.

    Args:
        spreads_nm: Each size with its measured plus-or-minus.
        gap_nm: The gap between pieces, which has to soak the difference up.
        pieces_most: Pieces of a row.

    Returns:
        Pairs that share no piece, fewest pieces first, then the nearest. `length_nm` is that of the shorter row.
    """
    sizes = sorted(spreads_nm, reverse=True)
    rows = [row for n in range(1, pieces_most + 1) for row in combinations_with_replacement(sizes, n)]
    measured = sorted((sum(row) + (len(row) - 1) * gap_nm, row) for row in rows)
    widest = pieces_most * max(spreads_nm.values(), default=0)
    found = []
    for place, (long, row) in enumerate(measured):
        for longer, other in measured[place + 1 :]:
            if longer - long > widest:
                break
            may = max(sum(spreads_nm[size] for size in row), sum(spreads_nm[size] for size in other))
            if 0 < longer - long <= may and set(row).isdisjoint(other):
                found.append(RowSet(length_nm=long, rows=(row, other), off_nm=longer - long))
    return tuple(sorted(found, key=lambda s: (s.pieces, s.off_nm, s.length_nm, s.rows)))


def measured_sizes(brief: Brief) -> dict[int, int]:
    """Every size that footprints and sticks of a brief have, each with the largest spread given for it."""
    spreads: dict[int, int] = {}
    for stick in brief.sticks:
        for size in (stick.section_width_nm, stick.section_height_nm):
            spreads.setdefault(size, 0)
    for footprint in brief.blocks.footprints:
        for size in (footprint.width_nm, footprint.height_nm):
            spreads[size] = max(spreads.get(size, 0), footprint.spread_nm)
    return spreads


def tilings_in_words(brief: Brief, *, most: int = 6) -> tuple[str, ...]:
    """What the brief's measured sections tile, one way a line: exactly, within their spread, or after ripping."""
    voice, gap = Voice(brief), brief.blocks.gap_nm
    sizes = measured_sizes(brief)
    if len(sizes) < 2:
        return ()
    exact = [rows for rows in find_tilings(list(sizes), gap) if not _repeats(rows)]
    lines = [f"{_sum_words(rows, voice)}: {_kind_words(rows, gap, voice)}" for rows in exact[:most]]
    if len(lines) < most:
        near = [rows for rows in near_tilings(sizes, gap) if not _repeats(rows)]
        lines += [
            f"{_sum_words(rows, voice)}: off by {voice.say(rows.off_nm)}, within the spread of the pieces; gaps must "
            "take it up"
            for rows in near[: most - len(lines)]
        ]
    if not lines:
        ordered = sorted(sizes)
        lines = [
            f"rip {voice.say(rip.from_nm)} to {voice.say(rip.to_nm)}: {rip.count} of {voice.say(rip.of_nm)} fill it"
            for rip in rips_that_tile(ordered[-1], ordered[0], gap)
        ]
    return tuple(lines)


def rips_that_tile(large_nm: int, small_nm: int, gap_nm: int = 0) -> tuple[Rip, ...]:
    """Two ways to make a large size an exact multiple of a small one by ripping: the large down, or the small down.

    Either may be missing: wood can be taken off, not put on.
    """
    count = (large_nm + gap_nm) // (small_nm + gap_nm)
    rips = []
    if count >= 1:
        to = count * (small_nm + gap_nm) - gap_nm
        rips.append(Rip(from_nm=large_nm, to_nm=to, of_nm=small_nm, count=count))
    small_to = (large_nm - count * gap_nm) // (count + 1)
    if 0 < small_to < small_nm and (count + 1) * small_to + count * gap_nm == large_nm:
        rips.append(Rip(from_nm=small_nm, to_nm=small_to, of_nm=small_to, count=count + 1))
    return tuple(rips)


def check_mixed(brief: Brief, voice: Voice) -> tuple[tuple[Check, ...], int | None]:
    """`mixed`, when modules are split or do not fit, and the largest mismatch in nm; None when there is none.

    A mismatch within the measured spread of the pieces is a caution: the gap must soak it up. A larger one stops.
    """
    if brief.blocks.mosaic:
        return _check_cells(brief, voice)
    templates = [template_of(brief, fill) for fill in fills_of(brief)]
    fills = fills_of(brief)
    split = any(len(fill.rows) > 1 or len(fill.rows[0]) > 1 for fill in fills)
    off = [(max(t.left_over_nm, key=abs), fill) for t, fill in zip(templates, fills, strict=True)]
    worst, fill = max(off, key=lambda entry: abs(entry[0]))
    if not split and worst == 0:
        return (), None
    spread = _spread(brief, fill)
    verdict = Verdict.FINE if worst == 0 else Verdict.CAUTION if abs(worst) <= spread else Verdict.STOP
    named = " over ".join(" + ".join(row) for row in fill.rows)
    module = f"{voice.say(brief.blocks.module_width_nm)} × {voice.say(brief.blocks.module_height_nm)}"
    if worst == 0:
        found = f"every set of blocks fills its module of {module} exactly"
    else:
        how = "over" if worst > 0 else "too little room"
        found = f"{named} leaves {voice.say(abs(worst))} {how} in a module of {module}"
    check = voice.check(
        "mixed",
        "Blocks that truly fill their module",
        verdict,
        found=found,
        allowed="sizes and gaps that add up to the module, by measured sections",
        why="what is left over in each module shows as a gap, and what is too much adds up over the rows",
        remedy=what_would_tile(brief, voice),
        source="geometry of measured sections",
    )
    return (check,), abs(worst)


def _check_cells(brief: Brief, voice: Voice) -> tuple[tuple[Check, ...], int | None]:
    """The same for blocks that cover cells: each must be its cells with the gaps between them, both ways."""
    blocks, gap = brief.blocks, brief.blocks.gap_nm
    worst, words, spread = 0, "", 0
    rips = []
    for footprint in blocks.footprints:
        for cells, size, cell, way in (
            ((footprint.cells or (1, 1))[0], footprint.width_nm, blocks.module_width_nm, "wide"),
            ((footprint.cells or (1, 1))[1], footprint.height_nm, blocks.module_height_nm, "tall"),
        ):
            room = cells * (cell + gap) - gap
            if size > room:
                rips.append(f"rip {footprint.name} from {voice.say(size)} to {voice.say(room)} {way}")
            if abs(room - size) > abs(worst):
                worst, spread = room - size, footprint.spread_nm
                words = f"{footprint.name} is {voice.say(size)} {way}; {cells} cells are {voice.say(room)}"
    cell_words = f"{voice.say(blocks.module_width_nm)} × {voice.say(blocks.module_height_nm)}"
    check = voice.check(
        "mixed",
        "Blocks that truly fill their cells",
        Verdict.FINE if worst == 0 else Verdict.CAUTION if abs(worst) <= spread else Verdict.STOP,
        found=words or f"every footprint is a whole number of cells of {cell_words}, gaps counted",
        allowed="sizes and gaps that add up to the cells, by measured sections",
        why="what is left over in each block shows as a gap, and what is too much adds up over the rows",
        remedy=" and ".join(rips) or f"take a cell smaller than {cell_words}, so that wood can be taken off to suit it",
        source="geometry of measured sections",
    )
    return (check,), abs(worst)


def what_would_tile(brief: Brief, voice: Voice) -> str:
    """In words: rip to a common size, equal piece counts, or exact multiples, from the sizes at hand."""
    gap = brief.blocks.gap_nm
    prints = brief.blocks.footprints
    sizes = sorted({size for p in prints for size in (p.width_nm, p.height_nm)})
    ways: list[str] = []
    if len(sizes) > 1:
        for rip in rips_that_tile(sizes[-1], sizes[0], gap)[:2]:
            ways.append(
                f"rip {voice.say(rip.from_nm)} to {voice.say(rip.to_nm)}, which {rip.count} of "
                f"{voice.say(rip.of_nm)} fill"
            )
    sections = sorted({size for s in brief.sticks for size in (s.section_width_nm, s.section_height_nm)} | set(sizes))
    for rows in find_tilings(sections, gap)[:2]:
        kind = "equal piece counts" if rows.equal_counts else "exact multiples"
        ways.append(f"take {_sum_words(rows, voice)} ({kind})")
    return ", or ".join(ways) or "take blocks of one size, or squared to a common size"


def _repeats(rows: RowSet) -> bool:
    """Whether every row is a shorter one some times over: then the shorter ones say it all."""
    counts = [Counter(row).values() for row in rows.rows]
    return gcd(*(n for row in counts for n in row)) > 1


def _sum_words(rows: RowSet, voice: Voice) -> str:
    """`70 mm + 70 mm = 95 mm + 45 mm`."""
    sign = " ≈ " if rows.off_nm else " = "
    return sign.join(" + ".join(voice.say(size) for size in row) for row in rows.rows[:3])


def _kind_words(rows: RowSet, gap: int, voice: Voice) -> str:
    if rows.equal_counts:
        return "equal piece counts, with any gap"
    kind = "an exact multiple" if min(len(row) for row in rows.rows) == 1 else "unequal piece counts"
    return f"{kind}, with a gap of {voice.say(gap)}" if gap else f"{kind}, laid tight only"


def _spread(brief: Brief, fill: Fill) -> int:
    """How far a row of this fill may be off by the measured spread of its pieces."""
    spread = {f.name: f.spread_nm for f in brief.blocks.footprints}
    return max(sum(spread[name] for name in row) for row in fill.rows)


def _disjoint(rows: list[tuple[int, ...]]) -> list[tuple[int, ...]]:
    """Rows that share no size, short rows first: the most that come out of starting with each row in turn.

    A pair is found wherever there is one; more than pairs, nearly always.
    """
    ordered = sorted(rows, key=lambda r: (len(r), r))
    best: list[tuple[int, ...]] = []
    for first in ordered:
        chosen, used = [first], set(first)
        for row in ordered:
            if used.isdisjoint(row):
                chosen.append(row)
                used |= set(row)
        if len(chosen) > len(best):
            best = chosen
    return best
