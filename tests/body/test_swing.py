"""A leaf that swings: its hinges lie on wood, their screws meet nothing, it opens as far as it shall, on every side."""

from __future__ import annotations

import math
from typing import Any

import pytest

from bossage.body import Body, Part, Role
from bossage.brief import read_brief
from bossage.brief.hinges import USUAL_EYE, Eye
from bossage.brief.records import Brief, Side
from bossage.examples import example_text
from bossage.layout import plan_layout
from bossage.plan import make_plan
from bossage.serial import to_json
from bossage.zones import zones_of
from tests.body import laws
from tests.body.test_laws import broken, built
from tests.brief.generate import made_up

SIDES = tuple(Side)


def swung(seed: int, side: Side) -> tuple[Brief, Body] | None:
    """A made-up piece of one leaf, hung on that side; None for a pair, of which one would turn into the other."""
    text = made_up(seed).text + f'\n[access]\nopens = "swing"\nhinge = "{side.value}"\nangle = 95\n'
    if len({leaf.name for leaf in plan_layout(read_brief(text)).leaves}) > 1:
        return None
    return built(text)


def only(body: Body, role: Role) -> Part:
    (found,) = (part for part in body.parts if part.role is role and part.copy == 1)
    return found


def hinge_faults(brief: Brief, body: Body) -> list[str]:
    """What a joiner could not build, from the solids alone."""
    post, stile = only(body, Role.POST), only(body, Role.HINGE_STILE)
    upright = brief.access.hinge in (Side.LEFT, Side.RIGHT)
    sign = 1 if brief.access.hinge in (Side.LEFT, Side.BOTTOM) else -1
    spans = [((b.x0, b.x1), (b.y0, b.y1)) if upright else ((b.y0, b.y1), (b.x0, b.x1)) for b in (post.box, stile.box)]
    edges = [along[0] if sign > 0 else along[1] for along, _ in spans]
    said = [] if edges[0] == edges[1] else ["post and stile have no common edge for a flap to lie on"]
    said += [] if 0 < stile.box.z0 - post.box.z1 <= 1_000_000 else ["no play between post and stile"]
    hinges = [part.box for part in body.parts if part.role is Role.HINGE and part.copy == 1]
    for box in hinges:
        along, axis = ((box.x0, box.x1), (box.y0, box.y1)) if upright else ((box.y0, box.y1), (box.x0, box.x1))
        if (along[1] if sign > 0 else along[0]) != edges[0]:
            said.append("a hinge does not lie on the edge of its wood")
        if axis[0] < spans[0][1][0] or axis[1] > spans[0][1][1]:
            said.append("a hinge reaches past the end of its post")
        middle = (box.z0 + box.z1) / 2
        if not post.box.z1 <= middle <= stile.box.z0:
            said.append("the pins are not at the joint of post and stile")
        if box.z0 < post.box.z0 or box.z1 > stile.box.z1:
            said.append("a flap is wider than the wood that it lies on")
    roles = {part.role for part in body.parts}
    said += [] if upright else stay_faults(body)
    zoned, told = bool(zones_of(brief, 1)), {one.name for one in body.left_over}
    asked = {Role.CATCH: "", Role.KEEPER: "", Role.STAY: "the chain"}
    said += [
        f"no {role.value}"
        for role, name in asked.items()
        if role not in roles and not (zoned and name in told) and (upright or role is not Role.STAY)
    ]
    said += [
        f"{c.name}: {c.found}"
        for c in body.checks
        if c.verdict != "fine" and not ((zoned or "the pair of stays" in told) and c.name == "body_part")
    ]
    return said


