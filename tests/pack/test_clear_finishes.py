"""What the papers of stained and oiled wood say: mixes in words, the topcoat in every shade, what catches fire."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import pytest
from tests.pack.test_pot_sheets import words_on
from tests.paint.test_ways import plan_from

from bossage.colour.stains import stained_lab
from bossage.drawing.shapes import Label
from bossage.fade.scales import family_stain
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheet import Care, Drawn, parts_of
from bossage.pack.sheets.days import calendar_of
from bossage.paint.cards import FieldKind, card_fields
from bossage.paint.tried import days_to_try, dilution_words, pieces_to_try
from bossage.plan import Plan
from bossage.press import job_calendar
from bossage.press.schedule_records import DAY_S

EXAMPLES = Path(__file__).parents[2] / "examples"
OAK = (EXAMPLES / "stained-oak.toml").read_text(encoding="utf-8")
ASH = (EXAMPLES / "oiled-ash.toml").read_text(encoding="utf-8")
FIRST = (EXAMPLES / "first.toml").read_text(encoding="utf-8")


def sheet_of(plan: Plan, name: str):
    return next(sheet for sheet in pack_sheets(plan, (name,)) if sheet.name == name)


def said(plan: Plan, name: str) -> str:
    sheet = sheet_of(plan, name)
    return f"{sheet.todo} {sheet.wrong} {words_on(sheet)} {sheet!r}"


@pytest.mark.parametrize(
    ("parts", "words"),
    [((1, 3), "1 part stain + 3 parts thinner"), ((3, 1), "3 parts stain + 1 part thinner"), ((1, 0), "as it is")],
)
def test_a_dilution_names_what_each_number_counts(parts, words):
    assert dilution_words("stain", parts) == words


def test_card_stain_and_care_sheets_state_a_mix_in_one_order():
    plan = plan_from(OAK)
    (family,) = plan.paint.stains
    for name in ("stain", "testcard", "care"):
        assert not re.findall(r"\b\d+ ?: ?\d+\b", words_on(sheet_of(plan, name)))
    for shade in family.shades:
        own, thinner = shade.parts
        assert shade.finish_ml / shade.mix_ml == pytest.approx(own / (own + thinner))
        mix = dilution_words("stain", shade.parts)
        assert mix in said(plan, "stain")
        assert mix in said(plan, "care")
    (quarter,) = (f for f in card_fields(plan.brief)[0] if f.name == "peat quarter")
    assert quarter.fraction == pytest.approx(1 / 4)
    # a weaker stain darkens less: the field called a quarter is the lightest of the three
    stain = family_stain(plan.brief.families[0])
    light = {f.name: stained_lab(stain, f.fraction)[0] for f in card_fields(plan.brief)[0]}
    assert light["peat quarter"] > light["peat half"] > light["peat full"]
    drawn = next(part for part in parts_of(sheet_of(plan, "testcard")) if isinstance(part, Drawn))
    under = " ".join(shape.text for shape in drawn.drawing.shapes if isinstance(shape, Label))
    assert "1 part stain + 3 parts thinner" in under
    assert "1 part stain + 1 part thinner" in under


def test_shades_are_judged_with_the_topcoat_on_and_nothing_says_it_can_be_left_out():
    plan = plan_from(OAK)
    for name in ("stain", "testcard"):
        assert "hard wax oil" in words_on(sheet_of(plan, name))
    assert "judged, and photographed, with it on" in said(plan, "stain")
    assert "can be left out" not in said(plan, "stain")
    bare = plan_from(OAK.replace('topcoat = "hard wax oil, clear"\n', ""))
    assert "hard wax oil" not in said(bare, "stain") + said(bare, "testcard") + said(bare, "care")


def test_the_care_card_mends_through_the_topcoat_and_stains_bare_wood_alone():
    words = said(plan_from(OAK), "care")
    assert "stain again, and wipe off" not in words
    assert "Bare wood alone gets stain again" in words
    assert words.index("First hard wax oil alone") < words.index("Bare wood alone")
    assert "the tin of hard wax oil" in sheet_of(plan_from(OAK), "care").todo
    assert "paint the whole face" not in words
    assert "Paint" in said(plan_from(FIRST), "care")


def test_all_that_is_soaked_with_oil_is_kept_from_the_heap():
    for text in (OAK, ASH, FIRST + '\n[paint]\ntopcoat = "hard wax oil"\n'):
        fire = " ".join(c.text for c in plan_from(text).paint.cautions if "burst into flame" in c.text)
        for thing in ("Rags", "paper", "pads", "gloves", "brushes", "sanding paper"):
            assert thing in fire
    for text in (OAK, ASH):
        cares = [f"{p.title} {p.text}" for p in parts_of(sheet_of(plan_from(text), "stain")) if isinstance(p, Care)]
        assert not any("Wipe brushes out on paper" in one for one in cares)
        assert not any("on paint only" in one for one in cares)
    plain = " ".join(c.text for c in plan_from(FIRST).paint.cautions)
    assert "flame hours later" not in plain
    assert "Wipe brushes out on paper" in plain


def test_an_oily_topcoat_dries_a_day_on_the_paint_sheet_as_in_the_days():
    plan = plan_from(OAK)
    assert [run.dry_h for run in plan.paint.days.blocks if run.step == "topcoat"] == [24.0]
    assert "Let every coat dry 24 h" in said(plan, "paint")


@pytest.mark.parametrize(("text", "pieces", "days"), [(OAK, 4, 2), (ASH, 4, 3)], ids=["stain", "oil"])
def test_test_pieces_by_hand(text, pieces, days):
    # stain: bare, full, half, a quarter; a day of stain, a day of topcoat. Oil: bare, one, two, three coats of a day.
    plan = plan_from(text)
    assert pieces_to_try(plan.paint.stains) == pieces
    assert days_to_try(plan.brief, plan.paint.stains) == days
    assert f"{pieces} thin slices" in said(plan, "stain")
    fields = card_fields(plan.brief)[0]
    assert sum(f.kind is not FieldKind.BASE for f in fields) <= pieces - 1


def test_the_blocking_test_has_two_spares_that_get_every_coat():
    for text in (OAK, ASH):
        words = said(plan_from(text), "paint")
        assert "Two spares get every coat" in words
        assert "painted spares" not in words


@pytest.mark.parametrize("text", [OAK, ASH], ids=["stain", "oil"])
def test_no_block_is_coated_before_the_test_pieces_were_seen_dry(text):
    plan = plan_from(text)
    entries = calendar_of(plan).entries
    (tried,) = (entry for entry in entries if entry.title.startswith("Test pieces of the wood"))
    days = days_to_try(plan.brief, plan.paint.stains)
    assert tried.to_s - tried.from_s == days * DAY_S
    assert tried.from_s >= max(entry.to_s for entry in entries if entry.step == "saw")
    assert min(entry.from_s for entry in entries if entry.step == "paint") >= tried.to_s
    assert not tried.hands
    # wood that need not rest waits for them all the same
    blocks = plan.brief.blocks
    middle_pct = (blocks.moisture_use_low_pct + blocks.moisture_use_high_pct) / 2
    dry = replace(blocks, moisture_sawn_pct=middle_pct)
    brief = replace(plan.brief, blocks=dry)
    hours = {step.step: step.hours for step in plan.cost.steps}
    early = job_calendar(brief, plan.body, plan.press, plan.paint.days, work_h=hours, fixed_h=6.0).entries
    assert not any(entry.step == "rest" for entry in early)
    (tried,) = (entry for entry in early if entry.title.startswith("Test pieces of the wood"))
    assert min(entry.from_s for entry in early if entry.step == "paint") >= tried.to_s


def test_a_painted_piece_has_no_test_pieces_of_wood():
    titles = [entry.title for entry in calendar_of(plan_from(FIRST)).entries]
    assert not any("Test pieces of the wood" in title for title in titles)
