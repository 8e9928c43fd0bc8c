"""What somebody wants on paper: which sheets, in which forms."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bossage.errors import BossageError
from bossage.pack.catalogue import ALL, wanted_sheets
from bossage.pack.exports import Export


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
    exports: tuple[Export, ...] = ()  # files for other programs


def read_order(*, sheets: str = "", form: str = "", files: str = "") -> Order:
    """An order from the words of a command line, names parted by commas; `all` stands for every one.

    Raises:
        UnknownSheet: A sheet of that name does not exist.
        UnknownForm: A form, or a kind of file, of that name does not exist.
    """
    named, forms, exports = _words(sheets), _words(form) or (Form.PRINT.value,), _words(files)
    for words, known, what in ((forms, Form, "form"), (exports, Export, "kind of file")):
        unknown = [word for word in words if word not in set(known) and word != ALL]
        if unknown:
            raise UnknownForm(
                f"There is no {what} {', '.join(unknown)}. Name one or more of: {', '.join(known)}; or {ALL}."
            )
    return Order(
        sheets=wanted_sheets(named) if named else None,
        forms=tuple(one for one in Form if one.value in forms or ALL in forms),
        exports=tuple(one for one in Export if one.value in exports or ALL in exports),
    )


def _words(text: str) -> tuple[str, ...]:
    return tuple(word.strip().casefold() for word in text.split(",") if word.strip())
