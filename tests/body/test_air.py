"""The narrowest cut on the way of the air, by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bossage.body import Body, Role, plan_body
from bossage.body.air import ways_of
from bossage.body.build import boxed
from bossage.body.site import Site
from bossage.body.slots import with_slots
from bossage.body.solids import Cuboid
from bossage.brief import records as r
from bossage.layout import Layout, plan_layout
from tests.layout.factory import mm, plain


def site(**changes: object) -> Site:
    """A leaf of 500 × 400 that stands 24 off the wall, before a fixture of 100 × 60 that needs air."""
    brief = plain()
    small = replace(
        brief.fixtures[0], x_nm=mm(1350), y_nm=mm(1470), width_nm=mm(100), height_nm=mm(60), needs=(r.Need.AIR,)
    )
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    return Site(replace(brief, fixtures=(small,), **changes), layout, layout.leaves[0], 0)


def test_an_open_rim_gives_what_the_fixture_can_take() -> None:
    # nothing stands behind the backer: the cut is the rim of the fixture's air, 110 × 70, 24 deep, all round
    for way in ways_of(site(), []):
        assert way.free_mm2 == pytest.approx(2 * (110 + 70) * 24)
        assert way.wanted_mm2 == pytest.approx(100 * 60)


def frame(one: Site, opened: int = 0) -> list:
    """Four bars from backer to wall round the fixture, with so wide an opening in the lower bar's middle."""
    x0, x1, y0, y1 = mm(1250), mm(1550), mm(1400), mm(1600)
    middle = (x0 + x1) // 2
    boxes = [
        Cuboid(x0, middle - opened // 2, y0, y0 + mm(20), 0, mm(24)),
        Cuboid(middle + opened - opened // 2, x1, y0, y0 + mm(20), 0, mm(24)),
        Cuboid(x0, x1, y1, y1 + mm(20), 0, mm(24)),
        Cuboid(x0, x0 + mm(20), y0, y1, 0, mm(24)),
        Cuboid(x1 - mm(20), x1, y0, y1, 0, mm(24)),
    ]
    return [boxed(one, Role.FRAME, box, material="spf", grain="x") for box in boxes]


def test_a_closed_frame_lets_nothing_through_and_an_opening_as_much_as_it_is_wide() -> None:
    one = site()
    assert [way.free_mm2 for way in ways_of(one, frame(one))] == [0, 0]
    for wide in (30, 80):
        low, high = ways_of(one, frame(one, mm(wide)))
        assert low.free_mm2 == pytest.approx(wide * 24)
        # the way out above goes through the same opening: from the rim over the middle, round the frame
        assert high.free_mm2 == pytest.approx(wide * 24)


def test_a_frame_and_a_cleat_that_shut_off_a_thermostat_are_named() -> None:
    from bossage.brief import read_brief
    from bossage.examples import example_text

    text = example_text("s1-fernhollow-hall")
    whole = text[: text.index("open = [")] + text[text.index("[edge]") :]
    brief = read_brief(whole.replace("quotas = [15, 16, 17, 16, 14]", "").replace("quotas = [24, 24, 24, 24]", ""))
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    body = plan_body(brief, layout)
    assert isinstance(body, Body)
    # slots in the foot rail let air in; over the thermostat cleat and filler close the whole width
    low, high = body.ways
    assert low.free_mm2 >= low.wanted_mm2 > high.free_mm2
    assert [check.verdict for check in body.checks if check.name == "body_air"] == ["stop"]


def test_slots_go_into_the_rail_on_the_side_that_lacks_air() -> None:
    one = site()
    x0, x1 = one.mount.x, one.mount.right
    bars = [
        Cuboid(x0, x1, one.mount.y, one.mount.y + mm(20), 0, mm(24)),
        Cuboid(x0, x1, one.mount.top - mm(20), one.mount.top, 0, mm(24)),
        Cuboid(x0, x0 + mm(20), one.mount.y + mm(20), one.mount.top - mm(20), 0, mm(24)),
        Cuboid(x1 - mm(20), x1, one.mount.y + mm(20), one.mount.top - mm(20), 0, mm(24)),
    ]
    parts = with_slots(one, [boxed(one, Role.FRAME, box, material="spf", grain="x") for box in bars])
    slotted = [part for part in parts if part.notches_nm]
    assert len(slotted) == 2
    assert all(part.mass_g < boxed(one, Role.FRAME, part.box, material="spf").mass_g for part in slotted)
    low, high = ways_of(one, parts)
    # 60 % of the rail's depth is the most that a slot takes: what is free is the slots' own area
    for way, part in ((low, slotted[1]), (high, slotted[0])):
        area = sum((x1 - x0) * (z1 - z0) for x0, x1, z0, z1 in part.notches_nm) / 1e12
        assert way.free_mm2 <= area * 2 + 1
        assert way.free_mm2 > 0
