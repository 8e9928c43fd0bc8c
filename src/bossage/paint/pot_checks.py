"""What to say of pots before they are mixed: shades that the maker's own measure cannot reach, whatever the way."""

from __future__ import annotations

from collections.abc import Sequence

from bossage.checks import Check, Verdict
from bossage.colour.mixing import Paint as Mix
from bossage.colour.mixing import mix_lab
from bossage.colour.recipes import PotNeed
from bossage.colour.scales import MEASURED_TIMES, most_shades
from bossage.paint.records import FamilyPots

MOST_TINTER = 0.1
"""Of a pot, if the tinter is a universal one (common practice, no source)."""


def pot_checks(pots: FamilyPots, paints: Sequence[Mix], needs: Sequence[PotNeed]) -> tuple[Check, ...]:
    """One caution a family with shades that neither a pot each nor one pot can measure out; none where one way can."""
    lost = [recipe.shade for recipe in pots.recipes if not recipe.measurable]
    if not lost or pots.one_pot is not None:
        return ()
    least_ml = MEASURED_TIMES * pots.resolution_ml
    return (
        Check(
            stage="paint",
            name="pot_unmeasurable",
            title="Tinter that cannot be measured out",
            subject=", ".join(lost),
            verdict=Verdict.CAUTION,
            found=f"The smallest amount of tinter is {pots.smallest_separate_ml:.2g} mL in its pot.",
            allowed=f"At least {least_ml:g} mL: ten times the {pots.resolution_ml:g} mL that can be told apart.",
            why=f"A mark more or less would show. {pots.why}".strip(),
            care="Let the tinter down with base first and measure that." + _most(paints, needs, least_ml),
            remedy="mix more of these shades, or take a finer syringe or scale (`tools.measure`)",
            source="Ten times the resolution keeps the error to a tenth of a shade's tinter: this project's own rule.",
        ),
    )


def tinter_checks(needs: Sequence[PotNeed]) -> tuple[Check, ...]:
    """Shades with more tinter than a pot of paint can carry if it is a universal tinter, which has no binder."""
    over = [need.shade for need in needs if sum(need.shares) > MOST_TINTER]
    if not over:
        return ()
    most = max(sum(need.shares) for need in needs)
    return (
        Check(
            stage="paint",
            name="tinter_share",
            title="Tinter that may never dry hard",
            subject=", ".join(over),
            verdict=Verdict.CAUTION,
            found=f"Up to {100 * most:.0f} % of the pot is tinter.",
            allowed=f"About {100 * MOST_TINTER:.0f} % of a universal tinter, which has no binder of its own.",
            why="Paint with more of it stays soft, sticks block to block and rubs off.",
            care="Take a full-tone paint as the tinter: it dries by itself and may be any share. Ask at the counter "
            "which of the two the tin is. Paint the test card's field of tinter alone on day 1, and rub it a week "
            "later: no colour may come off.",
            remedy="",
            source="common practice, no source; the tinter's label governs",
        ),
    )


def _most(paints: Sequence[Mix], needs: Sequence[PotNeed], least_ml: float) -> str:
    """The lightest mix that can be measured out in a pot of this size, and how many shades there are from there on."""
    volume_ml = min(need.volume_ml for need in needs)
    darkest, lightest = max(need.fraction for need in needs), least_ml / volume_ml
    if len(paints) != 1 or lightest >= darkest:
        return ""
    L = float(mix_lab(paints[0], lightest)[0])
    most = most_shades(paints[0], lightest, darkest, volume_ml=volume_ml, resolution_ml=least_ml)
    scale = f"; from there to the darkest, at most {most} even shades can be." if most > 1 else "."
    return f" The lightest mix that can be measured out in a pot of {volume_ml:.0f} mL is lightness {L:.1f}{scale}"
