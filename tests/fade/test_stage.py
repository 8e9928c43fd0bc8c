"""The fade as a stage: counts, pins, series, the count table and the ground."""

from __future__ import annotations

import itertools
from collections import Counter

import numpy as np
import pytest
from tests.scenarios.cases import BRIEFS, Toml, plan_of, varied

from bossage.checks import Check, Verdict
from bossage.colour.measures import FadeMeasures
from bossage.fade.fade_checks import fade_checks
from bossage.fade.scales import family_scales
from bossage.plan import Plan


@pytest.mark.parametrize("scenario", BRIEFS)
def test_counts_by_shade_are_even(scenario: str) -> None:
    plan = plan_of(scenario)
    copies = np.array([leaf.copy for leaf in plan.layout.leaves])[plan.layout.blocks.leaf]
    for copy in range(1, plan.brief.piece.copies + 1):
        counts = np.bincount(plan.fade.shade[copies == copy], minlength=len(plan.fade.shades))
        taken = counts[counts > 0]
        assert len(taken) == (plan.brief.fade.shades_each or len(plan.fade.shades))
        assert taken.max() - taken.min() <= 1


def test_asked_counts_are_exact_and_run_with_the_family() -> None:
    """The last family of a path is written from its home inward; its counts go with its shades."""

    def ask(brief: Toml) -> None:
        for family, quotas in zip(brief["family"], ([50, 50, 30], [30, 30], [26, 40]), strict=True):
            family["quotas"] = quotas

    plan = varied("S2", "asked counts", ask)
    got = Counter(plan.fade.shades[k].name for k in plan.fade.shade)
    assert got == {
        "lichen 82": 50,
        "lichen 74": 50,
        "lichen 66": 30,
        "clay 66": 30,
        "clay 58": 30,
        "rust 42": 26,
        "rust 50": 40,
    }


def test_pinned_shade_and_level_stay() -> None:
    def pin(brief: Toml) -> None:
        brief["pin"] = [{"block": "1.1", "level": 1.875, "shade": "clay 80"}]

    plan = varied("S8", "a pin", pin)
    assert plan.layout.blocks.address(0) == "1·1"
    assert plan.fade.shades[plan.fade.shade[0]].name == "clay 80"
    assert plan.relief.levels_nm[plan.relief.level[0]] == 47_625_000


def test_the_path_ends_at_the_last_home() -> None:
    names = [shade.name for scale in family_scales(plan_of("S7").brief) for shade in scale.shades]
    assert names[0] == "fern 52"
    assert names[5:7] == ["fern 92", "umber 92"]
    assert names[-1] == "umber 52"


def test_copies_have_fades_of_their_own() -> None:
    plan = plan_of("S4")
    shades = [plan.fade.shade[plan.layout.blocks.leaf == leaf] for leaf in range(6)]
    assert all((one != other).any() for one, other in itertools.pairwise(shades))


@pytest.mark.parametrize("scenario", BRIEFS)
def test_one_ground_is_chosen_and_the_darkest_that_may_have_the_least_contrast_is_advised(scenario: str) -> None:
    grounds = plan_of(scenario).fade.grounds
    assert sum(ground.chosen for ground in grounds) == 1
    advised = [ground for ground in grounds if ground.advised]
    assert len(advised) == 1
    near = [ground for ground in grounds if ground.vanishes]
    assert min(grounds, key=lambda ground: ground.contrast_de) in near
    assert advised[0] == min(near, key=lambda ground: ground.lightness)
    # Whatever is nearer to shadow than the advised one is so by less than the light on the sides leaves open.
    for ground in near:
        assert abs(ground.contrast_de - advised[0].contrast_de) <= ground.unsure_de + advised[0].unsure_de
    assert 2 <= len(grounds) <= 4


