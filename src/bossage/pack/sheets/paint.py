"""At the sanding table and at the pots."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator

from bossage.pack.sheet import Column, Figure, Figures, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import all_clear, cares, check_cares, checks_of, words_of
from bossage.pack.sheets.counts import DEALT
from bossage.pack.words import count_of, hours, listed, sentence, split_unit
from bossage.paint.coats import OIL_DRY_H, face_primer_coats, is_resinous, oily_topcoat
from bossage.paint.drying import (
    APART_MM,
    PARKED_MM,
    STRIP_HIGH_NM,
    STRIP_WIDE_NM,
    drying_batches,
    parked_share,
    shade_rooms,
    strip_gap_nm,
)
from bossage.paint.extras import POT_LOSES_ML, blocking_shade
from bossage.paint.ways import LEAD_WORDS
from bossage.plan import Plan
from bossage.press.young import RULE, TEST
from bossage.timber import is_hardwood, species

MOST_TALLIED = 4  # rows with boxes; of more heights a footprint has one row


def sand_sheet(plan: Plan) -> Sheet:
    """Breaking edges, sanding, dust."""
    words, work = words_of(plan), plan.paint.edge_work
    grits = tuple(str(grit) for grit in work.grits)
    edges, unit = split_unit(
        words.length(round(work.front_edges_mm * 1e6)) if words.inches else f"{work.front_edges_mm / 1000:.1f} m"
    )
    return Sheet(
        name="sand",
        title="Sand and break edges",
        todo=(
            "Break the four front edges of every slice, sand the face through the grits, brush the dust off. Leave "
            "the back as sawn."
        ),
        wrong="Sanded a face crooked? Turn the block round: the back becomes the face, if it is clean and square.",
        parts=(
            *cares(plan, "sand"),
            Figures(
                items=(
                    Figure(value=f"{work.blocks:,}", unit="", words="blocks"),
                    Figure(value=f"{work.front_edges:,}", unit="", words="front edges"),
                    Figure(value=edges, unit=unit, words="of edge"),
                    Figure(value=hours(work.minutes / 60)[:-2], unit="h", words="in all"),
                )
            ),
            Steps(
                texts=(
                    f"Break all front edges alike, those of the spares too, with grit {grits[0]} on a flat block.",
                    f"Sand faces with grit {', then '.join(grits)}: every tray through one grit before the next.",
                    "Brush and vacuum, faces and sides, before any primer is opened.",
                )
            ),
            _tally(plan),
        ),
    )


def _tally(plan: Plan) -> Table:
    """A row for each footprint and height, with a box for each round: the tray is passed on when all are ticked."""
    words, rounds = words_of(plan), ("edges", *map(str, plan.paint.edge_work.grits), "dust off")
    counts: Counter[tuple[str, int]] = Counter()
    for row in plan.fade.count_table:
        counts[row.footprint, row.length_nm] += row.count
    size = {f.name: words.size(f.width_nm, f.height_nm) for f in plan.brief.blocks.footprints}
    whole = len(counts) > MOST_TALLIED  # too many for a page: by footprint alone
    if whole:
        by_size = Counter({(name, 0): 0 for name, _ in counts})
        for (name, _), count in counts.items():
            by_size[name, 0] += count
        counts = by_size
    rows: list[tuple[str, ...]] = []
    groups: list[int] = []
    last = ""
    for name, length_nm in sorted(counts, key=lambda key: (list(size).index(key[0]), -key[1])):
        if name != last:
            groups.append(len(rows))
        length = () if whole else (words.bare(length_nm),)
        rows.append(
            (size[name] if name != last else "", *length, f"{counts[name, length_nm]:,}", *("" for _ in rounds))
        )
        last = name
    columns = (
        Column(head="size", kind="strong"),
        *(() if whole else (Column(head=f"sawn to, {words.unit}", kind="figure", align="right"),)),
        Column(head="blocks", align="right"),
        *(Column(head=one, kind="tick", align="center") for one in rounds),
    )
    return Table(columns=columns, rows=tuple(rows), groups=tuple(groups), tight=True)


def paint_sheet(plan: Plan) -> Sheet:
    """Order of the coats, each shade with its blocks and millilitres, the backer's ground and its glue field."""
    words, paint = words_of(plan), plan.paint
    primer, unit = split_unit(words.volume(paint.primer_ml))
    kept = f", {plan.brief.paint.primer_reserve:.0%} reserve in it".replace("%", " %")
    primed = f"primer, {count_of(face_primer_coats(plan.brief), 'coat')} on faces{kept}"
    parts: list[Part] = [
        *cares(plan, "paint"),
        *check_cares(plan, tuple(check for check in checks_of(plan, "fade", "paint") if check.name != "glue_on_wood")),
        Figures(
            items=(
                *([Figure(value=primer, unit=unit, words=primed)] if paint.primer_ml else []),
                _coats_figure(plan),
                Figure(
                    value=split_unit(words.area_mm2(paint.painted_mm2))[0],
                    unit=split_unit(words.area_mm2(paint.painted_mm2))[1],
                    words="painted",
                ),
                Figure(value=f"{paint.reserve:.0%}".replace("%", " %"), unit="", words="reserve in each pot"),
            )
        ),
        Heading(text="In this order"),
        Steps(texts=order_of_coats(plan)),
        Heading(text="Shades, how much of each, and its boxes"),
        _shades(plan),
        Para(text=sentence(f"Counted as painted: {paint.basis}.{_beside(plan)} {_batches(plan)}")),
    ]
    return Sheet(
        name="paint",
        title="Paint",
        todo=(
            "Coat shade by shade as the sheet 'Stain, oil, wax' says; here are the order, the amounts and the backer. "
            "Keep every back, and the backer under every block, bare."
            if all_clear(plan)
            else f"{_one_lot(plan)}, and judge it dry on a card before a block is painted. Keep every back, and the "
            "backer under every block, free of paint."
        ),
        wrong=(
            "A shade dries too dark? Put a spare slice in its place: what end grain has drunk does not come out again."
            if all_clear(plan)
            else "A shade dries too dark or too near its neighbour? Change it on a card first; a pot that is used up "
            "cannot be matched."
        ),
        parts=tuple(parts),
    )


