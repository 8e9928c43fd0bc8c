"""What holds it: the load path in numbers, pull and shear of the fixings, mass, lifting."""

from __future__ import annotations

import math

from bossage.brief.records import Opens
from bossage.hang.records import Lifting, Link
from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.stand_words import stand_table
from bossage.pack.words import Words, sentence
from bossage.plan import Plan

NEWTON_PER_KG, NEWTON_PER_LBF = 9.80665, 4.4482216152605


def load_sheet(plan: Plan) -> Sheet:
    """What holds it: every link from block to wall with its margin, and the mass that they carry."""
    words = words_of(plan)
    parts: list[Part] = [
        Para(
            lead="Weakest link:",
            text=(
                f"{_link_name(plan, plan.hang.weakest)}. It carries {_times(plan.hang.weakest.margin)} times its load, "
                f"after all factors; at least {plan.hang.weakest.least:g} times is asked for."
            ),
        ),
        _links(plan, words),
        *_masses(plan, words),
        *_assumed(plan),
        Para(
            text=(
                "Allowable-stress design: every allowable already holds its factors. None is a promise; wood, wall and "
                "workmanship differ. The sheet 'basis' says on which book each stands."
            ),
            small=True,
        ),
    ]
    return Sheet(
        name="loads",
        title="What holds it",
        todo="Follow the load from the blocks to the wall. The weakest link stands first.",
        wrong="The leaf weighs more on the scales? Do not hang it. Write its mass into the brief and plan again.",
        parts=tuple(parts),
    )


def load_basis(plan: Plan) -> list[Part]:
    """On what each figure of the load path and of the lift stands."""
    words = words_of(plan)
    return [
        *_pulled_and_sheared(plan, words),
        Heading(text="On what each link stands"),
        Table(
            columns=(Column(kind="strong", mm=52.0), Column(wide=True)),
            rows=tuple((_link_name(plan, link), _stands_on(link)) for link in plan.hang.links),
            groups=tuple(range(len(plan.hang.links))),
        ),
        *_liftings(plan, words),
    ]


def _assumed(plan: Plan) -> list[Part]:
    """What all of it stands on, of wood and wall: some of it is to be weighed or measured before the piece hangs."""
    if not plan.hang.assumptions:
        return []
    return [Para(lead="Assumed:", text=sentence("; ".join(plan.hang.assumptions)))]


def _link_name(plan: Plan, link: Link) -> str:
    several = len({one.name for one in plan.layout.leaves}) > 1
    leaf = f"{link.leaf}: " if link.leaf and several else ""
    part = f" ({link.part})" if link.part else ""
    return f"{leaf}{link.name}{part}"


def _links(plan: Plan, words: Words) -> Table:
    unit = "lbf" if words.inches else "kg"
    return Table(
        columns=(
            Column(head="link", kind="strong", wide=True),
            Column(head=f"asked, {unit}", align="right"),
            Column(head=f"allowed, {unit}", align="right"),
            Column(head="margin, times", kind="strong", align="right"),
            Column(head="at least", align="right"),
        ),
        tight=True,
        rows=tuple(
            (
                _link_name(plan, link),
                force_words(link.demand_n, words),
                force_words(link.allowable_n, words),
                _times(link.margin),
                f"{link.least:g}",
            )
            for link in plan.hang.links
        ),
    )


def _times(margin: float) -> str:
    """Rounded down, so that what falls short never reads as enough."""
    if not math.isfinite(margin):
        return "no end"
    return f"{math.floor(margin * 100 + 1e-9) / 100:.2f}" if margin < 10 else f"{math.floor(margin):d}"


def _pulled_and_sheared(plan: Plan, words: Words) -> list[Part]:
    """Fixings in the wall: what draws one out and what it carries along the wall, each beside its own allowable."""
    unit = "lbf" if words.inches else "kg"
    rows = tuple(
        (
            _link_name(plan, link),
            *(
                "no figure" if value is None else force_words(value, words)
                for value in (link.pull_n, link.pull_allowable_n, link.shear_n, link.shear_allowable_n)
            ),
        )
        for link in plan.hang.links
        if link.pull_n is not None
    )
    if not rows:
        return []
    columns = (
        Column(head="one fixing", kind="strong", wide=True),
        Column(head=f"pulled out, {unit}", align="right"),
        Column(head="allowed", align="right"),
        Column(head=f"along the wall, {unit}", align="right"),
        Column(head="allowed", align="right"),
    )
    pries = (
        "The open leaf pulls at the outer edge of the post, which pries at its fixings; the closed leaf twists it "
        "in the plane of the wall. The angle that works a fixing hardest counts."
        if plan.brief.access.opens is Opens.SWING
        else "The bevel pushes the wall half out above its fixings, and the weight hangs before the wall: it pries."
    )
    note = f"{pries} Pull and shear at once are held against the rule named below."
    return [
        Heading(text="Pull and shear of the fixings in the wall"),
        Table(columns=columns, rows=rows),
        Para(text=note),
    ]


def force_words(newton: float, words: Words) -> str:
    """A force as a mass or in pounds, the way a shop reads it."""
    value = newton / (NEWTON_PER_LBF if words.inches else NEWTON_PER_KG)
    if 0 < value < 0.1:
        return f"{value:.2f}"  # a block's own weight is no 0.0
    return f"{value:,.1f}" if value < 1000 else f"{value:,.0f}"


def _stands_on(link: Link) -> str:
    """Figures of a link with their factors, what is assumed, and the source."""
    factors = ", ".join(f"{factor.name} {factor.value:.3g}" for factor in link.factors)
    said = [link.basis + (f"; factors inside: {factors}" if factors else "")]
    if link.assumptions:
        said.append(f"Assumed: {'; '.join(link.assumptions)}")
    if link.source:
        said.append(f"Source: {link.source}")
    return " ".join(sentence(text) for text in said)


def _masses(plan: Plan, words: Words) -> list[Part]:
    """Each leaf's mass and what it is made of, leaves alike once."""
    parts: list[Part] = []
    leaves = [leaf for leaf in plan.hang.leaf_masses if leaf.copy == 1]
    for leaf in leaves:
        note = "by the scales" if leaf.weighed else "by volume and density"
        lead = f"Leaf {leaf.leaf}, {words.mass(leaf.total_g)}" if len(leaves) > 1 else words.mass(leaf.total_g)
        each = ", ".join(f"{part.name} {_unbroken(words.mass(part.mass_g))}" for part in leaf.parts)
        away = f"{words.of_mm(leaf.from_wall_mm)} {words.unit}"
        parts.append(Para(lead=lead, text=f"{note}: {each}. It balances {away} from the wall."))
    return parts


def _unbroken(quantity: str) -> str:
    """A figure and its unit that no end of a line parts."""
    return quantity.replace(" ", "\u00a0")


def _liftings(plan: Plan, words: Words) -> list[Part]:
    if not plan.hang.liftings:
        return []
    return [*stand_table(plan, words), Para(text=_lift_note(plan.hang.liftings[0]))]


def _lift_note(lifting: Lifting) -> str:
    left_out = f" It leaves out: {', '.join(lifting.leaves_out)}." if lifting.leaves_out else ""
    return f"Revised lifting equation, NIOSH 94-110. An index over 1 asks for a second person or another way.{left_out}"
