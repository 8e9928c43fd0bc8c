"""Which sheets there are, by the words with which they are asked for, in the order of the work."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from bossage.errors import BossageError
from bossage.pack.sheet import Sheet
from bossage.pack.sheets.ask import answers_sheet, ask_in_pack, ask_sheet
from bossage.pack.sheets.back import back_sheets
from bossage.pack.sheets.basis import basis_sheet
from bossage.pack.sheets.cards import access_sheet, household_sheet
from bossage.pack.sheets.care import care_sheet
from bossage.pack.sheets.client import approval_sheet, for_oneself, quote_sheet
from bossage.pack.sheets.compare import methods_sheet, wood_sheet
from bossage.pack.sheets.counts import counts_sheet
from bossage.pack.sheets.crew import helper_sheets, names_sheet, slips_sheet
from bossage.pack.sheets.days import days_sheet, timeline_sheet
from bossage.pack.sheets.drylay import drylay_sheets, strip_sheets
from bossage.pack.sheets.first import first_sheet
from bossage.pack.sheets.ground import ground_sheet, grounds_sheet
from bossage.pack.sheets.hanging import hang_sheets
from bossage.pack.sheets.labels import backs_sheet, tray_labels_sheet
from bossage.pack.sheets.lists import assumptions_sheet, checks_sheet, costs_sheet, shopping_sheet
from bossage.pack.sheets.maps import map_sheets
from bossage.pack.sheets.paint import paint_sheet, sand_sheet
from bossage.pack.sheets.paint_ways import paint_ways_sheet
from bossage.pack.sheets.pots import pot_sheets, scales_sheet
from bossage.pack.sheets.press import press_sheets
from bossage.pack.sheets.rows import rows_sheet
from bossage.pack.sheets.saw import saw_sheets
from bossage.pack.sheets.sizes import sizes_sheet
from bossage.pack.sheets.stain import stain_sheet
from bossage.pack.sheets.survey import survey_of_plan
from bossage.pack.sheets.testcard import card_sheets, only_as_bought
from bossage.pack.sheets.touch import touch_sheet
from bossage.pack.sheets.wall import wall_sheets
from bossage.pack.short_names import full_names, on_paper
from bossage.plan import Plan

Sheets = Sheet | list[Sheet] | None


class UnknownSheet(BossageError):
    """A sheet that does not exist was asked for; the text lists those that do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Station:
    """What makes the sheets of one station. Those with `on_request` come only when they are asked for by name.

    `place` is where they are read: neighbours of one place share pages. `idle` tells of a plan whether it has no use
    for them unless they are asked for. `in_pack` makes them for a whole pack, where they leave out
    what other sheets of it say.
    """

    names: tuple[str, ...]
    make: Callable[[Plan], Sheets]
    place: str = ""
    on_request: bool = False
    idle: Callable[[Plan], bool] | None = None
    in_pack: Callable[[Plan], Sheets] | None = None


STATIONS = (
    Station(names=("first",), make=first_sheet, place="desk"),
    Station(names=("days",), make=days_sheet, place="desk"),
    Station(names=("timeline",), make=timeline_sheet, on_request=True),
    Station(names=("ask",), make=ask_sheet, in_pack=ask_in_pack),
    Station(names=("answers",), make=answers_sheet, on_request=True),
    Station(names=("survey",), make=survey_of_plan, on_request=True),
    Station(names=("wall",), make=wall_sheets),
    Station(names=("sizes",), make=sizes_sheet, on_request=True),
    Station(names=("methods",), make=methods_sheet, on_request=True),
    Station(names=("paintways",), make=paint_ways_sheet, on_request=True),
    Station(names=("testcard",), make=card_sheets, place="buy", idle=only_as_bought),
    Station(names=("scales",), make=scales_sheet, place="buy"),
    Station(names=("approval",), make=approval_sheet, place="client", idle=for_oneself),
    Station(names=("quote",), make=quote_sheet, place="client"),
    Station(names=("shopping",), make=shopping_sheet, place="buy"),
    Station(names=("grounds",), make=grounds_sheet, on_request=True),
    Station(names=("wood",), make=wood_sheet, on_request=True),
    Station(names=("costs",), make=costs_sheet, on_request=True),
    Station(names=("traylabels",), make=tray_labels_sheet, on_request=True),
    Station(names=("touch",), make=touch_sheet, place="saw"),
    Station(names=("saw", "boards", "lengths"), make=saw_sheets, place="saw"),
    Station(names=("back",), make=back_sheets, place="back"),
    Station(names=("hang", "loads"), make=hang_sheets, place="wall"),
    Station(names=("sand",), make=sand_sheet, place="paint"),
    Station(names=("trays",), make=counts_sheet, place="paint"),
    Station(names=("recipes", "onepot"), make=pot_sheets, place="paint"),
    Station(names=("stain",), make=stain_sheet, place="paint"),
    Station(names=("paint",), make=paint_sheet, place="paint"),
    Station(names=("ground",), make=ground_sheet, place="paint"),
    Station(names=("helpers",), make=helper_sheets),
    Station(names=("names",), make=names_sheet),
    Station(names=("slips",), make=slips_sheet, on_request=True),
    Station(names=("map",), make=map_sheets, place="glue"),
    Station(names=("drylay",), make=drylay_sheets, on_request=True),
    Station(names=("strips",), make=strip_sheets, on_request=True),
    Station(names=("backs",), make=backs_sheet, on_request=True),
    Station(names=("rows",), make=rows_sheet, place="glue"),
    Station(names=("press", "cards", "ring"), make=press_sheets, place="glue"),
    # one is glued to the back, the other hangs in a cupboard: neither shares its page
    Station(names=("access",), make=access_sheet),
    Station(names=("household",), make=household_sheet),
    Station(names=("care",), make=care_sheet, on_request=True),
    Station(names=("basis",), make=basis_sheet, on_request=True),
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
        idle = names is None and station.idle is not None and station.idle(plan)
        if set(station.names) & set(wanted) and not idle:
            made = (station.in_pack if names is None and station.in_pack else station.make)(plan)
            several = made if isinstance(made, list) else [made] if made is not None else []
            sheets += [replace(sheet, place=station.place) for sheet in several]
    if shortened and sheets:
        # on the first sheet of those that are printed, whichever it is
        sheets[0] = replace(sheets[0], parts=(*sheets[0].parts, *full_names(shortened)))
    return [sheet for sheet in sheets if sheet.name in wanted]