def stay_faults(body: Body) -> list[str]:
    """What is wrong with the stays of a level axis: none without a word, or feet that lie on nothing."""
    parts = [part for part in body.parts if part.copy == 1]
    stays, blocks = ([p for p in parts if p.role is role] for role in (Role.STAY, Role.STAY_BLOCK))
    if not stays:
        return [] if "the pair of stays" in {one.name for one in body.left_over} else ["no stay, and not told"]
    backer, post = only(body, Role.BACKER).box, only(body, Role.POST).box
    leaves = len({part.leaf for part in stays})
    said = [] if (len(stays), len(blocks)) == (2 * leaves, 4 * leaves) else ["not two stays on two blocks each"]
    for block in blocks:
        if block.moves and block.box.z1 != backer.z0:
            said.append("a leaf block does not lie on the backer")
        if not block.moves and (block.box.z0, block.box.z1) != (0, post.z1):
            said.append("a wall block is not as thick as the post, on the wall")
    return said


@pytest.mark.parametrize("side", SIDES)
def test_a_made_up_piece_swings_on_any_side(side: Side) -> None:
    tried = stayed = 0
    for seed in range(SIDES.index(side), 40, 4):
        found = swung(seed, side)
        if found is None:
            continue
        brief, body = found
        tried += 1
        assert (seed, broken(brief, to_json(body))) == (seed, [])
        assert (seed, hinge_faults(brief, body)) == (seed, [])
        stayed += any(part.role is Role.STAY_BLOCK for part in body.parts)
    assert tried > 3
    assert (stayed > 0) == (side in (Side.TOP, Side.BOTTOM))  # where there is room for two stays


@pytest.mark.slow
@pytest.mark.parametrize("first", range(0, 400, 40))
def test_many_made_up_pieces_swing(first: int) -> None:
    for seed in range(first, first + 40):
        found = swung(seed, SIDES[seed % 4])
        if found is not None:
            brief, body = found
            assert (seed, hinge_faults(brief, body), broken(brief, to_json(body))) == (seed, [], [])


@pytest.mark.parametrize("angle", [30, 60, 95])
def test_the_example_turns_about_its_pins_and_meets_nothing(angle: int) -> None:
    """The swing anew with solids of another library, about the middle of the knuckles."""
    _, body = built(example_text("s7-hollin-yard"))
    data: Any = to_json(body)
    box = next(part.box for part in body.parts if part.role is Role.HINGE)
    pin = ((box.x0 + box.x1) / 2e6, (box.z0 + box.z1) / 2e6)
    still = [laws.solid(p) for p in data["parts"] if not p["moves"] and p["role"] in ("hinge post", "keeper")]
    still += [laws.solid(fixture) for fixture in data["fixtures"]]
    for part in (p for p in data["parts"] if p["moves"]):
        # from above the leaf turns towards the room: about the upright through the pins, its z grows with x
        turned = laws.solid(part).translate([-pin[0], 0, -pin[1]]).rotate([0, -angle, 0]).translate([pin[0], 0, pin[1]])
        for thing in still:
            assert (turned ^ thing).volume() < laws.SPECK_MM3, part["name"]
        assert turned.bounding_box()[2] > 0, part["name"]  # before the wall


def test_no_screw_of_the_example_meets_another() -> None:
    plan = make_plan(read_brief(example_text("s7-hollin-yard")))
    (hung,) = plan.hang.leaves
    hinges, post = hung.hinges, hung.hinges.post
    shank = 5_000_000
    for hinge in hinges.hinges:
        for fixing in post.fixings:
            if abs(fixing.y_nm - hinge.y_nm) <= plan.brief.butt.height_nm // 2:
                # the flap's screws run along the wall from the outer edge, the post's pass behind their tips
                assert fixing.x_nm - shank // 2 > post.edge_nm + hinges.length_nm
    assert all(post.from_nm < fixing.y_nm < post.to_nm for fixing in post.fixings)


