"""Where shims come from: rests before whole sticks, the shop before the yard; thin ones from boards as thin."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from functools import cache

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import read_brief
from bossage.checks import Verdict
from bossage.press.shim_checks import check_shims
from bossage.press.shim_cut import cut_shims, panel_shims
from bossage.press.shim_records import ShimNeed
from bossage.saw import (
    BoardLeft,
    Panel,
    Piece,
    SawJob,
    SawPlan,
    SheetJob,
    SheetPlan,
    SheetStock,
    StickLeft,
    StickStock,
    plan_sheets,
    plan_sticks,
)
from tests.press.cases import NAMES, check, made, pressed, saw_of
from tests.saw.boards import checker as sheet_checker
from tests.saw.sticks import checker as stick_checker
from tests.scenarios.cases import ROOT, plan_of, varied

MM = 1_000_000
FACE = (45 * MM, 70 * MM)


@cache
def brief():
    return read_brief((ROOT / "examples" / "first.toml").read_text())


def needs(*sizes):
    return tuple(
        ShimNeed(thickness_nm=t * MM, most_in_a_row=n, to_make=n, section="a" if t >= 6 else "") for t, n in sizes
    )


def left(length, of_stick=None, *, price=0, count=1, owned=True, stub=0, no_go=(), name="a"):
    stock = StickStock(
        name=f"rest of {name}" if of_stick else name,
        length_nm=length * MM,
        price_cents=price,
        count=count,
        owned=owned,
        trim_nm=0 if of_stick else 5 * MM,
        stub_nm=stub * MM,
        no_go=tuple((a * MM, b * MM) for a, b in no_go),
    )
    return StickLeft(section="a", of_stick=of_stick, stock=stock, priced=price is not None)


def board(width, height, of_board=None, *, price=0, count=1, owned=True, material="mdf", thickness=4):
    stock = SheetStock(name="", width_nm=width * MM, length_nm=height * MM, price_cents=price, count=count, owned=owned)
    return BoardLeft(
        material=material, thickness_nm=thickness * MM, of_board=of_board, stock=stock, priced=price is not None
    )


def job_of(wanted, sticks):
    return SawJob(
        pieces=tuple(Piece(length_nm=need.thickness_nm, count=need.to_make) for need in wanted if need.section),
        sticks=tuple(sticks),
        kerf_nm=brief().tools.kerf_nm,
        keep_offcut_nm=brief().tools.keep_offcut_nm,
    )


def suffices(wanted, sticks):
    return bool(sticks) and isinstance(plan_sticks(job_of(wanted, [one.stock for one in sticks])), SawPlan)


def test_short_rests_go_before_those_worth_keeping_and_these_before_whole_sticks():
    short, kept, whole = left(250, 3, stub=100), left(700, 1, stub=100), left(2400, stub=100)
    few, some, many = needs((20, 5)), needs((20, 12)), needs((20, 40))
    # 5 × 23.2 = 116 of the short rest's 150; 12 × 23.2 = 278.4 of 150 + 600; 40 × 23.2 = 928 wants the whole stick
    assert cut_shims(brief(), few, (kept, short, whole)).rest_of == (3,)
    assert 1 in cut_shims(brief(), some, (kept, short, whole)).rest_of
    assert None not in cut_shims(brief(), some, (kept, short, whole)).rest_of
    assert None in cut_shims(brief(), many, (kept, short, whole)).rest_of
    # where the short one does not help, it is left alone, and so is a longer one that is not needed
    long = left(1500, 2, stub=100)
    assert cut_shims(brief(), needs((180, 2)), (long, kept, short)).rest_of == (1,)


def test_a_stick_is_bought_at_its_price_when_nothing_else_is_left():
    dear, cheap = left(2400, price=900, count=None, owned=False), left(2000, price=500, count=None, owned=False)
    cut = cut_shims(brief(), needs((20, 30)), (left(300, 1), dear, cheap))
    assert (cut.bought, cut.plan.money_cents, cut.priced) == (1, 500, True)
    assert cut.plan.money_cents == sum(one.stock.price_cents for one in cut.plan.sticks)
    unpriced = replace(cheap, priced=False)
    assert not cut_shims(brief(), needs((20, 30)), (left(300, 1), unpriced)).priced


def test_a_shortfall_says_what_is_missing_and_its_cure_works():
    sticks = (left(300, 1), left(400, 2, stub=100))
    wanted = needs((24, 20), (12, 10))
    cut = cut_shims(brief(), wanted, sticks)
    assert cut.plan is None
    (caution,) = check_shims(brief(), cut, ())
    assert (caution.name, caution.verdict, caution.subject) == ("shim_stock", Verdict.CAUTION, "a")
    buy = next(cure.buy_nm for cure in cut.shortfall.cures if cure.buy_nm)
    assert "buy one more length of" in caution.remedy
    more = StickLeft(
        section="a",
        of_stick=None,
        stock=StickStock(name="b", length_nm=buy, price_cents=0, count=1, owned=True),
        priced=True,
    )
    assert cut_shims(brief(), wanted, (*sticks, more)).plan is not None
    assert cut_shims(brief(), wanted, ()).shortfall.missing
    assert cut_shims(brief(), needs((4, 3)), sticks) is None


@settings(max_examples=80, deadline=None)
@given(
    sizes=st.lists(st.tuples(st.integers(6, 45), st.integers(1, 9)), min_size=1, max_size=4, unique_by=lambda s: s[0]),
    rests=st.lists(
        st.tuples(st.integers(40, 900), st.integers(0, 60), st.one_of(st.none(), st.integers(0, 300))), max_size=5
    ),
    whole=st.lists(st.tuples(st.integers(200, 1500), st.booleans(), st.integers(1, 2)), max_size=3),
)
def test_every_shim_comes_out_of_what_is_there_and_the_cheapest_first(sizes, rests, whole):
    wanted = needs(*sizes)
    sticks = [
        left(length + stub, number, stub=stub, no_go=() if zone is None else ((min(zone, length - 9), length),))
        for number, (length, stub, zone) in enumerate(rests, start=1)
    ]
    sticks += [
        left(length, owned=owned, price=0 if owned else length, count=count, name=f"w{n}")
        for n, (length, owned, count) in enumerate(whole)
    ]
    cut = cut_shims(brief(), wanted, tuple(sticks))
    if cut.plan is None:
        assert not suffices(wanted, sticks)
        assert list(check_shims(brief(), cut, ()))
        return
    pool = Counter()
    for one in sticks:
        pool[replace(one.stock, count=None)] += one.stock.count
    stocks = tuple(replace(stock, count=count) for stock, count in pool.items())
    # alike rests are told apart by their numbers alone: the checker sees each kind once, with how many there are
    of_job = replace(
        cut.plan,
        sticks=tuple(
            replace(s, stock=next(p for p in stocks if replace(p, count=None) == replace(s.stock, count=None)))
            for s in cut.plan.sticks
        ),
    )
    assert not stick_checker.faults(job_of(wanted, stocks), of_job)
    numbers = [number for number in cut.rest_of if number is not None]
    assert len(numbers) == len(set(numbers))
    by_number = {one.of_stick: one.stock for one in sticks}
    for number, stick in zip(cut.rest_of, cut.plan.sticks, strict=True):
        assert replace(stick.stock, count=None) == replace(by_number[number], count=None) if number else True
    assert cut.need_nm == sum((need.thickness_nm + brief().tools.kerf_nm) * need.to_make for need in wanted)
    used = list(zip(cut.rest_of, cut.plan.sticks, strict=True))
    if any(number is None for number, _ in used):
        assert not suffices(wanted, [one for one in sticks if one.of_stick is not None])
    if cut.bought:
        assert not suffices(wanted, [one for one in sticks if one.stock.owned])
        assert cut.plan.money_cents >= min(one.stock.price_cents for one in sticks if not one.stock.owned)


def test_thin_shims_come_out_of_the_smallest_rest_of_a_board_of_their_thickness():
    small, large = board(100, 160, 2), board(400, 900, 1)
    bought = board(1200, 600, price=700, count=None, owned=False)
    wanted = needs((4, 4), (12, 3))
    assert panel_shims(brief(), wanted, FACE, (bought, large, small))[0].boards[0].rest_of == 2
    (more,) = panel_shims(brief(), needs((4, 20)), FACE, (bought, large, small))
    assert ([one.rest_of for one in more.boards], more.bought) == ([1], 0)
    (paid,) = panel_shims(brief(), needs((4, 30)), FACE, (bought, small))
    assert (paid.bought, paid.plan.money_cents, paid.priced) == (1, 700, True)
    assert panel_shims(brief(), needs((5, 4)), FACE, (bought, large)) == ()


def test_thin_shims_that_find_no_board_are_told_with_the_cure():
    (short,) = panel_shims(brief(), needs((4, 30)), FACE, (board(200, 200),))
    (caution,) = check_shims(brief(), None, (short,))
    assert "shims of 4 mm find no board" in caution.found
    assert "more boards of 200 × 200 mm, or cut them from card of 4 mm?" in caution.remedy


@settings(max_examples=40, deadline=None)
@given(
    count=st.integers(1, 14),
    rests=st.lists(st.tuples(st.integers(40, 300), st.integers(40, 300)), max_size=4),
    whole=st.lists(st.tuples(st.integers(80, 400), st.integers(80, 400), st.booleans()), max_size=2),
)
def test_every_thin_shim_is_sawn_free_out_of_rests_before_boards(count, rests, whole):
    boards = [board(w, h, number) for number, (w, h) in enumerate(rests, start=1)]
    boards += [board(w, h, owned=owned, price=0 if owned else w, count=1) for w, h, owned in whole]
    found = panel_shims(brief(), needs((4, count)), FACE, tuple(boards))
    if not boards:
        assert found == ()
        return
    (one,) = found
    panel = Panel(name="shim", width_nm=FACE[0], length_nm=FACE[1], count=count)

    def job(some):
        sheets = tuple(replace(b.stock, name=str(n)) for n, b in enumerate(some))
        return SheetJob(panels=(panel,), sheets=sheets, kerf_nm=brief().tools.kerf_nm)

    if one.plan is None:
        assert not isinstance(plan_sheets(job(boards)), SheetPlan)
        return
    stocks = tuple(dict.fromkeys(sheet.stock for sheet in one.plan.sheets))
    assert not sheet_checker.faults(replace(job([]), sheets=stocks), one.plan)
    for source, sheet in zip(one.boards, one.plan.sheets, strict=True):
        if source.rest_of is not None:
            rest = boards[source.rest_of - 1].stock
            assert (rest.width_nm, rest.length_nm) == (sheet.stock.width_nm, sheet.stock.length_nm)
    free = [b for b in boards if b.stock.owned]
    if one.bought and free:
        assert not isinstance(plan_sheets(job(free)), SheetPlan)


@pytest.mark.parametrize("scenario", NAMES)
def test_the_examples_shims_fit_every_face_and_use_rests_that_are_there(scenario):
    job, layout, _ = made(scenario)
    press, saw = pressed(scenario), saw_of(scenario)
    assert not [c for c in press.checks if c.name == "shim_stock"]
    cut = press.shim_cut
    if cut is None:
        return
    faces = [job.blocks.footprints[n] for n in set(layout.blocks.footprint.tolist())]
    section = next(s for s in job.sticks if s.name == cut.section)
    low, high = sorted((section.section_width_nm, section.section_height_nm))
    for face in faces:
        assert low <= min(face.width_nm, face.height_nm)
        assert high <= max(face.width_nm, face.height_nm)
    sticks = {s.number: s for c in saw.sections if c.section == cut.section for s in c.bought.sticks}
    for number, stick in zip(cut.rest_of, cut.plan.sticks, strict=True):
        if number is not None:
            whole = sticks[number]
            begins = whole.slices[-1].to_nm + job.tools.kerf_nm
            ends = begins + stick.slices[-1].to_nm + job.tools.kerf_nm
            assert stick.stock.length_nm == whole.stock.length_nm - begins
            assert ends <= whole.stock.length_nm - whole.stock.stub_nm
    made_of = Counter(piece.length_nm for stick in cut.plan.sticks for piece in stick.slices)
    assert made_of == {need.thickness_nm: need.to_make for need in press.shims if need.section}


def test_what_is_bought_for_shims_is_paid_for_beside_the_materials():
    plan = plan_of("S8")
    assert plan.press.shim_cut.bought == 2
    (line,) = plan.cost.shims
    assert (line.cents, plan.cost.shims_cents, line.amount) == (1700, 1700, "2 of 72 in")
    assert plan.cost.materials_cents == 14700
    assert plan_of("S2").cost.shims == ()


def test_the_budget_bears_the_shims_too():
    # materials 365.40 and 4.20 for shims
    for budget, over in ((369.6, False), (369, True)):
        plan = varied("S3", f"budget {budget}", lambda b, money=budget: b["piece"].update(budget=money))
        (found,) = [c for c in plan.checks if c.name == "budget"]
        # what has no price yet keeps a budget that holds from being known to hold
        assert found.verdict is Verdict.CAUTION
        assert ("0.60 more" in found.remedy) == over
        assert found.found.startswith("Not known") != over
    assert plan.cost.budget_left_cents == 360


def test_an_owned_board_of_just_their_thickness_gives_the_thin_shims():
    def shelf(b):
        thin = {"material": "plywood_birch", "thickness": 5, "width": 400, "height": 300, "owned": True, "count": 1}
        b["sheet"] = [thin]

    plan = varied("S2", "thin board", shelf)
    (panels,) = plan.press.shim_panels
    (thin,) = [need for need in plan.press.shims if need.thickness_nm == 5_000_000]
    assert not thin.section
    assert (panels.thickness_nm, panels.count, panels.bought) == (thin.thickness_nm, thin.to_make, 0)
    assert check(plan.press, "clamp_time")
    assert plan.cost.shims == ()
