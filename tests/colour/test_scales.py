"""Scales even to a thousandth, families that meet, names, limits; the colour rows of the break room."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from bossage.colour import scales
from bossage.colour.coats import coat_of_hex
from bossage.colour.difference import delta_e
from bossage.colour.meetings import (
    End,
    Joint,
    bridge,
    cross_mix_lab,
    difference_at_lightness,
    lowest_common_lightness,
    meeting,
)
from bossage.colour.mixing import Paint, TestCard, mix_lab, paint_from_colours
from bossage.colour.scales import (
    even_fractions,
    even_scale,
    most_shades,
    same_step_counts,
    scale_at_lightness,
    scale_faults,
    scale_from_colour,
    scale_length_de,
    shade_names,
)
from bossage.colour.spaces import chroma, hex_to_lab, hue_deg, in_gamut, lab_to_srgb, srgb_to_lab
from bossage.errors import BossageError


def generated_paints() -> list[Paint]:
    """28 paints: tinters over the hue circle, some with a card that makes them strong or weak."""
    rng = np.random.default_rng(28)
    paints = []
    for i in range(28):
        tinter = srgb_to_lab(rng.uniform(0.05, 0.6, 3))
        base = (95.0, rng.uniform(-1, 1), rng.uniform(0, 4))
        plain = paint_from_colours(f"paint {i}", base, tinter)
        if i % 4 == 0:
            paints.append(plain)
            continue
        s, c = float(np.exp(rng.uniform(-1.5, 2.5))), float(np.exp(rng.uniform(-4, -1)))
        card = TestCard(fraction=c, lab=tuple(mix_lab(plain, c * s / (1 - c + c * s)) + rng.normal(0, 0.5, 3)))
        paints.append(paint_from_colours(f"paint {i}", base, tinter, [card]))
    return paints


def fern_and_umber() -> tuple[Paint, Paint]:
    base = coat_of_hex("#F2EFE6").lab
    return (
        paint_from_colours("fern", base, coat_of_hex("#4A6B4E").lab),
        paint_from_colours("umber", base, coat_of_hex("#8A5A34").lab),
    )


def test_steps_are_even_to_a_thousandth_on_28_paints():
    for paint in generated_paints():
        for count_n in (6, 10, 16, 24):
            c = even_fractions(paint, 0.0, 1.0, count_n)
            lab = mix_lab(paint, c)
            d = delta_e(lab[1:], lab[:-1])
            assert d.max() / d.min() <= 1.001, (paint.name, count_n)
            assert (np.diff(c) > 0).all()
            assert (c[0], c[-1]) == (0.0, 1.0)


def test_mixes_that_turn_too_sharply_for_stretching_are_levelled(monkeypatch: pytest.MonkeyPatch):
    levelled = scales._levelled
    turns: list[str] = []

    def counted(paint: Paint, at: np.ndarray, run: scales._Run) -> np.ndarray:
        turns.append(paint.name)
        return levelled(paint, at, run)

    monkeypatch.setattr(scales, "_levelled", counted)
    rng = np.random.default_rng(1)
    for number in range(40):
        plain = paint_from_colours("plain", (95.0, 0.0, 2.0), srgb_to_lab(rng.uniform(0.0, 0.9, 3)))
        s, c = float(np.exp(rng.uniform(-2, 3))), float(np.exp(rng.uniform(-4, -1)))
        lab = tuple(mix_lab(plain, c * s / (1 - c + c * s)) + rng.normal(0, 3, 3))
        paint = paint_from_colours(f"paint {number}", plain.base_lab, plain.tinter_lab, [TestCard(fraction=c, lab=lab)])
        count_n = int(rng.choice([3, 5, 8, 12, 20]))
        fractions = even_fractions(paint, 0.0, 1.0, count_n)
        labs = mix_lab(paint, fractions)
        steps = delta_e(labs[1:], labs[:-1])
        assert max(steps) / min(steps) <= 1.001, (paint.name, count_n)
        assert (np.diff(fractions) > 0).all()
    # the law held for some by stretching alone, and for some only after Newton's steps
    assert 0 < len(set(turns)) < 40


def test_an_even_scale_keeps_the_lightnesses_asked_for():
    fern, _ = fern_and_umber()
    scale = even_scale("fern", fern, 7, lightest=90, darkest=50)
    assert [scale.labs[0, 0], scale.labs[-1, 0]] == pytest.approx([90, 50], abs=1e-6)
    assert max(scale.step_de) / min(scale.step_de) < 1.001
    assert scale.shades[0].name == "fern 90"


def test_two_tinters_meet_nearer_to_the_base_than_at_92():
    fern, umber = fern_and_umber()
    lightness = [52, 60, 68, 76, 84, 92]
    met = meeting(
        scale_at_lightness("fern", fern, lightness),
        scale_at_lightness("umber", umber, lightness[::-1]),
        ends=End.LIGHTEST,
    )
    assert met.dl == pytest.approx(0, abs=1e-6)
    assert not met.meets
    assert met.de == pytest.approx(difference_at_lightness(fern, umber, 92))
    assert met.lowest_lightness is not None
    assert 92 < met.lowest_lightness < fern.base_lab[0]
    assert difference_at_lightness(fern, umber, met.lowest_lightness) == pytest.approx(met.max_de, abs=0.01)
    assert difference_at_lightness(fern, umber, 90) > met.de


def test_families_agree_down_to_the_lowest_common_lightness_and_no_further():
    fern, umber = fern_and_umber()
    lowest = lowest_common_lightness(fern, umber, 5.0)
    assert lowest is not None
    assert difference_at_lightness(fern, umber, lowest) == pytest.approx(5.0, abs=1e-4)
    assert lowest_common_lightness(fern, fern, 5.0) == pytest.approx(mix_lab(fern, 1.0)[0])
    assert lowest_common_lightness(fern, umber, -1.0) is None


def test_joints_are_level_a_step_or_a_gap():
    lichen = scale_from_colour("lichen", [82, 74, 66], "#A9AE8C")
    clay = scale_from_colour("clay", [66, 58], "#B98C6E")
    rust = scale_from_colour("rust", [50, 42], "#8A4A2A")
    assert meeting(lichen, clay, ends=End.ORDER).joint is Joint.LEVEL
    assert meeting(clay, rust, ends=End.ORDER).joint is Joint.STEP
    assert meeting(lichen, rust, ends=End.ORDER).joint is Joint.GAP
    assert bridge(lichen, rust) is None


def test_a_bridge_of_yellow_and_blue_is_green_not_brown():
    base = (95.0, 0.0, 2.0)
    yellow = paint_from_colours("yellow", base, hex_to_lab("#F0C010"))
    blue = paint_from_colours("blue", base, hex_to_lab("#123A6A"))
    hue = float(hue_deg(cross_mix_lab(yellow, 1.0, blue, 0.2, 0.5)))
    assert 100 < hue < 180


def test_a_bridge_lies_between_both_and_asks_for_a_card():
    fern, umber = fern_and_umber()
    a, b = scale_at_lightness("fern", fern, [60, 76]), scale_at_lightness("umber", umber, [76, 60])
    found = bridge(a, b)
    assert found is not None
    apart = meeting(a, b).de
    assert max(found.de_first, found.de_second) < apart
    assert "test card" in found.assumption


def test_colours_without_a_paint_keep_hue_and_lightness():
    scale = scale_from_colour("moss", [30, 58, 90, 98], "#5B7A3A")
    assert scale.labs[:, 0] == pytest.approx([30, 58, 90, 98])
    assert hue_deg(scale.labs) == pytest.approx(np.full(4, hue_deg(hex_to_lab("#5B7A3A"))), abs=0.01)
    assert in_gamut(scale.labs).all()
    assert all(shade.fraction is None for shade in scale.shades)
    assert "no mix is predicted" in scale.assumptions[0]
    several = scale_from_colour("moss", [30, 58], ["#203010", "#77AA44"])
    assert chroma(several.labs)[1] > chroma(several.labs)[0]
    with pytest.raises(BossageError, match="3 shades but 2 hex"):
        scale_from_colour("moss", [30, 58, 70], ["#203010", "#77AA44"])
    assert np.abs(lab_to_srgb(scale.labs)).max() <= 1 + 1e-6


def test_two_shades_of_one_number_get_letters():
    assert shade_names("moss", [61.6, 62.4, 70.2]) == ("moss 62a", "moss 62b", "moss 70")


def test_alike_shades_are_named_and_the_largest_scale_is_found():
    fern, _ = fern_and_umber()
    most = most_shades(fern, 0.0, 1.0)
    good, bad = even_scale("fern", fern, most), even_scale("fern", fern, most + 1)
    assert [f for f in scale_faults(good) if f.kind == "alike"] == []
    assert len([f for f in scale_faults(bad) if f.kind == "alike"]) == most
    limited = most_shades(fern, 0.0, 1.0, volume_ml=25, resolution_ml=0.1)
    assert 1 < limited < most


@given(st.lists(st.floats(5, 80), min_size=1, max_size=5), st.integers(0, 30))
def test_shades_go_where_steps_are_widest(lengths, extra):
    total = 2 * len(lengths) + extra
    counts = same_step_counts(lengths, total)
    assert sum(counts) == total
    widest = max(length / (n - 1) for length, n in zip(lengths, counts, strict=True))
    # Taking a shade away from any family that has more than two would make its step at least as wide as the widest.
    assert all(n == 2 or length / (n - 2) >= widest - 1e-9 for length, n in zip(lengths, counts, strict=True))


def test_families_on_one_step_size():
    fern, umber = fern_and_umber()
    lengths = [scale_length_de(paint, 0.0, 1.0) for paint in (fern, umber)]
    steps = [length / (n - 1) for length, n in zip(lengths, same_step_counts(lengths, 24), strict=True)]
    assert max(steps) / min(steps) < 1.12


def test_a_scale_of_one_or_without_length_is_refused():
    fern, _ = fern_and_umber()
    for args in ((0.0, 1.0, 1), (0.5, 0.5, 4)):
        with pytest.raises(BossageError, match="two different ends"):
            even_fractions(fern, *args)