def _one_lot(plan: Plan) -> str:
    """What makes one lot of a shade: its pour from one pot, a whole mix, or its tins poured together."""
    if len(plan.paint.pots) + len(plan.paint.stains) != len(plan.brief.families):
        return "Pour the tins of a shade into one pot, stir"
    by_one_pot = [pots.one_pot_advised for pots in plan.paint.pots]
    if all(by_one_pot):
        return "Mix every family as its sheet 'One pot' says"
    return "Mix each shade whole, in one go" + (", or as its family's sheet 'One pot' says" if any(by_one_pot) else "")


def _coats_figure(plan: Plan) -> Figure:
    """The coats of colour; of a clear finish from the fewest to the most."""
    if not all_clear(plan):
        return Figure(value=str(plan.brief.paint.coats), unit="", words="coats of colour")
    coats = sorted({shade.coats for family in plan.paint.stains for shade in family.shades})
    many = str(coats[0]) if len(coats) == 1 else f"{coats[0]} to {coats[-1]}"
    finishes = listed(list(dict.fromkeys(family.finish for family in plan.paint.stains)))
    return Figure(value=many, unit="", words=f"coats of {finishes}, by shade")


def order_of_coats(plan: Plan) -> tuple[str, ...]:
    """The coats of the blocks in their order, with what lies between them."""
    asked, way = plan.brief.paint, plan.paint.way
    dry = f"Let it dry {asked.dry_h:g} h, longer if the label says so."
    steps = []
    if way.name == "sticks first":
        steps.append(f"Before sawing: the long sides of the sticks in the ground's colour. {way.touch}")
    if way.name != "dip":
        lead = f" {LEAD_WORDS}" if way.handles and is_hardwood(species(plan.brief.blocks.species)) else ""
        steps.append(_strips(plan) + ("" if way.name == "sticks first" else f" {way.touch}{lead}"))
    steps.append(_deal(plan))
    clear = sorted(family.name for family in plan.brief.families if family.clear)
    if clear:
        steps.append(f"{listed(clear).capitalize()}: on bare wood, as the sheet 'Stain, oil, wax' says.")
        if len(clear) == len(plan.brief.families):
            steps.append(
                f"Two spares get every coat with the blocks, as {blocking_shade(plan.brief, plan.fade).name} gets it: "
                "for the blocking test. "
                "The other spares stay bare, for whatever shade is short."
            )
            return (*steps, *_last(plan, dry))
    if way.batches > 1:
        steps.append(_by_batches(plan))
    if asked.primer_coats:
        steps.append(
            f"Prime{_times(asked.primer_coats)}: faces, all that gets colour, and every spare; never a back. {dry}"
        )
        if is_resinous(plan.brief):
            steps[-1] += (
                " Knots and resin come through paint: take a knot- and stain-blocking primer, and dab a knot in a side "
                "twice."
            )
        if face_primer_coats(plan.brief) > asked.primer_coats:
            steps.append(f"Prime the faces once more: end grain drinks the first coat. {dry}")
        steps.append("Denib: one stroke of grit 240 over every face, then brush the dust off.")
    if way.name == "roll":
        steps.append(f"The sides in the ground's colour{_times(asked.coats)}. {dry}")
    steps.append(
        f"Colour{_times(asked.coats)}, family by family, from light to dark, a brush a family: "
        f"{way.title[:1].lower()}{way.title[1:]}. {'' if way.name != 'dip' else f'{way.touch} '}{dry}"
    )
    batch = ", with the last batch" if way.batches > 1 else ""
    steps.append(
        f"Two spares in {blocking_shade(plan.brief, plan.fade).name}, the slowest to harden, last of all{batch}: for "
        "the blocking test. The "
        "other spares stay primed, for whatever shade is short."
    )
    return (*steps, *_last(plan, dry))


