"""Planted walls: no fixing in a zone, none deeper in a stud than it may go, or a refusal with what would do.

The zones are worked out anew here, in the units of the tape and as shapes of shapely; no code of the zones is used.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from functools import cache

import pytest
from shapely import LineString, Point, Polygon, box, union_all

from bossage.brief import read_brief
from bossage.hang import Hang
from tests.hang.making import hang, verdict

KINDS = (
    "between studs",
    "on a stud",
    "surface box in masonry",
    "manifold",
    "socket above and below",
    "nothing behind",
    "all studs taken",
    "slanted run",
    "studs seen",
    "box fed from below",
    # what leads to a thing by its kind alone: every side of a wired one, above and below of a piped one
    "electricity meter",
    "meter of nobody knows what",
    "gas meter",
    "gas meter seen from below",
    "thermostat in masonry",
    "thermostat of the mains",
    "bell wire in studs",
    "covered switch",
    "other",
)
WALLS = 3 * len(KINDS)
UNIT_NM = {"mm": 1_000_000, "in": 25_400_000}
REACH_MM, DEEP_MM = 300.0, 31.75  # NEC 334.30 and 300.4, as quoted


@dataclass
class Wall:
    """One planted wall in its unit; `taken` shapes bind every fixing, those in the `hollow` none in a stud."""

    unit: str
    kind: str
    text: str
    studded: bool
    taken: list[Polygon] = field(default_factory=list)
    hollow: list[Polygon] = field(default_factory=list)


def planted(number: int, *, rows: int | None = None, cleat_over_box: bool = False) -> Wall:
    kind, unit = KINDS[number % len(KINDS)], "in" if number // len(KINDS) % 2 else "mm"
    draw = random.Random(number)
    u = 25.0 if unit == "mm" else 1.0  # about an inch
    reach = REACH_MM if unit == "mm" else REACH_MM / 25.4
    every = 16 * u if draw.random() < 0.6 else 24 * u
    first = draw.randrange(4, 12) * u
    wide, high, stud = 160 * u, 100 * u, 1.5 * u
    studs = [first + every * n for n in range(99) if first + every * n <= wide]
    masonry = kind in ("surface box in masonry", "thermostat in masonry", "electricity meter") or (
        kind in ("manifold", "slanted run", "gas meter", "covered switch", "other") and draw.random() < 0.5
    )
    bay = next(x for x in studs if x > 60 * u)
    box_w, box_h = draw.randrange(8, 12) * u, draw.randrange(8, 14) * u
    x, y = bay + (every - box_w) // 2, draw.randrange(45, 55) * u
    columns, drawn = draw.randrange(10, 19), draw.randrange(9, 12)
    rows = rows or drawn
    extra, keys, name, wall_keys, called = "", "", "hatch", "", "thing"
    wall = Wall(unit=unit, kind=kind, text="", studded=not masonry)
    if kind in ("on a stud", "all studs taken"):
        x = bay - box_w / 2 + 0.25 * u
    if kind == "all studs taken":
        columns = 8
    upright, level = box(x, 0, x + box_w, high), box(0, y, wide, y + box_h)
    if kind in ("between studs", "on a stud", "all studs taken", "studs seen", "box fed from below"):
        name = "electrical enclosure"
        below = kind == "box fed from below"
        box_in_bay(wall, studs, stud, (x, y, x + box_w, y + box_h), reach, high, below=below, seen=kind == "studs seen")
        keys = 'fed_from = ["bottom"]\n' if below else ""
        wall_keys = "studs_seen = true\n" if kind == "studs seen" else ""
        wall.taken += [] if below or kind == "studs seen" else [level]
    elif kind == "surface box in masonry":
        name = "electrical enclosure"
        wall.taken += [upright, level]
    elif kind == "manifold":
        name = "heating manifold"
        wall.taken.append(upright)
    elif kind == "electricity meter":
        name, called = "meter", "electricity meter"
        wall.taken += [upright, level]
    elif kind in ("meter of nobody knows what", "thermostat of the mains"):
        name = "meter" if "meter" in kind else "thermostat"
        box_in_bay(wall, studs, stud, (x, y, x + box_w, y + box_h), reach, high)
        wall.taken.append(level)
    elif kind == "gas meter":
        name, keys = "meter", 'medium = "gas"\n'
        (wall.taken if masonry else wall.hollow).append(upright)
    elif kind == "gas meter seen from below":
        name, keys = "meter", 'medium = "gas"\nfed_from = ["bottom"]\n'
        wall.hollow.append(box(x, 0, x + box_w, y + box_h))
    elif kind == "thermostat in masonry":
        name = "thermostat"
        wall.taken += [upright, level]
    elif kind == "bell wire in studs":
        name, keys = "thermostat", "volts = 24\n"
        wall.hollow += [upright, level]
    elif kind == "covered switch":
        name, called = "other", "old switch"
        wall.taken.append(level)
        if masonry:
            wall.taken.append(upright)
        else:
            box_in_bay(wall, studs, stud, (x, y, x + box_w, y + box_h), reach, high)
    elif kind == "other":
        name = "other"
        (wall.taken if masonry else wall.hollow).append(upright)
    middle = x + box_w / 2
    if kind == "socket above and below":
        for height in (high - 12 * u, 12 * u):
            at = middle + draw.randrange(-20, 20) * u
            size = f"width = {3 * u}\nheight = {3 * u}\n"
            extra += f'[[keep_clear]]\nname = "socket {height:g}"\nx = {at}\ny = {height}\n{size}'
            wall.taken += [box(at, 0, at + 3 * u, high), box(0, height, wide, height + 3 * u)]
    if kind == "slanted run":
        start, end = (middle - 40 * u, 0.0), (middle + draw.randrange(-10, 40) * u, high)
        ends = f"from = {list(start)}\nto = {list(end)}\n"
        extra += f'[[run]]\nkind = "cable"\n{ends}clear = {2 * u}\nfound = "detector"\n'
        wall.taken.append(LineString([start, end]).buffer(2 * u))
    left_x, foot = middle - columns * 1.5 * u, y + box_h / 2 - rows * 1.5 * u
    built = 'build = "masonry"' if masonry else f'build = "timber studs"\nstuds = {studs}\nstud_width = {stud}'
    plug = '[fixings]\nallowable = "20 kg"\npull_allowable = "20 kg"\n' if masonry else ""
    over = rows * 1.5 * u - box_h / 2 - 6 * u
    cleat = f"[cleat]\nline_below_top = {over}\n" if cleat_over_box else ""
    wall.text = (
        f'[piece]\nunit = "{unit}"\n[wall]\nwidth = {wide}\nheight = {high}\n{built}\n{wall_keys}'
        f'[[fixture]]\nname = "{called}"\nkind = "{name}"\nx = {x}\ny = {y}\nwidth = {box_w}\nheight = {box_h}\n'
        f"proud = {0.5 * u}\n{keys}{extra}{plug}{cleat}"
        f"[blocks]\ncolumns = {columns}\nrows = {rows}\nlevels = [{0.75 * u}, {u}]\n"
        f"[[leaf]]\nx = {left_x}\ny = {foot}\n"
        f"[[footprint]]\nwidth = {3 * u}\nheight = {3 * u}\n"
        '[[family]]\nname = "moss"\ncolour = "#5F7A55"\nlightness = [46, 54]\nhome = "left"\n'
    )
    return wall


def box_in_bay(
    wall: Wall,
    studs: list[float],
    stud: float,
    sides: tuple[float, float, float, float],
    reach: float,
    high: float,
    *,
    below: bool = False,
    seen: bool = False,
) -> None:
    """The hollow between the studs of a box, and those studs as far as cables are stapled to them."""
    x0, y0, x1, y1 = sides
    left, right = max(s for s in studs if s <= x0), min(s for s in studs if s >= x1)
    wall.hollow.append(box(left + stud / 2, 0, right - stud / 2, y1 if below else high))
    if not seen:
        top = y1 + (0 if below else reach)
        wall.taken += [box(s - stud / 2, y0 - reach, s + stud / 2, top) for s in studs if left <= s <= right]


@cache
def planned(number: int) -> tuple[Wall, Hang]:
    wall = planted(number)
    return wall, hang(read_brief(wall.text))


def inside(wall: Wall, x: float, y: float, *, stud: bool) -> bool:
    """Whether a place lies in what is taken: within, not on its rim."""
    return bool(union_all(wall.taken if stud else [*wall.taken, *wall.hollow]).contains(Point(x, y)))


def places(wall: Wall, hung: Hang) -> list[tuple[float, float, bool, float | None]]:
    nm = UNIT_NM[wall.unit]
    return [
        (p.x_nm / nm, p.y_nm / nm, p.into == "stud", p.depth_in_stud_mm)
        for leaf in hung.leaves
        for p in leaf.cleat.fixings
    ]


@pytest.mark.parametrize("number", range(WALLS))
def test_no_fixing_stands_in_a_zone_and_none_goes_too_deep(number: int) -> None:
    wall, hung = planned(number)
    found = places(wall, hung)
    for x, y, stud, deep in found:
        assert not inside(wall, x, y, stud=stud), (wall.kind, x, y)
        assert stud == wall.studded
        assert deep is None or deep <= DEEP_MM or wall.kind == "studs seen"
    if verdict(hung, "drill_zones") == "stop":
        check = next(c for c in hung.checks if c.name == "drill_zones")
        assert "would do" in check.remedy or check.remedy.startswith("Would it help to ")
        assert verdict(hung, "load_path") == "stop"
    else:
        assert len({x for x, *_ in found}) >= 2, wall.kind


def test_walls_with_nothing_behind_are_planned_and_taken_ones_refused() -> None:
    by_kind: dict[str, list[str]] = {}
    for number in range(WALLS):
        wall, hung = planned(number)
        by_kind.setdefault(wall.kind, []).append(verdict(hung, "drill_zones"))
    assert set(by_kind["nothing behind"]) == {"none"}
    assert set(by_kind["all studs taken"]) == {"stop"}
    assert set(by_kind["studs seen"]) == {"fine"}
    # bell wire and a gas pipe in the hollow bind no screw in a stud; a pipe that was seen frees the wall above it
    for kind in ("bell wire in studs", "gas meter seen from below", "manifold", "gas meter", "other"):
        assert "stop" not in by_kind[kind], kind
    assert sum(said.count("stop") for said in by_kind.values()) < WALLS / 2


@pytest.mark.parametrize("number", [0, len(KINDS)])
def test_the_height_that_a_refusal_names_mends_it(number: int) -> None:
    # the cleat stands where the brief puts it, just above the box, where its studs are taken
    wall = planted(number, rows=24, cleat_over_box=True)
    refused = hang(read_brief(wall.text))
    check = next(c for c in refused.checks if c.name == "drill_zones")
    assert check.verdict == "stop"
    assert "move the cleat" in check.remedy
    after = hang(read_brief(wall.text, check.edits))
    assert verdict(after, "drill_zones") == "fine"
    assert next(link for link in after.links if link.name == "screws in the studs").margin > 0
    assert all(not inside(wall, x, y, stud=stud) for x, y, stud, _ in places(wall, after))


def test_hinges_keep_out_of_the_strip_of_a_switch() -> None:
    # a switch left of the piece: its level strip crosses the hinge side
    plain = planted(5)
    swing = '[access]\nopens = "swing"\nhinge = "left"\n[[behind]]\nname = "stile"\nrole = "stile"\ncount = 2\n'
    swing += "length = 600\nwidth = 45\ndepth = 38\nupright = true\n"
    before = hang(read_brief(plain.text + swing)).leaves[0].hinges
    assert before is not None
    high = max(point.y_nm for point in before.post.fixings) // 10**6
    switch = f'[[keep_clear]]\nname = "light switch"\nx = 100\ny = {high - 40}\nwidth = 80\nheight = 80\n'
    after = hang(read_brief(plain.text + swing + switch))
    hinges = after.leaves[0].hinges
    assert hinges is not None
    assert max(point.y_nm for point in hinges.post.fixings) <= (high - 40 - 10) * 10**6
    assert verdict(after, "drill_zones") == "fine"
    # the hinges stay where they are; the fixings that are left take more
    assert hinges.hinges == before.hinges
    sheared = [max(point.shear_n for point in plan.post.fixings) for plan in (before, hinges)]
    assert sheared[1] > sheared[0] or hinges.wall_fixings > before.wall_fixings


def swung(number: int, fed: str) -> Hang:
    wall = planted(number)
    swing = '[access]\nopens = "swing"\nhinge = "left"\n'
    return hang(read_brief(wall.text.replace("[blocks]", f"{swing}[blocks]").replace("proud =", f"{fed}proud =")))


@pytest.mark.parametrize("kind", ["electricity meter", "thermostat in masonry"])
def test_a_hinge_post_keeps_out_of_the_level_strip_of_a_hidden_box(kind: str) -> None:
    number = KINDS.index(kind)
    wall, hung = planted(number), swung(number, "")
    assert hung.leaves[0].hinges is not None
    for point in hung.leaves[0].hinges.post.fixings:
        assert not inside(wall, point.x_nm / UNIT_NM[wall.unit], point.y_nm / UNIT_NM[wall.unit], stud=False)
    freed = swung(number, 'fed_from = ["top", "bottom"]\n').leaves[0].hinges
    assert freed is not None
    level = wall.taken[1]
    assert any(
        level.contains(Point(point.x_nm / UNIT_NM[wall.unit], point.y_nm / UNIT_NM[wall.unit]))
        for point in freed.post.fixings
    )
