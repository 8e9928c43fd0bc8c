"""A re-plan as a work order: what to saw, what to paint, what to lay where, numbered and in words."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from bossage.replan.mend import named
from bossage.replan.records import FromStick, Mended, Recut, Short, Standing, Taken
from bossage.units import NM_PER_IN, format_length

NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
HALF_INCH_NM = NM_PER_IN // 2


@dataclass(frozen=True, slots=True, kw_only=True)
class Part:
    """The steps at one station, and what to heed there."""

    station: str
    steps: tuple[str, ...]
    heed: str = ""


def work_order(mended: Mended) -> tuple[Part, ...]:
    """The parts of the order in which the work is done; a station without work is left out."""
    parts = (_saw(mended), _brush(mended), _lay(mended))
    return tuple(part for part in parts if part.steps)


def verdict_words(mended: Mended) -> str:
    """How many places change, and how good that is, in a sentence or two."""
    n, bound = mended.changes_n, mended.bound_n
    if not n:
        first = "No place changes its height."
    else:
        places = "place changes its" if n == 1 else "places change their"
        first = f"{number_words(n).capitalize()} {places} height. The bound is {number_words(bound)}: "
        first += "no fewer will do, proven." if mended.proven else "fewer may do, that is not proven."
    if n and mended.least_seen:
        first += f" Of all ways with {number_words(n)}, this is the one least seen."
    glued = int(mended.glued.sum())
    kept = f" {glued:,} {'block is' if glued == 1 else 'blocks are'} glued and {'stays' if glued == 1 else 'stay'}."
    return first + (kept if glued else "")


def number_words(n: int) -> str:
    """`nine`, `31`."""
    return NUMBERS[n] if n < len(NUMBERS) else f"{n:,}"


def left_words(mended: Mended) -> str:
    """What stays in the trays, by footprint and length."""
    s = mended.standing
    piles: dict[tuple[int, int], int] = defaultdict(int)
    for one in mended.left:
        piles[one.footprint, one.length_nm] += one.count
    if not piles:
        return "Nothing stays in the trays."
    parts = [f"{n} of {_block(s, f, length)}" for (f, length), n in sorted(piles.items())]
    return f"Left in the trays: {', '.join(parts)}."


def _block(s: Standing, footprint: int, length_nm: int) -> str:
    length = format_length(length_nm, s.unit)
    return length if len(s.footprints) == 1 else f"{s.footprints[footprint]} × {length}"


def _saw(mended: Mended) -> Part:
    s = mended.standing
    steps = [
        f"Re-cut {number_words(one.count)} {_kind(s, one)}of {format_length(one.from_nm, s.unit)} as "
        f"{format_length(one.to_nm, s.unit)}{_which(mended, one)}: take it off at the glue face, so that the "
        "painted face stays."
        for one in mended.recuts
        if one.from_nm is not None
    ]
    recut = bool(steps)
    steps += [_from_stick(s, one) for one in mended.new.cuts]
    steps += [_short(s, one) for one in mended.new.short]
    if not steps:
        return Part(station="At the saw", steps=())
    heed = (_SHORT_BLOCK[s.by_hand] if recut else "") + _saw_heed(s)
    return Part(station="At the saw", steps=tuple(steps), heed=heed)


_SHORT_BLOCK = {
    False: "A block is too short to hold by hand at a power saw: clamp it in a carrier that keeps both hands away, or "
    "saw it by hand in a mitre box with a clamp. ",
    True: "Clamp the block in the mitre box, and the box to the bench: a block held in the hand turns under the "
    "teeth. ",
}


def _from_stick(s: Standing, one: FromStick) -> str:
    """`From the rest of stick 2, planed spruce 45 × 70, 1889 mm long: saw one new block of 34 mm.`"""
    stock = one.stick.stock
    what = f"the rest of stick {one.stick.of_stick}" if one.stick.of_stick is not None else "a stick in the shop"
    named = "" if one.section == "" or len(set(s.sections)) == 1 else f", section {one.section}"
    return f"From {what}{named}, {format_length(stock.length_nm, s.unit)} long: saw {_new(s, one.lengths)}."


def _short(s: Standing, one: Short) -> str:
    """What the shop has no stick for, and what to buy."""
    what = one.bought_as or f"section {one.section}"
    length = format_length(one.stick_nm, s.unit)
    many = f"a length of {length}" if one.sticks == 1 else f"{number_words(one.sticks)} lengths of {length}"
    return f"Short, for what lies in the shop has no room for them: {_new(s, one.lengths)}. Buy {many} of {what}."


def _new(s: Standing, lengths: tuple[tuple[int, int], ...]) -> str:
    """`one new block of 34 mm and two of 22 mm`."""
    said: list[str] = []
    for length, count in lengths:
        noun = "" if said else (" new block" if count == 1 else " new blocks")
        said.append(f"{number_words(count)}{noun} of {format_length(length, s.unit)}")
    return said[0] if len(said) == 1 else f"{', '.join(said[:-1])} and {said[-1]}"


def _saw_heed(s: Standing) -> str:
    # a distance to keep is never rounded down: 150 mm is 6 in
    hold_nm = s.hold_nm if s.unit == "mm" else -(-s.hold_nm // HALF_INCH_NM) * HALF_INCH_NM
    worn = "eyes covered, a mask on for the dust" if s.by_hand else "guard on, eyes and ears covered, dust drawn off"
    return (
        f"Hands at least {format_length(hold_nm, s.unit)} from the blade, {worn}; follow the saw's own manual and the "
        "rules that hold where you work."
    )


def _kind(s: Standing, one: Recut) -> str:
    noun = "block" if one.count == 1 else "blocks"
    return f"{noun} " if len(s.footprints) == 1 else f"{s.footprints[one.footprint]} {noun} "


def _which(mended: Mended, one: Recut) -> str:
    """The shades of the blocks that go under the saw, so that the right ones are taken."""
    s = mended.standing
    shades: dict[str, int] = defaultdict(int)
    for taken in mended.taken:
        if (int(s.footprint[taken.place]), taken.source_nm, taken.length_nm) == (
            one.footprint,
            one.from_nm,
            one.to_nm,
        ):
            shades[taken.source_shade or "bare"] += 1
    if not shades or set(shades) == {"bare"}:
        return ""
    return " (" + ", ".join(f"{n} {shade}" for shade, n in sorted(shades.items())) + ")"


def _brush(mended: Mended) -> Part:
    s = mended.standing
    first: dict[tuple[int, int, str], int] = defaultdict(int)
    over: dict[tuple[int, int, str, str], int] = defaultdict(int)
    for one in mended.taken:
        kind = int(s.footprint[one.place])
        if one.over_paint:
            over[kind, one.length_nm, one.source_shade, one.shade] += 1
        elif one.needs_paint:
            first[kind, one.length_nm, one.shade] += 1
    steps = [f"Paint {_blocks(s, n, kind, length)} in {shade}." for (kind, length, shade), n in sorted(first.items())]
    steps += [
        f"Paint {_blocks(s, n, kind, length)} over, from {before} to {shade}."
        for (kind, length, before, shade), n in sorted(over.items())
    ]
    heed = "Sand old paint lightly first, keep the glue face bare, and judge the shade when it is dry."
    return Part(station="With the brush", steps=tuple(steps), heed=heed if over else "")


def _blocks(s: Standing, n: int, kind: int, length_nm: int) -> str:
    length = format_length(length_nm, s.unit)
    size = f"of {length}" if len(s.footprints) == 1 else f"{s.footprints[kind]} × {length}"
    noun = "block" if n == 1 else "blocks"
    return f"{number_words(n)} {noun} {size}" if len(s.footprints) == 1 else f"{number_words(n)} {noun} ({size})"


def _lay(mended: Mended) -> Part:
    swaps, rest = swaps_of(mended)
    s = mended.standing
    steps = [
        f"Swap the blocks at {named(s, a.place)} ({_length(s, a.before_nm)}) and {named(s, b.place)} "
        f"({_length(s, b.before_nm)})."
        for a, b in swaps
    ]
    steps += [_lay_words(s, one) for one in rest]
    return Part(station="On the backer", steps=tuple(steps))


def swaps_of(mended: Mended) -> tuple[tuple[tuple[Taken, Taken], ...], tuple[Taken, ...]]:
    """Pairs of places whose blocks, with paint and all, change places; and what else is laid, in the plan's order."""
    s = mended.standing
    waiting: dict[tuple[int, int, int, int, str], list[Taken]] = defaultdict(list)
    swaps, gone = [], set()
    for one in mended.taken:
        ready = one.source_nm == one.length_nm and not one.needs_paint and one.shade == one.planned_shade
        if not one.moves or not ready:
            continue
        kind, extra = int(s.footprint[one.place]), int(s.extra_nm[one.place])
        mates = waiting[kind, extra, one.after_nm, one.before_nm, one.shade]
        if mates:
            mate = mates.pop(0)
            swaps.append((mate, one))
            gone |= {mate.place, one.place}
        else:
            waiting[kind, extra, one.before_nm, one.after_nm, one.shade].append(one)
    return tuple(swaps), tuple(one for one in mended.taken if one.place not in gone)


def _lay_words(s: Standing, one: Taken) -> str:
    height, source = _length(s, one.after_nm), _source_words(s, one)
    if one.moves:
        what = f"At {named(s, one.place)} lay {height} in place of {_length(s, one.before_nm)}"
    else:
        what = f"{named(s, one.place)} keeps its {height}"
    if one.shade != one.planned_shade:
        what += f", in {one.shade} where {one.planned_shade} was planned"
    elif not source:
        what += f", {one.shade}"
    return f"{what}{': ' + source if source else ''}."


def _source_words(s: Standing, one: Taken) -> str:
    words = []
    if one.source_nm is None:
        words.append("the new one")
    elif one.source_nm != one.length_nm:
        words.append(f"one re-cut from {_length(s, one.source_nm)}")
    if one.over_paint:
        words.append(f"painted over from {one.source_shade} to {one.shade}")
    elif one.needs_paint:
        words.append(("" if words else "a bare one, ") + f"painted {one.shade}")
    elif words:
        words.append(one.shade)
    return ", ".join(words)


def _length(s: Standing, nm: int) -> str:
    return format_length(nm, s.unit)
