"""Ask, and settle: what an answer to a check would hold, which answers of the brief still hold, and why not.

A check that somebody has agreed to is quiet. It speaks up again by itself where its figure is worse than the one that
was agreed, as papers print it, or where what it is about is elsewhere or opens otherwise.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from bossage.brief.records import Brief, LengthUnit, Settled
from bossage.checks import Agreement, Check, EditValue, Measure, Verdict, in_order
from bossage.hang import Hang
from bossage.layout.cover import leaf_rect
from bossage.layout.edits import toml_length
from bossage.layout.grid import fixture_rect
from bossage.layout.records import Layout
from bossage.layout.rect import Rect
from bossage.settling import SETTLEABLE, Unit, Who, opened_as
from bossage.units import NM_PER_MM, format_length, format_mass, parse_length_nm, parse_mass_g

SAME_NM = NM_PER_MM
"""What has moved by no more is where it was: a tape tells no better (ours)."""

EASIEST_NM = 750 * NM_PER_MM
"""Height of the hands at which lifting is easiest, 75 cm (30 in): the lifting equation, NIOSH 94-110."""

UNITS = ("mm", "in")
ASK_SHEET = "Ask first"


class AnswerState(StrEnum):
    """What has become of an answer."""

    HOLDS = "holds"
    WORSE = "worse"  # the figure is worse than what was agreed
    MOVED = "moved"  # what it is about is elsewhere, or opens otherwise
    UNSAID = "unsaid"  # the brief does not say how it was, or which of several is meant
    IDLE = "idle"  # the check says nothing that would have to be settled


@dataclass(frozen=True, slots=True, kw_only=True)
class Answered:
    """An answer of the brief, and whether it still holds: `why` not, in words."""

    answer: Settled
    unit: Unit
    state: AnswerState
    why: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Held:
    """How what a check is about is now: what an answer must say beside its figure."""

    place_nm: tuple[int, int, int, int] | None = None
    opens: str = ""
    lock: bool | None = None
    hands_nm: tuple[int, int] | None = None


def answered(
    checks: Iterable[Check], brief: Brief, layout: Layout, hang: Hang
) -> tuple[tuple[Check, ...], tuple[Answered, ...]]:
    """The checks with their answers, in the order of what is at stake, and what has become of every answer.

    A check whose answer holds is fine and says by whom and for which figure. One whose answer does not hold any more
    says why. One that may be asked about and says stop tells whom to ask.
    """
    measured = [_measured(check, brief, layout, hang) for check in checks]
    open_names = [check.name for check in measured if _to_settle(check)]
    out: list[Check] = []
    told: dict[int, Answered] = {}
    for check in measured:
        found = [(n, one) for n, one in enumerate(brief.settled) if _meant(one, check)] if _to_settle(check) else []
        if not found:
            out.append(_asked(check, brief))
            continue
        number, answer = found[-1]  # the last word counts
        several = not answer.of and open_names.count(check.name) > 1
        state, why = (
            (AnswerState.UNSAID, f"it speaks {open_names.count(check.name)} times: say which is meant, as of")
            if several
            else _standing(check, answer, brief, hang)
        )
        if number not in told or told[number].state is AnswerState.HOLDS:
            told[number] = Answered(answer=answer, unit=SETTLEABLE[answer.check].unit, state=state, why=why)
        out.append(_quiet(check, answer, brief) if state is AnswerState.HOLDS else _again(check, answer, why, brief))
    idle = "the check says nothing that would have to be settled, or a later answer counts"
    return in_order(out), tuple(
        told.get(n) or Answered(answer=one, unit=SETTLEABLE[one.check].unit, state=AnswerState.IDLE, why=idle)
        for n, one in enumerate(brief.settled)
    )


def to_settle(check: Check) -> bool:
    """Whether somebody can agree to what a check says, or has done so."""
    return check.figure is not None and (check.settled is not None or _to_settle(check))


def is_asked(check: Check) -> bool:
    """Whether the sheet of questions asks about it: all that stops or warns; the maker's own choice where it stops."""
    if check.settled is not None or not to_settle(check):
        return False
    return SETTLEABLE[check.name].who is not Who.MAKER or check.verdict is Verdict.STOP


