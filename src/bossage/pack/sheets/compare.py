"""At the desk before the glue is opened: ways to press side by side, and what the wood will do in its room."""

from __future__ import annotations

from bossage.pack.sheet import Column, Figure, Figures, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import check_cares, checks_of, words_of
from bossage.pack.words import Words, listed, sentence
from bossage.plan import Plan
from bossage.press.house import resting_words
from bossage.press.method_records import PressMethod
from bossage.press.wood_records import House
from bossage.units import format_temperature


def methods_sheet(plan: Plan) -> Sheet:
    """Every way to press, the advised one said first; risks of each under the table."""
    methods = plan.press.methods
    advised = next(method for method in methods if method.advised)
    rows = tuple(
        (
            method.title,
            f"{method.elapsed_h:.1f}",
            f"{method.attended_h:.1f}",
            f"{method.prepare_h:.1f}",
            str(method.shims or ""),
            str(method.clamps or ""),
            _has(method),
        )
        for method in methods
    )
    columns = (
        Column(head="way", kind="strong", wide=True),
        Column(head="hours by the clock", kind="figure", align="right", mm=21.0),
        Column(head="of them at the bench", align="right", mm=20.0),
        Column(head="hours before", align="right", mm=16.0),
        Column(head="shims", align="right", mm=14.0),
        Column(head="clamps", align="right", mm=15.0),
        Column(head="the means", mm=27.0),
    )
    parts: list[Part] = [
        Para(lead=f"Advised here: {advised.title[:1].lower()}{advised.title[1:]}.", text=advised.why),
        Table(columns=columns, rows=rows, groups=tuple(range(len(rows)))),
        Para(
            text="An hour of waiting is counted as a quarter of an hour of work when the ways are weighed.",
            small=True,
        ),
        Heading(text="What can go wrong with each"),
    ]
    parts += [Para(lead=f"{method.title}.", text=_risks(method)) for method in methods]
    return Sheet(
        name="methods",
        title="Ways to press",
        todo=(
            "Choose one way for the whole piece before the first shim is cut. The press cards are for "
            f'{plan.press.way.name}; glue.way = "…" in the brief makes them for another.'
        ),
        wrong="The way does not work in your shop? Change it between two rows, never within one.",
        parts=tuple(parts),
    )


def wood_sheet(plan: Plan) -> Sheet:
    """Movement from the saw to the driest and dampest day; bow of the leaf and what would lower it."""
    words, house, bow = words_of(plan), plan.press.house, plan.press.bow
    parts: list[Part] = [
        *check_cares(plan, tuple(c for c in checks_of(plan, "press") if c.name in ("gap", "bow"))),
        Figures(
            items=(
                Figure(value=_mm(house.most_swelling_mm, words), unit=words.unit, words="most that a block swells"),
                Figure(value=_mm(house.gap_advice_nm / 1e6, words), unit=words.unit, words="gap advised"),
                Figure(value=f"{house.driest_pct:g}–{house.dampest_pct:g}", unit="%", words="moisture of the wood"),
                Figure(value=f"{house.driest_humidity_pct:.0f}", unit="%", words="on a hygrometer, at the driest"),
            )
        ),
        Heading(text="Blocks, across the grain"),
        Table(
            columns=(
                Column(head=f"size, {words.unit}", kind="figure", align="right"),
                Column(head="footprints", wide=True),
                Column(head="from the saw to the driest day", align="right", mm=32.0),
                Column(head="from driest to dampest", align="right", mm=28.0),
            ),
            rows=tuple(
                (
                    words.bare(face.size_nm),
                    listed(face.footprints),
                    _mm(face.moved_mm, words),
                    _mm(face.swells_mm, words),
                )
                for face in house.faces
            ),
            tight=True,
        ),
        Para(
            text=(
                f"The outline drifts by {_mm(house.outline_across_mm, words)} across and "
                f"{_mm(house.outline_up_mm, words)} up; a joint between two of the largest opens by "
                f"{_mm(house.joint_opens_mm, words)} {words.unit}."
            )
        ),
        *_year(plan, words),
        Heading(text="Bow of a leaf with its blocks on"),
        _strips(plan, words),
        *_lower(plan, words),
        Para(lead="Left out:", text=" ".join((*house.leaves_out, *bow.leaves_out)), small=True),
    ]
    return Sheet(
        name="wood",
        title="Wood in its room",
        todo=_rest_words(house),
        wrong="The backer has bowed before it hangs? Do not force it flat: let it rest a week, then look again.",
        parts=tuple(parts),
    )


