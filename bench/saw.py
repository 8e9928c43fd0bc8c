"""Cutting-stock instances and generated shop jobs: optimal, proven, seconds, beside first-fit decreasing.

    python bench/saw.py [FOLDER]

FOLDER holds class folders of text files (number of types, capacity, then `weight demand` lines) with an `optima.csv`
beside them, and perhaps a `saw_jobs.json`. The files are read where they lie; none belongs to this repository. Without
a folder only the generated jobs are run. Jobs of up to 400 blocks are planned once more with the patience to prove the
fewest settings at the least money.
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
from dataclasses import dataclass, replace
from pathlib import Path

from bossage.saw import Patience, Piece, SawJob, SawPlan, StickStock, plan_sticks
from bossage.saw.job.first_fit import first_fit_decreasing
from bossage.saw.job.numbers import build_core

MONEY_ONLY = Patience(settings_steps=0, settings_work=0)  # what is known of the classic instances is their price
PATIENT = Patience(settings_steps=20_000, settings_work=5.0)
SMALL = 400

Case = tuple[str, str, SawJob, int | None]  # class, name, job, known optimum


def classic(folder: Path) -> Iterator[Case]:
    """Instances in class folders; the optimum comes from `optima.csv` where it names the file."""
    known: dict[tuple[str, str], int] = {}
    table = folder / "optima.csv"
    if table.exists():
        with table.open(newline="") as lines:
            known = {(r["class"], r["instance"]): int(r["optimum"]) for r in csv.DictReader(lines) if r.get("optimum")}
    for path in sorted(folder.glob("**/*.txt")):
        try:
            numbers = [int(word) for word in path.read_text().split()]
        except ValueError:  # some other text beside the instances
            continue
        demand: Counter[int] = Counter()
        pairs = len(numbers) >= 2 + 2 * numbers[0]  # else one weight a line, each wanted once
        for k in range(numbers[0]):
            demand[numbers[2 + 2 * k if pairs else 2 + k]] += numbers[3 + 2 * k] if pairs else 1
        job = SawJob(
            pieces=tuple(Piece(length_nm=w, count=n) for w, n in sorted(demand.items(), reverse=True)),
            sticks=(StickStock(name="stick", length_nm=numbers[1], price_cents=1),),
            kerf_nm=0,
            patience=MONEY_ONLY,
        )
        yield path.parent.name, path.stem, job, known.get((path.parent.name, path.stem))


def shop(folder: Path) -> Iterator[Case]:
    """Saw jobs with several stocks, offcuts and zones; what a row leaves out is none of it."""
    path = folder / "saw_jobs.json"
    for number, row in enumerate(json.loads(path.read_text()) if path.exists() else []):
        unit = round(row.get("unit_mm", 0.1) * 1e6)
        sticks = tuple(
            StickStock(
                name=f"{n}: {s['length'] * unit / 1e6:g}",
                length_nm=s["length"] * unit,
                price_cents=s.get("price") or 0,
                count=s.get("count"),
                owned=not s.get("price"),
                trim_nm=row.get("trim_start", 0) * unit,
                stub_nm=row.get("hold_down", 0) * unit,
                no_go=tuple((a * unit, b * unit) for a, b in s.get("nogo") or ()),
            )
            for n, s in enumerate(row["stock"])
        )
        pieces = tuple(Piece(length_nm=w * unit, count=n) for w, n in zip(row["lengths"], row["demand"], strict=True))
        job = SawJob(pieces=pieces, sticks=sticks, kerf_nm=row.get("kerf", 0) * unit)
        yield "saw_jobs", row.get("name", f"saw job {number}"), job, row.get("optimum_price")


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
            patience=MONEY_ONLY,
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


@dataclass(frozen=True, slots=True, kw_only=True)
class Run:
    """One job planned, beside first-fit decreasing."""

    optimum: int | None
    money: int
    proven: bool
    seconds: float
    work_s: float  # seconds of this process on a core, which other work on the machine lengthens less
    settings: int
    greedy: int | None
    greedy_settings: int
    greedy_s: float


def first_fit(job: SawJob) -> tuple[int | None, int, float]:
    """Price, settings and seconds of first-fit decreasing; no price where it cannot place every slice."""
    start = time.perf_counter()
    core = build_core(job)
    loads = first_fit_decreasing(
        core,
        tuple(job.sticks[b.stock].owned for b in core.bins),
        tuple(b.length_nm for b in core.bins),
    )
    took = time.perf_counter() - start
    if loads is None:
        return None, 0, took
    held = [len({i for span in load.spans for i, n in enumerate(span) if n}) for load in loads]
    return sum(job.sticks[core.bins[load.bin].stock].price_cents for load in loads), sum(held) - len(held), took


def run(name: str, job: SawJob, optimum: int | None) -> Run:
    """Plan one job and print its line."""
    greedy, greedy_settings, greedy_s = first_fit(job)
    start, work = time.perf_counter(), time.process_time()
    plan = plan_sticks(job, advise=False)
    took, work = time.perf_counter() - start, time.process_time() - work
    assert isinstance(plan, SawPlan), name
    hit = "-" if optimum is None else "optimal" if plan.money_cents == optimum else f"optimum {optimum}"
    print(
        f"{name:28} {plan.money_cents:8} {hit:14} "
        f"{'proven' if plan.proven else f'gap {plan.money_cents - plan.bound_cents}':8} "
        f"Σ(k-1) {extra_settings(plan):5} {took:7.2f} s {work:7.2f} s of work   "
        f"first fit {'fails' if greedy is None else greedy:>8} Σ(k-1) {greedy_settings:5}",
        flush=True,
    )
    return Run(
        optimum=optimum,
        money=plan.money_cents,
        proven=plan.proven,
        seconds=took,
        work_s=work,
        settings=extra_settings(plan),
        greedy=greedy,
        greedy_settings=greedy_settings,
        greedy_s=greedy_s,
    )


def extra_settings(plan: SawPlan) -> int:
    """Σ over sticks of distinct lengths less one."""
    return sum(len({s.length_nm for s in stick.slices}) - 1 for stick in plan.sticks)


def table(rows: dict[str, list[Run]]) -> None:
    """A line a class, first-fit decreasing beside it."""
    print(
        f"\n{'class':24} {'n':>3} {'optimal':>8} {'proven':>7} {'median s':>9} {'worst s':>8} {'work s':>7} "
        f"{'Σ(k-1)':>7} | {'first fit: optimal':>18} {'pays more':>10} {'Σ(k-1)':>7} {'median s':>9}"
    )
    for kind, runs in rows.items():
        known = [r for r in runs if r.optimum is not None]
        paid = [r.greedy / r.money for r in runs if r.greedy is not None and r.money]
        ours, theirs = (
            f"{sum(value == r.optimum for value, r in zip(values, known, strict=True))}/{len(known)}" if known else "-"
            for values in ([r.money for r in known], [r.greedy for r in known])
        )
        print(
            f"{kind:24} {len(runs):3} {ours:>8} {sum(r.proven for r in runs):7} "
            f"{statistics.median(r.seconds for r in runs):9.2f} {max(r.seconds for r in runs):8.2f} "
            f"{statistics.median(r.work_s for r in runs):7.2f} {statistics.median(r.settings for r in runs):7g} | "
            f"{theirs:>18} {statistics.mean(paid) - 1 if paid else 0:>+10.1%} "
            f"{statistics.median(r.greedy_settings for r in runs):7g} "
            f"{statistics.median(r.greedy_s for r in runs):9.3f}"
        )


def patient(cases: list[Case]) -> None:
    """The fewest settings at the least money, with proof where it closes."""
    print("\nwith the patience to prove the fewest settings:")
    for _, name, job, _ in cases:
        if sum(piece.count for piece in job.pieces) > SMALL or not job.patience.settings_steps:
            continue
        start = time.perf_counter()
        plan = plan_sticks(replace(job, patience=PATIENT), advise=False)
        took = time.perf_counter() - start
        assert isinstance(plan, SawPlan), name
        print(
            f"{name:28} Σ(k-1) {extra_settings(plan):4} {'proven' if plan.settings_proven else 'not proven':10} "
            f"slack {plan.slack_nm / 1e6:8.1f} mm {took:7.2f} s",
            flush=True,
        )


def main() -> None:
    """Run everything and print a line a class."""
    folder = Path(sys.argv[1]) if len(sys.argv) > 1 else None
    shops = list(shop(folder)) if folder else []
    rows: dict[str, list[Run]] = {}
    for kind, name, job, optimum in [*(classic(folder) if folder else ()), *shops, *planted()]:
        rows.setdefault(kind, []).append(run(name, job, optimum))
    table(rows)
    patient(shops)


if __name__ == "__main__":
    main()