def answer_of(check: Check, brief: Brief, hang: Hang) -> dict[str, EditValue]:
    """All that an answer to a check holds but by whom, when and in which words: a table for the brief."""
    assert check.figure is not None
    unit, held = brief.piece.unit, held_now(check, brief, hang)
    table: dict[str, EditValue] = {"check": check.name}
    if check.subject:
        table["of"] = check.subject
    table["for"] = figure_words(check.figure, unit.value)
    if held.place_nm is not None:
        table["place"] = [_with_unit(nm, unit) for nm in held.place_nm]
    if held.opens:
        table["opens"] = held.opens
    if held.lock is not None:
        table["lock"] = held.lock
    if held.hands_nm is not None:
        table["hands"] = [_with_unit(nm, unit) for nm in held.hands_nm]
    return table


def held_now(check: Check, brief: Brief, hang: Hang) -> Held:
    """How what a check is about is in this brief."""
    keys, access = SETTLEABLE[check.name].held, brief.access
    lifting = next((one for one in hang.liftings if check.subject in ("", one.leaf)), None)
    return Held(
        place_nm=_place(check, brief) if "place" in keys else None,
        opens=opened_as(access.opens.value, tool=access.tool) if "opens" in keys else "",
        lock=access.lock if "lock" in keys else None,
        hands_nm=(lifting.horizontal_nm, lifting.vertical_nm) if "hands" in keys and lifting else None,
    )


def figure_words(figure: Measure, unit: str) -> str:
    """A figure as papers print it: `24 lb`, `350 mm`, `80°`, `60 times a year`."""
    if figure.unit == "mm":
        return format_length(round(figure.value * NM_PER_MM), unit)
    if figure.unit == "g":
        return format_mass(figure.value, unit)
    return f"{figure.value:g}°" if figure.unit == "deg" else f"{figure.value:g} times a year"


def is_worse(check: str, now: Measure, agreed: float) -> bool:
    """Whether a figure is worse than the one that was agreed, as it is printed in either system of units."""
    printed = [now.value, *(_as_printed(now, unit) for unit in UNITS)]
    return min(printed) > agreed if SETTLEABLE[check].more_is_worse else max(printed) < agreed


def _as_printed(figure: Measure, unit: str) -> float:
    words = figure_words(figure, unit)
    if figure.unit == "mm":
        return parse_length_nm(words, unit, allow_negative=True) / NM_PER_MM
    return parse_mass_g(words) if figure.unit == "g" else figure.value


def _with_unit(nm: int, unit: LengthUnit) -> str:
    """A length that says its unit, so that the answer stays what it is when the brief changes to another."""
    value = toml_length(nm, unit)
    return value if isinstance(value, str) else f"{value} {unit.value}"


def _to_settle(check: Check) -> bool:
    return check.verdict is not Verdict.FINE and check.name in SETTLEABLE and check.figure is not None


def _measured(check: Check, brief: Brief, layout: Layout, hang: Hang) -> Check:
    """A check with the figure that its own stage did not have yet: the mass of what hangs there."""
    if check.name in ("ready_access", "meter_reach", "gas_reach", "pipes_reach"):
        return replace(check, figure=Measure(value=_mass_before(check, brief, layout, hang), unit="g"))
    if check.name == "escape_route":
        mass_g = sum(one.total_g for one in hang.leaf_masses if one.copy == 1)
        return replace(check, figure=Measure(value=mass_g, unit="g"))
    return check


def _mass_before(check: Check, brief: Brief, layout: Layout, hang: Hang) -> float:
    """Mass of the heaviest leaf before a fixture; of the heaviest of all where none is."""
    face = next((fixture_rect(one) for one in brief.fixtures if one.name == check.subject), Rect(0, 0, 0, 0))
    names = {(leaf.name, leaf.copy) for leaf in layout.leaves if leaf_rect(leaf).overlap(face)}
    masses = {(one.leaf, one.copy): one.total_g for one in hang.leaf_masses}
    return max((g for key, g in masses.items() if key in names), default=max(masses.values()))


