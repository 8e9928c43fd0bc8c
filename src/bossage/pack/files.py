"""Every file of a pack as bytes; writing them is the edge's work."""

from __future__ import annotations

import json
from collections.abc import Mapping

from bossage.brief.records import LengthUnit
from bossage.drawing.model import Drawing
from bossage.drawing.picture import lit_picture, png_bytes
from bossage.drawing.svg import svg_text
from bossage.errors import BossageError
from bossage.letters import isolated
from bossage.pack.catalogue import SHEETS, pack_sheets
from bossage.pack.drawings.fit import fitted
from bossage.pack.drawings.wall import wall_drawing
from bossage.pack.exports import export_files
from bossage.pack.grounds import GROUNDS, grounds_picture
from bossage.pack.large import large_data
from bossage.pack.order import Form, Order
from bossage.pack.printed import Files, piece_data, runs, sheet_data
from bossage.pack.scene import light_of, wall_scene
from bossage.pack.sheet import Photo, Sheet, in_shares, parts_of
from bossage.pack.sheets.common import PAPER_MM, room, words_of
from bossage.pack.sheets.days import calendar_of
from bossage.pack.sheets.first import PICTURE, picture_height_mm
from bossage.pack.sheets.survey import survey_sheet
from bossage.pack.spoken import spoken
from bossage.pack.tables import csv_files
from bossage.pack.typeset import compile_pdf, template_source
from bossage.plan import Plan
from bossage.press import calendar_ics

PICTURE_PX = 1200  # of the longer side: 170 to the inch on A4
SHARE_PAGES = 80  # of stickers in one PDF: more would ask for more memory than a small computer has
APART_BLOCKS = 2000  # more blocks than this, and the PDF is set in a process of its own

TEMPLATES = {Form.PRINT: "pack.typ", Form.LARGE: "large.typ"}


def pack_files(plan: Plan, *, sheets: tuple[str, ...] | None = None) -> dict[str, bytes]:
    """Every paper and table of a plan by its file name, `pack.pdf` first.

    Args:
        plan: A finished plan; one whose checks say stop is printed too, and says so on its first page.
        sheets: Names of the sheets wanted in the PDF, out of `SHEETS`; all that need no asking if not said.
    """
    picture = wall_picture(plan)
    return {
        "pack.pdf": pack_pdf(plan, picture, sheets=sheets),
        **table_files(plan, picture),
    }


def ordered_files(plan: Plan, order: Order) -> dict[str, bytes]:
    """What an order asks for: the whole pack in its forms, or each named sheet as a file of its own.

    A whole pack in print is `pack.pdf`, in large print `pack-large.pdf`; one sheet is `saw.pdf`, `saw-large.pdf`, and
    more stickers than go into one PDF are `backs-1.pdf`, `backs-2.pdf`.
    Plain text is one file a sheet, `text/saw.txt`, either way.
    """
    made = pack_sheets(plan, order.sheets)
    shown = PICTURE in _photos(made)
    picture = wall_picture(plan) if shown or order.sheets is None else b""
    files: dict[str, bytes] = {}
    for form in order.forms:
        if form is Form.TEXT:
            files |= text_files(plan, made)
        elif order.sheets is None:
            files[_file_name("pack", form)] = sheets_pdf(plan, made, picture, form)
        else:
            for name in order.sheets:
                one = [sheet for sheet in made if sheet.name == name]
                if len(one) == 1 and len(shares := in_shares(one[0], SHARE_PAGES)) > 1:
                    for number, share in enumerate(shares, start=1):
                        files[_file_name(f"{name}-{number}", form)] = sheets_pdf(plan, [share], picture, form)
                elif one:
                    files[_file_name(name, form)] = sheets_pdf(plan, one, picture, form)
    if order.sheets is None:
        files |= table_files(plan, picture)
    return files | export_files(plan, order.exports)


def text_files(plan: Plan, sheets: list[Sheet]) -> dict[str, bytes]:
    """Sheets as plain text, those of one name in one file."""
    said: dict[str, list[str]] = {}
    for sheet in sheets:
        said.setdefault(sheet.name, []).append(spoken(plan, sheet))
    return {f"text/{name}.txt": "\n\n".join(texts).encode("utf-8") for name, texts in said.items()}


