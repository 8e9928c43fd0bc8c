"""The tables of a brief that tell of the making: boards, sticks, cleats, tools, glue, paint, rates, prices."""

from __future__ import annotations

from typing import Annotated

from bossage.brief.kinds import (
    LENGTH,
    LENGTH_OR_ZERO,
    MASS,
    MONEY,
    SIGNED_LENGTH,
    VOLUME,
    Choice,
    Colour,
    Count,
    Duration,
    Flag,
    Length,
    ListOf,
    Number,
    Percent,
)
from bossage.brief.kinds_words import Text
from bossage.brief.tables import Table, said, woods, woods_and_boards
from bossage.brief.tables_hinges import ButtTable, Gauge
from bossage.brief.terms import PRESS_WAYS, WEEKDAYS, Coupling, FixingKind, OpenedBy, Opens, Side
from bossage.units import NM_PER_MM

TRADE = "common practice, no source"
GUESS = "a first guess; put in your own log after twenty blocks"
BOARD = Length(NM_PER_MM, 100 * NM_PER_MM)


class BackerTable(Table):
    """The board behind each leaf."""

    material: Annotated[str, Choice(woods_and_boards)] = said(
        "What it is made of.",
        "plywood_birch",
        "birch plywood stays flat for its thickness (common practice, no source)",
    )
    thickness: Annotated[int, BOARD] = said(
        "Its thickness.", 12 * NM_PER_MM, f"12 mm (1/2 in) carries most pieces; {TRADE}"
    )
    colour: Annotated[str, Colour()] = said("Ground colour that shows in gaps; advised if left out.", "")
    colour_name: Annotated[str, Text(40, empty=True)] = said("What that colour is called.", "")
    fire_class: Annotated[str, Text(60, empty=True)] = said(
        "Reaction to fire as the board's maker states it, as D-s2,d0 (EN 13501-1), for the fire officer's sheet.", ""
    )
    sealed_faces: Annotated[int, Count(0, 2)] = said(
        "How many of its faces are sealed.", 2, "a board sealed on one face only bows"
    )


class SheetTable(Table):
    """A board, bought or in the shop, for backers, strips, cleats, ribs and thin shims."""

    name: Annotated[str | None, Text(60)] = said("What it is called on the shopping list.", None)
    material: Annotated[str | None, Choice(woods_and_boards)] = said("Material; the backer's if left out.", None)
    width: Annotated[int, LENGTH] = said("Its width.")
    height: Annotated[int, LENGTH] = said("Its height.")
    thickness: Annotated[int | None, BOARD] = said("Its thickness; the backer's if left out.", None)
    price: Annotated[int | None, MONEY] = said("Price of one.", None)
    count: Annotated[int | None, Count()] = said("How many there are; as many as wanted if left out.", None)
    owned: Annotated[bool, Flag()] = said("Whether it is already in the shop.", False)
    edge_trim: Annotated[int, LENGTH_OR_ZERO] = said("Cut off all round before use.", 0)
    turn: Annotated[bool, Flag()] = said("Whether pieces may be turned a quarter.", True)


class BehindTable(Table):
    """Wood on the back of each leaf's backer, towards the wall; from a [[stick]] or [[sheet]] of that wood if named."""

    name: Annotated[str | None, Text(60)] = said("What the shop calls it.", None)
    role: Annotated[str, Choice(("rib", "frame", "stile"))] = said("rib, frame or stile.")
    count: Annotated[int, Count(1, 100)] = said("How many on each leaf.")
    length: Annotated[int, LENGTH] = said("Length of one.")
    width: Annotated[int, LENGTH] = said("Size in the plane of the wall.")
    depth: Annotated[int, LENGTH] = said("Size off the backer, towards the wall.")
    species: Annotated[str | None, Choice(woods_and_boards)] = said("Wood; that of the blocks if left out.", None)
    upright: Annotated[bool, Flag()] = said("Upright or lying.", True, "parts on the back usually stand upright")
    at: Annotated[tuple[tuple[int, int], ...], ListOf(ListOf(SIGNED_LENGTH, size=2), most=100)] = said(
        "Lower left corners, [x, y] from the leaf's lower left corner; places are found for those left out.", ()
    )


