"""A lean, a pull and a push up by accident, worked by hand with moments, each with the brief that turns the verdict."""

from __future__ import annotations

import math

import numpy as np
import pytest
from scipy.optimize import nnls

from bossage.brief.records import FixingKind, Opens
from tests.hang.making import PLUGS, hung, laid
from tests.layout.factory import mm, plain
from tests.scenarios.cases import plan_of, varied

BARE = {**PLUGS, "wall__covering_nm": 0}  # no plaster, over which a screw would bend
STRONG = {
    **BARE,
    "fixings__allowable_g": 200_000.0,
    "fixings__pull_allowable_g": 200_000.0,
    "fixings__count": 4,
}


def tug(planned):
    return next(check for check in planned.checks if check.name == "tug")


def test_a_light_leaf_is_pushed_off_its_bevel_and_a_heavy_one_is_not():
    # low blocks, so that a lift by one of them is not what fails
    low = {**STRONG, "blocks__levels_nm": (mm(10), mm(12))}
    light, heavy = hung(**low, piece__weighed_g=6_000.0), hung(**low, piece__weighed_g=80_000.0)
    assert tug(light).verdict == "caution"
    assert "lock" in tug(light).remedy
    assert tug(heavy).verdict == "fine"
    # by hand: the leaf from 1150 to 1650 on a cleat as long as its backer, 1160 to 1640, turns about the far end of it
    leaf = light.leaves[0]
    x = leaf.x_nm / 1e6
    least = min(leaf.weight_n * (1640 - x) / (1640 - 1150), leaf.weight_n * (x - 1160) / (1650 - 1160))
    assert f"a push up of {least:.0f} N" in tug(light).found


def test_a_smaller_tug_turns_the_verdict():
    leaf = {**STRONG, "piece__weighed_g": 15_000.0}
    assert tug(hung(**leaf, access__tug_g=10_000.0)).verdict == "caution"
    assert tug(hung(**leaf, access__tug_g=2_000.0)).verdict == "fine"


def test_a_lock_asks_for_its_makers_figure():
    lock = {**STRONG, "piece__weighed_g": 6_000.0, "access__lock": True}
    assert tug(hung(**lock)).verdict == "caution"
    # the lock stands at the right: it keeps that edge down, and the left one rises about the end beside it
    assert "near the other end" in tug(hung(**lock, access__lock_allowable_g=100_000.0)).found


def worst_on_springs(places, at, weight):
    """Load on the hardest-worked of equal springs under a stiff bar, none of which pulls: least energy, by scipy."""
    heavy = 1e5
    energy = np.vstack([np.eye(len(places)), heavy * np.ones(len(places)), heavy * (np.asarray(places) - at) / 1000])
    least, _ = nnls(energy, np.concatenate([np.zeros(len(places)), [heavy, 0.0]]))
    return weight * max(least)


def test_a_lean_on_a_corner_by_hand():
    planned = hung(**STRONG, piece__weighed_g=15_000.0, access__tug_g=10_000.0)
    leaf, mass = planned.leaves[0], planned.leaf_masses[0]
    tugged, own = 10 * 9.80665, leaf.weight_n
    whole = own + tugged
    places = [point.x_nm / 1e6 for point in leaf.cleat.fixings]
    front = 24 + 12 + 30  # stand-off, backer, highest level
    margins = []
    for corner in (1150, 1650):
        at = (own * leaf.x_nm / 1e6 + tugged * corner) / whole
        down = worst_on_springs(places, at, whole)
        out = (own * mass.from_wall_mm + tugged * front) / whole
        thrust = max(whole, whole * out / (leaf.arm_nm / 1e6))
        pulled = down * (thrust * 66 / whole + 9) / 29
        margins.append(200 * 9.80665 / math.hypot(down, pulled))
    assert min(margins) > 1
    tenth = min(margins) / 20
    low = {**STRONG, "fixings__allowable_g": 10_000.0, "fixings__pull_allowable_g": 10_000.0}
    said = tug(hung(**low, piece__weighed_g=15_000.0, access__tug_g=10_000.0)).found
    assert f"a lean on a corner leaves its fixings a margin of {tenth:.2f}" in said


