"""The table of a brief that tells of what somebody has agreed to."""

from __future__ import annotations

from decimal import Decimal
from typing import TYPE_CHECKING, Annotated, Any

from pydantic import create_model

from bossage import units
from bossage.brief.faults import Bad, quoted
from bossage.brief.kinds import LENGTH_OR_ZERO, MASS, SIGNED_LENGTH, Choice, Flag, Kind, ListOf, Number, Schema, nearest
from bossage.brief.kinds_words import Date, Text
from bossage.brief.tables import Table, said
from bossage.settling import NEVER, OPENED_AS, SETTLEABLE
from bossage.settling import Unit as FigureUnit
from bossage.stakes import KINDS
from bossage.units import NM_PER_MM

_TAILS = {"deg": ("°", "degrees", "degree"), "a year": ("times a year", "a year", "times")}
_FORMS = {"mm": "a length", "g": "a mass", "deg": "degrees, as 80°", "a year": "how often, as 60 times a year"}


class CheckToSettle(Kind):
    """The name of a check that somebody can agree to."""

    schema: Schema = {"enum": sorted(SETTLEABLE)}  # noqa: RUF012

    def read(self, value: Any, unit: str) -> str:
        """The name; a check that no answer changes says why."""
        if isinstance(value, str) and value in SETTLEABLE:
            return value
        near = nearest(value, SETTLEABLE) if isinstance(value, str) and value not in KINDS else None
        otherwise = f"No answer changes {NEVER}: change the piece instead."
        raise Bad(
            quoted(value),
            f"a check that somebody can agree to: {', '.join(SETTLEABLE)}",
            f"Did you mean {near}?" if near else otherwise,
        )


class AsWritten(Kind):
    """A figure with its unit, kept as it is written; which unit it must have depends on the check."""

    schema: Schema = {"anyOf": [{"type": "number"}, {"type": "string"}], "examples": ["24 lb", "350 mm", "80°"]}  # noqa: RUF012

    def read(self, value: Any, unit: str) -> Any:
        """A number or text, as it is."""
        if isinstance(value, bool) or not isinstance(value, str | int | float | Decimal):
            raise Bad(quoted(value), "a figure with its unit, such as 24 lb", "Write the figure that was agreed.")
        return value


def read_figure(check: str, value: Any, unit: str) -> float:
    """The figure that an answer to a check is for, in the unit of `settling`.

    Raises:
        Bad: It is no figure of that unit.
    """
    wanted: FigureUnit = SETTLEABLE[check].unit
    try:
        if wanted == "mm":
            return float(SIGNED_LENGTH.read(value, unit)) / NM_PER_MM
        if wanted == "g":
            return float(MASS.read(value, unit))
        text = value
        for tail in _TAILS[wanted]:
            text = text.removesuffix(tail).strip() if isinstance(text, str) else text
        return float(Number(0, 10_000).read(text, unit))
    except (Bad, units.UnreadableQuantity):
        allowed = f"{SETTLEABLE[check].what}: {_FORMS[wanted]}"
        raise Bad(quoted(value), allowed, "Write the figure as the sheet 'Ask first' has it.") from None


class _SettledRest(Table):
    """All keys of an answer but `for` and `with`, which no Python class may have as names of fields."""

    check: Annotated[str, CheckToSettle()] = said("The check that it answers, by its name.")
    of: Annotated[str, Text(200, empty=True)] = said(
        "Which leaf, fixture or place, where the check speaks of several.", ""
    )
    by: Annotated[str, Text()] = said("Who agreed, by name.")
    on: Annotated[str, Date()] = said("The day.")
    words: Annotated[str, Text(400, empty=True)] = said("What was said.", "")
    place: Annotated[tuple[int, int, int, int] | None, ListOf(LENGTH_OR_ZERO, size=4)] = said(
        "Where what it is about was: x, y, width, height on the wall.", None
    )
    opens: Annotated[str | None, Choice(OPENED_AS)] = said("How the piece was to open.", None)
    lock: Annotated[bool | None, Flag()] = said("Whether an anti-lift lock was to be fitted.", None)
    hands: Annotated[tuple[int, int] | None, ListOf(LENGTH_OR_ZERO, size=2)] = said(
        "Where the hands were to be: before the ankles, above the floor.", None
    )


if TYPE_CHECKING:

    class SettledTable(_SettledRest):
        """What somebody has agreed to."""
else:
    SettledTable = create_model(
        "SettledTable",
        __base__=_SettledRest,
        __doc__="What somebody has agreed to: the check is quiet until its figure gets worse.",
        **{
            "for": (Annotated[Any, AsWritten()], said("The figure that was agreed, with its unit.")),
            "with": (Annotated[str, Text(200, empty=True)], said("On which condition.", "")),
        },
    )
