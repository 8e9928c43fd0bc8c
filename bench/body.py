"""How long the body takes: of S2, and of twelve leaves with forty parts each, checked for clashes and joints.

Peer of the same run: the same pairs of solids compared by `manifold3d`, an independent library of boolean operations.

Run: python bench/body.py [--runs 5]
"""

from __future__ import annotations

import argparse
import statistics
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from itertools import combinations
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
sys.path.insert(0, str(ROOT))

from tests.body.laws import solid  # noqa: E402

from bossage.body import Body, Part, Role, plan_body  # noqa: E402
from bossage.body.clashes import clashes_of  # noqa: E402
from bossage.body.joints import joints_of, without_way  # noqa: E402
from bossage.brief import read_brief  # noqa: E402
from bossage.layout import Layout, plan_layout  # noqa: E402
from bossage.serial import to_json  # noqa: E402

BRIEF = ROOT / "examples" / "s2-brenlow-terrace.toml"
LEAVES, PARTS = 12, 40
CHECKED_TARGET_S = 0.05


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5)
    runs = parser.parse_args().runs
    brief = read_brief(BRIEF.read_text(encoding="utf-8"))
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    placed = median_s(lambda: plan_body(brief, layout), runs)
    print(f"S2: placed, joined, swept, checked   {placed * 1e3:7.1f} ms")
    body = plan_body(brief, layout)
    assert isinstance(body, Body)
    many = leaves(body)
    apart = [tuple(p for p in many if p.leaf == leaf) for leaf in dict.fromkeys(p.leaf for p in many)]
    joints = [joints_of(brief, parts) for parts in apart]

    def checked() -> None:
        clashes_of(many, body.fixtures)
        for parts, held in zip(apart, joints, strict=True):
            without_way(parts, held)

    ours = median_s(checked, runs)
    peer = median_s(lambda: by_manifold(many), 1)
    verdict = f"{'within' if ours <= CHECKED_TARGET_S else 'OVER'} {CHECKED_TARGET_S * 1e3:g} ms"
    print(f"{LEAVES} leaves of {PARTS} parts, checked       {ours * 1e3:7.1f} ms  {verdict}")
    print(f"the same pairs by manifold3d         {peer * 1e3:7.1f} ms  {peer / ours:.1f} × ours")


def leaves(body: Body) -> tuple[Part, ...]:
    """S2's parts twelve times side by side, with laths between door and cleat until there are forty on each."""
    rib = next(part for part in body.parts if part.role is Role.RIB)
    found = []
    for n in range(LEAVES):
        off = n * 1_300_000_000
        own = [replace(p, leaf=f"leaf {n}", from_x_nm=p.from_x_nm + off, to_x_nm=p.to_x_nm + off) for p in body.parts]
        for k in range(PARTS - len(own)):
            x = rib.from_x_nm + off + 60_000_000 + k * 25_000_000
            lath = tuple((1_030_000_000 if y == rib.box.y0 else 1_050_000_000, z) for y, z in rib.outline_nm)
            more = {"name": f"lath {k}", "from_x_nm": x, "to_x_nm": x + 5_000_000, "outline_nm": lath}
            own.append(replace(rib, leaf=f"leaf {n}", **more))  # type: ignore[arg-type]
        found += own
    return tuple(found)


def by_manifold(parts: tuple[Part, ...]) -> float:
    """The volume that pairs of one leaf share, all together."""
    total = 0.0
    for leaf in dict.fromkeys(p.leaf for p in parts):
        solids = [solid(to_json(p)) for p in parts if p.leaf == leaf]  # type: ignore[arg-type]
        total += sum((a ^ b).volume() for a, b in combinations(solids, 2))
    return total


def median_s(work: Callable[[], object], runs: int) -> float:
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return statistics.median(times)


if __name__ == "__main__":
    main()
