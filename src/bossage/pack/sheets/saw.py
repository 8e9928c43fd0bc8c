"""At the saw: one sheet a section of stock, in the order of the quicker way; the long parts."""

from __future__ import annotations

from itertools import groupby

from bossage.brief.records import LengthUnit
from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.sticks import stick_drawing
from bossage.pack.sheet import Care, Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.boards import boards_sheet
from bossage.pack.sheets.common import cares, check_cares, checks_of, room, words_of
from bossage.pack.sheets.saw_words import way_words
from bossage.pack.sheets.shims import after_shims, shim_runs, stick_names
from bossage.pack.sheets.works import numbers_note, work_parts
from bossage.pack.words import Words, count_of, listed, split_unit
from bossage.plan import Plan
from bossage.press.shim_records import ShimCut
from bossage.saw import CutStick, LengthCut, Run, SawPlan, SectionCut, SliceRow, numbered, runs_of
from bossage.timber import size_around, species_or_board
from bossage.units import NM_PER_MM

STICK_MM = 300.0
MOST_DRAWN = 8  # sticks and rests that shims come out of; the table names the others


def saw_sheets(plan: Plan) -> list[Sheet]:
    """A sheet for each section, one for the boards, one for ribs, rails and lipping."""
    sheets = [_section_sheet(plan, cut) for cut in plan.saw.sections]
    if plan.saw.lengths:
        sheets.append(_lengths_sheet(plan))
    if plan.saw.boards or plan.press.shim_panels:
        sheets.append(boards_sheet(plan))
    return sheets


def _section_sheet(plan: Plan, cut: SectionCut) -> Sheet:
    words = words_of(plan)
    parts: list[Part] = list(cares(plan, "saw"))
    parts += check_cares(plan, tuple(c for c in checks_of(plan, "saw") if c.subject in ("", cut.section)))
    bought = cut.bought
    scale = ""
    if bought is None:
        parts.append(_short(cut, words))
    else:
        parts.append(_figures(cut, bought, words))
        parts += _dressed(plan, cut, words)
        parts += _mixed_sticks(bought, words)
        parts.append(_runs(cut, bought, words))
        drawn, scale = _sticks(plan, bought.sticks, words, cut.section)
        parts += drawn
        long = tuple(key for row in cut.rows for key in row.parts)
        parts += numbers_note(long)
        parts += work_parts(plan, long)
        shims = plan.press.shim_cut
        if shims is not None and shims.section == cut.section:
            parts += _shims(plan, shims, words, scale)
    return Sheet(
        name="saw",
        title=f"Saw: {cut.bought_as or cut.section}",
        todo=way_words(bought),
        wrong=(
            "A slice came out short or split? It makes a shorter level: put it by, and cut one more from the same "
            "stick."
        ),
        parts=tuple(parts),
        scale=scale,
    )


def _dressed(plan: Plan, cut: SectionCut, words: Words) -> list[Part]:
    """Wood that comes off the sticks for the paint on two sides, where the brief says that they are squared for it."""
    asked = plan.brief.paint
    if not asked.dressed or not any(row.blocks for row in cut.rows):
        return []
    off_nm = 2 * asked.build_nm
    return [
        Para(
            lead="First:",
            text=f"plane {words.thin(off_nm)} off the sticks both ways, half from each side. With their paint blocks "
            "then have the section that is named here; at the full size rows grow by that much at every joint. Try a "
            "painted block.",
        )
    ]


def _shims(plan: Plan, cut: ShimCut, words: Words, scale: str) -> list[Part]:
    """The shims' own runs, and what they come out of, at the scale of the sticks above."""
    parts = shim_runs(cut, words)
    if cut.plan is None:
        return parts
    scale_n = _stick_scale(plan, cut.plan.sticks, words)
    named = zip(stick_names(cut), cut.rest_of, cut.plan.sticks, strict=True)
    # what comes out of the rest of a stick that is drawn above needs no drawing of its own
    for name, stick in [(name, stick) for name, of, stick in named if of is None][:MOST_DRAWN]:
        at = f", {scale_words(scale_n)}" if scale_words(scale_n) != scale else ""
        rest = f"{words.length(stick.offcut_nm)} left in one length" + (", to keep" if stick.keep else "")
        drawing = stick_drawing(stick, words)(scale_n)
        parts.append(Drawn(drawing=drawing, caption=f"{name[:1].upper()}{name[1:]}{at}: {rest}."))
    return parts


