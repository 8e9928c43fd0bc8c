"""On request: on what the figures of other sheets stand, for whoever checks them."""

from __future__ import annotations

from bossage.pack.sheet import Heading, Para, Part, Sheet
from bossage.pack.sheets.back import cleat_words
from bossage.pack.sheets.colours import colours
from bossage.pack.sheets.common import words_of
from bossage.pack.sheets.fixing_words import why_so_many
from bossage.pack.sheets.loads import load_basis
from bossage.pack.sheets.press import bench_clock
from bossage.pack.sheets.rows import drift_meaning
from bossage.pack.sheets.saw_words import how_good
from bossage.plan import Plan


def basis_sheet(plan: Plan) -> Sheet:
    """Sawing, cleat, load path, lift and colours: proofs, sources, what is assumed."""
    words = words_of(plan)
    parts: list[Part] = []
    for cut in plan.saw.sections:
        if cut.bought is not None:
            parts += [Heading(text=f"Sticks: {cut.bought_as or cut.section}"), *how_good(plan, cut, cut.bought, words)]
    for leaf in plan.layout.leaves:
        if leaf.copy == 1 and (said := cleat_words(plan, leaf)):
            parts += [Heading(text=f"Cleat of leaf {leaf.name}"), Para(text=said)]
    for hung in plan.hang.leaves:
        if hung.copy == 1 and hung.cleat is not None and hung.cleat.fixings:
            parts.append(Para(lead=f"Leaf {hung.leaf}.", text=why_so_many(hung.cleat, words)))
    if plan.layout.drifts:
        parts += [Heading(text="Rows that stay true"), Para(text=drift_meaning(words))]
    parts += bench_clock(plan)
    parts += load_basis(plan)
    parts += colours(plan)
    return Sheet(
        name="basis",
        title="On what it stands",
        todo="Look here when somebody asks why a figure is what it is. Nothing here is needed to build.",
        wrong="A source has a newer edition, or your wood is another? Write your own figure into the brief.",
        parts=tuple(parts),
    )
