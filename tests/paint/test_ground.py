"""Glue needs wood: the field under every block, the ways to colour the front, and what a painted field brings."""

from __future__ import annotations

from pathlib import Path

import pytest
from tests.paint.test_ways import EXAMPLES, FIRST, plan_from
from tests.scenarios.cases import plan_of

from bossage.body import Role
from bossage.checks import Verdict
from bossage.layout.records import Zone
from bossage.pack.catalogue import pack_sheets
from bossage.pack.scene import solids_of
from bossage.pack.sheet import Para, Steps, parts_of
from bossage.pack.sheets.days import calendar_of
from bossage.paint.faces import coat_of
from bossage.paint.strips import StripFaces, strip_faces

LAP_MM = 4.0
S1 = next(path for path in EXAMPLES if path.stem.startswith("s1"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_no_bond_lies_on_paint_in_any_example(path: Path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    paint = plan.paint
    assert coat_of(paint.face_coats, "backer", "glue field") in ("bare", "stain")
    assert coat_of(paint.face_coats, "block", "back") == "bare"
    for part in ("strip", "lipping", "behind", "cleat"):
        assert coat_of(paint.face_coats, part, "glue field") == "bare"
    assert coat_of(paint.face_coats, "cleat", "bevel") == "bare"
    blocks = plan.layout.blocks
    on_backer = blocks.zone != Zone.RING
    assert (paint.glue_field_mm2[on_backer] > 0).all()
    assert (paint.glue_field_mm2[~on_backer] == 0).all()
    assert not any(link.name == "coating" for link in plan.hang.links)
    (check,) = (check for check in paint.checks if check.name == "glue_on_wood")
    assert check.verdict is (Verdict.CAUTION if paint.ground_way.name == "dye" else Verdict.FINE)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_field_and_painted_lines_are_the_whole_front(path: Path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    front = sum(leaf.backer_width_nm * leaf.backer_height_nm for leaf in plan.layout.leaves) / 1e12
    front -= sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in holes_of(plan)) / 1e12  # no ground in an opening
    lines = next(way for way in plan.paint.ground_ways if way.name == "lines")
    assert lines.painted_mm2 + lines.bare_field_mm2 == pytest.approx(front)
    blocks = plan.layout.blocks
    shows = front
    for i in range(blocks.count):
        leaf = plan.layout.leaves[int(blocks.leaf[i])]
        across = min(int(blocks.x_nm[i] + blocks.width_nm[i]), leaf.backer_x_nm + leaf.backer_width_nm) - max(
            int(blocks.x_nm[i]), leaf.backer_x_nm
        )
        up = min(int(blocks.y_nm[i] + blocks.height_nm[i]), leaf.backer_y_nm + leaf.backer_height_nm) - max(
            int(blocks.y_nm[i]), leaf.backer_y_nm
        )
        if across > 0 and up > 0:
            shows -= across * up / 1e12
            # The lap takes at most four strips off a block's own field.
            least = (across / 1e6 - 2 * LAP_MM) * (up / 1e6 - 2 * LAP_MM)
            assert least - 1e-6 <= plan.paint.glue_field_mm2[i] <= across * up / 1e12 + 1e-6
    # All that shows is painted.
    assert plan.paint.ground.shows_mm2 == pytest.approx(shows, abs=1.0)
    assert lines.painted_mm2 >= shows - 1e-3


def holes_of(plan):
    """What is sawn out of all backers: x0, y0, x1, y1."""
    return [hole for part in plan.body.parts if part.role is Role.BACKER for hole in part.openings_nm]


def test_under_a_tight_field_that_hangs_over_nothing_of_the_front_is_painted():
    plan = plan_from(FIRST)
    lines = plan.paint.ground_way
    assert (lines.name, lines.lines_mm, lines.painted_mm2) == ("lines", 0.0, 0.0)
    leaf, ground = plan.layout.leaves[0], plan.paint.ground
    rim = 2 * (leaf.backer_width_nm + leaf.backer_height_nm) / 1e6 * plan.brief.backer.thickness_nm / 1e6
    assert (ground.front_mm2, ground.edges_mm2) == (0.0, pytest.approx(rim))
    text = text_of(plan, "ground")
    assert "nothing of it shows. Paint the backer's edges in the ground's colour, 2 coats: 4 h after each." in text
    assert "It shows nowhere on the face." in text
    assert "open cells" not in text


def test_open_cells_that_are_sawn_out_show_the_wall_and_their_painted_edges():
    plan = plan_from(S1.read_text(encoding="utf-8"))
    ground, holes = plan.paint.ground, holes_of(plan)
    cells = sum(cell.width_nm * cell.height_nm for cell in plan.layout.open_cells)
    assert sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in holes) == cells
    assert (ground.shows_mm2, ground.shows_share) == (0.0, 0.0)
    round_mm = sum(2 * (x1 - x0 + y1 - y0) for x0, y0, x1, y1 in holes) / 1e6
    assert ground.openings_mm2 == pytest.approx(round_mm * 12.7)
    # Round the openings alone the front is painted, a lap under the blocks beside them.
    assert 0 < plan.paint.ground_way.painted_mm2 < round_mm * LAP_MM + 1e-6
    text = text_of(plan, "ground")
    assert "It shows nowhere on the face. Through the openings one sees their edges" in text
    assert "the backer's edges and those of the openings" in text
    assert "Side by side" not in text


def test_the_picture_has_no_floor_in_an_opening():
    plan = plan_from(S1.read_text(encoding="utf-8"))
    solids = solids_of(plan)
    for x0, y0, x1, y1 in holes_of(plan):
        x, y = (x0 + x1) / 2e6, (y0 + y1) / 2e6
        over = (solids.left_mm < x) & (x < solids.right_mm) & (solids.bottom_mm < y) & (y < solids.top_mm)
        assert not over.any()


def text_of(plan, name: str) -> str:
    """All that stands in the paragraphs and steps of a sheet."""
    sheet = next(one for one in pack_sheets(plan, (name,)))
    texts = []
    for part in parts_of(sheet):
        texts += part.texts if isinstance(part, Steps) else [part.lead, part.text] if isinstance(part, Para) else []
    return " ".join(texts)


def test_gaps_all_over_make_a_dye_the_least_labour():
    plan = plan_from(FIRST.replace("[blocks]", "[blocks]\ngap = 4"))
    assert plan.paint.ground_way.name == "dye"
    sheet = next(one for one in pack_sheets(plan, ("ground",)))
    steps = " ".join(text for part in parts_of(sheet) if isinstance(part, Steps) for text in part.texts)
    assert "Scrap test" in steps


def test_a_painted_field_is_stopped_and_the_papers_say_scrape():
    plan = plan_from(FIRST + '\n[paint]\nground = "all over"\n')
    (check,) = (check for check in plan.paint.checks if check.name == "glue_on_wood")
    assert check.verdict is Verdict.STOP
    assert coat_of(plan.paint.face_coats, "backer", "glue field") == "paint"
    assert plan.hang.weakest.name == "coating"
    sheet = next(one for one in pack_sheets(plan, ("ground",)))
    steps = [text for part in parts_of(sheet) if isinstance(part, Steps) for text in part.texts]
    assert "scrape" in steps[-1].casefold()


def test_strips_and_the_ring_on_them_by_hand():
    plan = plan_of("S7")
    found = strip_faces(plan.layout, plan.body)
    # Backer 718 x 478; strips 70 wide, two of 718 + 2 x 35 and one of 478 - 70 between them, 35 of them behind the
    # backer. The fourth side is the hinge stile's.
    beyond = 2 * (70 * (718 + 70) - 35 * 718) + 35 * (478 - 70)
    assert found.beyond_mm2 == pytest.approx(beyond)
    # Blocks of 58 stand 2 mm off the backer, on 33 mm of strip: 12 above, 12 below, 8 at the side; the four corners on
    # 33 x 33; of the 8 at the hinge stile the first and the last on 35 mm of the ends of the long strips.
    under = 32 * 33 * 58 + 4 * 33 * 33 + 2 * 33 * 35
    assert found.seen_mm2 == pytest.approx(beyond - under)
    # Those 8 lie on the stile, from 858 to their edge at 909, between the ends of the stile at 1248 and 1652.
    on_stile = (909 - 858) * (1652 - 1248 - 7 * 2)
    assert found.ring_backs_mm2 == pytest.approx(44 * 58 * 58 - under - on_stile)
    assert strip_faces(plan_from(FIRST).layout, plan_from(FIRST).body) == StripFaces()


def test_a_dyed_ground_is_one_story_on_sheet_list_and_days():
    plan = plan_of("S7")
    ground, buy = plan.paint.ground, {one.what: one for one in plan.paint.buy}
    assert plan.paint.ground_way.name == "dye"
    stain, paint = buy[f"stain, ground {ground.name}"], buy[f"paint, ground {ground.name}"]
    # By hand: one coat of dye on the whole front and the strips past it; two of paint on the edges, 11 mm thick.
    dyed = 718 * 478 + strip_faces(plan.layout, plan.body).beyond_mm2
    assert stain.need_ml == pytest.approx(dyed / 1e6 / 8 * 1000 * 1.25)
    assert paint.need_ml == pytest.approx(2 * 2 * (718 + 478) * 11 / 1e6 / 8 * 1000 * 1.25)
    assert "without binder" in stain.note
    assert "without binder" not in paint.note
    assert coat_of(plan.paint.face_coats, "strip", "front") == "stain"
    (sheet,) = pack_sheets(plan, ("ground",))
    assert "The whole front is dyed, under the blocks too" in sheet.todo
    assert "bare wood" not in sheet.todo
    steps = [text for part in parts_of(sheet) if isinstance(part, Steps) for text in part.texts]
    dye, seal = (next(n for n, text in enumerate(steps) if word in text) for word in ("Dye the whole", "Seal what"))
    assert dye < seal
    assert "each edge strip's front" in steps[dye]
    entries = calendar_of(plan).entries
    scrap = next(entry for entry in entries if entry.title.startswith("Scrap test"))
    assert scrap.to_s - scrap.from_s == 2 * 86_400
    on_backer = [entry for entry in entries if entry.step == "seal"]
    assert scrap.to_s <= on_backer[0].from_s
    assert "Dye the front" in on_backer[0].title
    assert on_backer[1].from_s >= on_backer[0].to_s + 86_400 - 3600
    # every round is ended on the day it is begun, so that the tape comes off soft sealer
    assert all(entry.to_s // 86_400 == entry.from_s // 86_400 for entry in on_backer)
    assert len({entry.title for entry in on_backer}) == len(on_backer)
    assert "still bare" in on_backer[-1].title
    assert on_backer[-1].from_s > next(entry for entry in entries if entry.step == "ring").to_s
