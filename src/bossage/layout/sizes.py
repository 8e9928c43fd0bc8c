"""Sizes to choose from: those that no other beats in cover, mass, cost, proportion and studs at once.

For each grid the places that matter are few: along the wall and up it, the best cover lies at the centre or where a
rule, a stud or an obstacle begins. So the front is exact over all places, not only over a raster of them.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from bossage.brief.records import Brief, Need
from bossage.checks import Edit
from bossage.layout.edits import size_edits
from bossage.layout.grid import centred_place, plan_grid
from bossage.layout.rect import Rect, around
from bossage.layout.refused import to_hide
from bossage.layout.rough import leaf_size, rough_cost_cents, rough_mass_g
from bossage.layout.sizes_rules import STUDS_COUNTED, STUDS_LEAST, breathes, broken_rules, cleat_span, rule_words
from bossage.layout.sizes_search import Shape, Site, across, shapes_of, site_of, up_the_wall
from bossage.layout.words import Voice
from bossage.units import format_mass, format_money

#: A place, its least cover, the rules that it breaks, the fewest studs that a leaf's cleat meets there.
Judged = tuple[Rect, int, tuple[str, ...], int]

MORE = 12  # columns and rows beyond the smallest grid that covers
NEXT_PLACES = 4  # heights on the wall that are tried of one grid where the body has no place at the best one
ROUNDS = 60  # times that the front is drawn anew without what the body has no place in


@dataclass(frozen=True, slots=True, kw_only=True)
class Candidate:
    """A size and place. `margin_nm` is the least cover over all fixtures; masses are estimates."""

    columns: int  # of each leaf
    rows: int
    leaves: int
    x_nm: int
    y_nm: int
    width_nm: int  # of all leaves with their gaps
    height_nm: int
    margin_nm: int
    leaf_g: float  # one leaf
    mass_g: float  # all leaves
    cost_cents: int | None
    broken: tuple[str, ...]  # proportion rules that it breaks, keys of RULES
    studs: int  # fewest that a leaf's cleat meets
    own: bool  # the size and place that the brief itself leads to
    gives_up: tuple[str, ...] = ()
    edits: tuple[Edit, ...] = ()  # the brief's way to it; none where counts cannot be kept in proportion


def candidate_sizes(
    brief: Brief, *, more: int = MORE, built: Callable[[Candidate], Candidate | None] = lambda c: c
) -> tuple[Candidate, ...]:
    """All sizes and places on the Pareto front, best first, each with what it gives up against the others.

    Judged by: cover margin (up to the wanted one: more is no gain), mass, cost, proportion rules broken, studs met.
    Ranked by studs short of two, rules broken, cover, mass, cost. Every candidate covers all fixtures, leaves rows to
    open above and below what must breathe, stands free of obstacles on the wall, leaves room to lift off, can be cut
    from a board and keeps the mass cap.

    Args:
        brief: What the maker said; columns, rows and place in it are only where the search begins.
        more: How many columns and rows beyond the smallest grid that covers are looked at.
        built: What is made of a candidate, None where it cannot be built; asked only of those that no other beats.

    Returns:
        The front; empty when nothing fits. The brief's own size is marked where it lies on the front, and
        `own_size` gives it where it does not.
    """
    site = site_of(brief)
    front = _front(site, [ways for shape in shapes_of(site, more) for ways in _best_places(site, shape)], built)
    ranked = sorted(front, key=lambda c: _rank(site, c))
    return tuple(replace(c, gives_up=_gives_up(site, c, ranked), edits=_edits(brief, c)) for c in ranked)


def own_size(brief: Brief) -> Candidate:
    """The size and place that the brief itself leads to, measured like the candidates."""
    site, grid = site_of(brief), plan_grid(brief)
    leaves = len(grid.places)
    size = leaf_size(brief, grid.columns, grid.rows)
    outline = around(Rect(x, y, grid.width_nm, grid.height_nm) for x, y in grid.places)
    shape = Shape(
        leaf=size,
        leaves=leaves,
        width=outline.width,
        height=outline.height,
        leaf_g=rough_mass_g(brief, size),
        cost_cents=rough_cost_cents(brief, size, leaves),
    )
    place = Rect(outline.x, outline.y, shape.width, shape.height)
    studs = _fewest_studs(site, shape, place.x)
    return _candidate(shape, (place, _margin(site, place), _broken(site, shape, place), studs), own=True)


def leaf_places(brief: Brief, c: Candidate) -> tuple[tuple[int, int], ...]:
    """Lower left corners of a candidate's leaves, side by side; leaves of the brief keep their order along the wall."""
    step = (c.width_nm + brief.blocks.leaf_gap_nm) // c.leaves
    places = plan_grid(brief).places
    order = sorted(range(c.leaves), key=lambda n: places[n]) if len(places) == c.leaves else list(range(c.leaves))
    return tuple((c.x_nm + order.index(n) * step, c.y_nm) for n in range(c.leaves))


