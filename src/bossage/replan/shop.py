"""What the shop says, read from a few words a line or from a file: what is glued, spoiled, counted, lost, found.

Places are said as `7·12` (or `7.12`; `7·12b` in a split cell, without the letter all of that cell), `2·1-4·6` (all in
that rectangle), `row 3`, `rows 1-6`, `columns 2-4` or `all`, after a leaf's name and a colon where there are several:
`left: rows 1-6`. Blocks are said as footprint / length = count, `70/34 = 11`, with a shade where it matters:
`70/34/moss 62 = 3`, `70/34/bare = 2`; with one footprint only, `34 = 11` will do. A length is as sawn.
"""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import dataclass, field, replace
from itertools import zip_longest
from typing import Any

from bossage.brief.bounds import plain_toml
from bossage.cells import read_rows
from bossage.errors import BossageError
from bossage.letters import composed
from bossage.replan.records import Glued, InShop, Shop, Standing, TrayCount
from bossage.units import format_length, parse_length_nm

BARE_WORDS = ("bare", "unpainted")
KEYS = ("glued", "spoiled", "trays", "lost", "found", "stock", "painted", "saw", "repaint", "light_from")
SIDES = ("left", "right", "top", "bottom")
MOST_N = 1_000_000


class UnclearShop(BossageError):
    """Something the shop says that this piece does not have; what was said, what is known, what to write."""


@dataclass(kw_only=True)
class Said:
    """What was said so far, from files and from the command line; `shop` makes it one record."""

    standing: Standing
    glued: dict[int, Glued] = field(default_factory=dict)
    spoiled: dict[int, None] = field(default_factory=dict)
    counted: list[TrayCount] = field(default_factory=list)
    all_counted: bool = False
    lost: list[TrayCount] = field(default_factory=list)
    found: list[TrayCount] = field(default_factory=list)
    painted: bool = True
    saw: bool = True
    repaint: bool = True
    light_from: str | None = None
    rests: tuple[InShop, ...] | None = None

    def glue(self, text: str) -> None:
        """`rows 1-6`, or `7·12 = 34` where another height was laid than planned."""
        where, _, height = text.partition("=")
        places = places_of(self.standing, where)
        for place in places:
            self.glued[place] = Glued(place=place, level=self._level(place, height) if height.strip() else None)

    def spoil(self, text: str) -> None:
        """A place whose own block is lost."""
        self.spoiled.update(dict.fromkeys(places_of(self.standing, text)))

    def count(self, text: str) -> None:
        """`70/34 = 11`: so many lie in the trays now."""
        self.counted.append(tray_count(self.standing, text))

    def lose(self, text: str) -> None:
        """`70/34 = 2`: so many fewer than otherwise."""
        self.lost.append(tray_count(self.standing, text))

    def find(self, text: str) -> None:
        """`70/22 = 2`: so many more than otherwise."""
        self.found.append(tray_count(self.standing, text))

    def lie(self, text: str) -> None:
        """`none`, or `70 = 340, 612`: the sticks that lie in the shop, in place of those that the plan leaves."""
        self.rests = (*(self.rests or ()), *sticks_of(self.standing, text))

    def light(self, side: str) -> None:
        """The side that the light comes from."""
        if side.strip().casefold() not in SIDES:
            raise UnclearShop(f'Light from "{side}" is not understood; it comes from {", ".join(SIDES)}.')
        self.light_from = side.strip().casefold()

    def read_toml(self, text: str, name: str) -> None:
        """A file that says the same, see docs/command-line.md."""
        for key, value in plain_toml(text, name).items():
            if key not in KEYS:
                raise UnclearShop(f'{name} says "{key}"; it may say {", ".join(KEYS)}.')
            if key in ("glued", "spoiled"):
                say = self.glue if key == "glued" else self.spoil
                for one in _texts(value, name, key):
                    for part in split_words(one):
                        say(part)
            elif key in ("trays", "lost", "found"):
                tell = {"trays": self.count, "lost": self.lose, "found": self.find}[key]
                for one in _pairs(value, name, key):
                    tell(one)
            elif key == "light_from":
                self.light(str(value))
            elif key == "stock":
                for one in _stock_texts(value, name):
                    self.lie(one)
            elif isinstance(value, bool):
                setattr(self, key, value)
            else:
                raise UnclearShop(f"{name}: {key} is {value!r}; it is true or false.")

    def read_csv(self, text: str, name: str) -> None:
        """A count of all trays, in the columns of a pack's counts.csv: what is not listed is not there."""
        heads, *rows = read_rows(text, name) or [[]]
        missing = [head for head in ("footprint", "length_mm", "blocks") if head not in heads]
        if missing:
            raise UnclearShop(
                f"{name} has no column {' and no column '.join(missing)}; take counts.csv of the pack and change its "
                "numbers: footprint, zone, level_mm, length_mm, shade, blocks."
            )
        for number, cells in enumerate(rows, start=2):
            where = f"{name}, line {number}"
            if not any(cell.strip() for cell in cells):
                continue
            row = dict(zip_longest(heads, cells[: len(heads)], fillvalue=""))
            footprint = _footprint(self.standing, row["footprint"], where)
            length = _length(row["length_mm"], "mm", where)
            shade = _shade(self.standing, row.get("shade") or "bare", where)
            count = _number(row["blocks"], where)
            self.counted.append(TrayCount(footprint=footprint, length_nm=length, shade=shade, count=count))
        self.all_counted = True

    def shop(self) -> Shop:
        """Everything said, as one record."""
        return Shop(
            glued=tuple(one for place, one in sorted(self.glued.items()) if place not in self.spoiled),
            spoiled=tuple(sorted(self.spoiled)),
            counted=tuple(self.counted),
            all_counted=self.all_counted,
            lost=tuple(self.lost),
            found=tuple(self.found),
            painted=self.painted,
            saw=self.saw,
            repaint=self.repaint,
            light_from=self.light_from,
            rests=self.rests,
        )

    def _level(self, place: int, height: str) -> int:
        s = self.standing
        length = _length(height, s.unit, f"Glued at {s.places[place].address}")
        heights = [s.length_nm(place, level) for level in range(len(s.levels_nm))]
        if length not in heights:
            known = ", ".join(format_length(one, s.unit) for one in heights)
            raise UnclearShop(
                f"At {s.places[place].address} a block of {format_length(length, s.unit)} is said to be glued; this "
                f"piece has {known} there. Write the one that it stands nearest to."
            )
        return heights.index(length)


