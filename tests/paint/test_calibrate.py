"""What a reading leaves in the brief: its colour, how sure it is, and the recipe of a pot that is mixed already."""

from __future__ import annotations

from dataclasses import replace

import pytest

from bossage.brief import read_brief
from bossage.colour.blends import blend_lab
from bossage.colour.difference import delta_e
from bossage.errors import BossageError
from bossage.examples import example_text
from bossage.fade.scales import family_paints, family_scale
from bossage.paint.calibrate import Reading, calibrate
from bossage.paint.cards import FieldKind, card_fields

BRIEF = read_brief(example_text("s7"))
FIELDS = {field.name: field for sheet in card_fields(BRIEF) for field in sheet}
OF_FERN = {field.kind: field for field in reversed(FIELDS.values()) if field.families == ("fern",)}
NEAT, MIX = OF_FERN[FieldKind.NEAT], OF_FERN[FieldKind.MIX]


def read(name: str, colour: tuple[float, float, float], uncertainty_de: float | None, refused: str = "") -> Reading:
    return Reading(field=FIELDS[name], colour=colour, uncertainty_de=uncertainty_de, refused=refused)


def test_how_sure_a_reading_is_goes_into_the_brief_with_it() -> None:
    lesson = calibrate(BRIEF, [read(NEAT.name, (45.0, -16.0, 14.0), 2.5), read(MIX.name, (71.2, -9.4, 8.8), 1.5)])
    fern, umber = lesson.brief.families
    assert [(t.colour, t.uncertainty_de) for t in fern.tinters] == [((45.0, -16.0, 14.0), 2.5)]
    assert [(c.fraction, c.colour, c.uncertainty_de) for c in fern.cards] == [(MIX.fraction, (71.2, -9.4, 8.8), 1.5)]
    assert umber == BRIEF.families[1]
    sure = calibrate(BRIEF, [read(NEAT.name, (45.0, -16.0, 14.0), None)]).brief.families[0]
    assert sure.tinters[0].uncertainty_de is None


def test_a_card_read_again_takes_the_place_of_the_one_before() -> None:
    once = calibrate(BRIEF, [read(MIX.name, (71.2, -9.4, 8.8), 1.5)]).brief
    twice = calibrate(once, [read(MIX.name, (70.0, -9.0, 8.0), 0.5)]).brief.families[0]
    assert [(c.colour, c.uncertainty_de) for c in twice.cards] == [((70.0, -9.0, 8.0), 0.5)]


def test_a_refused_reading_teaches_nothing_and_alone_is_a_fault() -> None:
    good, bad = read(MIX.name, (71.2, -9.4, 8.8), 1.5), read(NEAT.name, (45.0, -16.0, 14.0), 1.0, "too dark")
    lesson = calibrate(BRIEF, [good, bad])
    assert lesson.refused == (bad,)
    assert lesson.brief.families[0].tinters == BRIEF.families[0].tinters
    with pytest.raises(BossageError, match="too dark"):
        calibrate(BRIEF, [bad])


def test_what_a_reading_gained_is_the_distance_by_the_paints_before_and_after() -> None:
    reading = read(MIX.name, (71.2, -9.4, 8.8), 1.5)
    lesson = calibrate(BRIEF, [reading])
    (gain,) = lesson.families[0].gains
    share = [MIX.fraction]
    paints = (family_paints(BRIEF.families[0]), family_paints(lesson.families[0].family))
    before, after = (float(delta_e(blend_lab(paint, share), reading.lab)) for paint in paints)
    assert (gain.before_de, gain.after_de) == (pytest.approx(before), pytest.approx(after))
    assert after < before
    assert gain.left_out_de is None


def test_a_card_left_out_is_foretold_by_the_other_cards_of_its_tinter_alone() -> None:
    mixes = [field for field in FIELDS.values() if field.families == ("fern",) and field.kind is FieldKind.MIX]
    readings = [read(mixes[0].name, (71.2, -9.4, 8.8), 1.5), read(mixes[1].name, (60.0, -14.0, 12.0), 1.0)]
    (lesson,) = calibrate(BRIEF, readings).families
    for gain, other in zip(lesson.gains, reversed(readings), strict=True):
        cards = tuple(card for card in lesson.family.cards if card.fraction == other.field.fraction)
        assert len(cards) == 1
        paints = family_paints(replace(lesson.family, cards=cards))
        foretold = blend_lab(paints, [gain.reading.field.fraction])
        assert gain.left_out_de == pytest.approx(float(delta_e(foretold, gain.reading.lab)))
        assert gain.left_out_de > gain.after_de


def test_pots_that_are_mixed_keep_their_recipes() -> None:
    scale = family_scale(BRIEF.families[0])
    readings = [read(MIX.name, (71.2, -9.4, 8.8), 1.5)]
    kept = calibrate(BRIEF, readings, mixed=True).families[0]
    assert kept.family.mixed is not None
    assert [m[0] for m in kept.family.mixed] == pytest.approx([s.shares[0] for s in scale.shades], rel=1e-5)
    assert all(s.after == pytest.approx(s.before, rel=1e-5) for s in kept.shades)
    anew = calibrate(BRIEF, readings).families[0]
    assert anew.family.mixed is None
    assert any(s.after is not None and abs(s.after[0] / s.before[0] - 1) > 0.05 for s in anew.shades)
    assert [s.name for s in anew.shades] == [s.name for s in scale.shades]


def test_a_clear_finish_learns_bare_wood_from_its_field_alone() -> None:
    brief = read_brief(example_text("stained-oak"))
    (fields,) = card_fields(brief)
    bare, coat = (next(one for one in fields if one.kind is kind) for kind in (FieldKind.BASE, FieldKind.NEAT))
    wood, stain = (70.5, 6.2, 21.4), (33.0, 11.0, 14.0)
    assert brief.families[0].base != wood
    readings = [Reading(field=field, colour=at, uncertainty_de=1.0) for field, at in ((bare, wood), (coat, stain))]
    both = calibrate(brief, readings).brief.families[0]
    assert both.base == wood
    assert [(card.fraction, card.colour) for card in both.cards] == [(coat.fraction, stain)]
    # without a reading of the wood its colour stands as in the brief
    assert calibrate(brief, readings[1:]).brief.families[0].base == brief.families[0].base
