"""What is behind the wall as the screen draws it: zones, what runs there, and where the fixings go.

Every zone is the wall stage's own; here it becomes polygons, as the papers hatch it: cut off at the edges of the wall,
and beside the studs where it is of the hollow alone.
"""

from __future__ import annotations

from typing import Any

from bossage.brief.records import Brief, FoundBy, Run
from bossage.drawing.box import Box
from bossage.pack.drawings.zones import beside_studs, clipped
from bossage.pack.words import Words
from bossage.plan import Plan
from bossage.zones import Zone
from bossage.zones.words import caution, told

NM = 1e6
Json = dict[str, Any]
Points = list[tuple[float, float]]

#: What stands beside a run on the drawing; the brief's own word is one of these four.
FOUND = {
    FoundBy.SEEN: "seen",
    FoundBy.DETECTOR: "found by detector",
    FoundBy.DRAWING: "off a drawing",
    FoundBy.TOLD: "as somebody told",
}


def zones_view(plan: Plan) -> list[Json]:
    """Every part of the wall where nothing is drilled (`ZoneOut`)."""
    return [
        {
            "cause": zone.cause,
            "source": zone.source,
            "parts_mm": _parts(plan, zone),
            "depth_mm": None if zone.depth_nm is None else zone.depth_nm / NM,
            "hollow": zone.hollow,
            "text": _deep(zone, _words(plan.brief)),
        }
        for zone in plan.zones
    ]


def zones_told(plan: Plan) -> list[str]:
    """What no zone tells, as sentences, with the usual caution last."""
    return [*told(plan.brief, 1), caution(hatched=bool(plan.zones))]


def runs_view(brief: Brief) -> list[Json]:
    """What the brief says runs in the wall (`RunOut`)."""
    return [
        {
            "index": index,
            "name": run.name,
            "kind": run.kind.value,
            "found": run.found.value,
            "from_mm": _point(run.from_nm),
            "to_mm": _point(run.to_nm),
            "clear_mm": run.clear_nm / NM,
            "words": f"{run.name}, {FOUND[run.found]}",
            "text": _told(run, _words(brief)),
        }
        for index, run in enumerate(brief.runs)
    ]


def fixings_view(plan: Plan) -> list[Json]:
    """Where each fixing goes into the wall (`FixingOut`)."""
    points = [
        point
        for leaf in plan.hang.leaves
        for point in (
            *(leaf.cleat.fixings if leaf.cleat else ()),
            *(leaf.hinges.every_fixing if leaf.hinges else ()),
        )
    ]
    return [{"x_mm": point.x_nm / NM, "y_mm": point.y_nm / NM, "into": point.into} for point in points]


def recess_words(recess_nm: int | None, words: Words) -> str:
    """How deep a fixture sits in the wall."""
    if recess_nm is None:
        return "depth in the wall not measured"
    return f"{words.length(recess_nm)} deep in the wall" if recess_nm else "on the wall"


def _parts(plan: Plan, zone: Zone) -> list[Points]:
    wall = plan.brief.wall
    within = Box(left_mm=0, right_mm=wall.width_nm / NM, bottom_mm=0, top_mm=wall.height_nm / NM)
    seen = clipped([_point(corner) for corner in zone.outline_nm], within)
    if len(seen) < 3:
        return []
    if not zone.hollow:
        return [seen]
    foot, top = min(y for _, y in seen), max(y for _, y in seen)
    free = beside_studs(plan, min(x for x, _ in seen), max(x for x, _ in seen))
    return [[(left, foot), (right, foot), (right, top), (left, top)] for left, right in free]


def _deep(zone: Zone, words: Words) -> str:
    depth_nm = zone.depth_nm
    deep = "as deep as the wall is" if depth_nm is None else f"to {words.length(depth_nm)} behind its face"
    return f"{deep}, in the hollow beside the studs alone" if zone.hollow else deep


def _told(run: Run, words: Words) -> str:
    ends = [f"{words.length(x)} along, {words.length(y)} up" for x, y in (run.from_nm, run.to_nm)]
    return f"{run.name} from {ends[0]} to {ends[1]}, {FOUND[run.found]}, {words.length(run.clear_nm)} kept clear"


def _point(corner: tuple[int, int]) -> tuple[float, float]:
    return corner[0] / NM, corner[1] / NM


def _words(brief: Brief) -> Words:
    return Words(unit=brief.piece.unit.value, currency=brief.piece.currency)
