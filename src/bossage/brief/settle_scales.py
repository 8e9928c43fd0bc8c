"""Scales that a brief asks for by their ends: how many shades each family has, and the lightness of each."""

from __future__ import annotations

from typing import Any

import numpy as np

from bossage.brief.kinds_face import EvenLightness
from bossage.brief.sections import Tables
from bossage.errors import BossageError
from bossage.timber import wood_lab

DIGITS = 4
"""Digits that a worked out lightness is kept to: far finer than any eye, coarse enough to be one number everywhere."""


def settle_lightness(tables: Tables) -> dict[str, tuple[float, ...]]:
    """Lightness of each family's shades, by the family's path; empty where it cannot be told."""
    found: dict[str, tuple[float, ...]] = {}
    asked: dict[str, tuple[Any, EvenLightness]] = {}
    for path, table in tables.many("family"):
        if isinstance(table.lightness, EvenLightness):
            found[path] = ()
            # A family without paint and hue is told of elsewhere.
            known = table.colour or ((table.base or table.finish != "paint") and table.tinters)
            keys = ("lightness", "base", "tinters", "cards", "colour")
            if known and tables.sound(*(f"{path}.{key}" for key in keys)):
                asked[path] = (table, table.lightness)
        else:
            found[path] = table.lightness
    counts = _counts(tables, asked)
    for path, count in counts.items():
        table, ends = asked[path]
        try:
            found[path] = _even(tables, table, ends, count)
        except BossageError as error:
            tables.fault(f"{path}.lightness", f"{ends.first:g} to {ends.last:g}", "ends in reach", str(error))
    return found


def _counts(tables: Tables, asked: dict[str, tuple[Any, EvenLightness]]) -> dict[str, int]:
    """Shades of each family; those left open share what the fade asks for, so that all steps are alike."""
    from bossage.colour.scales import same_step_counts

    counts = {path: ends.shades for path, (_, ends) in asked.items() if ends.shades is not None}
    open_paths = [path for path, (_, ends) in asked.items() if ends.shades is None]
    total = tables.one("fade").shades
    if not open_paths:
        if total is not None and tables.sound("fade.shades"):
            allowed = "families whose lightness gives from and to only"
            tables.fault("fade.shades", f"{total} to share out, and no family to take them", allowed, "Take it out.")
        return counts
    if total is None:
        for path in open_paths:
            tables.fault(f"{path}.lightness", "no number of shades", "shades, here or in [fade]", "Add shades = 6.")
        return counts
    # What the others have set is theirs; the rest is shared out.
    others = sum(len(table.lightness) for _, table in tables.many("family") if isinstance(table.lightness, tuple))
    others += sum(counts.values())
    try:
        lengths = [_length_de(tables, *asked[path]) for path in open_paths]
        shared = same_step_counts(lengths, total - others)
    except BossageError as error:
        tables.fault("fade.shades", f"{total}", f"at least {others + 2 * len(open_paths)}", str(error))
        return counts
    return counts | dict(zip(open_paths, shared, strict=True))


def _even(tables: Tables, table: Any, ends: EvenLightness, count: int) -> tuple[float, ...]:
    from bossage.colour.scales import even_lightness

    labs_at = _labs_at(tables, table, ends)
    lightness = even_lightness(labs_at, ends.first, ends.last, count)
    return tuple(round(float(L), DIGITS) for L in lightness)


def _length_de(tables: Tables, table: Any, ends: EvenLightness) -> float:
    from bossage.colour.difference import delta_e

    lab = _labs_at(tables, table, ends)(np.linspace(ends.first, ends.last, 200))
    return float(delta_e(lab[1:], lab[:-1]).sum())


def _labs_at(tables: Tables, table: Any, ends: EvenLightness) -> Any:
    """The family's colours by lightness: by its paint, or one hue that keeps to what a screen can show.

    Raises:
        BossageError: An end is out of the paint's reach; the message gives the range there is.
    """
    from bossage.colour.blends import bent_labs
    from bossage.colour.given import given_paint
    from bossage.colour.spaces import hex_to_lab, into_gamut

    if table.finish != "paint" and len(table.tinters) == 1:
        return _clear_labs(tables, table)
    if table.base and table.tinters:
        paints = [
            given_paint(
                tinter.name,
                table.base,
                tinter.colour,
                tuple(
                    (card.fraction, card.colour, card.uncertainty)
                    for card in table.cards
                    if card.tinter.casefold() == tinter.name.casefold()
                ),
                tinter_uncertainty_de=tinter.uncertainty,
                measured=table.measured,
            )
            for tinter in table.tinters
        ]
        return bent_labs(paints, ends.first, ends.last)
    hue = hex_to_lab(table.colour)

    def plain(L: Any) -> Any:
        return into_gamut(np.stack([L, *(np.full_like(L, v) for v in hue[1:])], axis=1))

    return plain


def base_of(tables: Tables, table: Any) -> Any:
    """The base as given; under a clear finish, where nothing is given, the wood's own colour by species."""
    if table.finish == "paint" or table.base or not tables.sound("blocks.species"):
        return table.base
    return wood_lab(tables.one("blocks").species)


def _clear_labs(tables: Tables, table: Any) -> Any:
    """Colours of a clear finish by lightness."""
    from bossage.colour.given import given_stain
    from bossage.colour.stains import stained_lab, strengths_at_lightness

    (tinter,) = table.tinters
    cards = tuple((card.fraction, card.colour, card.uncertainty) for card in table.cards)
    stain = given_stain(
        tinter.name, base_of(tables, table), tinter.colour, cards, end_grain=table.end_grain, measured=table.measured
    )
    return lambda L: stained_lab(stain, strengths_at_lightness(stain, L))
