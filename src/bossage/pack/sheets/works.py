"""What is sawn on parts beyond their straight cuts, for the sheet on which they are cut: openings, notches, bevels."""

from __future__ import annotations

import math
from collections.abc import Iterable

from bossage.pack.sheet import Care, Column, Heading, Para, Part, Table
from bossage.pack.sheets.common import cares, words_of
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.saw import BevelRip, SawnNotches, SawnOpenings, ShortStrip, numbered

NUMBERS = (
    "The number in brackets is the part's own. Pencil it on the piece as it comes off the saw; other sheets use it too."
)


def numbers_note(parts: tuple[str, ...]) -> list[Part]:
    """What the numbers in brackets are, where there are any parts."""
    return [Para(text=NUMBERS, small=True)] if parts else []


def strip_parts(plan: Plan, strips: tuple[ShortStrip, ...]) -> list[Part]:
    """Pieces to cut to length from strips that came out of a board, in the order of cutting."""
    if not strips:
        return []
    words = words_of(plan)
    rows: list[tuple[str, ...]] = []
    groups: list[int] = []
    for strip in strips:
        groups.append(len(rows))
        for piece in strip.pieces:
            of = f"from the {numbered(strip.name, strip.mark)}, {words.size(strip.width_nm, strip.length_nm)}"
            what = f"{numbered(piece.name, piece.mark)}, {of}"
            rows.append((words.bare(piece.length_nm), str(piece.count), what, ""))
    columns = (
        Column(head=f"length, {words.unit}", kind="figure", align="right"),
        Column(head="pieces", kind="figure", align="right"),
        Column(head="what", wide=True),
        Column(head="done", kind="tick"),
    )
    return [
        Heading(text="Short parts, cut to length from a strip"),
        *cares(plan, "strips"),
        Table(columns=columns, rows=tuple(rows), groups=tuple(groups), tight=True),
        Para(text="Set a stop for each length. What is left of the strip is the end that you held it by.", small=True),
    ]


def work_parts(plan: Plan, parts: tuple[str, ...]) -> list[Part]:
    """Openings, notches and bevels of these parts, each kind with its caution."""
    here, saw = set(parts), plan.saw
    openings = [one for one in saw.openings if here & set(one.parts)]
    notches = [one for one in saw.notches if here & set(one.parts)]
    bevels = [one for one in saw.bevels if here & set(one.parts)]
    sawn = [*(_openings(plan, one, here) for one in openings), *(_notches(plan, one, here) for one in notches)]
    said = _with_care(sawn, cares(plan, "cut outs"))
    return said + (_with_care([_bevels(plan, bevels, here)], cares(plan, "bevels")) if bevels else [])


def _with_care(kinds: list[list[Part]], heed: tuple[Care, ...]) -> list[Part]:
    """What is sawn, kind by kind, with its caution under the first heading; neither where nothing is sawn so."""
    said = [part for parts in kinds for part in parts]
    return [*said[:1], *heed, *said[1:]] if said else []


def _openings(plan: Plan, one: SawnOpenings, here: set[str]) -> list[Part]:
    words = words_of(plan)
    rows = tuple(
        (
            str(number),
            words.bare(x0),
            words.bare(y0),
            words.size(x1 - x0, y1 - y0),
            "",
        )
        for number, (x0, y0, x1, y1) in enumerate(one.rects_nm, start=1)
    )
    columns = (
        Column(head="no.", kind="strong", align="right"),
        Column(head=f"from left, seen from the front, {words.unit}", align="right", mm=34.0),
        Column(head="from foot", align="right"),
        Column(head="width × height", wide=True),
        Column(head="done", kind="tick"),
    )
    return [
        Heading(text=f"Openings in {_which(one.name, one.mark, one.parts, here)}"),
        Table(columns=columns, rows=rows, tight=True),
        Para(
            text="First write FRONT on the face that will carry the blocks, and FOOT along the lower edge. Numbers as "
            "on the back sheet; that sheet shows the board from behind, so its figures run from the other side. Drill "
            "a hole inside each corner, saw from hole to hole, break the edges. Saw them before the board is sealed "
            "and before anything is glued on."
        ),
    ]


