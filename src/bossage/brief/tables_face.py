"""The tables of a brief that tell of the face: blocks, footprints, edge, families, fade, pins."""

from __future__ import annotations

from typing import Annotated, Any

from bossage.brief.kinds import (
    LENGTH,
    LENGTH_OR_ZERO,
    MASS,
    SIGNED_LENGTH,
    Choice,
    Choose,
    Colour,
    Count,
    Flag,
    Length,
    ListOf,
    Number,
    PaintColour,
    Percent,
)
from bossage.brief.kinds_face import LEVEL, Levels, Lightness, PerLevel, is_list
from bossage.brief.kinds_words import Text
from bossage.brief.tables import Table, said, woods, woods_and_boards
from bossage.brief.terms import FINISHES, EdgeStyle, FadeShape
from bossage.units import NM_PER_MM

HOMES = (
    "left",
    "right",
    "top",
    "bottom",
    "upper left",
    "upper right",
    "lower left",
    "lower right",
    "middle",
    "rim",
    "between",
)
SHARE = Number(0, 1)
# Nothing narrower is sawn, glued and painted by hand (our assumption); nothing wider is covered by what timber's
# equations are fitted to.
FACE = Length(5 * NM_PER_MM, 2000 * NM_PER_MM)
MOST_BLOCKS = 20_000


class FootprintTable(Table):
    """One face size of block. Give quotas or weights or neither, not both."""

    name: Annotated[str | None, Text(40)] = said("What fills call it.", None)
    width: Annotated[int, FACE] = said("Width of the face, measured.")
    height: Annotated[int, FACE] = said("Height of the face, measured.")
    section: Annotated[str | None, Text(40)] = said("The stick section that it is sliced from.", None)
    quotas: Annotated[Any, PerLevel(Count())] = said("Blocks of each level, on each leaf.", None)
    weights: Annotated[Any, PerLevel(Number(0, 1e6))] = said("Share of each level; only their ratio counts.", None)
    levels: Annotated[tuple[int, ...] | None, ListOf(LEVEL, least=1)] = said(
        "The levels that this footprint may take; all if left out.", None
    )
    spread: Annotated[int, LENGTH_OR_ZERO] = said(
        "Measured plus-or-minus of its size.",
        500_000,
        "half a millimetre either way is usual for planed or sawn stock (common practice, no source)",
    )
    cells: Annotated[tuple[int, int] | None, ListOf(Count(1, 6), size=2)] = said(
        "Columns and rows of cells that it covers, as [2, 1]: blocks of several sizes then lie on one grid, in place "
        "of fills.",
        None,
    )
    count: Annotated[int | None, Count()] = said("With cells: how many there are on each leaf.", None)
    share: Annotated[float | None, Number(0, 1e6, above=True)] = said(
        "With cells: its part of the blocks that counts leave open; only the ratio matters. 1 if left out.", None
    )


class FillTable(Table):
    """One way to fill a module of the grid: rows of footprint names, top row first."""

    rows: Annotated[tuple[tuple[str, ...], ...], ListOf(ListOf(Text(40), least=1, most=50), least=1, most=50)] = said(
        "Footprint names, row by row from the top, each from the left."
    )
    count: Annotated[int | None, Count()] = said("How many modules of each leaf; left out, it takes the rest.", None)


class LeafTable(Table):
    """A part with a backer of its own, lifted by itself."""

    name: Annotated[str | None, Text(40)] = said(
        "What the shop calls it, best by its place: left, middle, upper.", None
    )
    x: Annotated[int | None, LENGTH_OR_ZERO] = said("Left edge on the wall; worked out if left out.", None)
    y: Annotated[int | None, LENGTH_OR_ZERO] = said("Lower edge on the wall; worked out if left out.", None)
    open: Annotated[tuple[tuple[int, int], ...], ListOf(ListOf(Count(1), size=2))] = said(
        "Cells left open, as [row, column], both from 1 at the upper left.", ()
    )


class PinTable(Table):
    """A block that is settled."""

    leaf: Annotated[str | None, Text(40)] = said("Which leaf; the first if left out.", None)
    block: Annotated[str, Text(20)] = said("Its address: row·column, as 7·12 or 7.12, with a letter in a split cell.")
    level: Annotated[int | None, LEVEL] = said("Its height.", None)
    shade: Annotated[str | None, Text(60)] = said("Its shade, family and lightness: 'moss 62'.", None)