def _place(check: Check, brief: Brief) -> tuple[int, int, int, int] | None:
    """Where what a check is about is on the wall; None where the brief has no place for it."""
    name = check.subject.partition(", copy ")[0]
    for fixture in brief.fixtures:
        if fixture.name == name:
            return fixture.x_nm, fixture.y_nm, fixture.width_nm, fixture.height_nm
    for area in brief.keep_clear:
        if area.name == name:
            return area.x_nm, area.y_nm, area.width_nm, area.height_nm
    kinds = {"over_bed": ("bed",), "over_seat": ("sofa", "bench")}.get(check.name, ())
    for item in brief.furniture:
        if item.name == name or item.kind in kinds:
            return item.x_nm, item.bottom_nm, item.width_nm, item.top_nm - item.bottom_nm
    return None


def _meant(answer: Settled, check: Check) -> bool:
    return answer.check == check.name and (not answer.of or answer.of.casefold() == check.subject.casefold())


def _standing(check: Check, answer: Settled, brief: Brief, hang: Hang) -> tuple[AnswerState, str]:
    assert check.figure is not None
    unit, now = brief.piece.unit.value, held_now(check, brief, hang)
    unsaid = [
        key
        for key, was, held in (
            ("place", answer.place_nm, now.place_nm),
            ("opens", answer.opens or None, now.opens or None),
            ("lock", answer.lock, now.lock),
            ("hands", answer.hands_nm, now.hands_nm),
        )
        if held is not None and was is None
    ]
    if unsaid:
        return AnswerState.UNSAID, f"the answer does not say how it was: add {', '.join(unsaid)}"
    moved = _moved(answer, now)
    if moved:
        return AnswerState.MOVED, moved
    if is_worse(check.name, check.figure, answer.figure):
        what = SETTLEABLE[check.name].what
        agreed = figure_words(Measure(value=answer.figure, unit=check.figure.unit), unit)
        return AnswerState.WORSE, f"{what}: {agreed} was agreed, it is {figure_words(check.figure, unit)} now"
    return AnswerState.HOLDS, ""


def _moved(answer: Settled, now: Held) -> str:
    """What is not as it was when it was agreed to; empty where all is, or is easier for the hands."""
    if now.place_nm and answer.place_nm:
        for what, was, here in zip(("x", "y", "width", "height"), answer.place_nm, now.place_nm, strict=True):
            if abs(was - here) > SAME_NM:
                return f"what it is about has another {what if len(what) > 1 else 'place'} now"
    if now.opens and answer.opens != now.opens:
        return f"it was to be: {answer.opens}; it is: {now.opens}"
    if answer.lock and now.lock is False:
        return "it was agreed with an anti-lift lock, and none is fitted now"
    if now.hands_nm and answer.hands_nm:
        out = now.hands_nm[0] > answer.hands_nm[0] + SAME_NM
        off = abs(now.hands_nm[1] - EASIEST_NM) > abs(answer.hands_nm[1] - EASIEST_NM) + SAME_NM
        if out or off:
            return f"the hands are further {'out' if out else 'up or down'} now"
    return ""


def _quiet(check: Check, answer: Settled, brief: Brief) -> Check:
    assert check.figure is not None
    agreement = Agreement(
        was=check.verdict,
        by=answer.by,
        on=answer.on,
        agreed=figure_words(Measure(value=answer.figure, unit=check.figure.unit), brief.piece.unit.value),
        condition=answer.condition,
        words=answer.words,
    )
    return replace(check, verdict=Verdict.FINE, settled=agreement, found=f"{check.found.rstrip('.')}; {agreement}")


def _again(check: Check, answer: Settled, why: str, brief: Brief) -> Check:
    said = f"{answer.by} agreed on {answer.on}, but {why}"
    return _asked(replace(check, found=f"{check.found.rstrip('.')}; {said}"), brief)


def _asked(check: Check, brief: Brief) -> Check:
    """A check that may be asked about says so: a stop always, a matter of choice where the maker may choose."""
    if not _to_settle(check):
        return check
    who = SETTLEABLE[check.name].who
    if check.verdict is Verdict.STOP:
        words = (
            f"a yes from {who.value} lifts this stop: the sheet “{ASK_SHEET}” asks, and [[settled]] takes the answer"
        )
    elif who is Who.MAKER:
        words = "keep it as a knowing choice under your own name, as [[settled]]"
    else:
        return check
    return replace(check, care=f"{check.care.rstrip('.')}; {words}" if check.care else words)
