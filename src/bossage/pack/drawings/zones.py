"""Where nothing is drilled: zones as a quiet hatch, behind all else that a drawing of the wall shows."""

from __future__ import annotations

import math
from collections.abc import Iterator

from bossage.drawing.box import Box
from bossage.drawing.shapes import Hatch, Ink, Line, Outline, Rect, Shape, Stroke
from bossage.pack.words import listed
from bossage.plan import Plan
from bossage.zones import Zone
from bossage.zones.rules import WHERE
from bossage.zones.words import caution, told

LAYER = "zones"
HATCH_MM, HOLLOW_HATCH_MM = 1.8, 3.2  # on paper


def zone_shapes(plan: Plan, copy: int, within: Box, scale_n: float) -> Iterator[Shape]:
    """The zones of one copy as far as they lie in a box: wide lines for the hollow alone, close ones for all else.

    A stud that crosses a zone of the hollow stays unhatched: that zone does not bind a screw into it.
    """
    for zone in zones_in(plan, copy, within):
        x0, x1, y0, y1 = (nm / 1e6 for nm in zone.box_nm)
        if len({x for x, _ in zone.outline_nm}) > 2:
            yield from _slanted([(x / 1e6, y / 1e6) for x, y in zone.outline_nm], within, scale_n)
            continue
        left, right = max(x0, within.left_mm), min(x1, within.right_mm)
        foot, top = max(y0, within.bottom_mm), min(y1, within.top_mm)
        for start, end in beside_studs(plan, left, right) if zone.hollow else [(left, right)]:
            yield Rect(
                x_mm=start,
                y_mm=foot,
                width_mm=end - start,
                height_mm=top - foot,
                stroke=Stroke.THIN,
                hatch=Hatch(spacing_mm=HOLLOW_HATCH_MM if zone.hollow else HATCH_MM, angle_deg=-30.0, ink=Ink.QUIET),
                layer=LAYER,
            )


def beside_studs(plan: Plan, left: float, right: float) -> list[tuple[float, float]]:
    """A stretch of the wall less the studs in it, all in millimetres from the left corner."""
    free, half = [(left, right)], plan.brief.wall.stud_width_nm / 2e6
    for stud in plan.brief.wall.studs_nm:
        low, high = stud / 1e6 - half, stud / 1e6 + half
        free = [
            part
            for a, b in free
            for part in (((a, min(b, low)), (max(a, high), b)) if low < b and a < high else ((a, b),))
            if part[1] > part[0]
        ]
    return free


def _studs_told(plan: Plan, zones: list[Zone]) -> str:
    """Why a stud within a hatched part is left free; empty where none is."""
    crossed = [
        x
        for x in plan.brief.wall.studs_nm
        if any(zone.hollow and zone.box_nm[0] < x < zone.box_nm[1] for zone in zones)
    ]
    if not crossed or not plan.brief.into_studs:
        return ""
    return (
        " A stud in a part with wide hatching is left free: what leads there runs in the hollow beside it, so that "
        "part binds no screw into the stud. Set such a screw where its figure says on the stud's face, square to it."
    )


def zones_in(plan: Plan, copy: int, within: Box) -> list[Zone]:
    """The zones of one copy that reach into a box."""
    found = []
    for zone in plan.zones:
        x0, x1, y0, y1 = (nm / 1e6 for nm in zone.box_nm)
        reach = Box(left_mm=x0, right_mm=x1, bottom_mm=y0, top_mm=y1)
        if reach.meets(within) and (not zone.copies or copy in zone.copies):
            found.append(zone)
    return found


def zone_words(plan: Plan, copy: int, within: Box) -> str:
    """The zones by name with the caution, and what no zone tells; the caution alone where there are none."""
    zones = zones_in(plan, copy, within)
    causes = _by_thing(list(dict.fromkeys(zone.cause for zone in zones)))
    more = " ".join([*told(plan.brief, copy), caution(hatched=bool(causes))])
    if not causes:
        return more
    return f"Hatched, drill nothing there: {listed(causes)}.{_studs_told(plan, zones)} {more}"


def _by_thing(causes: list[str]) -> list[str]:
    """Causes, those of one thing in one: `board, above, below and beside it`."""
    found: dict[str, list[str]] = {}
    for cause in causes:
        name, word = next(
            (
                (found, word)
                for found, word in (
                    *((cause.removesuffix(f" and {word} it"), word) for word in WHERE.values()),
                    (cause.removeprefix("beside "), "beside"),
                )
                if found != cause
            ),
            (cause, ""),
        )
        found.setdefault(name, []).extend([word] if word else [])
    return [_named(name, places) for name, places in found.items()]


def _named(name: str, places: list[str]) -> str:
    if places == ["beside"]:
        return f"beside {name}"
    if len(places) > 1:
        return f"{name}, {listed(places)} it"
    return f"{name} and {places[0]} it" if places else name


def _slanted(points: list[tuple[float, float]], within: Box, scale_n: float) -> Iterator[Shape]:
    """A strip that stands askew: its outline, and lines across it for a hatch."""
    seen = clipped(points, within)
    if len(seen) < 3:  # its reach meets the box, the strip itself does not
        return
    yield Outline(points=tuple(seen), stroke=Stroke.THIN, layer=LAYER)
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = points
    steps = int(math.hypot(bx - ax, by - ay) / (HATCH_MM * scale_n))
    for step in range(1, steps):
        share = step / steps
        start = (ax + share * (bx - ax), ay + share * (by - ay))
        end = (dx + share * (cx - dx), dy + share * (cy - dy))
        if all(
            within.left_mm <= x <= within.right_mm and within.bottom_mm <= y <= within.top_mm for x, y in (start, end)
        ):
            yield Line(start=start, end=end, stroke=Stroke.THIN, layer=LAYER)


def clipped(points: list[tuple[float, float]], to: Box) -> list[tuple[float, float]]:
    """A convex outline cut off at the edges of a box, one edge after the other."""
    for axis, limit, sign in ((0, to.left_mm, 1), (0, to.right_mm, -1), (1, to.bottom_mm, 1), (1, to.top_mm, -1)):
        kept: list[tuple[float, float]] = []
        for here, there in zip(points, [*points[1:], *points[:1]], strict=True):
            a, b = sign * (here[axis] - limit), sign * (there[axis] - limit)
            if a >= 0:
                kept.append(here)
            if (a >= 0) != (b >= 0):
                share = a / (a - b)
                kept.append((here[0] + share * (there[0] - here[0]), here[1] + share * (there[1] - here[1])))
        points = kept
    return points
