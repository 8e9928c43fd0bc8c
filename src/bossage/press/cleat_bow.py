"""Whether a leaf that bows still lies on its cleat over the whole length, and what holds it where it does not."""

from __future__ import annotations

from bossage.brief.records import Brief, Opens
from bossage.checks import Check, Verdict
from bossage.hang import BowedHold
from bossage.press.wood_records import BackerBow
from bossage.units import NM_PER_MM, format_length

PLAY_MM = 1.0
"""Bow over the length of a cleat that its halves take up by bending and by the play of their bevels: ours."""


def check_cleat_bow(brief: Brief, bow: BackerBow, held: BowedHold | None) -> Check | None:
    """`cleat_bow`: a caution where the likely bow over the cleat is more than its play; None without a cleat.

    Where the ends of the leaf come forward they press on the wall half's bevel, and its middle lies free; where the
    middle comes forward it alone carries.
    """
    across = next((strip for strip in bow.strips if strip.way == "across"), None)
    if held is None or across is None or brief.access.opens is not Opens.LIFT_OFF:
        return None
    unit = brief.piece.unit
    over_mm = across.likely_mm * min(1.0, held.cleat_nm / across.span_nm) ** 2
    where, margin = ("at its ends", held.ends_margin) if across.hollow else ("in its middle half", held.middle_margin)
    loose = over_mm > PLAY_MM
    likely, play, long = (
        format_length(round(nm), unit) for nm in (over_mm * NM_PER_MM, PLAY_MM * NM_PER_MM, held.cleat_nm)
    )
    said = f"likely {likely} over the {long} of the cleat"
    if loose:
        said += f"; the leaf then lies on the cleat {where} alone; the fixings there have a margin of {margin:.2f}"
    return Check(
        stage="press",
        name="cleat_bow",
        title="A bowed leaf on its cleat",
        verdict=Verdict.CAUTION if loose else Verdict.FINE,
        found=said,
        allowed=f"{play}, which a cleat of wood takes up",
        why="a leaf that has bowed hangs on a part of its cleat, and on the fixings there",
        care="lower the bow as its own check says; once a season see whether the halves close and no fixing works loose"
        if loose
        else "",
        remedy="",
        source="bow by the square of the length; where it bears by statics; the play ours",
    )
