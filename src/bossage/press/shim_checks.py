"""What to say where stock does not suffice for the shims."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.press.shim_records import ShimCut, ShimPanels
from bossage.saw import board_cure_words, cure_words
from bossage.units import format_length


def check_shims(brief: Brief, cut: ShimCut | None, panels: tuple[ShimPanels, ...]) -> Iterator[Check]:
    """A caution for each kind of shim that finds no stock, with what is missing and the cheapest cure."""
    unit = brief.piece.unit
    if cut is not None and cut.shortfall is not None:
        short = cut.shortfall
        missing = [f"{piece.count} of {format_length(piece.length_nm, unit)}" for piece in short.missing]
        yield _check(
            cut.section,
            f"Shims take {format_length(cut.need_nm, unit)} with their kerfs; {', '.join(missing)} find no stick.",
            "Rests of the blocks' sticks, and the sticks of that section that are left.",
            ", or ".join(cure_words(brief, cure) for cure in short.cures)
            or "slice them from any straight scrap no larger than a block's face",
        )
    for one in panels:
        if one.shortfall is not None:
            thickness = format_length(one.thickness_nm, unit)
            missing = [f"{panel.count}" for panel in one.shortfall.missing or one.shortfall.too_big]
            yield _check(
                thickness,
                f"{', '.join(missing)} shims of {thickness} find no board.",
                "Boards of just that thickness, and what the other cuts leave of them.",
                board_cure_words(brief, one.shortfall, f"cut them from card of {thickness}"),
            )


def _check(subject: str, found: str, allowed: str, remedy: str) -> Check:
    return Check(
        stage="press",
        name="shim_stock",
        title="Stock for the shims",
        subject=subject,
        verdict=Verdict.CAUTION,
        found=found,
        allowed=allowed,
        why="A row without all of its shims presses only its highest blocks.",
        remedy=remedy,
        source="Arithmetic in whole nanometres.",
    )
