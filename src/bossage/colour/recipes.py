"""A pot for each shade: whole parts, millilitres, grams, at the resolution that the maker can measure."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from bossage.colour.blends import blend_lab
from bossage.colour.difference import delta_e
from bossage.colour.mixing import Paint
from bossage.colour.scales import MEASURED_TIMES
from bossage.colour.spaces import FloatArray
from bossage.errors import BossageError

# Parts may change a colour by as much as nobody sees, even side by side.
PARTS_WITHIN_DE: Final = 0.5
PARTS_MOST_N: Final = 2000


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
    parts: int
    volume_ml: float  # rounded to what can be measured
    mass_g: float | None  # None where the density is not known


@dataclass(frozen=True, slots=True, kw_only=True)
class Recipe:
    """One pot of one shade, base first."""

    shade: str
    amounts: tuple[Amount, ...]
    parts_de: float  # how far whole parts lie from the wanted colour
    rounding_de: float  # how far the rounded millilitres lie from it
    relative_error: float  # of the tinter, when each measure is off by the measuring error
    error_de: float  # what that does to the colour, rounding included
    measurable: bool  # no tinter falls under ten times the resolution


def separate_recipes(
    paints: Sequence[Paint],
    needs: Sequence[PotNeed],
    *,
    resolution_ml: float,
    measuring_error_ml: float | None = None,
    base: str = "base",
    base_g_per_ml: float | None = None,
    tinter_g_per_ml: Sequence[float | None] = (),
) -> tuple[Recipe, ...]:
    """Recipes of pots mixed one by one.

    Args:
        paints: One a tinter, sharing a base.
        needs: Shades with as many shares as there are tinters.
        resolution_ml: The least that syringe, spoon or scale can tell.
        measuring_error_ml: Error of each measure; by default half the resolution.
        base: What the base is called.
        base_g_per_ml: Density of the base, if known.
        tinter_g_per_ml: Density of each tinter, None where unknown.

    Raises:
        BossageError: Resolution or a volume is not above 0, or a need has not one share a tinter.
    """
    _measurable_or_refuse(needs, len(paints), resolution_ml)
    error_ml = resolution_ml / 2 if measuring_error_ml is None else measuring_error_ml
    densities = [base_g_per_ml, *(list(tinter_g_per_ml) or [None] * len(paints))]
    names = [base, *(paint.name for paint in paints)]
    recipes = []
    for need in needs:
        wanted = np.array(need.shares)
        lab = blend_lab(paints, wanted)
        parts = whole_parts(paints, need.shares)
        exact_ml = need.volume_ml * np.concatenate([[1 - wanted.sum()], wanted])
        ml = np.rint(exact_ml / resolution_ml) * resolution_ml
        relative = _relative_error(exact_ml[1:], error_ml)
        worst = wanted * (1 + relative) / (1 + wanted * relative)
        recipes.append(
            Recipe(
                shade=need.shade,
                amounts=tuple(
                    Amount(what=name, parts=n, volume_ml=float(v), mass_g=None if d is None else float(v) * d)
                    for name, n, v, d in zip(names, parts, ml, densities, strict=True)
                ),
                parts_de=float(delta_e(blend_lab(paints, np.array(parts[1:]) / max(sum(parts), 1)), lab)),
                rounding_de=float(delta_e(blend_lab(paints, ml[1:] / max(ml.sum(), resolution_ml)), lab)),
                relative_error=float(relative.max()),
                error_de=float(
                    np.hypot(
                        delta_e(blend_lab(paints, worst), lab),
                        delta_e(blend_lab(paints, ml[1:] / max(ml.sum(), resolution_ml)), lab),
                    )
                ),
                measurable=bool((exact_ml[1:][wanted > 0] >= MEASURED_TIMES * resolution_ml).all()),
            )
        )
    return tuple(recipes)


def whole_parts(
    paints: Sequence[Paint], shares: Sequence[float], *, within_de: float = PARTS_WITHIN_DE
) -> tuple[int, ...]:
    """The fewest whole parts, base first, whose mix lies within `within_de` of the wanted one.

    Up to PARTS_MOST_N parts are looked at; beyond, the nearest is given (and the shade wants a diluted stock).
    """
    wanted = np.array(shares, dtype=np.float64)
    if (wanted == 0).all():
        return (1, *([0] * len(wanted)))
    total = np.arange(1, PARTS_MOST_N + 1)[:, None]
    parts = np.rint(total * wanted)
    # A tinter that is in the mix gets a part of its own, however many parts of base that takes.
    parts = np.maximum(parts, (wanted > 0).astype(np.float64))
    wants_base = 1 - wanted.sum() > 1e-12
    # so does the base, at the cost of the largest share
    parts[np.arange(len(total)), parts.argmax(axis=1)] -= wants_base & (parts.sum(axis=1) == total[:, 0])
    base = total[:, 0] - parts.sum(axis=1)
    good = (base >= wants_base) & (parts >= (wanted > 0)).all(axis=1)
    off = np.full(len(total), np.inf)
    off[good] = delta_e(blend_lab(paints, parts[good] / total[good]), blend_lab(paints, wanted))
    near = np.flatnonzero(off <= within_de)
    best = int(near[0]) if len(near) else int(off.argmin())
    return (int(base[best]), *(int(v) for v in parts[best]))


def _relative_error(tinter_ml: FloatArray, error_ml: float) -> FloatArray:
    # A share of nothing is measured exactly: it is left out.
    return np.asarray(np.where(tinter_ml > 0, error_ml / np.maximum(tinter_ml, 1e-12), 0.0))


def _measurable_or_refuse(needs: Sequence[PotNeed], tinters_n: int, resolution_ml: float) -> None:
    if not resolution_ml > 0:
        raise BossageError(
            f"The measuring resolution is {resolution_ml:g} mL; give what the syringe, spoon or scale can tell, "
            "such as 0.1."
        )
    for need in needs:
        if not need.volume_ml > 0 or len(need.shares) != tinters_n or not 0 <= need.fraction <= 1:
            raise BossageError(
                f"{need.shade} asks for {need.volume_ml:g} mL with {len(need.shares)} tinter shares that sum to "
                f"{need.fraction:g}; it needs a volume above 0 and {tinters_n} share(s) of 0 to 1 in all."
            )
