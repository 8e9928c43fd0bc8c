"""The rules of the wall as rectangles, so that the screen can draw each where it speaks up, with its check's verdict.

Only the places of rules are given here; whether a rule holds is the layout's to say, and is taken from its checks.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from bossage.brief.records import Brief
from bossage.layout.grid import lift_room_wanted
from bossage.layout.records import Layout
from bossage.layout.wall_rules import EYE_SEATED_NM, EYE_STANDING_NM, gap_band
from bossage.pack.words import Words
from bossage.plan import Plan

NM = 1e6
Json = dict[str, Any]


def bands_of(plan: Plan, checks: list[Json]) -> list[Json]:
    """Every rule that has a place on the wall (`BandOut`); `checks` are those of `about_checks`."""
    brief, layout = plan.brief, plan.layout
    words = Words(unit=brief.piece.unit.value, currency=brief.piece.currency)
    found = {(check["name"], check["subject"]): check for check in reversed(checks)}
    return [
        *_covers(brief, words, found),
        *_gaps(brief, words, found),
        *_eye_levels(brief, words, found),
        *_lift_rooms(brief, layout, words, found),
    ]


Found = dict[tuple[str, str], Json]


def _covers(brief: Brief, words: Words, found: Found) -> Iterator[Json]:
    margin = brief.blocks.cover_margin_nm
    for fixture in brief.fixtures:
        check = found.get(("cover_margin", fixture.name))
        if check is not None:
            yield _band(
                check,
                f"{words.length(margin)} round {fixture.name}",
                fixture.x_nm - margin,
                fixture.y_nm - margin,
                fixture.width_nm + 2 * margin,
                fixture.height_nm + 2 * margin,
            )


def _gaps(brief: Brief, words: Words, found: Found) -> Iterator[Json]:
    for item in brief.furniture:
        name = {"bed": "headboard_gap", "sofa": "sofa_gap", "bench": "bench_gap"}.get(item.kind)
        check = found.get((name or "", item.name))
        if check is None:
            continue
        least, most = gap_band(item.kind)
        if most is None:
            yield _band(check, f"{words.length(least)} of air", item.x_nm, item.top_nm, item.width_nm, least)
        else:
            text = f"lower edge {words.length(least)} to {words.length(most)} above {item.name}"
            yield _band(check, text, item.x_nm, item.top_nm + least, item.width_nm, most - least)


def _eye_levels(brief: Brief, words: Words, found: Found) -> Iterator[Json]:
    check = found.get(("eye_level", ""))
    if check is None:
        return
    for name, (low, high) in (("seated", EYE_SEATED_NM), ("standing", EYE_STANDING_NM)):
        text = f"eye level, {name}: middle at {words.length(low)} to {words.length(high)}"
        yield _band(check, text, 0, low, brief.wall.width_nm, high - low)


def _lift_rooms(brief: Brief, layout: Layout, words: Words, found: Found) -> Iterator[Json]:
    check = found.get(("lift_room", ""))
    if check is None:
        return
    wanted = lift_room_wanted(brief)
    top = layout.y_nm + layout.height_nm
    text = f"{words.length(wanted)} to lift it off"
    yield {**_band(check, text, layout.x_nm, top, layout.width_nm, wanted), "moves": True}


def _band(check: Json, words: str, x_nm: int, y_nm: int, width_nm: int, height_nm: int) -> Json:
    return {
        "check_id": check["check_id"],
        "verdict": check["verdict"],
        "words": words,
        "moves": False,
        "x_mm": x_nm / NM,
        "y_mm": y_nm / NM,
        "width_mm": width_nm / NM,
        "height_mm": height_nm / NM,
    }
