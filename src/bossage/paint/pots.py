"""Recipes for the families that are mixed from a base: a pot for each shade, and all of them from one pot."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.colour.mixing import Paint as Mix
from bossage.colour.pots import OnePot, one_pot
from bossage.colour.recipes import PotNeed, separate_recipes
from bossage.errors import BossageError
from bossage.fade.records import Fade
from bossage.fade.scales import family_scales
from bossage.paint.records import FamilyPots, ShadePaint

RESOLUTION_ML = 0.1
"""A 1 mL syringe is marked so (common practice, no source)."""


def family_pots(brief: Brief, fade: Fade, rows: tuple[ShadePaint, ...]) -> tuple[FamilyPots, ...]:
    """Recipes of every family whose shades are mixed from a base and a tinter; the others are bought or matched by eye.

    Args:
        brief: Families in the order of the fade.
        fade: Shades with their share of tinter.
        rows: Volume of each shade, coats and reserve included.
    """
    if not any(shade.modelled for shade in fade.shades):
        return ()
    volume_ml = {row.shade: row.colour_ml for row in rows}
    found = []
    for scale in family_scales(brief):
        needs = [
            PotNeed(shade=shade.name, shares=(shade.fraction,), volume_ml=volume_ml[shade.name])
            for shade in scale.shades
            if shade.fraction is not None and volume_ml[shade.name] > 0
        ]
        if scale.paint is not None and needs:
            found.append(_pots(scale.family, scale.paint, needs))
    return tuple(found)


def _pots(family: str, paint: Mix, needs: list[PotNeed]) -> FamilyPots:
    recipes = separate_recipes([paint], needs, resolution_ml=RESOLUTION_ML)
    worst = max(recipe.error_de for recipe in recipes)
    found, why = _one_pot(paint, needs)
    worst_one = None if found is None else max(step.error_de for step in found.steps)
    return FamilyPots(
        family=family,
        tinter=paint.name,
        resolution_ml=RESOLUTION_ML,
        recipes=recipes,
        one_pot=found,
        worst_separate_de=worst,
        worst_one_pot_de=worst_one,
        one_pot_advised=worst_one is not None and worst_one <= worst,
        why=why,
    )


def _one_pot(paint: Mix, needs: list[PotNeed]) -> tuple[OnePot | None, str]:
    try:
        return one_pot(paint, needs, resolution_ml=RESOLUTION_ML), ""
    except BossageError as error:
        return None, str(error)