def split_words(text: str) -> list[str]:
    """Several places in one go, between commas or semicolons."""
    return [part.strip() for part in re.split(r"[,;]", text) if part.strip()]


def places_of(standing: Standing, text: str) -> list[int]:
    """The places that a few words mean, in the order of the plan.

    Raises:
        UnclearShop: The words mean no place of this piece.
    """
    inside, words = _within(standing, text.strip())
    words = re.sub(r"\s+", " ", words.casefold().replace("–", "-")).strip()
    if words == "all":
        return inside
    lines = re.fullmatch(r"(row|column)s? (\d+)(?: ?(?:-|to) ?(\d+))?", words)
    if lines:
        low, high = int(lines[2]), int(lines[3] or lines[2])
        attribute = lines[1]
        chosen = [v for v in inside if low <= getattr(standing.places[v], attribute) <= high]
    else:
        chosen = _rectangle(standing, inside, words, text)
    if not chosen:
        raise UnclearShop(f'"{text.strip()}" holds no block of this piece; {_extent(standing)}')
    return chosen


def _within(standing: Standing, text: str) -> tuple[list[int], str]:
    """Only the leaf and copy that are named before a colon; all places where none is."""
    copies = {place.copy for place in standing.places}
    leaves = {place.leaf for place in standing.places}
    words, inside = text, list(range(standing.count))
    while ":" in words:
        head, words = (part.strip() for part in words.split(":", 1))
        number = re.fullmatch(r"copy (\d+)", head.casefold())
        named = [v for v in inside if _same(standing.places[v].leaf, head)]
        if number:
            named = [v for v in inside if standing.places[v].copy == int(number[1])]
        if not named:
            raise UnclearShop(f'There is no leaf or copy "{head}"; leaves: {", ".join(sorted(leaves))}.')
        inside = named
    if len({(standing.places[v].leaf, standing.places[v].copy) for v in inside}) > 1 and words.casefold() != "all":
        what = "leaf" if len(leaves) > 1 else "copy"
        example = f"{next(iter(sorted(leaves)))}: " if len(leaves) > 1 else ""
        example += "copy 1: " if len(copies) > 1 else ""
        raise UnclearShop(f'"{text}" does not say on which {what}; write "{example}{words}".')
    return inside, words


