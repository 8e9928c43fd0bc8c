"""Ways that change the colours: where families meet, how much grain, a shade that cannot be measured."""

from __future__ import annotations

from bossage.brief.records import FadeShape
from bossage.checks import Check
from bossage.plan import Plan
from bossage.remedies.making import drawn_again
from bossage.remedies.way import Ways, put


def nearer_meeting(plan: Plan, check: Check) -> Ways:
    """One of the two shades that meet as light as the other."""
    one, _, other = check.subject.partition(" and ")
    shades = {shade.name: shade for shade in plan.fade.shades}
    if one not in shades or other not in shades:
        return
    for name, target in ((other, one), (one, other)):
        place = _place(plan, name)
        if place is not None:
            wanted = round(shades[target].lightness, 1)
            value = int(wanted) if wanted == int(wanted) else wanted
            yield put(f"Mix {name} as light as {target}", "family", place[0], "lightness", place[1], to=value)


def measurable(plan: Plan, check: Check) -> Ways:
    """A shade a little darker, so that its tinter can be measured."""
    place = _place(plan, check.subject)
    if place is not None:
        lightness = plan.brief.families[place[0]].lightness[place[1]]
        for less in (1, 2, 3, 4):
            value = round(lightness - less)
            yield put(f"Mix {check.subject} darker, to {value}", "family", place[0], "lightness", place[1], to=value)


def other_grain(plan: Plan, check: Check) -> Ways:
    """More grain between the shades, or another lay."""
    if plan.brief.fade.shape is not FadeShape.BANDS:
        for more in (0.2, 0.4, 0.6):
            grain = round(plan.brief.fade.grain + more, 2)
            if grain <= 1.5:
                yield put(f"Give the fade more grain, {grain:g}", "fade", "grain", to=grain)
    yield from drawn_again(plan, check)


def _place(plan: Plan, name: str) -> tuple[int, int] | None:
    """Where a shade stands in the brief: family, place in its list of lightnesses."""
    shade = next((one for one in plan.fade.shades if one.name == name), None)
    if shade is None:
        return None
    for number, family in enumerate(plan.brief.families):
        if family.name == shade.family:
            nearest = min(range(len(family.lightness)), key=lambda k: abs(family.lightness[k] - shade.lightness))
            return number, nearest
    return None
