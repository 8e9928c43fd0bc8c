"""The stays of a flap against our calculation: complex numbers for the places, sums of moments about other points."""

from __future__ import annotations

import cmath
import math
from dataclasses import dataclass

import pytest

from bossage.body import Part, Role, hardware
from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.examples import example_text
from bossage.pack.catalogue import pack_sheets
from bossage.plan import Plan, make_plan

N_PER_KG = 9.80665


def flap(side: str, kg: float | None = None, text: str = "") -> Plan:
    """S7 hinged at its top or its foot, as heavy as the scales say."""
    text = text or example_text("s7-hollin-yard")
    text = text.replace('hinge = "left"\nangle', f'hinge = "{side}"\nangle')
    if kg is not None:
        text = text.replace("[piece]\n", f'[piece]\nweighed = "{kg:g} kg"\n', 1)
    return make_plan(read_brief(text))


def link(plan: Plan, name: str):
    return next(one for one in plan.hang.links if one.name == name)


def check(plan: Plan, name: str):
    return next(one for one in plan.hang.checks if one.name == name)


@dataclass
class Pulled:
    """One stay of an open flap, all in mm and N: out of the wall is the imaginary axis."""

    force: float
    on_wall: complex  # what the stay does to the wall
    turned: complex  # direction of the open leaf, from the axis


def by_hand(plan: Plan) -> Pulled:
    """Our calculation: virtual work. The leaf turns a millionth further; its weight's work is that of the stays."""
    (hung,) = plan.hang.leaves
    (mass,) = plan.hang.leaf_masses
    leaf = plan.layout.leaves[0]
    hinges = hung.hinges
    blocks = [part for part in plan.body.parts if part.role is Role.STAY_BLOCK]
    sign = 1 if hinges.side == "bottom" else -1
    foot = {p.moves: abs(p.box.y0 + p.box.y1 - 2 * hinges.axis_nm) / 2e6 for p in blocks}
    along = abs(leaf.y_nm / 1e6 + mass.from_foot_mm - hinges.axis_nm / 1e6)
    centre = complex(along, mass.from_wall_mm - hinges.axis_z_nm / 1e6)
    angle, more = math.radians(plan.brief.access.angle_deg), 1e-6

    def at(turn: float) -> tuple[float, float]:
        # up is away from the axis of a leaf hung by its foot, towards it of one hung by its top
        height = sign * (centre * cmath.exp(1j * turn)).real
        return height, abs(foot[True] * cmath.exp(1j * turn) - foot[False])

    (high, long), (higher, longer) = at(angle), at(angle + more)
    weight = mass.total_g / 1000 * N_PER_KG
    together = weight * (high - higher) / (longer - long)
    xs = sorted({(p.from_x_nm + p.to_x_nm) / 2e6 for p in blocks})
    centre_x = leaf.x_nm / 1e6 + mass.from_left_mm
    share = max((xs[1] - centre_x), (centre_x - xs[0])) / (xs[1] - xs[0])
    run = foot[True] * cmath.exp(1j * angle) - foot[False]
    return Pulled(together * share, together * share * run / abs(run), cmath.exp(1j * angle))


@pytest.mark.parametrize("side", ["top", "bottom"])
def test_a_stay_and_what_holds_it_by_virtual_work(side):
    plan = flap(side)
    stay, pulled = plan.hang.leaves[0].hinges.stay, by_hand(plan)
    pushes = side == "top"
    assert stay.pushes == pushes
    assert stay.force_n == pytest.approx(abs(pulled.force), rel=1e-4)
    assert (pulled.force < 0) == pushes
    times = 1 if pushes else 2
    force = times * abs(pulled.force)
    out, along = (abs(part) / abs(pulled.on_wall) for part in (pulled.on_wall.imag, pulled.on_wall.real))
    # two fixings 50 apart in a block of 80: 15 and 65 over the edge that it turns about; the stay in the middle of what
    # is between block and backer, 16 and 34 before the wall
    turned = force * along * 25 * 65 / (15**2 + 65**2)
    wall = link(plan, "stays in the wall")
    assert wall.pull_n == pytest.approx(turned + (0 if pushes else force * out / 2), rel=1e-4)
    assert wall.shear_n == pytest.approx(force * along / 2, rel=1e-4)
    assert wall.least == 1.25
    # on the leaf, in its own frame: along it, and off its back
    own = pulled.on_wall / abs(pulled.on_wall) / pulled.turned
    off = 0 if pushes else abs(own.imag)
    drawn = abs(own.real)
    screws = link(plan, "stays' screws in the leaf")
    # its pivot stands half of the 17 between wall and leaf block behind that
    assert screws.demand_n == pytest.approx(force * math.hypot(off / 2 + drawn * 8.5 / 30, drawn / 2), rel=1e-4)
    # 40 × 80 of glue, sheared: 0.37 MPa × 0.9 for good, half for creep; × 1.6 for a moment
    glue, shear = link(plan, "glue of the stays' blocks"), force * drawn / 3200
    used = max(shear / times / (0.37 * 0.9 * 0.5), shear / (0.37 * 1.6))
    assert glue.margin == pytest.approx(1 / used, rel=0.01)
    # four screws at the quarters of the block, 20 and 60 over the end that it turns about, by what acts 8.5 behind its
    # 17; a moment counts 0.9/1.6
    most = force * off / 4 + force * drawn * 25.5 * 60 / (2 * (20**2 + 60**2))
    block = link(plan, "screws of the stays' blocks")
    assert block.demand_n == pytest.approx(most * max(1 / times, 0.9 / 1.6), rel=1e-4)


