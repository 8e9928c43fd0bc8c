"""What to drill for a screw, as sentences: into the wall, and for the panel half of the cleat."""

from __future__ import annotations

from bossage.hang.records import CleatPlan, PanelFixing
from bossage.pack.words import Words


def wall_drill_words(cleat: CleatPlan, words: Words) -> str:
    """Drills for the wall half; the packet's word for fixings that no table knows."""
    holes = cleat.holes
    if holes is None:
        return "Drill as the packet of the fixing says."
    through = f"Bits: {words.drill(holes.clearance_hole_mm)} through the wall half"
    if holes.into == "stud":
        return f"{through}, {words.drill(holes.drill_mm)} into the stud, as deep as the screw."
    return (
        f"{through}, {words.drill(holes.drill_mm)} into the masonry, {words.drill(holes.depth_mm)} deep in the "
        f"masonry itself: plaster comes on top. The plug, {words.drill(holes.plug_mm)} long, sits below the plaster."
    )


def panel_drill_words(panel: PanelFixing, words: Words) -> str:
    """What to drill for a screw of the panel half, as a sentence with a blank after it."""
    if not panel.lead_hole_mm:
        return ""
    passed = "backer" if panel.from_front else "panel half"
    return (
        f"Bits: {words.drill(panel.clearance_hole_mm)} through the {passed} and all that lies before the "
        f"{panel.into}, {words.drill(panel.lead_hole_mm)} into the {panel.into}, no deeper than "
        f"{words.length(panel.thread_nm)}: tape on the bit. "
    )
