"""Rules that differ from country to country, each figure once with its source: which one holds for one brief.

A brief names the country whose set of rules counts. A figure of that set binds, and so does a figure that somebody of
the place has given. Where the set has none, the figure of another country is shown for comparison: it binds nobody,
so no check stops on it. Local codes, the local authority and licensed people say what holds.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Literal

from bossage.units import NM_PER_MM


class Country(StrEnum):
    """Whose set of rules counts."""

    EUROPE = "Europe"
    GREAT_BRITAIN = "Great Britain"
    UNITED_STATES = "United States"


class Rule(StrEnum):
    """What such a figure is about."""

    SPACE_WIDTH = "working space width"
    SPACE_DEPTH = "working space depth"
    SPACE_HEIGHT = "working space height"
    OPENING = "opening angle"
    HIGHEST_GRIP = "highest grip"
    LOWEST_REACH = "lowest reach"
    HIGHEST_REACH = "highest reach"
    JUTTING = "jutting out"
    JUTTING_FROM = "jutting out from"
    JUTTING_TO = "jutting out to"


MEANING: dict[Rule, str] = {
    Rule.SPACE_WIDTH: "least free width before an electrical board",
    Rule.SPACE_DEPTH: "least free depth before an electrical board",
    Rule.SPACE_HEIGHT: "least free height before an electrical board",
    Rule.OPENING: "least angle to which a door before an electrical board opens",
    Rule.HIGHEST_GRIP: "most height of the middle of a switch's grip",
    Rule.LOWEST_REACH: "lowest point that somebody who sits reaches",
    Rule.HIGHEST_REACH: "highest point that somebody who sits reaches",
    Rule.JUTTING: "most that a thing on the wall stands out over a way",
    Rule.JUTTING_FROM: "height from which that counts",
    Rule.JUTTING_TO: "height up to which that counts",
}

IN_DEGREES = frozenset({Rule.OPENING})
"""Figures that are angles; all others are lengths."""

Unit = Literal["mm", "deg"]


def unit_of(rule: Rule) -> Unit:
    """The unit of a rule's figure as a brief writes it."""
    return "deg" if rule in IN_DEGREES else "mm"


@dataclass(frozen=True, slots=True, kw_only=True)
class Figure:
    """What a country's rule says: nanometres, or degrees of an angle."""

    value: int
    source: str


def _mm(value: int, source: str) -> Figure:
    return Figure(value=value * NM_PER_MM, source=source)


_NEC_SPACE = "NEC 110.26(A): 30 in wide, 6.5 ft high, depth by Table 110.26(A)(1)"
_NEC_GRIP = "NEC 240.24(A): 2.0 m (6 ft 7 in), from memory"
_ADA_REACH = "2010 ADA Standards 308.2 and 308.3 (308.3.2 from memory)"
_ADA_JUTTING = "2010 ADA Standards 307.2: 4 in (100 mm) between 27 and 80 in on circulation paths, from memory"
_EN_REACH = "EN 301 549, 8.3.3: 380 to 1220 mm, read in pages that quote it; written for terminals that people use"
_M_REACH = "Approved Document M (England), volume 1: 450 to 1200 mm for switches and sockets, from memory"
_M_JUTTING = (
    "Approved Document M (England), volume 2: a hazard where it stands out more than 100 mm and begins more than "
    "300 mm above the ground; headroom of 2100 mm; from memory"
)

