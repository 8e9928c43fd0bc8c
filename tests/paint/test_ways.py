"""Areas and hours of every way to paint, re-added from true faces and heights block by block; and what is advised."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from tests.paint.test_tins import held_ml

from bossage.body import Role
from bossage.brief import read_brief
from bossage.layout.records import Zone
from bossage.pack.catalogue import pack_sheets
from bossage.pack.sheets.basis import basis_sheet
from bossage.pack.sheets.counts import DEALT
from bossage.pack.sheets.days import _rows, calendar_of, days_sheet
from bossage.pack.sheets.lists import costs_sheet
from bossage.pack.sheets.paint import order_of_coats, paint_sheet
from bossage.pack.sheets.paint_ways import paint_ways_sheet
from bossage.paint import ways as rates
from bossage.paint.dabs import card_primer_ml
from bossage.paint.days import card_days
from bossage.paint.drying import STRIP_WIDE_NM, drying_batches, parked_share, shade_rooms, strip_gap_nm
from bossage.paint.extras import blocking_shade
from bossage.paint.sealed import part_sides_mm2
from bossage.paint.strips import strip_faces
from bossage.plan import NoPlan, Plan, make_plan
from bossage.units import format_volume

EXAMPLES = sorted((Path(__file__).parents[2] / "examples").glob("*.toml"))
SCHOOL = (Path(__file__).parents[2] / "examples" / "s3-tarnwick-school.toml").read_text(encoding="utf-8")
FIRST = (Path(__file__).parents[2] / "examples" / "first.toml").read_text(encoding="utf-8")
S1 = (Path(__file__).parents[2] / "examples" / "s1-fernhollow-hall.toml").read_text(encoding="utf-8")
LAP_MM = 4.0
SCREW_MIN = rates.SCREW_IN_MIN + rates.SCREW_OUT_MIN
NEAR_MM = 1e-6  # a corner shares no edge


@cache
def plan_from(text: str) -> Plan:
    made = make_plan(read_brief(text))
    assert not isinstance(made, NoPlan)
    return made


def with_paint(lines: str, tools: str = "") -> Plan:
    return plan_from(FIRST + f"\n[paint]\n{lines}\n\n[tools]\n{tools}\n")


def boxes(plan: Plan) -> list[tuple[int, float, float, float, float, float]]:
    """Leaf, left, below, width, height, level of every block, in mm."""
    blocks, relief = plan.layout.blocks, plan.relief
    return [
        (
            int(blocks.leaf[i]),
            int(blocks.x_nm[i]) / 1e6,
            int(blocks.y_nm[i]) / 1e6,
            int(blocks.width_nm[i]) / 1e6,
            int(blocks.height_nm[i]) / 1e6,
            relief.levels_nm[relief.level[i]] / 1e6,
        )
        for i in range(blocks.count)
    ]


def sawn_mm(plan: Plan) -> list[float]:
    """Length of every block as the saw sheet has it: a ring block is longer than its level."""
    return [nm / 1e6 for nm in plan.relief.length_nm.tolist()]


def shown_and_line(plan: Plan) -> tuple[list[float], list[float]]:
    """By block, from boxes alone: side area above the neighbours, and depth of the line."""
    gap = plan.brief.blocks.gap_nm / 1e6 + 0.01
    found = boxes(plan)
    shown, lines = [], []
    for (leaf, x, y, w, h, level), sawn in zip(found, sawn_mm(plan), strict=True):
        sides = {"left": h, "right": h, "below": w, "above": w}
        seen, lowest, free = 0.0, level, dict(sides)
        for other, ox, oy, ow, oh, olevel in found:
            if other != leaf or (ox, oy) == (x, y):
                continue
            up = min(y + h, oy + oh) - max(y, oy)
            across = min(x + w, ox + ow) - max(x, ox)
            if up > NEAR_MM and abs(ox - (x + w)) <= gap:
                side, shared = "right", up
            elif up > NEAR_MM and abs(x - (ox + ow)) <= gap:
                side, shared = "left", up
            elif across > NEAR_MM and abs(oy - (y + h)) <= gap:
                side, shared = "above", across
            elif across > NEAR_MM and abs(y - (oy + oh)) <= gap:
                side, shared = "below", across
            else:
                continue
            free[side] -= shared
            seen += shared * max(level - olevel, 0)
            lowest = min(lowest, olevel)
        # A neighbour's joint of a gap in a split side is no open side.
        shown.append(seen + sum(rest for rest in free.values() if rest > 0) * sawn)
        is_open = any(rest > 0.1 * min(w, h) for rest in free.values())
        lines.append(sawn if is_open else min(level - lowest + LAP_MM, sawn))
    return shown, lines


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_areas_of_every_way_from_faces_and_heights(path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    found = boxes(plan)
    faces = sum(w * h for _, _, _, w, h, _ in found)
    whole = sum(2 * (w + h) * sawn for (_, _, _, w, h, _), sawn in zip(found, sawn_mm(plan), strict=True))
    shown, lines = shown_and_line(plan)
    to_line = sum(2 * (w + h) * line for (_, _, _, w, h, _), line in zip(found, lines, strict=True))
    ways = {way.name: way for way in plan.paint.ways}
    assert plan.paint.shown_mm2 == pytest.approx(faces + sum(shown), rel=1e-6)
    for name in ("brush", "spray", "dip"):
        assert ways[name].shade_mm2 == pytest.approx(faces + whole, rel=1e-9)
    assert ways["brush to line"].shade_mm2 == pytest.approx(faces + to_line, rel=1e-6)
    assert (ways["roll"].shade_mm2, ways["roll"].ground_mm2) == pytest.approx((faces, whole), rel=1e-9)
    spares = {stick.name: stick.spares_pct for stick in plan.brief.sticks}
    kerf, prints = plan.brief.tools.kerf_nm / 1e6, plan.brief.blocks.footprints
    on_sticks = sum(
        2 * (w + h) * (length / 1e6 + kerf) * (1 + spares.get(prints[print_].section, 0) / 100)
        for (_, _, _, w, h, _), length, print_ in zip(
            found, plan.relief.length_nm.tolist(), plan.layout.blocks.footprint.tolist(), strict=True
        )
    )
    assert ways["sticks first"].ground_mm2 == pytest.approx(on_sticks, rel=1e-9)
    assert all(way.bare_mm2 == pytest.approx(0, abs=1e-3) for way in ways.values())
    rack = sum((w + 20) * (h + 20) for _, _, _, w, h, _ in found)
    rack += sum((w + 20) * (h + 20) for w, h in spare_sizes(plan))
    for way in ways.values():
        assert way.rack_mm2 == pytest.approx(rack, rel=1e-9)
        assert way.batches == math.ceil(rack / 1e6 / plan.brief.paint.rack_m2 - 1e-9)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_hours_of_every_way_from_areas_and_counts(path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    paint, n = plan.brief.paint, plan.layout.blocks.count
    shades = len(set(plan.fade.shade.tolist()))
    keys = list(
        zip(
            plan.fade.shade.tolist(),
            plan.layout.blocks.footprint.tolist(),
            plan.relief.level.tolist(),
            strict=True,
        )
    )
    gangs, turns = len(set(keys)), len({key[1:] for key in keys})
    for way in plan.paint.ways:
        tool = {"brush to line": "brush", "sticks first": "roll"}.get(way.name, way.name)
        faces, sides = way.shade_mm2, 0.0
        coat = {
            "brush": n * rates.HANDLE_MIN + faces / rates.BRUSH_MM2_PER_MIN,
            "roll": gangs * rates.GANG_MIN + n * rates.SET_OUT_MIN + faces / rates.ROLL_MM2_PER_MIN,
            "spray": n * rates.SET_OUT_MIN + faces / rates.SPRAY_MM2_PER_MIN,
            "dip": n * rates.DIP_MIN,
        }[tool]
        if way.name == "roll":
            sides = 4 * (turns * rates.GANG_MIN + n * rates.SET_OUT_MIN) / 2 + way.ground_mm2 / rates.ROLL_MM2_PER_MIN
        elif way.name == "sticks first":
            length = sum(
                mm2 / (2 * (w + h)) for mm2, (_, _, _, w, h, _) in zip(side_areas(plan), boxes(plan), strict=True)
            )
            sides = 2 * math.ceil(length / 2400) * rates.STICK_MIN + way.ground_mm2 / rates.ROLL_MM2_PER_MIN
        pot = rates.POT_MIN[tool]
        primer = 0 if all(family.clear for family in plan.brief.families) else paint.primer_coats
        minutes = primer * (coat + sides + pot) + n * rates.DENIB_MIN * (primer > 0)
        # A stain or an oil has coats of its own by shade.
        stained = {one.shade: one.coats for family in plan.paint.stains for one in family.shades}
        names = [plan.fade.shades[shade].name for shade in plan.fade.shade.tolist()]
        mean = sum(stained.get(name, paint.coats) for name in names) / n
        minutes += mean * (coat + shades * pot) + paint.coats * (sides + pot) * (sides > 0)
        minutes += n * rates.LINE_MIN * (way.name == "brush to line")
        minutes += n * rates.HANDLE_MIN * (way.name == "sticks first")
        if way.name == "brush":  # each block hangs on a screw in its back
            minutes += (n + primed_spares(plan)) * SCREW_MIN
        elif way.name == "brush to line":  # those without a bare foot to hold them by
            lines = shown_and_line(plan)[1]
            footless = sum(sawn - line < rates.FOOT_MM for sawn, line in zip(sawn_mm(plan), lines, strict=True))
            minutes += (footless + primed_spares(plan)) * SCREW_MIN
        minutes += paint.topcoat_coats * (coat + pot) * bool(paint.topcoat)
        if primer and primer_faces(plan) > primer:  # faces of resinous softwood once more, by brush
            primed = n * rates.HANDLE_MIN + sum(w * h for _, _, _, w, h, _ in boxes(plan)) / rates.BRUSH_MM2_PER_MIN
            minutes += primed + rates.POT_MIN["brush"]
        assert way.attended_h == pytest.approx(minutes / 60, rel=1e-9), way.name


def spare_sizes(plan: Plan) -> list[tuple[float, float]]:
    """As the saw cuts them, in mm; of bare wood only the two of the blocking test are coated, of the first section."""
    clear = all(family.clear for family in plan.brief.families)
    cut = [
        (section.section_width_nm / 1e6, section.section_height_nm / 1e6)
        for section in plan.saw.sections
        for row in section.rows
        for _ in range(row.spares)
    ]
    return cut[:2] if clear or not plan.brief.paint.primer_coats else cut


def primed_spares(plan: Plan) -> int:
    return len(spare_sizes(plan))


def test_every_block_and_primed_spare_has_its_screw_and_the_list_buys_them():
    plan = plan_from(FIRST)
    (line,) = (one for one in plan.cost.shopping if one.what.startswith("thin screws"))
    assert primed_spares(plan) > 0
    assert line.amount == f"{plan.layout.blocks.count + primed_spares(plan):,}"
    titles = [run.title for run in plan.paint.days.blocks]
    assert "Take the screws out" in titles[-1]  # before anything is laid dry


def test_whole_shades_dry_together_where_they_can_and_else_a_batch_is_filled():
    shades = [("a", 10, 4.0), ("b", 10, 4.0), ("c", 10, 4.0)]
    assert drying_batches(shades, 1, 12.0) == ((("a", 10), ("b", 10), ("c", 10)),)
    two = drying_batches(shades, 2, 8.0)
    assert two == ((("a", 10), ("b", 10)), (("c", 10),))
    assert parked_share(shades, two) == pytest.approx(2 / 3)  # a and b, while c dries
    # by hand: room for 6 is 15 blocks of 0.4 each
    assert drying_batches(shades, 2, 6.0) == ((("a", 10), ("b", 5)), (("b", 5), ("c", 10)))


def test_every_block_is_in_one_batch_and_no_batch_is_larger_than_the_room():
    plan = with_paint("rack = 0.3")
    assert plan.paint.way.batches > 1
    shades = shade_rooms(plan.brief, plan.layout, plan.fade)
    each = {name: room / blocks for name, blocks, room in shades}
    batches = drying_batches(shades, plan.paint.way.batches, 0.3e6)
    assert len(batches) == plan.paint.way.batches
    assert sum(count for batch in batches for _, count in batch) == plan.layout.blocks.count + primed_spares(plan)
    assert batches[-1][-1] == ("the spares", primed_spares(plan))
    for batch in batches[:-1]:
        assert sum(count * each[name] for name, count in batch) <= 0.3e6 + 1e-3
    assert "batch 1:" in repr(paint_sheet(plan)).casefold()


def test_between_the_strips_of_a_pair_is_half_the_narrowest_block():
    plan = plan_from(FIRST)  # blocks of 70 × 70
    assert strip_gap_nm(plan.brief) == 35_000_000


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_strips_stay_inside_the_wet_sides_of_every_block(path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    strips_mm = (strip_gap_nm(plan.brief) + 2 * STRIP_WIDE_NM) / 1e6
    narrowest = min(min(w, h) for _, _, _, w, h, _ in boxes(plan))
    assert strips_mm <= narrowest - 6 or narrowest < 36
    assert strip_gap_nm(plan.brief) >= 10_000_000  # a thin screw's head hangs between them


def test_more_room_as_advised_makes_one_batch_with_the_spares():
    plan = plan_from(S1)
    (check,) = (one for one in plan.checks if one.name == "drying_room")
    # a painter's sum: 11.26 ft² of blocks, and 18 spares of 185 in² with their distance
    assert plan.paint.way.rack_mm2 / 645.16 == pytest.approx(11.26 * 144 + 185, rel=0.005)
    (edit,) = check.edits
    assert edit.value >= plan.paint.way.rack_mm2 / 1e6
    healed = replace(plan.brief.paint, rack_m2=edit.value)
    wider = make_plan(replace(plan.brief, paint=healed))
    assert not isinstance(wider, NoPlan)
    assert wider.paint.way.batches == 1


def test_a_batch_takes_its_own_share_of_the_work():
    plan = plan_from(S1)
    shares = plan.paint.days.shares
    rooms = shade_rooms(plan.brief, plan.layout, plan.fade)
    batches = drying_batches(rooms, 2, plan.brief.paint.rack_m2 * 1e6)
    # by hand: the room of the first batch's blocks, one by one
    first = {name for name, _ in batches[0]}
    found = [
        ((w + 20) * (h + 20), shade) for (_, _, _, w, h, _), shade in zip(boxes(plan), plan.fade.shade, strict=True)
    ]
    mine = sum(room for room, shade in found if plan.fade.shades[shade].name in first)
    assert shares[0] == pytest.approx(mine / plan.paint.way.rack_mm2)
    assert sum(shares) == pytest.approx(1)
    prime = [e for e in calendar_of(plan).entries if e.step == "prime" and "coat 1" in e.title]
    minutes = {n: sum(e.to_s - e.from_s for e in prime if f"batch {n} of" in e.title) for n in (1, 2)}
    assert minutes[1] / sum(minutes.values()) == pytest.approx(shares[0], abs=0.01)


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_blocks_are_dealt_to_shades_once_and_before_any_coat(path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    steps = order_of_coats(plan)
    (dealt,) = (number for number, text in enumerate(steps) if "deal the blocks out" in text)
    coats = [
        n for n, text in enumerate(steps) if text.startswith(("Prime", "Colour", "The sides")) or "bare wood" in text
    ]
    assert dealt < min(coats)
    sheets = {sheet.name: repr(sheet) for sheet in pack_sheets(plan, ("paint", "trays", "traylabels"))}
    assert all(DEALT in text for text in sheets.values())
    assert len(sheets) == 3


def test_days_off_are_told_as_they_are_kept():
    plain, dated = plan_from(FIRST), plan_from(FIRST.replace("[piece]", '[piece]\ndate = "2026-12-01"'))
    for plan in (plain, dated):
        assert "Saturday and Sunday too" in repr(days_sheet(plan))
        assert "days off are left free" not in repr(days_sheet(plan))
    worked = {(calendar_of(dated).start.weekday() + e.day - 1) % 7 for e in calendar_of(dated).entries if e.hands}
    assert worked & {5, 6}
    off = plan_from(
        FIRST.replace("[piece]", '[piece]\ndate = "2026-12-01"') + '\n[tools]\ndays_off = ["saturday", "sunday"]\n'
    )
    assert "Nobody works on Saturday and Sunday" in repr(days_sheet(off))
    worked = {(calendar_of(off).start.weekday() + e.day - 1) % 7 for e in calendar_of(off).entries if e.hands}
    assert not worked & {5, 6}


def test_the_blocking_test_is_painted_in_the_shade_with_most_tinter():
    plan = plan_from(FIRST)
    most = max(shade.tinter_fraction or 0.0 for shade in plan.fade.shades)
    (tested,) = (shade for shade in plan.fade.shades if shade.name == blocking_shade(plan.brief, plan.fade).name)
    assert (tested.tinter_fraction or 0.0) == most


def test_cards_take_as_many_days_as_their_coats():
    brief = plan_from(FIRST).brief  # spruce: two coats of primer, two of colour, 4 h each, 09:00 to 17:00
    coats = primer_faces(plan_from(FIRST)) + brief.paint.coats
    assert card_days(brief) == math.ceil(coats / 2) + 1
    quick = replace(brief, paint=replace(brief.paint, dry_h=2.0))
    assert card_days(quick) == math.ceil(coats / 4) + 1


def with_spares(plan: Plan) -> list[float]:
    """By block, itself and its share of the spares."""
    spares = {stick.name: stick.spares_pct for stick in plan.brief.sticks}
    prints = plan.brief.blocks.footprints
    return [1 + spares.get(prints[one].section, 0) / 100 for one in plan.layout.blocks.footprint.tolist()]


def side_areas(plan: Plan) -> list[float]:
    kerf = plan.brief.tools.kerf_nm / 1e6
    return [
        2 * (w + h) * (length / 1e6 + kerf) * spare
        for (_, _, _, w, h, _), length, spare in zip(
            boxes(plan), plan.relief.length_nm.tolist(), with_spares(plan), strict=True
        )
    ]


def test_the_newcomers_piece_is_brushed_whole():
    paint = plan_from(FIRST).paint
    assert paint.way.name == "brush"
    assert paint.way.advised
    # By hand: 80 faces of 70 × 70, and sixteen blocks of each of five heights with four sides of 70 (before the body
    # asked for a row more, 72 blocks made 0.953 m²).
    assert paint.painted_mm2 == pytest.approx(80 * 70 * 70 + 16 * 4 * 70 * (18 + 24 + 30 + 36 + 42))


def test_what_the_brief_names_is_taken_and_what_is_missing_said():
    paint = with_paint('way = "spray"').paint
    assert paint.way.name == "spray"
    assert not paint.way.advised
    assert [check.name for check in paint.checks if check.subject == "spray"] == ["paint_means"]
    assert paint.colour_ml == pytest.approx(paint.way.shade_ml)
    assert paint.primer_ml == pytest.approx(paint.way.primer_ml)
    rolled = with_paint('way = "roll"').paint
    assert rolled.side_ml == pytest.approx(rolled.way.ground_ml)
    assert rolled.colour_ml == pytest.approx(rolled.way.shade_ml)
    assert rolled.painted_mm2 == pytest.approx(with_paint('way = "brush"').paint.painted_mm2)


@pytest.mark.parametrize("coats", [1, 2, 3])
def test_rolled_sides_get_a_run_for_each_coat_with_its_number(coats):
    paint = with_paint(f'way = "roll"\ncoats = {coats}').paint
    rolled = [run for run in paint.days.blocks if run.title.startswith("Sides in the ground's colour")]
    counted = [f", coat {number} of {coats}" for number in range(1, coats + 1)] if coats > 1 else [""]
    assert [run.title for run in rolled] == [f"Sides in the ground's colour{words}" for words in counted]
    assert {(run.step, run.dry_h > 0) for run in rolled} == {("paint", True)}
    # the runs hold the whole work of the sides, in even parts
    assert {run.minutes for run in rolled} == {paint.way.minutes["sides in the ground's colour"] / coats}


def primer_faces(plan: Plan) -> int:
    """Two coats of primer on end grain of spruce, fir, pine and larch; else as many as the brief says."""
    asked = plan.brief.paint.primer_coats
    soft = any(word in plan.brief.blocks.species.split("_") for word in ("spruce", "fir", "pine", "larch", "spf"))
    return max(asked, 2) if soft and asked else asked


def school(paint: str, tools: str = "") -> Plan:
    """276 blocks of 12 shades, painted by the advised way."""
    lines = SCHOOL.splitlines()
    share = next(number for number, line in enumerate(lines) if line.startswith("side_share"))
    lines[share] = paint
    lines.insert(lines.index("[tools]") + 1, tools)
    return plan_from("\n".join(lines))


def test_the_ranking_follows_sprayer_room_painters_and_pots():
    assert with_paint("sprayer = true").paint.way.name == "spray"
    # One painter saves strokes; six save waiting.
    assert school("rack = 4").paint.way.name == "sticks first"
    assert school("rack = 4\nbrushes = 6", "people = 6").paint.way.name == "dip"
    assert school("rack = 4\nbrushes = 1", "people = 6").paint.way.name == "sticks first"
    # With room for a tenth of the blocks every go is ten batches: five goes of rolling fall behind three of brushing.
    roomy, cramped = ({way.name: way for way in school(f"rack = {m2}").paint.ways} for m2 in (4, 0.4))
    assert (roomy["roll"].batches, cramped["roll"].batches) == (1, 10)
    assert roomy["roll"].rank_h < roomy["brush"].rank_h
    assert cramped["roll"].rank_h > cramped["brush"].rank_h


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_amounts_are_re_added_with_reserve_and_tins_hold_them(path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    paint, asked = plan.paint, plan.brief.paint
    found = boxes(plan)
    by_shade, drunk = np.zeros(len(plan.fade.shades)), np.zeros(len(plan.fade.shades))
    largest = 0.0
    end_grain = {one.family: one.end_grain for one in paint.stains}
    for (_, _, _, w, h, _), sawn, shade in zip(found, sawn_mm(plan), plan.fade.shade.tolist(), strict=True):
        by_shade[shade] += w * h + 2 * (w + h) * sawn
        times = end_grain.get(plan.fade.shades[shade].family, 1.0)  # end grain drinks a clear finish
        drunk[shade] += times * w * h + 2 * (w + h) * sawn
        largest = max(largest, (w * h * times if paint.stains else w * h) + 2 * (w + h) * sawn)
    assert paint.way.name == "brush"  # what the sum above counts: faces, and the whole of each side as sawn
    assert paint.painted_mm2 == pytest.approx(by_shade.sum(), rel=1e-9)
    assert paint.painted_mm2 == pytest.approx(paint.way.shade_mm2, rel=1e-9)
    assert [row.painted_mm2 for row in paint.rows] == pytest.approx(by_shade.tolist(), rel=1e-9)
    stained = {one.shade: one.coats for family in paint.stains for one in family.shades}
    coats = np.array([stained.get(shade.name, asked.coats) for shade in plan.fade.shades])
    ml = drunk / 1e6 * coats / asked.colour_m2_per_l * 1e3 * (1 + asked.reserve)
    assert [row.colour_ml for row in paint.rows] == pytest.approx(ml.tolist(), rel=1e-9)
    # beside them: two spares of the blocking test, no larger than the largest block, and 8 mL that a pot loses
    tested = [shade.name for shade in plan.fade.shades].index(blocking_shade(plan.brief, plan.fade).name)
    more = np.zeros(len(ml))
    more[tested] += 2 * largest / 1e6 * coats[tested] / asked.colour_m2_per_l * 1e3
    for pots in paint.pots:
        if len(pots.tinters) == 1 and not pots.mixed:
            light = {n: shade.lightness for n, shade in enumerate(plan.fade.shades) if shade.family == pots.family}
            more[min(light, key=lambda n: light[n])] += 8.0
    assert [row.extra_ml for row in paint.rows] == pytest.approx(more.tolist(), rel=1e-9)
    again = primer_faces(plan) - asked.primer_coats
    # spares are primed with the blocks, a share of each that its stick is cut for
    primed = faces = 0.0
    for (_, _, _, w, h, _), sawn, spare, shade in zip(
        found, sawn_mm(plan), with_spares(plan), plan.fade.shade.tolist(), strict=True
    ):
        if plan.fade.shades[shade].name not in stained:
            primed += spare * (w * h + 2 * (w + h) * sawn)
            faces += spare * w * h
    primer = (
        (primed * asked.primer_coats + faces * again) / 1e6 / asked.primer_m2_per_l * 1e3 * (1 + asked.primer_reserve)
    )
    assert paint.primer_ml == pytest.approx(primer, rel=1e-9)
    front = sum(leaf.backer_width_nm * leaf.backer_height_nm for leaf in plan.layout.leaves) / 1e12
    edge = sum(2 * (leaf.backer_width_nm + leaf.backer_height_nm) for leaf in plan.layout.leaves) / 1e6
    holes = [hole for part in plan.body.parts if part.role is Role.BACKER for hole in part.openings_nm]
    front -= sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in holes) / 1e12
    edge += sum(2 * (x1 - x0 + y1 - y0) for x0, y0, x1, y1 in holes) / 1e6
    edge *= plan.brief.backer.thickness_nm / 1e6
    bare = float(paint.glue_field_mm2.sum())
    dyed = paint.ground_way.name == "dye"
    strips = strip_faces(plan.layout, plan.body)
    on_strips = strips.beyond_mm2 if dyed else strips.seen_mm2
    # on the back: rings' backs, sides of the parts, and what of a block reaches past its backer
    behind = strips.beyond_mm2 + strips.ring_backs_mm2 + part_sides_mm2(plan.body)
    for (leaf, x, y, w, h, _), zone in zip(found, plan.layout.blocks.zone.tolist(), strict=True):
        box = plan.layout.leaves[leaf]
        left, low = box.backer_x_nm / 1e6, box.backer_y_nm / 1e6
        on = max(min(x + w, left + box.backer_width_nm / 1e6) - max(x, left), 0)
        on *= max(min(y + h, low + box.backer_height_nm / 1e6) - max(y, low), 0)
        behind += 0 if zone == Zone.RING else w * h - on
    coated = front + edge + behind + (0 if dyed else front - bare + on_strips)
    sealed = coated / 1e6 * asked.primer_coats / asked.primer_m2_per_l * 1e3
    assert paint.ground.seal_ml == pytest.approx(sealed * (1 + asked.primer_reserve), rel=1e-9)
    ml_per_mm2 = 1e3 / 1e6 / asked.colour_m2_per_l * (1 + asked.reserve)
    film = edge if dyed else front - bare + edge + on_strips
    film += paint.ground.wall_half_mm2  # its own area is checked with the hang sheet
    assert paint.ground.colour_ml == pytest.approx(film * asked.coats * ml_per_mm2, rel=1e-9)
    assert paint.ground.dye_ml == pytest.approx((front + on_strips) * ml_per_mm2 if dyed else 0.0, rel=1e-9)
    need = {one.what: one.need_ml for one in paint.buy}
    ready = sum(row.shade not in stained and not paint.pots for row in paint.rows if row.blocks)
    cards = card_primer_ml(plan.brief, paint.pots, ready)
    if ready:
        assert cards == pytest.approx(ready * 60**2 * primer_faces(plan) / asked.primer_m2_per_l * 1e-3)
    cards *= paint.primer_ml > 0
    assert need["primer"] == pytest.approx(primer + cards + paint.ground.seal_ml, rel=1e-9)
    for one in paint.buy:
        assert held_ml(one) >= one.need_ml - 1e-9
        # one tin of the smallest size fewer would not hold it
        assert held_ml(one) - min(size for size, _ in one.tins) < one.need_ml
    shades_ml = sum(ml) + sum(more)
    kinds = ("paint, ", "stain, ", "oil, ", "thinner")
    bought = sum(one.need_ml for one in paint.buy if one.what.startswith(kinds) and "ground" not in one.what)
    # On top: a twentieth of each base is held back, stocks stand in jars, cards of unknown tinters take mixes.
    cards = sum(len(pots.guessed) * (10 + 15 + 20 + 2 + 2) for pots in paint.pots)
    stocks = sum(s.base_ml + s.tinter_ml for pots in paint.pots if pots.one_pot for s in pots.one_pot.stocks)
    assert shades_ml + cards - 1 <= bought <= 1.06 * shades_ml + cards + stocks + 1


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
def test_the_sheet_of_ways_asks_for_what_pots_and_shopping_hold(path):
    plan = plan_from(path.read_text(encoding="utf-8"))
    paint = plan.paint
    assert paint.primer_ml == pytest.approx(paint.way.primer_ml, rel=1e-9)
    assert paint.colour_ml == pytest.approx(paint.way.shade_ml, rel=1e-9)
    recipes = {recipe.shade: recipe.amounts for pots in paint.pots for recipe in pots.recipes}
    for row in paint.rows:
        if row.shade in recipes:
            half_marks_ml = sum(a.measured.tool.mark_ml / 2 for a in recipes[row.shade])
            poured_ml = sum(a.volume_ml for a in recipes[row.shade])
            assert poured_ml == pytest.approx(row.mix_ml, abs=half_marks_ml + 1e-9)
    for one in paint.buy:
        (line,) = [line for line in plan.cost.shopping if (line.what, line.for_what) == (one.what, "paint")]
        assert line.amount.startswith(format_volume(one.need_ml, plan.brief.piece.unit))


def test_a_makers_own_count_stands_beside_the_amounts_and_takes_none_of_them():
    lines = SCHOOL.splitlines()
    share = next(number for number, line in enumerate(lines) if line.startswith("side_share"))
    lines[share] = 'way = "brush"'
    counted, plain = plan_from(SCHOOL).paint, plan_from("\n".join(lines)).paint
    assert counted.buy == plain.buy
    assert counted.painted_mm2 == plain.painted_mm2
    assert plain.counted is None
    assert counted.counted is not None
    assert counted.counted.painted_mm2 < counted.painted_mm2


def test_hours_of_painting_are_one_number_or_say_why_not():
    first, school = plan_from(FIRST), plan_from(SCHOOL)
    (hours,) = (step.hours for step in first.cost.steps if step.step == "prime and paint")
    assert hours == pytest.approx(first.paint.way.attended_h)
    assert "rates.paint" not in repr(paint_ways_sheet(first))
    (own,) = (step.hours for step in school.cost.steps if step.step == "prime and paint")
    assert own != pytest.approx(school.paint.way.attended_h)
    for sheet in (paint_ways_sheet(school), costs_sheet(school)):
        assert "your own minutes" in repr(sheet)
        assert f"{school.paint.way.attended_h:.2f} h for brush" in repr(sheet)


def test_topcoat_is_an_option_with_its_own_amount():
    without, coated = plan_from(FIRST).paint, with_paint('topcoat = "matt varnish"\ngloss = "satin"').paint
    assert without.topcoat_ml == 0
    assert coated.topcoat_ml == pytest.approx(coated.painted_mm2 / 1e6 / 10 * 1e3 * 1.25)
    assert coated.way.attended_h > without.way.attended_h
    assert any(one.what == "topcoat, matt varnish" for one in coated.buy)


def test_each_shade_and_the_ground_have_their_colour_in_figures():
    plan = plan_from(FIRST)
    text = repr(basis_sheet(plan))
    for shade in plan.fade.shades:
        row = (shade.colour_hex, shade.name, shade.colour_hex, *(f"{value:.1f}" for value in shade.lab))
        assert repr(row) in text
    ground = next(one for one in plan.fade.grounds if one.chosen)
    assert f"{f'ground: {ground.name}'!r}, '{ground.colour_hex}', '{ground.lightness:.1f}'" in text


def test_the_clock_of_the_rows_is_read_down_one_column_and_then_the_other() -> None:
    table = _rows("Row 1 at 9. Row 2 at 10. Row 3 at 11.")
    assert table.rows == (("Row 1 at 9.", "Row 3 at 11."), ("Row 2 at 10.", ""))
