"""The stage: row cards, shims, glue, hours, the ring."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.checks import Caution
from bossage.hang import Hang
from bossage.press.bed import bed_cards
from bossage.press.bench import Bench
from bossage.press.bow import backer_bow, bow_figures, check_bow
from bossage.press.caul import check_caul, plan_caul
from bossage.press.cleat_bow import check_cleat_bow
from bossage.press.clock import press_hours, press_schedule
from bossage.press.house import check_gap, house_figures, wood_in_house
from bossage.press.methods import compare_methods
from bossage.press.press_checks import beds_in_open_time, clamp_checks, rows_in_open_time
from bossage.press.records import Press
from bossage.press.rest import rests_of
from bossage.press.ring import check_ring, ring_figures, ring_job
from bossage.press.rows import batch_most, row_cards
from bossage.press.screws import screw_fits
from bossage.press.shim_checks import check_shims
from bossage.press.shim_cut import cut_shims, panel_shims
from bossage.press.shims import bed_shim_needs, shim_face_nm, shim_needs, shim_section
from bossage.press.short_slices import check_short_slices, compare_shims, short_slice_cautions
from bossage.relief import Relief
from bossage.saw import Saw

ROW_WAYS = ("row by row", "several sets")

CAUTIONS = (
    Caution(
        step="glue",
        text=(
            "Gloves, air, and the label: some glues irritate skin and lungs. "
            "Keep the glue 3 to 4 mm (1/8 in) off the edges of every back: in a tight row nothing can be wiped."
        ),
        source="Common practice, no source",
    ),
    Caution(
        step="press",
        text="A caul under clamps can spring off: stand aside while tightening, tighten from the middle outwards.",
        source="Common practice, no source",
    ),
)


def plan_press(brief: Brief, bench: Bench, relief: Relief, saw: Saw, hang: Hang) -> Press:
    """Glue and press the piece: every way beside the others, and the cards of the one that is chosen or advised.

    Source:
        Open and clamp times are the brief's; the defaults are this project's own choice among figures that disagree
        (docs/decisions). 30 to 60 minutes in the clamps before the next row: common practice, no source.
    """
    cards = row_cards(brief, bench, relief)
    sets = max(1, brief.tools.cauls)
    found = press_schedule(brief, cards, sets)
    beds = bed_cards(brief, bench, relief)
    caul, fits = plan_caul(brief, bench, relief, cards, hang.bond_margin), screw_fits(brief, bench, relief)
    methods = compare_methods(brief, cards, caul, fits, beds)
    way = next(method.name for method in methods if method.chosen)
    ring = ring_job(brief, bench, relief, face_down=way == "face down")
    wet = sum(card.glue_g for card in cards) + (0.0 if ring is None else ring.glue_g)
    if way == "face down":
        shims = bed_shim_needs(brief, bench, beds)
    else:
        shims = shim_needs(brief, bench, cards, found) if way in ROW_WAYS else ()
    shim_cut = cut_shims(brief, shims, saw.sticks_left)
    face_nm = shim_face_nm(brief, shim_section(brief, bench))
    panels = panel_shims(brief, shims, face_nm, saw.boards_left)
    short = check_short_slices(brief, relief, shims)
    house, bow = wood_in_house(brief, bench), backer_bow(brief, bench, relief)
    on_cleat = check_cleat_bow(brief, bow, hang.bowed)
    return Press(
        rows=cards,
        shims=shims,
        glue_wet_g=wet,
        glue_dry_g=wet / brief.glue.spread_g_per_m2 * brief.glue.dry_g_per_m2,
        batch_most=batch_most(brief),
        hours=tuple(press_hours(brief, cards, n) for n in sorted({1, 2, sets})),
        ring=ring,
        schedule=found,
        shim_cut=shim_cut,
        shim_ways=compare_shims(brief, relief, cards, found, shims) if way in ROW_WAYS else (),
        shim_panels=panels,
        caul=caul,
        screws=fits,
        rests=rests_of(bench, cards),
        methods=methods,
        beds=beds,
        house=house,
        bow=bow,
        figures=house_figures(brief, house) | bow_figures(bow) | ring_figures(ring),
        cautions=(*short_slice_cautions(brief, short), *CAUTIONS),
        checks=(
            beds_in_open_time(brief, beds) if way == "face down" else rows_in_open_time(brief, cards),
            *clamp_checks(brief, cards, caul),
            *check_caul(brief, caul),
            check_gap(brief, house),
            check_bow(brief, bow),
            *(() if on_cleat is None else (on_cleat,)),
            short,
            *check_shims(brief, shim_cut, panels),
            *(() if ring is None else (check_ring(brief, ring),)),
        ),
    )