def test_a_pull_at_the_upper_edge_by_hand():
    low = {**STRONG, "fixings__allowable_g": 10_000.0, "fixings__pull_allowable_g": 10_000.0}
    planned = hung(**low, piece__weighed_g=15_000.0)
    leaf = planned.leaves[0]
    # moments about the foot: the cleat holds the leaf's own tipping and the tug at the leaf's upper edge
    above = leaf.cleat.line_below_top_nm / 1e6
    arm = leaf.arm_nm / 1e6
    thrust = max(leaf.wedge_n, leaf.pull_n + 10 * 9.80665 * (arm + above) / arm)
    share = max(point.load_share for point in leaf.cleat.fixings)
    load = math.hypot(leaf.weight_n, (thrust * 66 + leaf.weight_n * 9) / 29) * share
    assert f"a pull at its upper edge leaves its fixings a margin of {10 * 9.80665 / load:.2f}" in tug(planned).found


def test_screws_in_studs_count_for_the_few_minutes_that_a_tug_lasts():
    studs = {"wall__studs_nm": tuple(mm(x) for x in (1180, 1400, 1620)), "piece__weighed_g": 20_000.0}
    assert tug(hung(**studs, fixings__per_stud=2, access__tug_g=100.0)).verdict == "fine"
    hollow = {**STRONG, "fixings__kind": FixingKind.HOLLOW, "fixings__pull_allowable_g": None}
    assert tug(hung(**hollow)).verdict == "caution"


def test_a_lift_by_an_edge_block_by_hand():
    # a block of 50 × 50 that overhangs by 10 at two sides keeps 40 × 40 of glue; 30 long, lifted at its face
    planned = hung(**STRONG, piece__weighed_g=40_000.0, access__tug_g=10_000.0)
    force = 10 * 9.80665
    shear, peel = force / 1600, 6 * force * 30 / (40 * 40**2)
    # for minutes: 1.6; a quarter of the board's shear on end grain; no creep
    use = math.hypot(shear / (0.37 * 0.25 * 1.6), peel / (0.103 * 1.6))
    assert f"leaves its bond a margin of {1 / use:.2f}" in tug(planned).found
    # that and no more is what turns the verdict
    most = {**STRONG, "piece__weighed_g": 40_000.0}
    assert tug(hung(**most, access__tug_g=10_000.0 / use * 0.99)).verdict == "fine"
    assert tug(hung(**most, access__tug_g=10_000.0 / use * 1.01)).verdict == "caution"


def test_a_lean_on_the_outer_edge_by_hand():
    swung = {
        **STRONG,
        "access__opens": Opens.SWING,
        "piece__weighed_g": 10_000.0,
        "blocks__levels_nm": (mm(10), mm(12)),
        "backer__thickness_nm": mm(40),  # so that the hinges' own screws hold
    }
    weak = {**swung, "fixings__allowable_g": 5_000.0, "fixings__pull_allowable_g": 5_000.0}
    planned = hung(**weak)
    plan, tugged = planned.leaves[0].hinges, 10 * 9.80665
    # both the weight and the tug, which hangs at the outer edge, 500 from the other, and on the face: 40 of backer and
    # 12 of block before the stand-off; from the pins, along the wall and into the room
    leaf, post, axis_z = planned.leaves[0], plan.post, plan.axis_z_nm / 1e6
    stand_off = laid(plain(**weak)).stand_off.stand_off_nm / 1e6
    hung_at = [
        (leaf.weight_n, (leaf.x_nm - plan.axis_nm) / 1e6, leaf.from_wall_mm - axis_z),
        (tugged, 1650 - plan.axis_nm / 1e6, stand_off + 52 - axis_z),
    ]
    # the post pries about its inner edge, and turns about its lower end, by the height of each fixing over that; and in
    # the plane of the wall about the middle of its fixings
    pries = (post.inner_nm - plan.axis_nm) / (post.inner_nm - post.line_nm)
    heights = [(point.y_nm - post.from_nm) / 1e6 for point in post.fixings]
    offs = [height - sum(heights) / len(heights) for height in heights]
    off = (post.line_nm - plan.axis_nm) / 1e6
    used = []
    for angle in np.radians(np.arange(0, plain().access.angle_deg + 1, 5)):
        out = sum(n * (a * math.sin(angle) + d * math.cos(angle)) * pries + n * axis_z for n, a, d in hung_at)
        twist = sum(n * (a * math.cos(angle) - d * math.sin(angle) - off) for n, a, d in hung_at)
        pulled = out * heights[-1] / sum(height**2 for height in heights)
        level = twist * offs[-1] / sum(one**2 for one in offs)
        near = min(abs(post.line_nm - post.inner_nm), abs(post.line_nm - post.edge_nm))
        pulled += abs(level) * plan.axis_z_nm / near  # it is pushed level at the pins, and rolls the post
        used.append(math.hypot(pulled, level, (leaf.weight_n + tugged) / len(heights)) / (5 * 9.80665))
    words = "a lean on the outer edge of the leaf leaves its fixings behind the hinges a margin of"
    assert f"{words} {1 / max(used):.2f}" in tug(planned).found
    assert tug(planned).verdict == "caution"
    assert "behind the hinges" not in tug(hung(**swung)).found


