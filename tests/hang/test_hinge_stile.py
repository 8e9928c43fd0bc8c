"""Screws hold the stile of the hinges and their flaps; without room, or on too thin a backer, the plan stops."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest

from bossage.body import Part, Role
from bossage.brief import read_brief
from bossage.brief.faults import BriefFaults
from bossage.checks import Verdict
from bossage.examples import example_text
from bossage.fasteners import combined_allowable_n
from bossage.hang import Link
from bossage.plan import Plan, make_plan
from bossage.remedies.hanging import hung_elsewhere

GLUE, SCREWS = "hinge stile's glue", "hinge stile's screws"
BACKER = "backer beside the hinge stile"


def hollin(*changes: tuple[str, str]) -> Plan:
    text = example_text("s7-hollin-yard")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return make_plan(read_brief(text))


def weighs(kg: float) -> tuple[str, str]:
    return "[piece]\n", f'[piece]\nweighed = "{kg:g} kg"\n'


def link(plan: Plan, name: str) -> Link:
    return next(one for one in plan.hang.links if one.name == name)


def only(plan: Plan, role: Role) -> Part:
    (found,) = (part for part in plan.body.parts if part.role is role)
    return found


def lap_mm(plan: Plan) -> float:
    return (only(plan, Role.HINGE_STILE).box.x1 - plan.layout.leaves[0].backer_x_nm) / 1e6


def couple_nmm(plan: Plan) -> float:
    (mass,), leaf = plan.hang.leaf_masses, plan.layout.leaves[0]
    arm = leaf.x_nm / 1e6 + mass.from_left_mm - plan.hang.leaves[0].hinges.axis_nm / 1e6
    return mass.total_g / 1000 * 9.80665 * arm


def test_the_example_holds_by_an_engineers_sums():
    plan = hollin()
    turning, lap, long = couple_nmm(plan), lap_mm(plan), 404
    hinge = plan.hang.leaves[0].hinges
    # 2.4 Nm at each hinge, 17.5 behind the lap; its two screws stand 17.5 from either edge of 35
    drawn = turning / (hinge.spacing_nm / 1e6) * 17.5 / 17.5 / 2
    screws = link(plan, SCREWS)
    assert screws.demand_n == pytest.approx(drawn, rel=0.04)  # their row falls on a mark
    # 25 through 11 of backer: 14 of thread, four diameters of 3.5
    screw = next(one for one in plan.hang.leaves[0].glue_screws if one.lasting)
    assert (screw.gauge, screw.length_nm, screw.sunk_nm) == ("3.5 mm", 25_000_000, 0)
    assert 1.1 < screws.margin < 1.3
    # the glue is sheared: 6 M / (b H²) at its corner, M about the middle of the glue; and straight
    middle = plan.layout.leaves[0].backer_x_nm / 1e6 + lap / 2 - hinge.axis_nm / 1e6
    weight = plan.hang.leaf_masses[0].total_g / 1000 * 9.80665
    per = (turning - weight * middle) * 12 / (lap * long * (lap**2 + long**2))
    sheared = math.hypot(per * long / 2, per * lap / 2 + weight / (lap * long))
    assert link(plan, GLUE).margin == pytest.approx(0.1665 / sheared, rel=0.01)
    bent = 6 * turning * (17.5 + 5.5) / long**2 / (11**2 / 6)
    assert link(plan, BACKER).margin == pytest.approx(1.80 / bent, rel=0.01)
    assert next(c for c in plan.hang.checks if c.name == "load_path").verdict is Verdict.FINE


def single(held: Link) -> tuple[float, float]:
    """What one screw is said to hold straight out, and across."""
    across, pull = (float(one) for one in re.findall(r"(?:across|pull) ([0-9.]+) N", held.basis))
    return pull, across


def test_a_flap_pries_about_its_far_edge_by_hand():
    plan = hollin()
    hinge, held = plan.hang.leaves[0].hinges, link(plan, "hinge screws")
    # pin to screws 8.5, to the far edge 14: 14 / 5.5 of the pin's pull on three screws; the weight on three screws, and
    # 8.5 beside them on two that stand 33.3 apart
    weight = hinge.hinges[0].up_n
    aside = weight * 8.5 / (2 * 50 / 3)
    # the pin stands 3 before the wood, so that what acts across turns the flap off it too, and the weight tips it
    tipped = weight * 3 / (2 * 50 / 3)
    # opened, the couple of the hinges turns from a pull at the post's flap to a push across it
    leaf = plan.hang.leaves[0]
    arm, before = abs(leaf.x_nm - hinge.axis_nm) / 1e6, leaf.from_wall_mm - hinge.axis_z_nm / 1e6
    found = []
    for angle in np.radians(np.arange(0, 96, 5)):
        along, out = arm * math.cos(angle) - before * math.sin(angle), arm * math.sin(angle) + before * math.cos(angle)
        pull, level = (weight * abs(one) / (hinge.spacing_nm / 1e6) for one in (along, out))
        across = math.hypot(weight / 3, level / 3 + aside)
        drawn = (pull * 14 + level * 3) / 5.5 / 3 + tipped
        found.append((combined_allowable_n(*single(held), math.degrees(math.atan2(drawn, across))), drawn, across))
    least = min(allowed / math.hypot(drawn, across) for allowed, drawn, across in found)
    assert held.margin == pytest.approx(least, rel=2e-3)
    # holes nearer to the pin, or a fourth one, are what a maker can look for
    near = hollin(("butt = { ", 'butt = { line = "6 mm", '))
    more = hollin(("holes = 3", "holes = 5"))
    assert max(link(near, "hinge screws").demand_n, link(more, "hinge screws").demand_n) < held.demand_n


def test_flaps_of_a_level_axis_are_drawn_along_the_leaf():
    """Of a leaf that stands on its foot the post's flap is drawn down, of one that hangs by its top the rail's is."""
    for side in ("bottom", "top"):
        plan = hollin(('hinge = "left"\nangle', f'hinge = "{side}"\nangle'))
        hinge = plan.hang.leaves[0].hinges
        closed = hinge.hinges[0].up_n if side == "bottom" else max(one.up_n for one in hinge.hinges)
        assert link(plan, "hinge screws").demand_n >= closed * 14 / 5.5 / 3 * 0.99


def test_a_line_of_holes_that_no_flap_has_is_refused():
    with pytest.raises(BriefFaults, match=r"access\.butt\.line"):
        hollin(("butt = { ", 'butt = { line = "15 mm", '))


LEVELS = "levels = [13, 18, 24, 29, 35, 40]"


def test_a_heavier_leaf_bends_its_backer_too_far():
    heavy = hollin((LEVELS, "levels = [43, 48, 54, 59, 65, 70]"))
    assert link(heavy, BACKER).margin < 1
    thicker = hollin((LEVELS, "levels = [43, 48, 54, 59, 65, 70]"), ("thickness = 11\n", "thickness = 18\n"))
    assert link(thicker, BACKER).margin >= 1


def test_as_many_screws_as_hold_stand_at_each_hinge():
    counts = []
    for kg in (6, 20, 30):
        plan = hollin(weighs(kg))
        name = only(plan, Role.HINGE_STILE).name
        mine = next(one for one in plan.hang.leaves[0].glue_screws if one.part == name)
        upper = plan.hang.leaves[0].hinges.hinges[0].y_nm
        counts.append(sum(abs(spot.y_nm - upper) <= 100_000_000 for spot in mine.spots))
    assert counts[0] == 2
    assert counts == sorted(counts)
    assert counts[-1] > 2


def test_what_the_scales_say_leaves_the_stile_as_it_was_made_and_stops_the_plan():
    light, heavy = hollin(weighs(6)), hollin(weighs(14))
    assert lap_mm(light) == lap_mm(heavy) == lap_mm(hollin())
    assert link(heavy, GLUE).margin == pytest.approx(6 / 14 * link(light, GLUE).margin)
    found = next(c for c in heavy.hang.checks if c.name == "load_path")
    assert (found.verdict, BACKER in found.found) == (Verdict.STOP, True)
    assert next(c for c in light.hang.checks if c.name == "load_path").verdict is Verdict.FINE


def test_a_stile_without_room_to_lap_stops_the_plan():
    # the board so near to the hinges that the stile laps less than a screw asks for on both its sides
    near = hollin(("x = 1090\n", "x = 931\n"), ("width = 360\nheight = 440", "width = 519\nheight = 440"))
    assert lap_mm(near) <= 17
    assert link(near, SCREWS).margin == 0
    found = next(c for c in near.hang.checks if c.name == "load_path")
    assert found.verdict is Verdict.STOP


@pytest.mark.parametrize("side", ["left", "right", "top", "bottom"])
@pytest.mark.parametrize("example", ["s7-hollin-yard", "first"])
def test_screws_of_the_stile_meet_no_screw_of_a_flap(side, example):
    text = example_text(example)
    if example == "first":
        text += f'\n[access]\nopens = "swing"\nhinge = "{side}"\n'
    else:
        text = text.replace('hinge = "left"\nangle', f'hinge = "{side}"\nangle')
    plan = make_plan(read_brief(text))
    hinges, butt = plan.hang.leaves[0].hinges, plan.brief.butt
    stile = only(plan, Role.HINGE_STILE)
    upright, inward = side in ("left", "right"), 1 if side in ("left", "bottom") else -1
    edge = hinges.post.edge_nm
    mine = [one for one in plan.hang.leaves[0].glue_screws if one.part == stile.name]
    for screw in mine:
        for spot in screw.spots:
            across, along = (spot.x_nm, spot.y_nm) if upright else (spot.y_nm, spot.x_nm)
            for hinge in hinges.hinges:
                middle = hinge.y_nm if upright else hinge.x_nm
                beside = max(0, abs(along - middle) - butt.height_nm // 2)
                past = max(0, (across - edge) * inward - hinges.length_nm)
                assert math.hypot(beside, past) > 4_500_000


def test_other_sides_and_a_lighter_leaf_are_offered_where_the_stile_does_not_hold():
    low = hollin(('hinge = "left"\nangle', 'hinge = "bottom"\nangle'))
    assert low.hang.weakest.name == SCREWS
    words = [way.words for way in hung_elsewhere(low)]
    assert [f"Hinge it at the {side}" in words for side in ("left", "right", "top", "bottom")] == [True] * 3 + [False]
    assert len(words) > 3
    assert make_plan(read_brief(example_text("s7-hollin-yard"))).hang.weakest.reserve >= 1
