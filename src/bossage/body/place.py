"""Where every part of a leaf goes: the cleat by search over its candidates, the rest by the nearest free place.

A candidate for the cleat is only as good as what it leaves room for. So frame, foot spacer, stiles and ribs are placed
with each, in that order, until a candidate is found with which all of them have a place. A part that lies flat on the
backer is a rectangle there, and the nearest free place to the one that the trade would give it is exact
(`layout.place`).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace

from bossage.body.build import backer_part, boxed, cleat_parts, edge_parts, long_part, swing_parts
from bossage.body.cleats import Cleats, Span, candidates, studs_met, wished_anyway
from bossage.body.play import with_play
from bossage.body.records import Part, Role, Runner
from bossage.body.site import HOLDS_OFF, Obstacle, Site, in_the_way, obstacles_of
from bossage.body.solids import Cuboid
from bossage.brief.records import BehindPart
from bossage.layout.place import Room, nearest_place
from bossage.layout.rect import Rect
from bossage.units import NM_PER_MM

FOOT_HEIGHT_NM = 40 * NM_PER_MM
"""Height of the foot spacer: a strip of about 40 mm (1-1/2 in); common practice, no source."""

PADS_NM = (100 * NM_PER_MM, 50 * NM_PER_MM)
"""Length of one of the two pads that keep the foot off the wall, the shorter where the longer has no place: ours."""

TRIES = 24  # candidates for the cleat that are furnished to the end
RUNNERS = 2
ROLES = {"rib": Role.RIB, "frame": Role.FRAME, "stile": Role.STILE}


@dataclass(frozen=True, slots=True, kw_only=True)
class Homeless:
    """A part of the brief that has no place, and the longest of its kind that would have one."""

    part: BehindPart
    index: int  # which of its count
    longest_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Draft:
    """One leaf's parts, not yet named."""

    cleats: Cleats | None
    parts: tuple[Part, ...]
    homeless: tuple[Homeless, ...]
    foot_missing: bool
    runners: tuple[Runner, ...] = ()
    forced: bool = False  # the cleat is where the brief has it, though something is in its way

    @property
    def whole(self) -> bool:
        """Whether everything has its place."""
        return not self.homeless and not self.foot_missing and not self.forced

    def reason(self, site: Site) -> str:
        """Why not everything has its place."""
        if self.forced:
            hidden = " and ".join(f"the {one.name}" for one in site.hidden)
            return f"{hidden} and the edges of the backer leave none" if hidden else "the backer is too small for it"
        return _lacks(site, self)

    def reasons(self, site: Site) -> tuple[str, ...]:
        """What speaks for the place of the cleat."""
        if self.cleats is None:
            return ()
        said = []
        if site.hidden:
            said.append("clear of what is hidden and of its air, also as the leaf is lifted")
        if site.wants_studs:
            met = studs_met(site, self.cleats)
            said.append(f"meets {len(met)} studs")
        if len(self.cleats.pieces) == 1:
            said.append("in one piece")
        return tuple(said)


@dataclass
class _Work:
    """A leaf while it is furnished: parts so far, and what has no place."""

    site: Site
    parts: list[Part]
    homeless: list[Homeless] = field(default_factory=list)
    measured: bool = True  # how long what has no place could be; else the first that has none ends the search

    def obstacles(self, *, air: bool = True) -> list[Obstacle]:
        return obstacles_of(
            [p for p in self.parts if p.role not in (Role.BACKER, Role.LIPPING)], self.site.hidden if air else ()
        )


def place_leaf(site: Site) -> Draft:
    """The best candidate with which everything has its place; else the one that leaves least without."""
    if not site.lifts:
        return _furnished(site, None)
    found = candidates(site)
    best: Draft | None = None
    against: list[Runner] = []
    for one in found[:TRIES]:
        draft = _furnished(site, one)
        if draft.whole:
            later = [Runner(words=c.words, against=_worse(c, one)) for c in found[found.index(one) + 1 :]]
            others = {runner.words: runner for runner in (*later[::-1], *against[::-1]) if runner.words != one.words}
            return replace(draft, runners=tuple(others.values())[::-1][:RUNNERS])
        against.append(Runner(words=one.words, against=_lacks(site, draft)))
        if best is None or _without(draft) < _without(best):
            best = draft
    if best is not None:
        return replace(best, runners=tuple(dict.fromkeys(against))[:RUNNERS])
    return replace(_furnished(site, wished_anyway(site)), forced=True)


def fitting(site: Site) -> Draft | None:
    """A draft in which everything has its place, as `place_leaf` finds it; None, soon found, where there is none."""
    tries = candidates(site)[:TRIES] if site.lifts else [None]
    drafts = (_furnished(site, one, measured=False) for one in tries)
    return next((draft for draft in drafts if draft.whole), None)


def _without(draft: Draft) -> tuple[int, int, int]:
    """How much has no place: parts, a foot, and how much shorter the parts would have to be."""
    short = sum(one.part.length_nm - one.longest_nm for one in draft.homeless)
    return len(draft.homeless), draft.foot_missing, short