def _front(site: Site, ways: list[list[Candidate]], built: Callable[[Candidate], Candidate | None]) -> list[Candidate]:
    """The front of what can be built; each entry of `ways` is one grid at its best places, the best one first."""
    done: set[Candidate] = set()
    for _ in range(ROUNDS):
        front = pareto([(_costs(site, way[0]), way[0]) for way in ways])
        made = {candidate: built(candidate) for candidate in front if candidate not in done}
        done.update(one for one in made.values() if one is not None)
        if all(made.get(candidate, candidate) == candidate for candidate in front):
            return front
        tried = [(made.get(way[0], way[0]), way[1:]) for way in ways]
        ways = [rest if head is None else [head, *rest] for head, rest in tried if head is not None or rest]
    return [candidate for candidate in front if candidate in done]


def pareto(scored: list[tuple[tuple[float, ...], Candidate]]) -> list[Candidate]:
    """Those that no other beats: as good in everything and better in something. Of equals the first stays."""
    kept: list[tuple[tuple[float, ...], Candidate]] = []
    for costs, candidate in sorted(scored, key=lambda entry: entry[0]):
        # In this order nothing that comes later can beat what is kept already.
        if not any(all(a <= b for a, b in zip(other, costs, strict=True)) for other, _ in kept):
            kept.append((costs, candidate))
    return [candidate for _, candidate in kept]


def _best_places(site: Site, shape: Shape) -> list[list[Candidate]]:
    """The best places of one grid: per count of studs and of broken rules, those with the most cover, best first.

    Of several that lie as high on the wall only the best: what is behind the piece mostly hangs on the height.
    """
    wish = centred_place(site.brief, shape.width, shape.height)
    airy = [fixture for fixture in to_hide(site.brief) if Need.AIR in fixture.needs]
    found: dict[tuple[int, int], dict[int, tuple[tuple[int, int, int, int], Judged]]] = {}
    ups = up_the_wall(site, shape, wish[1])
    for x in across(site, shape, wish[0]):
        studs = _fewest_studs(site, shape, x)
        for y in ups:
            place = Rect(x, y, shape.width, shape.height)
            if any(place.overlap(o) for o in site.obstacles):
                continue
            if not all(breathes(site.brief, fixture, place) for fixture in airy):
                continue
            margin, broken = _margin(site, place), _broken(site, shape, place)
            order = (-min(margin, site.wanted_nm), abs(x - wish[0]) + abs(y - wish[1]), x, y)
            by_height = found.setdefault((len(broken), studs), {})
            if y not in by_height or order < by_height[y][0]:
                by_height[y] = (order, (place, margin, broken, studs))
    return [
        [_candidate(shape, judged) for _, judged in sorted(by_height.values(), key=lambda one: one[0])[:NEXT_PLACES]]
        for by_height in found.values()
    ]


