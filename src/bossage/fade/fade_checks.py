"""What to say of scales and fade before anything is mixed."""

from __future__ import annotations

from itertools import combinations, pairwise

from bossage.brief.records import Brief, FadeShape
from bossage.checks import Check, Verdict
from bossage.colour.measures import BANDING_MOST, FadeMeasures
from bossage.colour.meetings import Bridge, End, Joint, Meeting, bridge, meeting
from bossage.colour.scales import STOCK_BELOW_FRACTION, Scale, most_shades, scale_faults
from bossage.fade.colour_checks import paint_colour_checks

LEAST_FIGURE_N = 3
"""Up to so many blocks hanging together are no figure to anybody (our assumption)."""
UNSEEN_CORRELATION = 0.1
"""A correlation that nobody sees (our assumption)."""
MOST_UNEVEN = 3.0
"""Widest step of all scales over the narrowest (our assumption)."""
CARD_SOURCE = "Two-constant Kubelka-Munk model with surface correction; see docs/decisions/0011."


def fade_checks(brief: Brief, scales: tuple[Scale, ...], measures: FadeMeasures, clashes: int) -> tuple[Check, ...]:
    """Meetings of families, shades that cannot be told apart or measured out, and how the fade looks."""
    checks = list(paint_colour_checks(brief))
    for first, second, ends in _borders(brief, scales):
        met = meeting(first, second, ends=ends, max_dl=brief.fade.meet_dl, max_de=brief.fade.meet_de)
        modelled = first.modelled and second.modelled
        checks.append(_meeting(met, bridge(first, second, ends=ends), modelled=modelled))
        if met.joint is Joint.GAP:
            checks.append(_cross_mix(met))
    checks += _steps(scales)
    for scale in scales:
        checks += _faults(scale)
    checks += _looks(brief, measures, clashes)
    return tuple(checks)


def _borders(brief: Brief, scales: tuple[Scale, ...]) -> list[tuple[Scale, Scale, End]]:
    """Which families meet, and with which shades: along a path in its order, else all with their outermost ones."""
    if brief.fade.shape is FadeShape.PATH:
        return [(first, second, End.ORDER) for first, second in pairwise(scales)]
    if brief.fade.shape is FadeShape.FREE:
        return [(first, second, End.OUTER) for first, second in combinations(scales, 2)]
    return []


def _steps(scales: tuple[Scale, ...]) -> list[Check]:
    steps = [step for scale in scales for step in scale.step_de]
    if not steps:
        return []
    uneven = max(steps) > MOST_UNEVEN * min(steps)
    told = [
        f"{scale.family} {min(scale.step_de):.1f}"
        + (f" to {max(scale.step_de):.1f}" if max(scale.step_de) - min(scale.step_de) >= 0.05 else "")
        for scale in scales
        if scale.step_de
    ]
    return [
        Check(
            stage="fade",
            name="steps",
            title="Steps of the scales",
            verdict=Verdict.CAUTION if uneven else Verdict.FINE,
            found=f"From shade to shade: {'; '.join(told)} (CIEDE2000).",
            allowed=f"The widest at most {MOST_UNEVEN:g} times the narrowest.",
            why="Uneven steps read as a border inside a family.",
            remedy="Write `lightness = { from = …, to = …, shades = … }` for even steps." if uneven else "",
            source="CIEDE2000: Sharma, Wu, Dalal 2005; the limit is this project's own assumption.",
        )
    ]


def _meeting(met: Meeting, bridged: Bridge | None, *, modelled: bool) -> Check:
    # at one lightness two hues must also look alike, but only paints that both run into one base can do that
    agrees = met.meets if modelled else met.joint is not Joint.GAP
    far_apart = modelled and met.joint is Joint.LEVEL and not met.meets
    verdict = Verdict.FINE if agrees or (met.joint is Joint.STEP and not far_apart) else Verdict.CAUTION
    lowest = (
        f" Down to lightness {met.lowest_lightness:.1f} both stay within {met.max_de:g}."
        if met.lowest_lightness is not None
        else ""
    )
    return Check(
        stage="fade",
        name="meeting",
        title="Where families meet",
        subject=f"{met.first.name} and {met.second.name}",
        verdict=verdict,
        found=f"They differ by {abs(met.dl):.1f} in lightness and by {met.de:.2f} in all (CIEDE2000).{lowest}",
        allowed=(
            f"At most {met.max_dl:g} in lightness and {met.max_de:g} in all."
            if modelled
            else f"At most {met.max_dl:g} in lightness, or one step of their own scales."
        ),
        why="Two families that part in lightness where they meet show a seam across the piece.",
        remedy=(
            ""
            if verdict is Verdict.FINE
            else "Raise the shades that meet towards the base; or let the two families share one bridging shade, a "
            "family of one lightness between them, with both tinters." + _bridge_words(bridged)
        ),
        source="CIEDE2000: Sharma, Wu, Dalal 2005; tolerances are this project's own assumption.",
    )


def _bridge_words(bridged: Bridge | None) -> str:
    if bridged is None:
        return ""
    return (
        f" Equal parts of the two would stand {bridged.de_first:.1f} and {bridged.de_second:.1f} from them and lose "
        f"{100 * max(bridged.lost_chroma, 0):.0f} % of their colour."
    )


