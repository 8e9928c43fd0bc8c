"""How the piece sits in the room: wall edges, ceiling, furniture, eye level."""

from __future__ import annotations

from dataclasses import dataclass
from math import isqrt

from bossage.brief.records import Brief, Furniture, Opens
from bossage.checks import Check, Verdict
from bossage.layout.grid import bevel_rise_nm, lift_room_wanted
from bossage.layout.rect import Rect
from bossage.layout.words import Voice, mm
from bossage.units import NM_PER_MM

# Furniture and eye-level figures: common practice in several decorating guides, given there in both units.
SEAT_GAP_NM = (mm(150), mm(203.2))  # 6 to 8 in above a sofa's back
HEADBOARD_GAP_NM = (mm(150), mm(230))  # 6 to 9 in
EYE_STANDING_NM = (mm(1448), mm(1524))  # 57 to 60 in
EYE_SEATED_NM = (mm(1150), mm(1300))
EYE_ABOUT_NM = mm(50)


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """The piece on the wall, as the room rules see it. `held_levels_nm` are the levels, lowest first."""

    outline: Rect
    depth_nm: int
    base_depth_nm: int  # wall to the backer's front
    levels_nm: tuple[int, ...]


def lift_room(brief: Brief, standing: Standing) -> int:
    """Clear height above the piece, under the ceiling or the lowest thing that stands over it."""
    top = standing.outline.top
    over = [f.bottom_nm for f in brief.furniture if _before(f, standing) and f.bottom_nm >= top]
    return min([brief.wall.height_nm, *over]) - top


def furniture_below(brief: Brief, standing: Standing, kinds: tuple[str, ...]) -> Furniture | None:
    """The highest piece of furniture of these kinds under the piece; None when there is none."""
    under = [f for f in brief.furniture if f.kind in kinds and _beneath(f, standing)]
    return max(under, key=lambda f: f.top_nm, default=None)


def check_wall(brief: Brief, standing: Standing, voice: Voice) -> tuple[tuple[Check, ...], dict[str, int]]:
    """`wall_edge`, `ceiling`, `lift_room`, `keep_clear`, `furniture_clash`; figure lift_room."""
    room = lift_room(brief, standing)
    checks = [
        *_check_edges(brief, standing, voice),
        *_check_lift(brief, room, voice),
        *_check_keep_clear(brief, standing, voice),
        *_check_clash(brief, standing, voice),
    ]
    return tuple(checks), {"lift_room": room}


def check_furniture(
    brief: Brief, standing: Standing, voice: Voice
) -> tuple[tuple[Check, ...], dict[str, int], dict[str, float]]:
    """`bench_gap`, `sofa_gap`, `headboard_gap`, `width_band`, `eye_level`, with their figures."""
    checks: list[Check] = []
    figures: dict[str, int] = {}
    ratios: dict[str, float] = {}
    for kind in ("bench", "sofa", "bed"):
        item = furniture_below(brief, standing, (kind,))
        if item is None:
            continue
        name = "headboard_gap" if kind == "bed" else f"{kind}_gap"
        gap = standing.outline.y - item.top_nm
        figures[name] = gap
        ratios[f"width_over_{kind}"] = standing.outline.width / item.width_nm
        checks.append(_check_gap(name, kind, item, gap, voice))
        checks.append(_check_width(item, standing, voice))
    if not checks:
        checks.append(_check_eye_level(brief, standing, voice))
    return tuple(checks), figures, ratios


def gap_band(kind: str) -> tuple[int, int | None]:
    """Wanted gap above furniture of a kind, nm; above a bench a larger gap is only air, so it has no upper end."""
    if kind == "bed":
        return HEADBOARD_GAP_NM
    return SEAT_GAP_NM if kind == "sofa" else (SEAT_GAP_NM[0], None)


def width_suits(wide_nm: int, under_nm: int) -> bool:
    """Whether a width is two thirds to three quarters of the furniture below, ends included, exactly."""
    return 3 * wide_nm >= 2 * under_nm and 4 * wide_nm <= 3 * under_nm


