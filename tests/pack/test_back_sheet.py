"""'The back': every part of the body is drawn at its size and place, named, numbered, held and made in an order."""

from __future__ import annotations

import io
import re
from functools import cache
from itertools import pairwise

import pdfplumber
import pytest
from tests.pack.made import SCENARIOS
from tests.pack.pdf_checks import outside, overlaps, text_of
from tests.scenarios.cases import plan_of

from bossage.body import WALL, Part, Role
from bossage.drawing.shapes import Circle, Label, Line, Outline, Rect
from bossage.pack.drawings.back import back_drawing
from bossage.pack.drawings.backview import back_view
from bossage.pack.drawings.cut import cut_of, named_together
from bossage.pack.drawings.marks import spread
from bossage.pack.drawings.section import end_drawings, section_drawing
from bossage.pack.files import pack_pdf
from bossage.pack.sheet import Drawn, Para, Steps, Table, parts_of
from bossage.pack.sheets.back import back_sheets
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.saw import saw_sheets

ON_THE_WALL = (Role.WALL_HALF, Role.WALL_PACKER, Role.POST, Role.KEEPER, Role.BUTTON)


@cache
def pdf_of(scenario: str) -> bytes:
    return pack_pdf(plan_of(scenario), b"", sheets=("back",))


def drawn_back(scenario: str, scale_n: float = 8.0):
    plan = plan_of(scenario)
    return back_drawing(plan, plan.layout.leaves[0], words_of(plan))(scale_n)


def parts_of_first(scenario: str) -> tuple[Part, ...]:
    plan = plan_of(scenario)
    leaf = plan.layout.leaves[0]
    return plan.body.of(leaf.name, leaf.copy)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_every_part_is_named_in_the_pdf_and_none_overlaps_or_falls_off(scenario: str):
    pdf = pdf_of(scenario)
    said = re.sub(r"\s+", " ", text_of(pdf))
    for part in plan_of(scenario).body.parts:
        assert part.name in said, part.name
        assert part.number
    assert overlaps(pdf)[:3] == []
    assert outside(pdf)[:3] == []


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_every_part_has_its_number_and_name_on_the_drawing_once(scenario: str):
    drawing = drawn_back(scenario)
    names = [
        s.text.removesuffix(", under it").removesuffix(", over it, on the wall")
        for s in drawing.shapes
        if isinstance(s, Label) and s.layer == "names"
    ]
    numbers = [s.text for s in drawing.shapes if isinstance(s, Label) and s.layer == "numbers"]
    parts = parts_of_first(scenario)
    assert sorted(set(names) & {p.name for p in parts}) == sorted(p.name for p in parts)
    assert len(names) == len(set(names))
    assert sorted(numbers) == sorted(str(p.number) for p in parts)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_names_on_the_drawing_keep_clear_of_each_other_and_of_screws(scenario: str):
    from bossage.drawing.extent import label_box

    plan = plan_of(scenario)
    [drawing, *_] = [one.drawing for one in parts_of(back_sheets(plan)[0]) if isinstance(one, Drawn)]
    boxes = [label_box(s, drawing.scale_n) for s in drawing.shapes if isinstance(s, Label)]
    assert not [(a, b) for n, a in enumerate(boxes) for b in boxes[:n] if a.meets(b, -1e-6)]
    crosses = [s for s in drawing.shapes if isinstance(s, Line) and s.layer == "screws"]
    for line in crosses:
        (x0, y0), (x1, y1) = line.start, line.end
        assert not any(
            b.left_mm < max(x0, x1)
            and b.right_mm > min(x0, x1)
            and b.bottom_mm < max(y0, y1)
            and b.top_mm > min(y0, y1)
            for b in boxes
        )


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_figures_from_the_corner_give_every_edge_of_what_the_leaf_carries(scenario: str):
    plan = plan_of(scenario)
    words, view = words_of(plan), back_view(plan, plan.layout.leaves[0])
    labels = {s.text for s in drawn_back(scenario).shapes if isinstance(s, Label) and s.layer == "places"}
    for part in parts_of_first(scenario):
        if part.role in ON_THE_WALL:
            continue
        for box in (view.box(part), *view.slots(part)):
            assert {words.of_mm(edge) for edge in (box.left_mm, box.right_mm, box.bottom_mm, box.top_mm)} <= labels
    assert {words.of_mm(along) for screw in view.screws for along in screw} <= labels
    backer = view.box(view.backer)
    assert (backer.left_mm, backer.bottom_mm) == (0.0, 0.0)


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_cut_shows_parts_with_the_outlines_of_the_body(scenario: str):
    plan = plan_of(scenario)
    leaf = plan.layout.leaves[0]
    drawing = section_drawing(plan, leaf, words_of(plan))(5.0)
    level = cut_of(plan, leaf).along == "x"
    by_name = {part.name: part for part in parts_of_first(scenario)}
    seen = set()
    for shape in drawing.shapes:
        if not isinstance(shape, Outline):
            continue
        part = by_name.get(shape.name)
        if part is None or part.openings_nm:
            continue
        seen.add(part.role)
        box = part.box
        if level:
            want = [(x / 1e6, -z / 1e6) for x in (box.x0, box.x1) for z in (box.z0, box.z1)]
            assert sorted(shape.points) == sorted(want)
        else:
            assert sorted(shape.points) == sorted((z / 1e6, y / 1e6) for y, z in part.outline_nm)
    roles = {part.role for part in by_name.values()}
    assert {Role.PANEL_HALF, Role.WALL_HALF, Role.PACKER, Role.FILLER} & roles <= seen
    labels = " ".join(s.text for s in drawing.shapes if isinstance(s, Label) and s.layer == "names")
    assert all(one.name in labels for one in plan.body.fixtures if one.copy == 1 and cut_names(plan, leaf, one.name))
    assert len({c for c in drawing.shapes if isinstance(c, Circle) and c.layer == "numbers"}) >= 4