def test_a_dark_ground_lies_nearest_between_middle_shades_and_a_lighter_one_between_light_shades() -> None:
    """Common practice, no source: dark hides gaps; between very light shades it would draw lines."""
    nearest = {s: min(plan_of(s).fade.grounds, key=lambda g: g.contrast_de).lightness for s in ("S2", "S7")}
    assert nearest["S2"] < 25
    assert nearest["S7"] > nearest["S2"]


def test_a_fade_runs_across_the_leaves_of_a_piece() -> None:
    """Two leaves side by side are one field: the mean shade goes on rising from one leaf into the next."""

    def along(brief: Toml) -> None:
        brief["fade"] = {"shape": "path", "grain": 0.5}
        for family, home in zip(
            brief["family"], ("left", *["between"] * (len(brief["family"]) - 2), "right"), strict=True
        ):
            family["home"] = home

    plan = varied("S3", "across leaves", along)
    assert len(plan.layout.leaves) > 1
    blocks = plan.layout.blocks
    order = np.argsort(blocks.x_nm + blocks.width_nm / 2, kind="stable")
    tenths = [float(plan.fade.shade[part].mean()) for part in np.array_split(order, 10)]
    assert all(a < b for a, b in itertools.pairwise(tenths))


def test_neighbours_differ_in_lightness_where_asked() -> None:
    """Lichen 66 and clay 66 are two shades of one lightness: they may not meet either."""

    def ask(brief: Toml) -> None:
        brief["fade"]["neighbours_lightness"] = 4

    plan = varied("S2", "apart in lightness", ask)
    lightness = np.array([shade.lightness for shade in plan.fade.shades])[plan.fade.shade]
    edges = plan.layout.blocks.edges
    near = np.abs(lightness[edges[:, 0]] - lightness[edges[:, 1]]) < 4 - 1e-6
    assert int(near.sum()) == plan.fade.figures["clashes"]
    free = plan_of("S2")
    tone = np.array([shade.lightness for shade in free.fade.shades])[free.fade.shade]
    assert near.sum() < 0.05 * (np.abs(tone[edges[:, 0]] - tone[edges[:, 1]]) < 4).sum()
    counts = np.bincount(plan.fade.shade, minlength=len(plan.fade.shades))
    assert (counts == np.bincount(free.fade.shade, minlength=len(free.fade.shades))).all()


def test_height_and_shade_that_go_together_are_said_in_words() -> None:
    measured = FadeMeasures(
        banding=0.0,
        largest_patch=3,
        largest_patch_share=0.1,
        stray_patch=9,
        stray_patch_usual=4,
        height_correlation=-0.4,
        height_limit=0.15,
    )
    plan = plan_of("S2")
    checks = {check.name: check for check in fade_checks(plan.brief, family_scales(plan.brief), measured, 0)}
    assert checks["height_and_shade"].verdict is Verdict.CAUTION
    assert "taller blocks tend to be darker" in checks["height_and_shade"].found
    assert checks["figure"].verdict is Verdict.CAUTION
    assert plan_of("S2").fade.figures["height_correlation"] < 0.15


def even(first: float, last: float, shades: int | None = None) -> Toml:
    return {"from": first, "to": last} | ({} if shades is None else {"shades": shades})


def test_a_scale_asked_for_by_its_ends_is_even() -> None:
    def ask(brief: Toml) -> None:
        brief["family"][0]["lightness"] = even(50, 90, 7)
        brief["family"][1]["lightness"] = even(48, 90, 5)

    fern, umber = family_scales(varied("S7", "even ends", ask).brief)
    assert [len(scale.shades) for scale in (fern, umber)] == [7, 5]
    assert [fern.shades[0].name, fern.shades[-1].name] == ["fern 50", "fern 90"]
    for scale in (fern, umber):
        assert max(scale.step_de) / min(scale.step_de) <= 1.001