def _rest_words(house: House) -> str:
    """From the saw to the glue: what to weigh, and what to conclude."""
    if house.laid_pct == house.sawn_pct:
        said = (
            f"As planned the slices are glued as moist as they were sawn, {house.sawn_pct:g} %. Better: "
            + resting_words()
            + "."
        )
    else:
        said = (
            f"Let the slices lie loose in the room until they have come from {house.sawn_pct:g} % to "
            f"{house.laid_pct:g} %: 1,000 g of them then weigh {1000 * house.rested_share:,.0f} g. Weigh a dozen a day."
        )
    return f"{said} The back of the backer is sealed, for blocks and glue close its front."


def _year(plan: Plan, words: Words) -> list[Part]:
    """The shop's and the room's air through the year, and what it makes of the wood."""
    year = plan.press.house.year
    if not year:
        text = "The brief gives the wood's moisture itself. With [climate] it gives the air of shop and room instead."
        return [Para(lead="The year:", text=text, small=True)]
    sawn = plan.brief.climate.sawn_when
    return [
        Heading(text="The year"),
        Table(
            columns=(
                Column(head="where", kind="strong"),
                Column(head="when", wide=True),
                Column(head="air", align="right"),
                Column(head="humidity, %", align="right"),
                Column(head="wood, %", kind="figure", align="right"),
                Column(head=f"largest block, {words.unit}", align="right", mm=22.0),
                Column(head=f"joint opens, {words.unit}", align="right", mm=20.0),
                Column(head=f"row against backer, {words.unit}", align="right", mm=26.0),
            ),
            rows=tuple(
                (
                    part.place,
                    part.when + (", sawn then" if part.place == "shop" and part.when == sawn else ""),
                    format_temperature(part.air_degc, plan.brief.piece.unit),
                    f"{part.humidity_pct:g}",
                    f"{part.moisture_pct:.1f}",
                    _mm(part.block_mm, words),
                    _mm(part.joint_opens_mm, words),
                    _mm(part.row_against_backer_mm, words),
                )
                for part in year
            ),
            groups=tuple(k for k, part in enumerate(year) if k == 0 or part.place != year[k - 1].place),
            tight=True,
        ),
        Para(text="Movements since the blocks were laid; minus is shrinking, and a joint that closes.", small=True),
    ]


def _lower(plan: Plan, words: Words) -> list[Part]:
    """Every change that was tried, cheapest first; nothing where the bow is low."""
    changes = sorted(plan.press.bow.changes, key=lambda change: change.rank)
    if not changes:
        return []
    text = " ".join(
        sentence(f"{change.text}: {_mm(change.likely_mm, words)} {words.unit}, {change.risk}") for change in changes
    )
    return [Para(lead="What would lower it, cheapest first:", text=text)]


def _strips(plan: Plan, words: Words) -> Table:
    return Table(
        columns=(
            Column(head="way", kind="strong"),
            Column(head=f"span, {words.unit}", align="right"),
            Column(head="stiffeners along it", align="right"),
            Column(head="least", align="right"),
            Column(head=f"likely, {words.unit}", kind="figure", align="right"),
            Column(head="most", align="right"),
            Column(head="risk", kind="strong"),
        ),
        rows=tuple(
            (
                strip.way,
                words.bare(strip.span_nm),
                str(strip.ribs),
                _mm(strip.least_mm, words),
                _mm(strip.likely_mm, words),
                _mm(strip.most_mm, words),
                strip.risk,
            )
            for strip in plan.press.bow.strips
        ),
        tight=True,
    )


def _has(method: PressMethod) -> str:
    return "all there" if method.has_means else listed(method.missing)


def _risks(method: PressMethod) -> str:
    return " ".join(method.risks)


def _mm(mm: float, words: Words) -> str:
    """A small movement: tenths of a millimetre, thousandths of an inch."""
    text = f"{mm / 25.4:.3f}" if words.inches else f"{mm:.1f}"
    return text.replace("-", "−")
