"""The verdict on the lift from where one stands, with what two people or moved furniture would change."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.checks import Check, Verdict
from bossage.handling import ONE_PERSON_G, nobodys_g, wants_two
from bossage.hang.case import Case
from bossage.hang.lift import ground_of
from bossage.hang.records import Lifting
from bossage.hang.standing import standings, to_move
from bossage.hang.standing_records import Moved, Standing
from bossage.hang.words import DEFER, Voice
from bossage.units import NM_PER_MM

LIFT_SOURCE = (
    "NIOSH 94-110 (1994, rev. 2021) for one person; two count for two thirds of the sum of both, HSE L23 (2004) "
    f"paragraph 120; {DEFER}"
)
SPLIT_G = 18_000.0
"""Above 15 to 18 kg a piece is better split into leaves: common practice, our assumption."""

OTHERWISE = "take a lighter leaf, hinges or another size"


def lift_checks(case: Case, lifting: Lifting, voice: Voice, subject: str) -> Iterator[Check]:
    """`lift`: the lifting index at the worse end of the lift, from the best place to stand."""
    none, mass_g = lifting.recommended_g <= 0, case.mass.total_g
    most_g = nobodys_g(lifting.recommended_g, lifting.vertical_nm / NM_PER_MM, min(2, lifting.people))
    beyond = mass_g > most_g
    place = (
        f"{lifting.place}, hands {voice.say(lifting.horizontal_nm)} in front of the ankles and "
        f"{voice.say(lifting.vertical_nm)} above the floor, {lifting.where}"
    )
    verdict = Verdict.STOP if none or beyond else Verdict.CAUTION if lifting.index > 1 else Verdict.FINE
    index = f"no weight is recommended{_because(lifting)}" if none else f"index {lifting.index:.2f}"
    share = f", {voice.mass(lifting.carries_g)} for each of two people" if lifting.people > 1 else ""
    yield voice.check(
        "lift",
        "Lifting it to the hook",
        verdict,
        found=f"{voice.mass(mass_g)}{share}; {place}: recommended {voice.mass(lifting.recommended_g)} for one person, "
        f"{index}",
        allowed="an index of 1 or less"
        + ("" if verdict is Verdict.FINE else f"; over {voice.mass(most_g)} nobody can agree to it"),
        why="out of that reach nobody lifts with a straight back" if none else "backs are hurt at a long reach",
        care=_care(case, lifting, voice) if verdict is not Verdict.FINE else "",
        remedy=_remedy(case, lifting, voice) if none or beyond else "",
        # what is more than that is nobody's to agree to
        figure=None if beyond else mass_g,
        source=LIFT_SOURCE,
        subject=subject,
    )


def people_check(case: Case, lifting: Lifting, voice: Voice, subject: str) -> Check:
    """`two_people`: a second pair of hands wherever the mass or the lift of one asks for them."""
    ground, mass_g = ground_of(case), case.mass.total_g
    alone = _alone(case)
    before = " and ".join(one.name for one in to_move(ground))
    over = f", and {before} stands before it" if before else ""
    index = f"index {alone.index:.2f} for one person" if alone.holds else "no weight is recommended for one person"
    return voice.check(
        "two_people",
        "Two people to hang it",
        Verdict.CAUTION if wants_two(mass_g, alone.index) else Verdict.FINE,
        found=f"the leaf weighs {voice.mass(mass_g)}{over}; {index}",
        allowed=f"up to {ONE_PERSON_G / 1000:g} kg (33 lb) and an index of 1 or less for one person",
        why="a wide flat piece cannot be held close, and a hand is needed to find the cleat",
        care="lift it with two people, one at each side",
        remedy="split the piece into leaves" if mass_g > SPLIT_G else "",
        figure=mass_g,
        source="15 kg (33 lb): common practice, our assumption; the index: NIOSH 94-110; the rules for lifting where "
        "you work govern",
        subject=subject,
    )


def _alone(case: Case) -> Standing:
    """The lift by one person, with furniture where the brief leaves it."""
    found = standings(ground_of(case))
    used = next(one for one in found if one.governs)
    return next(one for one in found if one.people == 1 and one.case == used.case and "hanging" in one.acts)


def others(case: Case, lifting: Lifting) -> list[Standing]:
    """Other ways to lift the same leaf: more people, furniture moved, and both; the least change first."""
    found = standings(ground_of(case))
    used = next(one for one in found if one.governs)
    lifts = [one for one in found if "hanging" in one.acts and not one.governs and one.people >= used.people]
    return [one for one in lifts if one.case == used.case or _more_moved(one, used)]


def _more_moved(one: Standing, used: Standing) -> bool:
    now = {item.name: item.out_nm for item in used.moved}
    return any(item.out_nm > now.get(item.name, 0) for item in one.moved)


def moved_words(moved: tuple[Moved, ...], voice: Voice) -> str:
    """Furniture and how far it goes."""
    return " and ".join(f"{one.name} moved out by {voice.say(one.out_nm)}" for one in moved)


def _because(lifting: Lifting) -> str:
    return f", as {lifting.why_not}" if lifting.why_not else ""


def _care(case: Case, lifting: Lifting, voice: Voice) -> str:
    """Each other way with its own index, and what is left where none comes down to 1."""
    tried = others(case, lifting)
    told = [f"{_how(one, voice)}: {_outcome(one, voice)}" for one in tried]
    if not any(one.index <= 1 for one in tried):
        told.append(OTHERWISE)
    rule = "two people count for two thirds of the sum of both, and the mass for all of itself"
    return "; ".join([*told, *([rule] if any(one.people > 1 for one in tried) else [])])


def _how(one: Standing, voice: Voice) -> str:
    who = "two people, one at each end" if one.people > 1 else "one person"
    return f"{who}, {moved_words(one.moved, voice)}" if one.moved else who


def _outcome(one: Standing, voice: Voice) -> str:
    if not one.holds:
        return f"no weight is recommended ({one.why_not or 'out of the equation'})"
    half = f"{voice.mass(one.carries_g)} each, " if one.people > 1 else ""
    return f"{half}recommended {voice.mass(one.recommended_g)}, index {one.index:.2f}"


def _remedy(case: Case, lifting: Lifting, voice: Voice) -> str:
    """What would make the equation hold: what is measured brought nearer, furniture moved, or another piece."""
    moves = next((one for one in others(case, lifting) if one.holds and one.moved), None)
    if moves is not None:
        return f"write how far it is moved (furniture.moved): {moved_words(moves.moved, voice)}; or {OTHERWISE}"
    return _out_of_reach(lifting) or f"{OTHERWISE}, or another place"


def _out_of_reach(lifting: Lifting) -> str:
    zero = {
        "reach": lifting.HM,
        "height of the hands": lifting.VM,
        "travel": lifting.DM,
        "turn": lifting.AM,
        "pace": lifting.FM,
    }
    limits = {
        "reach": "63 cm (25 in)",
        "height of the hands": "175 cm (70 in)",
        "travel": "175 cm (70 in)",
        "turn": "135°",
        "pace": "15 a minute",
    }
    return " and ".join(f"bring the {name} to {limits[name]} or less" for name, value in zero.items() if value <= 0)
