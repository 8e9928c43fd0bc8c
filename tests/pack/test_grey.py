"""A printer without colour: every page set to grey stays readable, and nothing is told by colour alone."""

from __future__ import annotations

import io
import re
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from tests.pack.made import INCH, METRIC, RING, papers_of, sheets_of
from tests.pack.pdf_checks import Letter, pages_of
from tests.scenarios.cases import plan_of

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Hatch, Label, Rect
from bossage.pack.drawings.swatches import tone
from bossage.pack.sheet import Drawn, Sheet, Table, parts_of

SCENARIOS = (METRIC, INCH, RING)
LOOKED_AT = ("first", "wall", "trays", "saw", "scales", "paint", "map", "cards", "hang", "ring", "access", "household")
PX_PER_PT = 3.0
#: Contrast of letters with what they stand on: WCAG 2.2, criterion 1.4.3, 4.5 : 1, and 3 : 1 for 18 pt or 14 pt bold.
LEAST, LEAST_LARGE = 4.5, 3.0


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_letters_stand_out_from_what_they_stand_on_in_grey(scenario: str):
    pdf = papers_of(scenario)
    names = {sheet.title: sheet.name for sheet in sheets_of(scenario)}
    seen: set[str] = set()
    faint = []
    for number, page in enumerate(pages_of(pdf)):
        here = {names.get(title, "") for title in page.titles} & set(LOOKED_AT)
        if here <= seen:
            continue
        seen |= here
        grey = _grey(pdf, number)
        for letter in page.letters:
            if letter.text.strip() and letter.text not in "'.,-–·:;|°":  # no space, no mark of a pixel or two
                contrast = _contrast(grey, letter)
                least = LEAST_LARGE if letter.size >= 14 else LEAST
                if contrast < least:
                    faint.append((page.titles, letter.text, round(contrast, 2), round(letter.size, 1)))
    assert faint == []
    assert len(seen) >= 8


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_each_block_of_a_map_says_its_shade_in_words_and_each_patch_has_its_tone(scenario: str):
    shades = {shade.colour_hex: shade for shade in plan_of(scenario).fade.shades}
    for sheet in sheets_of(scenario):
        for part in parts_of(sheet):
            if isinstance(part, Table):
                _patches_are_named(sheet, part)
            if isinstance(part, Drawn) and sheet.name in {"map", "cards"}:
                _blocks_are_named(part.drawing)
            if isinstance(part, Drawn) and sheet.name == "scales":
                for shape in part.drawing.shapes:
                    if isinstance(shape, Rect) and shape.layer == "shades":
                        assert shape.hatch == tone(shades[str(shape.fill.colour)].lightness)


def test_darker_shades_are_hatched_closer():
    spacing = [hatch.spacing_mm for lightness in range(0, 90, 5) if isinstance(hatch := tone(lightness), Hatch)]
    assert spacing == sorted(set(spacing))
    assert tone(95) is None


def test_verdicts_and_cautions_have_a_shape_and_a_word_beside_their_colour():
    template = (Path(__file__).parents[2] / "src/bossage/pack/templates/sheet.typ").read_text(encoding="utf-8")
    marks = re.search(r"#let mark\(.*?\n\}\)", template, re.DOTALL)[0]
    assert all(f'"{verdict}"' in marks for verdict in ("fine", "caution", "stop"))
    assert len(set(re.findall(r"\b(circle|polygon|rect)\(", marks))) == 3


def _grey(pdf: bytes, number: int) -> np.ndarray:
    """Luminance of the page as a printer without colour has it, rows from the top."""
    shown = pypdfium2.PdfDocument(io.BytesIO(pdf))[number].render(scale=PX_PER_PT, grayscale=True)
    values = shown.to_numpy().astype(float).squeeze() / 255
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def _contrast(grey: np.ndarray, letter: Letter) -> float:
    """Of the ink of a letter to the ground round it: the darkest and the lightest in its box, a pixel more each way."""
    rows = grey.shape[0]
    left, right = int(letter.left * PX_PER_PT) - 1, int(letter.right * PX_PER_PT) + 2
    top, bottom = rows - int(letter.top * PX_PER_PT) - 2, rows - int(letter.bottom * PX_PER_PT) + 1
    box = grey[max(top, 0) : bottom, max(left, 0) : right]
    return float((box.max() + 0.05) / (box.min() + 0.05))


def _patches_are_named(sheet: Sheet, table: Table) -> None:
    for number, column in enumerate(table.columns):
        if column.patch:
            assert column.head, sheet.title
        if column.kind == "patch":
            for row in table.rows:
                assert not row[number] or row[number + 1], sheet.title


def _blocks_are_named(drawing: Drawing) -> None:
    """On every block stand words of its own: as many places with words as there are blocks."""
    words = [shape.at for shape in drawing.shapes if isinstance(shape, Label)]
    for block in drawing.shapes:
        if isinstance(block, Rect) and block.layer == "blocks":
            inside = [
                at
                for at in words
                if block.x_mm <= at[0] <= block.x_mm + block.width_mm
                and block.y_mm <= at[1] <= block.y_mm + block.height_mm
            ]
            assert len(inside) >= 2, block.name
