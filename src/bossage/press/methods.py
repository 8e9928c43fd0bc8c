"""The ways to press, side by side: what each takes in hours and things, what it risks, and which is advised."""

from __future__ import annotations

import math
from dataclasses import replace

from bossage.brief.records import Brief
from bossage.press.bed import BAG_G, BAG_G_PER_M2
from bossage.press.bed_records import BedCard
from bossage.press.caul import CLAMP_N, G_MM_S2, MOST_CAMBER_MM
from bossage.press.clock import press_schedule, pressings_of
from bossage.press.method_records import Caul, PressMethod, ScrewFit
from bossage.press.records import RowCard
from bossage.press.shims import most_at_once, most_on_a_bed, shims_to_make
from bossage.units import NM_PER_MM

MAKE_BAG_MIN, MAKE_CAUL_MIN, DRILL_MIN, DRIVE_MIN = 3.0, 15.0, 0.25, 0.5
"""Fill a bag, plane a caul, mark and drill a hole, drive a screw: minutes. First guesses, ours."""


def compare_methods(
    brief: Brief,
    cards: tuple[RowCard, ...],
    caul: Caul,
    fits: tuple[ScrewFit, ...],
    beds: tuple[BedCard, ...],
) -> tuple[PressMethod, ...]:
    """All methods for the whole job: the advised one is marked, and the one that the papers are for.

    An edge ring is a job of its own after any of them.

    Advised is the quickest, a waiting hour counted as a quarter of a working one, among those that press every block
    with clamps and for which the shop has what it takes; if there is none, bags.

    Source:
        Minutes and weights as the constants say; open and clamp times from the brief.
    """
    rows = _rows(brief, cards, caul, sets=1)
    several = _rows(brief, cards, caul, sets=max(2, brief.tools.cauls))
    bed = _face_down(brief, beds)
    bags = _bags(brief, cards)
    screws = _screws(brief, fits)
    able = [method for method in (rows, several, bed) if method.has_means]
    best = min(able, key=lambda method: method.rank_h) if able else bags
    way = brief.glue.way or best.name
    return tuple(
        replace(method, advised=method.name == best.name, chosen=method.name == way)
        for method in (rows, several, bed, bags, screws)
    )


