"""Colour spaces and CIEDE2000 against printed values, and against two independent libraries."""

from __future__ import annotations

import warnings

import numpy as np
import pytest
from tests.published.reading import read_published

from bossage.colour.difference import delta_e
from bossage.colour.spaces import (
    WHITE_D65,
    lab_to_srgb,
    lightness_of_luminance,
    linear_to_xyz,
    oklab_to_srgb,
    srgb_to_lab,
    srgb_to_linear,
    srgb_to_oklab,
    xyz_to_lab,
    xyz_to_oklab,
)
from bossage.colour.spectrum import table_white, weights


def triple(row: dict[str, str], *keys: str) -> np.ndarray:
    return np.array([float(row[key]) for key in keys])


@pytest.mark.parametrize("row", read_published("ciede2000_sharma2005.csv"), ids=lambda row: row["pair"])
def test_ciede2000_agrees_with_sharma_both_ways(row):
    first, second = triple(row, "L1", "a1", "b1"), triple(row, "L2", "a2", "b2")
    for a, b in ((first, second), (second, first)):
        assert delta_e(a, b) == pytest.approx(float(row["dE00"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize(
    "row", read_published("oklab.csv"), ids=lambda row: row["input_space"] + row["i1"] + row["i2"] + row["i3"]
)
def test_oklab_agrees_with_print(row):
    given, printed = triple(row, "i1", "i2", "i3"), triple(row, "oklab_L", "oklab_a", "oklab_b")
    found = xyz_to_oklab(given) if row["input_space"] == "XYZ_D65" else srgb_to_oklab(given / 255)
    assert np.abs(found - printed).max() <= float(row["tolerance"])


@pytest.mark.parametrize(
    "row",
    [r for r in read_published("srgb.csv") if r["quantity"].startswith("linear_of_8bit")],
    ids=lambda row: row["quantity"],
)
def test_srgb_decoding_agrees_with_print(row):
    eight = int(row["quantity"].rsplit("_", 1)[1])
    assert srgb_to_linear(eight / 255) == pytest.approx(float(row["value"]), abs=float(row["tolerance"]))


def test_srgb_matrix_agrees_with_the_standards_primaries():
    printed = {r["quantity"]: float(r["value"]) for r in read_published("srgb.csv") if r["quantity"].startswith("M_")}
    columns = {name: linear_to_xyz(unit) for name, unit in zip("RGB", np.eye(3), strict=True)}
    for quantity, value in printed.items():
        axis, primary = quantity[2], quantity[3]
        assert columns[primary]["XYZ".index(axis)] == pytest.approx(value, abs=1e-9)


def test_whites_are_those_printed():
    printed = {r["name"]: triple(r, "X", "Y", "Z") for r in read_published("d65_white.csv")}
    assert pytest.approx(printed["sRGB / CSS D65"], abs=5e-11) == WHITE_D65
    assert table_white() == pytest.approx(printed["white of cie1931_d65_10nm.csv"], abs=5e-8)
    assert weights()[0].tolist() == list(range(380, 740, 10))


@pytest.mark.parametrize("row", read_published("cie_lightness.csv"), ids=lambda row: row["Y_over_Yn"])
def test_lightness_agrees_with_print(row):
    Y = float(row["Y_over_Yn"])
    assert lightness_of_luminance(Y) == pytest.approx(float(row["L_star"]), abs=float(row["tolerance"]))
    assert xyz_to_lab(Y * WHITE_D65)[0] == pytest.approx(float(row["L_star"]), abs=float(row["tolerance"]))


@pytest.mark.parametrize(
    "row",
    [r for r in read_published("srgb_to_lab.csv") if r["lab_white"] == "D65"],
    ids=lambda r: r["R8"] + r["G8"] + r["B8"],
)
def test_lab_of_srgb_agrees_with_print(row):
    found = srgb_to_lab(triple(row, "R8", "G8", "B8") / 255)
    assert np.abs(found - triple(row, "L", "a", "b")).max() <= float(row["tolerance"])


def test_our_lab_is_not_the_d50_one_of_css():
    for row in (r for r in read_published("srgb_to_lab.csv") if r["lab_white"] == "D50_Bradford"):
        found = srgb_to_lab(triple(row, "R8", "G8", "B8") / 255)
        assert np.abs(found - triple(row, "L", "a", "b")).max() > 0.5


def test_ciede2000_agrees_with_colour_science_on_random_pairs():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    rng = np.random.default_rng(1)
    low, high = np.array([0, -110, -110]), np.array([100, 110, 110])
    a, b = rng.uniform(low, high, (100_000, 3)), rng.uniform(low, high, (100_000, 3))
    # A tenth of the pairs lies close together, where makers look.
    b[:10_000] = a[:10_000] + rng.normal(0, 0.5, (10_000, 3))
    assert np.abs(delta_e(a, b) - colour.difference.delta_E_CIE2000(a, b)).max() < 1e-9


def test_lab_agrees_with_colour_science_under_one_white():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        import colour
    rng = np.random.default_rng(2)
    xyz = rng.uniform(0, 1, (100_000, 3))
    ours = xyz_to_lab(xyz)
    theirs = colour.XYZ_to_Lab(xyz, np.array([0.3127, 0.3290]))
    assert np.abs(ours - theirs).max() < 1e-9


def test_spaces_agree_with_coloraide():
    from coloraide import Color

    rng = np.random.default_rng(3)
    srgb = rng.uniform(0, 1, (400, 3))
    lab = np.array([Color("srgb", list(v)).convert("lab-d65").coords() for v in srgb])
    oklab = np.array([Color("srgb", list(v)).convert("oklab").coords() for v in srgb])
    assert np.abs(srgb_to_lab(srgb) - lab).max() < 1e-9
    assert np.abs(srgb_to_oklab(srgb) - oklab).max() < 1e-9
    theirs = [
        Color("lab-d65", list(p)).delta_e(Color("lab-d65", list(q)), method="2000")
        for p, q in zip(lab, lab[::-1], strict=True)
    ]
    assert np.abs(delta_e(lab, lab[::-1]) - theirs).max() < 1e-9


def test_every_8_bit_colour_comes_back():
    rng = np.random.default_rng(4)
    srgb = rng.integers(0, 256, (100_000, 3)) / 255
    assert np.abs(lab_to_srgb(srgb_to_lab(srgb)) - srgb).max() < 1e-9
    assert np.abs(oklab_to_srgb(srgb_to_oklab(srgb)) - srgb).max() < 1e-9
