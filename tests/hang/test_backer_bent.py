"""The backer beside a cleat: a planted low cleat under deep blocks, against our own sum over all that hangs."""

from __future__ import annotations

import numpy as np
import pytest

from bossage.body import Role
from bossage.brief import read_brief
from bossage.examples import example_text
from bossage.plan import Plan, make_plan

G = 9.80665


def low(thick: str, line: int = 250) -> Plan:
    """An engineer's planted leaf: blocks of 60 to 150 mm, its cleat 250 below the top."""
    text = example_text("first").replace("levels = { from = 18, to = 42, step = 6 }", "levels = [60, 90, 120, 150]")
    more = f'[cleat]\nline_below_top = {line}\n[fixings]\nkind = "plug and screw"\nallowable = "60 kg"\n'
    return make_plan(read_brief(f'{text}\n{more}pull_allowable = "60 kg"\n[backer]\nthickness = {thick}\n'))


def by_hand(plan: Plan) -> float:
    """Our calculation, N·mm: the lower half cut free. The wall pushes at its foot, its own weight hangs before the cut.

    Blocks by their volume, and the backer; what else moves (the panel half, the foot) lies behind and is light.
    """
    (mass,) = plan.hang.leaf_masses
    cleat, blocks, brief = plan.hang.leaves[0].cleat, plan.layout.blocks, plan.brief
    thick = brief.backer.thickness_nm / 1e6
    back = plan.layout.stand_off.stand_off_nm / 1e6
    cut = cleat.line_nm
    long = plan.relief.length_nm / 1e6
    volume = long * blocks.width_nm * blocks.height_nm
    share = np.clip((cut - blocks.y_nm) / blocks.height_nm, 0, 1)
    wood = sum(p.mass_g for p in mass.parts if p.name in ("blocks", "paint and glue"))
    under_g = wood * float((volume * share).sum() / volume.sum())
    before = float((volume * share * (long / 2 + thick / 2)).sum() / (volume * share).sum())
    bevel = brief.cleat.thickness_nm / 2e6
    halves = [p for p in plan.body.parts if p.role is Role.WALL_HALF]
    assert halves[0].box.z0 == 0
    weight = mass.total_g / 1000 * G
    assert back > 0
    return weight * (mass.from_wall_mm - bevel) - under_g / 1000 * G * before


def backer(plan: Plan):
    return next(one for one in plan.hang.links if one.name == "backer")


def test_a_low_cleat_under_deep_blocks_bends_the_backer_harder_than_its_weight_before_the_wall():
    plan = low("12")
    found = backer(plan)
    moment = by_hand(plan)
    # an engineer's sum: 11.8 N·m, where the weight times its distance to the backer's middle is 8.8
    assert moment == pytest.approx(11_800, rel=0.05)
    weight = plan.hang.leaf_masses[0].total_g / 1000 * G
    plain_plan = low("12", 60)
    plain = backer(plain_plan)
    usual = plain_plan.layout.stand_off.stand_off_nm / 1e6 + 6
    assert usual * weight == pytest.approx(8_800, rel=0.05)
    # a board's strength is one: what is allowed by width, with the share of the harder-worked cleat
    strengths = [
        one.margin * moved * share / (planned.hang.leaves[0].cleat.length_nm / 1e6 * 12**2 / 6)
        for one, moved, share, planned in (
            (found, moment, found.demand_n / weight, plan),
            (plain, usual, plain.demand_n, plain_plan),
        )
    ]
    assert strengths[0] == pytest.approx(strengths[1], rel=0.03)


def test_a_thin_backer_holds_under_a_high_cleat_and_not_under_a_low_one():
    assert backer(low("8")).margin < 1 < backer(low("8", 60)).margin
