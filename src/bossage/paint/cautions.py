"""The usual cautions of sanding and painting."""

from __future__ import annotations

from bossage.checks import Caution

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
            "Read the label and the safety data sheet. Air the room across, no flame near solvent; lay oily rags out "
            "flat to dry outdoors."
        ),
        source="common practice, no source",
    ),
    Caution(
        step="paint",
        text="Keep the back of every block bare: glue holds on wood, on paint only as well as the paint does.",
        source="common practice, no source",
    ),
)
