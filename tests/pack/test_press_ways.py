"""The cards of each way of pressing: screws from behind, bags, and the packing under rows that are pressed face up."""

from __future__ import annotations

import re
from collections import Counter

import pytest
from tests.scenarios.cases import varied

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Label, Rect
from bossage.pack.sheet import Card, Drawn, Figures, Para, Sheet, Table, parts_of
from bossage.pack.sheets.press import press_sheets
from bossage.plan import Plan


def in_way(scenario: str, way: str) -> tuple[Plan, dict[str, Sheet]]:
    """The plan of a scenario pressed in that way, and its sheets of pressing by name."""
    plan = varied(scenario, f"pressed by {way}", lambda brief: brief.setdefault("glue", {}).update(way=way))
    assert plan.press.way.name == way
    return plan, {sheet.name: sheet for sheet in press_sheets(plan)}


def drawings_of(sheet: Sheet) -> list[tuple[Drawing, str]]:
    found = [(part.drawing, part.caption) for part in parts_of(sheet) if isinstance(part, Drawn)]
    assert all(isinstance(drawing, Drawing) for drawing, _ in found)
    return found


# by hand: a screw through the backer, 12 in S2 and 11 in S7, and 3 short of the face, of those that are sold
SCREWS_MM = {
    "S2": {18: "25", 22: "30", 26: "35", 30: "35", 35: "40", 40: "45"},
    "S7": {13: "–", 18: "25", 24: "30", 29: "35", 35: "40", 40: "45"},
}


@pytest.mark.parametrize("scenario", SCREWS_MM)
def test_each_block_has_its_screw_or_is_held_by_glue_alone(scenario: str) -> None:
    plan, sheets = in_way(scenario, "screws")
    sheet = sheets["cards"]
    (bed,) = plan.press.beds
    level_mm = {one.block: plan.relief.levels_nm[int(plan.relief.level[one.block])] // 10**6 for one in bed.blocks}
    screws = [SCREWS_MM[scenario][level_mm[one.block]] for one in bed.blocks]
    ((drawing, _),) = drawings_of(sheet)
    assert [shape.text for shape in drawing.shapes if isinstance(shape, Label) and shape.layer == "screws"] == screws
    address = plan.layout.blocks.address
    told = (
        f"{address(one.block)}: {'no screw' if text == '–' else f'screw {text} mm'}."
        for one, text in zip(bed.blocks, screws, strict=True)
    )
    assert drawing.reading == tuple(told)
    # seen from the back: the first block from the left is the last in its row from the front
    one = bed.blocks[0]
    box = next(s for s in drawing.shapes if isinstance(s, Rect) and s.name == address(one.block))
    leaf, blocks = plan.layout.leaves[0], plan.layout.blocks
    right_nm = int(blocks.x_nm[one.block] + blocks.width_nm[one.block]) - leaf.x_nm
    assert box.x_mm == pytest.approx((leaf.width_nm - right_nm) / 1e6)
    (table,) = (part for part in parts_of(sheet) if isinstance(part, Table))
    counts = Counter("glue alone" if text == "–" else text for text in screws)
    assert dict(table.rows) == {text: str(count) for text, count in counts.items()}
    assert "shim" not in sheet.todo + sheet.wrong
    lengths = [text for text, _ in table.rows if text != "glue alone"]
    assert lengths == sorted(lengths, reverse=True)
    assert [text for text, _ in table.rows[len(lengths) :]] == ["glue alone"] * ("–" in screws)
    (figures,) = (part for part in parts_of(sheet) if isinstance(part, Figures))
    assert {item.words: item.value for item in figures.items if item.words in ("blocks", "screws")} == {
        "blocks": str(len(screws)),
        "screws": str(sum(text != "–" for text in screws)),
    }


def test_rows_under_bags_have_bags_in_place_of_shims_and_clamps() -> None:
    plan, sheets = in_way("S2", "bags")
    cards = [part for part in sheets["cards"].parts if isinstance(part, Card)]
    assert [card.title for card in cards] == [f"Row {row.row}" for row in plan.press.rows]
    assert {card.blanks for card in cards} == {("on", "off")}
    assert "On and off: the clamps, or the bags" in sheets["cards"].todo
    drawn = drawings_of(sheets["cards"])
    told = [part.text for card in cards for part in card.parts if isinstance(part, Para)]
    # a row of 1120 × 45 mm under 100 kg a square metre is 5.04 kg: two bags
    assert len(told) == len(cards)
    assert all(re.search(r", 2 bags of 5 kg\. Day \d+: lay ", text) for text in told)
    assert "clamp" not in "".join(told)
    for drawing, _ in drawn:
        assert not [shape for shape in drawing.shapes if shape.layer == "shims"]
        assert "shim" not in " ".join(drawing.reading)
    assert "shim" not in sheets["cards"].todo


def test_rows_under_a_caul_have_a_frame_and_a_word_for_each_shim() -> None:
    plan, sheets = in_way("S2", "row by row")
    highest = max(plan.relief.levels_nm)
    for (drawing, _), card in zip(drawings_of(sheets["cards"]), plan.press.rows, strict=True):
        laid = [block for batch in card.batches for block in batch.blocks]
        frames = [s for s in drawing.shapes if isinstance(s, Rect) and s.layer == "shims"]
        shims = [s.text for s in drawing.shapes if isinstance(s, Label) and s.layer == "shims"]
        lower = [highest - plan.relief.levels_nm[int(plan.relief.level[one.block])] for one in laid]
        assert len(frames) == len(laid)
        assert shims == [f"+{nm // 10**6}" for nm in lower if nm]
        assert sum(said.endswith(", no shim.") for said in drawing.reading) == lower.count(0)


@pytest.mark.parametrize("way", ["row by row", "bags"])
def test_packing_under_the_back_is_told_row_by_row(way: str) -> None:
    _, sheets = in_way("S2", way)
    (table,) = (part for part in parts_of(sheets["press"]) if isinstance(part, Table) and part.columns[0].head == "row")
    # by hand: a panel half of 900 in the middle of 1100, 24 deep; ribs of 40, 6 lower, 57 from either side
    assert table.columns[2].head == "packing, mm: thick × long, from the left edge"
    assert table.rows[0] == ("1", "panel half", "24 × 100 at 0; 24 × 100 at 1000")
    assert table.rows[2] == (
        "3 to 13",
        "nothing",
        "24 × 57 at 0; 6 × 40 at 57; 24 × 906 at 97; 6 × 40 at 1003; 24 × 57 at 1043",
    )
    assert table.rows[3][:2] == ("14 to 15", "foot spacers")
    ends = [re.fullmatch(r"(\d+)(?: to (\d+))?", row[0]) for row in table.rows]
    spans = [(int(end[1]), int(end[2] or end[1])) for end in ends if end]
    assert [row for first, last in spans for row in range(first, last + 1)] == list(range(1, 17))
