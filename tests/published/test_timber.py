"""Wood Handbook FPL-GTR-190 (2010), FPL-RN-0268, NDS Supplement 2018, PS 20-20."""

from __future__ import annotations

import pytest
from tests.published.reading import read_published

from bossage.tables import table_rows
from bossage.timber import (
    coefficient_per_pct,
    density_kg_m3,
    design_density_kg_m3,
    dressed_size,
    emc_pct,
    mass_g,
    movement_from_shrinkage_mm,
    movement_mm,
    shrinkage_pct,
    specific_gravity_from_basic,
)

EMC = read_published("emc_table.csv")
PER_FT3 = 0.45359237 / 0.3048**3


def test_the_moisture_table_is_whole():
    assert len(EMC) == 228


@pytest.mark.parametrize("row", EMC, ids=lambda r: f"{r['temp_F']}F-{r['rh_pct']}")
def test_emc_agrees_with_wood_handbook_table_4_2(row):
    # From memory, and the table looks generated from the equation: this guards the coefficients, it proves no physics.
    air_degc = (float(row["temp_F"]) - 32) / 1.8
    found = float(emc_pct(air_degc, float(row["rh_pct"])))
    assert found == pytest.approx(float(row["emc_pct_table"]), abs=float(row["tolerance_pct_points"]))


@pytest.mark.parametrize("row", EMC, ids=lambda r: f"{r['temp_F']}F-{r['rh_pct']}")
def test_emc_agrees_with_the_other_printed_form_in_fahrenheit_recomputed(row):
    found = float(emc_pct((float(row["temp_F"]) - 32) / 1.8, float(row["rh_pct"])))
    assert found == pytest.approx(float(row["emc_pct_eq_US"]), abs=0.03)


CHANGE = table_rows("bossage.timber", "dimension_change.csv")
SINGLE = [row for row in CHANGE if row["fsp_used_pct"]]


@pytest.mark.parametrize("direction", ["R", "T"])
@pytest.mark.parametrize("row", SINGLE, ids=lambda r: r["key"])
def test_coefficients_of_table_13_5_follow_from_shrinkage(row, direction):
    # DIM-6, DIM-7 and all others; the three that only agree with fibre saturation at 22 % say so in the row.
    shrinkage = float(row[{"R": "shrink_radial_pct", "T": "shrink_tangential_pct"}[direction]])
    found = coefficient_per_pct(shrinkage, float(row["fsp_used_pct"]))
    assert found == pytest.approx(float(row[f"C_{direction}_recomputed"]), abs=0.000_006)
    if row[f"C_{direction}_per_pct"]:
        assert found == pytest.approx(float(row[f"C_{direction}_per_pct"]), abs=0.000_011)


def test_cedar_and_redwood_disagree_with_fibre_saturation_at_30():
    low = [row for row in SINGLE if row["fsp_used_pct"] == "22"]
    assert {row["key"] for row in low} == {
        "northern_white_cedar",
        "western_redcedar",
        "redwood_old",
        "redwood_young",
    }
    for row in low:
        # Taking 30 understates their movement by about a quarter.
        assert coefficient_per_pct(float(row["shrink_tangential_pct"])) < 0.78 * float(row["C_T_per_pct"])


@pytest.mark.parametrize("row", SINGLE, ids=lambda r: r["key"])
def test_shrinkage_and_coefficient_are_inverse(row):
    fsp = float(row["fsp_used_pct"])
    shrinkage = float(row["shrink_tangential_pct"])
    assert shrinkage_pct(coefficient_per_pct(shrinkage, fsp), fsp) == pytest.approx(shrinkage, rel=1e-12)


def test_published_example_of_white_fir():
    # DIM-1 and DIM-2: 9.15 in (232 mm) flat-grained from 8 to 11 %; result read, inputs from memory
    assert movement_mm(232, 0.00245, 8, 11) == pytest.approx(1.7, abs=0.05)
    assert 232 + movement_mm(232, 0.00245, 8, 11) == pytest.approx(233.7, abs=0.05)
    assert movement_mm(9.15, 0.00245, 8, 11) == pytest.approx(0.067, abs=0.0005)


def test_equation_13_3_recomputed():
    # DIM-3, DIM-4, DIM-5
    assert movement_from_shrinkage_mm(232, 7.0, 8, 11) == pytest.approx(1.712, abs=0.005)
    assert movement_mm(89, 0.00234, 12, 6) == pytest.approx(-1.250, abs=0.005)
    assert movement_from_shrinkage_mm(89, 6.7, 12, 6) == pytest.approx(-1.243, abs=0.005)


def test_densities():
    # DEN-1 is a published example; DEN-2 and DEN-3 are recomputed
    assert density_kg_m3(0.40, 12) == pytest.approx(448, abs=0.5)
    assert density_kg_m3(0.40, 12) / PER_FT3 == pytest.approx(27.97, abs=0.01)
    assert specific_gravity_from_basic(0.42, 12) == pytest.approx(0.4501, abs=0.0005)
    assert density_kg_m3(specific_gravity_from_basic(0.42, 12), 12) == pytest.approx(504.1, abs=0.5)
    assert specific_gravity_from_basic(0.45, 8) == pytest.approx(0.4931, abs=0.0005)
    assert density_kg_m3(specific_gravity_from_basic(0.45, 8), 8) == pytest.approx(532.6, abs=0.5)