class CleatTable(Table):
    """The cleat that each leaf hangs on: two halves in one plane."""

    kind: Annotated[str, Choice(("wood", "metal"))] = said("wood or metal.", "wood", "ripped from plywood at 45°")
    material: Annotated[str, Choice(woods_and_boards)] = said("Its material.", "plywood_birch", TRADE)
    thickness: Annotated[int, BOARD] = said(
        "Thickness of the halves.", 18 * NM_PER_MM, f"18 mm (3/4 in) plywood; {TRADE}"
    )
    strip: Annotated[int, LENGTH] = said("Full height of one half.", 75 * NM_PER_MM, f"a 75 mm (3 in) strip; {TRADE}")
    bevel: Annotated[float, Number(20, 60, "°")] = said("Angle of the bevel.", 45.0, "the usual bevel")
    length: Annotated[int | None, LENGTH] = said(
        "Length of the panel half, of each where there are two; found from studs and width if left out.", None
    )
    pieces: Annotated[int, Count(1, 2)] = said(
        "1, or 2 for two cleats side by side on one line, so that what is hidden stays free between them.", 1
    )
    apart: Annotated[int | None, LENGTH] = said(
        "Two cleats: from middle to middle; as far apart as the backer lets them if left out.", None
    )
    packer: Annotated[int | None, LENGTH_OR_ZERO] = said("Packer behind the panel half.", None)
    packer_height: Annotated[int | None, LENGTH] = said(
        "Height of the packer, which ends above the wall half's sharp edge; as high as that allows if left out.", None
    )
    end_distance: Annotated[int, LENGTH_OR_ZERO] = said(
        "How far inside the cleat's end a fixing must stay.", 19_050_000, f"3/4 in (19 mm); {TRADE}"
    )
    offset: Annotated[int, SIGNED_LENGTH] = said("Middle of the cleat, right of the leaf's middle.", 0)
    arm: Annotated[int | None, LENGTH] = said("From the cleat line down to the foot spacer; found if left out.", None)
    line_below_top: Annotated[int | None, LENGTH] = said(
        "Cleat line under the top of the leaf; found if left out.", None
    )
    allowable: Annotated[float | None, MASS] = said(
        "Metal: what a pair of this length may carry as its maker's sheet says, with its factor inside.", None
    )
    rating: Annotated[float | None, MASS] = said(
        "Metal: what the packet says that a pair of this length carries; a quarter of it counts.", None
    )
    hook: Annotated[int | None, LENGTH] = said(
        "Metal: height of the hook, so far the leaf is lifted until it is free; its maker's figure.", None
    )
    lengths: Annotated[tuple[int, ...], ListOf(LENGTH)] = said("Metal: the lengths in which it is sold.", ())
    hole_pitch: Annotated[int | None, LENGTH] = said("Metal: from hole to hole; its screws stand in the holes.", None)
    first_hole: Annotated[int | None, LENGTH] = said(
        "Metal: from each end to the first hole; the row of holes is taken as centred if left out.", None
    )
    foot: Annotated[str, Choice(("leaf", "wall"))] = said(
        "leaf or wall: what the foot spacer is fixed to.", "leaf", "glued to the leaf it needs no hole in the wall"
    )


class BoardTable(Table):
    """Hollow-wall fixings for a leaf that meets fewer than two studs: what their maker says that one carries."""

    allowable: Annotated[float | None, MASS] = said("What one may carry along the wall, with its factor inside.", None)
    rating: Annotated[float | None, MASS] = said("What the packet says that one carries along the wall.", None)
    pull_allowable: Annotated[float | None, MASS] = said(
        "What may pull one straight out of the wall, with its factor inside.", None
    )
    pull_rating: Annotated[float | None, MASS] = said(
        "What the packet says that one carries when it is pulled straight out of the wall.", None
    )