OWN: dict[Country, dict[Rule, Figure]] = {
    Country.UNITED_STATES: {
        Rule.SPACE_WIDTH: _mm(762, _NEC_SPACE),
        Rule.SPACE_DEPTH: _mm(914, _NEC_SPACE),  # the least of the table; `working_depth_nm` has its rows
        Rule.SPACE_HEIGHT: _mm(1981, _NEC_SPACE),
        Rule.OPENING: Figure(value=90, source="NEC 110.26(A)(2)"),
        Rule.HIGHEST_GRIP: _mm(2000, _NEC_GRIP),
        Rule.LOWEST_REACH: _mm(380, _ADA_REACH),
        Rule.HIGHEST_REACH: _mm(1220, _ADA_REACH),
        Rule.JUTTING: _mm(100, _ADA_JUTTING),
        Rule.JUTTING_FROM: _mm(685, _ADA_JUTTING),
        Rule.JUTTING_TO: _mm(2030, _ADA_JUTTING),
    },
    Country.GREAT_BRITAIN: {
        Rule.LOWEST_REACH: _mm(450, _M_REACH),
        Rule.HIGHEST_REACH: _mm(1200, _M_REACH),
        Rule.JUTTING: _mm(100, _M_JUTTING),
        Rule.JUTTING_FROM: _mm(300, _M_JUTTING),
        Rule.JUTTING_TO: _mm(2100, _M_JUTTING),
    },
    # Nothing about boards and ways is the same all over Europe: each state and each network operator has its own.
    Country.EUROPE: {
        Rule.LOWEST_REACH: _mm(380, _EN_REACH),
        Rule.HIGHEST_REACH: _mm(1220, _EN_REACH),
    },
}

COMPARED = Country.UNITED_STATES
"""Whose figure is shown where a set has none: the one set that has them all."""

READY: dict[Country, str] = {
    Country.UNITED_STATES: "NEC 240.24(A) and Art. 100 'readily accessible' (240.24(A) from memory)",
    Country.GREAT_BRITAIN: "ours, after BS 7671 132.12: equipment is accessible for operation (from memory)",
    Country.EUROPE: "ours, after HD 60364-5-51, 513.1: equipment is accessible for operation (from memory)",
}
"""Where it stands that a board is reached. That whoever must switch off has seconds is everywhere the same: ours."""

FAR_FROM_WOOD: dict[Country, str] = {
    Country.UNITED_STATES: "NEC 240.24(D)",
    Country.GREAT_BRITAIN: "ours, after NEC 240.24(D) of the United States",
    Country.EUROPE: "ours, after NEC 240.24(D) of the United States",
}
"""Where it stands that what burns easily is kept away from overcurrent devices."""


@dataclass(frozen=True, slots=True, kw_only=True)
class LocalFigure:
    """A figure of the place, which goes before that of the set: nanometres or degrees, and who said so."""

    rule: Rule
    value: int
    by: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """The figure that a check is held against: nanometres or degrees. `binds`: a check may stop on it."""

    value: int
    source: str
    binds: bool
    local: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class Rules:
    """Whose set of rules counts for a brief, and the figures of the place."""

    country: Country
    local: tuple[LocalFigure, ...] = ()

    def held(self, rule: Rule) -> Held:
        """The figure of the place, else that of the set, else one for comparison."""
        for one in self.local:
            if one.rule is rule:
                said = f"{rule.value}: local figure, by {one.by}"
                return Held(value=one.value, source=said, binds=True, local=True)
        own = OWN[self.country].get(rule)
        if own is not None:
            return Held(value=own.value, source=f"{own.source}; local code governs", binds=True, local=False)
        shown = OWN[COMPARED][rule]
        said = f"for comparison, the rule of the {COMPARED.value}: {shown.source}"
        return Held(value=shown.value, source=said, binds=False, local=False)

    def sources(self, *rules: Rule) -> str:
        """Where the figures of these rules stand, each once."""
        return "; ".join(dict.fromkeys(self.held(rule).source for rule in rules))

    def bind(self, *rules: Rule) -> bool:
        """Whether a check may stop on all of these, and may say fine."""
        return all(self.held(rule).binds for rule in rules)

    def ask(self, *rules: Rule) -> str:
        """What to ask, and where to write the answer, for those of these rules that have no figure; else empty."""
        missing = [f"“{rule.value}”" for rule in rules if not self.held(rule).binds]
        if not missing:
            return ""
        return (
            f"no figure for {self.country.value} is known here, and the one of the {COMPARED.value} binds nobody: ask "
            f"the authority for the one of the place, and write it as [[local]] with rule = {' or '.join(missing)}"
        )

    def whose(self, rule: Rule) -> str:
        """Whose figure it is, to be said behind it: ` in the United States, for comparison`, or nothing."""
        return "" if self.held(rule).binds else f" in the {COMPARED.value}, for comparison"
