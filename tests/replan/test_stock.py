"""New blocks after a mishap come out of what lies in the shop: held to every way of dealing them, and to real rests."""

from __future__ import annotations

import json
from collections import Counter
from itertools import product
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.replan.test_words import MM, standing

from bossage.brief import read_brief
from bossage.cli_replan import Asked, mended_json, mended_text, replanned
from bossage.examples import example_text
from bossage.plan import Plan, make_plan
from bossage.replan import Mended, standing_of_json
from bossage.replan.left import rests_of
from bossage.replan.records import InShop, Recut
from bossage.replan.shop import Said, UnclearShop
from bossage.replan.stock import new_blocks
from bossage.saw import StickStock
from bossage.serial import plan_json

KERF, STUB = 3, 80


def rest(length_mm: int, of_stick: int) -> InShop:
    stock = StickStock(name="rest", length_nm=length_mm * MM, price_cents=0, count=1, owned=True, stub_nm=STUB * MM)
    return InShop(section="70", of_stick=of_stick, stock=stock)


def fewest_left_out(rests: list[int], blocks: list[int]) -> int:
    """By trying every way: the least length of blocks that find no room in the rests, each block with a kerf."""
    best = sum(blocks)
    for homes in product(range(-1, len(rests)), repeat=len(blocks)):
        room = [length - STUB for length in rests]
        for home, block in zip(homes, blocks, strict=True):
            if home >= 0:
                room[home] -= block + KERF
        if all(left >= 0 for left in room):
            best = min(best, sum(block for home, block in zip(homes, blocks, strict=True) if home < 0))
    return best


@settings(max_examples=40, deadline=None)
@given(
    st.lists(st.integers(90, 260), min_size=0, max_size=3),
    st.lists(st.sampled_from([20, 30, 40]), min_size=1, max_size=5),
)
def test_every_new_block_comes_from_somewhere_and_nothing_is_bought_that_the_rests_hold(
    rests: list[int], blocks: list[int]
) -> None:
    recuts = [Recut(footprint=0, from_nm=None, to_nm=mm * MM, count=n) for mm, n in Counter(blocks).items()]
    shop = [rest(length, number) for number, length in enumerate(rests, 1)]
    found = new_blocks(standing(kerf_nm=KERF * MM), shop, recuts)
    told: Counter[int] = Counter()
    for one in (*found.cuts, *found.short):
        told.update(dict(one.lengths))
    assert told == Counter(mm * MM for mm in blocks)
    for cut in found.cuts:
        taken = sum(n * (nm + KERF * MM) for nm, n in cut.lengths)
        assert taken <= cut.stick.stock.length_nm - STUB * MM
    assert len({cut.stick.of_stick for cut in found.cuts}) == len(found.cuts)
    short = sum(n * nm for one in found.short for nm, n in one.lengths)
    assert short == fewest_left_out(rests, blocks) * MM
    assert [one.sticks for one in found.short] == [1] * bool(short)


def test_a_block_longer_than_what_is_sold_asks_for_a_stick_that_has_room_for_it() -> None:
    new = (Recut(footprint=0, from_nm=None, to_nm=3000 * MM, count=1),)
    (short,) = new_blocks(standing(), (), new).short
    assert (short.sticks, short.stick_nm) == (1, (3000 + 30 + 200 + 3) * MM)


@pytest.fixture(scope="module")
def told() -> dict[str, Any]:
    plan = make_plan(read_brief(example_text("s2-brenlow-terrace")))
    assert isinstance(plan, Plan)
    found: dict[str, Any] = json.loads(plan_json(plan))
    return found


def test_the_rests_of_a_plan_are_those_that_its_shims_leave(told: dict[str, Any]) -> None:
    shims = told["press"]["shim_cut"]
    (number,) = shims["rest_of"]
    (stick,) = shims["plan"]["sticks"]
    found = {(one.section, one.of_stick): one.stock.length_nm for one in rests_of(told)}
    assert found[shims["section"], number] == pytest.approx(stick["offcut_mm"] * MM)
    assert all(of_stick is not None for _, of_stick in found)  # the brief owns no whole stick: these are bought anew
    before = sum(one["stock"]["length_mm"] for one in told["saw"]["sticks_left"] if one["of_stick"] is not None)
    assert sum(found.values()) < before * MM


def test_the_work_order_names_the_stick_or_says_what_to_buy(tmp_path: Path) -> None:
    plan = make_plan(read_brief(example_text("first")))
    assert isinstance(plan, Plan)
    file = tmp_path / "plan.json"
    file.write_bytes(plan_json(plan))
    lost = ("18 = 0", "24 = 0", "30 = 0")  # so many that taller blocks cannot be sawn for all of them

    def told_with(*stock: str) -> tuple[str, Any]:
        found = replanned(Asked(plan=file, tray=lost, stock=stock))
        assert isinstance(found, Mended)
        return mended_text(found), mended_json(found)["stock"]

    there, _ = told_with()
    assert "From the rest of stick" in there
    assert "Buy a length" in there  # rests of 53 and 281 mm that can be cut hold nine of these
    enough, _ = told_with("70 × 70 mm = 1200, 900")
    assert "Buy" not in enough
    gone, short = told_with("none")
    assert "the rest of stick" not in gone
    assert "Buy a length of 2400 mm of section 70 × 70 mm." in gone
    assert [one["sticks"] for one in short["short"]] == [1]
    said, _ = told_with("70 × 70 mm = 900, 900")
    assert "From a stick in the shop, 900 mm long: saw" in said
    toml = tmp_path / "shop.toml"
    toml.write_text('stock = "none"\n', encoding="utf-8")
    assert replanned(Asked(plan=file, tray=lost, shop=(toml,))).new.cuts == ()


@pytest.mark.parametrize("words", ["71 = 300", "300, 400", "45 = much", "45 = 0"])
def test_a_stick_that_is_not_understood_is_refused_in_words(told: dict[str, Any], words: str) -> None:
    said = Said(standing=standing_of_json(json.dumps(told)))
    with pytest.raises(UnclearShop):
        said.lie(words)


def test_a_file_says_what_lies_in_the_shop_as_words_do(told: dict[str, Any]) -> None:
    def rests(*words: str, toml: str = "") -> tuple[tuple[str, int], ...]:
        said = Said(standing=standing_of_json(json.dumps(told)))
        for one in words:
            said.lie(one)
        said.read_toml(toml, "shop.toml")
        return tuple((one.section, one.stock.length_nm) for one in said.rests or ())

    by_words = rests("45 = 340, 612", "70 = 300")
    assert by_words == (("45", 340 * MM), ("45", 612 * MM), ("70", 300 * MM))
    # one stick of a section needs no brackets
    assert rests(toml='[stock]\n"45" = [340, 612]\n"70" = 300\n') == by_words
    assert rests(toml='stock = "none"\n') == ()
    with pytest.raises(UnclearShop, match=r"write stock = .none., or a table of lengths"):
        rests(toml='stock = "some"\n')
