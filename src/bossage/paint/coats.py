"""Which coats the blocks get, in their order, and how long each one dries."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.records import Brief
from bossage.paint.way_records import StainFamily

OIL_DRY_H = 24.0
"""Between two coats of oil or wax: a day (common practice, no source; the label governs)."""

SLOW = ("oil", "wax")
RESINOUS = ("spruce", "fir", "pine", "larch", "spf", "softwoods")
"""Words in the key of a softwood whose knots and resin come through paint (common practice, no source)."""

KIND = "water-borne, for indoors"
"""Which paint the sheets ask for: our default, as a brief names its gloss and its colours only."""


def topcoat_name(brief: Brief) -> str:
    """The topcoat in running text: its name up to a comma, `hard wax oil` of `hard wax oil, clear`."""
    return brief.paint.topcoat.partition(",")[0].strip()


def oily_topcoat(brief: Brief) -> bool:
    """Whether the topcoat dries as oil does, slowly, and heats rags up as oil does: by the words of its name."""
    return any(word in SLOW for word in brief.paint.topcoat.casefold().replace("-", " ").split())


def is_resinous(brief: Brief) -> bool:
    """Whether knots and resin of the blocks' wood stain the paint over them."""
    return any(word in RESINOUS for word in brief.blocks.species.split("_"))


def face_primer_coats(brief: Brief) -> int:
    """Coats of primer on faces: end grain of resinous softwood gets two, where it gets any at all."""
    asked = brief.paint.primer_coats
    return max(asked, 2) if asked and is_resinous(brief) else asked


def primer_words(brief: Brief) -> str:
    """Which primer to ask for."""
    kind = "knot- and stain-blocking primer" if is_resinous(brief) else "primer for bare wood"
    return f"{kind}, white, {KIND}"


def stain_kind(brief: Brief) -> str:
    """Which stain to ask for: its label has to let it be thinned, and coated with the topcoat (common practice)."""
    over = f", and that {topcoat_name(brief)} goes over it" if brief.paint.topcoat else ""
    return f"a stain for bare wood without oil or wax in it; its label must say that it may be thinned, with what{over}"


@dataclass(frozen=True, slots=True, kw_only=True)
class CoatRun:
    """One round of work with paint, then its drying. `minutes` weigh the rounds when hours are shared out."""

    step: str  # ready, prime, denib, paint or topcoat; sides of sticks; seal for all that is done to the backer
    title: str  # `Oil, coat 2 of 3`
    dry_h: float  # 0 where nothing is wet after it
    minutes: float = 1.0


def coat_runs(brief: Brief, stains: tuple[StainFamily, ...]) -> tuple[CoatRun, ...]:
    """Every coat of the blocks in order: primer where a family is painted, colour or clear finish, topcoat.

    Coats count by kind, as a painter counts them. Where families are painted and others oiled, their coats share a
    round, which dries as long as the slowest.
    """
    paint = brief.paint
    clear = {one.family for one in stains}
    painted = any(family.name not in clear for family in brief.families)
    primes = face_primer_coats(brief) if painted else 0
    runs = [
        CoatRun(
            step="prime",
            title=numbered("Prime" if number <= paint.primer_coats else "Prime, faces alone", number, primes),
            dry_h=paint.dry_h,
        )
        for number in range(1, primes + 1)
    ]
    most = most_coats(brief, stains)
    for number in range(1, most + 1):
        still = [one for one in stains if any(shade.coats >= number for shade in one.shades)]
        kinds = ["colour"] if painted and number <= paint.coats else []
        kinds += dict.fromkeys(one.finish for one in still)
        slow = any(one.finish in SLOW for one in still)
        title = numbered(" and ".join(kinds).capitalize(), number, most)
        runs.append(CoatRun(step="paint", title=title, dry_h=max(paint.dry_h, OIL_DRY_H if slow else 0.0)))
    if paint.topcoat:
        slow = oily_topcoat(brief)
        runs += [
            CoatRun(
                step="topcoat",
                title=numbered("Topcoat", number, paint.topcoat_coats),
                dry_h=max(paint.dry_h, OIL_DRY_H if slow else 0.0),
            )
            for number in range(1, paint.topcoat_coats + 1)
        ]
    return tuple(runs)


def numbered(what: str, number: int, total: int) -> str:
    """`Colour, coat 1 of 2`; the bare word where there is one coat."""
    return what if total == 1 else f"{what}, coat {number} of {total}"


def most_coats(brief: Brief, stains: tuple[StainFamily, ...]) -> int:
    """The most coats of colour, or of a clear finish, that a block gets."""
    clear = {one.family for one in stains}
    painted = any(family.name not in clear for family in brief.families)
    coats = [shade.coats for one in stains for shade in one.shades]
    return max([brief.paint.coats] * painted + coats)
