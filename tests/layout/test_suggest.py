"""The smallest change that heals, against a search of every place of a raster."""

from __future__ import annotations

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from bossage.brief import records as r
from bossage.layout.grid import fixture_rect, obstacles_of, plan_grid
from bossage.layout.rough import leaf_size, rough_mass_g
from bossage.layout.suggest import (
    GRID_STEPS,
    Change,
    NoHeal,
    smallest_lightening,
    smallest_move,
    smallest_resize,
    troubles,
)
from tests.layout.factory import change, fixture, furniture, keep_clear, leaf, mm, plain

STEP = mm(10)


@st.composite
def walls(draw: st.DrawFn, size: int = 90) -> r.Brief:
    """A wall in tens of millimetres: every edge that matters lies on the raster."""

    def tens(low: int, high: int) -> float:
        return 10.0 * draw(st.integers(low, high))

    needs = (r.Need.AIR,) if draw(st.integers(0, 4)) == 0 else ()
    fixtures = [fixture("one", tens(20, 50), tens(110, 140), tens(4, 20), tens(4, 15), needs=needs)]
    if draw(st.integers(0, 2)) == 0:
        fixtures.append(fixture("two", tens(20, 50), tens(110, 140), 60, 60))
    clear = [
        keep_clear(f"k{n}", tens(0, 85), tens(90, 165), tens(3, 30), tens(3, 30))
        for n in range(draw(st.integers(0, 3)))
    ]
    sofa = [furniture("sofa", "sofa", tens(0, 60), tens(20, 60), tens(80, 125))] if draw(st.booleans()) else []
    columns, rows = draw(st.integers(3, 11)), draw(st.integers(3, 9))
    x, y = tens(-5, 60), tens(60, 130)
    leaves = (leaf("a", x, y),)
    if draw(st.integers(0, 3)) == 0:
        columns = (columns + 1) // 2
        leaves = (leaf("a", x, y), leaf("b", x + 50 * columns + 20, y))
    studs = sorted({tens(0, 89) for _ in range(draw(st.integers(0, 6)))})
    return plain(
        wall__width_nm=mm(10 * size),
        wall__height_nm=mm(tens(150, 180) + 1),  # 21 mm to lift it off: the raster's last place is then the highest
        wall__build=draw(st.sampled_from([r.WallBuild.TIMBER_STUDS, r.WallBuild.MASONRY])),
        wall__studs_nm=tuple(mm(s) for s in studs),
        fixtures=tuple(fixtures),
        keep_clear=tuple(clear),
        furniture=tuple(sofa),
        blocks__columns=columns,
        blocks__rows=rows,
        blocks__leaves=leaves,
    )


