"""Ribs and their like out of the stock that the brief names: sticks of that section, boards of that thickness."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.body import MadeAt, Part, Role
from bossage.brief import read_brief
from bossage.plan import make_plan
from bossage.saw import Panel, Piece, SawJob, SheetJob, StickStock, plan_saw
from tests.saw.boards import checker as sheet_checker
from tests.saw.sticks import checker as stick_checker
from tests.scenarios.cases import ROOT

MM = 1_000_000
FIRST = (ROOT / "examples" / "first.toml").read_text()
BLOCKS = "\n[[stick]]\nwidth = 70\nheight = 70\nlength = 2400\nprice = 9\n"


@cache
def base():
    plan = make_plan(read_brief(FIRST))
    return plan.body, plan.fade


def sawn(extra, *ribs):
    """The brief with more stock, and what is sawn for its body with more ribs, wherever these may sit."""
    brief = read_brief(FIRST + extra)
    body, fade = base()
    more = tuple(replace(rib, name=f"rib {n + 1}") for n, rib in enumerate(ribs))
    return brief, plan_saw(brief, replace(body, parts=(*body.parts, *more)), fade)


def ribs_of(count, length, material, *, width=40, depth=18):
    across, deep, along = width * MM, depth * MM, length * MM
    rib = Part(
        name="rib",
        number=90 + length,
        role=Role.RIB,
        leaf="whole",
        copy=1,
        moves=True,
        material=material,
        grain="y",
        from_x_nm=0,
        to_x_nm=across,
        outline_nm=((0, 0), (along, 0), (along, deep), (0, deep)),
        mass_g=0.0,
        made_at=MadeAt.STICKS,
        label="rib",
    )
    return [rib] * count


def stick(width, height, length, species="spf", **more):
    lines = "".join(f"{key} = {str(value).lower()}\n" for key, value in more.items())
    return (
        f'\n[[stick]]\nname = "{width} by {height}"\nwidth = {width}\nheight = {height}\nlength = {length}\n'
        f'species = "{species}"\n{lines}'
    )


def sheet(material, thickness, width, height, **more):
    lines = "".join(f"{key} = {str(value).lower()}\n" for key, value in more.items())
    return f'\n[[sheet]]\nmaterial = "{material}"\nthickness = {thickness}\nwidth = {width}\nheight = {height}\n{lines}'


def stick_faults(brief, cut):
    pieces = Counter({row.length_nm: row.slices for row in cut.rows})
    job = SawJob(
        pieces=tuple(Piece(length_nm=length, count=count) for length, count in pieces.items()),
        sticks=tuple(
            StickStock(
                name=one.bought_as,
                length_nm=one.length_nm,
                price_cents=0 if one.owned else one.price_cents,
                count=one.count,
                owned=one.owned,
                trim_nm=one.trim_nm,
                stub_nm=one.stub_nm,
                no_go=one.no_go_nm,
            )
            for one in brief.sticks
            if one.name == cut.section
        ),
        kerf_nm=brief.tools.kerf_nm,
        keep_offcut_nm=brief.tools.keep_offcut_nm,
    )
    return stick_checker.faults(job, cut.plan)


def board_faults(brief, cut, panels):
    stocks = tuple(dict.fromkeys(one.stock for one in cut.plan.sheets))
    return sheet_checker.faults(SheetJob(panels=panels, sheets=stocks, kerf_nm=brief.tools.kerf_nm), cut.plan)


def test_without_stock_of_their_section_ribs_are_bought_as_lengths():
    for extra in ("", stick(40, 20, 2400), stick(40, 18, 2400, species="yellow_poplar"), sheet("spf", 20, 300, 2000)):
        _, saw = sawn(BLOCKS + extra, *ribs_of(2, 600, "spf"))
        (cut,) = saw.lengths
        assert (cut.name, cut.species, cut.plan.slices) == ("rib", "spf", 2)
        assert not [row for section in saw.sections for row in section.rows if row.parts]


@pytest.mark.parametrize("turned", [False, True])
def test_a_stick_of_the_ribs_section_gives_the_ribs_whichever_way_it_is_named(turned):
    size = (18, 40) if turned else (40, 18)
    brief, saw = sawn(BLOCKS + stick(*size, 2100, price=4, trim=20, stub=100), *ribs_of(3, 600, "spf"))
    assert not saw.lengths
    cut = saw.sections[-1]
    (row,) = cut.rows
    assert (row.length_nm, row.blocks, row.spares, row.slices) == (600 * MM, 0, 0, 3)
    assert row.parts == ("whole/1/rib 1", "whole/1/rib 2", "whole/1/rib 3")
    assert row.named == (("rib", "690", 3),)
    assert not stick_faults(brief, cut)
    assert (cut.plan.money_cents, cut.priced) == (400, True)
    assert not [check for check in saw.checks if check.subject == cut.section]


def test_ribs_of_the_blocks_own_section_share_their_sticks():
    apart = sawn(BLOCKS)[1].sections[0].plan
    brief, saw = sawn(BLOCKS, *ribs_of(1, 500, "spf", width=70, depth=70))
    (cut,) = saw.sections
    assert [row.named for row in cut.rows if row.parts] == [(("rib", "590", 1),)]
    assert cut.plan.slices == apart.slices + 1
    assert cut.plan.need_nm == apart.need_nm + 500 * MM + brief.tools.kerf_nm
    assert not stick_faults(brief, cut)


def test_what_lies_in_the_shop_comes_first_and_falls_short_with_its_cure():
    owned = stick(40, 18, 900, owned=True, count=1, trim=0, stub=100)
    brief, saw = sawn(BLOCKS + owned + stick(40, 18, 900, price=4), *ribs_of(2, 600, "spf"))
    cut = saw.sections[-1]
    assert sorted(one.stock.owned for one in cut.plan.sticks) == [False, True]
    assert (cut.plan.money_cents, stick_faults(brief, cut)) == (400, [])
    _, short = sawn(BLOCKS + owned, *ribs_of(2, 600, "spf"))
    (check,) = [one for one in short.checks if one.name == "stock_missing"]
    assert check.subject == "40 by 18"
    assert "603.2 mm of them find no stick" in check.found
    assert "buy one more length of 703.2 mm, trim and stub counted" in check.remedy


def test_boards_of_that_wood_are_ripped_along_the_grain_beside_the_backer():
    ribs = ribs_of(4, 600, "plywood_birch", depth=12)
    brief, saw = sawn(BLOCKS + sheet("plywood_birch", 12, 1220, 2440, price=40), *ribs)
    (cut,) = [board for board in saw.boards if board.thickness_nm == 12 * MM]
    assert "rib" in cut.serves
    assert "backer" in cut.serves
    lying = [(panel.turned, panel.width_nm, panel.length_nm) for panel in cut.plan.sheets[0].panels]
    assert lying.count((False, 40 * MM, 600 * MM)) == 4
    assert not saw.lengths
    # two packers of 50 mm, a kerf behind each, and the end of the stick's stub to hold by
    strip_nm = 2 * (50 * MM + brief.tools.kerf_nm) + brief.sticks[0].stub_nm
    panels = (
        Panel(name="backer", width_nm=540 * MM, length_nm=680 * MM, count=1),
        Panel(name="packer", width_nm=41 * MM, length_nm=540 * MM, count=1),
        Panel(name="strip for foot packer", width_nm=40 * MM, length_nm=strip_nm, count=1),
        Panel(name="rib", width_nm=40 * MM, length_nm=600 * MM, count=4, turn=False),
    )
    assert not board_faults(brief, cut, panels)


def test_a_plank_in_the_shop_goes_before_sticks_to_be_bought():
    plank = sheet("spf", 18, 200, 1300, owned=True, count=1)
    brief, saw = sawn(BLOCKS + plank + stick(40, 18, 2400, price=4), *ribs_of(6, 600, "spf"))
    (cut,) = [board for board in saw.boards if board.material == "spf"]
    assert (cut.plan.money_cents, cut.priced, len(cut.plan.sheets)) == (0, True, 1)
    panels = (Panel(name="rib", width_nm=40 * MM, length_nm=600 * MM, count=6, turn=False),)
    assert not board_faults(brief, cut, panels)
    # grain: the same plank lying across the ribs gives none
    across = sheet("spf", 18, 1300, 200, owned=True, count=1)
    _, none = sawn(BLOCKS + across, *ribs_of(6, 600, "spf"))
    (check,) = [one for one in none.checks if one.name == "board_too_small"]
    assert check.subject == "rib"
    assert "No board has room for 6 × rib 40 × 600 mm." in check.found
    assert check.remedy == "Would it help to name a board of at least 40 × 600 mm?"


@settings(max_examples=25, deadline=None)
@given(
    ribs=st.lists(st.tuples(st.integers(1, 4), st.integers(80, 700)), min_size=1, max_size=3),
    sticks=st.lists(
        st.tuples(st.integers(900, 2400), st.booleans(), st.integers(1, 3), st.integers(0, 90)), min_size=1, max_size=3
    ),
    zone=st.integers(100, 800),
)
def test_every_rib_comes_out_of_named_sticks_or_is_told_as_missing(ribs, sticks, zone):
    extra = ""
    for length, owned, count, stub in sticks:
        extra += stick(
            40, 18, length, owned=owned, count=count, price=length // 100, trim=5, stub=stub, no_go=[[zone, zone + 7]]
        )
    long = [rib for count, length in ribs for rib in ribs_of(count, length, "spf")]
    brief, saw = sawn(BLOCKS + extra, *long)
    cut = saw.sections[-1]
    wanted = Counter()
    for count, length in ribs:
        wanted[length * MM] += count
    assert {row.length_nm: len(row.parts) for row in cut.rows} == wanted
    named = [name for row in cut.rows for name in row.parts]
    assert sorted(named) == sorted(f"whole/1/rib {n + 1}" for n in range(len(long)))
    held = Counter()
    for left in saw.sticks_left:
        if left.section == cut.section and left.of_stick is None:
            held[left.stock.length_nm] += left.stock.count
    if cut.plan is None:
        assert [check for check in saw.checks if (check.name, check.subject) == ("stock_missing", cut.section)]
        assert not held
        return
    assert not stick_faults(brief, cut)
    bought = Counter()
    for length, _, count, _ in sticks:
        bought[length * MM] += count
    assert held + Counter(one.stock.length_nm for one in cut.bought.sticks) == bought
    rests = {left.of_stick: left.stock for left in saw.sticks_left if left.section == cut.section and left.of_stick}
    for one in cut.bought.sticks:
        begins = one.slices[-1].to_nm + brief.tools.kerf_nm
        if one.number in rests:
            assert rests[one.number].length_nm == one.stock.length_nm - begins
            (low, high) = one.stock.no_go[0]
            assert rests[one.number].no_go == (((max(0, low - begins), high - begins),) if high > begins else ())
        else:
            assert one.stock.length_nm - begins <= one.stock.stub_nm
