"""The table of a brief that tells of what somebody has agreed to."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated, Any

from pydantic import create_model

from bossage.brief.faults import Bad, quoted
from bossage.brief.figures import AsWritten, read_figure
from bossage.brief.kinds import LENGTH_OR_ZERO, Choice, Flag, Kind, ListOf, Schema, nearest
from bossage.brief.kinds_words import Date, Text
from bossage.brief.tables import Table, said
from bossage.settling import NEVER, OPENED_AS, SETTLEABLE
from bossage.stakes import KINDS


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


def read_agreed(check: str, value: Any, unit: str) -> float:
    """The figure that an answer to a check is for, in the unit of `settling`.

    Raises:
        Bad: It is no figure of that unit.
    """
    may = SETTLEABLE[check]
    return read_figure(may.unit, value, unit, may.what, "Write the figure as the sheet 'Ask first' has it.")


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
            "for": (
                Annotated[Any, AsWritten("24 lb", "350 mm", "80°")],
                said("The figure that was agreed, with its unit."),
            ),
            "with": (Annotated[str, Text(200, empty=True)], said("On which condition.", "")),
        },
    )
