"""Totals on the papers, read back from the PDF, are those of plan.json: for every sheet that has any."""

from __future__ import annotations

import json
import re
from collections import defaultdict
from collections.abc import Callable, Iterator
from functools import cache
from typing import Any

import pytest
from tests.pack.made import SCENARIOS, papers_of, sheets_of
from tests.pack.pdf_checks import lines_of, pages_of
from tests.scenarios.cases import plan_of

from bossage.pack.sheet import Figures, Sheet, Table, parts_of
from bossage.pack.sheets.common import words_of
from bossage.pack.words import Words, split_unit
from bossage.serial import plan_json

Json = dict[str, Any]
Totals = Callable[[Json, Words], Iterator[str]]


@cache
def data_of(scenario: str) -> Json:
    return json.loads(plan_json(plan_of(scenario)))


@cache
def printed(scenario: str) -> dict[str, str]:
    """Everything that stands on the pages of each sheet, by its name."""
    names = {sheet.title: sheet.name for sheet in sheets_of(scenario)}
    found: dict[str, list[str]] = defaultdict(list)
    here: tuple[str, ...] = ()
    for page in pages_of(papers_of(scenario)):
        here = tuple(names[title] for title in page.titles) or here  # stickers belong to the sheet before them
        for name in dict.fromkeys(here):
            found[name] += lines_of(page)
    return {name: "\n".join(lines) for name, lines in found.items()}


def first(data: Json, words: Words) -> Iterator[str]:
    yield words.money(data["cost"]["materials_cents"])
    yield f"{data['cost']['hours']:.1f}"
    yield f"{len(data['relief']['level']):,}"
    yield from size_depth_and_mass(data, words)


def size_depth_and_mass(data: Json, words: Words) -> Iterator[str]:
    layout = data["layout"]
    yield split_unit(f"{words.of_mm(layout['width_mm'])} × {words.of_mm(layout['height_mm'])}")[0]
    yield words.of_mm(layout["depth_mm"])
    yield from heaviest(data, words)


def heaviest(data: Json, words: Words) -> Iterator[str]:
    yield split_unit(words.mass(max(leaf["total_g"] for leaf in data["hang"]["leaf_masses"])))[0]


def approval(data: Json, words: Words) -> Iterator[str]:
    yield from size_depth_and_mass(data, words)
    if data["cost"]["quote"]:
        yield words.money(data["cost"]["quote"]["total_cents"])


def quote(data: Json, words: Words) -> Iterator[str]:
    said = data["cost"]["quote"]
    for key in ("total", "labour", "overhead", "contingency", "materials", "markup", "deposit"):
        yield words.money(said[f"{key}_cents"])
    yield f"{data['cost']['hours']:.2f}"


def shopping(data: Json, words: Words) -> Iterator[str]:
    yield words.money(data["cost"]["materials_cents"])
    for line in data["cost"]["shopping"]:
        if line["cents"] and line["for_what"] != "lump":
            yield words.money(line["cents"])


def costs(data: Json, words: Words) -> Iterator[str]:
    yield words.money(data["cost"]["materials_cents"])
    yield f"{data['cost']['hours']:.2f}"
    for line in data["cost"]["shopping"]:
        if line["cents"] and line["for_what"] == "lump":
            yield words.money(line["cents"])


def trays(data: Json, words: Words) -> Iterator[str]:
    sums: dict[tuple[str, str], int] = defaultdict(int)
    for row in data["fade"]["count_table"]:
        sums[row["footprint"], row["zone"]] += row["count"]
    yield from (f"{total:,}" for total in sums.values())
    yield f"{sum(sums.values()):,}"


def saw(data: Json, words: Words) -> Iterator[str]:
    for section in data["saw"]["sections"]:
        blocks = sum(row["blocks"] for row in section["rows"])
        yield str(blocks + sum(row["spares"] for row in section["rows"]))


def sand(data: Json, words: Words) -> Iterator[str]:
    work = data["paint"]["edge_work"]
    yield f"{work['blocks']:,}"
    yield f"{work['front_edges']:,}"
    yield f"{work['minutes'] / 60:.1f}"


def paint(data: Json, words: Words) -> Iterator[str]:
    rows = data["paint"]["rows"]
    yield f"{sum(row['blocks'] for row in rows):,}"
    yield split_unit(words.volume(data["paint"]["primer_ml"]))[0]
    yield split_unit(words.volume(sum(row["colour_ml"] + row["extra_ml"] for row in rows)))[0]
    yield split_unit(words.area_mm2(data["paint"]["painted_mm2"]))[0]


def care(data: Json, words: Words) -> Iterator[str]:
    yield split_unit(words.area_mm2(data["paint"]["painted_mm2"]))[0]


