"""Sizes to choose from, against a raster of every size and place, and against the finished plan's mass."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import read_brief
from bossage.brief import records as r
from bossage.layout.grid import fixture_rect, lift_room_wanted, obstacles_of
from bossage.layout.rough import leaf_size, rough_cost_cents, rough_mass_g
from bossage.layout.sizes import Candidate, candidate_sizes, own_size
from tests.layout.factory import MM, change, fixture, furniture, keep_clear, leaf, mm, plain

EXAMPLES = Path(__file__).parents[2] / "examples"
EXPECTED: dict[str, Any] = json.loads((Path(__file__).parents[1] / "scenarios" / "scenarios.json").read_text())
STEP_X, STEP_Y = mm(10), mm(2)


@st.composite
def walls(draw: st.DrawFn) -> r.Brief:
    """A small wall: one or two fixtures, obstacles, a bench or none, studs; all in multiples of the raster."""

    def tens(low: int, high: int) -> int:
        return 10 * draw(st.integers(low, high))

    # Twenties, so that the centre of what is hidden lies on the raster too.
    place = [2 * tens(*ends) for ends in ((10, 15), (70, 75), (2, 6), (2, 6))]
    fixtures = [fixture("first", *place, proud_nm=mm(tens(0, 3)))]
    if draw(st.booleans()):
        fixtures.append(fixture("second", 2 * tens(15, 18), 2 * tens(70, 75), 60, 60))
    clear = [keep_clear(f"k{n}", tens(0, 60), tens(120, 170), 40, 40) for n in range(draw(st.integers(0, 2)))]
    bench = [furniture("bench", "bench", 0, tens(40, 80), tens(100, 135))] if draw(st.booleans()) else []
    if draw(st.booleans()):
        bench = [furniture("sofa", "sofa", 0, tens(40, 80), tens(100, 135))]
    return plain(
        wall__width_nm=mm(800),
        wall__height_nm=mm(tens(170, 190)),
        wall__studs_nm=tuple(mm(x) for x in sorted({tens(0, 79) for _ in range(draw(st.integers(0, 4)))})),
        fixtures=tuple(fixtures),
        keep_clear=tuple(clear),
        furniture=tuple(bench),
        blocks__module_width_nm=mm(60),
        blocks__module_height_nm=mm(40),
        blocks__footprints=(change(plain().blocks.footprints[0], width_nm=mm(60), height_nm=mm(40)),),
        blocks__leaves=(leaf("a"),) if draw(st.booleans()) else (leaf("a"), leaf("b")),
    )


def front_by_raster(brief: r.Brief, more: int) -> set[tuple[float, ...]]:
    """Every size and every place of a raster, and from them those that no other beats."""
    faces = [fixture_rect(f) for f in brief.fixtures]
    left, right = min(f.x for f in faces), max(f.right for f in faces)
    low, high = min(f.y for f in faces), max(f.top for f in faces)
    leaves, gap = len(brief.blocks.leaves), brief.blocks.leaf_gap_nm
    pitch = brief.blocks.module_width_nm, brief.blocks.module_height_nm
    wanted = max(brief.blocks.cover_margin_nm, 2 * _stand_off(brief))
    first = -(-(right - left - (leaves - 1) * gap) // (leaves * pitch[0])), -(-(high - low) // pitch[1])
    points: set[tuple[float, ...]] = set()
    for columns in range(max(1, first[0]), max(1, first[0]) + more + 1):
        for rows in range(max(1, first[1]), max(1, first[1]) + more + 1):
            size = leaf_size(brief, columns, rows)
            width, height = leaves * size.face.width + (leaves - 1) * gap, size.face.height
            X = np.arange(0, brief.wall.width_nm - width + 1, STEP_X)
            Y = np.arange(0, brief.wall.height_nm - lift_room_wanted(brief) - height + 1, STEP_Y)
            # 203.2 mm, where the gap over a sofa ends, lies off the raster.
            ends = np.array([f.top_nm + mm(203.2) for f in brief.furniture], dtype=np.int64)
            Y = np.unique(np.concatenate([Y, ends[ends <= brief.wall.height_nm - lift_room_wanted(brief) - height]]))
            if not X.size or not Y.size:
                continue
            across = np.minimum(left - X, X + width - right)
            up = np.minimum(low - Y, Y + height - high)
            margin = np.minimum(across[:, None], up[None, :])
            free = margin >= 0
            for o in obstacles_of(brief):
                hit_x = (o.right > X) & (X + width > o.x)
                hit_y = (o.top > Y) & (Y + height > o.y)
                free &= ~(hit_x[:, None] & hit_y[None, :])
            studs = np.full(X.size, 3)
            split = np.zeros(X.size, dtype=bool)
            held = np.zeros((X.size, len(faces)), dtype=bool)
            for n in range(leaves):
                lx = X + n * (size.face.width + gap)
                cleat = lx + mm(10) + brief.cleat.end_distance_nm, lx + size.face.width - mm(10) - mm(20)
                met = sum(((cleat[0] <= s) & (s <= cleat[1])).astype(int) for s in brief.wall.studs_nm)
                studs = np.minimum(studs, met)
                for k, f in enumerate(faces):
                    held[:, k] |= (lx <= f.x) & (lx + size.face.width >= f.right)
            split = ~held.all(axis=1)
            broken = split[:, None].astype(int) + np.zeros((X.size, Y.size), dtype=int)
            eye = np.minimum.reduce([np.maximum(a - (Y + height // 2), (Y + height // 2) - b) for a, b in EYE]) > mm(50)
            judged = np.zeros((X.size, Y.size), dtype=bool)
            for item in brief.furniture:
                under = (item.right_nm > X)[:, None] & (item.top_nm <= Y)[None, :]
                judged |= under
                over = Y - item.top_nm
                wrong = over < mm(150) if item.kind == "bench" else (over < mm(150)) | (over > mm(203.2))
                broken += under & wrong[None, :]
                if not 2 * item.width_nm <= 3 * width <= 9 * item.width_nm / 4:
                    broken += under
            broken += ~judged & eye[None, :]
            mass, cost = rough_mass_g(brief, size) * leaves, rough_cost_cents(brief, size, leaves)
            cover = wanted - np.minimum(margin, wanted)
            for i, j in zip(*np.nonzero(free), strict=True):
                points.add((int(cover[i, j]), mass, cost or 0, int(broken[i, j]), -int(studs[i])))
    table = np.array(sorted(points)) if points else np.zeros((0, 5))
    beaten = [bool(((table <= p).all(axis=1) & (table < p).any(axis=1)).any()) for p in table]
    return {tuple(p.tolist()) for p, b in zip(table, beaten, strict=True) if not b}


EYE = ((mm(1448), mm(1524)), (mm(1150), mm(1300)))


def _stand_off(brief: r.Brief) -> int:
    return max(mm(24), max(f.proud_nm for f in brief.fixtures) + mm(12))


def costs(brief: r.Brief, c: Candidate) -> tuple[float, ...]:
    wanted = max(brief.blocks.cover_margin_nm, 2 * _stand_off(brief))
    return (wanted - min(c.margin_nm, wanted), c.mass_g, c.cost_cents or 0, len(c.broken), -c.studs)


@settings(max_examples=100, deadline=None)
@given(walls())
def test_the_front_is_that_of_every_size_and_place(brief: r.Brief) -> None:
    found = candidate_sizes(brief, more=2)
    assert all(c.leaves == len(brief.blocks.leaves) for c in found)
    assert {costs(brief, c) for c in found} == front_by_raster(brief, 2)
    assert len({costs(brief, c) for c in found}) == len(found)


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("s[0-9]*.toml")), ids=lambda p: p.name[:2])
def test_the_rough_mass_is_within_one_per_cent_of_the_worked_one(path: Path) -> None:
    brief = read_brief(path.read_text())
    own = own_size(brief)
    assert own.leaf_g == pytest.approx(EXPECTED[path.name[:2].upper()]["mass.total"]["value"], rel=0.01)
    assert own.own


def test_candidates_are_ranked_and_say_what_they_give_up() -> None:
    found = candidate_sizes(plain())
    ranks = [(max(0, 2 - c.studs), len(c.broken), 50 * MM - min(c.margin_nm, 50 * MM)) for c in found]
    assert ranks == sorted(ranks)
    lightest = min(found, key=lambda c: c.mass_g)
    assert not any("heavier" in words for words in lightest.gives_up)
    for c in found:
        assert (c.mass_g > lightest.mass_g) == any("heavier than the lightest" in words for words in c.gives_up)
        assert any("less cover" in words for words in c.gives_up) == (c.margin_nm < max(o.margin_nm for o in found))


def test_a_wide_piece_is_offered_in_leaves() -> None:
    # Two hatches that stand apart let the join fall between them; one wide hatch does not.
    wide = plain(fixtures=(fixture("left", 800, 1350, 300, 300), fixture("right", 1700, 1350, 300, 300)))
    best = candidate_sizes(wide)[0]
    assert best.leaves == 2
    assert best.broken == ()
    across = candidate_sizes(plain(fixtures=(fixture("hatch", 800, 1350, 1200, 300),)))
    assert {rule for c in across for rule in c.broken} == {"leaf_size", "one_leaf"}
    narrow = candidate_sizes(plain())
    assert {c.leaves for c in narrow} == {1}


def test_a_mass_cap_and_a_board_are_kept() -> None:
    free = candidate_sizes(plain())
    cap = sorted(c.leaf_g for c in free)[len(free) // 2]
    capped = candidate_sizes(plain(piece__mass_cap_g=cap))
    assert capped
    assert all(c.leaf_g <= cap for c in capped)
    board = r.SheetStock(
        name="board",
        material="plywood_birch",
        width_nm=mm(460),
        height_nm=mm(600),
        thickness_nm=mm(12),
        price_cents=1000,
        count=None,
        owned=False,
        edge_trim_nm=0,
        turn=False,
    )
    small = candidate_sizes(plain(backer__sheets=(board,)))
    assert small
    assert all(leaf_size(plain(), c.columns, c.rows).backer.width <= mm(460) for c in small)


def test_what_must_breathe_keeps_rows_above_and_below() -> None:
    needy = plain(fixtures=(fixture("stat", 1200, 1450, 100, 80, needs=(r.Need.AIR,)),))
    found = candidate_sizes(needy)
    assert found
    for c in found:
        above = (c.y_nm + c.height_nm - mm(1530)) // mm(50)
        below = (mm(1450) - c.y_nm) // mm(50)
        assert min(above, below) * 2 * mm(50) * mm(50) >= mm(100) * mm(80)


def test_nothing_fits_is_an_empty_front() -> None:
    assert candidate_sizes(plain(wall__height_nm=mm(1640))) == ()
