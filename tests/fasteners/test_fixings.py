"""Anchors under pull and shear, thread without its tip, damp service, metal studs, metric screws, holes: by hand."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.errors import OutOfRange
from bossage.fasteners import (
    Anchor,
    AnchorKind,
    AnchorUse,
    NoPlug,
    UnknownScrew,
    UnknownStud,
    UnratedPull,
    anchor_use,
    bite,
    metal_stud,
    metal_studs,
    metric_allowable_n,
    metric_head_n,
    metric_screw,
    metric_screws,
    metric_withdrawal_n,
    packet_rating,
    panel_withdrawal_n_per_mm,
    plug_for,
    plug_screw_least_mm,
    plugs,
    screw_name,
    shortest_that_holds,
    steel_pull_out_n,
    steel_shear_n,
    wet_service_factor,
    wood_holes,
    wood_screw_withdrawal_n_per_mm,
)

LOAD = st.floats(0, 5000)
ALLOWABLE = st.floats(1, 5000)


def used(kind, pull, shear, allowed_pull, allowed_shear):
    found = anchor_use(Anchor(kind=kind, pull_n=allowed_pull, shear_n=allowed_shear), pull, shear)
    assert isinstance(found, AnchorUse)
    return found


@pytest.mark.parametrize("kind", AnchorKind)
@given(pull=LOAD, shear=LOAD, allowed_pull=ALLOWABLE, allowed_shear=ALLOWABLE, times=st.floats(0.1, 10))
@settings(max_examples=60)
def test_no_rule_lets_one_load_help_the_other_and_all_grow_with_the_load(
    kind, pull, shear, allowed_pull, allowed_shear, times
):
    found = used(kind, pull, shear, allowed_pull, allowed_shear)
    assert found.both >= max(found.pull, found.shear) - 1e-12
    assert found.both <= found.pull + found.shear + 1e-12
    more = used(kind, pull * times, shear * times, allowed_pull, allowed_shear)
    assert more.both == pytest.approx(found.both * times, rel=1e-9)


def test_a_hollow_fixing_that_passes_by_weight_alone_fails_when_it_is_pulled_as_well():
    # 234 N of pull and 121 N of shear a fixing. 60 kg on the packet over 4 is 147 N of shear: 0.82, which passes.
    # The same figure taken for the pull: 1.59, together 2.41.
    allowed = packet_rating(60 * 9.80665).allowable_n
    found = used(AnchorKind.HOLLOW, 234, 121, allowed, allowed)
    assert found.shear == pytest.approx(121 / 147.1, abs=1e-3)
    assert found.shear < 1 < found.pull
    assert found.both == pytest.approx(2.413, abs=1e-3)


def test_a_fixing_without_a_figure_for_pull_is_said_to_have_none():
    anchor = Anchor(kind=AnchorKind.HOLLOW, pull_n=None, shear_n=147.0)
    assert isinstance(anchor_use(anchor, 1.0, 50.0), UnratedPull)
    alone = anchor_use(anchor, 0.0, 73.5)
    assert isinstance(alone, AnchorUse)
    assert alone.both == 0.5


def test_the_tip_of_a_screw_counts_for_nothing():
    # number 8 × 1 in through 3/4 in: 1/4 in of thread, less a tip of two diameters of 4.17 mm: nothing holds
    short = bite(25.4, 4.17, 19.05, 19.05)
    assert short.thread_mm == pytest.approx(6.35)
    assert short.holds_mm == 0
    assert not short.enough
    # 5 × 60 through 18 mm into 45 mm: thread is the last 40 mm; 42 mm lie in the part; 40 - 10 hold
    long = bite(60, 5, 18, 45)
    assert (long.thread_mm, long.holds_mm, long.least_mm) == (40, 30, 20)
    assert long.enough
    # the tip stands out behind 12 mm: all 12 mm hold
    assert bite(60, 5, 22, 12).holds_mm == 12
    assert bite(60, 5, 22, 12).comes_through
    assert bite(60, 5, 18, 12).holds_mm == 10  # the shank reaches 2 mm into it


def test_a_thick_screw_must_go_six_diameters_deep_and_a_thin_one_four():
    assert bite(60, 6, 18, 45).least_mm == 36
    assert bite(60, 5.9, 18, 45).least_mm == pytest.approx(23.6)


def test_the_length_is_chosen_by_thread_in_the_receiving_part():
    sold = metric_screw(4).lengths_mm
    found = shortest_that_holds(sold, 4, 18, 40)
    assert found is not None
    assert found.screw_mm == 35  # 30 would leave 12 mm, and 16 are asked for
    assert shortest_that_holds(sold, 4, 18, 12) is None  # 16 mm of thread cannot lie in 12 mm
    more = shortest_that_holds(sold, 4, 18, 60, wanted_mm=30)
    assert more is not None
    assert more.screw_mm == 60


@given(st.floats(20, 120), st.floats(3, 6), st.floats(0, 60), st.floats(5, 80))
@settings(max_examples=80)
def test_no_more_thread_holds_than_lies_in_the_part(length, diameter, through, receiving):
    found = bite(length, diameter, through, receiving)
    assert 0 <= found.holds_mm <= found.thread_mm <= receiving + 1e-9


def test_damp_service_takes_three_tenths_off():
    assert wet_service_factor(12) == 1
    assert wet_service_factor(18.9) == 1
    assert wet_service_factor(19) == 0.7
    with pytest.raises(OutOfRange):
        wet_service_factor(50)


def test_plywood_holds_less_than_wood_and_its_edge_least():
    wood = wood_screw_withdrawal_n_per_mm(0.42, 4.17)
    assert panel_withdrawal_n_per_mm(0.42, 4.17, plywood=True) == pytest.approx(0.75 * wood)
    assert panel_withdrawal_n_per_mm(0.42, 4.17, plywood=True, edge=True) == pytest.approx(0.375 * wood)
    assert panel_withdrawal_n_per_mm(0.42, 4.17, plywood=False) == wood


def test_a_thin_stud_is_no_wooden_one():
    # 25 gauge, number 8: 0.85 × 0.478 × 4.17 × 310 / 3 = 175 N of pull
    thin = metal_stud("25 ga")
    assert steel_pull_out_n(thin.thickness_mm, 4.17, thin.tensile_mpa) == pytest.approx(175.1, abs=0.1)
    # shear: 4.2 × sqrt(0.478³ × 4.17) × 310 / 3 = 292.9 N; bearing 2.7 × 0.478 × 4.17 × 310 / 3 = 556 N
    assert steel_shear_n(thin.thickness_mm, 4.17, thin.tensile_mpa) == pytest.approx(292.9, abs=0.5)
    by_thickness = [steel_pull_out_n(stud.thickness_mm, 4.17, 310) for stud in metal_studs()]
    assert by_thickness == sorted(by_thickness)
    with pytest.raises(UnknownStud, match="25 ga"):
        metal_stud("26 ga")


def test_metric_screws_by_hand():
    # 5 mm in spruce of 420 kg/m³, 30 mm of thread: 8.575 × 150 = 1286 N; × 0.6 / 1.3 / 1.35 = 439.7 N
    assert metric_allowable_n(5, 30, 420) == pytest.approx(439.7, abs=0.1)
    # not far from number 10 (4.83 mm) by the NDS for a permanent load: 16.73 × 0.9 × 30 = 451.7 N
    nds = wood_screw_withdrawal_n_per_mm(0.42, 4.826) * 0.9 * 30
    assert metric_allowable_n(5, 30, 420) == pytest.approx(nds, rel=0.05)
    assert metric_head_n(10, 350) == pytest.approx(735)
    # DIN 1052 knows no wood denser than 500 kg/m³: 70e-6 × 500² × 4 × 10 = 700 N, however heavy the ply
    assert metric_withdrawal_n(4, 10, 567) == pytest.approx(700)
    assert metric_head_n(10, 567) == pytest.approx(60e-6 * 500**2 * 100)
    # a lasting load on MDF: k_mod 0.2 where wood has 0.6 (EN 1995-1-1 Table 3.1, from memory)
    assert metric_allowable_n(4, 10, 600, material="mdf") == pytest.approx(metric_allowable_n(4, 10, 600) / 3)
    assert screw_name(5, 60) == "5 × 60"
    for screw in metric_screws():
        assert screw.core_mm < screw.diameter_mm < screw.head_mm
        assert list(screw.lengths_mm) == sorted(set(screw.lengths_mm))
    with pytest.raises(UnknownScrew, match=r"3\.5, 4, 4\.5, 5, 6"):
        metric_screw(4.8)


def test_holes_are_drills_that_are_sold():
    soft = wood_holes(4, 2.5, 0.42, "mm")
    # a hole of 4 mm would hold the thread of a 4 mm screw, and its head could not draw the parts together
    assert (soft.clearance_mm, soft.pilot_mm) == (4.5, 2.5)
    hard = wood_holes(4, 2.5, 0.68, "mm")
    assert hard.pilot_mm == 2.0  # 0.9 × 2.5 = 2.25, the next drill down
    inch = wood_holes(4.1656, 3.33, 0.5, "in")
    assert inch.clearance_mm / 25.4 * 64 == pytest.approx(11)  # 0.164 in: 11/64
    assert inch.pilot_mm / 25.4 * 64 == pytest.approx(7)  # 0.7 × 0.164 = 0.115 in: 7/64


def test_plugs_drill_and_depth():
    plug = plug_for(5)
    assert (plug.drill_mm, plug.length_mm, plug.hole_mm) == (6, 30, 40)
    # 18 mm of cleat, 12.5 mm of plaster, 30 mm of plug, 5 mm past it
    assert plug_screw_least_mm(plug, 18, 12.5, 5) == 65.5
    assert all(one.hole_mm >= one.length_mm + 10 for one in plugs())
    with pytest.raises(NoPlug):
        plug_for(14)
    assert math.isclose(plug_screw_least_mm(plug_for(6), 18, 0, 6), 64)