def one_pot(data: Json, words: Words) -> Iterator[str]:
    for pots in data["paint"]["pots"]:
        if pots["one_pot"]:
            yield f"{round(pots['one_pot']['start_ml'], 3):g}"


def press(data: Json, words: Words) -> Iterator[str]:
    yield split_unit(words.mass(data["press"]["glue_wet_g"]))[0]


def backs(data: Json, words: Words) -> Iterator[str]:
    yield f"{len(data['relief']['level']):,}"


def tray_labels(data: Json, words: Words) -> Iterator[str]:
    copy_of = [leaf["copy"] for leaf in data["layout"]["leaves"]]
    blocks = data["layout"]["blocks"]
    kinds = zip(
        blocks["leaf"], blocks["footprint"], blocks["zone"], data["relief"]["level"], data["fade"]["shade"], strict=True
    )
    yield str(len({(copy_of[leaf], *rest) for leaf, *rest in kinds}))


def helpers(data: Json, words: Words) -> Iterator[str]:
    yield str(len(data["relief"]["level"]))


def hang(data: Json, words: Words) -> Iterator[str]:
    for leaf in data["hang"]["leaves"]:
        yield split_unit(words.mass(leaf["mass_g"]))[0]
        if leaf["cleat"]:
            yield str(len(leaf["cleat"]["fixings"]))


def loads(data: Json, words: Words) -> Iterator[str]:
    for leaf in data["hang"]["leaf_masses"]:
        yield words.mass(leaf["total_g"])
        yield from (words.mass(part["mass_g"]) for part in leaf["parts"])


def nothing_of_the_plan(data: Json, words: Words) -> Iterator[str]:
    """Figures that are rules, sizes of one thing, or reckoned for this sheet only."""
    yield from ()


TOTALS: dict[str, Totals] = {
    "first": first,
    "approval": approval,
    "quote": quote,
    "shopping": shopping,
    "costs": costs,
    "trays": trays,
    "traylabels": tray_labels,
    "saw": saw,
    "sand": sand,
    "onepot": one_pot,
    "paint": paint,
    "helpers": helpers,
    "slips": nothing_of_the_plan,
    "backs": backs,
    "days": nothing_of_the_plan,
    "wood": nothing_of_the_plan,
    "press": press,
    "cards": nothing_of_the_plan,
    "ring": nothing_of_the_plan,
    "hang": hang,
    "loads": loads,
    "access": heaviest,
    "household": heaviest,
    "care": care,
}


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_totals_read_back_from_the_pdf_are_those_of_plan_json(scenario: str):
    data, words = data_of(scenario), words_of(plan_of(scenario))
    for name, text in printed(scenario).items():
        for total in TOTALS.get(name, nothing_of_the_plan)(data, words):
            assert re.search(rf"(?<![\d.,/]){re.escape(total)}(?![\d/]|[.,]\d)", text), (name, total)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_no_sheet_with_totals_is_left_out(scenario: str):
    assert {sheet.name for sheet in sheets_of(scenario) if _has_totals(sheet)} <= set(TOTALS)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_every_total_is_the_sum_of_its_column_and_is_printed(scenario: str):
    counted = 0
    for sheet in sheets_of(scenario):
        text = printed(scenario)[sheet.name]
        for part in parts_of(sheet):
            if not isinstance(part, Table) or not part.total:
                continue
            for number, total in enumerate(part.total):
                column = [_number(row[number]) for row in part.rows if row[number]]
                if _number(total) is None or None in column or not column:
                    continue
                if sheet.name == "paint" and part.columns[number].head != "blocks":
                    continue  # each pot is rounded by itself and the sum may be in another unit: see TOTALS
                # Each row is rounded by itself, and so is the total.
                slack = (len(column) + 1) * 0.5 * 10 ** -_decimals(total)
                exact = _decimals(total) == 0
                assert sum(column) == pytest.approx(_number(total), abs=0 if exact and _whole(column) else slack), (
                    sheet.title,
                    total,
                )
                assert total in text
                counted += 1
    assert counted >= 4


def _has_totals(sheet: Sheet) -> bool:
    return any(isinstance(part, Figures) or (isinstance(part, Table) and part.total) for part in parts_of(sheet))


def _number(text: str) -> float | None:
    found = re.fullmatch(r"[$€£]?(\d[\d,]*(?:\.\d+)?)", text)
    return float(found[1].replace(",", "")) if found else None


def _decimals(text: str) -> int:
    return len(text.partition(".")[2])


def _whole(column: list[Any]) -> bool:
    return all(float(value).is_integer() for value in column)
