"""The laws of the body, derived anew from plan.json with solids of `manifold3d`; no code of the stage is used.

manifold3d: boolean operations on triangle meshes, guaranteed manifold (an independent library from the registry).
"""

from __future__ import annotations

import csv
import itertools
import math
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import manifold3d as m3

Json = dict[str, Any]
NM = 1e6
SPECK_MM3 = 0.01  # a tenth of a millimetre on an edge of a millimetre: rounding of single floats, nothing that is wood
LEAST_BEARING = 0.9  # of a panel half's length that its wall half must meet
DATA = Path(__file__).parents[2] / "src" / "bossage" / "timber" / "data"


def solid(part: Json, outline: str = "outline_nm", from_x: str = "from_x_nm", to_x: str = "to_x_nm") -> m3.Manifold:
    """A part as a solid in millimetres: its cross-section drawn out along x, openings and notches taken out."""
    ring = [(y / NM, z / NM) for y, z in part[outline]]
    if sum(a[0] * b[1] - b[0] * a[1] for a, b in itertools.pairwise([*ring, ring[0]])) < 0:
        ring.reverse()
    x0, x1 = part[from_x] / NM, part[to_x] / NM
    # drawn out along the third axis, then turned so that (y, z, along) becomes (x, y, z)
    drawn = m3.CrossSection([ring]).extrude(x1 - x0)
    body = drawn.transform([[0, 0, 1, x0], [1, 0, 0, 0], [0, 1, 0, 0]])
    zs = [z for _, z in ring]
    ys = [y for y, _ in ring]
    for ox0, oy0, ox1, oy1 in part.get("openings_nm", ()):
        body -= _box(ox0 / NM, ox1 / NM, oy0 / NM, oy1 / NM, min(zs) - 1, max(zs) + 1)
    for nx0, nx1, nz0, nz1 in part.get("notches_nm", ()):
        body -= _box(nx0 / NM, nx1 / NM, min(ys) - 1, max(ys) + 1, nz0 / NM, nz1 / NM)
    return body


def _box(x0: float, x1: float, y0: float, y1: float, z0: float, z1: float) -> m3.Manifold:
    return m3.Manifold.cube([x1 - x0, y1 - y0, z1 - z0]).translate([x0, y0, z0])


def _touch(a: m3.Manifold, b: m3.Manifold) -> bool:
    low_a, high_a = a.bounding_box()[:3], a.bounding_box()[3:]
    low_b, high_b = b.bounding_box()[:3], b.bounding_box()[3:]
    return all(low_a[k] < high_b[k] and low_b[k] < high_a[k] for k in range(3))


def shared_volumes(body: Json) -> Iterator[str]:
    """Pairs of solids of one copy, fixtures with their air included, that share volume."""
    for copy in {part["copy"] for part in body["parts"]}:
        parts = [(f"{p['leaf']}/{p['name']}", solid(p)) for p in body["parts"] if p["copy"] == copy]
        airs = [
            (f"air of {f['name']}", solid(f, "air_nm", "air_from_x_nm", "air_to_x_nm"))
            for f in body["fixtures"]
            if f["copy"] == copy
        ]
        for (one, a), (other, b) in [*itertools.combinations(parts, 2), *itertools.product(parts, airs)]:
            if _touch(a, b):
                volume = (a ^ b).volume()
                if volume > SPECK_MM3:
                    yield f"{one} and {other} share {volume:.2f} mm³"


def parts_without_way(body: Json) -> Iterator[str]:
    """Parts of a leaf with no way over holding joints to its backer, parts on the wall with none to the wall."""
    leaves = {(p["leaf"], p["copy"]) for p in body["parts"]}
    for leaf, copy in leaves:
        parts = [p for p in body["parts"] if (p["leaf"], p["copy"]) == (leaf, copy)]
        next_to: dict[str, set[str]] = defaultdict(set)
        for joint in body["joints"]:
            if (joint["leaf"], joint["copy"]) == (leaf, copy) and joint["how"] not in ("bevel", "bearing", "hook"):
                next_to[joint["a"]].add(joint["b"])
                next_to[joint["b"]].add(joint["a"])
        backer = next(p["name"] for p in parts if p["role"] == "backer")
        for part in parts:
            goal = backer if part["moves"] else "wall"
            if goal not in _reach(next_to, part["name"]):
                yield f"{leaf}/{part['name']} has no way to the {goal}"


