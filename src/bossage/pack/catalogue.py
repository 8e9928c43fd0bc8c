"""Which sheets there are, by the words with which they are asked for, in the order of the work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from bossage.errors import BossageError
from bossage.pack.sheet import Sheet
from bossage.pack.sheets.ask import ask_sheet
from bossage.pack.sheets.back import back_sheets
from bossage.pack.sheets.cards import access_sheet, household_sheet
from bossage.pack.sheets.care import care_sheet
from bossage.pack.sheets.client import approval_sheet, quote_sheet
from bossage.pack.sheets.compare import methods_sheet, wood_sheet
from bossage.pack.sheets.counts import counts_sheet
from bossage.pack.sheets.crew import helper_sheets, names_sheet, slips_sheet
from bossage.pack.sheets.days import days_sheet
from bossage.pack.sheets.drylay import drylay_sheets, strip_sheets
from bossage.pack.sheets.first import first_sheet
from bossage.pack.sheets.ground import ground_sheet
from bossage.pack.sheets.hanging import hang_sheets
from bossage.pack.sheets.labels import backs_sheet, tray_labels_sheet
from bossage.pack.sheets.lists import assumptions_sheet, checks_sheet, shopping_sheet
from bossage.pack.sheets.maps import map_sheets
from bossage.pack.sheets.paint import paint_sheet, sand_sheet
from bossage.pack.sheets.paint_ways import paint_ways_sheet
from bossage.pack.sheets.pots import pot_sheets
from bossage.pack.sheets.press import press_sheets
from bossage.pack.sheets.rows import rows_sheet
from bossage.pack.sheets.saw import saw_sheets
from bossage.pack.sheets.sizes import sizes_sheet
from bossage.pack.sheets.stain import stain_sheet
from bossage.pack.sheets.survey import survey_of_plan
from bossage.pack.sheets.touch import touch_sheet
from bossage.pack.sheets.wall import wall_sheets
from bossage.pack.short_names import full_names, on_paper
from bossage.plan import Plan

Sheets = Sheet | list[Sheet] | None


class UnknownSheet(BossageError):
    """A sheet that does not exist was asked for; the text lists those that do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """What makes the sheets of one station. Those with `on_request` come only when they are asked for by name."""

    names: tuple[str, ...]
    make: Callable[[Plan], Sheets]
    on_request: bool = False


STATIONS = (
    Station(names=("first",), make=first_sheet),
    Station(names=("ask",), make=ask_sheet),
    Station(names=("days",), make=days_sheet),
    Station(names=("survey",), make=survey_of_plan, on_request=True),
    Station(names=("wall",), make=wall_sheets),
    Station(names=("approval",), make=approval_sheet),
    Station(names=("quote",), make=quote_sheet),
    Station(names=("sizes",), make=sizes_sheet, on_request=True),
    Station(names=("shopping",), make=shopping_sheet),
    Station(names=("trays",), make=counts_sheet),
    Station(names=("traylabels",), make=tray_labels_sheet, on_request=True),
    Station(names=("touch",), make=touch_sheet),
    Station(names=("saw", "boards", "lengths"), make=saw_sheets),
    Station(names=("back",), make=back_sheets),
    Station(names=("paintways",), make=paint_ways_sheet),
    Station(names=("sand",), make=sand_sheet),
    Station(names=("scales", "recipes", "onepot", "testcard"), make=pot_sheets),
    Station(names=("stain",), make=stain_sheet),
    Station(names=("paint",), make=paint_sheet),
    Station(names=("ground",), make=ground_sheet),
    Station(names=("helpers",), make=helper_sheets),
    Station(names=("names",), make=names_sheet),
    Station(names=("slips",), make=slips_sheet, on_request=True),
    Station(names=("map",), make=map_sheets),
    Station(names=("rows",), make=rows_sheet),
    Station(names=("drylay",), make=drylay_sheets, on_request=True),
    Station(names=("strips",), make=strip_sheets, on_request=True),
    Station(names=("backs",), make=backs_sheet, on_request=True),
    Station(names=("wood",), make=wood_sheet),
    Station(names=("methods",), make=methods_sheet, on_request=True),
    Station(names=("press", "cards", "ring"), make=press_sheets),
    Station(names=("hang", "loads"), make=hang_sheets),
    Station(names=("access",), make=access_sheet),
    Station(names=("household",), make=household_sheet),
    Station(names=("care",), make=care_sheet),
    Station(names=("checks",), make=checks_sheet, on_request=True),
    Station(names=("assumed",), make=assumptions_sheet, on_request=True),
)

#: Sheets by the word with which they are asked for, in the order of the work.
SHEETS = tuple(name for station in STATIONS for name in station.names)

#: Those that are printed only when asked for.
ON_REQUEST = tuple(name for station in STATIONS if station.on_request for name in station.names)

ALL = "all"


def wanted_sheets(words: tuple[str, ...]) -> tuple[str, ...]:
    """Names of sheets in the order of the work; `all` stands for every one.

    Raises:
        UnknownSheet: A word is the name of no sheet.
    """
    unknown = [word for word in words if word not in SHEETS and word != ALL]
    if unknown:
        raise UnknownSheet(
            f"There is no sheet {', '.join(unknown)}. Name one or more of: {', '.join(SHEETS)}; or {ALL}."
        )
    return SHEETS if ALL in words else tuple(name for name in SHEETS if name in words)


def pack_sheets(plan: Plan, names: tuple[str, ...] | None = None) -> list[Sheet]:
    """Sheets in the order of the work: those named, or all that need no asking.

    A sheet may be missing where the piece has no use for it: without an edge ring there is no ring sheet.
    """
    wanted = names if names is not None else tuple(name for name in SHEETS if name not in ON_REQUEST)
    plan, shortened = on_paper(plan)
    sheets: list[Sheet] = []
    for station in STATIONS:
        if set(station.names) & set(wanted):
            made = station.make(plan)
            sheets += made if isinstance(made, list) else [made] if made is not None else []
    if shortened and sheets:
        # on the first sheet of those that are printed, whichever it is
        sheets[0] = replace(sheets[0], parts=(*sheets[0].parts, *full_names(shortened)))
    return [sheet for sheet in sheets if sheet.name in wanted]
