"""The usual cautions at the saw, said on the saw sheet itself."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.checks import Caution
from bossage.units import NM_PER_IN, format_length

HALF_INCH_NM = NM_PER_IN // 2


def saw_cautions(brief: Brief, *, bevels: bool, cut_outs: bool, strips: bool) -> tuple[Caution, ...]:
    """What to heed while slicing, with this shop's own distances; at bevels, cut-outs and strips if there are any."""
    unit = brief.piece.unit
    # a distance to keep is never rounded down: 150 mm is 6 in
    hold_nm = brief.tools.hold_nm if unit == "mm" else -(-brief.tools.hold_nm // HALF_INCH_NM) * HALF_INCH_NM
    hold = format_length(hold_nm, unit)
    stub = format_length(min(stick.stub_nm for stick in brief.sticks), unit)
    by_hand = brief.tools.saw == "mitre box"
    return (
        Caution(
            step="saw",
            text=f"Keep both hands at least {hold} from the blade. The last {stub} of every stick is never cut: it is "
            "what you hold by. Clamp short stock; never hold a slice while it is being cut.",
            source="Trade practice and a saw maker's manual, as read for this project",
        ),
        *(_BY_HAND if by_hand else _POWERED),
        Caution(
            step="boards",
            text=f"Bear both halves of a board, so that neither drops nor closes on the blade. Two people carry a "
            f"whole one. Hands stay at least {hold} from the blade; a push stick moves narrow strips, never "
            "fingers.",
            source="Common practice, no source",
        ),
        Caution(
            step="boards",
            text="Guards and riving knife on, eyes and ears covered, dust extracted. Stand out of the line of the "
            "blade and follow the saw's own manual and the rules that hold where you work.",
            source="OSHA 1910.212, 1910.213 as read for this project; local rules govern",
        ),
        *([_BEVEL] if bevels else []),
        *([_CUT_OUT] if cut_outs else []),
        *(
            [
                Caution(
                    step="strips",
                    text=f"Short parts come off a strip, at a crosscut saw or by hand. Hold the strip by its last "
                    f"{stub}, which are never cut. Hands stay at least {hold} from the blade; let the blade stop "
                    "before you take a piece away. Never guide a short piece along the fence.",
                    source="Common practice, no source",
                )
            ]
            if strips
            else []
        ),
    )


_BEVEL = Caution(
    step="bevels",
    text="The blade leans away from the fence, never over it: a strip under a leaning blade is trapped and thrown. "
    "Unplug the saw to tilt it and try the setting on scrap. A push stick moves the strip, never fingers.",
    source="Common practice, no source",
)
_CUT_OUT = Caution(
    step="cut outs",
    text="Clamp the board with nothing under the cut, keep the cable behind the saw and the other hand off the "
    "underside. Let the blade stop before it is lifted out. Eyes covered, dust extracted.",
    source="Common practice, no source",
)
_POWERED = (
    Caution(
        step="saw",
        text="Never trap a slice between blade and stop: set the length with a spacer against the stop, pull the "
        "spacer out, then cut; or let the blade stop before it rises. With a spacer the stop stands further out than "
        "the figure, by the spacer.",
        source="Common practice, no source",
    ),
    Caution(
        step="saw",
        text="Guards on, eyes and ears covered, dust extracted at the blade, sleeves tied. Follow the saw's own "
        "manual and the rules that hold where you work.",
        source="OSHA 1910.212, 1910.213 as read for this project; local rules govern",
    ),
)
_BY_HAND = (
    Caution(
        step="saw",
        text="Clamp the stick in the mitre box for every cut, and the box to the bench. Start with light strokes; "
        "a slice held in the hand turns under the teeth.",
        source="Common practice, no source",
    ),
    Caution(
        step="saw",
        text="Wear a mask for the dust and cover your eyes. Follow the saw's own manual and the rules that hold where "
        "you work.",
        source="Common practice, no source; local rules govern",
    ),
)
