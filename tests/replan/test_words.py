"""The work order of a re-plan, of records written by hand: who goes under the saw, who swaps, what is painted."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import numpy as np
import pytest

from bossage.replan.records import InShop, Mended, Place, Recut, Standing, Taken, TrayCount
from bossage.replan.stock import new_blocks
from bossage.replan.words import left_words, number_words, swaps_of, verdict_words, work_order
from bossage.saw import StickStock

MM = 1_000_000
NONE = np.zeros((0, 2), dtype=np.int64)


def sold(section: str) -> InShop:
    """What a shop sells for a section: 2400 mm, 30 to square, 200 to hold by."""
    stock = StickStock(name="planed fir", length_nm=2400 * MM, price_cents=500, trim_nm=30 * MM, stub_nm=200 * MM)
    return InShop(section=section, of_stick=None, stock=stock)


def standing(*, footprints: tuple[str, ...] = ("70",), footprint: tuple[int, ...] = (0,) * 4, **other: Any) -> Standing:
    """Four places in a row, heights of 20, 30 and 40 mm, two shades."""
    n = 4
    zeros = np.zeros(n, dtype=np.int64)
    places = (Place(leaf="A", copy=1, row=1, column=c, letter="", address=f"1·{c}") for c in range(1, n + 1))
    whole: dict[str, Any] = {
        "name": "a", "stamp": "b", "unit": "mm", "seed": 1, "draw": 0, "ring_quotas": False, "places": tuple(places),
        "footprints": footprints, "footprint": np.array(footprint), "levels_nm": (20 * MM, 30 * MM, 40 * MM),
        "level": zeros, "extra_nm": zeros, "shades": ("moss 62", "clay 40"), "shade": zeros,
        "lab": ((62.0, 0.0, 0.0), (40.0, 0.0, 0.0)), "edges": NONE, "corner_edges": NONE, "diagonal": False,
        "min_step": 1, "allowed": np.ones((n, 3), dtype=bool), "x_nm": zeros, "y_nm": zeros, "width_nm": zeros + 1,
        "height_nm": zeros + 1, "light_from": "left", "spares": {}, "hold_nm": 150 * MM, "by_hand": False,
        "kerf_nm": 3 * MM, "sections": footprints, "rests": (), "sold": tuple(sold(name) for name in footprints),
    }  # fmt: skip
    return Standing(**{**whole, **other})


def taken(place: int, before: int, after: int, **other: Any) -> Taken:
    """A painted block of the right length for its new place, unless said otherwise; millimetres."""
    whole: dict[str, Any] = {
        "place": place, "before_nm": before * MM, "after_nm": after * MM, "planned_shade": "moss 62",
        "shade": "moss 62", "source_nm": after * MM, "source_shade": "moss 62", "length_nm": after * MM,
    }  # fmt: skip
    return Taken(**{**whole, **other})


def mended(*those: Taken, of: Standing | None = None, **other: Any) -> Mended:
    of = of or standing()
    whole: dict[str, Any] = {
        "standing": of, "level": of.level, "shade": of.shade, "glued": np.zeros(4, dtype=bool),
        "changes_n": len(those), "bound_n": len(those), "proven": True, "visible_n": 0, "least_seen": False,
        "kept_n": 0, "taken": those, "recuts": (), "left": (), "notes": (),
    }  # fmt: skip
    whole |= other
    return Mended(**{"new": new_blocks(of, of.rests, whole["recuts"]), **whole})


def steps(of: Mended) -> dict[str, tuple[str, ...]]:
    return {part.station: part.steps for part in work_order(of)}


def heed(of: Mended) -> str:
    return " ".join(part.heed for part in work_order(of))


def test_the_blocks_that_go_under_the_saw_are_told_by_their_shades() -> None:
    # of four blocks of 40 mm that change, two are re-cut to 30 mm: those two are named, not those cut to 20 mm
    to_30 = [taken(0, 40, 30, source_nm=40 * MM), taken(1, 40, 30, source_nm=40 * MM, source_shade="")]
    to_20 = [taken(2, 40, 20, source_nm=40 * MM, source_shade="clay 40"), taken(3, 30, 40)]
    recut = Recut(footprint=0, from_nm=40 * MM, to_nm=30 * MM, count=2)
    (said,) = steps(mended(*to_30, *to_20, recuts=(recut,)))["At the saw"]
    assert said == (
        "Re-cut two blocks of 40 mm as 30 mm (1 bare, 1 moss 62): take it off at the glue face, so that the painted "
        "face stays."
    )
    other = Recut(footprint=0, from_nm=40 * MM, to_nm=20 * MM, count=1)
    (said,) = steps(mended(*to_30, *to_20, recuts=(other,)))["At the saw"]
    assert said.startswith("Re-cut one block of 40 mm as 20 mm (1 clay 40): ")


def test_bare_blocks_under_the_saw_need_no_shade_and_another_footprint_is_not_theirs() -> None:
    bare = [taken(v, 40, 30, source_nm=40 * MM, source_shade="") for v in (0, 1)]
    recut = Recut(footprint=0, from_nm=40 * MM, to_nm=30 * MM, count=2)
    assert "as 30 mm: take" in steps(mended(*bare, recuts=(recut,)))["At the saw"][0]
    two = standing(footprints=("70", "45"), footprint=(0, 1, 0, 1))
    both = [taken(v, 40, 30, source_nm=40 * MM, source_shade="moss 62" if v else "clay 40") for v in (0, 1)]
    said = steps(mended(*both, of=two, recuts=(replace(recut, count=1),)))["At the saw"]
    assert said[0].startswith("Re-cut one 70 block of 40 mm as 30 mm (1 clay 40): ")


def test_the_saw_is_told_how_near_hands_may_come_and_a_small_block_that_it_needs_a_carrier() -> None:
    recut = Recut(footprint=0, from_nm=40 * MM, to_nm=30 * MM, count=1)
    new = replace(recut, from_nm=None)
    one = taken(0, 40, 30)
    assert "carrier" in heed(mended(one, recuts=(recut,)))
    sawn = mended(one, recuts=(new,))
    assert steps(sawn)["At the saw"] == (
        "Short, for what lies in the shop has no room for them: one new block of 30 mm. Buy a length of 2400 mm of "
        "planed fir.",
    )
    assert "carrier" not in heed(sawn)
    assert "Hands at least 150 mm from the blade" in heed(sawn)
    # 150 mm are 5.9 in and 160 mm 6.3 in: a distance to keep goes up to the next half inch
    for hold_mm, said in ((150, "6 in"), (160, "6-1/2 in")):
        inches = standing(unit="in", hold_nm=hold_mm * MM)
        assert f"Hands at least {said} from" in heed(mended(one, of=inches, recuts=(new,)))
    assert "At the saw" not in steps(mended(one))


def test_a_mitre_box_has_no_guard_to_be_on() -> None:
    recut = Recut(footprint=0, from_nm=40 * MM, to_nm=30 * MM, count=1)
    said = heed(mended(taken(0, 40, 30), of=standing(by_hand=True), recuts=(recut,)))
    assert "guard" not in said
    assert "mitre box" in said
    assert "guard on" in heed(mended(taken(0, 40, 30), recuts=(recut,)))


def test_two_blocks_that_change_places_are_one_step() -> None:
    pair = mended(taken(0, 20, 30), taken(2, 30, 20), taken(3, 20, 40))
    swaps, rest = swaps_of(pair)
    assert [(a.place, b.place) for a, b in swaps] == [(0, 2)]
    assert [one.place for one in rest] == [3]
    assert steps(pair)["On the backer"] == (
        "Swap the blocks at 1·1 (20 mm) and 1·3 (30 mm).",
        "At 1·4 lay 40 mm in place of 20 mm, moss 62.",
    )


@pytest.mark.parametrize(
    "other",
    [
        taken(2, 30, 40),  # another height
        taken(2, 30, 20, source_nm=40 * MM),  # must be sawn first
        taken(2, 30, 20, source_shade=""),  # must be painted first
        taken(2, 30, 20, shade="clay 40", source_shade="clay 40"),  # comes out in another shade than planned
        taken(2, 30, 20, shade="clay 40", source_shade="clay 40", planned_shade="clay 40"),  # is of another shade
        taken(2, 20, 30),  # goes the same way
        taken(2, 20, 20),  # does not move
    ],
)
def test_blocks_that_cannot_change_places_do_not(other: Taken) -> None:
    swaps, rest = swaps_of(mended(taken(0, 20, 30), other))
    assert swaps == ()
    assert [one.place for one in rest] == [0, 2]


def test_blocks_of_other_footprints_or_of_the_ring_do_not_change_places() -> None:
    pair = taken(0, 20, 30), taken(1, 30, 20)
    for of in (
        standing(footprints=("70", "45"), footprint=(0, 1, 0, 0)),
        standing(extra_nm=np.array([0, 18 * MM, 0, 0])),
    ):
        assert swaps_of(mended(*pair, of=of))[0] == ()
    assert len(swaps_of(mended(*pair))[0]) == 1


def test_a_third_block_finds_no_mate_among_those_that_have_one() -> None:
    three = mended(taken(0, 20, 30), taken(1, 30, 20), taken(2, 30, 20), taken(3, 20, 30))
    assert [(a.place, b.place) for a, b in swaps_of(three)[0]] == [(0, 1), (2, 3)]


def test_paint_is_told_first_coats_before_paint_over_paint() -> None:
    first = [taken(v, 20, 30, source_shade="") for v in (0, 1)]
    over = taken(2, 20, 30, source_shade="clay 40")
    said = mended(over, *first)
    assert steps(said)["With the brush"] == (
        "Paint two blocks of 30 mm in moss 62.",
        "Paint one block of 30 mm over, from clay 40 to moss 62.",
    )
    assert "Sand old paint" in heed(said)
    assert "Sand old paint" not in heed(mended(*first))
    assert "With the brush" not in steps(mended(taken(0, 20, 30)))


def test_a_block_that_is_laid_says_where_it_is_from() -> None:
    these = (
        taken(0, 20, 30, source_nm=None, source_shade=""),
        taken(1, 20, 30, source_nm=40 * MM),
        taken(2, 20, 30, source_shade=""),
        taken(3, 20, 20, shade="clay 40", source_shade="clay 40"),
    )
    assert steps(mended(*these))["On the backer"] == (
        "At 1·1 lay 30 mm in place of 20 mm: the new one, painted moss 62.",
        "At 1·2 lay 30 mm in place of 20 mm: one re-cut from 40 mm, moss 62.",
        "At 1·3 lay 30 mm in place of 20 mm: a bare one, painted moss 62.",
        "1·4 keeps its 20 mm, in clay 40 where moss 62 was planned.",
    )
    over = taken(0, 20, 30, source_shade="clay 40")
    assert steps(mended(over))["On the backer"][0].endswith(": painted over from clay 40 to moss 62.")


def test_the_verdict_says_how_good_it_is_and_what_is_glued() -> None:
    assert verdict_words(mended()) == "No place changes its height."
    one = mended(taken(0, 20, 30), glued=np.array([True, False, False, False]), least_seen=True)
    assert verdict_words(one) == (
        "One place changes its height. The bound is one: no fewer will do, proven. Of all ways with one, this is the "
        "one least seen. 1 block is glued and stays."
    )
    two = mended(taken(0, 20, 30), taken(1, 20, 30), bound_n=1, proven=False, glued=np.ones(4, dtype=bool))
    assert verdict_words(two) == (
        "Two places change their height. The bound is one: fewer may do, that is not proven. 4 blocks are glued and "
        "stay."
    )
    assert [number_words(n) for n in (0, 12, 13, 1234)] == ["no", "twelve", "13", "1,234"]


def test_what_is_left_is_added_up_over_its_shades() -> None:
    left = tuple(TrayCount(footprint=0, length_nm=30 * MM, shade=s, count=n) for s, n in (("", 2), ("clay 40", 3)))
    assert left_words(mended(left=left)) == "Left in the trays: 5 of 30 mm."
    two = standing(footprints=("70", "45"))
    assert left_words(mended(left=left, of=two)) == "Left in the trays: 5 of 70 × 30 mm."
    assert left_words(mended()) == "Nothing stays in the trays."