def _rectangle(standing: Standing, inside: list[int], words: str, text: str) -> list[int]:
    one = r"(\d+) ?[·.] ?(\d+) ?([a-z]*)"
    found = re.fullmatch(rf"{one}(?: ?(?:-|to) ?{one})?", words)
    if not found:
        raise UnclearShop(
            f'"{text.strip()}" is not understood. Write an address such as 7·12 or 7.12, a rectangle 2·1-4·6, '
            '"rows 1-6", "columns 2-4" or "all".'
        )
    rows = sorted((int(found[1]), int(found[4] or found[1])))
    columns = sorted((int(found[2]), int(found[5] or found[2])))
    letter = found[3] if found[4] is None else ""
    return [
        v
        for v in inside
        if rows[0] <= standing.places[v].row <= rows[1]
        and columns[0] <= standing.places[v].column <= columns[1]
        and (not letter or standing.places[v].letter == letter)
    ]


def _extent(standing: Standing) -> str:
    rows = max(place.row for place in standing.places)
    columns = max(place.column for place in standing.places)
    return (
        f"an address is row·column, rows 1 to {rows}, columns 1 to {columns}, "
        "both from the upper left; cells may be open, and split ones have a letter."
    )


def tray_count(standing: Standing, text: str) -> TrayCount:
    """`70/34 = 11`, `70/34/moss 62 = 3`, `70/34/bare = 2`, or `34 = 11` where there is one footprint.

    Raises:
        UnclearShop: It is not of that form, or names what this piece does not have.
    """
    where = f'"{text.strip()}"'
    left, equals, right = text.rpartition("=")
    if not equals:
        raise UnclearShop(f"{where} gives no count. Write footprint / length = count, such as {_example(standing)}.")
    count = _number(right, where)
    left = composed(left.strip())
    footprint = None
    names = [composed(name) for name in standing.footprints]
    for number in sorted(range(len(names)), key=lambda f: -len(names[f])):
        name = names[number]
        if left.casefold().startswith(name.casefold()) and re.match(r"\s*[/:]", left[len(name) :]):
            footprint, left = number, re.sub(r"^\s*[/:]\s*", "", left[len(name) :])
            break
    if footprint is None:
        if len(standing.footprints) > 1:
            known = ", ".join(standing.footprints)
            raise UnclearShop(f"{where} begins with no footprint of this piece ({known}); {_example(standing)}.")
        footprint = 0
    shade: str | None = None
    # a length in inches may hold a slash too, so the shade is looked for from the end, among the known ones
    for name in sorted([*standing.shades, *BARE_WORDS], key=len, reverse=True):
        written = rf"\s*[/:]\s*{re.escape(composed(name))}$"
        if re.search(written, left, re.IGNORECASE):
            shade = "" if name in BARE_WORDS else name
            left = re.split(written, left, flags=re.IGNORECASE)[0]
            break
    if shade is None and re.search(r"[/:]\s*[a-z]{3}", left, re.IGNORECASE):
        _shade(standing, re.split(r"[/:]", left)[-1], where)
    length = _length(left, standing.unit, where)
    return TrayCount(footprint=footprint, length_nm=length, shade=shade, count=count)