def test_a_pull_at_the_foot_by_hand():
    low = {**STRONG, "fixings__allowable_g": 10_000.0, "fixings__pull_allowable_g": 10_000.0}
    planned = hung(**low, piece__weighed_g=20_000.0)
    leaf, mass = planned.leaves[0], planned.leaf_masses[0]
    # the panel half reaches 66 over the middle of the bevel, the foot lies `arm` below it; the mass holds the foot in
    tugged, arm, before = 10 * 9.80665, leaf.arm_nm / 1e6, mass.from_wall_mm - 9
    pushed = tugged + (tugged * arm - leaf.weight_n * before) / 66
    share = max(point.load_share for point in leaf.cleat.fixings)

    def margin(thrust):
        return 10 * 9.80665 / share / math.hypot(leaf.weight_n, (thrust * 66 + leaf.weight_n * 9) / 29)

    # without friction a bevel of 45° slides up on itself at the weight; with 0.5, which keeps it on longer and pulls
    # its fixings the harder, at three times that
    assert leaf.weight_n < pushed < 3 * leaf.weight_n
    slips = (leaf.weight_n * 66 + leaf.weight_n * before) / (arm + 66)
    assert f"a pull of {slips:.0f} N" in tug(planned).found
    assert (
        f"at its foot rides it up off its bevel, its fixings keep a margin of {margin(pushed):.2f}"
        in tug(planned).found
    )
    # a lock keeps it: then its fixings feel all of the pull, and the lock what the bevel pushes up more than the weight
    kept = tug(hung(**low, piece__weighed_g=20_000.0, access__lock=True)).found
    # its own parts move its balance by less than a millimetre
    held = float(kept.split("its bevel pushes it up; the lock then holds ")[1].split(" N")[0])
    assert held == pytest.approx(pushed - leaf.weight_n, rel=0.03)
    light = {**low, "piece__weighed_g": 4_000.0}
    assert "at its foot rides it up off its bevel" in tug(hung(**light)).found
    locked = hung(**light, access__lock=True)
    assert "rides it up" not in tug(locked).found
    assert "a pull at its foot leaves its fixings" in tug(locked).found


def test_a_gentler_pull_at_the_foot_is_no_caution():
    strong = {**STRONG, "fixings__allowable_g": 900_000.0, "fixings__pull_allowable_g": 900_000.0}
    heavy = {**strong, "piece__weighed_g": 40_000.0, "blocks__levels_nm": (mm(10), mm(12))}
    assert tug(hung(**heavy, access__tug_g=5_000.0)).verdict == "fine"
    rough = tug(hung(**heavy, access__tug_g=30_000.0))
    assert rough.verdict == "caution"
    assert "foot rides it up" in rough.found


def test_what_would_mend_a_tug_is_said_once() -> None:
    (told,) = (check.remedy for check in plan_of("first").checks if check.name == "tug")
    assert told.lower().count("anti-lift lock") == 1
    assert told.lower().count("more fixings") == 1


def test_the_reason_of_many_fixings_is_never_that_of_two() -> None:
    def deep(brief: dict) -> None:
        brief["blocks"]["levels"] = [120, 200]

    plan = varied("first", "deep blocks", deep)
    assert len(plan.hang.leaves[0].cleat.fixings) > 2
    assert "never on one alone" not in repr(plan.hang)