def off_eye_level(brief: Brief, middle_nm: int) -> tuple[int, tuple[int, int]]:
    """How far a centre lies outside the band of eye level that suits the room, and that band."""
    seated = bool(brief.eyes) and all(e.height_nm < EYE_SEATED_NM[1] for e in brief.eyes)
    bands = (EYE_SEATED_NM,) if seated else (EYE_STANDING_NM, EYE_SEATED_NM)
    return min((max(band[0] - middle_nm, middle_nm - band[1], 0), band) for band in bands)


def _before(item: Furniture, standing: Standing) -> bool:
    """Whether it shares some of the wall's length and of the depth with the piece."""
    across = item.x_nm < standing.outline.right and item.right_nm > standing.outline.x
    return across and item.near_nm < standing.depth_nm


def _beneath(item: Furniture, standing: Standing) -> bool:
    across = item.x_nm < standing.outline.right and item.right_nm > standing.outline.x
    return across and item.top_nm <= standing.outline.y


def _check_edges(brief: Brief, standing: Standing, voice: Voice) -> list[Check]:
    outline, wall = standing.outline, brief.wall
    past = {
        "the left corner": -outline.x,
        "the right corner": outline.right - wall.width_nm,
        "the floor": -outline.y,
    }
    side = max(past, key=lambda s: past[s])
    over = outline.top - wall.height_nm
    return [
        voice.check(
            "wall_edge",
            "On the wall",
            Verdict.STOP if past[side] > 0 else Verdict.FINE,
            found=f"the piece ends {voice.say(abs(past[side]))} {'past' if past[side] > 0 else 'inside'} {side}",
            allowed="inside the wall",
            why="it must fit on the wall",
            remedy=f"move it {voice.say(past[side])} or make it smaller",
            source="geometry",
        ),
        voice.check(
            "ceiling",
            "Under the ceiling",
            Verdict.STOP if over > 0 else Verdict.FINE,
            found=f"the top is {voice.say(abs(over))} {'above' if over > 0 else 'below'} the ceiling",
            allowed="below it",
            why="it must fit on the wall",
            remedy=f"move it down {voice.say(over)} or take rows off",
            source="geometry",
        ),
    ]


def _check_lift(brief: Brief, room: int, voice: Voice) -> list[Check]:
    if brief.access.opens is not Opens.LIFT_OFF:
        return []
    wanted, what = lift_room_wanted(brief), "the hook" if brief.cleat.hook_nm else "the bevel"
    return [
        voice.check(
            "lift_room",
            "Room to lift it off",
            Verdict.FINE if room >= wanted else Verdict.STOP,
            found=f"{voice.say(room)} clear above the piece",
            allowed=f"at least {voice.say(wanted)}: {what}'s rise of {voice.say(bevel_rise_nm(brief))} and a little",
            why="a piece on a cleat comes off only by going up first",
            remedy=f"lower it by {voice.say(wanted - room)}, or let it swing",
            source="the rise plus a little: trade advice, one source",
        )
    ]


def _check_keep_clear(brief: Brief, standing: Standing, voice: Voice) -> list[Check]:
    checks = []
    for area in brief.keep_clear:
        rect = Rect(*area.kept_nm)
        itself = Rect(area.x_nm, area.y_nm, area.width_nm, area.height_nm)
        covered, too_near = standing.outline.overlap(itself), standing.outline.overlap(rect)
        away = voice.say(_distance(standing.outline, itself))
        checks.append(
            voice.check(
                "keep_clear",
                "Kept clear",
                Verdict.STOP if covered or too_near else Verdict.FINE,
                found=f"{voice.say_area(covered)} of {area.name} lies behind the piece"
                if covered
                else f"the piece ends {away} from {area.name}",
                allowed=f"at least {voice.say(area.margin_nm)} from it" if area.margin_nm else "nothing of it covered",
                why=area.why or "it was asked to stay clear",
                remedy=way_out(standing.outline, rect, voice, brief),
                figure=None if covered else _distance(standing.outline, itself) / NM_PER_MM,
                source="the brief",
                subject=area.name,
            )
        )
    return checks


