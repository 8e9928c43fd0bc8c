"""For the client: what is to be made, to be signed; what it costs, and how that was reckoned."""

from __future__ import annotations

from bossage.brief.records import Opens
from bossage.costing.hours import repeat_shares
from bossage.drawing.model import Drawing
from bossage.errors import BossageError
from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.wall import wall_drawing
from bossage.pack.sheet import Beside, Column, Drawn, Figure, Figures, Heading, Para, Part, Photo, Sheet, Table
from bossage.pack.sheets.common import LINE_MM, lines_n, room, words_of
from bossage.pack.sheets.first import PICTURE, picture_words
from bossage.pack.sheets.pots import still_to_decide
from bossage.pack.words import Words, count_of, full, hours, listed, split_unit
from bossage.plan import Plan

HIGHEST_MM, LOWEST_MM = 80.0, 40.0  # of the picture, which gives way to what is to be signed
TICK_MM, ELSE_MM = 9.2, 62.0  # a row with a box; figures, headings, the small print and the line to sign on
DECIDE_MM = 14.0  # heading and head of what is to be decided
ONE_COLUMN = 5  # more shades than this stand in two columns
SKETCH_ROUNDS = 3  # changes before the price is looked at again (practice notes: up to three)


def for_oneself(plan: Plan) -> bool:
    """Whether nobody has to be asked for a signature: the brief names no client and no price of an hour."""
    return not plan.brief.piece.client and plan.cost.quote is None


def approval_sheet(plan: Plan) -> Sheet:
    """Picture, size, depth, colours, price, what is included, version, and a line to sign."""
    words, space = words_of(plan), room(plan)
    wall = _wall(plan, words, width_mm=0.5 * space.width_mm)
    colours = _colours(plan)
    beside_mm = max(wall.paper_height_mm + 8.0 if wall is not None else 0.0, 16.0 + TICK_MM * len(colours.rows))
    included_mm = sum(LINE_MM * lines_n(text, space.width_mm) + 2.2 for text in _included(plan))
    decisions = _decisions(plan)
    decided_mm = DECIDE_MM + TICK_MM * len(still_to_decide(plan)) if decisions else 0.0
    picture_mm = space.height_mm - ELSE_MM - beside_mm - included_mm - decided_mm
    included: list[Part] = [
        Heading(text="What is included"),
        Table(columns=(Column(wide=True),), rows=tuple((text,) for text in _included(plan)), tight=True),
    ]
    parts: list[Part] = [
        Photo(
            name=PICTURE, description=picture_words(plan, words), highest_mm=min(max(picture_mm, LOWEST_MM), HIGHEST_MM)
        ),
        Figures(items=_figures(plan, words)),
        *_wall_and_colours(plan, words, wall),
        *included,
        *decisions,
        Para(
            text=(
                "Colours on paper and screen come near the paint and no nearer: what counts is the dry card that is "
                f"signed with this sheet. Up to {SKETCH_ROUNDS} changes before wood is sawn are in the price."
            ),
            small=True,
        ),
        Table(
            columns=tuple(Column(head=head, kind="blank", wide=True) for head in ("name", "signature", "date")),
            rows=((plan.brief.piece.client, "", ""),),
        ),
    ]
    return Sheet(
        name="approval",
        title="Approval",
        todo="Look at picture, size, depth and cards of dry paint together. Sign when it is this piece that you want.",
        wrong=(
            f"Something is not as you want it? Do not sign: say what, and ask for a sheet with another number than "
            f"{plan.stamp}. Only the number at the foot tells which version was agreed."
        ),
        parts=tuple(parts),
        scale=scale_words(wall.scale_n) if wall is not None else "",
    )


