"""What is wrong with a brief, in a maker's words: all of it at once."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from bossage.errors import BossageError
from bossage.letters import seen

MOST_TOLD = 60  # more than a screen holds; `faults` has all of them


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong.

    `field` is the path as the maker wrote it, tables and lists counted from 1: `footprint[2].quotas[3]`. It is empty
    where the brief as a whole is meant.
    """

    field: str
    found: str
    allowed: str
    remedy: str

    def __str__(self) -> str:
        where = f"{self.field}: " if self.field else ""
        return f"{where}found {self.found}; allowed is {self.allowed}. {self.remedy}".rstrip()


class BriefFaults(BossageError):
    """A brief that cannot be planned from. `faults` holds every fault that was found, in the order of the sections."""

    def __init__(self, faults: Iterable[Fault]) -> None:
        self.faults = tuple(dict.fromkeys(faults))
        count = len(self.faults)
        head = "One thing in the brief is" if count == 1 else f"{count} things in the brief are"
        lines = [f"  {fault}" for fault in self.faults[:MOST_TOLD]]
        if count > MOST_TOLD:
            lines.append(f"  … and {count - MOST_TOLD:,} more, most of them likely of the same kind.")
        super().__init__("\n".join([f"{head} to be put right:", *lines]))


class Bad(ValueError):
    """What one value of a brief may not be; `items` are (path below the value, found, allowed, remedy)."""

    def __init__(self, found: str, allowed: str, remedy: str, *, below: str = "") -> None:
        self.items = [(below, found, allowed, remedy)]
        super().__init__(found)

    @classmethod
    def several(cls, faults: list[tuple[str, Bad]]) -> Bad:
        """Faults of the parts of one value, each with its path below the value."""
        (below, first), *others = faults
        bad = cls(*first.items[0][1:])
        bad.items = [(below + item[0], *item[1:]) for item in first.items]
        for path, other in others:
            bad.items += [(path + item[0], *item[1:]) for item in other.items]
        return bad


def quoted(value: object) -> str:
    """What was found, as it stands in the file, short enough for a sentence."""
    if value is True or value is False:
        return str(value).lower()
    if isinstance(value, dict):
        return "a table"
    if isinstance(value, list):
        return f"a list of {len(value)}"
    if isinstance(value, int) and abs(value) > 10**30:
        return "a number of more than 30 digits"
    text = seen(str(value)[:200])
    text = text if len(text) <= 40 else f"{text[:37]}…"
    return f'"{text}"' if isinstance(value, str) else text