def test_one_step_size_across_families_where_asked() -> None:
    def ask(brief: Toml) -> None:
        brief["family"][0]["lightness"] = even(70, 90)
        brief["family"][1]["lightness"] = even(46, 90)
        brief["fade"]["shades"] = 14

    scales = family_scales(varied("S7", "one step", ask).brief)
    assert sum(len(scale.shades) for scale in scales) == 14
    fern, umber = (float(np.mean(scale.step_de)) for scale in scales)
    # No other sharing out of 14 makes the widest step smaller.
    lengths = [sum(scale.step_de) for scale in scales]
    assert max(fern, umber) <= min(max(lengths[0] / (k - 1), lengths[1] / (13 - k)) for k in range(2, 13)) + 0.05


def test_a_family_as_bought_is_even_too() -> None:
    def ask(brief: Toml) -> None:
        for family, (first, last) in zip(brief["family"], ((44, 64), (84, 66)), strict=True):
            family["lightness"] = even(first, last, 4)

    for scale in family_scales(varied("S1", "even as bought", ask).brief):
        assert max(scale.step_de) / min(scale.step_de) <= 1.001


def test_two_tinters_bend_a_scale_and_get_recipes_in_grams() -> None:
    def ask(brief: Toml) -> None:
        family = brief["family"][1]
        family["base_g_per_ml"] = 1.25
        family["tinters"] = [
            {"name": "ochre", "colour": "#C9A24B", "g_per_ml": 1.4},
            {"name": "umber", "colour": "#5A3A24", "g_per_ml": 1.3},
        ]

    plan = varied("S7", "two tinters", ask)
    shades = [shade for shade in plan.fade.shades if shade.family == "umber"]
    ochre, umber = zip(*(shade.tinter_shares for shade in shades), strict=True)
    assert umber[0] == 0 < ochre[0]
    assert ochre[-1] == 0 < umber[-1]
    assert all(abs(shade.lightness - int(shade.name.split()[1])) < 0.6 for shade in shades)
    pots = next(pots for pots in plan.paint.pots if pots.family == "umber")
    assert pots.tinters == ("ochre", "umber")
    assert pots.one_pot is None
    assert "one tinter" in pots.why
    assert all(recipe.measurable for recipe in pots.recipes) or any(c.name == "pot_unmeasurable" for c in plan.checks)
    for recipe in pots.recipes:
        assert [amount.mass_g for amount in recipe.amounts] == pytest.approx(
            [a.volume_ml * d for a, d in zip(recipe.amounts, (1.25, 1.4, 1.3), strict=True)]
        )
    fern = next(pots for pots in plan.paint.pots if pots.family == "fern")
    assert fern.recipes[0].amounts[0].mass_g is None


def test_meetings_are_told_with_their_bridge_where_they_fail() -> None:
    def ask(brief: Toml) -> None:
        for family in brief["family"]:
            family["lightness"] = [52, 60, 68, 76]

    plan = varied("S7", "met at 76", ask)
    met = next(check for check in plan.checks if check.name == "meeting")
    assert met.verdict is Verdict.CAUTION
    assert "Equal parts of the two would stand" in met.remedy

    def free(brief: Toml) -> None:
        brief["fade"]["shape"] = "free"
        for family in brief["family"]:
            family["lightness"] = [52, 60, 68, 76, 84, 92]

    outer = next(check for check in varied("S7", "free", free).checks if check.name == "meeting")
    assert outer.subject == "fern 92 and umber 92"


def test_a_paint_with_an_effect_is_cautioned_once_by_its_name() -> None:
    def ask(brief: Toml) -> None:
        for family, name in zip(brief["family"], ("Copper Metallic", "copper metallic"), strict=True):
            family["tinters"][0]["name"] = name
        brief["family"][1]["name"] = "mother-of-pearl"

    def told(plan: Plan) -> list[Check]:
        return [check for check in plan.checks if check.name == "effect_paint"]

    checks = told(varied("S7", "paints with an effect", ask))
    assert [check.subject for check in checks] == ["Copper Metallic", "mother-of-pearl", "copper metallic"]
    assert {check.verdict for check in checks} == {Verdict.CAUTION}
    assert checks[0].found == "Copper Metallic is metallic, pearl or fluorescent by its name."
    assert told(plan_of("S7")) == []
