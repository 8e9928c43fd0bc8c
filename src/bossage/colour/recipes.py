"""A pot for each shade: millilitres and grams, at the marks of the tools that they are measured out with.

No whole parts stand beside the millilitres: rounded each in its own way, the two would tell of two mixes.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from bossage.colour.blends import blend_lab
from bossage.colour.difference import delta_e
from bossage.colour.measuring import Measure, Measured, measured
from bossage.colour.mixing import Paint
from bossage.colour.scales import MEASURED_TIMES
from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError


@dataclass(frozen=True, slots=True, kw_only=True)
class PotNeed:
    """How much of one shade is needed, coats, reserve and touch-up included."""

    shade: str
    shares: tuple[float, ...]  # of each tinter in the whole mix; the rest is base
    volume_ml: float

    @property
    def fraction(self) -> float:
        """All tinters over the whole mix."""
        return float(sum(self.shares))


@dataclass(frozen=True, slots=True, kw_only=True)
class Amount:
    """One ingredient of one pot."""

    what: str
    volume_ml: float  # rounded to the marks of its tool
    measured: Measured
    mass_g: float | None  # None where the density is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """One pot of one shade, base first."""

    shade: str
    amounts: tuple[Amount, ...]
    wanted: tuple[bool, ...]  # whether there is any of it, however little was left by rounding
    rounding_de: float  # how far the rounded millilitres lie from it
    relative_error: float  # of the tinter, when each measure is off by as much as its tool may be
    error_de: float  # what that does to the colour, rounding included
    measurable: bool  # no tinter falls under ten times the resolution


def separate_recipes(
    paints: Sequence[Paint],
    needs: Sequence[PotNeed],
    *,
    tools: Sequence[Measure],
    base: str = "base",
    base_g_per_ml: float | None = None,
    tinter_g_per_ml: Sequence[float | None] = (),
) -> tuple[Recipe, ...]:
    """Recipes of pots mixed one by one.

    Args:
        paints: One a tinter, sharing a base.
        needs: Shades with as many shares as there are tinters.
        tools: What is measured with, smallest first.
        base: What the base is called.
        base_g_per_ml: Density of the base, if known.
        tinter_g_per_ml: Density of each tinter, None where unknown.

    Raises:
        BossageError: A volume is not above 0, or a need has not one share a tinter.
    """
    _measurable_or_refuse(needs, len(paints))
    finest_ml = tools[0].mark_ml
    densities = [base_g_per_ml, *(list(tinter_g_per_ml) or [None] * len(paints))]
    names = [base, *(paint.name for paint in paints)]
    recipes = []
    for need in needs:
        wanted = np.array(need.shares)
        lab = blend_lab(paints, wanted)
        exact_ml = need.volume_ml * np.concatenate([[1 - wanted.sum()], wanted])
        each = [measured(float(v), tools) for v in exact_ml]
        ml = np.array([one.ml for one in each])
        error_ml = np.array([one.error_ml for one in each])
        relative = _relative_error(exact_ml, error_ml)
        worst = wanted * (1 + relative) / (1 + wanted * relative)
        rounding_de = float(delta_e(blend_lab(paints, ml[1:] / max(ml.sum(), finest_ml)), lab))
        recipes.append(
            Recipe(
                shade=need.shade,
                amounts=tuple(
                    Amount(what=name, volume_ml=one.ml, measured=one, mass_g=None if d is None else one.ml * d)
                    for name, one, d in zip(names, each, densities, strict=True)
                ),
                wanted=tuple(bool(v > 0) for v in exact_ml),
                rounding_de=rounding_de,
                relative_error=float(relative.max()),
                error_de=float(np.hypot(delta_e(blend_lab(paints, worst), lab), rounding_de)),
                measurable=bool((exact_ml[1:][wanted > 0] >= MEASURED_TIMES * finest_ml).all()),
            )
        )
    return tuple(recipes)


def _relative_error(exact_ml: FloatArray, error_ml: FloatArray) -> FloatArray:
    """Of each tinter to the base, base first among the amounts. A share of nothing is measured exactly: left out."""
    off = np.where(exact_ml > 0, error_ml / np.maximum(exact_ml, 1e-12), 0.0)
    return np.asarray(np.where(off[1:] > 0, np.hypot(off[1:], off[0]), 0.0))


def _measurable_or_refuse(needs: Sequence[PotNeed], tinters_n: int) -> None:
    for need in needs:
        if not need.volume_ml > 0 or len(need.shares) != tinters_n or not 0 <= need.fraction <= 1:
            raise BossageError(
                f"{need.shade} asks for {need.volume_ml:g} mL with {len(need.shares)} tinter shares that sum to "
                f"{need.fraction:g}; it needs a volume above 0 and {tinters_n} share(s) of 0 to 1 in all."
            )