def _figures(cut: SectionCut, bought: SawPlan, words: Words) -> Figures:
    section, unit = split_unit(words.size(cut.section_width_nm, cut.section_height_nm))
    kerf, kerf_unit = split_unit(words.thin(cut.kerf_nm))
    owned = sum(stick.stock.owned for stick in bought.sticks)
    buy = len(bought.sticks) - owned
    items = [Figure(value=str(buy), unit="", words="stick to buy" if buy == 1 else "sticks to buy")] if buy else []
    if owned:
        items.append(Figure(value=str(owned), unit="", words="on the shelf"))
    return Figures(
        items=(
            *items,
            Figure(value=section, unit=unit, words="section, measured"),
            Figure(value=kerf, unit=kerf_unit, words="kerf"),
            Figure(value=_reach([s.stock.trim_nm for s in bought.sticks], words), unit=words.unit, words="squared off"),
            Figure(
                value=_reach([s.stock.stub_nm for s in bought.sticks], words), unit=words.unit, words="stub, never cut"
            ),
        )
    )


def _reach(values_nm: list[int], words: Words) -> str:
    """One figure, or from the least to the most."""
    low, high = words.bare(min(values_nm)), words.bare(max(values_nm))
    return low if low == high else f"{low} to {high}"


def _mixed_sticks(bought: SawPlan, words: Words) -> list[Part]:
    """Which stick is which, where they are not all alike."""
    kinds: dict[tuple[bool, int, tuple[tuple[int, int], ...]], list[str]] = {}
    for stick in bought.sticks:
        key = (stick.stock.owned, stick.stock.length_nm, stick.stock.no_go)
        kinds.setdefault(key, []).append(str(stick.number))
    if len(kinds) < 2:
        return []
    said = []
    for (owned, length_nm, no_go), numbers in kinds.items():
        what = f"{'stick' if len(numbers) == 1 else 'sticks'} {listed(numbers)}: {words.length(length_nm)}"
        spoilt = f", {count_of(len(no_go), 'part')} of it left out" if no_go else ""
        said.append(f"{what}, {'on the shelf' if owned else 'bought'}{spoilt}")
    return [Para(lead="Chalk the number on each stick:", text="; ".join(said) + ".")]


def _runs(cut: SectionCut, bought: SawPlan, words: Words) -> Table:
    """One line a run: its stop, its stick, how many, what the first one measures, a box; in the order of sawing."""
    row_of = {row.length_nm: row for row in cut.rows}
    runs = runs_of(bought)
    seen: set[int] = set()
    rows, groups = [], []
    for number, run in enumerate(runs):
        if run.sets_stop and number and len(runs) > len(bought.settings):
            groups.append(number)  # a line where the stop moves, unless it moves for every run
        rows.append(_run_row(run, "" if run.length_nm in seen else _owed_words(row_of[run.length_nm]), words))
        seen.add(run.length_nm)
    spares, parts = sum(row.spares for row in cut.rows), sum(len(row.parts) for row in cut.rows)
    whole = [f"{cut.slices}", *([f"{spares} spare"] if cut.slices > parts else [])]
    return Table(
        columns=(
            Column(head=f"stop at, {words.unit}", kind="figure", align="right"),
            Column(head="slices", kind="figure", align="right"),
            Column(head="from stick", align="right"),
            Column(head="in all of it"),
            Column(head="size of the first one, then a stroke for every ten", kind="blank", wide=True),
            Column(head="done", kind="tick"),
        ),
        rows=tuple(rows),
        groups=tuple(groups),
        total=("", str(cut.slices), "", ", ".join(whole), "", ""),
        tight=True,
    )


def _run_row(run: Run, owed: str, words: Words) -> tuple[str, ...]:
    stop = words.bare(run.length_nm) if run.sets_stop else ""
    return (stop, str(run.count), str(run.stick), owed, "", "")


def _owed_words(row: SliceRow) -> str:
    """All slices of a length, how many of them are spare, and which are no blocks."""
    parts = [f"{count} × {numbered(name, mark)}" for name, mark, count in row.named]
    if not row.blocks:
        return ", ".join(parts)
    return ", ".join((f"{row.slices}", f"{row.spares} spare", *parts))


def _stick_scale(plan: Plan, sticks: tuple[CutStick, ...], words: Words) -> float:
    longest = max(sticks, key=lambda stick: stick.stock.length_nm)
    return fitted(stick_drawing(longest, words), width_mm=room(plan).width_mm, height_mm=STICK_MM).scale_n


