"""Recipes for the families that are mixed from a base: a pot for each shade, and all of them from one pot."""

from __future__ import annotations

from bossage.brief.records import Brief, Family
from bossage.checks import Check
from bossage.colour.measuring import Measure, measured, measures_of
from bossage.colour.mixing import Fit
from bossage.colour.mixing import Paint as Mix
from bossage.colour.pots import OnePot, one_pot
from bossage.colour.recipes import PotNeed, separate_recipes
from bossage.errors import BossageError
from bossage.fade.records import Fade
from bossage.fade.scales import family_paints
from bossage.paint.cards import LET_DOWN_ML
from bossage.paint.pot_checks import pot_checks, tinter_checks
from bossage.paint.records import FamilyPots, ShadePaint


def family_pots(
    brief: Brief, fade: Fade, rows: tuple[ShadePaint, ...]
) -> tuple[tuple[FamilyPots, ...], tuple[Check, ...]]:
    """Recipes of every family whose shades are mixed from a base and tinters, and what to say of them.

    The other families are bought or matched by eye.

    Args:
        brief: Families in the order of the fade, and what can be measured out.
        fade: Shades with their share of tinter.
        rows: Volume of each shade, coats and reserve included.
    """
    volume_ml = {row.shade: row.mix_ml for row in rows}
    found: list[FamilyPots] = []
    checks: list[Check] = []
    for family in brief.families:
        needs = [
            PotNeed(shade=shade.name, shares=shade.tinter_shares, volume_ml=volume_ml[shade.name])
            for shade in fade.shades
            if shade.family == family.name and shade.modelled and volume_ml[shade.name] > 0
        ]
        if needs:
            paints = family_paints(family)
            found.append(_pots(family, paints, needs, brief.tools.measure_ml))
            checks += (*pot_checks(found[-1], paints, needs), *tinter_checks(needs))
    return tuple(found), tuple(checks)


def tools_of(pots: tuple[FamilyPots, ...]) -> tuple[Measure, ...]:
    """Every tool that is needed: for pots in the way that is advised, for stocks, for the mixes of the cards."""
    used: dict[str, Measure] = {}
    for one in pots:
        pot = one.one_pot if one.one_pot_advised else None
        if pot is None:
            found = [amount.measured for recipe in one.recipes for amount in recipe.amounts if amount.volume_ml]
        else:
            found = [pot.start, *(measure for stock in pot.stocks for measure in stock.measured)]
            found += [step.measured for step in pot.steps if step.measured is not None]
        if one.guessed:
            tools = measures_of(one.resolution_ml)
            found += [measured(ml, tools) for ml in LET_DOWN_ML]
        used |= {measure.tool.name: measure.tool for measure in found}
    return tuple(sorted(used.values(), key=lambda tool: tool.holds_ml))


def _pots(family: Family, paints: tuple[Mix, ...], needs: list[PotNeed], finest_ml: float) -> FamilyPots:
    tools = measures_of(finest_ml)
    densities = tuple(tinter.g_per_ml for tinter in family.tinters)
    recipes = separate_recipes(
        paints,
        needs,
        tools=tools,
        base_g_per_ml=family.base_g_per_ml,
        tinter_g_per_ml=densities,
    )
    worst = max(recipe.error_de for recipe in recipes)
    found, why = _one_pot(family, paints, needs, tools)
    worst_one = None if found is None else max(step.error_de for step in found.steps)
    return FamilyPots(
        family=family.name,
        tinters=tuple(tinter.name for tinter in family.tinters),
        base_g_per_ml=family.base_g_per_ml,
        tinter_g_per_ml=densities,
        resolution_ml=finest_ml,
        recipes=recipes,
        one_pot=found,
        smallest_separate_ml=min((s * n.volume_ml for n in needs for s in n.shares if s > 0), default=0.0),
        worst_separate_de=worst,
        worst_one_pot_de=worst_one,
        one_pot_advised=worst_one is not None and worst_one <= worst,
        guessed=tuple(paint.name for paint in paints if paint.fit is Fit.SHAPE and family.mixed is None),
        mixed=family.mixed is not None,
        why=why,
    )


def _one_pot(
    family: Family, paints: tuple[Mix, ...], needs: list[PotNeed], tools: tuple[Measure, ...]
) -> tuple[OnePot | None, str]:
    if len(paints) > 1:
        return (
            None,
            "One pot from light to dark takes one tinter; with several, each shade is mixed in a pot of its own.",
        )
    try:
        pot = one_pot(
            paints[0],
            needs,
            tools=tools,
            base_g_per_ml=family.base_g_per_ml,
            tinter_g_per_ml=family.tinters[0].g_per_ml,
        )
    except BossageError as error:
        return None, str(error)
    return pot, ""
