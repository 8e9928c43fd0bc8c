"""Several tinters in one family, and the ground that vanishes."""

from __future__ import annotations

import contextlib

import numpy as np
import pytest

from bossage.colour.blends import bent_scale, blend_lab, match_blend
from bossage.colour.coats import coat_of_hex
from bossage.colour.difference import delta_e
from bossage.colour.grounds import compare_grounds
from bossage.colour.measuring import measures_of
from bossage.colour.mixing import Paint, fraction_at_lightness, mix_lab, paint_from_colours
from bossage.colour.recipes import PotNeed, separate_recipes
from bossage.colour.spaces import hex_to_lab, lab_to_xyz
from bossage.errors import BossageError

BASE = coat_of_hex("#F2EFE6").lab
OCHRE = paint_from_colours("ochre", BASE, coat_of_hex("#C08A2A").lab)
UMBER = paint_from_colours("umber", BASE, coat_of_hex("#6A4A34").lab)


def test_one_tinter_in_a_blend_is_the_plain_mix():
    assert delta_e(blend_lab([OCHRE, UMBER], [0.2, 0.0]), mix_lab(OCHRE, 0.2)) < 1e-9
    assert delta_e(blend_lab([OCHRE, OCHRE], [0.05, 0.15]), mix_lab(OCHRE, 0.2)) < 1e-9


@pytest.mark.parametrize("shares", [(0.02, 0.05), (0.3, 0.01), (0.1, 0.3)])
def test_a_mix_is_found_again_from_its_colour(shares):
    found = match_blend([OCHRE, UMBER], blend_lab([OCHRE, UMBER], shares))
    assert found.shares == pytest.approx(shares, rel=1e-3)
    assert found.miss_de < 1e-3


def test_a_tinter_nobody_would_see_is_left_out():
    found = match_blend([OCHRE, UMBER], mix_lab(OCHRE, 0.1))
    assert found.shares[1] == 0
    assert found.miss_de < 0.1


def test_a_bent_scale_goes_from_one_tinter_to_the_other():
    bent = bent_scale("sand", [OCHRE, UMBER], [90, 82, 74, 66])
    assert bent.scale.labs[:, 0] == pytest.approx([90, 82, 74, 66], abs=0.5)
    assert bent.blends[0].shares[1] == 0
    assert bent.blends[-1].shares[0] == 0
    assert all(min(blend.shares) > 0 for blend in bent.blends[1:-1])
    assert [shade.fraction for shade in bent.scale.shades] == pytest.approx([sum(b.shares) for b in bent.blends])
    assert "test card" in bent.scale.assumptions[-1]
    needs = [
        PotNeed(shade=s.name, shares=b.shares, volume_ml=100)
        for s, b in zip(bent.scale.shades, bent.blends, strict=True)
    ]
    recipes = separate_recipes([OCHRE, UMBER], needs, tools=measures_of(0.1))
    for recipe in recipes:
        assert [a.what for a in recipe.amounts] == ["base", "ochre", "umber"]
        half_marks_ml = sum(a.measured.tool.mark_ml / 2 for a in recipe.amounts)
        assert sum(a.volume_ml for a in recipe.amounts) == pytest.approx(100, abs=half_marks_ml + 1e-9)


def random_tinters(n: int) -> list[Paint]:
    """Tinters of every kind in one base, vivid, pale and dark; readings without gloss have a `k1` of their own."""
    rng = np.random.default_rng(21)
    found: list[Paint] = []
    while len(found) < n:
        L, chroma, hue = rng.uniform(6, 88), rng.uniform(0, 45), rng.uniform(0, 2 * np.pi)
        with contextlib.suppress(BossageError):
            lab = (L, chroma * np.cos(hue), chroma * np.sin(hue))
            found.append(paint_from_colours(f"tinter {len(found)}", BASE, lab))
    return found


def test_a_tinter_that_is_not_in_the_mix_has_no_say_and_order_has_none():
    pool = random_tinters(30)
    assert len({paint.k1 for paint in pool}) > 3
    rng = np.random.default_rng(5)
    for _ in range(1000):
        mine = rng.choice(len(pool), size=int(rng.integers(2, 6)), replace=False)
        used = [pool[i] for i in mine[:-1]]
        shares = rng.dirichlet(np.ones(len(used) + 1))[:-1]
        plain = blend_lab(used, shares)
        more = [*used, pool[mine[-1]]]
        assert blend_lab(more, [*shares, 0.0]) == pytest.approx(plain, abs=1e-9)
        order = rng.permutation(len(more))
        again = blend_lab([more[i] for i in order], np.array([*shares, 0.0])[order])
        assert again == pytest.approx(plain, abs=1e-9)
        alone = np.where(np.arange(len(used)) == 0, shares, 0.0)
        assert blend_lab(used, alone) == pytest.approx(mix_lab(used[0], shares[0]), abs=1e-9)


def test_no_tinter_at_all_is_the_base():
    pool = random_tinters(6)
    assert delta_e(blend_lab(pool, np.zeros(6)), BASE) < 1e-6


def test_different_bases_are_refused():
    other = paint_from_colours("other", coat_of_hex("#C8C0B0").lab, coat_of_hex("#6A4A34").lab)
    with pytest.raises(BossageError, match="ochre and other are mixed into different bases"):
        bent_scale("sand", [OCHRE, other], [74])


def test_the_ground_that_vanishes_is_dark_and_a_white_one_never():
    labs = mix_lab(UMBER, [fraction_at_lightness(UMBER, L) for L in (52, 60, 68)])
    edges = np.array([[0, 1], [1, 2], [2, 3]])
    shade = np.array([0, 1, 2, 1])
    names = {"dark umber": "#4A3A30", "white": "#F2EFE6", "clay": "#B98C6E"}
    found = {g.name: g for g in compare_grounds({k: hex_to_lab(v) for k, v in names.items()}, labs, shade, edges)}
    assert [name for name, g in found.items() if g.advised] == ["dark umber"]
    assert found["dark umber"].contrast_de < found["clay"].contrast_de < found["white"].contrast_de


def test_a_ground_that_looks_as_the_shadow_has_no_contrast():
    lab = mix_lab(UMBER, 0.1)
    (same,) = compare_grounds(
        {"same": lab}, lab[None], np.zeros(4, dtype=int), np.array([[0, 1], [2, 3]]), light_on_ground=0.1
    )
    assert same.contrast_de == pytest.approx(0, abs=1e-9)
    assert lab_to_xyz(same.seen_lab) == pytest.approx(0.1 * lab_to_xyz(lab))
    (alone,) = compare_grounds({"same": lab}, lab[None], np.zeros(1, dtype=int), np.empty((0, 2), dtype=int))
    assert alone.contrast_de > 1