def wall_picture(plan: Plan) -> bytes:
    """The lit picture of the piece on its wall, as a PNG file."""
    scene = wall_scene(plan, aspect=room(plan).width_mm / picture_height_mm(plan))
    px_per_mm = PICTURE_PX / max(scene.window.width_mm, scene.window.height_mm)
    return png_bytes(lit_picture(scene, px_per_mm=px_per_mm, light=light_of(plan.brief)), px_per_mm=px_per_mm)


def elevation(plan: Plan) -> Drawing:
    """The wall drawing at a scale that suits a sheet of A3."""
    return fitted(wall_drawing(plan, words_of(plan)), width_mm=400.0, height_mm=277.0)


def pack_pdf(plan: Plan, picture: bytes, *, sheets: tuple[str, ...] | None = None) -> bytes:
    """Sheets in one PDF: those named, or all that need no asking."""
    return sheets_pdf(plan, pack_sheets(plan, sheets), picture, Form.PRINT)


def sheets_pdf(plan: Plan, sheets: list[Sheet], picture: bytes, form: Form) -> bytes:
    """Sheets that are made already, in one PDF."""
    template, inputs = pdf_input(plan, sheets, picture, form)
    return compile_pdf(template, inputs, apart=plan.layout.blocks.count > APART_BLOCKS)


def pdf_input(plan: Plan, sheets: list[Sheet], picture: bytes, form: Form) -> tuple[str, dict[str, bytes]]:
    """What Typst sets them from: the template, and its data, pictures and drawings by file name."""
    files = Files()
    data: dict[str, object] = {"piece": piece_data(plan)}
    if form is Form.PRINT:
        data["runs"] = [[sheet_data(sheet, files) for sheet in run] for run in runs(sheets)]
    else:
        one_data = large_data(plan)
        data["sheets"] = [one_data(sheet, files) for sheet in sheets]
    inputs = {"data.json": _as_json(data)}
    photos = _photos(sheets)
    if PICTURE in photos:
        inputs[PICTURE] = picture
    if GROUNDS in photos:
        inputs[GROUNDS] = grounds_picture(plan)
    inputs |= {name: text.encode("utf-8") for name, text in files.svg.items()}
    return template_source(TEMPLATES[form]), inputs


def _as_json(data: Mapping[str, object]) -> bytes:
    """Data for a template; words that run from right to left are set apart from the English around them."""
    return isolated(json.dumps(data, ensure_ascii=False)).encode("utf-8")


def table_files(plan: Plan, picture: bytes) -> dict[str, bytes]:
    """What a pack holds beside its PDF: drawing of the wall, picture, tables, calendar."""
    return {
        "elevation.svg": svg_text(elevation(plan)).encode("utf-8"),
        PICTURE: picture,
        **csv_files(plan),
        **_calendar_file(plan),
    }


def blank_survey(*, paper: str, unit: str) -> bytes:
    """The survey sheet by itself, for a wall that has no brief yet.

    Raises:
        BossageError: Paper or unit is none that we know.
    """
    if paper not in PAPER_MM or unit not in LengthUnit.__members__.values():
        papers, units = ", ".join(PAPER_MM), ", ".join(LengthUnit)
        raise BossageError(f"A survey is printed on {papers}, in {units}; not on {paper} in {unit}.")
    piece = {"name": "", "stamp": "", "date": "", "paper": paper, "inches": unit == LengthUnit.IN}
    data = {"piece": piece, "runs": [[sheet_data(survey_sheet(unit, paper), files := Files())]]}
    inputs = {"data.json": _as_json(data)}
    return compile_pdf(
        template_source("pack.typ"), inputs | {name: text.encode("utf-8") for name, text in files.svg.items()}
    )


def _calendar_file(plan: Plan) -> dict[str, bytes]:
    """`calendar.ics`, where day 1 has a date."""
    calendar = calendar_of(plan)
    if calendar.start is None:
        return {}
    return {"calendar.ics": calendar_ics(calendar, name=plan.brief.piece.name, stamp=plan.stamp)}


def _photos(sheets: list[Sheet]) -> set[str]:
    return {part.name for sheet in sheets for part in parts_of(sheet) if isinstance(part, Photo)}


def _file_name(name: str, form: Form) -> str:
    return f"{name}.pdf" if form is Form.PRINT else f"{name}-{form.value}.pdf"


__all__ = [
    "SHEETS",
    "blank_survey",
    "elevation",
    "ordered_files",
    "pack_files",
    "pack_pdf",
    "pack_sheets",
    "pdf_input",
    "sheets_pdf",
    "table_files",
    "text_files",
]
