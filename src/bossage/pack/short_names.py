"""Long names on paper: shortened by their drawn width wherever they stand, and once in full.

A name of 40 wide letters is broader than most columns and fields that it stands in. So papers are made from a plan in
which such names are short; the first sheet lists each beside its full form. Tables for other programs keep full names.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Any

from bossage.brief.records import Brief
from bossage.drawing.metrics import text_width
from bossage.letters import clusters
from bossage.pack.sheet import Column, Heading, Part, Table
from bossage.pack.sheets.common import BODY_MM
from bossage.plan import Plan

# Widths on paper at the size of body type. The tightest place of each kind of name decides: pots and fields of colours,
# heads of tables, the wall drawing, the shopping list, the foot of each sheet.
CLOSE_MM, ON_WALL_MM, IN_LIST_MM, AT_FOOT_MM = 32.0, 46.0, 66.0, 52.0
ENDING_N = 3  # letters kept at the end, where names of one kind often differ
CUT = "…"
LONGEST_WORD_MM = 36.0  # in a table; a longer word may be broken
BREAK_HERE = "\u200b"
KEY_BREAK = "\ue000"
"""Where a key of the brief may be broken: the templates set nothing for this letter, so a copied key is the key."""
KEY = re.compile(r"[a-z][a-z0-9]*(?:[._][a-z0-9]+)+")


@dataclass(frozen=True, slots=True, kw_only=True)
class ShortName:
    """A name as papers have it, and in full."""

    short: str
    full: str


def on_paper(plan: Plan) -> tuple[Plan, tuple[ShortName, ...]]:
    """The plan with short names, and what they are short for; the same plan where no name is long."""
    found = short_names(plan.brief)
    if not found:
        return plan, ()
    renamed: Plan = _renamed(plan, _Names({one.full: one.short for one in found}))
    return renamed, found


def short_names(brief: Brief) -> tuple[ShortName, ...]:
    """Every name of the brief that is wider on paper than there is room for."""
    given: dict[str, float] = {}
    for name, width_mm in _names(brief):
        given[name] = min(width_mm, given.get(name, width_mm))
    taken = {name for name, width_mm in given.items() if _width_mm(name) <= width_mm}
    found = []
    for name, width_mm in given.items():
        if name not in taken:
            short = shortened(name, width_mm, taken)
            taken.add(short)
            found.append(ShortName(short=short, full=name))
    return tuple(found)


def shortened(name: str, width_mm: float, taken: set[str]) -> str:
    """A name cut in its middle to a width at the size of body type, so that it is none of those taken."""
    letters = clusters(name)
    number = 1
    while True:
        tail = "".join(letters[-ENDING_N:]) if number == 1 else f" {number}"
        kept = len(letters) - ENDING_N
        while kept > 1 and _width_mm("".join(letters[:kept]) + CUT + tail) > width_mm:
            kept -= 1
        short = "".join(letters[:kept]).rstrip() + CUT + tail
        if short not in taken:
            return short
        number += 1


def full_names(names: tuple[ShortName, ...]) -> tuple[Part, ...]:
    """The list that says what short names are short for."""
    if not names:
        return ()
    columns = (Column(head="on these papers"), Column(head="in full", wide=True))
    rows = tuple((one.short, breakable(one.full)) for one in names)
    return (Heading(text="Names in full"), Table(columns=columns, rows=rows))


def breakable(text: str, longest_mm: float = LONGEST_WORD_MM) -> str:
    """The text with places to break in words that are wider, at the size of body type, than a column may be.

    A key of the brief breaks behind its dots and low lines alone, and without a letter that would be copied with it.
    """
    return " ".join(_broken(word) if _width_mm(word) > longest_mm else word for word in text.split(" "))


def _broken(word: str) -> str:
    if KEY.search(word):
        return re.sub(r"(?<=[._])(?=[a-z0-9])", KEY_BREAK, word)
    return BREAK_HERE.join(clusters(word))


def _width_mm(text: str) -> float:
    return text_width(text, bold=True) * BODY_MM


def _names(brief: Brief) -> Iterator[tuple[str, float]]:
    """Each name of a maker's own, and the room for it."""
    yield brief.piece.name, AT_FOOT_MM
    yield brief.piece.client, AT_FOOT_MM
    for leaf in brief.blocks.leaves:
        yield leaf.name, CLOSE_MM
    for footprint in brief.blocks.footprints:
        yield footprint.name, CLOSE_MM
        yield footprint.section, CLOSE_MM
    for family in brief.families:
        yield family.name, CLOSE_MM
        for tinter in family.tinters:
            yield tinter.name, CLOSE_MM
    places = (brief.fixtures, brief.furniture, brief.keep_clear, brief.eyes)
    for name in (place.name for group in places for place in group):
        yield name, ON_WALL_MM
    for board in brief.backer.sheets:
        yield board.name, IN_LIST_MM
    for area in brief.keep_clear:
        yield area.why, IN_LIST_MM
    for stick in brief.sticks:
        yield stick.name, CLOSE_MM
        yield stick.bought_as, IN_LIST_MM
    for price in brief.prices:
        yield price.what, IN_LIST_MM
    yield brief.backer.colour_name, CLOSE_MM
    yield brief.glue.name, ON_WALL_MM
    for part in brief.behind:
        yield part.name, ON_WALL_MM
    for person in brief.crew.names:
        yield person, CLOSE_MM


class _Names:
    """Full names to short ones, wherever they stand in a text."""

    def __init__(self, short: dict[str, str]) -> None:
        self.short = short
        longest_first = sorted(short, key=len, reverse=True)
        self.any = re.compile("|".join(map(re.escape, longest_first)))
        self.seen: dict[
            int, tuple[Any, Any]
        ] = {}  # what was renamed already; kept alive, so that its number is its own

    def within(self, text: str) -> str:
        return self.any.sub(lambda found: self.short[found[0]], text)


def _renamed(value: Any, names: _Names) -> Any:
    """The same value with every text in it put through the names; what holds no text stays the same object."""
    if type(value) is str:
        return names.within(value)
    if isinstance(value, tuple | list | dict | frozenset) or (is_dataclass(value) and not isinstance(value, type)):
        known = names.seen.get(id(value))
        if known is None:
            known = (value, _renamed_within(value, names))
            names.seen[id(value)] = known
        return known[1]
    return value


def _renamed_within(value: Any, names: _Names) -> Any:
    if isinstance(value, dict):
        return {_renamed(key, names): _renamed(inner, names) for key, inner in value.items()}
    if isinstance(value, list | frozenset):
        return type(value)(_renamed(inner, names) for inner in value)
    if isinstance(value, tuple):
        made = [_renamed(inner, names) for inner in value]
        same = all(new is old for new, old in zip(made, value, strict=True))
        return value if same else type(value)(*made) if hasattr(value, "_fields") else tuple(made)
    changed = {}
    for one in fields(value):
        old = getattr(value, one.name)
        new = _renamed(old, names)
        if new is not old and new != old and one.init:
            changed[one.name] = new
    return replace(value, **changed) if changed else value
