"""Colours in figures, for a counter or a meter."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Family
from bossage.colour.given import given_lab
from bossage.colour.spaces import hex_to_lab, lab_to_hex
from bossage.pack.sheet import Column, Heading, Para, Part, Table
from bossage.paint.coats import KIND
from bossage.plan import Plan

Named = tuple[str, tuple[float, float, float]]


def colours(plan: Plan) -> list[Part]:
    """Bases, tinters, every shade and the ground as figures that a counter or a meter can read; a print says too
    little."""
    ground = next(one for one in plan.fade.grounds if one.chosen)
    pots = dict.fromkeys(pot for family in plan.brief.families if not family.clear for pot in _bought(family))
    named = [(name, lab_to_hex(lab), lab) for name, lab in pots]
    groups = (0, len(named))
    named += [(one.name, one.colour_hex, one.lab) for one in plan.fade.shades]
    L, a, b = (float(value) for value in hex_to_lab(ground.colour_hex))
    named.append((f"ground: {ground.name}", ground.colour_hex, (L, a, b)))
    return [
        Heading(text="Colours in figures"),
        Table(
            columns=(
                Column(kind="patch"),
                Column(head="shade", kind="strong", wide=True),
                Column(head="sRGB", align="right"),
                Column(head="L*", align="right"),
                Column(head="a*", align="right"),
                Column(head="b*", align="right"),
            ),
            rows=tuple((code, name, code, *(f"{value:.1f}" for value in lab)) for name, code, lab in named),
            groups=groups if pots else (),
            tight=True,
        ),
        *(
            [
                Para(
                    text=f"Bases and tinters are bought, {plan.brief.paint.gloss}, {KIND}, tinted to these figures; "
                    "the shades are mixed from them."
                )
            ]
            if pots
            else []
        ),
        Para(
            text="Daylight D65, seen by the 2° observer. A printed patch is not the colour: show the figures at the "
            "counter, or hold a dry card beside the block.",
            small=True,
        ),
    ]


def _bought(family: Family) -> Iterator[Named]:
    """The pots that a family is mixed from, with the colour of their dry coats."""
    if family.base:
        yield "base", given_lab(family.base, measured=family.hex_measured)
    for tinter in family.tinters:
        yield f"tinter {tinter.name}", given_lab(tinter.colour, measured=family.hex_measured)