class FixingsTable(Table):
    """What goes into the wall, and what holds the panel half."""

    kind: Annotated[FixingKind | None, Choice(FixingKind)] = said("Kind of fixing; from the wall if left out.", None)
    gauge: Annotated[str | None, Gauge()] = said("Size of the wall screws; as the shops of the unit have it.", None)
    length: Annotated[int | None, LENGTH] = said(
        "Length of the wall screws; by stud or plug if left out, as the shops of the unit have it.", None
    )
    count: Annotated[int | None, Count(1, 200)] = said("How many in each leaf's cleat; found if left out.", None)
    per_stud: Annotated[int, Count(1, 4)] = said("Screws in each stud.", 1, "one screw a stud, then more if needed")
    allowable: Annotated[float | None, MASS] = said("What one may carry along the wall, with its factor inside.", None)
    rating: Annotated[float | None, MASS] = said("What the packet says that one carries along the wall.", None)
    pull_allowable: Annotated[float | None, MASS] = said(
        "What may pull one straight out of the wall, with its factor inside; the same again where its maker gives one "
        "figure for every direction.",
        None,
    )
    pull_rating: Annotated[float | None, MASS] = said(
        "What the packet says that one carries when it is pulled straight out of the wall.", None
    )
    board: BoardTable | None = said("Hollow-wall fixings that take over where a leaf meets fewer than two studs.", None)
    panel_gauge: Annotated[str | None, Gauge()] = said(
        "Size of the screws that hold the panel half on the leaf; found if left out.", None
    )
    panel_length: Annotated[int | None, LENGTH] = said("Length of these screws; found if left out.", None)
    panel_count: Annotated[int | None, Count(1, 200)] = said("How many of them; found if left out.", None)
    panel_glued: Annotated[bool, Flag()] = said("Whether the panel half is glued as well.", True, TRADE)


class AccessTable(Table):
    """How the piece gives way to what it hides."""

    opens: Annotated[Opens, Choice(Opens)] = said(
        "lift-off or swing.", Opens.LIFT_OFF, "a cleat lets the piece be lifted off"
    )
    tool: Annotated[bool, Flag()] = said("Whether a screw or a tool stands between hand and opening.", False)
    hinge: Annotated[Side, Choice(Side)] = said("swing: the side that it is hung on.", Side.LEFT)
    angle: Annotated[float, Number(0, 180, "°")] = said("swing: how far it opens.", 90.0)
    butt: ButtTable | None = said("swing: the butt hinge, as measured on the one that is bought.", None)
    marked: Annotated[bool, Flag()] = said("Whether a mark outside tells where and how it opens.", False)
    lock: Annotated[bool, Flag()] = said("Whether an anti-lift lock is fitted.", False)
    lock_allowable: Annotated[float | None, MASS] = said("What the anti-lift lock may hold, by its maker.", None)
    tug: Annotated[float, MASS] = said(
        "A pull or a lean by accident, as the mass that weighs as much: at an edge, a corner, an edge block.",
        10_000.0,
        "about 100 N, with which wall units are pushed up in tests (EN 16122 10.1.4; the figure from memory)",
    )
    fixed_to_fixture: Annotated[bool, Flag()] = said("Whether anything is fixed to the fixture itself.", False)
    opened_by: Annotated[OpenedBy, Choice(OpenedBy)] = said(
        "Who opens it: standing, or seated (in a wheelchair).", OpenedBy.STANDING, "nobody was said to sit"
    )
    grip: Annotated[int | None, LENGTH] = said(
        "Where it is taken hold of to open it, over the floor; half its height if left out.", None
    )
    air: Annotated[int, LENGTH_OR_ZERO] = said(
        "Clear air over the proudest fixture.", 12 * NM_PER_MM, "sources disagree; 12 mm is our assumption"
    )


class LiftTable(Table):
    """The lift at the hook, in the terms of the revised lifting equation (NIOSH 94-110)."""

    horizontal: Annotated[int | None, LENGTH] = said("From the ankles to the hands.", None)
    vertical: Annotated[int | None, LENGTH_OR_ZERO] = said("From the floor to the hands.", None)
    travel: Annotated[int | None, LENGTH_OR_ZERO] = said("How far the hands rise.", None)
    turn: Annotated[float, Number(0, 180, "°")] = said("How far the body turns.", 0.0)
    per_minute: Annotated[float, Number(0, 15)] = said("Lifts a minute.", 0.2, "hung or taken down once")
    coupling: Annotated[Coupling, Choice(Coupling)] = said(
        "good, fair or poor hold for the hands.", Coupling.POOR, "a wide piece without handles, held by its backer"
    )
    people: Annotated[int, Count(1, 6)] = said("How many lift it.", 1, "the careful case")


