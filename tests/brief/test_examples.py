"""The worked briefs hold what their scenario tables say."""

from __future__ import annotations

import pytest

from bossage.brief import Brief, read_brief
from bossage.brief.terms import Below, EdgeStyle, FixtureKind, HomeKind, LengthUnit, Need, Opens, Side
from bossage.examples import NoExample, example_names, example_text
from bossage.units import NM_PER_IN, NM_PER_MM

# name: sticks to buy by section, sheets to buy, materials in cents as the scenario's price list adds them up
BOUGHT = {
    "s1": ({"4x4": 2, "2x2": 2}, 0, 12_900),
    "s2": ({"70": 2, "95": 1, "45": 2}, 0, 14_270),
    "s3": ({"big": 6, "small": 2}, 2, 36_540),
    "s4": ({"2x4": 14}, 2, 35_320),
    "s7": ({"58": 3}, 0, 12_640),
    "s8": ({"2.5": 4}, 0, 14_700),
}


def example(name: str) -> Brief:
    return read_brief(example_text(name))


def in_units(brief: Brief, *lengths_nm: int) -> tuple[float, ...]:
    per = NM_PER_IN if brief.piece.unit is LengthUnit.IN else NM_PER_MM
    return tuple(nm / per for nm in lengths_nm)


@pytest.mark.parametrize("name", example_names())
def test_each_example_reads_and_says_what_it_is_about(name: str) -> None:
    assert example(name).piece.name
    assert example_names()[name].endswith(".")


def test_an_unknown_example_is_a_sentence() -> None:
    with pytest.raises(NoExample, match="Did you mean first"):
        example_text("frist")
    with pytest.raises(NoExample, match="There are: first"):
        example_text("s")


@pytest.mark.parametrize("name", BOUGHT)
def test_prices_add_up_to_the_scenarios_materials(name: str) -> None:
    brief = example(name)
    sticks, sheets, materials = BOUGHT[name]
    each = {stick.name: stick.price_cents for stick in brief.sticks}
    total = sum(price.cents for price in brief.prices) + sum(count * (each[key] or 0) for key, count in sticks.items())
    if sheets:
        total += sheets * (brief.backer.sheets[0].price_cents or 0)
    assert total == materials
    assert set(sticks) == set(each)


@pytest.mark.parametrize(
    ("name", "blocks_per_leaf", "leaves"),
    [("s1", 174, 1), ("s2", 256, 1), ("s3", 124, 3), ("s4", 144, 1), ("s7", 140, 1), ("s8", 144, 1)],
)
def test_quotas_come_to_the_blocks(name: str, blocks_per_leaf: int, leaves: int) -> None:
    blocks = example(name).blocks
    total = sum(sum(one.quotas or ()) for one in blocks.footprints) + sum(blocks.ring_quotas or ())
    assert total == blocks_per_leaf
    assert len(blocks.leaves) == leaves