def quote_sheet(plan: Plan) -> Sheet | None:
    """Materials, hours with the repeat rule, what is added, deposit; none without a price of an hour."""
    quote = plan.cost.quote
    if quote is None:
        return None
    words, rates, cost = words_of(plan), plan.brief.rates, plan.cost
    rest = quote.total_cents - quote.deposit_cents
    lines = (
        (f"labour: {hours(cost.hours)} at {words.money(quote.hourly_cents)}", "", quote.labour_cents),
        ("overhead", f"{rates.overhead_pct:g} % of labour", quote.overhead_cents),
        ("contingency", f"{rates.contingency_pct:g} % of labour", quote.contingency_cents),
        ("materials", "as on the shopping list", quote.materials_cents),
        ("markup", f"{rates.markup_pct:g} % of materials", quote.markup_cents),
    )
    figures = [Figure(value=words.money(quote.total_cents), unit="", words="price of the job")]
    if plan.brief.piece.copies > 1:
        figures.append(Figure(value=words.money(quote.each_cents), unit="", words="each piece"))
    figures += [
        Figure(value=words.money(quote.deposit_cents), unit="", words=f"deposit, {rates.deposit_pct:g} %"),
        Figure(value=words.money(rest), unit="", words="on the day of hanging"),
    ]
    parts: list[Part] = [
        Figures(items=tuple(figures)),
        Table(
            columns=(Column(kind="strong"), Column(wide=True), Column(align="right")),
            rows=tuple((what, how, words.money(cents)) for what, how, cents in lines),
            total=("price of the job", "", words.money(quote.total_cents)),
        ),
        *_hours(plan),
        Heading(text="What it stands on"),
        Para(text=f"Plan {plan.stamp}. Another plan has another price: this sheet is good for that number only."),
        *(
            [Para(text=f"{count_of(cost.unpriced, 'thing')} to buy had no price yet; see the shopping list.")]
            if cost.unpriced
            else []
        ),
        Table(
            columns=tuple(Column(head=head, kind="blank", wide=True) for head in ("good until", "signature", "date")),
            rows=(("", "", ""),),
        ),
    ]
    return Sheet(
        name="quote",
        title="Quote",
        todo=f"Give this to {plan.brief.piece.client or 'the client'} with the approval sheet of the same number.",
        wrong="Wood or paint has another price now? Put it into the brief and plan again; never mend it by hand.",
        parts=tuple(parts),
    )


def _decisions(plan: Plan) -> list[Part]:
    """What is settled with this signature, before the first pot: where families meet otherwise than wanted."""
    open_checks = still_to_decide(plan)
    if not open_checks:
        return []
    columns = (
        Column(kind="strong", wide=True),
        Column(head="stays as it is", kind="tick"),
        Column(head="changed first", kind="tick"),
    )
    rows = tuple((f"{check.title}: {check.subject}", "", "") for check in open_checks)
    return [Heading(text="To decide, two dry dabs edge to edge"), Table(columns=columns, rows=rows, tight=True)]


def _wall(plan: Plan, words: Words, *, width_mm: float) -> Drawing | None:
    """The wall, higher where its dimensions need it; nothing where they alone are too much for the sheet."""
    for height_mm in (58.0, 80.0):
        try:
            return fitted(wall_drawing(plan, words, plain=True), width_mm=width_mm, height_mm=height_mm)
        except BossageError:
            continue
    return None


def _wall_and_colours(plan: Plan, words: Words, wall: Drawing | None) -> list[Part]:
    colours: list[Part] = [Heading(text="Colours"), _colours(plan)]
    if wall is None:
        return colours
    caption = f"On the wall, {scale_words(wall.scale_n)}, lengths in {words.unit_name}."
    left_mm = wall.paper_width_mm + 1.0
    return [Beside(left=(Drawn(drawing=wall, caption=caption),), right=tuple(colours), left_mm=left_mm)]


