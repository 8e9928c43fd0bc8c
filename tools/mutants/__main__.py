"""Changes the code in small ways, a change at a time, and looks whether a test notices: which code no test looks at.

    python tools/mutants --map [tests/hang ...]      which test runs which line; once, and after larger changes
    python tools/mutants [--count 400] [--seed 1] [--room hang] [--jobs 2] [--most 60]

A mutant that no test notices is a survivor: either its line is not looked at, and wants a test, or the change changes
nothing. Each mutant is planted in a copy of the package, and its tests are run there until the first one fails. Ends
with 0: survivors are read by people.
"""

from __future__ import annotations

import argparse
import os
import random
import shutil
import subprocess
import sys
import tempfile
from collections import Counter
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from queue import Queue

from changes import Mutant, is_python, mutants_of
from tests_of import KEPT, PACKAGE, ROOT, Seen, make_map

WAIT_S = 30.0  # beyond three times what the tests take: loading, and a busy machine


def main() -> int:
    """Make the map, or plant mutants and say which survived."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--map", nargs="*", metavar="TESTS")
    parser.add_argument("--count", type=int, default=400)
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--room", action="append", help="a folder or a module of the package; may be given again")
    parser.add_argument("--jobs", type=int, default=os.cpu_count() or 1)
    parser.add_argument("--most", type=float, default=60.0, help="seconds of tests that a mutant is given")
    asked = parser.parse_args()
    if asked.map is not None or not KEPT.exists():
        make_map(asked.map or ["tests"], asked.jobs)
        if asked.map is not None:
            return 0
    seen = Seen()
    if seen.stale:
        print(
            f"Left out are {len(seen.stale)} modules that were changed since the map was made: {sorted(seen.stale)[:9]}"
        )
    if missing := seen.missing():
        print(f"The map lacks {len(missing)} files of tests: what only these run is called unseen. {missing[:9]}")
    chosen = _chosen(seen, asked.room, asked.count, random.Random(asked.seed))
    _report(_all_tried(chosen, seen, asked.jobs, asked.most), asked.seed)
    return 0


def _chosen(seen: Seen, rooms: list[str] | None, count: int, chance: random.Random) -> list[Mutant]:
    paths = [path for path in sorted(PACKAGE.rglob("*.py")) if _in(path, rooms)]
    names = {path: path.relative_to(PACKAGE).as_posix() for path in paths}
    there = [mutant for path in paths if names[path] not in seen.stale for mutant in mutants_of(PACKAGE, path)]
    chance.shuffle(there)
    whole = (m for m in there if is_python(m.source((PACKAGE / m.file).read_bytes())))
    return sorted((m for _, m in zip(range(count), whole, strict=False)), key=lambda m: (m.file, m.start))


def _in(path: Path, rooms: list[str] | None) -> bool:
    name = path.relative_to(PACKAGE).as_posix()
    return rooms is None or any(name == f"{room}.py" or name.startswith(f"{room}/") for room in rooms)


def _all_tried(mutants: list[Mutant], seen: Seen, jobs: int, most_s: float) -> list[tuple[Mutant, str]]:
    with tempfile.TemporaryDirectory(prefix="bossage-mutants-") as folder, ThreadPoolExecutor(jobs) as several:
        copies: Queue[Path] = Queue()
        for number in range(jobs):
            copies.put(_copy(Path(folder) / str(number)))

        def tried(mutant: Mutant) -> tuple[Mutant, str]:
            copy = copies.get()
            try:
                fate = _fate(mutant, copy, seen, most_s)
            finally:
                copies.put(copy)
            print("." if fate == "killed" else f"\n{fate}: {mutant.words()}\n", end="", flush=True)
            return mutant, fate

        found = list(several.map(tried, mutants))
        print()
        return found


def _copy(place: Path) -> Path:
    """The package once more, its code copied and what it carries linked."""
    package = place / "bossage"
    package.mkdir(parents=True)
    for entry in PACKAGE.iterdir():
        if entry.name.startswith("_") and entry.is_dir() and entry.name != "__pycache__":
            (package / entry.name).symlink_to(entry)
        elif entry.is_dir():
            shutil.copytree(entry, package / entry.name)
        else:
            shutil.copy2(entry, package / entry.name)
    return place


def _fate(mutant: Mutant, copy: Path, seen: Seen, most_s: float) -> str:
    """`killed`, `survived`, or `unseen` where no test runs its line."""
    tests = seen.tests_for(mutant, most_s)
    if not tests:
        return "unseen"
    target, original = copy / "bossage" / mutant.file, (PACKAGE / mutant.file).read_bytes()
    for compiled in (target.parent / "__pycache__").glob(f"{target.stem}.*.pyc"):
        compiled.unlink()
    target.write_bytes(mutant.source(original))
    # what is compiled is not kept: two mutants of one second and one size would be taken for each other
    env = {**os.environ, "PYTHONPATH": f"{copy}{os.pathsep}{ROOT}", "PYTHONDONTWRITEBYTECODE": "1"}
    call = [sys.executable, "-m", "pytest", "-q", "-x", "--hypothesis-seed=1", *tests]
    try:
        longest_s = 3 * most_s + WAIT_S
        done = subprocess.run(call, cwd=ROOT, env=env, capture_output=True, timeout=longest_s, check=False)
        return "survived" if done.returncode == 0 else "killed"
    except subprocess.TimeoutExpired:
        return "killed"
    finally:
        target.write_bytes(original)


def _report(found: list[tuple[Mutant, str]], seed: int) -> None:
    """A line for each room, then every survivor."""
    rooms: dict[str, Counter[str]] = {}
    for mutant, fate in found:
        rooms.setdefault(mutant.file.split("/")[0], Counter())[fate] += 1
    print(f"\n{'room':<16} {'planted':>8} {'killed':>8} {'survived':>9} {'unseen':>7}")
    for room, fates in (*sorted(rooms.items()), ("all", sum(rooms.values(), Counter()))):
        print(f"{room:<16} {fates.total():>8} {fates['killed']:>8} {fates['survived']:>9} {fates['unseen']:>7}")
    for mutant, fate in found:
        if fate != "killed":
            print(f"{fate}: {mutant.words()}")
    print(f"{len(found)} mutants, seed {seed}")


if __name__ == "__main__":
    sys.exit(main())
