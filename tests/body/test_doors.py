"""A fixture's own door sweeps a quarter round its hinge, whichever side that is on."""

from __future__ import annotations

from dataclasses import replace
from math import hypot

import pytest

from bossage.body.clashes import door_clashes
from bossage.body.solids import rectangle
from bossage.brief.records import Door, Opens, Side
from bossage.layout import plan_layout
from bossage.layout.records import Layout
from tests.body.test_laws import built
from tests.layout.factory import fixture, mm, plain

X, Y, WIDE, TALL, PLANE = 1000, 1200, 300, 200, 20
#: by the side of the hinge: a point that is 50 mm from the hinge, and how far the door reaches from it
NEAR = {
    Side.LEFT: ((X + 50, Y + 100), WIDE),
    Side.RIGHT: ((X + WIDE - 50, Y + 100), WIDE),
    Side.BOTTOM: ((X + 150, Y + 50), TALL),
    Side.TOP: ((X + 150, Y + TALL - 50), TALL),
}


def swept_nm(hinge: Side, at: tuple[float, float], out: float) -> int:
    """How far the door gets into a stick of 2 mm that stands there, from so far out on."""
    _, body = built('[piece]\nname = "any"\n' + MADE)
    x, y = at
    stick = replace(
        next(part for part in body.parts if not part.moves),
        from_x_nm=mm(x - 1),
        to_x_nm=mm(x + 1),
        outline_nm=rectangle(mm(y - 1), mm(y + 1), mm(out), mm(out + 500)),
    )
    door = Door(width_nm=mm(WIDE), hinge=hinge, plane_nm=mm(PLANE))
    hatch = fixture("hatch", X, Y, WIDE, TALL, door=door)
    return max((clash.deep_nm for clash in door_clashes((stick,), (hatch,), 1)), default=0)


MADE = """
[wall]
width = 3000
height = 2500
build = "masonry"
[[fixture]]
name = "hatch"
x = 1000
y = 1200
width = 300
height = 200
proud = 10
[blocks]
levels = [20, 25]
[[footprint]]
width = 50
height = 50
[[family]]
name = "moss"
colour = "#5E7150"
lightness = [60, 70]
"""


@pytest.mark.parametrize("hinge", Side)
def test_a_stick_before_an_open_door_is_met_on_its_way(hinge):
    at, reach = NEAR[hinge]
    out = 120.0  # 100 before the face of the door
    by_hand = reach - hypot(50 - 1, out - PLANE)
    assert swept_nm(hinge, at, out) == pytest.approx(by_hand * 1e6, abs=2)
    beyond = PLANE + (reach**2 - 49**2) ** 0.5 + 0.01
    assert swept_nm(hinge, at, beyond) == 0


@pytest.mark.parametrize("hinge", Side)
def test_nothing_is_swept_on_the_other_side_of_the_hinge(hinge):
    (x, y), _ = NEAR[hinge]
    beside = {Side.LEFT: (-60, 0), Side.RIGHT: (60, 0), Side.BOTTOM: (0, -60), Side.TOP: (0, 60)}[hinge]
    assert swept_nm(hinge, (x + beside[0], y + beside[1]), 30.0) == 0


@pytest.mark.parametrize(("opens", "told"), [(Opens.SWING, ["caution"]), (Opens.LIFT_OFF, [])])
def test_how_a_hatch_opens_is_asked_where_an_open_leaf_may_stop_it(opens, told):
    layout = plan_layout(plain(access__opens=opens))
    assert isinstance(layout, Layout)
    assert [str(check.verdict) for check in layout.checks if check.name == "door_swing"] == told
