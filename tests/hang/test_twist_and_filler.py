"""The wall half twisted between its fixings, a filler held by its own screws, damp boards: each by hand."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from bossage.brief.records import Opens
from bossage.hang.strengths import TWISTED_MPA, plane_shear_mpa
from bossage.hang.wall_half import Bent, _twisted_mpa
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheet import Para, Table, parts_of
from tests.hang.making import PLUGS, hung, verdict
from tests.layout.factory import mm, plain
from tests.scenarios.cases import plan_of


def link(planned, name):
    return next(one for one in planned.links if one.name == name)


@pytest.mark.parametrize(("ratio", "alpha"), [(1, 0.208), (2, 0.246), (3, 0.267), (4, 0.282), (10, 0.312)])
def test_a_flat_bar_is_twisted_as_the_handbook_prints(ratio, alpha):
    """Greatest shear T / (alpha h t²) of Timoshenko and Goodier, Theory of Elasticity, Table 7 (from memory)."""
    thick, rise = 18, 18
    high = ratio * thick
    brief = plain(cleat__thickness_nm=mm(thick), cleat__strip_nm=mm(high + rise))
    case = SimpleNamespace(brief=brief, thrust_n=100.0, cleat_shares=(1.0,), cleat=SimpleNamespace(length_nm=mm(500)))
    bent = Bent(moment_mm=0.0, between_mm=200.0, over_mm=50.0)
    # pushed out 100 N over 500 mm, half the rise and half the height above the middle; 100 mm of it on one fixing
    torque = 100 / 500 * (high / 2 + rise / 2) * 100
    assert _twisted_mpa(case, bent) == pytest.approx(torque / (alpha * high * thick**2), rel=0.05)


def test_fixings_that_stand_wide_apart_let_a_thin_wall_half_twist():
    few = {**PLUGS, "fixings__allowable_g": 900_000.0, "fixings__pull_allowable_g": 900_000.0, "fixings__count": 2}
    soft = {**few, "cleat__material": "mdf", "piece__weighed_g": 12_000.0}
    held = link(hung(**soft), "wall half")
    assert "twisted" in held.part
    assert held.margin < 1
    assert verdict(hung(**soft), "load_path") == "stop"
    assert verdict(hung(**soft | {"fixings__count": 6}), "load_path") == "fine"
    assert TWISTED_MPA["mdf"] < plane_shear_mpa("plywood_softwood")


def test_the_filler_of_s1_hangs_on_its_own_screws():
    # by an engineer who recomputed it: 77 N of 164 N where the wall pushes the panel half back at its lower edge; and
    # a margin of 1.1 where it does so at the upper one
    held = link(plan_of("S1").hang, "panel half's screws")
    assert "between filler and backer" in held.part
    assert held.margin == pytest.approx(1.14, abs=0.02)
    assert any("glue takes the shear" in said for said in held.assumptions)


def test_a_damp_board_bends_sooner():
    """Plywood design specification: wet from 16 %, about three quarters in bending (from memory)."""
    dry, damp = (hung(piece__weighed_g=9_000.0, blocks__moisture_use_high_pct=pct) for pct in (15.9, 16.0))
    assert link(damp, "backer").margin == pytest.approx(0.75 * link(dry, "backer").margin)
    assert link(damp, "cleat's grip").margin == pytest.approx(0.67 * link(dry, "cleat's grip").margin)
    sawn = {"cleat__material": "norway_spruce", **PLUGS, "fixings__count": 4, "piece__weighed_g": 9_000.0}
    one, other = (link(hung(**sawn, blocks__moisture_use_high_pct=pct), "wall half") for pct in (15.9, 16.0))
    assert other.margin == pytest.approx(one.margin)


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7", "S8"])
def test_what_a_link_assumes_is_printed(scenario):
    plan = plan_of(scenario)
    (sheet,) = pack_sheets(plan, ("basis",))  # proofs come by that name
    said = " ".join(cell for part in parts_of(sheet) if isinstance(part, Table) for row in part.rows for cell in row)
    for one in plan.hang.links:
        assert one.assumptions or one.name == "coating"
        for words in one.assumptions:
            assert words[1:] in said, (one.name, words)  # its first letter may be a capital


@pytest.mark.parametrize("scenario", ["S1", "S2", "S7", "S8"])
def test_what_all_links_assume_stands_beside_them_unasked(scenario):
    plan = plan_of(scenario)
    (sheet,) = [sheet for sheet in pack_sheets(plan) if sheet.name == "loads"]
    said = " ".join(part.text for part in parts_of(sheet) if isinstance(part, Para))
    assert "weigh the leaf before it hangs" in said
    assert all(words in said for words in plan.hang.assumptions)


def test_a_leaf_that_swings_is_told_of_no_cleat():
    swung = hung(**PLUGS, access__opens=Opens.SWING)
    assert not [said for said in swung.assumptions if "cleat" in said]
    assert "cleat" not in link(swung, "backer").part + " ".join(link(swung, "backer").assumptions)
    assert [said for said in hung(**PLUGS, cleat__length_nm=None).assumptions if "cleat" in said]