@pytest.mark.parametrize(
    ("gravity", "moisture", "lb_ft3", "kg_m3"),
    [(0.42, 12, 28.08, 450), (0.50, 12, 33.15, 531), (0.55, 19, 37.33, None)],  # DEN-4, DEN-5, DEN-6
)
def test_design_density_of_the_nds_supplement_recomputed(gravity, moisture, lb_ft3, kg_m3):
    found = design_density_kg_m3(gravity, moisture)
    # 62.4 lb/ft³ is 0.05 % below 1000 kg/m³, which the tolerance of the check holds
    assert found / PER_FT3 == pytest.approx(lb_ft3, abs=0.05)
    if kg_m3:
        assert found == pytest.approx(kg_m3, abs=1)


def test_mass_of_a_stick_recomputed():
    assert mass_g(38 * 89 * 600, 470) == pytest.approx(954, abs=1)  # DEN-7


SPECIES = table_rows("bossage.timber", "species.csv")
HANDBOOK = [row for row in SPECIES if row["sg_basic"] and row["sg_12pct"]]


@pytest.mark.parametrize("row", HANDBOOK, ids=lambda r: r["key"])
def test_wood_handbook_gravities_and_densities_hang_together(row):
    assert float(row["density_12pct_kg_m3"]) == pytest.approx(density_kg_m3(float(row["sg_12pct"]), 12), abs=1)
    # The rule misses the printed 12 % value by up to 0.033 (basswood), because real shrinkage differs.
    predicted = specific_gravity_from_basic(float(row["sg_basic"]), 12)
    assert predicted == pytest.approx(float(row["sg12_predicted_from_basic"]), abs=0.0006)
    assert predicted == pytest.approx(float(row["sg_12pct"]), abs=0.034)


GROUPS = [row for row in SPECIES if row["class"] == "NDS group"]


@pytest.mark.parametrize("row", GROUPS, ids=lambda r: r["key"])
def test_densities_of_nds_groups_follow_from_their_gravity(row):
    assert design_density_kg_m3(float(row["sg_nds_assigned"]), 12) == pytest.approx(
        float(row["density_12pct_kg_m3"]), abs=1
    )


LUMBER = table_rows("bossage.timber", "lumber_sizes.csv")
THICKNESSES = [row for row in LUMBER if row["class"] in {"board", "dimension"}]
WIDTHS = [row for row in LUMBER if row["class"] == "board/dimension"]
TIMBERS = [row for row in LUMBER if row["class"] == "timber"]


def test_the_lumber_table_is_whole():
    assert len(LUMBER) == 76
    assert (len(THICKNESSES), len(WIDTHS), len(TIMBERS)) == (10, 13, 5)


@pytest.mark.parametrize("row", THICKNESSES, ids=lambda r: r["nominal_in"])
def test_ps_20_thickness(row):
    found = dressed_size(f"{row['nominal_in']}x12")
    assert found.thickness_in == float(row["dressed_dry_in"])
    assert found.thickness_mm == pytest.approx(float(row["mm_rounded"]), abs=0.55)
    assert dressed_size(f"{row['nominal_in']}x12", "green").thickness_in == float(row["dressed_green_in"])


@pytest.mark.parametrize("row", WIDTHS, ids=lambda r: r["nominal_in"])
def test_ps_20_width(row):
    found = dressed_size(f"2 x {row['nominal_in']}")
    assert found.width_in == float(row["dressed_dry_in"])
    assert found.width_mm == pytest.approx(float(row["mm_rounded"]), abs=0.55)
    assert dressed_size(f"2x{row['nominal_in']}", "green").width_in == float(row["dressed_green_in"])


@pytest.mark.parametrize("row", TIMBERS, ids=lambda r: r["nominal_in"])
def test_ps_20_timbers_from_memory(row):
    nominal = f"{row['nominal_in']}x{row['nominal_in']}"
    assert dressed_size(nominal).width_in == float(row["dressed_dry_in"])
    assert dressed_size(nominal, "green").thickness_in == float(row["dressed_green_in"])


METRIC = [row for row in LUMBER if row["mm_rounded"] and row["class"] not in {"CLS surfaced"}]


@pytest.mark.parametrize("row", METRIC, ids=lambda r: f"{r['class']}-{r['nominal_in']}-{r['mm_rounded']}")
def test_printed_metric_sizes_are_soft_conversions_or_stand_alone(row):
    text = row["dressed_dry_mm_exact_or_metric"]
    if "-" in text:  # a range, of which the rounded value is the middle
        low, high = map(float, text.split("-"))
        assert (low + high) / 2 == pytest.approx(float(row["mm_rounded"]), abs=0.1)
    elif row["dressed_dry_in"]:
        assert float(row["dressed_dry_in"]) * 25.4 == pytest.approx(float(text), abs=0.11)
    else:
        assert float(text) == pytest.approx(float(row["mm_rounded"]), abs=0.51)
