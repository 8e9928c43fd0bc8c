"""Anchors, metal studs, plywood and metric screws against printed rules; each row says whether it was read."""

from __future__ import annotations

import pytest
from tests.published.reading import read_published

from bossage.fasteners import (
    Anchor,
    AnchorKind,
    AnchorUse,
    anchor_use,
    metric_withdrawal_n,
    panel_withdrawal_n_per_mm,
    steel_pull_out_n,
)
from bossage.fasteners.units import INCH_MM, LB_PER_INCH_N_PER_MM, LBF_N

STEEL = read_published("steel_pull_out.csv")


def test_the_table_of_metal_studs_is_whole():
    assert len(STEEL) == 24


@pytest.mark.parametrize("row", STEEL, ids=lambda row: f"{row['screw']}-{row['t_in']}")
def test_pull_out_of_thin_steel_is_the_printed_pound(row):
    found = steel_pull_out_n(float(row["t_in"]) * INCH_MM, float(row["d_in"]) * INCH_MM)
    assert found / LBF_N == pytest.approx(float(row["allowable_lbf"]), abs=0.5)


@pytest.mark.parametrize(
    "row",
    read_published("anchor_interaction.csv"),
    ids=lambda row: f"{row['kind']}-{row['pull_allowable_n']}-{row['pull_share']}",
)
def test_pull_and_shear_meet_the_limit_where_the_printed_rule_does(row):
    pull_n, shear_n = float(row["pull_allowable_n"]), float(row["shear_allowable_n"])
    anchor = Anchor(kind=AnchorKind(row["kind"]), pull_n=pull_n, shear_n=shear_n)
    found = anchor_use(anchor, pull_n * float(row["pull_share"]), shear_n * float(row["shear_share"]))
    assert isinstance(found, AnchorUse)
    assert found.both == pytest.approx(float(row["use"]), abs=1e-12)


@pytest.mark.parametrize(
    "row", read_published("metric_withdrawal.csv"), ids=lambda row: f"{row['d_mm']}x{row['l_ef_mm']}"
)
def test_metric_screws_by_the_printed_equations(row):
    found = metric_withdrawal_n(float(row["d_mm"]), float(row["l_ef_mm"]), float(row["rho_k"]))
    assert found == pytest.approx(float(row["characteristic_n"]), rel=5e-4)


@pytest.mark.parametrize("row", read_published("plywood_withdrawal.csv"), ids=lambda row: f"{row['G']}-{row['D_in']}")
def test_plywood_holds_the_stated_share_of_wood(row):
    found = panel_withdrawal_n_per_mm(float(row["G"]), float(row["D_in"]) * INCH_MM, plywood=True)
    assert found / LB_PER_INCH_N_PER_MM == pytest.approx(float(row["lb_per_in"]), abs=0.01)


@pytest.mark.parametrize(
    "row", read_published("plywood_ultimate.csv"), ids=lambda row: f"{row['gauge']}x{row['depth_in']}"
)
def test_plywood_of_douglas_fir_is_counted_on_for_just_under_a_fifth_of_what_draws_a_screw_out(row):
    # Group 1 plies are Douglas fir, gravity 0.50; the NDS divides what breaks by five
    each = panel_withdrawal_n_per_mm(0.50, float(row["D_in"]) * INCH_MM, plywood=True) / LB_PER_INCH_N_PER_MM
    fifth = float(row["ultimate_lb"]) / 5
    assert 0.85 * fifth <= each * float(row["depth_in"]) <= fifth
