"""The usual cautions of sanding and painting."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.checks import Caution
from bossage.paint.coats import oily_topcoat

PAINT_CAUTIONS = (
    Caution(
        step="sand",
        text=(
            "Sanding end grain makes fine dust: extract at the tool, wear a mask rated for fine dust, keep the dust "
            "off lamps and heaters. Limits for dust in air differ by country and wood; ask your local authority."
        ),
        source="OSHA wood dust page; EH40 (as read for this project)",
    ),
    Caution(
        step="sand",
        text="Never sand old paint or treated timber without knowing what is in it; old paint may hold lead.",
        source="common practice, no source",
    ),
    Caution(
        step="paint",
        text=(
            "Read the label and the safety data sheet, and air the room across. What thins with anything but water "
            "burns: no flame near it."
        ),
        source="common practice, no source",
    ),
)

RINSING = Caution(
    step="paint",
    text=(
        "Rinse water and rests never go down the drain or on to the ground. Wipe brushes out on paper first, let "
        "rinse water settle in a bucket, and let rests dry hard; your local waste service takes both."
    ),
    source="common practice, no source; ask your local waste service",
)

OILY_RINSING = Caution(
    step="paint",
    text=(
        "Brush cleaner, stain, oil and wax never go down the drain or on to the ground. Used cleaner does not settle "
        "as rinse water does: keep it and all rests in closed tins; your local waste service takes them."
    ),
    source="common practice, no source; ask your local waste service",
)

OILY_RAGS = Caution(
    step="paint",
    text=(
        "Rags, paper, pads, gloves, brushes and sanding paper with oil, wax or oil stain on them heat up by themselves "
        "and can burst into flame hours later. Never leave any in a heap, a bin or a pocket. Spread each out flat "
        "outdoors to dry hard. Or drown it in water in a closed metal tin, and put the tin outside. Your local fire "
        "service says where it goes then."
    ),
    source="common practice, no source; ask your local fire service",
)

OILY_DUST = Caution(
    step="paint",
    text=(
        "Dust of oiled wood heats up by itself in the bag of an extractor, as rags do. Sand oiled wood by hand, or "
        "empty bag and canister outdoors at once, into a closed metal tin with water."
    ),
    source="common practice, no source",
)

BARE_BACK = Caution(
    step="paint",
    text="Keep the back of every block bare: glue holds on bare wood, on paint only as well as the paint does.",
    source="common practice, no source",
)

BARE_BACK_CLEAR = Caution(
    step="paint",
    text="Keep the back of every block bare: glue holds on bare wood, on neither oil nor wax.",
    source="common practice, no source",
)


def paint_cautions(brief: Brief) -> tuple[Caution, ...]:
    """Cautions of sanding and of what the piece is coated with: paint, and what heats up by itself where any does."""
    painted = any(not family.clear for family in brief.families)
    clear = any(family.clear for family in brief.families)
    fire = clear or oily_topcoat(brief)
    return (
        *PAINT_CAUTIONS,
        *((RINSING,) if painted else ()),
        *((OILY_RINSING,) if fire else ()),
        BARE_BACK if painted else BARE_BACK_CLEAR,
        *((OILY_RAGS, OILY_DUST) if fire else ()),
    )
