"""Cutting-stock instances and generated shop jobs: optimal, proven, seconds, beside first-fit decreasing.

    python bench/saw.py [FOLDER]

FOLDER holds class folders of text files (number of types, capacity, then `weight demand` lines) with an `optima.csv`
beside them, and perhaps a `saw_jobs.json`. The files are read where they lie; none belongs to this repository. Without
a folder only the generated jobs are run.
"""

from __future__ import annotations

import csv
import json
import random
import statistics
import sys
import time
from collections import Counter
from collections.abc import Iterator
from pathlib import Path

from bossage.saw import Patience, Piece, SawJob, SawPlan, StickStock, plan_sticks

Case = tuple[str, str, SawJob, int | None]  # class, name, job, known optimum


def classic(folder: Path) -> Iterator[Case]:
    """Instances in class folders; the optimum comes from `optima.csv` where it names the file."""
    known: dict[tuple[str, str], int] = {}
    table = folder / "optima.csv"
    if table.exists():
        with table.open(newline="") as lines:
            known = {(r["class"], r["instance"]): int(r["optimum"]) for r in csv.DictReader(lines)}
    for path in sorted(folder.glob("**/*.txt")):
        numbers = [int(word) for word in path.read_text().split()]
        demand: Counter[int] = Counter()
        for k in range(numbers[0]):
            demand[numbers[2 + 2 * k]] += numbers[3 + 2 * k]
        job = SawJob(
            pieces=tuple(Piece(length_nm=w, count=n) for w, n in sorted(demand.items(), reverse=True)),
            sticks=(StickStock(name="stick", length_nm=numbers[1], price_cents=1),),
            kerf_nm=0,
            patience=Patience(settings_work=0),
        )
        yield path.parent.name, path.stem, job, known.get((path.parent.name, path.stem))


def shop(folder: Path) -> Iterator[Case]:
    """Saw jobs with several stocks, offcuts and zones."""
    path = folder / "saw_jobs.json"
    for row in json.loads(path.read_text()) if path.exists() else []:
        unit = round(row["unit_mm"] * 1e6)
        sticks = tuple(
            StickStock(
                name=f"{n}: {s['length'] * row['unit_mm']:g}",
                length_nm=s["length"] * unit,
                price_cents=s["price"],
                count=s["count"],
                owned=s["price"] == 0,
                trim_nm=row["trim_start"] * unit,
                stub_nm=row["hold_down"] * unit,
                no_go=tuple((a * unit, b * unit) for a, b in s["nogo"]),
            )
            for n, s in enumerate(row["stock"])
        )
        pieces = tuple(Piece(length_nm=w * unit, count=n) for w, n in zip(row["lengths"], row["demand"], strict=True))
        yield (
            "saw_jobs",
            row["name"],
            SawJob(pieces=pieces, sticks=sticks, kerf_nm=row["kerf"] * unit),
            row["optimum_price"],
        )


def planted() -> Iterator[Case]:
    """Full sticks split at random, so that the optimum is their number; and shop jobs up to 100,000 slices."""
    rng = random.Random(5)
    for n in range(12):
        bins, cap = rng.randint(8, 40), 1000
        demand: Counter[int] = Counter()
        for _ in range(bins):
            left = cap
            while left > 0:
                part = min(left, rng.choice([120, 150, 170, 190, 230, 260, 310]))
                demand[part] += 1
                left -= part
        job = SawJob(
            pieces=tuple(Piece(length_nm=w, count=k) for w, k in demand.items()),
            sticks=(StickStock(name="stick", length_nm=cap, price_cents=1),),
            kerf_nm=0,
            patience=Patience(settings_work=0),
        )
        yield "planted", f"planted {n}", job, bins
    for slices in (280, 1_000, 10_000, 100_000):
        for n in range(3):
            lengths = rng.sample(range(8, 70), 9)
            job = SawJob(
                pieces=tuple(Piece(length_nm=w * 1_000_000, count=slices // 9 + rng.randint(0, 9)) for w in lengths),
                sticks=(
                    StickStock(
                        name="2400", length_nm=2_400_000_000, price_cents=1450, trim_nm=30_000_000, stub_nm=200_000_000
                    ),
                    StickStock(
                        name="1800", length_nm=1_800_000_000, price_cents=1050, trim_nm=30_000_000, stub_nm=200_000_000
                    ),
                ),
                kerf_nm=2_200_000,
            )
            yield f"shop {slices}", f"shop {slices} {n}", job, None


def main() -> None:
    """Run everything and print a line a class."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else None
    rows: dict[str, list[tuple[bool | None, bool, float, float]]] = {}
    for kind, name, job, optimum in [
        *(classic(folder) if folder else ()),
        *(shop(folder) if folder else ()),
        *planted(),
    ]:
        start = time.perf_counter()
        plan = plan_sticks(job, advise=False)
        took = time.perf_counter() - start
        assert isinstance(plan, SawPlan), name
        hit = None if optimum is None else plan.money_cents == optimum
        greedy = plan.greedy.money_cents / plan.money_cents if plan.greedy is not None and plan.money_cents else 1.0
        rows.setdefault(kind, []).append((hit, plan.proven, took, greedy))
        gap = plan.money_cents - plan.bound_cents
        print(
            f"{name:28} {plan.money_cents:8} {'optimal' if hit else '-' if hit is None else f'optimum {optimum}':14} "
            f"{'proven' if plan.proven else f'gap {gap}':8} Σ(k-1) {plan.extra_settings:4} {took:7.2f} s",
            flush=True,
        )
    print(f"\n{'class':24} {'n':>3} {'optimal':>8} {'proven':>7} {'median s':>9} {'worst s':>8} {'greedy pays':>12}")
    for kind, runs in rows.items():
        hits = [hit for hit, _, _, _ in runs if hit is not None]
        times = [took for _, _, took, _ in runs]
        more = statistics.mean(g for _, _, _, g in runs) - 1
        print(
            f"{kind:24} {len(runs):3} {f'{sum(hits)}/{len(hits)}' if hits else '-':>8} "
            f"{sum(p for _, p, _, _ in runs):7} {statistics.median(times):9.2f} {max(times):8.2f} {more:+11.1%}"
        )


if __name__ == "__main__":
    main()
