"""What to drill for a screw, as sentences: into the wall, and for the panel half of the cleat."""

from __future__ import annotations

import math

from bossage.hang.records import PanelFixing
from bossage.hang.screw_records import GlueScrews
from bossage.hang.wall_records import WallHoles
from bossage.pack.words import Words
from bossage.units import NM_PER_IN, NM_PER_MM

TIP_FREE_MM = 3.0
"""Between the tip of a screw and the end of its hole, where dust gathers: ours."""


def wall_drill_words(holes: WallHoles | None, what: str, words: Words, *, own_holes: bool = False) -> str:
    """Drills for the wall half, or what else is fixed; the packet's word for fixings that no table knows.

    `own_holes`: what is fixed was bought with its holes, and none is drilled in it.
    """
    if holes is None:
        return "Drill as the packet of the fixing says, or not at all where it drills for itself."
    through = "Bits:" if own_holes else f"Bits: {words.drill(holes.clearance_hole_mm)} through the {what},"
    if holes.into == "stud":
        deep = f"{words.of_mm(holes.depth_mm)} {words.unit} deep from the stud's face and no deeper"
        return f"{through} {words.drill(holes.drill_mm)} into the stud, {deep}, whatever lies before it."
    return (
        f"{through} {words.drill(holes.drill_mm)} into the masonry, {words.length(hole_deep_nm(holes, words))} deep "
        "from the face of the wall, plaster and masonry together, always: tape on the bit. The plug, "
        f"{words.drill(holes.plug_mm)} long, sits below the plaster. {_plaster_words(holes, what, words)}"
    )


def hole_deep_nm(holes: WallHoles, words: Words) -> int:
    """One depth behind the face of the wall that is right under any plaster for which the screw is long enough.

    It lets the tip pass, and goes as deep into the masonry itself as the plug asks for under the most plaster.
    """
    _, most = holes.plaster_mm
    deep = max(holes.reach_mm + TIP_FREE_MM, max(0.0, most) + holes.depth_mm)
    step = NM_PER_IN // 8 if words.inches else NM_PER_MM
    return math.ceil(round(deep * NM_PER_MM / step, 6)) * step


def keeper_drill_words(holes: WallHoles | None, words: Words) -> str:
    """What is drilled for the keeper of a catch; the packet's word in a hollow wall."""
    if holes is None:
        return "Drill as the packet of its fixings says."
    return (
        f"Bit: {words.drill(holes.drill_mm)} into the masonry, {words.length(hole_deep_nm(holes, words))} deep from "
        f"the face of the wall, plaster and masonry together. {_plaster_words(holes, 'plate', words)}"
    )


def _plaster_words(holes: WallHoles, what: str, words: Words) -> str:
    """For how much plaster the screw is long enough."""
    low, high = holes.plaster_mm
    if high < low:
        return f"This screw is too short for its plug in this {what}: take one {words.of_mm(low - high)} longer."
    return (
        f"This screw is for {words.of_mm(high)} {words.unit} of plaster at most. Over more take a screw that is longer "
        "by the difference, and drill as much deeper."
    )


def panel_drill_words(panel: PanelFixing, words: Words) -> str:
    """What to drill for a screw of the panel half, as a sentence with a blank after it."""
    if not panel.lead_hole_mm:
        return ""
    through = panel.under_head_nm + panel.sunk_nm
    face = "backer's face" if panel.from_front else "panel half's face at the wall"
    bits = _two_bits(panel.clearance_hole_mm, panel.lead_hole_mm, through, through + panel.thread_nm, face, words)
    return f"{bits} {_sink_words(panel, words)}"


def _sink_words(screws: PanelFixing | GlueScrews, words: Words) -> str:
    """How a head gets below the face: a bit as wide as the head, then the countersink; nothing where it lies flush."""
    if not screws.head_hole_mm:
        return ""
    return (
        f"Before these two, make room for the head: a bit of {words.drill(screws.head_hole_mm)} with tape "
        f"{words.length(screws.sunk_nm)} from its tip, at most as deep. "
    )


def glue_drill_words(screws: GlueScrews, backer_nm: int, words: Words) -> str:
    """What to drill for a screw that holds a part shut, with a blank before it."""
    deep = screws.length_nm + screws.sunk_nm
    bits = _two_bits(screws.clearance_hole_mm, screws.lead_hole_mm, backer_nm, deep, "backer's face", words)
    return f" {bits} {_sink_words(screws, words)}".rstrip()


def _two_bits(clearance_mm: float, lead_mm: float, through_nm: int, deep_nm: int, face: str, words: Words) -> str:
    """Two bits, each with its tape: how far from the tip, reckoned from the face that it goes in at."""
    return (
        f"Bits, from the {face}: {words.drill(clearance_mm)} with tape {words.length(through_nm)} from its tip, then "
        f"{words.drill(lead_mm)} with tape {words.length(deep_nm)} from its tip; no deeper."
    )
