"""Six bought metal cleats by their own thickness: no screw of the panel half comes through the backer."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bossage.brief import BriefFaults, read_brief
from bossage.brief.records import DefaultUsed
from bossage.examples import example_text
from bossage.layout.cleat_sold import as_sold_nm, evenly, hole_before, holes_nm
from tests.hang.making import PLUGS, hung, verdict
from tests.layout.factory import mm, plain

#: thickness of the hung pair, packer behind the leaf's half, backer: as such cleats are sold, mm (common sizes, ours)
GEOMETRIES = [(3.2, 18, 12), (4.8, 15, 12), (6, 18, 12), (6.4, 12, 18), (9.5, 9, 15), (12.7, 18, 9)]
TIP_MM = 3  # so far before the backer's face every tip ends


@pytest.mark.parametrize(("thick", "packer", "backer"), GEOMETRIES)
def test_no_screw_of_the_panel_half_comes_through(thick, packer, backer):
    planned = hung(
        cleat__kind="metal",
        cleat__thickness_nm=mm(thick),
        cleat__packer_nm=mm(packer),
        cleat__allowable_g=40_000.0,
        backer__thickness_nm=mm(backer),
        defaults=(DefaultUsed(field="fixings.panel_length", value="", reason="found"),),
    )
    panel = planned.leaves[0].cleat.panel
    # from behind it may pass all of the metal, the packer and the backer but what keeps its tip covered
    assert (panel.sunk_nm + panel.length_nm) / 1e6 <= thick + packer + backer - TIP_MM
    assert panel.thread_nm > 0
    assert verdict(planned, "panel_screw") == "fine"
    assert planned.leaves[0].wedge_n == 0  # no bevel


def test_one_that_is_asked_for_too_long_is_told():
    planned = hung(
        cleat__kind="metal",
        cleat__thickness_nm=mm(3.2),
        cleat__packer_nm=mm(18),
        cleat__allowable_g=40_000.0,
        fixings__panel_length_nm=mm(40),  # 3.2 + 18 + 12 - 3 is 30.2
    )
    assert verdict(planned, "panel_screw") == "caution"


#: hook, lengths as sold, pitch, first hole, mm: as such cleats are sold (common sizes, ours)
SOLD = [
    (9, (300, 450), 100, 50),
    (12, (457,), 50.8, 25.4),
    (16, (200, 400), 40, None),
    (20, (480,), 32, 16),
    (8, (150, 250, 350), 75, None),
    (25, (500,), 125, 62.5),
]


def sold(hook, lengths, pitch, first, **more):
    """A leaf of 500 mm on such a cleat; its backer is 460 mm wide."""
    return hung(
        **{
            "cleat__kind": "metal",
            "cleat__thickness_nm": mm(6),
            "cleat__packer_nm": mm(18),
            "cleat__allowable_g": 40_000.0,
            "cleat__hook_nm": mm(hook),
            "cleat__lengths_nm": tuple(mm(one) for one in lengths),
            "cleat__hole_pitch_nm": mm(pitch),
            "cleat__first_hole_nm": None if first is None else mm(first),
        }
        | more
    )


def by_hand(start, stop, pitch, first):
    """Places of the holes, mm: from the first on, as long as the other end keeps as much."""
    places = [start + first] if first is not None else [(start + stop) / 2 - pitch * ((stop - start) // pitch - 1) / 2]
    while places[-1] + pitch <= stop - (first if first is not None else places[0] - start) + 1e-6:
        places.append(places[-1] + pitch)
    return places


@pytest.mark.parametrize("walls", [PLUGS, {}], ids=["masonry", "studs"])
@pytest.mark.parametrize(("hook", "lengths", "pitch", "first"), SOLD)
def test_what_is_bought_keeps_its_length_and_its_screws_stand_in_its_holes(hook, lengths, pitch, first, walls):
    planned = sold(hook, lengths, pitch, first, **walls)
    leaf = planned.leaves[0]
    cleat = leaf.cleat
    fitting = [one for one in lengths if one <= 480]
    if not fitting:
        assert "body_place" in {check.name for check in planned.checks} or cleat is not None
        return
    (piece,) = cleat.pieces
    start, stop = piece.from_nm / 1e6, piece.to_nm / 1e6
    assert stop - start == pytest.approx(max(fitting))
    holes = by_hand(start, stop, pitch, first)
    left = planned_left(planned)
    wall = [point.x_nm / 1e6 for point in cleat.fixings]
    panel = [left + screw.from_leaf_left_nm / 1e6 for screw in cleat.panel.screws]
    for x in (*wall, *panel):
        assert min(abs(x - hole) for hole in holes) < 1e-3
    assert len(set(wall)) == len(wall)  # one screw in a hole
    assert len(set(panel)) == len(panel)
    assert leaf.room.bevel_rise_nm == mm(hook)
    assert leaf.room.wanted_nm >= mm(hook)


def planned_left(planned):
    return 1150  # of the factory's leaf, along the wall


def test_the_row_of_holes_by_hand():
    cleat = replace(plain().cleat, hole_pitch_nm=100, first_hole_nm=50)
    assert holes_nm(cleat, (1000, 1300)) == (1050, 1150, 1250)
    assert holes_nm(cleat, (1000, 1290)) == (1050, 1150)
    assert holes_nm(replace(cleat, first_hole_nm=None), (1000, 1290)) == (1095, 1195)
    assert evenly([1, 2, 3, 4, 5], 3) == [1, 3, 5]
    assert evenly([1, 2, 3], 7) == [1, 2, 3]
    # a stud of 38 mm keeps 10 mm at each side: a hole 9 mm beside its middle meets it, one of 10 mm does not
    wide = replace(cleat, hole_pitch_nm=mm(100), first_hole_nm=mm(50))
    assert hole_before(wide, [(0, mm(300))], mm(59), mm(38)) == mm(50)
    assert hole_before(wide, [(0, mm(300))], mm(60), mm(38)) is None
    assert as_sold_nm(replace(cleat, lengths_nm=(300, 450)), 449) == 300
    assert as_sold_nm(replace(cleat, lengths_nm=(300, 450)), 299) is None


@pytest.mark.parametrize(
    ("lines", "field"),
    [
        ("hook = 9", "cleat.hook"),
        ('kind = "metal"\nhook = 80', "cleat.hook"),
        ('kind = "metal"\nlengths = [300, 450]\nlength = 400', "cleat.length"),
        ('kind = "metal"\nfirst_hole = 20', "cleat.first_hole"),
        ("lengths = [300]", "cleat.lengths"),
    ],
)
def test_what_no_cleat_of_that_kind_has_is_told(lines, field):
    with pytest.raises(BriefFaults) as caught:
        read_brief(example_text("first") + f"\n[cleat]\n{lines}\n")
    assert [fault.field for fault in caught.value.faults] == [field]