def _notches(plan: Plan, one: SawnNotches, here: set[str]) -> list[Part]:
    words = words_of(plan)
    rows = tuple(
        (str(number), words.bare(low), words.bare(high), words.bare(deep), "")
        for number, (low, high, deep) in enumerate(one.slots_nm, start=1)
    )
    columns = (
        Column(head="notch", kind="strong", align="right"),
        Column(head=f"from, {words.unit}", align="right"),
        Column(head="to", align="right"),
        Column(head="deep", align="right", wide=True),
        Column(head="done", kind="tick"),
    )
    return [
        Heading(text=f"Notches for air in {_which(one.name, one.mark, one.parts, here)}"),
        Table(columns=columns, rows=rows, tight=True),
        Para(
            text="Measured from the left end as seen from the front, into the edge that faces the wall. Saw both sides "
            "down to the depth, chop out what is between; before the part is glued on."
        ),
    ]


def _bevels(plan: Plan, bevels: list[BevelRip], here: set[str]) -> list[Part]:
    """Halves that are alike in thickness, height and angle are one setting of the saw."""
    words = words_of(plan)
    settings: dict[tuple[int, int, int, float], list[BevelRip]] = {}
    for one in bevels:
        settings.setdefault((one.thickness_nm, one.long_nm, one.short_nm, one.tilt_deg), []).append(one)
    rows, notes = [], []
    for (_, long_nm, short_nm, tilt), same in settings.items():
        count = sum(len(here & set(one.parts)) for one in same)
        what = [numbered(one.name, one.mark) for one in same]
        pieces = f"{count_of(count, 'piece')}: {listed(what)}"
        rows.append((f"{tilt:g}°", words.bare(short_nm), words.bare(long_nm), pieces, ""))
    for one in bevels:
        notes.append(f"{numbered(one.name, one.mark)}: its {one.edge} edge, the long face to the {one.long_face}")
    columns = (
        Column(head="tilt", kind="strong"),
        Column(head=f"fence, {words.unit}", kind="figure", align="right"),
        Column(head="long face", align="right"),
        Column(head="what", wide=True),
        Column(head="done", kind="tick"),
    )
    return [
        Heading(text="Bevels of the cleat"),
        Para(
            text="Lay each strip with its long face up and its square edge to the fence; the fence is set at the "
            "table, for the short face. Rip one long edge, so that the long face keeps its whole width. All from one "
            "setting: then both bevels lie on one another."
        ),
        *_by_measure(settings, words),
        Table(columns=columns, rows=tuple(rows), tight=True),
        Para(lead="As they hang.", text=f"{'. '.join(_capital(note) for note in dict.fromkeys(notes))}.", small=True),
    ]


def _by_measure(settings: Iterable[tuple[int, int, int, float]], words: Words) -> list[Part]:
    """The fence by the board as it is: sold boards run thinner than their name."""
    told = []
    for thick, long_nm, short_nm, tilt in settings:
        share = (long_nm - short_nm) / thick
        less = "what you measured" if math.isclose(share, 1.0, abs_tol=1e-3) else f"{share:.2f} times what you measured"
        told.append(f"at {tilt:g}°, {words.bare(long_nm)} less {less}")
    text = (
        f"The figures are for boards as thick as their name. Measure the board and set the fence by that: "
        f"{listed(list(dict.fromkeys(told)))}."
    )
    return [Para(lead="Thinner boards.", text=text, small=True)]


def _which(name: str, mark: str, parts: tuple[str, ...], here: set[str]) -> str:
    count = len(here & set(parts))
    return f"{numbered(name, mark)}" + (f", {count_of(count, 'piece')}, all alike" if count > 1 else "")


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
