"""Papers of briefs that nobody has looked at: every plan that can be made can be printed, whole."""

from __future__ import annotations

import csv
import io
from xml.etree import ElementTree

import pytest
from PIL import Image
from tests.brief.generate import made_up
from tests.pack.pdf_checks import read_out

from bossage.brief import read_brief
from bossage.pack import pack_files
from bossage.pack.catalogue import pack_sheets
from bossage.plan import Plan, make_plan


@pytest.mark.parametrize("seed", range(100, 105))
def test_a_made_up_plan_is_printed(seed: int) -> None:
    plan = make_plan(read_brief(made_up(seed).text))
    assert isinstance(plan, Plan)
    files = pack_files(plan)
    printed = ["".join(page.split()) for page in read_out(files["pack.pdf"])]
    titles = ["".join(sheet.title.split()) for sheet in pack_sheets(plan)]
    assert len(printed) >= len(titles) > 5
    assert [title for title in titles if not any(title in page for page in printed)] == []
    rows = list(csv.DictReader(io.StringIO(files["blocks.csv"].decode("utf-8-sig"))))
    assert len(rows) == len(plan.layout.blocks.row)
    assert ElementTree.fromstring(files["elevation.svg"]).tag.endswith("svg")
    assert Image.open(io.BytesIO(files["picture.png"])).getextrema() != ((0, 0), (0, 0), (0, 0))