@pytest.mark.parametrize(("kg", "verdict"), [(5.0, Verdict.FINE), (10.85, Verdict.STOP), (16.0, Verdict.STOP)])
def test_a_heavier_flap_hung_by_its_foot_is_stopped_by_what_holds_its_stays(kg, verdict):
    plan = flap("bottom", kg)
    held = min(one.reserve for one in plan.hang.links if "stays" in one.name)
    assert (held >= 1) == (verdict is Verdict.FINE)
    if verdict is Verdict.STOP:
        assert check(plan, "load_path").verdict is Verdict.STOP


def test_the_same_flap_hung_by_its_top_holds_without_a_fall():
    assert min(one.reserve for one in flap("top", 10.85).hang.links if one.name != "hinge stile's screws") >= 1


def test_fixings_of_the_stays_without_a_figure_for_their_pull_hold_nothing():
    text = example_text("s7-hollin-yard")
    without = "\n".join(line for line in text.splitlines() if not line.startswith("pull_"))
    assert without != text.rstrip("\n")
    plan = flap("bottom", 5.0, without)
    assert link(plan, "stays in the wall").allowable_n == 0
    assert check(plan, "load_path").verdict is Verdict.STOP


def test_a_flap_whose_stays_find_no_place_is_stopped():
    studs = example_text("first").replace('build = "masonry"', 'build = "timber studs"\nstuds = [1400]')
    plan = make_plan(read_brief(studs + '\n[access]\nopens = "swing"\nhinge = "top"\n'))
    assert not [part for part in plan.body.parts if part.role is Role.STAY]
    assert link(plan, "stays in the wall").allowable_n == 0
    assert "nothing holds it open" in link(plan, "stays in the wall").basis
    assert check(plan, "load_path").verdict is Verdict.STOP
    assert not [line for line in plan.hang.to_buy if "stays" in line.what]


def test_blocks_of_stays_stand_in_two_studs():
    studs = 'build = "timber studs"\nstuds = [1150, 1400, 1650]'
    text = example_text("first").replace('build = "masonry"', studs)
    plan = make_plan(read_brief(text + '\n[access]\nopens = "swing"\nhinge = "top"\n'))
    points = plan.hang.leaves[0].hinges.stay.fixings
    assert sorted({point.x_nm // 1_000_000 for point in points}) == [1150, 1650]
    assert {point.into for point in points} == {"stud"}
    assert link(plan, "stays in the wall").margin > 1


def test_what_keeps_a_flap_shut_is_reckoned_and_a_magnet_alone_is_told():
    plan = flap("bottom")
    (mass,) = plan.hang.leaf_masses
    catch: Part = next(part for part in plan.body.parts if part.role is Role.CATCH)
    hinges = plan.hang.leaves[0].hinges
    far = (catch.box.y0 + catch.box.y1) / 2 - hinges.axis_nm
    pull = mass.total_g / 1000 * N_PER_KG * (mass.from_wall_mm - hinges.axis_z_nm / 1e6) / (far / 1e6)
    assert link(plan, "catch").demand_n == pytest.approx(pull, rel=1e-6)
    assert link(plan, "catch").margin == pytest.approx(60 / 4 / pull, rel=1e-6)
    told = check(plan, "held_shut")
    assert told.verdict is Verdict.CAUTION
    assert "magnet alone" in told.found
    assert check(flap("bottom", 30.0), "held_shut").verdict is Verdict.STOP
    assert not [one for one in flap("top").hang.checks if one.name == "held_shut"]


@pytest.mark.parametrize("side", ["top", "bottom"])
def test_no_catch_is_bought_where_none_finds_a_place(side, monkeypatch):
    monkeypatch.setattr("bossage.body.hardware._shuts", lambda site, parts: [])
    plan = make_plan(read_brief(example_text("first") + f'\n[access]\nopens = "swing"\nhinge = "{side}"\n'))
    assert not [part for part in plan.body.parts if part.role is Role.CATCH]
    assert not [line for line in plan.hang.to_buy if "catch" in line.what or "catch" in line.note]
    stopped = [one.name for one in plan.hang.checks if one.verdict is Verdict.STOP]
    assert ("held_shut" in stopped) == (side == "bottom")


def test_a_keeper_that_is_only_glued_to_the_wall_keeps_no_flap_shut_over_people(monkeypatch):
    spot = hardware._spot
    monkeypatch.setattr(hardware, "_spot", lambda *args, drilled: None if drilled else spot(*args, drilled=False))
    plan = flap("bottom", 5.0)
    assert link(plan, "catch").allowable_n == 0
    assert "glued to the wall's paint" in check(plan, "held_shut").found
    assert check(plan, "held_shut").verdict is Verdict.STOP


@pytest.mark.parametrize("side", ["top", "bottom"])
def test_fixings_of_stays_are_drawn_told_and_bought(side):
    plan = flap(side)
    stay = plan.hang.leaves[0].hinges.stay
    wall = [part for part in plan.body.parts if part.role is Role.STAY_BLOCK and not part.moves]
    assert len(stay.fixings) == 4
    for block in wall:
        mine = [one for one in stay.fixings if block.box.x0 < one.x_nm < block.box.x1]
        assert sorted(one.y_nm - block.box.y0 for one in mine) == [15_000_000, 65_000_000]
    (line,) = (one for one in plan.hang.to_buy if "feet of the stays to the wall" in one.note)
    assert line.count == 4
    hang = repr(next(sheet for sheet in pack_sheets(plan) if sheet.name == "hang"))
    assert f"wall block (no. {wall[0].number})" in hang
    assert "15 and 65 from its lower end" in hang
    assert "through the block, 8 mm into the masonry" in hang
    assert ("brakes" in hang) == (side == "bottom")
    outside = [one.clear_nm for one in stay.fixings if one.clear_nm is not None]
    assert all(clear > 0 for clear in outside)
