"""What somebody wants on paper: which sheets, in which forms."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bossage.errors import BossageError
from bossage.pack.catalogue import wanted_sheets


class Form(StrEnum):
    """In which form a sheet is made."""

    PRINT = "print"
    LARGE = "large"  # large print: 18 pt and more, black on white
    TEXT = "text"  # plain text in reading order, for a screen reader or to be read out


class UnknownForm(BossageError):
    """A form that does not exist was asked for; the text lists those that do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Order:
    """Sheets and forms wanted. Without names: the whole pack, tables and pictures too."""

    sheets: tuple[str, ...] | None = None
    forms: tuple[Form, ...] = (Form.PRINT,)


def read_order(*, sheets: str = "", form: str = "") -> Order:
    """An order from the words of a command line, names parted by commas.

    Raises:
        UnknownSheet: A sheet of that name does not exist.
        UnknownForm: A form of that name does not exist.
    """
    forms = _words(form) or (Form.PRINT.value,)
    unknown = [word for word in forms if word not in set(Form)]
    if unknown:
        raise UnknownForm(f"There is no form {', '.join(unknown)}. Name one or more of: {', '.join(Form)}.")
    named = _words(sheets)
    return Order(sheets=wanted_sheets(named) if named else None, forms=tuple(one for one in Form if one.value in forms))


def _words(text: str) -> tuple[str, ...]:
    return tuple(word.strip().casefold() for word in text.split(",") if word.strip())