class StickTable(Table):
    """Sticks of one section and length, bought or on the shelf, for blocks or for long parts of that section."""

    name: Annotated[str | None, Text(40)] = said("Name of the section; several lengths may share it.", None)
    width: Annotated[int | None, LENGTH] = said("Section as measured; the footprint's face if left out.", None)
    height: Annotated[int | None, LENGTH] = said("Section as measured; the footprint's face if left out.", None)
    bought_as: Annotated[str, Text(60, empty=True)] = said("What to ask for at the yard.", "")
    length: Annotated[int, LENGTH] = said("Length of one stick.")
    price: Annotated[int | None, MONEY] = said("Price of one stick.", None)
    count: Annotated[int | None, Count()] = said("How many there are; as many as wanted if left out.", None)
    owned: Annotated[bool, Flag()] = said("Whether it is already in the shop: an offcut, or stock on hand.", False)
    trim: Annotated[int, LENGTH_OR_ZERO] = said("Squared off at one end.", 30 * NM_PER_MM, TRADE)
    stub: Annotated[int, LENGTH_OR_ZERO] = said(
        "Last part, never cut: what the saw must hold.",
        200 * NM_PER_MM,
        "200 mm (8 in) can be held on a power saw, 80 mm (3 in) clamped in a mitre box (our assumption)",
    )
    no_go: Annotated[tuple[tuple[int, int], ...], ListOf(ListOf(LENGTH_OR_ZERO, size=2))] = said(
        "Parts not to be used, as [from, to] along the stick.", ()
    )
    spares: Annotated[float, Percent()] = said(
        "Extra slices of each length, rounded up.", 8.0, "sources disagree; 8 % is our assumption"
    )
    species: Annotated[str | None, Choice(woods)] = said("Wood; that of the blocks if left out.", None)


class ToolsTable(Table):
    """What the shop has."""

    saw: Annotated[str, Choice(("power saw", "mitre box"))] = said(
        "power saw or mitre box.", "power saw", "the usual tool"
    )
    kerf: Annotated[int, Length(100_000, 10 * NM_PER_MM)] = said(
        "What a cut takes away.", 3_200_000, "1/8 in (3.2 mm) is usual"
    )
    hold: Annotated[int, LENGTH] = said(
        "Hands stay so far from the blade.", 150 * NM_PER_MM, "sources disagree; 150 mm (6 in) is our assumption"
    )
    short_slice: Annotated[int, LENGTH_OR_ZERO] = said(
        "Slices shorter than this, blocks or shims, are short: shims then come out of board or card.",
        12 * NM_PER_MM,
        "12 mm (1/2 in) is our assumption",
    )
    keep_offcut: Annotated[int, LENGTH] = said("Rests from this length on are kept.", 300 * NM_PER_MM, TRADE)
    clamps: Annotated[int, Count(0, 500)] = said("How many clamps.", 8, "our assumption; count yours")
    cauls: Annotated[int, Count(0, 100)] = said("How many rows can be pressed at once.", 1, "one set, made for the job")
    clamp_reach: Annotated[int, LENGTH] = said(
        "Throat of the clamps: from bar or frame to the middle of the pads.",
        100 * NM_PER_MM,
        "taken as short until you measure yours",
    )
    clamp_opening: Annotated[int, LENGTH] = said(
        "How far the clamps open, pad to pad.", 100 * NM_PER_MM, "taken as short until you measure yours"
    )
    measure: Annotated[float, VOLUME] = said(
        "The marks of the finest tool that paint is measured out with.", 0.1, "the marks of a 1 mL syringe"
    )
    people: Annotated[int, Count(1, 6)] = said("Pairs of hands at the glue.", 1, "the careful case")
    bench: Annotated[int, Count(1, 20)] = said("How many leaves can lie on the bench at once.", 1, "one bench")
    day_from: Annotated[float, Number(0, 24)] = said("Work begins, hour of the clock.", 9.0, "our assumption")
    day_to: Annotated[float, Number(0, 24)] = said("Work ends, hour of the clock.", 17.0, "our assumption")
    days_off: Annotated[tuple[str, ...], ListOf(Choice(WEEKDAYS), most=7)] = said("Days of the week without work.", ())
    set_time: Annotated[float, Duration(0, 3600, "s")] = said(
        "Seconds to move the stop and to cut and measure the first slice.", 180.0, GUESS
    )
    load_time: Annotated[float, Duration(0, 3600, "s")] = said(
        "Seconds to fetch a stick and lay it against fence and stop.", 45.0, GUESS
    )
    cut_time: Annotated[float, Duration(0, 600, "s")] = said("Seconds for one cut, the slice put by.", 20.0, GUESS)
    sticks_at_once: Annotated[int | None, Count(1, 1000)] = said(
        "How many sticks can lie at the saw together; all if left out.", None
    )
    capacity: Annotated[tuple[int, int] | None, ListOf(LENGTH, size=2)] = said(
        "Width and height of the largest section that the saw cuts in one go; not looked at if left out.", None
    )