def cut_names(plan, leaf, name: str) -> bool:
    return any(cut.name == name for cut in cut_of(plan, leaf).fixtures)


def test_a_level_cut_comes_with_both_its_ends_larger():
    plan = plan_of("S7")
    leaf = plan.layout.leaves[0]
    ends = dict(end_drawings(plan, leaf, words_of(plan)))
    assert set(ends) == {"left end", "right end"}
    named = {
        name: {s.text for s in draw(3.0).shapes if isinstance(s, Label) and s.layer == "names"}
        for name, draw in ends.items()
    }
    assert "hinge 1 and 2" in named["left end"]
    assert "catch" in named["right end"]
    assert end_drawings(plan_of("S2"), plan_of("S2").layout.leaves[0], words_of(plan_of("S2"))) == []


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_table_says_of_every_part_what_holds_it_and_where_it_stays(scenario: str):
    plan = plan_of(scenario)
    sheet = back_sheets(plan)[0]
    made, places, *_ = [one for one in parts_of(sheet) if isinstance(one, Table)]
    parts = parts_of_first(scenario)
    assert [row[0] for row in made.rows] == [str(n) for n in sorted({p.number for p in parts})]
    leaf = plan.layout.leaves[0]
    joints = [j for j in plan.body.joints if (j.leaf, j.copy) == (leaf.name, leaf.copy)]
    for row in made.rows:
        same = [p for p in parts if str(p.number) == row[0]]
        assert row[1] == named_together([p.name for p in same])
        assert same[0].moves or "the wall" in row[4]
        for partner in {j.b for j in joints if j.a in {p.name for p in same}} - {WALL}:
            assert f"(no. {next(p.number for p in parts if p.name == partner)})" in row[4]
    words, view = words_of(plan), back_view(plan, leaf)
    told = {row[1]: row[2:4] for row in places.rows}
    for part in parts:
        if part.role is not Role.BACKER:
            box, name = view.box(part), f"{part.name}, on the wall" if part.role in ON_THE_WALL else part.name
            assert told[name] == (words.of_mm(box.left_mm), words.of_mm(box.bottom_mm))


