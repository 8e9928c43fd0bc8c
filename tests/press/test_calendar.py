"""One calendar for the job, and its iCalendar file read back by a reader of its own."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import date, datetime
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.body import Role, word_of
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheets.common import words_of
from bossage.paint.dabs import Mixing
from bossage.press import CalendarEntry, JobCalendar, date_of, job_calendar
from bossage.press.ics import NoStartDate, calendar_ics
from bossage.press.schedule_records import DAY_S, WorkDay
from tests.layout.factory import change
from tests.press.cases import NAMES, body_of, made, paint_days_of, pressed
from tests.scenarios.cases import plan_of

WORK_H = {"saw": 3.2, "break edges and sand": 6.4, "prime and paint": 10.5, "lay": 3.2}


def calendar_of(scenario, **more):
    brief = more.pop("brief", made(scenario)[0])
    body = body_of(*made(scenario)[:2])
    paint = more.pop("paint", None) or paint_days_of(brief)
    return job_calendar(brief, body, pressed(scenario), paint, work_h=WORK_H, fixed_h=6.0, **more)


@pytest.mark.parametrize("scenario", NAMES)
def test_steps_follow_one_another_within_working_hours(scenario):
    calendar = calendar_of(scenario)
    steps = list(dict.fromkeys(entry.step for entry in calendar.entries))
    order = ["acclimatise", "saw", "sand", "prime", "paint", "lay", "press", "hang"]
    assert [step for step in steps if step in order] == order
    assert ("ring" in steps) == (scenario == "S7")
    hands = [entry for entry in calendar.entries if entry.hands]
    for entry in hands:
        assert entry.from_s % DAY_S >= 9 * 3600
        assert entry.to_s <= entry.from_s // DAY_S * DAY_S + 17 * 3600
    for before, after in pairwise(hands):
        assert before.to_s <= after.from_s


@pytest.mark.parametrize("scenario", NAMES)
def test_the_back_is_made_tried_and_sealed_before_anything_is_laid(scenario):
    calendar = calendar_of(scenario)
    body = body_of(*made(scenario)[:2])
    order = ["backer", "back", "trial", "seal", "lay", "press"]
    spans = [[e for e in calendar.entries if e.step == step and e.hands] for step in order]
    for before, after in pairwise(spans):
        assert before[-1].to_s <= after[0].from_s
    cut, _, trial, seal = (span[0] for span in spans[:4])
    assert ("openings in the backer" in cut.title) == any(p.openings_nm for p in body.parts)
    # glue sets before anything is glued on what it holds and before the bare backer hangs
    sets = [e for e in calendar.entries if e.title == "Leave the glue of the back to set"]
    layers = [[e for e in spans[1] if e.title == title] for title in dict.fromkeys(e.title for e in spans[1])]
    assert len(layers) == len(sets) == (1 if scenario == "S7" else 2)
    for mine, glue, after in zip(layers, sets, [*(layer[0] for layer in layers[1:]), trial], strict=True):
        assert mine[-1].to_s <= glue.from_s
        assert glue.to_s <= after.from_s
    # sealer dries before blocks are laid
    dries = [e for e in calendar.entries if e.title == "Drying of the backer"]
    assert len(dries) == 3  # a coat of sealer, two of the ground's colour
    for coat, dry, after in zip(spans[3], dries, [*spans[3][1:], spans[4][0]], strict=True):
        assert coat.to_s <= dry.from_s
        assert dry.to_s - dry.from_s == 4 * 3600
        assert dry.to_s <= after.from_s
    # the wall half is loaded by its panel half while that is loose
    loaded = [e for e in calendar.entries if e.step == "wall"]
    assert bool(loaded) == (scenario != "S7")
    assert all(e.to_s <= spans[1][0].from_s for e in loaded)
    on_wall = loaded[0] if loaded else trial
    assert "On the wall: " in on_wall.title
    # each kind of part that moves with the leaf goes on then; strips of a ring go on with the ring
    for part in body.parts:
        if part.role.value == "backer" or part.made_at == "bought":
            continue
        title = " ".join(e.title for e in spans[1]) if part.moves else on_wall.title
        named = any(word in title for word in (part.role.value, word_of(part)) if word) or "halves" in title
        assert named == (part.role is not Role.STRIP or scenario != "S7"), (part.name, title)
    assert "hang the bare backer" in trial.title.lower()
    assert seal.title.startswith("Seal")


def test_parts_on_the_back_stand_in_the_order_of_their_joints():
    entries = calendar_of("S1").entries
    titles = {e.step: e.title for e in entries}
    assert list(dict.fromkeys(e.title for e in entries if e.step == "back")) == [
        "On the back, in this order: frame rails, frame stiles, filler",
        "On the back, then: panel half",
    ]
    assert titles["wall"] == "On the wall: wall half; load the wall half as a trial"
    assert titles["trial"] == "Hang the bare backer"
    assert titles["backer"] == "Cut the parts of the back, saw the openings in the backer"


def test_work_adds_up_to_the_hours_that_were_given():
    calendar = calendar_of("S2")
    hours = {}
    for entry in calendar.entries:
        if entry.hands:
            hours[entry.step] = hours.get(entry.step, 0) + (entry.to_s - entry.from_s) / 3600
    assert hours["saw"] == pytest.approx(3.2)
    assert hours["sand"] == pytest.approx(6.4)
    assert hours["prime"] + hours["paint"] == pytest.approx(10.5, abs=0.001)
    assert hours["lay"] == pytest.approx(3.2)
    back = sum(hours[step] for step in ("backer", "wall", "back", "trial", "seal", "hang"))
    assert back == pytest.approx(6.0, abs=0.002)


def test_the_first_days_by_hand():
    # A week of rest from nine o'clock on day 1; saw on day 8 from 9 to 12:12. Slices of 12 % rest for three days in a
    # room of 7 %, and meanwhile the back is made: 0.65 of 6 h, of which 36 min are for the wall half and its load, 72
    # for nine parts, and 45 min twice, since panel half and foot spacers go on parts whose glue must hold first; then
    # sand to 17:00 and on.
    entries = calendar_of("S2").entries
    assert [(e.day, e.clock, e.step) for e in entries[:12]] == [
        (1, "09:00–09:00 (day 8)", "acclimatise"),
        (8, "09:00–12:12", "saw"),
        (8, "12:12–12:12 (day 11)", "rest"),
        (8, "12:12–14:00", "backer"),
        (8, "14:00–14:36", "wall"),
        (8, "14:36–15:24", "back"),
        (8, "15:24–16:09", "cure"),
        (8, "16:09–16:33", "back"),
        (8, "16:33–17:18", "cure"),
        (9, "09:00–09:18", "trial"),
        (11, "12:12–17:00", "sand"),
        (12, "09:00–10:36", "sand"),
    ]


def test_slices_that_are_as_dry_as_their_room_do_not_wait():
    brief = made("S2")[0]
    dry = change(brief, blocks__moisture_sawn_pct=brief.blocks.moisture_use_low_pct)
    assert not any(e.step == "rest" for e in calendar_of("S2", brief=dry).entries)


@pytest.mark.parametrize("scenario", NAMES)
def test_no_saw_and_no_drill_runs_once_a_tin_is_open(scenario):
    entries = calendar_of(scenario).entries
    opened = min(e.from_s for e in entries if e.step in ("prime", "paint", "seal"))
    dusty = [e for e in entries if e.step in ("saw", "sand", "backer", "back", "trial")]
    assert {e.step for e in dusty} == {"saw", "sand", "backer", "back", "trial"}
    assert max(e.to_s for e in dusty) <= opened


@pytest.mark.parametrize("scenario", NAMES)
def test_dust_lies_for_an_hour_before_the_first_coat(scenario):
    entries = calendar_of(scenario).entries
    sanded = max(e.to_s for e in entries if e.step == "sand")
    assert min(e.from_s for e in entries if e.step in ("prime", "paint")) - sanded >= 3600


def test_the_backer_is_coated_while_blocks_wait_for_their_shades():
    plain = calendar_of("S7").entries
    waits = calendar_of("S7", mixing=Mixing(test_card_days=3, dab_days=12)).entries
    colour = {entries: min(e.from_s for e in entries if e.step == "paint") for entries in (plain, waits)}
    assert colour[waits] > colour[plain]
    sealed = [e for e in waits if e.step == "seal" and e.title.startswith("Seal")]
    assert max(e.to_s for e in sealed) <= colour[waits]


def test_batches_dry_one_after_the_other_in_the_room_that_is_there():
    brief = made("S2")[0]
    one, three = (calendar_of("S2", paint=paint_days_of(brief, batches)).entries for batches in (1, 3))
    spans = [[e for e in entries if e.title == "Drying of the blocks"] for entries in (one, three)]
    assert (len(spans[0]), len(spans[1])) == (4, 12)
    for before, after in pairwise(spans[1]):
        assert before.to_s <= after.from_s  # a batch lies in the room till it is dry
    titles = [e.title for e in three if e.step == "prime" and e.hands]
    assert "Prime, coat 1 of 2: batch 3 of 3" in titles
    hours = [sum(e.to_s - e.from_s for e in entries if e.step in ("prime", "paint")) for entries in (one, three)]
    assert hours[0] == pytest.approx(hours[1], abs=20)
    assert three[-1].to_s > one[-1].to_s


@pytest.mark.parametrize("scenario", NAMES)
def test_two_spares_are_pressed_before_any_face_is(scenario):
    entries = calendar_of(scenario).entries
    (test,) = (e for e in entries if e.step == "test")
    clamped = next(e for e in entries if e.title == "The spares in the clamps")
    last_coat = max(e.to_s for e in entries if e.step in ("prime", "paint"))
    assert test.from_s - last_coat >= DAY_S
    first = min(e.from_s for e in entries if e.step == "press")
    assert clamped.to_s <= first
    # nothing stays in the clamps longer than the spares did: overnight
    assert clamped.to_s // DAY_S > clamped.from_s // DAY_S


def test_every_coat_dries_before_the_next_and_a_day_before_pressing():
    entries = calendar_of("S2").entries
    coats = [e for e in entries if e.step in ("prime", "paint")]
    dries = [e for e in entries if e.title == "Drying of the blocks"]
    assert len(dries) == 4  # primer, primer again on faces of spruce, two coats of colour
    for dry in dries:
        assert all(coat.to_s <= dry.from_s or coat.from_s >= dry.to_s for coat in coats)
    assert dries[-1].to_s - dries[-1].from_s == DAY_S
    assert dries[-1].to_s <= min(e.from_s for e in entries if e.step == "press")


def test_redwood_primer_dries_a_day():
    brief = change(made("S2")[0], blocks__species="western_redcedar")
    first = next(e for e in calendar_of("S2", brief=brief).entries if e.step == "dry")
    assert first.to_s - first.from_s == DAY_S


def test_days_off_are_kept_where_day_one_has_a_date():
    brief = change(made("S2")[0], tools__days_off=("saturday", "sunday"), piece__date="2026-12-01")
    calendar = calendar_of("S2", brief=brief)
    assert calendar.start == date(2026, 12, 1)
    assert {(calendar.start.weekday() + e.day - 1) % 7 for e in calendar.entries if e.hands} <= {0, 1, 2, 3, 4}
    assert calendar.days > calendar_of("S2").days


def test_without_a_date_no_day_is_known_to_be_off_unless_the_hours_say_so():
    brief = change(made("S2")[0], tools__days_off=("saturday", "sunday"))
    plain = calendar_of("S2", brief=change(brief, tools__days_off=()))
    undated = calendar_of("S2", brief=brief)
    assert undated.start is None
    assert undated.work.days_off == ()
    assert undated.entries == plain.entries
    # hours that a caller gives count from day 1 as the first of the week, whatever the date
    given = calendar_of("S2", brief=brief, work=replace(plain.work, days_off=(5, 6)))
    assert given.work.days_off == (5, 6)
    assert {(e.day - 1) % 7 for e in given.entries if e.hands} <= {0, 1, 2, 3, 4}
    assert given.days > plain.days


def test_longer_days_never_end_later():
    assert calendar_of("S3", work=WorkDay(from_s=8 * 3600, to_s=20 * 3600)).days <= calendar_of("S3").days


@pytest.mark.parametrize(
    ("text", "found"), [("2026-12-01", date(2026, 12, 1)), ("", None), ("in spring", None), ("2026-13-01", None)]
)
def test_only_a_date_is_a_date(text, found):
    assert date_of(text) == found


# ---------------------------------------------------------------------------------------------------- iCalendar


def read_back(data):
    """Events of an `.ics` file as dicts, by RFC 5545: unfold, split, unescape."""
    text = data.decode()
    assert text.endswith("\r\n")
    assert "\n" not in text.replace("\r\n", "")
    assert all(len(line.encode()) <= 75 for line in text.split("\r\n"))
    lines = re.sub("\r\n[ \t]", "", text).split("\r\n")[:-1]
    assert lines[0] == "BEGIN:VCALENDAR"
    assert lines[-1] == "END:VCALENDAR"
    events, now = [], None
    for line in lines:
        name, _, value = line.partition(":")
        if line == "BEGIN:VEVENT":
            now = {}
        elif line == "END:VEVENT":
            events.append(now)
            now = None
        elif now is not None:
            assert name not in now
            now[name] = re.sub(r"\\(.)", lambda m: "\n" if m[1] in "nN" else m[1], value)
    return lines, events


def test_the_file_says_what_the_calendar_says():
    calendar = calendar_of("S7", start=date(2026, 12, 1))
    lines, events = read_back(calendar_ics(calendar, name="Hollin Yard; break room, 2", stamp="ab12-cd34"))
    assert "VERSION:2.0" in lines
    assert sum(line.startswith("PRODID:") for line in lines) == 1
    assert len(events) == len(calendar.entries)
    assert len({event["UID"] for event in events}) == len(events)
    for event, entry in zip(events, calendar.entries, strict=True):
        begin = datetime.strptime(event["DTSTART"], "%Y%m%dT%H%M%S")
        end = datetime.strptime(event["DTEND"], "%Y%m%dT%H%M%S")
        assert (begin - datetime(2026, 12, 1)).total_seconds() == entry.from_s
        assert (end - begin).total_seconds() == entry.to_s - entry.from_s
        assert event["SUMMARY"] == f"Hollin Yard; break room, 2: {entry.title}"
        assert event.get("DESCRIPTION", "") == entry.note
        assert event["TRANSP"] == ("OPAQUE" if entry.hands else "TRANSPARENT")
        assert event["DTSTAMP"].endswith("Z")


def test_the_same_calendar_gives_the_same_bytes():
    one = calendar_ics(calendar_of("S2", start=date(2026, 12, 1)), name="x", stamp="s")
    assert one == calendar_ics(calendar_of("S2", start=date(2026, 12, 1)), name="x", stamp="s")


@settings(max_examples=80, deadline=None)
@given(st.text(st.characters(codec="utf-8", exclude_categories=["Cc", "Cs", "Zl", "Zp"]), max_size=200))
def test_any_words_come_back(words):
    entry = CalendarEntry(step="lay", title=words, from_s=0, to_s=60, hands=True, note=f"a\nb{words}")
    calendar = JobCalendar(entries=(entry,), start=date(2026, 1, 1), work=WorkDay())
    _, (event,) = read_back(calendar_ics(calendar, name="n", stamp="s"))
    assert event["SUMMARY"] == f"n: {words}"
    assert event["DESCRIPTION"] == f"a\nb{words}"


def test_without_a_date_there_are_no_events():
    with pytest.raises(NoStartDate, match="date"):
        calendar_ics(calendar_of("S2"), name="x", stamp="s")


@pytest.mark.parametrize("scenario", ["S1", "S2"])
def test_every_batch_of_the_cards_has_its_clock_and_keeps_the_open_time(scenario):
    brief, calendar = made(scenario)[0], calendar_of(scenario)
    batches = [batch for card in pressed(scenario).rows for batch in card.batches]
    assert len(calendar.batches) == len(batches)
    for time, batch in zip(calendar.batches, batches, strict=True):
        assert time.press_s - time.lay_s >= batch.lay_s + brief.glue.close_min * 60 - 1
        assert time.press_s - time.lay_s <= brief.glue.open_min * 60
        assert time.out_s >= time.press_s + brief.glue.clamp_min * 60 - 1
        assert calendar.work.from_s <= time.lay_s % 86_400 < calendar.work.to_s
        assert time.clock.startswith(f"day {time.lay_s // 86_400 + 1}: lay ")


def test_edge_strips_go_on_last_and_their_margin_stays_bare():
    body = body_of(*made("S7")[:2])
    strips = {part.name for part in body.parts if part.role is Role.STRIP}
    (ring,) = {step.kind for step in body.steps if set(step.parts) & strips}
    assert ring == "ring"
    assert body.steps[-1].kind == "ring"
    entries = calendar_of("S7").entries
    seal = next(e for e in entries if e.step == "seal")
    assert "margin" in seal.note
    assert min(e.from_s for e in entries if e.step == "ring") > max(e.to_s for e in entries if e.step == "press")
    back = next(e for e in entries if e.step == "back")
    assert "strip" not in back.title


def test_back_backer_and_ring_sheets_tell_one_order_of_the_strips():
    plan = plan_of("S7")
    sheets = {sheet.name: repr(sheet) for sheet in pack_sheets(plan)}
    margin = words_of(plan).length(plan.brief.edge.strip_behind_nm)
    assert "Last of all" in sheets["back"]
    for name in ("back", "ground", "ring"):
        assert f"margin of {margin}" in sheets[name]
    assert "ribs, strips" not in sheets["ground"]
    assert "Nothing is glued on the sealer" in sheets["ground"]
    assert any(line.what == "masking tape" for line in plan.cost.shopping)
