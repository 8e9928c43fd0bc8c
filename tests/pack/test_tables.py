"""Tables and calendar read back by the standard library and by a calendar library, each against the plan."""

from __future__ import annotations

import csv
import io
from collections import Counter
from dataclasses import replace
from datetime import date, datetime, timedelta

import icalendar
import pytest
from tests.pack.exported import CASES, case_plan, tabled

from bossage.layout.records import Zone
from bossage.pack.files import table_files
from bossage.pack.sheets.days import calendar_of
from bossage.plan import Plan

Rows = list[dict[str, str]]
START = date(2026, 12, 1)


@pytest.fixture(params=CASES)
def case(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_every_table_is_strict_csv_with_units_in_its_heads_and_plain_numbers(case: str):
    tables = {name: data for name, data in tabled(case).items() if name.endswith(".csv")}
    assert len(tables) == 6
    for name, data in tables.items():
        # RFC 4180: lines end in CRLF, the last one too, and none otherwise but inside quotes.
        assert data.endswith(b"\r\n"), name
        assert b"\n" not in data.replace(b"\r\n", b""), name
        rows = list(csv.reader(io.StringIO(data.decode("utf-8"), newline=""), strict=True))
        assert len({len(row) for row in rows}) == 1, name
        assert len(set(rows[0])) == len(rows[0]), name
        assert all(head == head.strip() != "" for head in rows[0]), name
        measured = [n for n, head in enumerate(rows[0]) if head.endswith(("_mm", "_ml", "_mm2"))]
        assert measured or name in ("shopping.csv", "checks.csv")
        assert all(float(row[n]) >= 0 for row in rows[1:] for n in measured if row[n]), name


def test_blocks_are_those_of_the_plan_one_by_one(case: str):
    plan, rows = case_plan(case), read(case, "blocks.csv")
    blocks, relief, fade = plan.layout.blocks, plan.relief, plan.fade
    assert len(rows) == blocks.count
    for block, row in enumerate(rows):
        leaf = plan.layout.leaves[int(blocks.leaf[block])]
        assert (int(row["copy"]), row["leaf"]) == (leaf.copy, leaf.name)
        assert row["address"] == blocks.address(block)
        assert (int(row["row"]), int(row["column"])) == (blocks.row[block], blocks.column[block])
        assert row["footprint"] == plan.brief.blocks.footprints[int(blocks.footprint[block])].name
        assert row["zone"] == Zone(int(blocks.zone[block])).name.lower()
        assert row["shade"] == fade.shades[int(fade.shade[block])].name
        assert nm(row["level_mm"]) == relief.levels_nm[int(relief.level[block])]
        assert nm(row["length_mm"]) == relief.length_nm[block]
        places = (blocks.x_nm, blocks.y_nm, blocks.width_nm, blocks.height_nm)
        for head, field in zip(("x_mm", "y_mm", "width_mm", "height_mm"), places, strict=True):
            assert nm(row[head]) == field[block]


def test_counts_are_the_blocks_counted_anew(case: str):
    counted = Counter(
        (row["footprint"], row["zone"], row["level_mm"], row["length_mm"], row["shade"])
        for row in read(case, "blocks.csv")
    )
    rows = read(case, "counts.csv")
    found = {
        (row["footprint"], row["zone"], row["level_mm"], row["length_mm"], row["shade"]): int(row["blocks"])
        for row in rows
    }
    assert len(found) == len(rows)
    assert found == counted


def test_cuts_are_the_slices_and_panels_of_the_plan(case: str):
    plan, rows = case_plan(case), read(case, "cuts.csv")
    slices = [row for row in rows if row["part"] == "slice" and row["from_mm"]]
    want = [
        (section.bought_as, stick.number, piece.from_nm, piece.to_nm)
        for section in plan.saw.sections
        for stick in (section.bought.sticks if section.bought else ())
        for piece in stick.slices
    ]
    want += [
        (length.name, stick.number, piece.from_nm, piece.to_nm)
        for length in plan.saw.lengths
        for stick in (length.plan.sticks if length.plan else ())
        for piece in stick.slices
    ]
    found = [(row["from"], int(row["stick_or_board"]), nm(row["from_mm"]), nm(row["to_mm"])) for row in slices]
    assert found == want or sorted(found) == sorted(want)
    assert all(nm(row["to_mm"]) - nm(row["from_mm"]) == nm(row["length_mm"]) for row in slices)
    panels = [
        (panel.name, panel.x_nm, panel.y_nm, panel.width_nm, panel.length_nm)
        for board in plan.saw.boards
        for sheet in (board.plan.sheets if board.plan else ())
        for panel in sheet.panels
    ]
    panels += [
        (panel.name, panel.x_nm, panel.y_nm, panel.width_nm, panel.length_nm)
        for shims in plan.press.shim_panels
        for sheet in (shims.plan.sheets if shims.plan else ())
        for panel in sheet.panels
    ]
    assert [
        (row["part"], *(nm(row[head]) for head in ("x_mm", "y_mm", "width_mm", "length_mm")))
        for row in rows
        if not row["from_mm"] and row["x_mm"]
    ] == panels
    assert [
        (row["from"], row["part"], nm(row["width_mm"]), nm(row["length_mm"]))
        for row in rows
        if not row["from_mm"] and not row["x_mm"]
    ] == [
        (strip.name, piece.name, strip.width_nm, piece.length_nm)
        for board in plan.saw.boards
        for strip in board.strips
        for piece in strip.pieces
        for _ in piece.parts
    ]


def test_shopping_paint_and_checks_are_those_of_the_plan(case: str):
    plan = case_plan(case)
    currency = plan.brief.piece.currency
    bought = read(case, "shopping.csv")
    assert [(row["group"], row["what"], row["how_much"], row["note"]) for row in bought] == [
        (line.for_what, line.what, line.amount, line.note) for line in (*plan.cost.shopping, *plan.cost.shims)
    ]
    for shims, total in ((False, plan.cost.materials_cents), (True, plan.cost.shims_cents)):
        priced = [row[f"price_{currency}"] for row in bought if (row["group"] == "shims") is shims]
        assert sum(map(cents, priced)) == total
    painted = read(case, "paint.csv")
    shades, ground = painted[: len(plan.paint.rows)], painted[len(plan.paint.rows) :]
    assert [(row["shade"], int(row["blocks"])) for row in shades] == [
        (row.shade, row.blocks) for row in plan.paint.rows
    ]
    assert [float(row["colour_ml"]) for row in shades] == pytest.approx(
        [row.colour_ml for row in plan.paint.rows], abs=0.0051
    )
    # edges from a tin of paint, and a front that is dyed from a pot of its own
    ways = ["ground", "dye"] if plan.paint.ground_way.name == "dye" else ["ground"]
    assert [row["shade"].partition(": ")[0] for row in ground] == ways
    assert [(row["verdict"], row["name"], row["found"], row["remedy"]) for row in read(case, "checks.csv")] == [
        (check.verdict.value, check.name, check.found, check.remedy) for check in plan.checks
    ]


def test_the_calendar_read_by_another_program_is_that_of_the_job(case: str):
    plan = dated(case_plan(case))
    data = table_files(plan, b"")["calendar.ics"]
    assert data.replace(b"\r\n", b"").count(b"\n") == 0
    assert max(len(line) for line in data.split(b"\r\n")) <= 75
    calendar = icalendar.Calendar.from_ical(data)
    assert calendar["VERSION"] == "2.0"
    assert calendar["PRODID"]
    events, entries = list(calendar.walk("VEVENT")), calendar_of(plan).entries
    assert len(events) == len(entries) > 3
    midnight = datetime(START.year, START.month, START.day)
    for event, entry in zip(events, entries, strict=True):
        assert not event.errors
        assert event["SUMMARY"] == f"{plan.brief.piece.name}: {entry.title}"
        assert event["DTSTART"].dt == midnight + timedelta(seconds=entry.from_s)
        assert event["DTEND"].dt == midnight + timedelta(seconds=entry.to_s)
        assert str(event.get("DESCRIPTION", "")) == entry.note
        assert event["TRANSP"] == ("OPAQUE" if entry.hands else "TRANSPARENT")
        assert event["DTSTAMP"].dt.tzinfo is not None
    assert len({str(event["UID"]) for event in events}) == len(events)


def test_without_a_date_there_is_no_calendar():
    assert "calendar.ics" not in tabled("S2")


def read(case: str, name: str) -> Rows:
    return list(csv.DictReader(io.StringIO(tabled(case)[name].decode("utf-8"), newline=""), strict=True))


def nm(text: str) -> int:
    """Nanometres of a decimal number of millimetres, without a float between."""
    whole, _, part = text.partition(".")
    return int(whole) * 10**6 + int(part.ljust(6, "0"))


def cents(text: str) -> int:
    return round(float(text) * 100) if text else 0


def dated(plan: Plan) -> Plan:
    return replace(plan, brief=replace(plan.brief, piece=replace(plan.brief.piece, date=START.isoformat())))