def _check_clash(brief: Brief, standing: Standing, voice: Voice) -> list[Check]:
    checks = []
    for item in brief.furniture:
        rect = Rect(item.x_nm, item.bottom_nm, item.width_nm, item.top_nm - item.bottom_nm)
        if not _before(item, standing) or not standing.outline.overlap(rect):
            continue
        checks.append(
            voice.check(
                "furniture_clash",
                "Clear of the furniture",
                Verdict.STOP,
                found=f"{item.name} stands where the piece hangs",
                allowed="no furniture in the depth of the piece",
                why="both cannot be in one place",
                remedy=way_out(standing.outline, rect, voice, brief)
                + f", or stand it {voice.say(standing.depth_nm - item.near_nm)} further out",
                source="geometry",
                subject=item.name,
            )
        )
    return checks


def _distance(outline: Rect, rect: Rect) -> int:
    """From edge to edge, straight across or up, or from corner to corner; 0 where they meet."""
    across = max(0, rect.x - outline.right, outline.x - rect.right)
    up = max(0, rect.y - outline.top, outline.y - rect.top)
    return isqrt(across**2 + up**2)


def way_out(outline: Rect, rect: Rect, voice: Voice, brief: Brief) -> str:
    """The shortest single move that clears a rectangle and stays on the wall; what to do where there is none."""
    moves = {
        "left": (outline.right - rect.x, outline.x),
        "right": (rect.right - outline.x, brief.wall.width_nm - outline.right),
        "down": (outline.top - rect.y, outline.y),
        "up": (rect.top - outline.y, brief.wall.height_nm - outline.top),
    }
    ways = {way: move for way, (move, room) in moves.items() if move <= room}
    if not ways:
        return "make the piece smaller, for no move on this wall clears it"
    way = min(ways, key=lambda w: ways[w])
    return f"move the piece {voice.say(ways[way])} {way}"


def _check_gap(name: str, kind: str, item: Furniture, gap: int, voice: Voice) -> Check:
    low, high = gap_band(kind)
    # Above a sofa or a headboard a larger gap reads as cut loose.
    move = low - gap if gap < low else 0 if high is None else max(0, gap - high)
    bounds = f"at least {voice.say(low)}" if high is None else f"{voice.say(low)} to {voice.say(high)}"
    return voice.check(
        name,
        f"Above the {kind}",
        Verdict.CAUTION if move else Verdict.FINE,
        found=f"{voice.say(gap)} between {item.name} and the piece",
        allowed=bounds,
        why="less gets leaned on and knocked" if gap < low else "more, and the two no longer belong together",
        remedy=f"move it {'up' if gap < low else 'down'} {voice.say(move)}",
        figure=abs(move) / NM_PER_MM,
        source="6 to 9 in above a headboard, 6 to 8 in above a sofa: several decorating guides",
        subject=item.name,
    )


def _check_width(item: Furniture, standing: Standing, voice: Voice) -> Check:
    wide, under = standing.outline.width, item.width_nm
    low, high = -(-2 * under // 3), 3 * under // 4
    good = width_suits(wide, under)
    return voice.check(
        "width_band",
        f"Width over {item.name}",
        Verdict.FINE if good else Verdict.CAUTION,
        found=f"{voice.say(wide)}, {wide / under:.3f} of {item.name}",
        allowed=f"two thirds to three quarters: {voice.say(low)} to {voice.say(high)}",
        why="narrower looks lost over the furniture, wider looks heavy",
        remedy=f"make it {voice.say(low - wide)} wider" if wide < low else f"make it {voice.say(wide - high)} narrower",
        figure=max(low - wide, wide - high, 0) / NM_PER_MM,
        source="two thirds to three quarters of the furniture below: several decorating guides",
        subject=item.name,
    )


def _check_eye_level(brief: Brief, standing: Standing, voice: Voice) -> Check:
    middle = standing.outline.y + standing.outline.height // 2
    off, band = off_eye_level(brief, middle)
    return voice.check(
        "eye_level",
        "Centre near eye level",
        Verdict.FINE if off <= EYE_ABOUT_NM else Verdict.CAUTION,
        found=f"the centre is {voice.say(middle)} above the floor",
        allowed=f"about {voice.say(band[0])} to {voice.say(band[1])}",
        why="a centre near eye level is what a room reads as hung right",
        remedy=f"move it {'up' if middle < band[0] else 'down'} {voice.say(off)}",
        figure=off / NM_PER_MM,
        source="57 to 60 in standing: several decorating guides; seated: our assumption",
    )
