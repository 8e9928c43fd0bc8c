"""Colours in figures, for a counter or a meter."""

from __future__ import annotations

from bossage.colour.spaces import hex_to_lab
from bossage.pack.sheet import Column, Heading, Para, Part, Table
from bossage.plan import Plan


def colours(plan: Plan) -> list[Part]:
    """Every shade and the ground as figures that a counter or a meter can read; a print says too little."""
    ground = next(one for one in plan.fade.grounds if one.chosen)
    named = [(one.name, one.colour_hex, one.lab) for one in plan.fade.shades]
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
            tight=True,
        ),
        Para(
            text="Daylight D65, seen by the 2° observer. A printed patch is not the colour: show the figures at the "
            "counter, or hold a dry card beside the block.",
            small=True,
        ),
    ]