def _strips(plan: Plan) -> str:
    """How blocks stand while they dry: what the figures of room are reckoned by."""
    words = words_of(plan)
    apart = words.length(round(APART_MM * 1e6))
    return (
        f"Set out strips of wood, {words.size(STRIP_HIGH_NM, STRIP_WIDE_NM)}, on edge, {words.length(STRIP_HIGH_NM)} "
        f"high: two under every row of blocks, {words.length(strip_gap_nm(plan.brief))} clear between them. Blocks "
        f"stand on them with {apart} round each; nearer they touch, and the room is reckoned by it."
    )


def _deal(plan: Plan) -> str:
    """Blocks to their shades: `DEALT` is the rule, here with what marks them while they dry."""
    return (
        f"{DEALT} deal the blocks out to their shades from the count table. One tray a shade, levels apart in it. "
        "Blocks "
        "look alike till they have it: pencil the shade on every bare back, and stand the tray's label at the end of "
        "its rows."
    )


def _by_batches(plan: Plan) -> str:
    """Which shades dry together, and where the others stand meanwhile."""
    words, way = words_of(plan), plan.paint.way
    shades = shade_rooms(plan.brief, plan.layout, plan.fade)
    blocks = {name: count for name, count, _ in shades}
    batches = drying_batches(shades, way.batches, plan.brief.paint.rack_m2 * 1e6)
    parked = words.area_mm2(way.parked_mm2 * parked_share(shades, batches))
    told = []
    for number, batch in enumerate(batches, start=1):
        names = [name if count == blocks[name] else f"{count} of {name}" for name, count in batch]
        told.append(f"batch {number}: {listed(names)}")
    said = "; ".join(told)
    return (
        f"{said[:1].upper()}{said[1:]}. Every coat goes through batch by batch. A batch that "
        f"is dry is parked on strips of its own, {words.length(round(PARKED_MM * 1e6))} apart: up to {parked} on a "
        f"floor or a shelf. Young sides cling where they touch, as faces do."
    )


def _last(plan: Plan, dry: str) -> Iterator[str]:
    """The topcoat, or that there is none."""
    asked = plan.brief.paint
    if asked.topcoat:
        name = f"{asked.topcoat[:1].upper()}{asked.topcoat[1:]}"
        if oily_topcoat(plan.brief):
            dry = f"Let every coat dry {OIL_DRY_H:g} h, longer if the label says so."
        wipe = " Wipe off what stands, as the sheet 'Stain, oil, wax' says." if plan.paint.stains else ""
        yield f"{name}, {asked.gloss}{_times(asked.topcoat_coats)}, thin, over all that shows.{wipe} {dry}"
    else:
        yield f"No topcoat is planned; the coat itself is {asked.gloss}."
    yield f"{RULE} {TEST}"
    if plan.paint.way.handles:
        yield "Take the screws out of all backs before blocks are laid dry: on a screw no block lies flat."


def _times(coats: int) -> str:
    return "" if coats == 1 else f", {coats} coats with drying between them"


def _beside(plan: Plan) -> str:
    """What the table's amounts hold beside blocks and reserve."""
    tested = blocking_shade(plan.brief, plan.fade).name
    told = f" {tested} holds its two spares for the blocking test as well"
    lost = [row.shade for row in plan.paint.rows if row.extra_ml >= POT_LOSES_ML[1]]
    if lost:
        told += f"; {listed(lost)}, poured last, what dabs, brush and the wall of the pot take"
    return f"{told}."


def _batches(plan: Plan) -> str:
    words, way = words_of(plan), plan.paint.way
    room = f"Blocks and spares take {words.area_mm2(way.rack_mm2)} of drying room"
    if way.batches == 1:
        return f"{room}: one batch."
    return f"{room}, so every coat is done in {way.batches} batches, one after the other on 'The days'."


def _shades(plan: Plan) -> Table:
    words = words_of(plan)
    rows, groups = [], []
    family_of = {shade.name: shade for shade in plan.fade.shades}
    last = ""
    for number, row in enumerate(plan.paint.rows):
        shade = family_of[row.shade]
        if shade.family != last:
            groups.append(number)
            last = shade.family
        volume, unit = split_unit(words.volume(row.mix_ml))
        rows.append(
            (shade.colour_hex, row.shade, str(row.blocks), volume, unit, words.area_mm2(row.painted_mm2), "", "")
        )
    total, unit = split_unit(words.volume(sum(row.mix_ml for row in plan.paint.rows)))
    return Table(
        columns=(
            Column(kind="patch"),
            Column(head="shade", kind="figure"),
            Column(head="blocks", kind="figure", align="right"),
            Column(head="mix" if plan.paint.pots else "need", kind="figure", align="right"),
            Column(),
            Column(head="painted", align="right"),
            Column(head="card dry", kind="tick"),
            Column(head="painted", kind="tick"),
        ),
        rows=tuple(rows),
        groups=tuple(groups),
        total=(
            "",
            "all",
            f"{sum(row.blocks for row in plan.paint.rows):,}",
            total,
            unit,
            words.area_mm2(plan.paint.painted_mm2),
            "",
            "",
        ),
    )