def _reach(next_to: dict[str, set[str]], start: str) -> set[str]:
    seen, open_ = {start}, [start]
    while open_:
        for name in next_to[open_.pop()] - seen:
            seen.add(name)
            open_.append(name)
    return seen


def bevels_apart(body: Json) -> Iterator[str]:
    """Panel halves whose bevel does not lie, along nearly all of its length, on that of a wall half."""
    by_leaf: dict[tuple[str, int], list[Json]] = defaultdict(list)
    for part in body["parts"]:
        by_leaf[part["leaf"], part["copy"]].append(part)
    for (leaf, _), parts in by_leaf.items():
        walls = [p for p in parts if p["role"] == "wall half"]
        for panel in (p for p in parts if p["role"] == "panel half"):
            met = sum(_on_one_another_mm(panel, wall) for wall in walls)
            long = (panel["to_x_nm"] - panel["from_x_nm"]) / NM
            if met < LEAST_BEARING * long:
                yield f"{leaf}/{panel['name']} lies on {met:.1f} of {long:.1f} mm"


def _on_one_another_mm(panel: Json, wall: Json) -> float:
    """Length over which the sloping edges of two cross-sections are one line, touching and on opposite sides."""
    along = (min(panel["to_x_nm"], wall["to_x_nm"]) - max(panel["from_x_nm"], wall["from_x_nm"])) / NM
    for a in _sloping(panel):
        for b in _sloping(wall):
            if math.isclose(abs(_cross(a, b)), 0.0, abs_tol=1e-3) and _distance_mm(a, b) < 1e-3:
                return max(0.0, along)
    return 0.0


def _sloping(part: Json) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    ring = [(y / NM, z / NM) for y, z in part["outline_nm"]]
    return [(a, b) for a, b in itertools.pairwise([*ring, ring[0]]) if a[0] != b[0] and a[1] != b[1]]


def _cross(a: tuple[Any, Any], b: tuple[Any, Any]) -> float:
    (ay, az), (by, bz) = (((e[1][0] - e[0][0]) / math.dist(*e), (e[1][1] - e[0][1]) / math.dist(*e)) for e in (a, b))
    return ay * bz - az * by


def _distance_mm(a: tuple[Any, Any], b: tuple[Any, Any]) -> float:
    """From the line of one edge to an end of the other."""
    (y0, z0), (y1, z1) = a
    y, z = b[0]
    return abs((y1 - y0) * (z - z0) - (z1 - z0) * (y - y0)) / math.dist(*a)


def tips_in_corners(body: Json) -> Iterator[str]:
    """Parts between panel half and backer that the sharp edge of the wall half would run up: glue lies in that corner.

    Where nothing lies between them the edge runs up the backer itself, and is planed back.
    """
    for wall in (p for p in body["parts"] if p["role"] == "wall half"):
        (foot_y, _), (tip_y, tip_z) = min(wall["outline_nm"]), max(wall["outline_nm"])
        for part in body["parts"]:
            ys, zs = [y for y, _ in part["outline_nm"]], [z for _, z in part["outline_nm"]]
            along = part["from_x_nm"] < wall["to_x_nm"] and wall["from_x_nm"] < part["to_x_nm"]
            mine = (part["leaf"], part["copy"]) == (wall["leaf"], wall["copy"]) and part["moves"]
            if (
                mine
                and along
                and part["role"] not in ("panel half", "backer")
                and min(zs) == tip_z
                and min(ys) < tip_y
                and max(ys) > foot_y
            ):
                yield f"{part['leaf']}/{part['name']} reaches {(tip_y - min(ys)) / NM:.1f} mm below the wall half's tip"


def shut_in(body: Json, play_mm: float) -> Iterator[str]:
    """Parts of a cleat's upper half that other parts of the leaf leave less than that at both ends."""
    halves = ("panel half", "packer", "filler")
    solids = {(p["leaf"], p["copy"], p["name"]): solid(p) for p in body["parts"] if p["moves"]}
    for key, part in (((p["leaf"], p["copy"], p["name"]), p) for p in body["parts"] if p["role"] in halves):
        others = [
            (p["leaf"], p["copy"], p["name"])
            for p in body["parts"]
            if p["moves"] and (p["leaf"], p["copy"]) == key[:2] and p["role"] not in (*halves, "backer", "lipping")
        ]
        near = [
            [solids[one] for one in others if (solids[one] ^ solids[key].translate([by, 0, 0])).volume() > SPECK_MM3]
            for by in (-0.99 * play_mm, 0.99 * play_mm)
        ]
        if all(near):
            yield f"{part['leaf']}/{part['name']} has no play at either end"