def _margin(site: Site, place: Rect) -> int:
    hidden = site.hidden
    return min(hidden.x - place.x, place.right - hidden.right, hidden.y - place.y, place.top - hidden.top)


def _leaves(site: Site, shape: Shape, x: int, y: int) -> tuple[Rect, ...]:
    width = shape.leaf.face.width
    step = width + site.brief.blocks.leaf_gap_nm
    return tuple(Rect(x + n * step, y, width, shape.height) for n in range(shape.leaves))


def _broken(site: Site, shape: Shape, place: Rect) -> tuple[str, ...]:
    return broken_rules(site.brief, place, _leaves(site, shape, place.x, place.y), site.faces, shape.leaf_g)


def _candidate(shape: Shape, judged: Judged, own: bool = False) -> Candidate:
    """One grid at one place, with what it was found to be there."""
    place, margin, broken, studs = judged
    return Candidate(
        columns=shape.leaf.columns,
        rows=shape.leaf.rows,
        leaves=shape.leaves,
        x_nm=place.x,
        y_nm=place.y,
        width_nm=shape.width,
        height_nm=shape.height,
        margin_nm=margin,
        leaf_g=shape.leaf_g,
        mass_g=shape.leaf_g * shape.leaves,
        cost_cents=shape.cost_cents,
        broken=broken,
        studs=studs,
        own=own,
    )


def _fewest_studs(site: Site, shape: Shape, x: int) -> int:
    """Studs that the leaf with the fewest meets, counted up to `STUDS_COUNTED`; 0 where none are wanted."""
    if not site.studs:
        return 0
    start, long = cleat_span(site.brief, shape.leaf)
    end = site.brief.cleat.end_distance_nm
    met = [
        sum(leaf.x + start + end <= stud <= leaf.x + start + long - end for stud in site.brief.wall.studs_nm)
        for leaf in _leaves(site, shape, x, 0)
    ]
    return min(STUDS_COUNTED, *met)


def _edits(brief: Brief, c: Candidate) -> tuple[Edit, ...]:
    return size_edits(brief, c.columns, c.rows, leaf_places(brief, c))


def _costs(site: Site, c: Candidate) -> tuple[float, ...]:
    """What is to be small: short of cover, mass, cost, rules broken, studs not met."""
    short = site.wanted_nm - min(c.margin_nm, site.wanted_nm)
    return (short, c.mass_g, c.cost_cents if c.cost_cents is not None else 0, len(c.broken), -c.studs)


def _rank(site: Site, c: Candidate) -> tuple[float, ...]:
    short, mass, cost, broken, studs = _costs(site, c)
    missed = max(0, STUDS_LEAST - c.studs) if site.studs else 0
    return (missed, broken, short, mass, cost, studs, c.leaves, c.columns, c.rows, c.x_nm, c.y_nm)


def _gives_up(site: Site, c: Candidate, front: list[Candidate]) -> tuple[str, ...]:
    """What the candidate gives up against the best of the front in each respect, in words."""
    voice, unit, money = Voice(site.brief), site.brief.piece.unit, site.brief.piece.currency
    given = []
    most = max(min(o.margin_nm, site.wanted_nm) for o in front)
    if c.margin_nm < most:
        given.append(f"{voice.say(most - c.margin_nm)} less cover")
    lightest = min(o.mass_g for o in front)
    if c.mass_g > lightest:
        given.append(f"{format_mass(c.mass_g - lightest, unit)} heavier than the lightest")
    cheapest = min((o.cost_cents for o in front if o.cost_cents is not None), default=None)
    if c.cost_cents is not None and cheapest is not None and c.cost_cents > cheapest:
        given.append(f"{format_money(c.cost_cents - cheapest, money)} dearer than the cheapest")
    given += [f"misses {rule_words(site.brief, rule)}" for rule in c.broken]
    studs = max(o.studs for o in front)
    if c.studs < studs:
        given.append(f"its cleat meets {c.studs} stud{'' if c.studs == 1 else 's'}, not {studs}")
    return tuple(given)
