"""The verdict on the lift from where one stands, with what two people or moved furniture would change."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.checks import Check, Verdict
from bossage.hang.case import Case
from bossage.hang.lift import ground_of
from bossage.hang.records import Lifting
from bossage.hang.standing import standings
from bossage.hang.standing_records import Moved, Standing
from bossage.hang.words import DEFER, Voice

LIFT_SOURCE = f"NIOSH 94-110 (1994, rev. 2021), one person; it does not cover two-person lifts; {DEFER}"
OTHERWISE = "take a lighter leaf, hinges or another size"


def lift_checks(case: Case, lifting: Lifting, voice: Voice, subject: str) -> Iterator[Check]:
    """`lift`: the lifting index at the worse end of the lift, from the best place to stand."""
    none = lifting.recommended_g <= 0
    place = (
        f"{lifting.place}, hands {voice.say(lifting.horizontal_nm)} in front of the ankles and "
        f"{voice.say(lifting.vertical_nm)} above the floor, {lifting.where}"
    )
    verdict = Verdict.STOP if none else Verdict.CAUTION if lifting.index > 1 else Verdict.FINE
    index = f"no weight is recommended{_because(lifting)}" if none else f"index {lifting.index:.2f}"
    share = f", {voice.mass(lifting.carries_g)} for each of two people" if lifting.people > 1 else ""
    yield voice.check(
        "lift",
        "Lifting it to the hook",
        verdict,
        found=f"{voice.mass(case.mass.total_g)}{share}; {place}: recommended {voice.mass(lifting.recommended_g)}, "
        f"{index}",
        allowed="an index of 1 or less for each person",
        why="out of that reach nobody lifts with a straight back" if none else "backs are hurt at a long reach",
        care=_care(case, lifting, voice) if verdict is not Verdict.FINE else "",
        remedy=_remedy(case, lifting, voice) if none else "",
        figure=case.mass.total_g,
        source=LIFT_SOURCE,
        subject=subject,
    )


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
    rule = "half each is only a guide, as the equation does not cover two-person lifts"
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
