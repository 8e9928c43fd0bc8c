"""A stained and an oiled piece go the whole way: no primer, coats, dilution, oily rags, cards on the wood, papers."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest
from tests.paint.test_ways import plan_from

from bossage.brief import read_brief
from bossage.brief.faults import BriefFaults
from bossage.colour.difference import delta_e
from bossage.colour.stains import stained_lab, strengths_at_lightness
from bossage.errors import BossageError
from bossage.fade.scales import family_stain
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheets.days import calendar_of
from bossage.paint.calibrate import Reading, calibrate
from bossage.paint.cards import FieldKind, card_fields
from bossage.plan import make_plan

EXAMPLES = Path(__file__).parents[2] / "examples"
OAK = (EXAMPLES / "stained-oak.toml").read_text(encoding="utf-8")
ASH = (EXAMPLES / "oiled-ash.toml").read_text(encoding="utf-8")


@pytest.mark.parametrize("text", [OAK, ASH], ids=["stain", "oil"])
def test_it_goes_on_bare_wood(text):
    plan = plan_from(text)
    assert plan.paint.primer_ml == 0
    assert all(way.primer_ml == 0 for way in plan.paint.ways if not way.ground_mm2)
    assert not any("blocks" in one.note for one in plan.paint.buy if one.what == "primer")
    assert "denib" not in plan.paint.way.minutes
    (family,) = plan.paint.stains
    bought = next(one for one in plan.paint.buy if family.name in one.what)
    # by hand: test pieces of 58 or 63.5 mm, full, half and a quarter of stain, or one, two and three coats of oil
    face_mm2 = max(f.width_nm * f.height_nm for f in plan.brief.blocks.footprints) / 1e12
    tried = (1.75 if family.finish == "stain" else 6) * face_mm2 * 1.5 / plan.brief.paint.colour_m2_per_l / 1e3
    assert bought.need_ml == pytest.approx(sum(one.finish_ml for one in family.shades) + tried)
    for row, one in zip(plan.paint.rows, family.shades, strict=True):
        # end grain drinks half as much again as sides
        litre = (row.painted_mm2 + 0.5 * row.face_mm2) / 1e6 * one.coats / plan.brief.paint.colour_m2_per_l * 1e3
        assert one.mix_ml - row.extra_ml == pytest.approx(litre * (1 + plan.paint.reserve))
        assert one.face_lab[0] < one.sides_lab[0]
    assert any("Rags" in caution.text for caution in plan.cautions if caution.step == "paint")


def test_a_stain_comes_near_every_lightness_that_is_asked_for():
    plan = plan_from(OAK)
    asked = plan.brief.families[0].lightness
    assert [shade.lightness for shade in plan.fade.shades] == pytest.approx(list(asked), abs=1.0)
    assert [shade.name for shade in plan.fade.shades] == ["peat 34", "peat 40", "peat 47", "peat 55"]


def test_oil_takes_whole_coats_and_two_shades_of_one_are_refused():
    (family,) = plan_from(ASH).paint.stains
    assert [(one.coats, one.parts) for one in family.shades] == [(1, (1, 0)), (2, (1, 0)), (3, (1, 0))]
    with pytest.raises(BossageError, match=r"same coats of bark oil\. One to 4 full coats give lightness"):
        make_plan(read_brief(ASH.replace("[64, 56, 50]", "[63, 62]")))


def test_papers_hold_the_stain_the_rags_and_the_wood():
    plan = plan_from(OAK)
    names = {sheet.name for sheet in pack_sheets(plan)}
    assert "stain" in names
    assert "recipes" not in names
    painted = OAK.replace('finish = "stain"', PAINT).replace("[34, 40,", "[38, 42,")
    assert "stain" not in {sheet.name for sheet in pack_sheets(plan_from(painted))}


PAINT = 'base = "#F2EFE6"'


def test_cards_lie_on_end_grain_and_teach_how_much_it_drinks():
    brief = read_brief(OAK)
    (fields,) = card_fields(brief)
    assert [field.kind for field in fields] == [FieldKind.BASE, FieldKind.NEAT, FieldKind.MIX, FieldKind.MIX]
    from dataclasses import replace

    thirsty = replace(family_stain(brief.families[0]), end_grain=2.5)
    readings = [
        Reading(
            field=field,
            colour=tuple(float(v) for v in stained_lab(thirsty, field.fraction)),
            uncertainty_de=0.5 + number,
        )
        for number, field in enumerate(fields)
    ]
    lesson = calibrate(brief, readings)
    family = lesson.brief.families[0]
    read = {r.field.fraction: r.uncertainty_de for r in readings if r.field.kind is not FieldKind.BASE}
    assert {card.fraction: card.uncertainty_de for card in family.cards} == read
    assert family_stain(family).end_grain == pytest.approx(2.5, rel=0.03)
    # a figure that the brief gives is only kept where no card was read
    told = replace(brief, families=(replace(brief.families[0], end_grain=1.2),))
    assert family_stain(calibrate(told, readings).brief.families[0]).end_grain == pytest.approx(2.5, rel=0.03)
    assert calibrate(told, readings[:1]).brief.families[0].end_grain == 1.2
    for gain in lesson.families[0].gains[1:]:
        assert gain.after_de is not None
        assert gain.after_de < gain.before_de
        assert gain.after_de < 0.5
    assert np.all(delta_e(family.base, brief.families[0].base) < 0.05)


def test_a_clear_finish_takes_one_tinter_and_paint_no_end_grain():
    with pytest.raises(BriefFaults, match="one tinter"):
        read_brief(OAK.replace('tinters = [{ name = "peat stain", colour = "#6E4A30" }]', ""))
    with pytest.raises(BriefFaults, match="end_grain"):
        read_brief(OAK.replace('finish = "stain"', PAINT + "\nend_grain = 2"))


def test_every_sheet_of_an_oiled_piece_tells_one_story_of_its_coats():
    plan = plan_from(ASH)
    # batches of one coat are one round of it; a step broken off in the evening goes on in the morning
    days = list(dict.fromkeys((entry.step, entry.title.partition(":")[0]) for entry in calendar_of(plan).entries))
    assert [title for step, title in days if step == "paint"] == [f"Oil, coat {n} of 3" for n in (1, 2, 3)]
    assert "prime" not in {step for step, _ in days}
    dries = [e.to_s - e.from_s for e in calendar_of(plan).entries if e.title == "Drying of the blocks"]
    assert dries == [86_400] * 3
    assert (plan.paint.way.goes, plan.paint.way.wait_h) == (3, 72.0)
    sheets = {sheet.name: repr(sheet) for sheet in (*pack_sheets(plan), *pack_sheets(plan, ("care", "paintways")))}
    assert "value='1 to 3', unit='', words='coats of oil, by shade'" in sheets["paint"]
    for name in ("care", "paintways"):
        assert "1 to 3 coats of oil on bare wood" in sheets[name]
    assert not [name for name in ("paint", "care", "paintways", "stain") if "over primer" in sheets[name]]
    for wrong in ("painted over", "Stir that pot", "Paint a card"):
        assert wrong not in sheets["care"]
    assert "oil again, and wipe off the rest" in sheets["care"]
    assert "Glue comes before" not in sheets["stain"]
    assert "wipe again after 30 and after 60 minutes" in sheets["stain"]
    assert "extractor" in " ".join(caution.text for caution in plan.paint.cautions)


def test_a_stained_piece_has_its_topcoat_in_the_days_and_paint_its_primer():
    stained = [entry.title.partition(":")[0] for entry in calendar_of(plan_from(OAK)).entries if entry.hands]
    assert "Topcoat" in stained
    painted = plan_from(OAK.replace('finish = "stain"', PAINT).replace("[34, 40,", "[38, 42,"))
    steps = [run.step for run in painted.paint.days.blocks]
    # screws in first, screws out last
    assert steps == ["ready", "prime", "denib", "paint", "paint", "topcoat", "ready"]


@pytest.mark.parametrize(("first", "last", "shades"), [(34, 55, 5), (60, 30, 7)])
def test_a_stain_asked_for_by_its_ends_is_even_in_what_it_dries_to(first, last, shades):
    asked = f"{{ from = {first}, to = {last}, shades = {shades} }}"
    family = read_brief(OAK.replace("[34, 40, 47, 55]", asked)).families[0]
    assert (family.lightness[0], family.lightness[-1], len(family.lightness)) == (first, last, shades)
    stain = family_stain(family)
    labs = stained_lab(stain, strengths_at_lightness(stain, family.lightness))
    steps = delta_e(labs[1:], labs[:-1])
    assert max(steps) / min(steps) < 1.001
    assert labs[:, 0] == pytest.approx(family.lightness, abs=0.01)


def test_ends_that_no_stain_reaches_are_a_fault_with_the_reason():
    with pytest.raises(BriefFaults) as refused:
        read_brief(OAK.replace("[34, 40, 47, 55]", "{ from = 34, to = 80, shades = 5 }"))
    (fault,) = refused.value.faults
    assert (fault.field, fault.found, fault.allowed) == ("family[1].lightness", "34 to 80", "ends in reach")
    assert "A clear finish never lightens" in fault.remedy
