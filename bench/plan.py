"""How long a maker waits: `bossage plan` of S2 from start to papers, `bossage --help`, and the share that is imports.

Every figure is of whole fresh processes. Each is given in seconds and as a ratio to a bare interpreter start measured
in the same run, because the machine is shared. Our code is compiled first, as every install does. Imports are what the
interpreter itself reports (`-X importtime`).

Run: python bench/plan.py [--runs 5]
"""

from __future__ import annotations

import argparse
import re
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

ROOT = Path(__file__).resolve().parents[1]
BRIEF = ROOT / "examples" / "s2-brenlow-terrace.toml"
PLAN_TARGET_S, HELP_TARGET_S = 3.0, 0.4


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5)
    runs = parser.parse_args().runs
    subprocess.run([sys.executable, "-m", "compileall", "-q", str(ROOT / "src" / "bossage")], check=True)
    with tempfile.TemporaryDirectory() as folder:
        plan = ["-m", "bossage.cli", "plan", str(BRIEF), "--out", f"{folder}/out", "--quiet"]
        help_ = ["-m", "bossage.cli", "--help"]
        bare = median_s(["-c", "pass"], runs)
        print(f"bare interpreter            {bare:6.3f} s")
        report("bossage plan S2", plan, bare, runs, PLAN_TARGET_S)
        report("bossage --help", help_, bare, runs, HELP_TARGET_S)


def report(name: str, command: list[str], bare_s: float, runs: int, target_s: float) -> None:
    whole = median_s(command, runs)
    imports = import_s(command)
    verdict = "within" if whole <= target_s else "OVER"
    print(
        f"{name:<27} {whole:6.3f} s  {whole / bare_s:5.1f} × bare  imports {imports:.3f} s ({imports / whole:.0%})  "
        f"{verdict} {target_s:g} s"
    )


def median_s(command: list[str], runs: int) -> float:
    times = []
    for _ in range(runs):
        start = time.perf_counter()
        subprocess.run([sys.executable, *command], check=False, capture_output=True, cwd=ROOT)
        times.append(time.perf_counter() - start)
    return statistics.median(times)


def import_s(command: list[str]) -> float:
    """Seconds spent in imports: the sum of every module's own time, less those of a bare start."""
    return own_import_s(command) - own_import_s(["-c", "pass"])


def own_import_s(command: list[str]) -> float:
    run = subprocess.run([sys.executable, "-X", "importtime", *command], check=False, capture_output=True, cwd=ROOT)
    own = re.findall(rb"import time:\s+(\d+) \|", run.stderr)
    return sum(map(int, own)) / 1e6


if __name__ == "__main__":
    main()