def test_fernhollow_hall() -> None:
    brief = example("s1")
    assert brief.piece.unit is LengthUnit.IN
    assert in_units(brief, *brief.wall.studs_nm) == (8, 24, 40, 56, 72)
    assert in_units(brief, brief.wall.passage_nm or 0) == (40,)
    thermostat, chime = brief.fixtures
    assert in_units(brief, thermostat.x_nm, thermostat.right_nm, thermostat.y_nm, thermostat.top_nm) == (
        27.5,
        32.5,
        58,
        62,
    )
    assert in_units(brief, thermostat.proud_nm, chime.proud_nm) == (1.125, 2)
    assert in_units(brief, chime.right_nm, chime.top_nm) == (47, 63.5)
    assert (thermostat.needs, chime.needs) == ((Need.AIR,), (Need.SOUND,))
    big, small = brief.blocks.footprints
    assert big.quotas == (15, 16, 17, 16, 14)
    assert small.quotas == (24, 24, 24, 24, 0)
    assert small.allowed == (0, 1, 2, 3)
    # the table counts columns and rows from 0 at the lower left, a brief from 1 at the upper left
    table = [(3, 5), (4, 5), (5, 5), (3, 2), (4, 2), (5, 2), (8, 5), (9, 5), (8, 2), (9, 2)]
    assert set(brief.blocks.leaves[0].open_cells) == {(8 - row, column + 1) for column, row in table}
    assert in_units(brief, brief.blocks.module_width_nm, brief.blocks.module_height_nm) == (3, 3)
    assert brief.tools.kerf_nm == 2_489_200
    assert [family.home.kind for family in brief.families] == [HomeKind.CORNER, HomeKind.CORNER]
    assert brief.families[1].lightness == (84, 76, 68)
    assert brief.cleat.packer_nm == 0
    assert in_units(brief, brief.cleat.strip_nm - brief.cleat.thickness_nm // 2) == (2.625,)


def test_brenlow_terrace() -> None:
    brief = example("s2")
    (door,) = brief.fixtures
    assert in_units(brief, door.x_nm, door.right_nm, door.y_nm, door.top_nm) == (1150, 1750, 540, 1020)
    (bench,) = brief.furniture
    assert in_units(brief, bench.x_nm, bench.right_nm, bench.top_nm) == (650, 2250, 420)
    assert in_units(brief, brief.blocks.module_width_nm, brief.blocks.module_height_nm) == (140, 45)
    assert [fill.count for fill in brief.blocks.fills] == [64, 32, 32]
    assert [one.quotas for one in brief.blocks.footprints] == [
        (20, 22, 22, 22, 22, 20),
        (10, 11, 11, 11, 11, 10),
        (10, 10, 10, 11, 12, 11),
    ]
    assert [one.section for one in brief.blocks.footprints] == ["70", "95", "45"]
    assert brief.fixings.allowable_g == 12000
    home = brief.families[0].home
    assert (home.kind, home.x, home.y) == (HomeKind.POINT, 0.35, 0.6)
    assert in_units(brief, brief.cleat.packer_nm, brief.cleat.arm_nm or 0) == (6, 560)


def test_tarnwick_school() -> None:
    brief = example("s3")
    assert [leaf.name for leaf in brief.blocks.leaves] == ["left", "middle", "right"]
    assert in_units(brief, *(leaf.x_nm or 0 for leaf in brief.blocks.leaves)) == (1810, 2750, 3690)
    assert (brief.wall.escape_route, brief.wall.circulation) == (False, True)
    assert brief.piece.budget_cents == 45_000
    assert brief.fade.neighbours_differ
    assert [len(family.lightness) for family in brief.families] == [1] * 5


def test_cinder_row() -> None:
    brief = example("s4")
    assert brief.piece.copies == 6
    box, keypad = brief.fixtures
    assert (box.kind, box.copies) == (FixtureKind.VALVES, (1, 2, 3, 5, 6))
    assert (keypad.kind, keypad.copies, keypad.opened_per_year) == (FixtureKind.KEYPAD, (4,), 365)
    assert in_units(brief, *brief.blocks.levels_nm) == (0.5, 0.75, 1, 1.25, 1.5, 1.75)
    assert in_units(brief, brief.edge.overhang_nm) == (0.375,)
    assert (brief.rates.fixed_h, brief.rates.hourly_cents, brief.rates.repeat_floor_pct) == (0, 3800, 70)


def test_hollin_yard() -> None:
    brief = example("s7")
    assert brief.edge.style is EdgeStyle.OUTRIGGER
    assert in_units(brief, brief.edge.strip_run_out_nm, brief.edge.strip_behind_nm) == (35, 35)
    assert brief.edge.bond_share_min == pytest.approx(1 / 3)
    assert brief.blocks.ring_quotas == (8, 8, 7, 7, 7, 7)
    board = brief.fixtures[0]
    assert board.door is not None
    assert (board.door.hinge, *in_units(brief, board.door.width_nm, board.door.plane_nm)) == (Side.LEFT, 350, 22)
    assert (brief.access.opens, brief.access.tool, brief.access.angle_deg) == (Opens.SWING, False, 95)
    assert brief.families[0].tinters[0].colour == "#4A6B4E"
    counter, cabinet, table = brief.furniture
    assert in_units(brief, counter.right_nm, cabinet.x_nm, table.near_nm) == (700, 1480, 940)


def test_gannet_row() -> None:
    brief = example("s8")
    assert brief.wall.below is Below.BED
    assert in_units(brief, brief.blocks.levels_nm[0], brief.blocks.levels_nm[-1]) == (0.625, 2.125)
    assert brief.tools.kerf_nm == 2_778_125
    assert brief.access.lock
    assert brief.fixings.count == 9
    assert brief.fixings.allowable_g == pytest.approx(25 * 453.59237)
    assert in_units(brief, brief.lift.horizontal_nm or 0, brief.lift.vertical_nm or 0) == (24, 62)
    assert in_units(brief, brief.furniture[0].x_nm, brief.furniture[0].right_nm) == (36, 96)
