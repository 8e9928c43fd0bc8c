"""What a leaf lies on under its clamps, worked by hand on the examples."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bossage.pack.sheets.rest import said_of
from bossage.press.rest import back_depth_nm, rests_of
from tests.layout.factory import mm
from tests.press.cases import NAMES, made, on_bench, pressed


def packed(rows):
    return [(pack.height_nm / 1e6, pack.from_left_nm / 1e6, pack.length_nm / 1e6) for pack in rows.packs]


def test_s2_lies_on_its_cleat_and_foot_and_on_packing_everywhere_else():
    # cleat 18 on a packer of 6; ribs 18 deep and 40 wide, 57 from either side; the panel half 900 long, 100 in
    (rest,) = pressed("S2").rests
    assert (rest.deep_nm, rest.highest) == (mm(24), ("panel half", "foot spacer 1", "foot spacer 2"))
    by_row = {rows.first: rows for rows in rest.rows}
    assert (by_row[1].on, packed(by_row[1])) == (("panel half",), [(24, 0, 100), (24, 1000, 100)])
    assert by_row[3].on == ()
    assert packed(by_row[3]) == [(24, 0, 57), (6, 57, 40), (24, 97, 906), (6, 1003, 40), (24, 1043, 57)]
    assert by_row[3].last == 13
    assert said_of(rest.highest) == "panel half and foot spacers"


def test_s7_lies_on_its_stile_and_needs_no_packing_for_strips_that_come_later():
    # the hinges' stile, 17 thick, laps 35 behind the field; the stile of 34 stands 641 from the backer's left edge
    (rest,) = pressed("S7").rests
    middle = next(rows for rows in rest.rows if rows.first <= 3 <= rows.last)
    assert middle.on == ("stile",)
    assert packed(middle) == [(17, 0, 35), (34, 35, 606), (34, 681, 37)]


@pytest.mark.parametrize("scenario", NAMES)
def test_every_row_is_borne_along_the_whole_backer(scenario):
    brief, layout, _ = made(scenario)
    bench = on_bench(brief, layout)
    for rest in pressed(scenario).rests:
        number = next(n for n, leaf in enumerate(bench.leaves) if leaf.name == rest.leaf)
        leaf = bench.leaves[number]
        assert rest.deep_nm <= back_depth_nm(bench)
        rows = {row for same in rest.rows for row in range(same.first, same.last + 1)}
        assert rows >= {card.row for card in pressed(scenario).rows if card.leaf == number}
        for same in rest.rows:
            ends = [leaf.backer_x_nm + pack.from_left_nm for pack in same.packs]
            stretches = [(x, x + pack.length_nm) for x, pack in zip(ends, same.packs, strict=True)]
            named = [part for part in bench.back if part.leaf == number and part.name in same.on]
            stretches += [(part.from_x_nm, part.to_x_nm) for part in named]
            at = leaf.backer_x_nm
            for start, end in sorted(stretches):
                assert start <= at + mm(10), (same, at / 1e6)
                at = max(at, end)
            assert at >= leaf.backer_x_nm + leaf.backer_width_nm - mm(10)
            assert all(0 < pack.height_nm <= rest.deep_nm for pack in same.packs)


def test_a_bare_back_asks_for_no_packing():
    brief, layout, _ = made("S2")
    bare = replace(on_bench(brief, layout), back=())
    assert (rests_of(bare, pressed("S2").rows), back_depth_nm(bare)) == ((), 0)
