from __future__ import annotations

import io
from pathlib import Path

import numpy as np
import pytest
from pypdf import PdfReader
from tests.pack.pdf_checks import check_bars_mm, outside, overlaps, pages_of, plumbed, text_of

from bossage.drawing.model import Drawing
from bossage.drawing.picture import png_bytes
from bossage.drawing.place import chain
from bossage.drawing.shapes import Line, Rect, Stroke
from bossage.drawing.svg import svg_text
from bossage.pack.typeset import Unprintable, compile_pdf

SAMPLE = (Path(__file__).parent / "sample.typ").read_text(encoding="utf-8")


def _stick() -> bytes:
    shapes = [Rect(x_mm=0, y_mm=0, width_mm=3000, height_mm=70, stroke=Stroke.OUTLINE)]
    shapes += [Line(start=(30 + 42.2 * n, 0), end=(30 + 42.2 * n, 70), stroke=Stroke.THIN) for n in range(23)]
    shapes += chain([0, 30, 958, 2800, 3000], feet_mm=0, line_mm=-140, words=lambda mm: f"{mm:.0f}", scale_n=20)
    return svg_text(Drawing(title="Stick", description="One stick.", shapes=tuple(shapes), scale_n=20)).encode()


def _files() -> dict[str, bytes]:
    picture = png_bytes(np.full((60, 90, 3), 230, dtype=np.uint8), px_per_mm=1)
    return {"picture.png": picture, "stick.svg": _stick()}


@pytest.fixture(scope="module")
def sample() -> bytes:
    return compile_pdf(SAMPLE, _files())


def test_the_same_bytes_again_and_in_a_process_of_its_own(sample):
    assert compile_pdf(SAMPLE, _files()) == sample
    assert compile_pdf(SAMPLE, _files(), apart=True) == sample


def test_only_our_font_is_used(sample):
    named = (plumbed(sample, number).chars for number in range(len(pages_of(sample))))
    assert {char["fontname"].split("+")[-1].split("-")[0] for chars in named for char in chars} == {"BossageSans"}


def test_it_is_tagged_and_has_a_title(sample):
    reader = PdfReader(io.BytesIO(sample))
    assert reader.trailer["/Root"]["/MarkInfo"]["/Marked"]
    assert reader.metadata.title == "Larch corner, a sample, shop pack"


def test_no_text_overlaps_and_none_falls_off_the_paper(sample):
    assert overlaps(sample) == []
    assert outside(sample) == []


def test_the_check_bar_on_the_scaled_page_is_true(sample):
    bars = [check_bars_mm(page) for page in pages_of(sample)]
    assert [len(found) for found in bars] == [0, 1, 0]
    assert bars[1][0] == pytest.approx(100, abs=0.2)


def test_overlapping_text_is_found():
    crossing = '#set document(title: "x")\n#set text(font: "Bossage Sans")\n#place(dx: 10mm)[one]#place(dx: 11mm)[two]'
    assert overlaps(compile_pdf(crossing, {}))


def test_every_sheet_ends_with_what_to_do_when_it_went_wrong(sample):
    for page in pages_of(sample):
        assert "When it went wrong" in page.text


def test_a_font_that_is_not_there_is_refused():
    with pytest.raises(Unprintable) as fault:
        compile_pdf('#set document(title: "x")\n#set text(font: "No Such Family")\nword', {})
    assert "font" in fault.value.said


@pytest.mark.parametrize("apart", [False, True])
def test_a_faulty_template_says_what_is_wrong(apart):
    with pytest.raises(Unprintable, match="fault of bossage") as fault:
        compile_pdf('#set document(title: "x")\n#nothing-of-the-kind', {}, apart=apart)
    assert "unknown variable" in fault.value.said
    # what a library says is for the file that can be sent, not for a maker
    assert "unknown variable" not in str(fault.value)


def test_text_can_be_read_back(sample):
    assert "18.6" in text_of(sample)
