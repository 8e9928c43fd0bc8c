"""How far in front of the ankles the hands are when a load is held close to the body: NIOSH 94-110, section 1.3.1."""

from __future__ import annotations

from bossage.handling.lifting import System
from bossage.ranges import within

LOW_HANDS = {System.METRIC: 25.0, System.US: 10.0}
"""Hands lower than this over the floor, cm and in, reach further: the knees are in the way."""

ANKLES_TO_LOAD = {System.METRIC: (20.0, 25.0), System.US: (8.0, 10.0)}
"""From the ankles to the near side of the load, cm and in: hands high, hands low."""


def hands_out(load: float, height: float, system: System) -> float:
    """Horizontal location H where it cannot be measured.

    Args:
        load: Width W of the load away from the body, 0 or more, cm or in as `system` says.
        height: Height V of the hands over the floor, 0 or more, cm or in.
        system: Which of the two printed forms.

    Returns:
        H in cm: 20 + W/2 for V of 25 cm or more, else 25 + W/2. In inches: 8 + W/2 for V of 10 in or more, else
        10 + W/2.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Feet that cannot come close, and a load that is held away from the body.

    Source:
        DHHS (NIOSH) 94-110 (1994, revised 2021), section 1.3.1, from memory.
    """
    unit = "cm" if system is System.METRIC else "in"
    W = within("Width of the load", load, 0, 500, unit)
    V = within("Height of the hands", height, 0, 500, unit)
    high, low = ANKLES_TO_LOAD[system]
    return (low if LOW_HANDS[system] > V else high) + W / 2
