"""What the saw sheet says of its order and of how good its plan is: proof, gap, time, the plan beside it."""

from __future__ import annotations

from bossage.pack.sheet import Column, Para, Part, Table
from bossage.pack.words import Words, count_of
from bossage.plan import Plan
from bossage.saw import Handling, SawPlan, SectionCut


def way_words(bought: SawPlan | None) -> str:
    """What to do, by the quicker way through the saw."""
    if bought is not None and bought.handling.mode == "by_stick":
        return (
            "One stick after the other, line by line. Move the stop only where a line gives one, and measure the first "
            "slice after each move."
        )
    return (
        "Set the stop for one length, tallest first, and cut its slices from each stick named before you move it. "
        "Measure the first slice."
    )


def how_good(plan: Plan, cut: SectionCut, bought: SawPlan, words: Words) -> list[Part]:
    """The proof, or the gap; the next plan beside it where one has no slack; the time both ways."""
    parts: list[Part] = [Para(lead="How good this is:", text=_proof(cut, bought, words), small=True)]
    if cut.plan is not None and cut.plan is not bought:
        parts.append(_beside(cut, cut.plan, bought, words))
    parts.append(Para(lead="Time at the saw:", text=_time(plan, bought), small=True))
    return parts


def _proof(cut: SectionCut, bought: SawPlan, words: Words) -> str:
    said = [
        f"Slices and kerfs take {words.length(bought.need_nm)} of the {words.length(bought.usable_nm)} beyond trim and "
        f"stub; {words.length(bought.slack_nm)} is to spare."
    ]
    if cut.plan is not bought:
        said.append("Room to cut one more of the longest is kept.")
    said.append(_bound(cut, bought, words))
    if bought.settings_proven:
        said.append(
            "No plan of that price cuts fewer different lengths from its sticks"
            + (", nor then leaves a longer offcut." if bought.rest_proven else ".")
        )
    if bought.greedy is not None and bought.greedy.sticks > len(bought.sticks):
        said.append(f"Filling each stick as it comes takes {bought.greedy.sticks}.")
    return " ".join(said)


def _bound(cut: SectionCut, bought: SawPlan, words: Words) -> str:
    if bought.proven:
        if cut.priced and bought.money_cents:
            return f"Proven: no choice of sticks costs less than {words.money(bought.money_cents)}."
        return "Proven: no choice of the sticks named takes less wood."
    if cut.priced and 0 < bought.bound_cents <= bought.money_cents:
        gap_pct = 100 * (bought.money_cents - bought.bound_cents) / bought.bound_cents
        return (
            f"Not proven: this costs {words.money(bought.money_cents)}, and no plan costs less than "
            f"{words.money(bought.bound_cents)}, a gap of {gap_pct:.1f} %."
        )
    found = count_of(len(bought.sticks), "stick")
    return f"Not proven: {found} found, and no plan needs fewer than {bought.bound_sticks}."


def _beside(cut: SectionCut, tight: SawPlan, bought: SawPlan, words: Words) -> Table:
    """The cheapest plan with next to no slack, and the one that this sheet shows."""
    rows = [
        (
            name,
            str(len(one.sticks)),
            words.length(one.slack_nm),
            words.money(one.money_cents) if cut.priced else "",
            what,
        )
        for name, one, what in (
            ("this sheet", bought, "the longest slice can be cut once more"),
            ("cheaper, tight", tight, "one knot, or one spoilt slice, and a block is missing"),
        )
    ]
    return Table(
        columns=(
            Column(kind="strong"),
            Column(head="sticks", align="right"),
            Column(head="to spare", align="right"),
            Column(head="price", align="right"),
            Column(head="what it bears", wide=True),
        ),
        rows=tuple(rows),
    )


def _time(plan: Plan, bought: SawPlan) -> str:
    tools = plan.brief.tools
    return (
        f"{_way(bought.handling)}; {_way(bought.other_handling)}. Counted with {tools.set_s:g} s a setting, "
        f"{tools.load_s:g} s a load and {tools.cut_s:g} s a cut; set_time, load_time and cut_time of the brief make "
        "them yours."
    )


def _way(handling: Handling) -> str:
    name = "stick by stick" if handling.mode == "by_stick" else "run by run"
    counted = f"{count_of(handling.changes, 'setting')}, {count_of(handling.loads, 'load')}"
    return f"{handling.minutes:.0f} min {name} ({counted})"