def _furnished(site: Site, cleats: Cleats | None, *, measured: bool = True) -> Draft:
    held = cleat_parts(site, cleats) if cleats else swing_parts(site)
    parts = [backer_part(site), *edge_parts(site), *held]
    work = _Work(site, parts, measured=measured)
    lying = [p for p in site.brief.behind if not p.upright]
    upright = [p for p in site.brief.behind if p.upright]
    for part in lying:
        _lay(work, part, cleats)
    missing = cleats is not None and not _bears(site) and not _put_foot(work, cleats)
    for part in upright:
        _stand(work, part)
    eased, parts = with_play(site, cleats, work.parts)
    return Draft(cleats=eased, parts=tuple(parts), homeless=tuple(work.homeless), foot_missing=missing)


def _bears(site: Site) -> bool:
    """Whether a frame or stiles reach the wall, so that no foot spacer is wanted."""
    return any(p.role in HOLDS_OFF and p.depth_nm >= site.stand_off_nm for p in site.brief.behind)


def _lay(work: _Work, part: BehindPart, cleats: Cleats | None) -> None:
    """Rails: the last at the foot, the first at the top, others evenly between; ribs evenly."""
    backer, arm = work.site.mount, work.site.brief.cleat.arm_nm
    room = backer.height - part.width_nm
    for index in range(part.count - 1, -1, -1):
        up = part.count - 1 - index
        if part.role in HOLDS_OFF:
            y = backer.y + (room * up // (part.count - 1) if part.count > 1 else 0)
            if index == part.count - 1 and arm is not None and cleats is not None:
                y = cleats.line_nm - arm - part.width_nm // 2
        else:
            y = backer.y + room * (2 * up + 1) // (2 * part.count)
        wish = (backer.x + (backer.width - part.length_nm) // 2, y)
        _settle(work, part, index, wish, (part.length_nm, part.width_nm))


def _stand(work: _Work, part: BehindPart) -> None:
    """Stiles at the sides, ribs at equal distances; in height midway between what lies above and below."""
    backer = work.site.mount
    room = backer.width - part.width_nm
    low, high = backer.y, backer.top
    if part.role in HOLDS_OFF:
        rails = sorted(
            p.box.y0 for p in work.parts if p.role is Role.FRAME and p.box.x1 - p.box.x0 > p.box.y1 - p.box.y0
        )
        tops = {p.box.y0: p.box.y1 for p in work.parts if p.role is Role.FRAME}
        if len(rails) > 1:
            low, high = tops[rails[0]], rails[-1]
    y = low + (high - low - part.length_nm) // 2
    for index in range(part.count):
        if part.role in HOLDS_OFF:
            x = backer.x + (room * index // (part.count - 1) if part.count > 1 else _alone(work.site, room))
        else:
            x = backer.x + room * (2 * index + 1) // (2 * part.count)
        _settle(work, part, index, (x, y), (part.width_nm, part.length_nm))


def _alone(site: Site, room: int) -> int:
    """A single stile stands in the middle; of a leaf that swings at the side that it shuts on."""
    if site.lifts or not site.swing.upright:
        return room // 2
    return room if site.swing.sign > 0 else 0


def _settle(work: _Work, part: BehindPart, index: int, wish: tuple[int, int], size: tuple[int, int]) -> None:
    """The part where the brief puts it, else at the free place nearest to the wished one."""
    site = work.site
    if work.homeless and not work.measured:
        return
    z = (site.stand_off_nm - part.depth_nm, site.stand_off_nm)
    if index < len(part.at_nm):
        x, y = part.at_nm[index]
        spot: tuple[int, int] | None = (site.leaf.x_nm + x, site.leaf.y_nm + y)
    else:
        spot = _nearest(work, wish, size, z)
    if spot is None:
        longest = _longest(work, part, wish, size, z) if work.measured else 0
        work.homeless.append(Homeless(part=part, index=index, longest_nm=longest))
        return
    box = Cuboid(spot[0], spot[0] + size[0], spot[1], spot[1] + size[1], *z)
    work.parts.append(long_part(site, ROLES[part.role], box, part.species, upright=part.upright, label=part.name))


def _nearest(
    work: _Work, wish: tuple[int, int], size: tuple[int, int], z: tuple[int, int], *, within: Rect | None = None
) -> tuple[int, int] | None:
    b = within or work.site.mount
    room = Room(
        x_low=b.x,
        x_high=b.right - size[0],
        y_low=b.y,
        y_high=b.top - size[1],
        obstacles=tuple(in_the_way(work.site, work.obstacles(), *z)),
    )
    if room.x_low > room.x_high or room.y_low > room.y_high:
        return None
    return nearest_place(wish, *size, room)


def _longest(work: _Work, part: BehindPart, wish: tuple[int, int], size: tuple[int, int], z: tuple[int, int]) -> int:
    """The longest of its section that would have a place near there, to the whole millimetre; 0 where none has."""
    low, high = 0, (size[1] if part.upright else size[0]) // NM_PER_MM
    while high - low > 1:
        middle = (low + high) // 2
        long = middle * NM_PER_MM
        shorter = (size[0], long) if part.upright else (long, size[1])
        if _nearest(work, wish, shorter, z) is None:
            high = middle
        else:
            low = middle
    return low * NM_PER_MM


def _put_foot(work: _Work, cleats: Cleats) -> bool:
    """Two pads at the foot, under the ends of the cleat: they keep the leaf plumb and let air and hands in between."""
    site = work.site
    backer, arm = site.mount, site.brief.cleat.arm_nm
    high = min(FOOT_HEIGHT_NM, backer.height // 4)
    y = backer.y if arm is None else cleats.line_nm - arm - high // 2
    left, right = max(cleats.pieces[0][0], backer.x), min(cleats.pieces[-1][1], backer.right)
    stays = site.brief.cleat.foot == "wall"
    for spans in _foot_spans(left, right):
        spots = _foot_spots(work, spans, y, high, fixed=arm is not None)
        if spots and len({at for _, at in spots}) > 1:
            # both at one height, where that can be
            spots = _foot_spots(work, spans, max(at for _, at in spots), high, fixed=True) or spots
        if spots:
            for span, (x, at) in zip(spans, spots, strict=True):
                work.parts += _foot(site, Cuboid(x, x + span[1] - span[0], at, at + high, 0, 1), stays)
            return True
    return False


def _foot_spots(
    work: _Work, spans: tuple[Span, ...], y: int, high: int, *, fixed: bool
) -> list[tuple[int, int]] | None:
    """Places of all strips or pads, clear of one another; None where one has none."""
    trial = _Work(work.site, list(work.parts))
    found = []
    for span in spans:
        spot = _foot_spot(trial, span, y, high, fixed=fixed)
        if spot is None:
            return None
        found.append(spot)
        box = Cuboid(spot[0], spot[0] + span[1] - span[0], spot[1], spot[1] + high, 0, 1)
        trial.parts += _foot(work.site, box, stays=False)
    return found


def _foot_spans(left: int, right: int) -> Iterator[tuple[Span, ...]]:
    """Two pads at the ends; one strip where there is no room for two, or no place."""
    for pad in PADS_NM:
        if right - left >= 3 * pad:
            yield (left, left + pad), (right - pad, right)
    yield ((left, right),)


def _foot_spot(work: _Work, span: tuple[int, int], y: int, high: int, *, fixed: bool) -> tuple[int, int] | None:
    """The place of a strip or pad: at its height, moved along; where the brief gives no arm, also moved up."""
    site, backer = work.site, work.site.mount
    middle = backer.x + backer.width // 2
    half = (
        Rect(backer.x, backer.y, backer.width, backer.height)
        if span[0] < middle < span[1]
        else Rect(backer.x, backer.y, middle - backer.x, backer.height)
        if span[1] <= middle
        else Rect(middle, backer.y, backer.right - middle, backer.height)
    )
    if fixed:
        if y < backer.y or y + high > backer.top:
            return None
        half = Rect(half.x, y, half.width, high)
    else:
        half = Rect(half.x, half.y, half.width, max(high, half.height // 2))
    return _nearest(work, (span[0], y), (span[1] - span[0], high), (0, site.stand_off_nm), within=half)


def _foot(site: Site, at: Cuboid, stays: bool) -> list[Part]:
    """The foot, in the layers of the cleat where these make up the stand-off: it comes out of the same boards."""
    cleat, depth = site.brief.cleat, site.stand_off_nm
    layers = [(0, depth)]
    if cleat.thickness_nm + cleat.packer_nm == depth and cleat.packer_nm:
        layers = [(0, cleat.thickness_nm), (cleat.thickness_nm, depth)]
    parts = []
    for z0, z1 in layers:
        box = replace_z(at, z0, z1)
        if cleat.kind == "wood" and cleat.thickness_nm + cleat.packer_nm == depth:
            parts.append(boxed(site, Role.FOOT, box, material=cleat.material, moves=not stays))
        else:
            made = long_part(site, Role.FOOT, box, site.brief.blocks.species, upright=False)
            parts.append(replace(made, moves=not stays))
    return parts


def replace_z(box: Cuboid, z0: int, z1: int) -> Cuboid:
    """The box between two other depths."""
    return Cuboid(box.x0, box.x1, box.y0, box.y1, z0, z1)


def _lacks(site: Site, draft: Draft) -> str:
    if draft.homeless:
        names = dict.fromkeys(one.part.name for one in draft.homeless)
        return f"leaves no place for {' and '.join(names)}"
    return "leaves no place for a foot spacer"


def _worse(one: Cleats, taken: Cleats) -> str:
    if len(one.departs) > len(taken.departs):
        return " and ".join(one.departs)
    if len(one.pieces) > len(taken.pieces):
        return "asks for two pieces instead of one"
    if one.back_nm > taken.back_nm:
        return "asks for packers under the wall half"
    if one.line_nm < taken.line_nm:
        return "shortens the arm to the foot"
    if one.rank > taken.rank:
        return "is not where the brief's arm asks for it"
    return "gives a shorter cleat"
