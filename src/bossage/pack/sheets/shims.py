"""Shims at the saw and at the bench: out of which rest, stick or board each of them comes."""

from __future__ import annotations

from itertools import groupby

from bossage.pack.sheet import Column, Heading, Para, Part, Table
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.press.shim_records import ShimCut, ShimNeed, ShimPanels
from bossage.saw import CutStick, runs_of
from bossage.timber import species_or_board

MOST_NAMED = 3  # rests that are named on one line


def shim_runs(cut: ShimCut, words: Words) -> list[Part]:
    """At the saw of their section: each stop, how many, from which rest; what to buy for them."""
    if cut.plan is None:
        return []
    name_of = dict(zip((stick.number for stick in cut.plan.sticks), stick_names(cut), strict=True))
    rows = tuple(
        (words.bare(run.length_nm) if run.sets_stop else "", str(run.count), name_of[run.stick], "")
        for run in runs_of(cut.plan)
    )
    lengths = [words.length(stick.stock.length_nm) for stick in cut.plan.sticks if not stick.stock.owned]
    buy = [f"{len(list(same))} of {length}" for length, same in groupby(sorted(lengths))]
    more = f" Buy {listed(buy)} more for them: the rests do not suffice." if buy else ""
    return [
        Heading(text="Shims for the press, when every block is cut"),
        Para(text=f"{count_of(cut.count, 'shim')}, line by line as above.{more} The stub is never cut here either."),
        Table(
            columns=(
                Column(head=f"stop at, {words.unit}", kind="figure", align="right"),
                Column(head="slices", kind="figure", align="right"),
                Column(head="from", wide=True),
                Column(head="done", kind="tick"),
            ),
            rows=rows,
            tight=True,
        ),
    ]


def stick_names(cut: ShimCut) -> list[str]:
    """What each stick of the plan is: the rest of a numbered one, one from the shelf, or one bought for shims."""
    assert cut.plan is not None
    letters = iter("ABCDEFGHIJKLMNOPQRSTUVWXYZ" * 40)
    out = []
    for number, stick in zip(cut.rest_of, cut.plan.sticks, strict=True):
        if number is not None:
            out.append(f"rest of stick {number}")
        else:
            out.append(f"{'stick on the shelf' if stick.stock.owned else 'new stick'} {next(letters)}")
    return out


def after_shims(cut: ShimCut | None, section: str, number: int) -> CutStick | None:
    """The rest of a numbered stick of a section as the shims leave it; None where none come out of it."""
    if cut is None or cut.plan is None or cut.section != section:
        return None
    found = (stick for one, stick in zip(cut.rest_of, cut.plan.sticks, strict=True) if one == number)
    return next(found, None)


def source_words(plan: Plan, need: ShimNeed) -> str:
    """At the bench: what a shim of this thickness comes out of."""
    press = plan.press
    if not need.section:
        panels = next((one for one in press.shim_panels if one.thickness_nm == need.thickness_nm), None)
        return "card or thin sheet of that thickness" if panels is None or panels.plan is None else board_words(panels)
    cut = press.shim_cut
    if cut is None or cut.plan is None:
        return f"{need.section}: not enough of it"
    names = stick_names(cut)
    counts = [
        (name, sum(piece.length_nm == need.thickness_nm for piece in stick.slices))
        for name, stick in zip(names, cut.plan.sticks, strict=True)
    ]
    held = [(name, count) for name, count in counts if count]
    if len(held) > MOST_NAMED:
        return f"{need.section}: {len(held)} rests and sticks, as on the saw's sheet"
    if len(held) == 1:
        return f"{need.section}: {held[0][0]}"
    return f"{need.section}: {listed([f'{count} from {name}' for name, count in held])}"


def material_words(key: str) -> str:
    """What a board is called within a sentence."""
    name = species_or_board(key).name
    return name[:1].lower() + name[1:]


def board_words(panels: ShimPanels) -> str:
    """The boards that thin shims come out of, in words."""
    said = dict.fromkeys(
        (f"rest of board {one.rest_of}, " if one.rest_of is not None else "board of ") + material_words(one.material)
        for one in panels.boards
    )
    return listed(list(said))