def sticks_of(standing: Standing, text: str) -> tuple[InShop, ...]:
    """`none`, `70 = 340, 612`, or `340, 612` where there is one section.

    Raises:
        UnclearShop: It is not of that form, or names a section that this piece does not have.
    """
    where = f'"{text.strip()}"'
    if text.strip().casefold() == "none":
        return ()
    left, equals, right = text.rpartition("=")
    sections = list(dict.fromkeys(standing.sections))
    section = next((one for one in sections if _same(one, left)), None) if equals else sections[0]
    if section is None or (not equals and len(sections) > 1):
        raise UnclearShop(
            f'{where} names no section of this piece; it has {", ".join(sections)}. Write "none", or section = '
            f'lengths, such as "{sections[0]} = {format_length(340_000_000, standing.unit, bare=True)}".'
        )
    like = next(one for one in standing.sold if one.section == section)
    lengths = [_length(part, standing.unit, where) for part in right.split(",") if part.strip()]
    return tuple(
        InShop(
            section=section,
            of_stick=None,
            # what lies in the shop was squared when its last slice came off
            stock=replace(like.stock, length_nm=length, count=count, owned=True, trim_nm=0, price_cents=0),
        )
        for length, count in Counter(lengths).items()
    )


def _same(name: str, said: str) -> bool:
    """Whether two names are one, however their letters were typed."""
    return composed(name.strip()).casefold() == composed(said.strip()).casefold()


def _example(standing: Standing) -> str:
    length = format_length(standing.levels_nm[0], standing.unit, bare=True)
    return f"{standing.footprints[0]}/{length} = 11"


def _footprint(standing: Standing, text: str, where: str) -> int:
    for number, name in enumerate(standing.footprints):
        if _same(name, text):
            return number
    raise UnclearShop(f'{where}: no footprint "{text.strip()}"; this piece has {", ".join(standing.footprints)}.')


def _shade(standing: Standing, text: str, where: str) -> str:
    word = text.strip()
    if word.casefold() in BARE_WORDS:
        return ""
    for name in standing.shades:
        if _same(name, word):
            return name
    raise UnclearShop(f'{where}: no shade "{word}"; this piece has {", ".join(standing.shades)}, and bare.')


def _length(text: str, unit: str, where: str) -> int:
    try:
        length = parse_length_nm(text.strip(), unit)
    except BossageError as fault:
        raise UnclearShop(f"{where}: {fault}") from None
    if length <= 0:
        raise UnclearShop(f"{where}: a length of {text.strip()} is nothing; write the length as sawn.")
    return length


def _number(text: str, where: str) -> int:
    word = text.strip()
    if not re.fullmatch(r"\d{1,7}", word) or int(word) > MOST_N:
        raise UnclearShop(f'{where}: "{word}" is no count of blocks; write a whole number, 0 or more.')
    return int(word)


def _texts(value: Any, name: str, key: str) -> list[str]:
    values = value if isinstance(value, list) else [value]
    if not all(isinstance(one, str) for one in values):
        raise UnclearShop(f'{name}: {key} holds {value!r}; write texts, such as ["rows 1-6", "7·12"].')
    return [str(one) for one in values]


def _stock_texts(value: Any, name: str) -> list[str]:
    if isinstance(value, dict):
        return [f"{left} = {', '.join(str(one) for one in _list(lengths))}" for left, lengths in value.items()]
    if value == "none":
        return ["none"]
    raise UnclearShop(f'{name}: write stock = "none", or a table of lengths, [stock] and then "70" = [340, 612].')


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else [value]


def _pairs(value: Any, name: str, key: str) -> list[str]:
    if not isinstance(value, dict) or not all(type(n) is int for n in value.values()):
        raise UnclearShop(f'{name}: write {key} as a table of counts, [{key}] and then "70/34" = 11.')
    return [f"{left} = {n}" for left, n in value.items()]
