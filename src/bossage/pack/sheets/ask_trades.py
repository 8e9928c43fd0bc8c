"""What a tradesperson is shown and asked besides the checks: where holes go, how deep, what leads to the thing."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.hang.records import LeafHang
from bossage.hang.wall_records import FixingPoint, WallHoles
from bossage.pack.sheet import Column, Para, Part, Table
from bossage.pack.sheets.drilling import hole_deep_nm
from bossage.pack.words import Words, count_of, listed
from bossage.plan import Plan
from bossage.settling import Who
from bossage.units import NM_PER_MM
from bossage.zones import STUD_REACH_NM

_FED = "From which sides does anything lead to it in the wall? (fed_from)"
_NEAR = "May holes be drilled within {near} of it, and who drills them?"
_ELSE = "Where else is it shut off, by whom, with what key?"

TRADES: dict[Who, tuple[str, ...]] = {
    Who.ELECTRICIAN: (
        _FED,
        "What stays live with the main switch off, and where is that cut off?",
        _NEAR,
        "Are its label and its schedule still read, with the piece closed and open?",
    ),
    Who.AUTHORITY: (),
    Who.SUPPLIER: (_FED, _NEAR, "Which number is called in an emergency?"),
    Who.GAS: (_FED, _NEAR, _ELSE, "Which number is called when it smells of gas?"),
    Who.HEATING: (_FED, _NEAR, _ELSE),
    Who.SWEEP: ("How thick is the face of the flue, what of it sounds hollow, and may it be drilled, how deep?",),
}
"""Questions with a line to write on, by who answers them."""


def trade_parts(plan: Plan, who: Who, words: Words) -> Iterator[Part]:
    """Holes and questions for one who knows what is behind the wall; nothing for anybody else."""
    questions = TRADES.get(who, ())
    if not questions:
        return
    for hung in plan.hang.leaves:
        if hung.copy == 1:
            yield Para(
                lead="Holes in the wall:",
                text=f"{_holes(hung, words)} The sheets “The wall” and “Hang” draw them.",
                small=True,
            )
    near = "12 in" if words.inches else words.length(STUD_REACH_NM)
    yield Table(
        columns=(Column(head="question", wide=True), Column(head="answer", kind="blank", mm=80.0)),
        rows=tuple((question.format(near=near), "") for question in questions),
        tight=True,
    )


def _holes(hung: LeafHang, words: Words) -> str:
    """Every fixing of a leaf by its place, and how deep its hole is."""
    if hung.cleat is not None:
        points, holes = hung.cleat.fixings, hung.cleat.holes
    elif hung.hinges is not None:
        points, holes = hung.hinges.post.fixings, hung.hinges.post.holes
    else:
        points, holes = (), None
    if not points:
        return f"Leaf {hung.leaf}: no holes are planned."
    upright = hung.hinges is not None and hung.hinges.stay is None
    many, places = count_of(len(points), "hole"), _places(points, words, upright=upright)
    return f"Leaf {hung.leaf}: {many}, in {words.unit_name}; {places}. {_deep(holes, points, words)}"


def _places(points: tuple[FixingPoint, ...], words: Words, *, upright: bool) -> str:
    """Places from the left corner with the heights over the floor; of a row that runs up, the other way round."""
    along = listed(list(dict.fromkeys(words.bare(point.x_nm) for point in points)))
    high = listed(list(dict.fromkeys(words.bare(point.y_nm) for point in points)))
    parts = [f"from the left corner: {along}", f"over the floor: {high}"]
    return "; ".join(parts[::-1] if upright else parts)


def _deep(holes: WallHoles | None, points: tuple[FixingPoint, ...], words: Words) -> str:
    if holes is None:
        return "How deep they are the packet of the fixing says."
    if holes.into == "stud":
        deep = [point.depth_in_stud_mm for point in points if point.depth_in_stud_mm is not None]
        if not deep:
            return "No stud is known behind them."
        return f"{words.length(round(max(deep) * NM_PER_MM))} deep from the face of the stud."
    return f"{words.length(hole_deep_nm(holes, words))} deep from the face of the wall."