def _hours(plan: Plan) -> list[Part]:
    """Hours of each piece of a series by the repeat rule, and what a compounded discount would have been."""
    cost, rates, copies = plan.cost, plan.brief.rates, plan.brief.piece.copies
    if copies == 1:
        rows = tuple((step.step, f"{round(step.minutes_per_block, 2):g}", f"{step.hours:.2f}") for step in cost.steps)
        columns = (
            Column(head="step", kind="strong"),
            Column(head="minutes a block", align="right"),
            Column(head="hours", kind="strong", align="right"),
        )
        rows = (*rows, ("frame, backer, cleat, hanging", "", f"{cost.fixed_h:.2f}"))
        return [
            Heading(text="Hours"),
            Table(columns=columns, rows=rows, total=("all", "", f"{cost.hours:.2f}"), tight=True),
        ]
    shares = repeat_shares(rates, copies)
    series = tuple(
        (str(n), f"{100 * share:g} %", f"{cost.first_h * share:.2f}") for n, share in enumerate(shares, start=1)
    )
    once = (("the rest, once", "", f"{cost.fixed_h:.2f}"),) if cost.fixed_h else ()
    return [
        Heading(text="Hours, piece by piece"),
        Table(
            columns=(
                Column(head="piece", kind="strong"),
                Column(head="of the first", align="right"),
                Column(head="hours", kind="strong", align="right"),
            ),
            rows=(*series, *once),
            total=("all", "", f"{cost.hours:.2f}"),
            tight=True,
        ),
        Para(
            text=(
                f"Each piece takes {rates.repeat_step_pct:g} % of the first less than the one before, never under "
                f"{rates.repeat_floor_pct:g} %. Taken off the piece before instead, it would be "
                f"{cost.if_compounded_h:.2f} h; that is not the rule here."
            ),
            small=True,
        ),
    ]


def _figures(plan: Plan, words: Words) -> tuple[Figure, ...]:
    layout, quote = plan.layout, plan.cost.quote
    size, unit = split_unit(words.size(layout.width_nm, layout.height_nm))
    depth, depth_unit = split_unit(words.length(layout.depth_nm))
    heaviest = max(leaf.total_g for leaf in plan.hang.leaf_masses)
    mass, mass_unit = split_unit(words.mass(heaviest))
    several = len([leaf for leaf in layout.leaves if leaf.copy == 1]) > 1
    price = [Figure(value=words.money(quote.total_cents), unit="", words="price")] if quote is not None else []
    copies = plan.brief.piece.copies
    return (
        Figure(value=size, unit=unit, words="across and up"),
        Figure(value=depth, unit=depth_unit, words="proud of the wall"),
        Figure(value=mass, unit=mass_unit, words="heaviest leaf" if several else "on the wall"),
        *([Figure(value=str(copies), unit="", words="pieces")] if copies > 1 else []),
        *price,
    )


def _colours(plan: Plan) -> Table:
    """Every shade with a box to tick, in two columns where one would be long."""
    shades = [(shade.colour_hex, shade.name, "") for shade in plan.fade.shades]
    columns = (Column(kind="patch"), Column(kind="strong"), Column(head="seen dry", kind="tick"))
    if len(shades) <= ONE_COLUMN:
        return Table(columns=columns, rows=tuple(shades), tight=True)
    half = -(-len(shades) // 2)
    second = [*shades[half:], ("", "", "-")]
    return Table(columns=columns * 2, rows=tuple((*shades[n], *second[n]) for n in range(half)), tight=True)


def _included(plan: Plan) -> list[str]:
    """What the price holds, from the plan and nothing else."""
    layout, access = plan.layout, plan.brief.access
    copies = plan.brief.piece.copies
    leaves = [leaf for leaf in layout.leaves if leaf.copy == 1]
    hung = "hinged at the wall" if access.opens is Opens.SWING else "hung on a cleat, to be lifted off"
    behind = listed([fixture.name for fixture in plan.brief.fixtures]) or "the wall"
    return [
        full(
            f"{f'{copies} pieces of ' if copies > 1 else ''}{layout.blocks.count // copies:,} sawn blocks of "
            f"{len(plan.relief.levels_nm)} heights, painted in {count_of(len(plan.fade.shades), 'shade')}, on "
            f"{count_of(len(leaves), 'leaf', 'leaves')}, {hung}"
        ),
        f"What is behind it stays reachable, as the access card on its back says: {behind}.",
        "Hanging on the wall that was measured, with household card and care card.",
        "A spare block and what is left of every paint, each with its name.",
    ]