def rows_under_bags(brief: Brief, cards: tuple[RowCard, ...]) -> int:
    """More rows than this never lie under bags at once: the first is done before the last is laid."""
    pressings = pressings_of(brief, cards)
    return min(len(pressings), 2 + max(p.press_s // (p.lay_s + p.close_s) for p in pressings))


def _rows(brief: Brief, cards: tuple[RowCard, ...], caul: Caul, *, sets: int) -> PressMethod:
    found = press_schedule(brief, cards, sets)
    shims = sum(shims_to_make(brief, cards, found).values())
    each = max(card.clamps for card in cards)
    missing = _short(each * sets, brief.tools.clamps, "clamp")
    cauls_to_make = max(0, sets - brief.tools.cauls)
    # out of reach a cambered caul is held at its ends; one that would have to be fuller than that cannot be planed
    held = caul.camber_nm <= MOST_CAMBER_MM * NM_PER_MM
    reach = ("clamps that reach in farther",) if caul.rows_out_of_reach and not held else ()
    return PressMethod(
        name="row by row" if sets == 1 else "several sets",
        title="Row by row, face up" if sets == 1 else f"Row by row, {sets} sets of caul and clamps",
        elapsed_h=found.finish_s / 3600,
        attended_h=_attended_h(brief, cards),
        prepare_h=(shims * brief.rates.saw_min + cauls_to_make * MAKE_CAUL_MIN) / 60,
        presses=len(found.pressed),
        shims=shims,
        clamps=each * sets,
        cauls=sets,
        weights_g=0.0,
        screws=0,
        pressure_mpa=caul.pressure_mpa,
        has_means=not missing and not reach,
        missing=missing + reach,
        risks=(
            "Rows drift: check each against a square before its glue sets.",
            "Squeeze-out between rows keeps the next one away; scrape it while it is soft.",
        )
        + (("Two rows in the clamps at once: the second may push the first.",) if sets > 1 else ()),
        advised=False,
        why="Each row is seen and squared before the next; it takes the most hours by the clock."
        if sets == 1
        else "The same rows, with less waiting; more clamps and shims.",
    )


def _face_down(brief: Brief, beds: tuple[BedCard, ...]) -> PressMethod:
    """Blocks laid dry, face down on shims, all backs level; glue rolled over them; the backer put on in one go."""
    glue, leaves = brief.glue, len(beds)
    lay_min = sum(bed.lay_min for bed in beds)
    spread_min = sum(bed.spread_min for bed in beds)
    area_mm2 = max(bed.area_mm2 for bed in beds)
    shims = sum(most_on_a_bed(beds).values())
    cauls = max(bed.cauls for bed in beds)
    attended = lay_min + spread_min + leaves * (glue.close_min + glue.unload_min)
    hands = max(bed.hands for bed in beds)
    missing = _short(2 * cauls, brief.tools.clamps, "clamp")
    if hands > brief.tools.people:
        missing += (f"{hands} people spreading glue, or one with longer open time than {glue.open_min:g} minutes",)
    return PressMethod(
        name="face down",
        title="Whole leaf face down on a bed of shims",
        elapsed_h=(attended + leaves * glue.clamp_min) / 60,
        attended_h=attended / 60,
        prepare_h=(shims * brief.rates.saw_min + max(0, cauls - brief.tools.cauls) * MAKE_CAUL_MIN) / 60,
        presses=leaves,
        shims=shims,
        clamps=2 * cauls,
        cauls=cauls,
        weights_g=0.0,
        screws=0,
        pressure_mpa=2 * cauls * CLAMP_N / area_mm2,
        has_means=not missing,
        missing=missing,
        risks=(
            "Left and right change places: lay from a mirrored map.",
            "A back that lies low is never glued: sweep a straightedge over all backs before spreading.",
            "Paint lies on the shims for the whole time: release paper between.",
            "One open time for everything: whatever goes wrong, goes wrong for the whole leaf.",
        ),
        advised=False,
        why="One cure for a whole leaf; a shim for nearly every block and one fast quarter of an hour.",
    )


def _bags(brief: Brief, cards: tuple[RowCard, ...]) -> PressMethod:
    """Bags of sand follow the heights: no shims, no clamps, and as many rows at once as bags reach over."""
    free = press_schedule(brief, cards, rows_under_bags(brief, cards))
    areas = [batch.glue_g / brief.glue.spread_g_per_m2 for card in cards for batch in card.batches]
    spans = [(p.close_s, p.done_s, {0: areas[p.pressing]}) for p in free.pressed]
    bags = math.ceil(most_at_once(spans).get(0, 0.0) * BAG_G_PER_M2 / BAG_G - 1e-9)
    return PressMethod(
        name="bags",
        title="Bags of sand that follow the heights",
        elapsed_h=free.finish_s / 3600,
        attended_h=_attended_h(brief, cards),
        prepare_h=bags * MAKE_BAG_MIN / 60,
        presses=len(free.pressed),
        shims=0,
        clamps=0,
        cauls=0,
        weights_g=bags * BAG_G,
        screws=0,
        pressure_mpa=BAG_G_PER_M2 / 1e6 / 1e6 * G_MM_S2,
        has_means=True,
        missing=(),
        risks=(
            "About a thousandth of the pressure of clamps: it holds blocks still, it does not close a joint.",
            "Sand in a seam scratches paint: double bags, cloth between.",
            "Rub every block down by hand until it grabs, then lay the bag.",
        ),
        advised=False,
        why="Nothing to cut and nothing to clamp; only as good as each block was rubbed down.",
    )


def _screws(brief: Brief, fits: tuple[ScrewFit, ...]) -> PressMethod:
    """A screw into every block that is deep enough, glue alone for the rest."""
    held = sum(fit.blocks for fit in fits if fit.length_nm is not None)
    alone = sum(fit.blocks for fit in fits) - held
    attended = ((held + alone) * brief.rates.lay_s / 60) + held * DRIVE_MIN
    missing = () if held else ("levels that a screw can bite into without coming through",)
    risks = [
        "Thread in end grain is never counted for holding; the screw only keeps the block still while the glue sets.",
        "A small block splits: drill first, and drive by hand for the last turns.",
        "Every hole has to meet its block: mark the backer from the map, mirrored.",
    ]
    if alone:
        risks.append(f"{alone} blocks are too low for a screw and are held by glue alone: rub and weigh them down.")
    return PressMethod(
        name="screws",
        title="Screws from behind, glue alone where a screw would come through",
        elapsed_h=(attended + brief.glue.clamp_min) / 60,
        attended_h=attended / 60,
        prepare_h=held * DRILL_MIN / 60,
        presses=1,
        shims=0,
        clamps=0,
        cauls=0,
        weights_g=0.0,
        screws=held,
        pressure_mpa=0.0,
        has_means=not missing,
        missing=missing,
        risks=tuple(risks),
        advised=False,
        why="No waiting and no shims; a hole for every block, and no check of the row's height but the eye.",
    )


def _attended_h(brief: Brief, cards: tuple[RowCard, ...]) -> float:
    return sum(p.hands_s for p in pressings_of(brief, cards)) / 3600


def _short(wanted: int, had: int, what: str) -> tuple[str, ...]:
    more = wanted - had
    return () if more <= 0 else (f"{more} more {what}{'s' if more > 1 else ''}",)
