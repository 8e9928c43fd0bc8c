"""Long names, and names in any script, on whole packs: nothing leaves its place, each long name stands once in full."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest
from tests.pack.named import with_names
from tests.pack.pdf_checks import outside, overlaps, pages_of
from tests.pack.pdf_ua import ua_faults
from tests.pack.test_any_letter import NAMES

from bossage.brief import read_brief
from bossage.letters import composed
from bossage.pack import Form, Order, ordered_files
from bossage.pack.short_names import CLOSE_MM, short_names, shortened
from bossage.plan import Plan, make_plan

EXAMPLES = Path(__file__).parents[2] / "examples"
MIXED = [NAMES[one] for one in ("Greek", "Cyrillic", "Vietnamese", "Hebrew", "Arabic", "Thai", "Devanagari")]
MIXED += [NAMES[one] for one in ("Chinese", "Japanese", "Korean", "Armenian", "Georgian", "Ethiopic", "Tamil", "Emoji")]
LONGEST = {
    "W": "W" * 38,
    "words": "the quiet long gallery by the old river",
    "narrow": "i" * 38,
    "script": "שלום עולם ירוק זית עתיק",
}


@cache
def _plan(kind: str) -> Plan:
    numbers = iter(range(10, 100))

    def word(name: str) -> str:
        number = next(numbers)
        return f"{LONGEST[kind][:37]} {number}" if kind in LONGEST else MIXED[number % len(MIXED)]

    text = with_names("first", word)
    whole = {"W": "W" * 120, "words": "A relief that is named at length, " * 3}.get(kind)
    if whole:
        text = text.replace(text.split('name = "')[1].split('"')[0], whole.strip(), 1)
    plan = make_plan(read_brief(text))
    assert isinstance(plan, Plan)
    return plan


@pytest.mark.slow
@pytest.mark.parametrize("form", [Form.PRINT, Form.LARGE])
@pytest.mark.parametrize("kind", [*LONGEST, "mixed"])
def test_nothing_leaves_its_place(kind: str, form: Form) -> None:
    name = "pack.pdf" if form is Form.PRINT else "pack-large.pdf"
    pdf = ordered_files(_plan(kind), Order(forms=(form,)))[name]
    assert outside(pdf)[:3] == []
    assert overlaps(pdf)[:3] == []
    assert ua_faults(pdf, content=False) == []


@pytest.mark.parametrize("kind", ["W", "words"])
def test_each_long_name_stands_once_in_full(kind: str) -> None:
    plan = _plan(kind)
    pdf = ordered_files(plan, Order(sheets=("first",)))["first.pdf"]
    text = "".join("".join(page.text.replace("\u200b", "").split()) for page in pages_of(pdf))
    assert short_names(plan.brief)
    for one in short_names(plan.brief):
        assert text.count("".join(one.full.split())) == 1, one.full
        assert "".join(one.short.split()) in text


def test_usual_names_stay_as_they_are() -> None:
    for example in ("first", "s1-fernhollow-hall", "s2-brenlow-terrace", "s3-tarnwick-school", "s7-hollin-yard"):
        assert short_names(read_brief(with_names(example, lambda name: name))) == ()


def test_short_names_differ_where_full_ones_do() -> None:
    taken: set[str] = set()
    for number in range(60):
        short = shortened(f"{'the same beginning ' * 2}{number % 3}{'and the same end ' * 3}", CLOSE_MM, taken)
        assert short not in taken
        taken.add(short)


@pytest.mark.parametrize("script", NAMES)
def test_a_piece_and_its_family_may_have_any_name(script: str) -> None:
    name = NAMES[script]
    text = with_names("first", lambda old: name)
    plan = make_plan(read_brief(text))
    assert isinstance(plan, Plan)
    assert plan.brief.piece.name == composed(name)
    for pdf in ordered_files(plan, Order(sheets=("first", "wall", "map"), forms=(Form.PRINT,))).values():
        assert ua_faults(pdf, content=False) == []
        assert outside(pdf)[:3] == []


@pytest.mark.parametrize("form", [Form.PRINT, Form.LARGE])
def test_a_key_of_the_brief_is_printed_so_that_it_can_be_copied(form: Form) -> None:
    # S7's outcome sheet tells to write tools.clamp_opening, a key that is wider than its column.
    plan = make_plan(read_brief((EXAMPLES / "s7-hollin-yard.toml").read_text(encoding="utf-8")))
    assert isinstance(plan, Plan)
    files = ordered_files(plan, Order(sheets=("checks",), forms=(form,)))
    text = "".join(page.text for name, pdf in files.items() if name.endswith(".pdf") for page in pages_of(pdf))
    text = "".join(text.split())
    bare = text.translate(dict.fromkeys(map(ord, "\u200b\u00ad\u2060\ue000")))
    assert text.count("tools.clamp_opening") == bare.count("tools.clamp_opening") > 0