@pytest.mark.parametrize("scenario", SCENARIOS)
def test_the_order_puts_every_part_on_and_ends_with_the_trial(scenario: str):
    plan = plan_of(scenario)
    [steps] = [one.texts for one in parts_of(back_sheets(plan)[0]) if isinstance(one, Steps)]
    assert len(steps) == len([s for s in plan.body.steps if s.leaf == plan.layout.leaves[0].name])
    ring = [text for text in steps if "Edge ring" in text]  # strips go on last, once the field is laid
    kept = [text for text in steps if "where the magnet marks it" in text]  # shut as a trial, the leaf marks the place
    assert "as a trial" in steps[-1 - len(ring) - len(kept)]
    assert steps[len(steps) - len(ring) :] == (*ring,)
    for part in parts_of_first(scenario):
        assert any(f"(no. {part.number})" in text for text in steps), part.name


def test_leaves_alike_share_a_sheet_and_others_do_not():
    assert [sheet.title for sheet in back_sheets(plan_of("S3"))] == [
        "The back, leaves left and right",
        "The back, leaf middle",
    ]
    assert [sheet.title for sheet in back_sheets(plan_of("S2"))] == ["The back"]


def test_the_drawing_on_the_paper_is_as_large_as_its_scale_says():
    plan = plan_of("S2")
    page = pdfplumber.open(io.BytesIO(pdf_of("S2"))).pages[0]
    drawing = next(one.drawing for one in parts_of(back_sheets(plan)[0]) if isinstance(one, Drawn))
    backer = next(s for s in drawing.shapes if isinstance(s, Rect) and s.layer == Role.BACKER.value)
    want = backer.width_mm / drawing.scale_n
    widths = [abs(one["x1"] - one["x0"]) * 25.4 / 72 for one in (*page.rects, *page.curves)]
    assert any(width == pytest.approx(want, abs=0.1) for width in widths)


def test_names_that_share_words_are_said_once():
    assert named_together(["rib 1", "rib 2", "rib 3"]) == "rib 1, 2 and 3"
    assert named_together(["upper edge strip", "lower edge strip"]) == "upper and lower edge strip"
    assert named_together(["catch"]) == "catch"
    assert named_together(["hinge", "stay"]) == "hinge and stay"


def test_crowded_places_are_spread_about_their_middle():
    assert spread([0.0, 1.0, 20.0], 4.0) == [-1.5, 2.5, 20.0]
    assert spread([], 4.0) == []
    found = spread([5.0, 5.0, 5.0, 7.0], 2.0)
    assert [b - a for a, b in pairwise(found)] == pytest.approx([2.0, 2.0, 2.0])


def test_every_screw_from_the_face_has_its_place_in_the_table_and_its_bits_their_tapes():
    plan = plan_of("S2")
    sheet = back_sheets(plan)[0]
    table = next(p for p in parts_of(sheet) if isinstance(p, Table) and "screws along it" in p.columns[-1].head)
    # by hand: ribs 600 long from 50 up, 40 wide from 57 and 1003: 40 from each end, two evenly between
    assert [row[1:] for row in table.rows] == [
        ("rib 1", "1023 across", "90, 263, 437, 610 up"),
        ("rib 2", "77 across", "90, 263, 437, 610 up"),
        ("lock ledge", "10 up", "10, 30 across"),
        ("panel half", "667 up", "120, 292, 464, 636, 808, 980 across"),
    ]
    steps = " ".join(next(part for part in parts_of(sheet) if isinstance(part, Steps)).texts)
    # from the backer's face: 12 of backer and 13 of the rib; 12 and 6 before the panel half, 14 into it
    assert "4.5 mm with tape 12 mm from its tip, then 2.5 mm with tape 25 mm from its tip" in steps
    assert "with tape 18 mm from its tip, then 2 mm with tape 32 mm from its tip" in steps
    assert "Glue the packer (no. 4) to the backer (no. 1). Clamp until the glue holds. It has no screws" in steps
    behind = next(part for part in parts_of(back_sheets(plan_of("S1"))[0]) if isinstance(part, Steps)).texts
    assert any("heads sunk flush, as that face lies on the wall" in text for text in behind)