def test_the_chain_is_as_long_as_the_middles_of_its_rings_are_apart() -> None:
    plan = make_plan(read_brief(example_text("s7-hollin-yard")))
    hinges = plan.hang.leaves[0].hinges
    post, stile = only(plan.body, Role.POST).box, only(plan.body, Role.HINGE_STILE).box
    axis = complex(hinges.axis_nm, hinges.axis_z_nm)
    ring = complex(stile.x1 + 8_000_000, (stile.z0 + stile.z1) / 2) - axis
    turned = ring * complex(math.cos(math.radians(95)), math.sin(math.radians(95))) + axis
    apart = abs(turned - complex(post.x1 + 8_000_000, (post.z0 + post.z1) / 2))
    assert hinges.chain_nm == pytest.approx(apart, abs=0.5e6)
    (bought,) = (line for line in plan.hang.to_buy if "screw eyes" in line.what)
    assert bought.what.startswith("light chain, 158 mm")
    assert "8 mm before the wood" in bought.note


def eye_meets(plan: Any, deep_nm: int = 16_000_000) -> list[str]:
    """Screws nearer to an eye's wire than half a millimetre of wood, from the solids: what a bit would run into."""
    said = []
    for hung in plan.hang.leaves:
        parts = {part.name: part for part in plan.body.of(hung.leaf, hung.copy)}
        chain = next(part.box for part in parts.values() if part.role is Role.STAY)
        stile = next(part.box for part in parts.values() if part.role is Role.HINGE_STILE)
        sign = 1 if hung.hinges.side == "left" else -1
        inner = stile.x1 if sign > 0 else stile.x0
        low, high = sorted((inner, inner - sign * deep_nm))
        at = (chain.y0 + chain.y1) / 2
        middles = [(spot.x_nm, spot.y_nm, one.part) for one in hung.glue_screws for spot in one.spots]
        middles += [(fixing.x_nm, fixing.y_nm, "post") for fixing in hung.hinges.post.fixings]
        for x, y, name in middles:
            if math.hypot(x - min(max(x, low), high), y - at) < 4_500_000:
                said.append(f"a screw of the {name} meets an eye")
        for hinge in hung.hinges.hinges:
            reach = abs(inner - hung.hinges.post.edge_nm) - hung.hinges.length_nm - deep_nm
            if reach < 0 and abs(hinge.y_nm - at) < plan.brief.butt.height_nm / 2:
                said.append("a screw of a flap meets an eye")
    return said


def test_no_screw_of_the_example_meets_the_eyes_of_its_chain() -> None:
    assert eye_meets(make_plan(read_brief(example_text("s7-hollin-yard")))) == []


def test_fixings_of_a_post_keep_clear_of_an_eye_that_reaches_them(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(USUAL_EYE, "mm", Eye(deep_nm=70_000_000, out_nm=8_000_000, wire_mm=3.0))
    text = example_text("s7-hollin-yard").replace('kind = "plug and screw"', 'kind = "plug and screw"\ncount = 5')
    plan = make_plan(read_brief(text))
    assert len(plan.hang.leaves[0].hinges.post.fixings) >= 4
    assert eye_meets(plan, deep_nm=70_000_000) == []


def test_the_leaf_has_a_block_to_shut_on_where_no_stile_is() -> None:
    text = example_text("s7-hollin-yard")
    start, end = text.index("[[behind]]"), text.index("[access]")
    _, body = built(text[:start] + text[end:])
    stop, catch, keeper = (only(body, role).box for role in (Role.STOP, Role.CATCH, Role.KEEPER))
    assert stop.z0 == 0
    assert catch.x1 == stop.x0
    assert catch.z0 - keeper.z1 == 2_000_000
    # the leaf beside the board leaves its electrician too little room: that is told in its own test
    assert [check.name for check in body.checks if check.verdict != "fine"] == ["open_space"]


def test_a_post_with_two_stiles_more_keeps_them_apart() -> None:
    """A brief that still asks for two stiles gets both, beside the wood of the hinges."""
    _, body = built(example_text("s7-hollin-yard").replace("count = 1\nlength = 400", "count = 2\nlength = 400"))
    assert sum(part.role is Role.STILE for part in body.parts) == 2
    assert list(laws.shared_volumes(to_json(body))) == []
