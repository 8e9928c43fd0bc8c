"""The table of a brief that tells of painting: coats, coverage, the way of painting, tins."""

from __future__ import annotations

from typing import Annotated

from bossage.brief.kinds import MONEY, VOLUME, Choice, Count, Duration, Flag, Length, Number, Percent
from bossage.brief.kinds_words import Text
from bossage.brief.tables import Table, said
from bossage.brief.terms import GLOSSES, GROUND_WAYS, PAINT_WAYS
from bossage.units import NM_PER_MM


class TinTable(Table):
    """A tin as it is sold where you buy."""

    what: Annotated[str, Text(60)] = said("Of what: primer, base, paint, ground, topcoat, or a tinter by its name.")
    size: Annotated[float, VOLUME] = said("How much is in it.")
    price: Annotated[int | None, MONEY] = said("Price of one.", None)


class PaintTable(Table):
    """Coats and how far they go, and how they are put on."""

    way: Annotated[str | None, Choice(PAINT_WAYS)] = said(
        "How blocks are painted: brush, brush to line, roll, sticks first, spray or dip; the advised way if left out.",
        None,
    )
    ground: Annotated[str | None, Choice(GROUND_WAYS)] = said(
        "How the front of the backer gets its colour: lines (where it shows), dye (a stain that wood glue holds on) or "
        "all over (paint under the glue, never advised); the least labour if left out.",
        None,
    )
    brushes: Annotated[int, Count(1, 20)] = said("Brushes or rollers at work at once.", 1, "one painter")
    rack: Annotated[float, Number(0.05, 200)] = said(
        "Square metres where painted blocks can stand to dry.", 1.0, "a table top (our assumption); measure yours"
    )
    dry_time: Annotated[float, Duration(0.25, 240, "h")] = said(
        "Hours between two coats.", 4.0, "two to six on labels (common practice); your label governs"
    )
    sprayer: Annotated[bool, Flag()] = said("Whether there is a sprayer and a place for it.", False, "most have none")
    topcoat: Annotated[str, Text(60)] = said("A clear coat over the colour, by name; none if left out.", "")
    topcoat_coats: Annotated[int, Count(1, 4)] = said("Coats of it.", 1, "one evens the gloss (common practice)")
    topcoat_m2_per_litre: Annotated[float, Number(1, 30)] = said(
        "Topcoat, one coat, square metres a litre.", 10.0, "over paint it goes further than colour (our assumption)"
    )
    gloss: Annotated[str, Choice(GLOSSES)] = said(
        "How the finished coat shines: matt, satin or gloss.",
        "matt",
        "a matt face shows its shade from every side (common practice)",
    )
    tins: list[TinTable] = said("Tins as they are sold, in place of the usual sizes.", [])

    coats: Annotated[int, Count(1, 6)] = said("Colour coats.", 2, "two coats cover; one does not")
    m2_per_litre: Annotated[float, Number(1, 30)] = said(
        "Colour, one coat, square metres a litre.", 8.0, "small faces waste paint (our assumption)"
    )
    reserve: Annotated[float, Percent(0, 200, scale=0.01)] = said(
        "Mixed beyond what is needed.", 0.25, "a second mix never matches; a quarter more is our assumption"
    )
    primer_coats: Annotated[int, Count(0, 4)] = said(
        "Coats of primer or sealer.", 1, "on all that is painted; faces of resinous softwood get a second one"
    )
    primer_reserve: Annotated[float, Percent(0, 200, scale=0.01)] = said(
        "Primer beyond what is needed.", 0.1, "a tray and a brush keep some back (our assumption)"
    )
    primer_m2_per_litre: Annotated[float, Number(1, 30)] = said(
        "Primer on end grain, square metres a litre.", 5.0, "end grain takes about double (our assumption)"
    )
    side_share: Annotated[float | None, Number(0, 1)] = said(
        "Share of each side that was painted on earlier pieces, by your own count: weighs the dry paint and is printed "
        "beside the amounts, which are of the way of painting.",
        None,
    )
    dry_g_per_m2: Annotated[float, Number(0, 1000)] = said("What all coats weigh when dry.", 150.0, "our assumption")
    build: Annotated[int, Length(0, 2 * NM_PER_MM)] = said(
        "How thick all coats on one side are when dry.", 100_000, "three brushed coats; our assumption, measure yours"
    )
    fire_class: Annotated[str, Text(60, empty=True)] = said(
        "Reaction to fire as the coating's maker states it, as D-s2,d0 (EN 13501-1), for the fire officer's sheet.", ""
    )
    blue_wool: Annotated[int | None, Count(1, 8)] = said(
        "Lightfastness of the colours on the blue wool scale, 1 to 8, as their maker says; the lowest of all.", None
    )
    dressed: Annotated[bool, Flag()] = said(
        "Whether sticks are squared smaller than their blocks by the paint of both sides, so that painted blocks have "
        "their size.",
        False,
        "sections are used as they are bought",
    )