def test_openings_have_one_number_on_the_back_and_at_the_saw():
    plan = plan_of("S1")
    back = list(parts_of(back_sheets(plan)[0]))
    rows = [row for part in back if isinstance(part, Table) for row in part.rows if "opening" in row[1]]
    wide = [r[2] - r[0] for r in plan.saw.openings[0].rects_nm]
    words = words_of(plan)
    assert [row[1].partition("opening ")[2].partition(",")[0] for row in rows] == [str(n + 1) for n in range(len(wide))]
    for row, width in zip(rows, wide, strict=True):
        assert f", {words.bare(width)} ×" in row[1]
    said = " ".join(part.text for part in back if isinstance(part, Para))
    assert "stay open, 2-1/2 in of them: air passes there" in said


@pytest.mark.parametrize("scenario", ["first", "S2"])
def test_screws_of_the_panel_half_have_their_places_on_the_face_and_a_bit_for_a_sunk_head(scenario: str):
    plan = plan_of(scenario)
    panel, view = plan.hang.leaves[0].cleat.panel, back_view(plan, plan.layout.leaves[0])
    assert panel.from_front
    (row,) = (
        row
        for sheet in back_sheets(plan)
        for table in parts_of(sheet)
        if isinstance(table, Table)
        for row in table.rows
        if row[1] == "panel half" and row[2].endswith("up")
    )
    words = words_of(plan)
    assert [f"{place}" for place in row[3].removesuffix(" across").split(", ")] == [
        words.of_mm(x) for x in sorted(x for x, _ in view.screws)
    ]
    said = " ".join(
        text
        for sheet in back_sheets(plan)
        for part in parts_of(sheet)
        if isinstance(part, Steps)
        for text in part.texts
    )
    assert panel.sunk_nm
    assert f"a bit of {words.drill(panel.head_hole_mm)} with tape {words.length(panel.sunk_nm)} from its tip" in said


def test_a_section_that_no_shop_has_is_ripped_from_the_next_that_a_shop_has():
    """American Softwood Lumber Standard PS 20-20, Table 3: a dry 4 × 4 measures 3-1/2, a 1 × 3 3/4 × 2-1/2 in."""
    sheet = next(sheet for sheet in saw_sheets(plan_of("S1")) if sheet.name == "lengths")
    said = [part for part in parts_of(sheet) if isinstance(part, Para) and "rip it from" in part.text]
    assert [part.lead for part in said] == [
        "Where no shop has 2-1/4 × 1-3/4 in:"
    ]  # the frame's 3/4 × 2-1/2 in is a 1 × 3
    assert "A 4 × 4 does, which measures 3-1/2 × 3-1/2 in" in said[0].text
    assert "fence at 2-1/4, then, turned, at 1-3/4 in" in said[0].text


def test_post_and_stile_are_named_in_one_place_and_what_lies_on_the_backer_is_told():
    named = [s.text for s in drawn_back("S7").shapes if isinstance(s, Label)]
    assert "hinge post, over it, on the wall" in named
    said = " ".join(part.text for part in parts_of(back_sheets(plan_of("S7"))[0]) if isinstance(part, Para))
    # by hand: the stile is 88 wide, from 683 to 771; the backer ends at 718
    assert "35 of its 88 mm lie on the backer, and its outer edge stands 53 mm past the backer's edge" in said