class BlocksTable(Table):
    """The grid, the heights and the wood of the blocks."""

    columns: Annotated[int | None, Count(1)] = said("Cells across a leaf; found from what is hidden if left out.", None)
    rows: Annotated[int | None, Count(1)] = said("Cells up a leaf; found from what is hidden if left out.", None)
    fire_class: Annotated[str, Text(60, empty=True)] = said(
        "Reaction to fire as the wood's maker states it, as D-s2,d0 (EN 13501-1), for the fire officer's sheet.", ""
    )
    module: Annotated[tuple[int, int] | None, ListOf(LENGTH, size=2)] = said(
        "Width and height of a cell without the gap round it; from one cell to the next it is a module and a gap. From "
        "the fills if left out.",
        None,
    )
    gap: Annotated[int, LENGTH_OR_ZERO] = said(
        "Space between blocks, added to their sizes: it is not part of the module or of a footprint.",
        0,
        "blocks laid tight hide the backer best",
    )
    levels: Annotated[tuple[int, ...] | None, Levels()] = said("Heights of blocks above the backer.", None)
    min_step: Annotated[int, Count(1, 20)] = said(
        "Neighbours differ by at least so many levels.", 1, "no two neighbours on one level is the rule of a relief"
    )
    corners_count: Annotated[bool, Flag()] = said(
        "Whether blocks that touch at a corner count as neighbours.", False, "only a shared edge shows a step"
    )
    species: Annotated[str, Choice(woods)] = said(
        "Wood of the blocks.", "spf", "the usual mixed softwood; name yours, mass and movement follow it"
    )
    moisture_sawn: Annotated[float | None, Percent(1, 30)] = said(
        "Moisture when sawn, measured; from the shop's air if left out.", None
    )
    moisture_laid: Annotated[float | None, Percent(1, 30)] = said(
        "Moisture when glued on, after a rest in the room; as when sawn if left out.", None
    )
    moisture_use: Annotated[Any, Choose(is_list, ListOf(Percent(1, 30), size=2), Percent(1, 30))] = said(
        "Moisture in use, measured: one number, or [driest, dampest]; from the room's air if left out.", None
    )
    through_joints: Annotated[bool, Flag()] = said(
        "Footprints with cells: whether a joint may run straight through a leaf from edge to edge.", True
    )
    leaf_gap: Annotated[int, LENGTH_OR_ZERO] = said(
        "Space between leaves side by side.", 3_000_000, "enough to lift one leaf past the next (our assumption)"
    )
    cover_margin: Annotated[int, LENGTH_OR_ZERO] = said(
        "How far the piece reaches past what it hides.", 50_000_000, "sources disagree; 50 mm is our assumption"
    )
    edge_levels: Annotated[tuple[int, ...] | None, ListOf(LEVEL, least=1)] = said(
        "Levels that blocks at the outline of the piece may take, such as no tall ones; all if left out.", None
    )
    mass: Annotated[float | None, MASS] = said(
        "What all blocks of the piece are to weigh; footprints without quotas then lean to low or high levels.", None
    )
    ring_quotas: Annotated[Any, PerLevel(Count())] = said(
        "Blocks of each level in the ring of an outrigger edge; quotas of footprints then mean the field.", None
    )


class EdgeTable(Table):
    """How the outer blocks end. Only the keys of the chosen style may be given."""

    style: Annotated[EdgeStyle, Choice(EdgeStyle)] = said(
        "inset, outrigger or banded.", EdgeStyle.INSET, "the simplest edge: the blocks overhang the backer"
    )
    overhang: Annotated[int | None, LENGTH_OR_ZERO] = said("inset: how far the blocks reach past the backer.", None)
    strip_thickness: Annotated[int | None, LENGTH] = said("outrigger: thickness of the edge strips.", None)
    strip_width: Annotated[int | None, LENGTH] = said("outrigger: width of the edge strips.", None)
    strip_behind: Annotated[int | None, LENGTH] = said("outrigger: how much of the width laps behind the backer.", None)
    run_out: Annotated[int | None, SIGNED_LENGTH] = said(
        "outrigger: how far the strips that own the corners run past the backer at each end.", None
    )
    strip_material: Annotated[str | None, Choice(woods_and_boards)] = said("outrigger: material of the strips.", None)
    corners: Annotated[str | None, Choice(("horizontal", "upright"))] = said(
        "outrigger: which strips own the corners.", None
    )
    bond_share: Annotated[float, Number(0, 1)] = said(
        "The least part of a footprint that must be glued.", 1 / 3, "common practice, no source"
    )
    lipping_thickness: Annotated[int | None, LENGTH] = said("banded: thickness of the lipping.", None)
    lipping_depth: Annotated[int | None, LENGTH] = said("banded: how deep the lipping is, back to front.", None)
    lipping_species: Annotated[str | None, Choice(woods)] = said("banded: wood of the lipping.", None)


class TinterTable(Table):
    """A strong colour that is put into the base."""

    name: Annotated[str, Text(40)] = said("What is written on the pot.")
    colour: Annotated[Any, PaintColour()] = said("Colour of its opaque coat: hex, or [L, a, b] as measured.")
    uncertainty: Annotated[float | None, Number(0.1, 30)] = said(
        "CIEDE2000 that holds the truth 9 times in 10, where the colour was measured.", None
    )
    g_per_ml: Annotated[float | None, Number(0.5, 5)] = said("Grams of a millilitre; then recipes give grams.", None)