def _cross_mix(met: Meeting) -> Check:
    return Check(
        stage="fade",
        name="cross_mix",
        title="A mix across two families",
        subject=f"{met.first.name} and {met.second.name}",
        verdict=Verdict.CAUTION,
        found=f"{met.first.name} stands beside {met.second.name}, {abs(met.dl):.0f} apart in lightness.",
        allowed="Families that stand beside each other within a step of lightness.",
        why="The gap asks for a mix of the two families, and a mix across hues may go muddy.",
        care="Paint a test card of that very mix before buying.",
        remedy="put a family between them",
        source="Common practice, no source.",
    )


def _faults(scale: Scale) -> list[Check]:
    checks = []
    for fault in scale_faults(scale):
        alike = fault.kind == "alike"
        checks.append(
            Check(
                stage="fade",
                name=fault.kind,
                title="Shades nobody can tell apart" if alike else "Too little tinter to measure",
                subject=" and ".join(fault.shades),
                verdict=Verdict.CAUTION,
                found=f"{fault.found:.2g}" + (" (CIEDE2000)" if alike else " mL of tinter in a litre"),
                allowed=f"at least {fault.allowed:.2g}" + ("" if alike else " mL in a litre"),
                why="Pots that look the same are work for nothing." if alike else "A drop more or less shows.",
                care="" if alike else f"Mix it from a diluted stock, and paint a test card first.{_most(scale)}",
                remedy=f"use fewer shades or ends further apart.{_most(scale)}" if alike else "",
                source=CARD_SOURCE,
            )
        )
    return checks


def _most(scale: Scale) -> str:
    """The largest number of shades between the same ends that can be told apart and, in a litre, measured out."""
    paint, ends = scale.paint, [shade.fraction for shade in scale.shades]
    if paint is None or len(ends) < 2 or ends[0] is None or ends[-1] is None or ends[0] == ends[-1]:
        return ""
    seen = most_shades(paint, ends[0], ends[-1])
    litre = most_shades(paint, ends[0], ends[-1], volume_ml=1000.0, resolution_ml=1000.0 * STOCK_BELOW_FRACTION)
    measured = "none without a stock" if litre < 2 else f"{litre}"
    return f" Between its ends at most {seen} shades can be told apart; measured out in a litre: {measured}."


def _looks(brief: Brief, measures: FadeMeasures, clashes: int) -> list[Check]:
    checks = []
    if brief.fade.shape is not FadeShape.BANDS:
        striped = measures.banding > BANDING_MOST
        checks.append(
            Check(
                stage="fade",
                name="banding",
                title="Stripes in the fade",
                verdict=Verdict.CAUTION if striped else Verdict.FINE,
                found=f"Neighbours stray together by {measures.banding:+.2f} (1 is a full seam).",
                allowed=f"At most {BANDING_MOST:+.2f}.",
                why="A seam between two shades reads as a line drawn across the piece.",
                remedy="Raise `fade.grain` towards 1." if striped else "",
                source="This project's own measure.",
            )
        )
    if clashes:
        checks.append(
            Check(
                stage="fade",
                name="neighbours_alike",
                title="Neighbours too alike",
                verdict=Verdict.CAUTION,
                found=f"{clashes} pairs of neighbours are still too alike.",
                allowed=(
                    f"None nearer than {brief.fade.neighbours_dl:g} in L*, as the brief asks."
                    if brief.fade.neighbours_dl
                    else "None of one shade, as the brief asks."
                ),
                why="The counts by shade leave no other way that was found.",
                remedy="Spread the counts more evenly, add a shade, ask for less, or let neighbours agree.",
                source="The brief.",
            )
        )
    if brief.fade.shape is not FadeShape.BANDS:  # flat fields are patches by design
        checks.append(_figure(measures))
    return [*checks, *_height(measures)]


def _figure(measures: FadeMeasures) -> Check:
    seen = measures.stray_patch > max(measures.stray_patch_usual, LEAST_FIGURE_N)
    return Check(
        stage="fade",
        name="figure",
        title="A figure nobody meant",
        verdict=Verdict.CAUTION if seen else Verdict.FINE,
        found=(
            f"Of blocks too light or too dark for their place, {measures.stray_patch} hang together at most; with the "
            f"same strays shuffled it is {measures.stray_patch_usual} or fewer 19 times in 20."
        ),
        allowed=f"At most {max(measures.stray_patch_usual, LEAST_FIGURE_N)} blocks.",
        why="The eye finds shapes in patches, and keeps seeing them.",
        remedy="Change `piece.seed` and plan again." if seen else "",
        source="This project's own measure.",
    )


def _height(measures: FadeMeasures) -> list[Check]:
    r, limit = measures.height_correlation, measures.height_limit
    if r is None or limit is None:
        return []
    # Under a tenth nobody sees it, however many blocks prove that it is there.
    together = abs(r) > max(limit, UNSEEN_CORRELATION)
    way = "lighter" if r > 0 else "darker"
    words = f"taller blocks tend to be {way}" if together else "height says nothing of shade"
    return [
        Check(
            stage="fade",
            name="height_and_shade",
            title="Height and shade",
            verdict=Verdict.CAUTION if together else Verdict.FINE,
            found=f"In words: {words}. Correlation {r:+.2f} (1 is all, 0 nothing).",
            allowed=f"Within {max(limit, UNSEEN_CORRELATION):.2f} either way: chance alone, or too little to see.",
            why="Where they go together, the relief reads as one pattern instead of two.",
            remedy="Change `piece.seed` and plan again." if together else "",
            source="Pearson correlation; the limit is two standard errors, or a tenth.",
        )
    ]