def _sticks(plan: Plan, sticks: tuple[CutStick, ...], words: Words, section: str = "") -> tuple[list[Part], str]:
    """Sticks cut alike share a drawing; all are drawn at one scale."""
    scale_n = _stick_scale(plan, sticks, words)
    parts: list[Part] = []
    if any(stick.stock.no_go for stick in sticks):
        parts.append(Para(text="Hatched: squared off, and the stub. Crossed: left out.", small=True))
    for _, group in groupby(sorted(sticks, key=_alike), key=_alike):
        same = list(group)
        numbers = listed([str(stick.number) for stick in same])
        drawing = stick_drawing(same[0], words)(scale_n)
        name = f"Stick {numbers}" if len(same) == 1 else f"Sticks {numbers}, all alike"
        shelf = ", from the shelf" if same[0].stock.owned else ""
        rest = f"squared end to the left, {words.length(same[0].offcut_nm)} left in one length"
        used = {one.number: after_shims(plan.press.shim_cut, section, one.number) for one in same}
        shims = [number for number, stick in used.items() if stick is not None]
        if shims:
            which = "it" if len(same) == 1 else f"that of {listed([str(number) for number in shims])}"
            rest += f"; shims come out of {which}, as below"
        if same[0].keep and len(shims) < len(same):
            rest += ", to keep" if not shims else "; the others to keep"
        parts.append(Drawn(drawing=drawing, caption=f"{name}{shelf}: {rest}."))
    return parts, scale_words(scale_n)


def _alike(stick: CutStick) -> tuple[int, tuple[int, ...], bool, tuple[tuple[int, int], ...]]:
    cuts = tuple(-piece.length_nm for piece in stick.slices)
    return (-stick.stock.length_nm, cuts, stick.stock.owned, stick.stock.no_go)


def _short(cut: SectionCut, words: Words) -> Care:
    assert cut.shortfall is not None
    missing = listed([f"{piece.count} of {words.length(piece.length_nm)}" for piece in cut.shortfall.missing])
    long = listed([words.length(piece.length_nm) for piece in cut.shortfall.too_long])
    said = [f"Not cut: {missing}." if missing else "", f"Longer than any clear run of a stick: {long}." if long else ""]
    return Care(title="Stop: the stock does not suffice.", text=" ".join(part for part in said if part))


def _lengths_sheet(plan: Plan) -> Sheet:
    words, scale = words_of(plan), ""
    parts: list[Part] = list(cares(plan, "saw"))
    parts += numbers_note(tuple(key for cut in plan.saw.lengths for key in cut.parts))
    for cut in plan.saw.lengths:
        drawn, found = _length_parts(plan, cut, words)
        parts += drawn
        parts += work_parts(plan, cut.parts)
        scale = found if scale in ("", found) else "as marked"
    return Sheet(
        name="lengths",
        title="Saw: long parts",
        todo="Cut these to length against one stop each, so that parts of one name are equal.",
        wrong="One came out short? Cut it anew; never shorten the others to it.",
        parts=tuple(parts),
        scale=scale,
    )


def _length_parts(plan: Plan, cut: LengthCut, words: Words) -> tuple[list[Part], str]:
    name = f"{cut.name}: {species_or_board(cut.species).name}, {words.size(cut.width_nm, cut.depth_nm)}"
    parts: list[Part] = [Heading(text=name[:1].upper() + name[1:])]
    if cut.plan is None:
        parts.append(Care(title="Stop: the lengths do not suffice.", text=name))
        return parts, ""
    rows = tuple((words.bare(s.length_nm), str(s.count), listed(s.names), "") for s in cut.plan.settings)
    columns = (
        Column(head=f"length, {words.unit}", kind="figure", align="right"),
        Column(head="pieces", kind="figure", align="right"),
        Column(head="what", wide=True),
        Column(head="done", kind="tick"),
    )
    drawn, scale = _sticks(plan, cut.plan.sticks, words)
    return [*parts, *_ripped(cut, words), Table(columns=columns, rows=rows), *drawn], scale


def _ripped(cut: LengthCut, words: Words) -> list[Part]:
    """How a section is made that no shop has; nothing where a shop has it, or it lies on the shelf."""
    assert cut.plan is not None
    if all(stick.stock.owned for stick in cut.plan.sticks):
        return []
    size = words.size(cut.width_nm, cut.depth_nm)
    lead, such = f"Where no shop has {size}:", ""
    if words.unit == LengthUnit.IN:
        stock = size_around(cut.width_nm / NM_PER_MM, cut.depth_nm / NM_PER_MM)
        if stock is not None:
            sides = (round(stock.width_mm * NM_PER_MM), round(stock.thickness_mm * NM_PER_MM))
            if sorted(sides) == sorted((cut.width_nm, cut.depth_nm)):
                return []
            such = f" A {stock.nominal.replace('x', ' × ')} does, which measures {words.size(*sides)}."
    low, high = (words.bare(side) for side in sorted((cut.width_nm, cut.depth_nm)))
    return [
        Para(
            lead=lead,
            text=f"rip it from stock that is larger both ways.{such} Straighten one edge, lay that edge to the fence, "
            f"and rip with the fence at {high}, then, turned, at {low} {words.unit}. Riving knife and guard on; a push "
            "stick moves the strip, never fingers.",
        )
    ]
