"""What a size and place on the wall is judged by: proportion, air, studs; and what a leaf may measure and weigh."""

from __future__ import annotations

from bossage.brief.records import Brief, Fixture, Need, Opens
from bossage.layout.grid import fixture_rect
from bossage.layout.rect import Rect
from bossage.layout.rough import LeafSize
from bossage.layout.wall_rules import EYE_ABOUT_NM, gap_band, off_eye_level, width_suits
from bossage.layout.words import Voice, mm
from bossage.units import format_mass

LEAF_MOST_NM = mm(900)  # above this, or above LEAF_MOST_G, split: our assumption from shop talk
LEAF_MOST_G = 18_000.0
LEAVES_MOST = 4
STUDS_COUNTED = 3  # a fourth stud is no gain to speak of
STUDS_LEAST = 2
RULES = {
    "width_band": "two thirds to three quarters of the furniture below",
    "furniture_gap": "the gap above the furniture",
    "eye_level": "a centre near eye level",
    "one_leaf": "one leaf in front of each fixture",
    "leaf_size": "leaves of at most 900 mm",
    "leaf_mass": "leaves of at most 18 kg",
}


def rule_words(brief: Brief, rule: str) -> str:
    """A rule of `RULES`, its figures in the piece's unit."""
    if rule == "leaf_size":
        return f"leaves of at most {Voice(brief).say(LEAF_MOST_NM)}"
    if rule == "leaf_mass":
        return f"leaves of at most {format_mass(LEAF_MOST_G, brief.piece.unit)}"
    return RULES[rule]


def wants_studs(brief: Brief) -> bool:
    """Whether the cleat's screws go into studs."""
    return brief.into_studs and brief.access.opens is Opens.LIFT_OFF


def cleat_span(brief: Brief, size: LeafSize) -> tuple[int, int]:
    """Where a leaf's cleat begins, from the leaf's left edge, and its length: as given, else the backer's width."""
    long = min(brief.cleat.length_nm or size.backer.width, size.backer.width)
    return (size.face.width - long) // 2 + brief.cleat.offset_nm, long


def breathes(brief: Brief, fixture: Fixture, place: Rect) -> bool:
    """Whether enough whole rows lie above and below a fixture that needs air, in the columns it surely touches."""
    if Need.AIR not in fixture.needs:
        return True
    blocks = brief.blocks
    face = fixture_rect(fixture)
    across = -(-face.width // (blocks.module_width_nm + blocks.gap_nm))
    row_area = across * blocks.module_width_nm * blocks.module_height_nm
    pitch = blocks.module_height_nm + blocks.gap_nm
    # Rows count from the piece's own ends, so only whole rows clear of the fixture can be opened.
    above, below = (place.top - face.top) // pitch, (face.y - place.y) // pitch
    return min(above, below) * row_area >= face.area


def broken_rules(
    brief: Brief, place: Rect, leaves: tuple[Rect, ...], faces: tuple[Rect, ...], leaf_g: float
) -> tuple[str, ...]:
    """Which proportion rules a place breaks, keys of `RULES`; `faces` are those of the fixtures."""
    broken = []
    below = [f for f in brief.furniture if f.x_nm < place.right and f.right_nm > place.x and f.top_nm <= place.y]
    judged = False
    for kind in ("bench", "sofa", "bed"):
        under = [f for f in below if f.kind == kind]
        if not under:
            continue
        judged = True
        item = max(under, key=lambda f: f.top_nm)
        low, high = gap_band(kind)
        gap = place.y - item.top_nm
        if gap < low or (high is not None and gap > high):
            broken.append("furniture_gap")
        if not width_suits(place.width, item.width_nm):
            broken.append("width_band")
    if not judged and off_eye_level(brief, place.y + place.height // 2)[0] > EYE_ABOUT_NM:
        broken.append("eye_level")
    if any(not any(_holds(leaf, face) for leaf in leaves) for face in faces):
        broken.append("one_leaf")
    if max(leaves[0].width, leaves[0].height) > LEAF_MOST_NM:
        broken.append("leaf_size")
    if leaf_g > LEAF_MOST_G:
        broken.append("leaf_mass")
    return tuple(sorted(set(broken)))


def _holds(leaf: Rect, face: Rect) -> bool:
    """Whether a leaf covers a whole face."""
    return leaf.x <= face.x and leaf.right >= face.right and leaf.y <= face.y and leaf.top >= face.top
