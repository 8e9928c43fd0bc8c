"""The tables of a brief that say whose rules count."""

from __future__ import annotations

from typing import Annotated, Any

from bossage.brief.figures import AsWritten
from bossage.brief.kinds import Choice
from bossage.brief.kinds_words import Text
from bossage.brief.tables import Table, said
from bossage.countries import Country, Rule


class RulesTable(Table):
    """Whose rules about room, reach and ways count."""

    country: Annotated[Country | None, Choice(Country)] = said(
        "Whose set of rules counts for room before a board, reach, and what juts out over a way.", None
    )


class LocalTable(Table):
    """A figure of the place, which goes before that of the country's set."""

    rule: Annotated[Rule, Choice(Rule)] = said("What it is about.")
    figure: Annotated[Any, AsWritten("1200 mm", "48 in", "95°")] = said("The figure with its unit.")
    by: Annotated[str, Text()] = said("Who said so: the authority, the code, a name.")
