"""How large and how deep a brief may be: looked at in its text, before a parser spends memory on it.

A key of 20,000 parts is 40 KB of text, and a parser makes 20,000 tables in one another of it. So depth is counted in
the text itself, with words in quotes and notes taken out first. Each look goes once over the text.
"""

from __future__ import annotations

import re
import tomllib
from typing import TYPE_CHECKING, Any

from bossage.brief.faults import BriefFaults, Fault
from bossage.errors import BossageError

if TYPE_CHECKING:
    from bossage.brief.face import Footprint
    from bossage.brief.sections import Tables
    from bossage.brief.site import Fixture

LONGEST_BRIEF = 1_000_000  # letters
MOST_PARTS = 8  # of a key; the deepest that any brief has is 3
DEEPEST_BRACKETS = 12  # in one another; the deepest that any brief has is 4
MOST_ENTRIES = 2_000  # of a repeated table; pins may be as many as blocks
MOST_PINS = 20_000


class UnreadableToml(BossageError):
    """A file that is no TOML, or far too large, with its line."""


_QUOTED = re.compile(
    r'"""(?:[^"\\]|\\.|"{1,2}(?!"))*"""' + r"|'''(?:[^']|'{1,2}(?!'))*'''"
    r'|"(?:[^"\\\n]|\\.)*"' + r"|'[^'\n]*'|#[^\n]*",
    re.DOTALL,
)
_LONG_KEY = re.compile(rf"[\w-]+(?:[ \t]*\.[ \t]*[\w-]+){{{MOST_PARTS},}}")


def look_at_size(text: str) -> None:
    """Refuse a text that is larger or deeper than any brief.

    Raises:
        BriefFaults: With the line, and what is allowed.
    """
    if len(text) > LONGEST_BRIEF:
        _refuse(
            f"a file of {len(text):,} letters",
            f"at most {LONGEST_BRIEF:,}",
            "Look whether this is the brief; a brief of a page or two is usual.",
        )
    bare = _QUOTED.sub(lambda found: "" if found[0].startswith("#") else "q" + "\n" * found[0].count("\n"), text)
    long_key = _LONG_KEY.search(bare)
    if long_key is not None:
        line = bare.count("\n", 0, long_key.start()) + 1
        _refuse(
            f"line {line}, a key of more than {MOST_PARTS} parts",
            "keys of a few words with points between them",
            "Look at that line; a heading such as [wall] and a key such as width are all that a brief needs.",
        )
    deepest, line = _deepest(bare)
    if deepest > DEEPEST_BRACKETS:
        _refuse(
            f"line {line}, brackets {deepest} deep",
            f"brackets at most {DEEPEST_BRACKETS} deep",
            "Look for a line with very many brackets.",
        )


def plain_toml(text: str, name: str) -> dict[str, Any]:
    """The TOML of a file that is no brief: what the shop says, readings of cards.

    Raises:
        UnreadableToml: It is none, or larger or deeper than such a file can be.
    """
    try:
        look_at_size(text)
        read = tomllib.loads(text.removeprefix("\ufeff"))
        _look_at_integers(read)
        return read
    except BriefFaults as faults:
        raise UnreadableToml(f"{name}: {faults.faults[0]}") from None
    except tomllib.TOMLDecodeError as error:
        line = re.search(r"at line (\d+)", str(error))
        where = f", line {line[1]}," if line else ""
        raise UnreadableToml(f"{name}{where} is not TOML: write key = value, with words in quotes.") from None
    except (ValueError, RecursionError):
        raise UnreadableToml(f"{name} holds a number of absurd size.") from None


def _look_at_integers(value: Any) -> None:
    """TOML 1.0.0, 'Integer': 64 bits are to be taken, and what a program cannot hold is an error.

    Raises:
        ValueError: An integer has more.
    """
    if isinstance(value, dict | list):
        for one in value.values() if isinstance(value, dict) else value:
            _look_at_integers(one)
    elif isinstance(value, int) and not -(2**63) <= value < 2**63:
        raise ValueError(value)


def look_at_cover(
    tables: Tables, fixtures: tuple[Fixture, ...], footprints: tuple[Footprint, ...], copies: int, most: int
) -> None:
    """Note a fault where a piece that only just covers the fixtures has more blocks than any piece may have.

    For a grid whose columns and rows are still to be found; the largest footprint counts, so that no piece is refused
    that could be planned.
    """
    if not fixtures or not footprints:
        return
    width_nm = max(one.right_nm for one in fixtures) - min(one.x_nm for one in fixtures)
    height_nm = max(one.top_nm for one in fixtures) - min(one.y_nm for one in fixtures)
    least = width_nm * height_nm // max(one.width_nm * one.height_nm for one in footprints) * copies
    if least > most:
        remedy = "Make the blocks larger, or look at the sizes of the fixtures and their units."
        tables.fault("footprint", f"blocks so small that {least:,} and more are needed", f"at most {most:,}", remedy)


def _deepest(bare: str) -> tuple[int, int]:
    """How deep brackets stand in one another at the most, and in which line."""
    depth, deepest, line, at_line = 0, 0, 1, 1
    for sign in re.findall(r"[\[\]{}\n]", bare):
        if sign == "\n":
            line += 1
        elif sign in "[{":
            depth += 1
            if depth > deepest:
                deepest, at_line = depth, line
        else:
            depth = max(0, depth - 1)
    return deepest, at_line


def _refuse(found: str, allowed: str, remedy: str) -> None:
    raise BriefFaults([Fault(field="", found=found, allowed=allowed, remedy=remedy)])
