"""Every file of a pack as bytes; writing them is the edge's work."""

from __future__ import annotations

import json

from bossage.drawing.model import Drawing
from bossage.drawing.picture import lit_picture, png_bytes
from bossage.drawing.svg import svg_text
from bossage.pack.drawings.fit import fitted
from bossage.pack.drawings.wall import wall_drawing
from bossage.pack.scene import light_of, wall_scene
from bossage.pack.sheet import Files, Sheet, sheet_data
from bossage.pack.sheets.cards import access_sheet, household_sheet
from bossage.pack.sheets.common import room, words_of
from bossage.pack.sheets.compare import methods_sheet, wood_sheet
from bossage.pack.sheets.counts import counts_sheet
from bossage.pack.sheets.days import calendar_of, days_sheet
from bossage.pack.sheets.first import PICTURE, first_sheet, picture_height_mm
from bossage.pack.sheets.hanging import hang_sheets
from bossage.pack.sheets.lists import assumptions_sheet, checks_sheet, shopping_sheet
from bossage.pack.sheets.maps import map_sheets
from bossage.pack.sheets.paint import paint_sheet, sand_sheet
from bossage.pack.sheets.pots import pot_sheets
from bossage.pack.sheets.press import press_sheets
from bossage.pack.sheets.saw import saw_sheets
from bossage.pack.sheets.wall import wall_sheets
from bossage.pack.tables import csv_files
from bossage.pack.typeset import compile_pdf, template_source
from bossage.plan import Plan
from bossage.press import calendar_ics

#: Sheets by the word with which they are asked for, in the order of the work.
SHEETS = (
    "first", "days", "wall", "shopping", "trays", "saw", "boards", "lengths", "sand", "scales", "recipes", "onepot",
    "testcard", "paint", "map", "wood", "methods", "press", "cards", "ring",
    "hang", "loads", "access", "household", "checks", "assumed",
)  # fmt: skip

PICTURE_PX = 1200  # of the longer side: 170 to the inch on A4
APART_BLOCKS = 2000  # more blocks than this, and the PDF is set in a process of its own


def pack_files(plan: Plan, *, sheets: tuple[str, ...] | None = None) -> dict[str, bytes]:
    """Every paper and table of a plan by its file name, `pack.pdf` first.

    Args:
        plan: A finished plan; one whose checks say stop is printed too, and says so on its first page.
        sheets: Names of the sheets wanted in the PDF, out of `SHEETS`; all if not said.
    """
    picture = wall_picture(plan)
    return {
        "pack.pdf": pack_pdf(plan, picture, sheets=sheets),
        "elevation.svg": svg_text(elevation(plan)).encode("utf-8"),
        PICTURE: picture,
        **csv_files(plan),
        **_calendar_file(plan),
    }


def _calendar_file(plan: Plan) -> dict[str, bytes]:
    """`calendar.ics`, where day 1 has a date."""
    calendar = calendar_of(plan)
    if calendar.start is None:
        return {}
    return {"calendar.ics": calendar_ics(calendar, name=plan.brief.piece.name, stamp=plan.stamp)}


def wall_picture(plan: Plan) -> bytes:
    """The lit picture of the piece on its wall, as a PNG file."""
    scene = wall_scene(plan, aspect=room(plan).width_mm / picture_height_mm(plan))
    px_per_mm = PICTURE_PX / max(scene.window.width_mm, scene.window.height_mm)
    return png_bytes(lit_picture(scene, px_per_mm=px_per_mm, light=light_of(plan.brief)), px_per_mm=px_per_mm)


def elevation(plan: Plan) -> Drawing:
    """The wall drawing at a scale that suits a sheet of A3."""
    return fitted(wall_drawing(plan, words_of(plan)), width_mm=400.0, height_mm=277.0)


def pack_pdf(plan: Plan, picture: bytes, *, sheets: tuple[str, ...] | None = None) -> bytes:
    """All sheets in one PDF."""
    wanted = [sheet for sheet in pack_sheets(plan) if sheets is None or sheet.name in sheets]
    files = Files()
    piece = plan.brief.piece
    data = {
        "piece": {
            "name": piece.name,
            "stamp": plan.stamp,
            "date": piece.date,
            "paper": piece.paper,
            "inches": piece.unit.value == "in",
        },
        "sheets": [sheet_data(sheet, files) for sheet in wanted],
    }
    inputs = {"data.json": json.dumps(data, ensure_ascii=False).encode("utf-8"), PICTURE: picture}
    inputs |= {name: text.encode("utf-8") for name, text in files.svg.items()}
    return compile_pdf(template_source("pack.typ"), inputs, apart=plan.layout.blocks.count > APART_BLOCKS)


def pack_sheets(plan: Plan) -> list[Sheet]:
    """Every sheet, in the order of the work."""
    assumed = assumptions_sheet(plan)
    return [
        first_sheet(plan),
        days_sheet(plan),
        *wall_sheets(plan),
        shopping_sheet(plan),
        counts_sheet(plan),
        *saw_sheets(plan),
        sand_sheet(plan),
        *pot_sheets(plan),
        paint_sheet(plan),
        *map_sheets(plan),
        wood_sheet(plan),
        methods_sheet(plan),
        *press_sheets(plan),
        *hang_sheets(plan),
        access_sheet(plan),
        household_sheet(plan),
        checks_sheet(plan),
        *([assumed] if assumed is not None else []),
    ]