def sound_places(
    brief: r.Brief, columns: int, rows: int
) -> tuple[NDArray[np.int64], NDArray[np.int64], NDArray[np.bool_]]:
    """Which places of the raster are sound for the outline of that many columns and rows, from the rules' words."""
    n = len(brief.blocks.leaves)
    wide, height = mm(50) * columns, mm(50) * rows
    width = n * wide + (n - 1) * mm(20)
    X = np.arange(0, brief.wall.width_nm - width + 1, STEP)
    Y = np.arange(0, brief.wall.height_nm - mm(21) - height + 1, STEP)
    good = np.ones((X.size, Y.size), dtype=np.bool_)
    for f in brief.fixtures:
        face = fixture_rect(f)
        across = (face.x - mm(50) >= X) & (X + width >= face.right + mm(50))
        up = (face.y - mm(50) >= Y) & (Y + height >= face.top + mm(50))
        if r.Need.AIR in f.needs:
            columns_touched = -(-face.width // mm(50))
            for room in (face.y - Y, Y + height - face.top):
                up &= (room // mm(50)) * columns_touched * mm(50) ** 2 >= face.width * face.height
        good &= across[:, None] & up[None, :]
    for o in obstacles_of(brief):
        hit = ((o.right > X) & (X + width > o.x))[:, None] & ((o.top > Y) & (Y + height > o.y))[None, :]
        good &= ~hit
    if brief.wall.build is r.WallBuild.TIMBER_STUDS:
        for k in range(n):
            left = X + k * (wide + mm(20)) + mm(10) + mm(20)
            right = X + k * (wide + mm(20)) + wide - mm(10) - mm(20)
            met = sum(((left <= s) & (s <= right)).astype(int) for s in brief.wall.studs_nm)
            good &= (np.zeros(X.size, dtype=int) + met >= 2)[:, None]
    return X, Y, good


def shortest(brief: r.Brief, columns: int, rows: int, x: int, y: int) -> int | None:
    X, Y, good = sound_places(brief, columns, rows)
    far = np.abs(X - x)[:, None] + np.abs(Y - y)[None, :]
    return int(far[good].min()) if good.any() else None


@settings(max_examples=500, deadline=None)
@given(walls())
def test_the_move_is_the_shortest_of_all_places(brief: r.Brief) -> None:
    grid = plan_grid(brief)
    least = shortest(brief, grid.columns, grid.rows, *grid.places[0])
    found = smallest_move(brief)
    if least is None:
        assert isinstance(found, NoHeal)
        assert found.reason
        assert found.remedy
        return
    assert isinstance(found, Change)
    assert abs(found.dx_nm) + abs(found.dy_nm) == least
    assert (least == 0) == (not troubles(brief))
    assert set(found.heals) == set(troubles(brief))
    moved = change(
        brief,
        blocks__leaves=tuple(
            change(one, x_nm=one.x_nm + found.dx_nm, y_nm=one.y_nm + found.dy_nm) for one in brief.blocks.leaves
        ),
    )
    assert not troubles(moved)


@settings(max_examples=60, deadline=None)
@given(walls(size=60))
def test_the_resize_takes_the_fewest_columns_and_rows(brief: r.Brief) -> None:
    grid = plan_grid(brief)
    found = smallest_resize(brief)
    fewest = None
    for steps in range(GRID_STEPS + 1):
        for columns in range(-steps, steps + 1):
            for rows in {abs(columns) - steps, steps - abs(columns)}:
                if grid.columns + columns < 1 or grid.rows + rows < 1:
                    continue
                if shortest(brief, grid.columns + columns, grid.rows + rows, 0, 0) is not None:
                    fewest = steps
        if fewest is not None:
            break
    if fewest is None:
        assert isinstance(found, NoHeal)
    else:
        assert isinstance(found, Change)
        assert abs(found.columns) + abs(found.rows) == fewest
        assert set(found.heals) == set(troubles(brief))


def test_a_move_is_told_in_a_makers_words() -> None:
    brief = plain(
        blocks__columns=11,
        blocks__rows=9,
        blocks__leaves=(leaf("a", 1150, 1300),),
        keep_clear=(keep_clear("the grille", 1680, 1300, 100, 100),),
        wall__studs_nm=tuple(mm(x) for x in (750, 1160, 1560, 1960)),
    )
    found = smallest_move(brief)
    assert isinstance(found, Change)
    assert found.text == "move it 20 mm left: clears the grille and meets a second stud"


def test_what_stands_in_the_way_of_every_move_is_named() -> None:
    brief = plain(blocks__columns=10, blocks__rows=8, wall__studs_nm=(mm(1400),))
    found = smallest_move(brief)
    assert isinstance(found, NoHeal)
    assert "two studs" in found.reason
    boxed = plain(
        wall__build=r.WallBuild.MASONRY,
        blocks__columns=10,
        blocks__rows=8,
        keep_clear=(keep_clear("k", 1160, 1310, 30, 30),),
    )
    found = smallest_move(boxed)
    assert isinstance(found, NoHeal)
    assert "clear" in found.reason


def test_a_sound_piece_gets_no_suggestion_and_a_heavy_one_is_lightened() -> None:
    sound = plain(wall__build=r.WallBuild.MASONRY)
    assert not troubles(sound)
    assert isinstance(smallest_lightening(sound, 15_000), NoHeal)
    heavy = plain(
        wall__build=r.WallBuild.MASONRY,
        blocks__columns=18,
        blocks__rows=16,
        blocks__levels_nm=(mm(30), mm(40)),
        blocks__leaves=(leaf("a", 950, 1100),),
    )
    found = smallest_lightening(heavy, 15_000)
    assert isinstance(found, Change)
    assert "one person can lift it" in found.text
    assert found.heals[-1] == "mass"
    lighter = leaf_size(heavy, 18 + found.columns, 16 + found.rows)
    assert rough_mass_g(heavy, lighter) <= 15_000
    fewer = abs(found.columns) + abs(found.rows) - 1
    for columns in range(fewer + 1):
        one_less = leaf_size(heavy, 18 - columns, 16 - (fewer - columns))
        assert rough_mass_g(heavy, one_less) > 15_000


def test_the_stuck_piece_is_resized() -> None:
    # Ten columns leave no play, and the switch takes 10 mm of them; a hatch of 400 with 50 either side wants 500.
    narrow = plain(
        wall__build=r.WallBuild.MASONRY,
        fixtures=(fixture("hatch", 1200, 1350, 400, 300),),
        blocks__columns=12,
        blocks__rows=8,
        blocks__leaves=(leaf("a", 1100, 1300),),
        keep_clear=(keep_clear("left", 1000, 1300, 130, 100), keep_clear("right", 1660, 1300, 100, 100)),
    )
    assert isinstance(smallest_move(narrow), NoHeal)
    found = smallest_resize(narrow)
    assert isinstance(found, Change)
    assert (found.columns, found.rows) == (-2, 0)
    assert found.text.startswith("take 2 columns fewer")
