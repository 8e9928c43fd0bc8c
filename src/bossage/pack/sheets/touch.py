"""Sorting by touch: notches on the back that say level and shade to a finger. The scheme is this project's own."""

from __future__ import annotations

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Label, Outline, Rect, Shape, Stand, Stroke
from bossage.pack.sheet import Beside, Column, Drawn, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.common import cares, words_of
from bossage.pack.words import listed
from bossage.plan import Plan

WIDE_COUNTS = 4  # one wide notch stands for so many narrow ones: more than four are not counted by a fingertip


def notches(number: int) -> tuple[int, int]:
    """Wide and narrow notches of a number from 0: none for 0, one narrow for 1, one wide and none for 4."""
    return divmod(number, WIDE_COUNTS)


def notch_words(level: int, shade: int) -> str:
    """The short form on a tray, wide notches as `W` and narrow ones as `n`: `top nn, right Wn`."""
    return f"top {_code(level)}, right {_code(shade)}"


def touch_sheet(plan: Plan) -> Sheet | None:
    """How backs are notched; none where the brief does not ask for it."""
    if not plan.brief.papers.notches:
        return None
    words = words_of(plan)
    levels = Table(
        columns=(
            Column(head=f"level, {words.unit}", kind="figure", align="right"),
            Column(head="top edge", kind="strong"),
        ),
        rows=tuple((words.bare(level), _said(number)) for number, level in enumerate(plan.relief.levels_nm)),
        tight=True,
    )
    shades = Table(
        columns=(Column(kind="patch"), Column(head="shade", kind="strong"), Column(head="right edge", kind="strong")),
        rows=tuple((shade.colour_hex, shade.name, _said(number)) for number, shade in enumerate(plan.fade.shades)),
        tight=True,
    )
    parts: list[Part] = [
        *cares(plan, "sand"),
        Beside(
            left=(
                Drawn(drawing=_example(), caption="The back of a block: 2 narrow on top, 1 wide and 1 narrow right."),
            ),
            right=(
                Steps(
                    texts=(
                        "Hold the block back up, arrow away from you.",
                        "File the level into the upper edge of the back, from the left: wide ones, then narrow.",
                        "After painting, file the shade into the right edge, from the top.",
                        "No notch at all: the lowest level, or the first shade.",
                    )
                ),
            ),
            left_mm=62.0,
        ),
        Para(
            text=(
                f"A narrow notch is one stroke of a three-square file, 2 mm deep; a wide one is three strokes side by "
                f"side and counts {WIDE_COUNTS}. Notches lie on the arris of the back, behind the neighbours; on outer "
                "blocks keep them 10 mm in, on the back itself. The notched edge also tells which way is up. Tray "
                "labels write a wide notch as W and a narrow one as n."
            )
        ),
        Heading(text="What the notches say"),
        Beside(left=(levels,), right=(shades,), left_mm=72.0),
    ]
    return Sheet(
        name="touch",
        title="Sorting by touch",
        todo=(
            "File these notches into the back of every block before it leaves its tray. A finger then reads level and "
            "shade without a look."
        ),
        wrong="A notch too many? File it flush with its neighbour into a wide one if that fits; else mark a new block.",
        parts=tuple(parts),
        scale="1 : 1",
    )


def _code(number: int) -> str:
    wide, narrow = notches(number)
    return "W" * wide + "n" * narrow or "–"


def _said(number: int) -> str:
    wide, narrow = notches(number)
    said = [f"{count} {what}" for count, what in ((wide, "wide"), (narrow, "narrow")) if count]
    return listed(said) or "none"


def _example() -> Drawing:
    """The back of a block of 45 mm at full size, notched for the third level and the sixth shade."""
    side = 45.0
    shapes: list[Shape] = [Rect(x_mm=0, y_mm=0, width_mm=side, height_mm=side, stroke=Stroke.OUTLINE, layer="back")]
    for start, wide in ((8.0, 2.0), (14.0, 2.0)):
        shapes.append(
            Outline(points=((start, side), (start + wide / 2, side - 2.0), (start + wide, side)), layer="notches")
        )
    for start, wide in ((side - 8.0, 6.0), (side - 20.0, 2.0)):
        shapes.append(
            Outline(points=((side, start), (side - 2.0, start - wide / 2), (side, start - wide)), layer="notches")
        )
    shapes += [
        Label(at=(side / 2, side / 2), text="back", size_mm=5.0, bold=True, layer="labels"),
        Label(at=(side / 2, side - 4.5), text="up", size_mm=3.5, stand=Stand.TOP, layer="labels"),
    ]
    return Drawing(
        title="Notches on a back",
        description=(
            "Upper edge: two narrow notches, the third level. Right edge: one wide and one narrow, the sixth shade."
        ),
        shapes=tuple(shapes),
    )
