"""What to drill: clearance and pilot holes in wood, drill, plug and depth in masonry."""

from __future__ import annotations

import math
from dataclasses import dataclass
from functools import cache

from bossage.errors import BossageError
from bossage.fasteners.units import INCH_MM
from bossage.ranges import within
from bossage.tables import is_from_memory, table_rows

DRILL_STEP_MM = {"mm": 0.5, "in": INCH_MM / 64}
"""How finely twist drills are sold. Common practice, no source."""

SOFT_PILOT_SHARE = 0.7
"""Pilot hole by the thread's diameter; the NDS and EN 1995-1-1 10.4.5 both give about 70 % (NDS read, EN memory)."""

HARD_PILOT_SHARE = 0.9
"""In wood above a gravity of 0.6: 90 % of the root (NDS 2018 12.1.5.2, read)."""

HARD_GRAVITY = 0.6


class NoPlug(BossageError):
    """No plug of the table goes with that screw or wall."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodHoles:
    """Drills for one screw, mm: through the part under the head, and into the part that holds the thread."""

    clearance_mm: float
    pilot_mm: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Plug:
    """One size of plastic plug in solid masonry."""

    drill_mm: float
    length_mm: float
    screw_low_mm: float
    screw_high_mm: float
    hole_mm: float  # depth in the masonry itself, plaster not counted
    source: str
    from_memory: bool


def wood_holes(shank_mm: float, root_mm: float, gravity: float, unit: str) -> WoodHoles:
    """Clearance hole and pilot hole for a wood screw, as drills that are sold.

    Args:
        shank_mm: Shank diameter, 2 to 12 mm.
        root_mm: Root or core diameter, 1 to 12 mm.
        gravity: Specific gravity of the wood that holds the thread, 0.2 to 1.
        unit: `mm` or `in`: whose drills.

    Returns:
        The next drill above the shank, so that its thread runs free and the head draws the parts together; and the
        next drill down for the thread.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Screws with a cutting tip in soft wood, which need no pilot hole away from ends.

    Source:
        NDS 2018 12.1.5.2 and 12.1.5.3 (read); rounding to drills ours.
    """
    shank = within("Shank diameter", shank_mm, 2, 12, "mm")
    root = within("Root diameter", root_mm, 1, 12, "mm")
    hard = within("Specific gravity", gravity, 0.2, 1, "(ratio)") > HARD_GRAVITY
    step = DRILL_STEP_MM[unit]
    wanted = HARD_PILOT_SHARE * root if hard else min(root, SOFT_PILOT_SHARE * shank)
    return WoodHoles(
        clearance_mm=(math.floor(shank / step + 1e-9) + 1) * step,
        pilot_mm=max(step, math.floor(wanted / step + 1e-9) * step),
    )


def head_hole_mm(head_mm: float, unit: str) -> float:
    """The next drill at least as wide as a screw's head, by which the head goes below a face."""
    step = DRILL_STEP_MM[unit]
    return math.ceil(head_mm / step - 1e-9) * step


@cache
def plugs(unit: str = "mm") -> tuple[Plug, ...]:
    """All plugs that the shops of a unit have, thinnest first."""
    return tuple(
        Plug(
            drill_mm=float(row["drill_mm"]),
            length_mm=float(row["length_mm"]),
            screw_low_mm=float(row["screw_low_mm"]),
            screw_high_mm=float(row["screw_high_mm"]),
            hole_mm=float(row["hole_mm"]),
            source=row["source"],
            from_memory=is_from_memory(row),
        )
        for row in table_rows("bossage.fasteners", "plugs.csv")
        if row["unit"] == unit
    )


def plug_for(screw_mm: float, unit: str = "mm") -> Plug:
    """The thinnest plug on the shelf of a unit that a screw of that diameter spreads; `NoPlug` says what fits."""
    sold = plugs(unit)
    found = [plug for plug in sold if plug.screw_low_mm <= screw_mm <= plug.screw_high_mm]
    if not found:
        raise NoPlug(
            f"No plug of the table takes a screw of {screw_mm:g} mm. They take screws from "
            f"{sold[0].screw_low_mm:g} to {sold[-1].screw_high_mm:g} mm."
        )
    return found[0]


def plug_screw_least_mm(plug: Plug, fixed_mm: float, plaster_mm: float, screw_mm: float) -> float:
    """Least length of the screw: what is fixed, the plaster, the plug, and one diameter past its end.

    Args:
        plug: The plug.
        fixed_mm: Thickness of what is fixed, 0 to 500 mm.
        plaster_mm: Plaster or board before the masonry, which holds nothing, 0 to 200 mm.
        screw_mm: Screw diameter, 2 to 12 mm.

    Returns:
        Millimetres under the head.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Hollow bricks, where the plug's maker says how.

    Source:
        Common practice, no source.
    """
    fixed = within("What is fixed", fixed_mm, 0, 500, "mm")
    plaster = within("Plaster", plaster_mm, 0, 200, "mm")
    return fixed + plaster + plug.length_mm + within("Screw diameter", screw_mm, 2, 12, "mm")