class CardTable(Table):
    """A painted and dried test card of a known mix."""

    tinter: Annotated[str, Text(40)] = said("Which tinter.")
    fraction: Annotated[float, Number(0, 1, above=True)] = said("Parts of tinter in the whole, by volume.")
    colour: Annotated[Any, PaintColour()] = said("The colour that it dried to: hex, or [L, a, b] as measured.")
    uncertainty: Annotated[float | None, Number(0.1, 30)] = said(
        "CIEDE2000 that holds the truth 9 times in 10; a card that is less sure counts less.", None
    )


class FamilyTable(Table):
    """Colours of one base and its tinters, or of one hue bought ready mixed."""

    name: Annotated[str, Text(40)] = said("What its shades are called by: 'moss'.")
    lightness: Annotated[Any, Lightness()] = said(
        "CIE lightness L* of each shade, from its home outward; or { from, to, shades } for steps that look even."
    )
    home: Annotated[Any, Choose(is_list, ListOf(Number(0, 1), size=2), Choice(HOMES))] = said(
        "Where it lives: a side, a corner, middle, rim, between, or [across, up] as fractions.", None
    )
    colour: Annotated[str, Colour()] = said("A colour that gives its hue, where it is not mixed from a base.", "")
    base: Annotated[Any, PaintColour()] = said(
        "Colour of the base, usually a white: hex, or [L, a, b] as measured.", ""
    )
    base_g_per_ml: Annotated[float | None, Number(0.5, 5)] = said(
        "Grams of a millilitre of base; then recipes give grams.", None
    )
    tinters: list[TinterTable] = said("What is put into the base.", [])
    cards: list[CardTable] = said("Test cards that have been painted.", [])
    finish: Annotated[str, Choice(FINISHES)] = said(
        "paint, or a clear finish on bare wood: stain (let down with thinner), oil or wax (whole coats). A clear "
        "finish takes one tinter: its colour after one coat on a side of this wood. Its base is the wood's own colour, "
        "by species if left out.",
        "paint",
    )
    end_grain: Annotated[float | None, Number(0.5, 6)] = said(
        "Clear finish: how many times as much goes into end grain as into a side; 1.5, or by the cards, if left out.",
        None,
    )
    measured: Annotated[bool, Flag()] = said(
        "Whether the hex colours of base, tinters and cards were read off dry coats: they then go in as they are, even "
        "where no coat seen with its gloss can have them.",
        False,
    )
    mixed: Annotated[
        tuple[Any, ...] | None, ListOf(Choose(is_list, ListOf(SHARE, least=1, most=6), SHARE), most=60)
    ] = said(
        "Pots that are mixed already: tinter in the whole, by volume, one number for each shade (one list for each, "
        "where there are several tinters). Their shades keep the names that `lightness` gave them.",
        None,
    )
    quotas: Annotated[tuple[int, ...] | None, ListOf(Count(), least=1)] = said(
        "Blocks of each shade, over the whole piece.", None
    )


class FadeTable(Table):
    """How the colours run over the piece."""

    shape: Annotated[FadeShape, Choice(FadeShape)] = said(
        "path: one scale from the first home to the last; free: each family spreads; bands: flat fields that drift.",
        FadeShape.PATH,
        "one scale from the first home to the last is the plainest fade",
    )
    grain: Annotated[float, Number(0, 1.5)] = said(
        "How far blocks stray from the even fade, in shades.",
        0.7,
        "enough that no line of equal shade is seen (our assumption)",
    )
    shades: Annotated[int | None, Count(2, 400)] = said(
        "Shades of all families together, shared out so that one step looks like another; for families whose lightness "
        "gives from and to only.",
        None,
    )
    shades_each: Annotated[int | None, Count(1, 400)] = said(
        "How many of the shades each piece of a series takes, another choice for each; all if left out.", None
    )
    neighbours_differ: Annotated[bool, Flag()] = said(
        "Whether neighbours must differ in shade.", False, "in a fade neighbours may well be alike"
    )
    neighbours_lightness: Annotated[float, Number(0, 50)] = said(
        "Neighbours differ by at least so much in L*; 0 lets them agree.", 0.0, "in a fade neighbours may well be alike"
    )
    meet_lightness: Annotated[float, Number(0, 20)] = said(
        "Largest difference in L* where two families meet.", 0.5, "half a step of L* is not seen (our assumption)"
    )
    meet_colour: Annotated[float, Number(0, 40)] = said(
        "Largest CIEDE2000 difference where two families meet.",
        5.0,
        "seen side by side but not as a border (our assumption)",
    )