class GlueTable(Table):
    """The glue and its clock."""

    name: Annotated[str, Text(60)] = said("What it is.", "white wood glue", "the usual glue indoors")
    open_time: Annotated[float, Duration(0.5, 240)] = said(
        "From spreading to the last block laid, minutes.",
        8.0,
        "sources disagree; 8 min for ordinary white or yellow glue is our assumption",
    )
    clamp_time: Annotated[float, Duration(0, 2880)] = said(
        "In the clamps, minutes.", 45.0, "sources disagree; 45 min is our assumption"
    )
    close_time: Annotated[float, Duration(0, 120)] = said(
        "From the last block laid to pressure on, minutes.", 2.0, "our assumption"
    )
    unload_time: Annotated[float, Duration(0, 120)] = said(
        "Clamps off and the next row set up, minutes.", 3.0, "our assumption"
    )
    spread_g_per_m2: Annotated[float, Number(10, 1000)] = said(
        "Wet glue on the joint.", 250.0, "end grain takes about twice the usual 120 to 150 g/m² (our assumption)"
    )
    dry_g_per_m2: Annotated[float, Number(0, 1000)] = said(
        "What stays of it.", 120.0, "about half of it is water (our assumption)"
    )
    way: Annotated[str | None, Choice(PRESS_WAYS)] = said(
        "How the piece is pressed: row by row, several sets, face down, bags or screws; the advised way if left out.",
        None,
    )


class RatesTable(Table):
    """Minutes a block, fixed hours, and what is added to money."""

    saw: Annotated[float, Duration(0, 60)] = said("Minutes to saw a block.", 0.75, GUESS)
    sand: Annotated[float, Duration(0, 60)] = said("Minutes to break edges and sand a block.", 1.5, GUESS)
    paint: Annotated[float | None, Duration(0, 60)] = said(
        "Minutes to prime and paint a block, by your own log; as the way of painting takes if left out.", None
    )
    lay: Annotated[float, Duration(0, 60)] = said("Minutes to lay out a block dry.", 0.75, GUESS)
    glue: Annotated[float, Duration(0, 60)] = said("Minutes to glue a block.", 0.7, GUESS)
    fixed_hours: Annotated[float, Duration(0, 1000, "h")] = said(
        "Hours for frame, backer, cleat and hanging.", 6.0, "four to eight hours is usual (our assumption)"
    )
    lay_time: Annotated[float, Duration(1, 600, "s")] = said(
        "Seconds to lay one block into wet glue.", 20.0, "sources disagree; 20 s is our assumption"
    )
    hourly: Annotated[int | None, MONEY] = said("Price of an hour.", None)
    overhead: Annotated[float, Percent(0, 500)] = said("Overhead, of labour.", 20.0, "our assumption")
    contingency: Annotated[float, Percent(0, 500)] = said("Contingency, of labour.", 15.0, "our assumption")
    markup: Annotated[float, Percent(0, 500)] = said("Added to materials.", 25.0, "our assumption")
    deposit: Annotated[float, Percent(0, 100)] = said("Paid at the start.", 50.0, "mostly a half")
    repeat_step: Annotated[float, Percent(0, 100)] = said(
        "Each repeat takes so much less of the first.", 5.0, "our assumption"
    )
    repeat_floor: Annotated[float, Percent(0, 100)] = said(
        "But never less than this part of the first.", 70.0, "our assumption"
    )


class PriceTable(Table):
    """A line of the shopping list that is priced as a lump."""

    what: Annotated[str, Text(80)] = said("What it is for.")
    price: Annotated[int, MONEY] = said("What it costs, all together.")
    covers: Annotated[tuple[str, ...], ListOf(Text(40))] = said(
        "What it pays for: a group (wood, boards, paint, glue, fixings) or a word of the line (primer, rib).", ()
    )