def screws_that_meet(body: Json) -> Iterator[str]:
    """Screws of one leaf, as rods at right angles to the backer, whose middles lie nearer than three shanks.

    `body` has the places of its screws. Wherever they come from, two bits in one hole ruin both.
    """
    moving = {(p["leaf"], p["copy"], p["name"]) for p in body["parts"] if p["moves"]}
    by_leaf: dict[tuple[str, int], set[tuple[float, float, float]]] = defaultdict(set)
    for joint in body["joints"]:
        if (joint["leaf"], joint["copy"], joint["a"]) in moving and joint["b"] != "wall":
            for one in joint["fixings"]:
                by_leaf[joint["leaf"], joint["copy"]].add((one["x_nm"] / NM, one["y_nm"] / NM, _shank_mm(one["gauge"])))
    for (leaf, _), screws in by_leaf.items():
        for a, b in itertools.combinations(sorted(screws), 2):
            if math.dist(a[:2], b[:2]) < 3 * max(a[2], b[2]) - 1e-6:
                yield f"{leaf}: screws at {a[:2]} and {b[:2]}"


def _shank_mm(gauge: str) -> float:
    """Of `4 mm`, or of a number: 0.060 in and 0.013 in for each."""
    return (0.060 + 0.013 * int(gauge[1:])) * 25.4 if gauge.startswith("#") else float(gauge.removesuffix("mm"))


def screws_beside_their_parts(body: Json) -> Iterator[str]:
    """Screws that miss one of the two parts that they hold, or come out in an opening or a notch."""
    parts = {(p["leaf"], p["copy"], p["name"]): p for p in body["parts"]}
    for joint in body["joints"]:
        for name in (joint["a"], joint["b"]):
            part = parts.get((joint["leaf"], joint["copy"], name))
            if part is None:
                continue
            ys = [y for y, _ in part["outline_nm"]]
            for one in joint["fixings"]:
                x, y = one["x_nm"], one["y_nm"]
                inside = part["from_x_nm"] < x < part["to_x_nm"] and min(ys) < y < max(ys)
                hole = any(x0 < x < x1 and y0 < y < y1 for x0, y0, x1, y1 in part["openings_nm"])
                if not inside or hole or any(x0 < x < x1 for x0, x1, _, _ in part["notches_nm"]):
                    yield f"{part['leaf']}/{name}: a screw at {x / NM}, {y / NM}"


def wrong_masses(body: Json) -> Iterator[str]:
    """Parts of wood whose mass is not volume times density (density: the data's own table, by its row)."""
    density = densities()
    for part in body["parts"]:
        if part["made_at"] == "bought":
            continue
        expected = solid(part).volume() * density[part["material"]] * 1e-6
        if not math.isclose(part["mass_g"], expected, rel_tol=1e-5, abs_tol=1e-3):
            yield f"{part['name']} weighs {part['mass_g']:.3f}, by volume {expected:.3f} g"


def densities() -> dict[str, float]:
    """kg/m³ at 12 % moisture, by key."""
    with (DATA / "species.csv").open(encoding="utf-8") as rows:
        return {row["key"]: float(row["density_12pct_kg_m3"]) for row in csv.DictReader(rows)}


def met_on_the_way(body: Json, lift_mm: float) -> Iterator[str]:
    """What a leaf's parts share volume with, lifted in ten steps and then drawn out in ten, past all on the wall."""
    for leaf, copy in {(p["leaf"], p["copy"]) for p in body["parts"]}:
        mine = [p for p in body["parts"] if (p["leaf"], p["copy"]) == (leaf, copy)]
        moving = [(p["name"], solid(p)) for p in mine if p["moves"]]
        still = [
            (p["name"], solid(p))
            for p in mine
            if not p["moves"] and p["role"] in ("wall half", "wall packer", "foot spacer")
        ]
        still += [(f["name"], solid(f)) for f in body["fixtures"] if f["copy"] == copy]
        out = max((thing.bounding_box()[5] for _, thing in still), default=0.0) + 5
        for up, z in [(lift_mm * k / 10, 0.0) for k in range(11)] + [(lift_mm, out * k / 10) for k in range(11)]:
            for name, part in moving:
                there = part.translate([0, up, z])
                for other, thing in still:
                    if _touch(there, thing) and (there ^ thing).volume() > SPECK_MM3:
                        yield f"{leaf}/{name} meets {other}, {up:.1f} mm up and {z:.1f} mm out"
