"""Reading what a maker types and writing what a shop reads: lengths, areas, masses, volumes, money, warmth.

Inside the project lengths are whole nanometres and other quantities are floats in g, mL and °C. The international
inch is exactly 25.4 mm and the pound exactly 453.59237 g (US Federal Register, 1 July 1959, doc. 59-5442); the US
gallon is 231 cubic inches. A `unit` argument is `"mm"` or `"in"`: the one that the maker's papers are printed in.
"""

from __future__ import annotations

from bossage.units.scale import (
    G_PER_LB,
    G_PER_OZ,
    GRAVITY_M_S2,
    ML_PER_FL_OZ,
    ML_PER_GAL,
    ML_PER_QT,
    NM_PER_FT,
    NM_PER_IN,
    NM_PER_MM,
    Number,
    Typed,
    round_cents,
    round_to_step,
)
from bossage.units.shown import (
    format_area,
    format_length,
    format_mass,
    format_money,
    format_percent,
    format_size,
    format_temperature,
    format_thin,
    format_volume,
)
from bossage.units.typed import (
    UnreadableQuantity,
    parse_length_nm,
    parse_mass_g,
    parse_money_cents,
    parse_percent,
    parse_temperature_degc,
    parse_volume_ml,
)

__all__ = [
    "GRAVITY_M_S2",
    "G_PER_LB",
    "G_PER_OZ",
    "ML_PER_FL_OZ",
    "ML_PER_GAL",
    "ML_PER_QT",
    "NM_PER_FT",
    "NM_PER_IN",
    "NM_PER_MM",
    "Number",
    "Typed",
    "UnreadableQuantity",
    "format_area",
    "format_length",
    "format_mass",
    "format_money",
    "format_percent",
    "format_size",
    "format_temperature",
    "format_thin",
    "format_volume",
    "parse_length_nm",
    "parse_mass_g",
    "parse_money_cents",
    "parse_percent",
    "parse_temperature_degc",
    "parse_volume_ml",
    "round_cents",
    "round_to_step",
]
