"""Paint that is dry but not yet hard: what may touch a face, and how a maker finds out when it may be pressed.

One rule for trays, bed, shims and bags: for a week no face touches anything but through release paper. A test on two
spares decides whether it may be pressed; pressing after a week of waiting would cost every job that week.
"""

from __future__ import annotations

YOUNG_DAYS = 7
"""So long water-borne paint sticks to what is pressed on it: common practice, no source; the label governs."""

PAPER = "release paper (baking paper with silicone on both sides)"

RULE = (
    f"For {YOUNG_DAYS} days after the last coat no face touches another, a shim or a bed, but through {PAPER}. Stack "
    "nothing face to face."
)

TEST = (
    "Blocking test, a day after the last coat: take two spares, coated as the blocks. Leave them in the clamps "
    "overnight, face to shim, with release paper between: what is pressed late in the day stays in so long. The paper "
    "must come off without a mark. "
    "If it clings, wait until the week is over."
)

TEST_H = 0.1
"""Hands at the test. Ours."""
