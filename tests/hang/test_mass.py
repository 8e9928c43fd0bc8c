"""Mass and centre of gravity against sums done by hand."""

from __future__ import annotations

import pytest

from bossage.brief.records import Opens
from bossage.hang import Hang
from bossage.layout.rough import leaf_size, rough_mass_g
from bossage.timber import species_or_board
from tests.hang.making import hang, hung, laid, verdict
from tests.layout.factory import change, fixture, mm, plain

# One fixture of 100 × 50 without margin: a leaf of two blocks side by side, 20 and 30 mm high.
TWO_BLOCKS = {
    "fixtures": (fixture("hatch", 1200, 1350, 100, 50, proud_nm=0),),
    "blocks__cover_margin_nm": 0,
    "edge__overhang_nm": 0,
    "cleat__packer_nm": 0,
    "cleat__length_nm": mm(80),
    "cleat__strip_nm": mm(40),
    "cleat__line_below_top_nm": mm(20),
    "cleat__arm_nm": mm(25),
    "glue__dry_g_per_m2": 0.0,
}


def part(planned: Hang, name: str):
    return next(p for p in planned.leaf_masses[0].parts if p.name == name)


def test_two_blocks_by_hand():
    planned = hung(**TWO_BLOCKS)
    rho = species_or_board("norway_spruce").density_12pct_kg_m3 * 1e-6  # g/mm³
    first, second = 2500 * 20 * rho, 2500 * 30 * rho
    blocks = part(planned, "blocks")
    assert blocks.mass_g == pytest.approx(first + second)
    # 18 mm cleat and 12 mm backer: the fronts stand at 50 and 60, so the middles at 40 and 45 mm from the wall
    low, high = sorted([(first, 40.0), (second, 45.0)])
    assert blocks.from_wall_mm == pytest.approx((low[0] * low[1] + high[0] * high[1]) / (first + second))


def test_balance_of_the_whole_is_the_sum_of_its_parts():
    leaf = hung(**TWO_BLOCKS).leaf_masses[0]
    ply = species_or_board("plywood_birch").density_12pct_kg_m3 * 1e-6
    # backer 100 × 50 × 12, its middle 24 mm out; cleat 80 long, 40 × 18 less a triangle of 18 × 18 / 2 whose middle is
    # 12 mm out
    cleat_out = (40 * 18 * 9 - 18 * 18 / 2 * 12) / (31 * 18)
    backer, cleat = 100 * 50 * 12 * ply, 80 * 31 * 18 * ply
    blocks = next(p for p in leaf.parts if p.name == "blocks")
    paint = next(p for p in leaf.parts if p.name == "paint and glue")
    screws = next(p for p in leaf.parts if p.name == "screws and hardware")
    by_hand = (blocks.mass_g + paint.mass_g) * blocks.from_wall_mm + backer * 24 + cleat * cleat_out
    by_hand += screws.mass_g * screws.from_wall_mm
    assert leaf.total_g == pytest.approx(blocks.mass_g + 50 + backer + cleat + screws.mass_g)
    assert leaf.from_wall_mm == pytest.approx(by_hand / leaf.total_g)


def test_what_the_scales_say_rules_every_later_number():
    computed, weighed = hung(), hung(piece__weighed_g=12_345.0)
    assert weighed.leaf_masses[0].computed_g == computed.leaf_masses[0].total_g
    assert weighed.figures["mass_total_g"] == 12_345.0
    more = 12_345.0 / computed.leaf_masses[0].total_g
    assert weighed.figures["pull_n"] == pytest.approx(computed.figures["pull_n"] * more)
    for after, before in zip(weighed.links, computed.links, strict=True):
        assert after.margin == pytest.approx(before.margin / more, rel=1e-6)
    assert any("scales" in text for text in weighed.assumptions)


@pytest.mark.parametrize("kind", ["wood", "metal"])
def test_the_estimate_counts_the_cleat_as_the_plan_does(kind):
    brief = plain(cleat__kind=kind, cleat__thickness_nm=mm(6), cleat__packer_nm=mm(18))
    leaf = hang(brief).leaf_masses[0]
    cleat, packer = (next(p.mass_g for p in leaf.parts if p.name == name) for name in ("cleat", "packer"))
    size = leaf_size(brief, laid(brief).leaves[0].columns, laid(brief).leaves[0].rows)
    swings = change(brief, access__opens=Opens.SWING)
    hinged = next(p.mass_g for p in hang(swings).leaf_masses[0].parts if p.name == "hinge stile")
    less = rough_mass_g(brief, size) - rough_mass_g(swings, size)
    assert less == pytest.approx(cleat + packer - hinged, abs=0.1 * hinged)


def test_damp_wood_weighs_its_water_by_hand():
    # moisture is water over dry wood: at 19 % all wood weighs 119/112 of what it weighs at 12 %, paint does not
    dry, damp = hung(), hung(blocks__moisture_use_high_pct=19.0)
    wood = sum(p.mass_g for p in dry.leaf_masses[0].parts if p.name not in ("paint and glue", "screws and hardware"))
    assert damp.leaf_masses[0].total_g - dry.leaf_masses[0].total_g == pytest.approx(wood * (119 / 112 - 1))
    assert part(damp, "water over 12 %").mass_g == pytest.approx(wood * 7 / 112)
    assert not [p for p in dry.leaf_masses[0].parts if p.name.startswith("water")]


def test_a_planted_damp_room_flips_a_mass_cap():
    cap = hung().leaf_masses[0].total_g * 1.02
    assert verdict(hung(piece__mass_cap_g=cap), "mass_cap") == "fine"
    assert verdict(hung(piece__mass_cap_g=cap, blocks__moisture_laid_pct=17.0), "mass_cap") == "stop"


def test_screws_and_hardware_of_a_leaf_are_weighed():
    # by hand: a cleat as long as the backer of 480 on its packer: 3 screws of 3 g, which go through the packer
    lifts, swings = hung(), hung(access__opens=Opens.SWING)
    assert part(lifts, "screws and hardware").mass_g == pytest.approx(3 * 3.0)
    assert part(swings, "screws and hardware").mass_g >= 2 * 80 + 40
