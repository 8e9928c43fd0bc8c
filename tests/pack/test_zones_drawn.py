"""Zones on the drawings of the wall: hatched, named, and never over a cross where something is drilled."""

from __future__ import annotations

import pytest
from tests.hang.test_zones_planted import KINDS, planted
from tests.scenarios.cases import plan_of

from bossage.brief import read_brief
from bossage.drawing.box import Box
from bossage.drawing.shapes import Line, Outline, Rect
from bossage.pack.drawings.fit import fitted
from bossage.pack.drawings.hanging import face_of, hanging_drawing
from bossage.pack.drawings.wall import wall_drawing, whole_wall
from bossage.pack.drawings.zones import zone_shapes, zone_words, zones_in
from bossage.pack.sheets.common import words_of
from bossage.plan import Plan, make_plan
from bossage.zones.words import FIND_THEN_DRILL, STAYS_LIVE


def plan_of_kind(kind: str) -> Plan:
    plan = make_plan(read_brief(planted(KINDS.index(kind)).text))
    assert isinstance(plan, Plan)
    return plan


def test_a_box_fed_from_below_is_hatched_and_named_with_the_caution() -> None:
    plan = plan_of_kind("box fed from below")
    leaf, words = plan.layout.leaves[0], words_of(plan)
    drawn = fitted(hanging_drawing(plan, plan.hang.leaves[0], leaf, words), width_mm=180, height_mm=110)
    hatched = [s for s in drawn.shapes if isinstance(s, Rect) and s.layer == "zones"]
    assert len(hatched) == 3  # the bay and both of its studs
    face = face_of(leaf)
    for rect in hatched:
        assert rect.hatch is not None
        assert face.left_mm <= rect.x_mm
        assert rect.x_mm + rect.width_mm <= face.right_mm
    crosses = [s.start for s in drawn.shapes if isinstance(s, Line) and s.layer == "fixings"]
    assert crosses
    for x, y in crosses:
        assert not any(r.x_mm < x < r.x_mm + r.width_mm and r.y_mm < y < r.y_mm + r.height_mm for r in hatched)
    said = zone_words(plan, 1, face)
    for word in (
        "the bay of thing",
        "the stud beside thing",
        "with the power on",
        "prove dead",
        "licensed",
        "local code",
        "room behind",
    ):
        assert word in said


def test_a_stud_in_the_hollow_that_is_hatched_stays_free_and_the_sheet_says_why() -> None:
    plan = plan_of("S1")
    leaf, words = plan.layout.leaves[0], words_of(plan)
    drawn = fitted(hanging_drawing(plan, plan.hang.leaves[0], leaf, words), width_mm=180, height_mm=110)
    hatched = [s for s in drawn.shapes if isinstance(s, Rect) and s.layer == "zones"]
    assert hatched
    fixings = plan.hang.leaves[0].cleat.fixings
    places = [(p.x_nm / 1e6, p.y_nm / 1e6) for p in fixings]
    # the chime hangs before the stud at 40 in, and its strip runs up behind the wall half
    assert any(p.line_nm == 40 * 25_400_000 for p in fixings)
    for x, y in places:
        assert not any(r.x_mm < x < r.x_mm + r.width_mm and r.y_mm < y < r.y_mm + r.height_mm for r in hatched)
    said = zone_words(plan, 1, face_of(leaf))
    assert "thermostat, above, below and beside it and chime, above, below and beside it." in said
    assert "is left free" in said
    assert "binds no screw into the stud" in said
    assert "where its figure says on the stud's face, square to it" in said


def test_the_side_of_a_manifold_that_is_counted_free_is_named_with_its_reason() -> None:
    said = zone_words(plan_of("S2"), 1, face_of(plan_of("S2").layout.leaves[0]))
    assert "manifold door and below it" in said
    assert "Above manifold door is counted free, as the brief has it fed from below" in said


def test_a_slanted_run_is_drawn_on_the_wall_but_not_for_a_client() -> None:
    plan = plan_of_kind("slanted run")
    words, wall = words_of(plan), whole_wall(plan)
    drawn = fitted(wall_drawing(plan, words), width_mm=180, height_mm=150)
    strip = next(s for s in drawn.shapes if isinstance(s, Outline) and s.layer == "zones")
    # cut off at the edges of the wall
    assert {round(y) for _, y in strip.points} == {0, round(wall.top_mm)}
    assert sum(isinstance(s, Line) and s.layer == "zones" for s in drawn.shapes) > 3
    shown = fitted(wall_drawing(plan, words, plain=True), width_mm=180, height_mm=150)
    assert not [s for s in shown.shapes if getattr(s, "layer", "") == "zones"]


def test_a_slanted_run_that_passes_a_corner_of_the_drawing_draws_nothing() -> None:
    plan = plan_of_kind("slanted run")
    x0, _, _, y1 = plan.zones[0].box_nm
    corner = Box(left_mm=x0 / 1e6, right_mm=x0 / 1e6 + 1, bottom_mm=y1 / 1e6 - 1, top_mm=y1 / 1e6)
    assert zones_in(plan, 1, corner)
    assert not list(zone_shapes(plan, 1, corner, 20.0))


@pytest.mark.parametrize("kind", ["all studs taken", "nothing behind"])
def test_a_wall_without_fixings_or_without_zones_is_drawn_all_the_same(kind: str) -> None:
    plan = plan_of_kind(kind)
    hung, leaf = plan.hang.leaves[0], plan.layout.leaves[0]
    drawn = fitted(hanging_drawing(plan, hung, leaf, words_of(plan)), width_mm=180, height_mm=110)
    assert any(s.layer == "fixings" for s in drawn.shapes if isinstance(s, Line)) == (kind == "nothing behind")
    said = zone_words(plan, 1, face_of(leaf))
    assert said.startswith("Hatched, drill nothing there") == (kind != "nothing behind")
    # where nothing is hatched the caution is needed most
    assert "Nothing is hatched here, and that proves nothing" in said or kind != "nothing behind"
    assert "prove dead" in said
    assert "What leads to thing is not known (hatch)" in said or kind != "nothing behind"


def test_the_way_to_look_keeps_the_power_on_until_the_cable_is_found() -> None:
    order = ("known", "to be live", "power on", "mark", "switch off", "prove dead", "Drill")
    places = [FIND_THEN_DRILL.replace("that you know", "known").index(word) for word in order]
    assert places == sorted(places)
    for kind, meant in (("S1", FIND_THEN_DRILL), ("S2", STAYS_LIVE)):
        assert meant in next(c.text for c in plan_of(kind).cautions if c.step == "drill")
