"""Saw sheets of stock that falls short, of sticks with knots, of boards that may not be turned; recipes by weight."""

from __future__ import annotations

import pytest
from tests.scenarios.cases import Toml, plan_of, varied

from bossage.drawing.shapes import Arrow, Label, Line, Rect
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheet import Care, Drawn, Sheet, Table, parts_of
from bossage.plan import Plan


def sheets(plan: Plan, *names: str) -> list[Sheet]:
    return list(pack_sheets(plan, names))


def stops(plan: Plan, name: str) -> dict[str, str]:
    """What the sheets of that name say under a stop, by its title."""
    parts = [part for sheet in sheets(plan, name) for part in parts_of(sheet)]
    return {part.title: part.text for part in parts if isinstance(part, Care) and part.title.startswith("Stop")}


def test_what_no_stick_is_left_for_is_told_by_length() -> None:
    def ask(brief: Toml) -> None:
        brief["stick"][0]["count"] = 1

    plan = varied("S2", "one stick of the first section", ask)
    (cut,) = (cut for cut in plan.saw.sections if cut.bought is None)
    assert cut.shortfall is not None
    said = stops(plan, "saw")["Stop: the stock does not suffice."]
    assert said == "Not cut: 22 of 40 mm, 10 of 35 mm and 8 of 26 mm."
    # what is told fills the wood that is short, each slice with its kerf of 2.2 mm
    missing_mm = 22 * 40 + 10 * 35 + 8 * 26 + 40 * 2.2
    assert cut.shortfall.short_nm / 1e6 <= missing_mm
    assert "Stop: the stock does not suffice." not in stops(plan_of("S2"), "saw")


def test_a_slice_longer_than_any_clear_run_is_told_apart() -> None:
    def ask(brief: Toml) -> None:
        for stick in brief["stick"]:
            stick["no_go"] = [[at, at + 35] for at in range(35, 2190, 70)]

    said = stops(varied("S2", "knots all along", ask), "saw")["Stop: the stock does not suffice."]
    # between two knots lie 35 mm and a last kerf may bite into the next
    assert "Longer than any clear run of a stick: 40 mm." in said


def test_knots_are_crossed_out_on_their_stick_and_read_out() -> None:
    zones_mm = ((700, 730), (1500, 1560))

    def ask(brief: Toml) -> None:
        brief["stick"][0]["no_go"] = [list(zone) for zone in zones_mm]

    plan = varied("S2", "two knots", ask)
    (cut,) = (cut for cut in plan.saw.sections if cut.bought and any(s.stock.no_go for s in cut.bought.sticks))
    assert cut.bought is not None
    drawings = [
        part.drawing
        for sheet in sheets(plan, "saw")
        for part in parts_of(sheet)
        if isinstance(part, Drawn) and "Leave out" in part.drawing.description
    ]
    assert len(drawings) == sum(bool(stick.stock.no_go) for stick in cut.bought.sticks)
    for drawing in drawings:
        left_out = [shape for shape in drawing.shapes if shape.layer == "no-go"]
        boxes = [shape for shape in left_out if isinstance(shape, Rect)]
        assert [(box.x_mm, box.x_mm + box.width_mm) for box in boxes] == list(zones_mm)
        crosses = {(line.start[0], line.end[0]) for line in left_out if isinstance(line, Line)}
        assert crosses == set(zones_mm)
        assert "Leave out what lies from 700 to 730 mm and from 1500 to 1560 mm" in drawing.description
    for stick in cut.bought.sticks:
        for piece in stick.slices:
            assert all(piece.to_nm <= low * 1e6 or piece.from_nm >= high * 1e6 for low, high in zones_mm)


def test_parts_that_no_board_has_room_for_are_told_with_their_size() -> None:
    def ask(brief: Toml) -> None:
        size = {"width": 600, "height": 600, "count": 1}
        brief["sheet"] = [{"name": "small", "material": "plywood_birch", "thickness": 12, **size}]

    said = stops(varied("S2", "a small board", ask), "boards")
    assert said["Stop: the boards do not suffice for these."] == "Not cut: 1 backer 1100 × 700 mm."
    assert stops(plan_of("S2"), "boards") == {}


@pytest.mark.parametrize("turn", [False, True])
def test_the_grain_is_drawn_where_nothing_may_be_turned(turn: bool) -> None:
    def ask(brief: Toml) -> None:
        board = {"name": "ply", "material": "plywood_birch", "width": 1220, "height": 2440, "turn": turn}
        brief["sheet"] = [{**board, "thickness": thickness} for thickness in (12, 18, 6)]

    (sheet,) = sheets(varied("S2", f"boards that turn: {turn}", ask), "boards")
    drawings = [part.drawing for part in parts_of(sheet) if isinstance(part, Drawn) and "Board" in part.drawing.title]
    assert len(drawings) == 3
    for drawing in drawings:
        grain = [shape for shape in drawing.shapes if shape.layer == "grain"]
        assert ("nothing is turned" in drawing.description) is not turn
        if turn:
            assert grain == []
            continue
        arrow, label = grain
        assert isinstance(arrow, Arrow)
        assert isinstance(label, Label)
        # beside the board, along its longer side
        assert arrow.start[0] == arrow.end[0] > 1220
        assert (arrow.start[1], arrow.end[1]) == (610, 1830)
        assert label.text == "grain"
    assert ("face grain either way" in repr(sheet)) is turn


def test_a_family_whose_paints_have_a_density_is_weighed_and_another_is_not() -> None:
    def ask(brief: Toml) -> None:
        family = brief["family"][1]
        family["base_g_per_ml"] = 1.25
        family["tinters"][0]["g_per_ml"] = 1.4

    plan = varied("S7", "one family weighed", ask)
    tables = [
        part for sheet in sheets(plan, "recipes", "onepot") for part in parts_of(sheet) if isinstance(part, Table)
    ]
    heads = [[column.head for column in table.columns] for table in tables]
    weighed = [table for table, head in zip(tables, heads, strict=True) if "g" in head]
    assert 0 < len(weighed) < len(tables)
    recipe = next(table for table in weighed if "base, mL" in [column.head for column in table.columns])
    names = [column.head for column in recipe.columns]
    base, tinter = names.index("base, mL"), names.index("umber, mL")
    assert (names[base + 1], names[tinter + 1]) == ("g", "g")
    for row in recipe.rows:
        for at, g_per_ml in ((base, 1.25), (tinter, 1.4)):
            ml, g = row[at], row[at + 1]
            # to a tenth of a gram, of a volume that is rounded for its tool
            assert float(g) == pytest.approx(float(ml) * g_per_ml, abs=0.05 * g_per_ml + 0.051)
