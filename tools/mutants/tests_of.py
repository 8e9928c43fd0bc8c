"""Which tests run which lines: a map made once by running each file of tests in a process of its own.

What a file of tests keeps for all its tests is worked out by the first of them. So each file is run by itself, and
where one test of a file runs a line, all quick tests of that file are asked.
"""

from __future__ import annotations

import ast
import gzip
import hashlib
import json
import os
import subprocess
import sys
import tempfile
from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Lock
from typing import Any

from changes import Mutant

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = ROOT / "src" / "bossage"
KEPT = ROOT / "out" / "mutants" / "seen.json.gz"
QUICK_S = 1.0
LEFT_OUT = ("tests/ui/", "tests/test_house.py")  # a browser; what looks at the text of the code


class Seen:
    """The map as it was kept: by file of tests the modules as they were (`modules`), and its tests (`tests`)."""

    def __init__(self) -> None:
        self.files: dict[str, dict[str, Any]] = {}
        if KEPT.exists():
            self.files = json.loads(gzip.decompress(KEPT.read_bytes()))
        now = fingerprints()
        #: Modules that were changed since some file of tests was run.
        self.stale = {
            file
            for entry in self.files.values()
            for file, then in entry["modules"].items()
            if file in now and now[file] != then
        }

    def missing(self) -> list[str]:
        """Files of tests that the map knows nothing of."""
        return [file for file in _files(ROOT / "tests") if file not in self.files]

    def tests_for(self, mutant: Mutant, most_s: float) -> list[str]:
        """The tests that run a mutant's line, the quickest first, as many as fit into a time; and their neighbours."""
        lines, direct = self._lines_of(mutant), dict[str, float]()
        near = dict[str, float]()
        for tests in (entry["tests"] for entry in self.files.values()):
            those = {name: test["took_s"] for name, test in tests.items() if name}
            ran = [name for name in those if lines & set(tests[name]["lines"].get(mutant.file, ()))]
            direct |= {name: those[name] for name in ran}
            if ran:
                near |= {name: s for name, s in those.items() if s <= QUICK_S}
        chosen: list[str] = []
        taken_s = 0.0
        for name, took_s in (*sorted(direct.items(), key=_time), *sorted(near.items(), key=_time)):
            if name not in chosen and (not chosen or taken_s + took_s <= most_s):
                chosen.append(name)
                taken_s += took_s
        return chosen

    def _lines_of(self, mutant: Mutant) -> set[int]:
        """The lines by which a mutant is noticed: its statement's, or, where it runs at import, those that use it."""
        tree = ast.parse((PACKAGE / mutant.file).read_bytes())
        inner = [s for s in ast.walk(tree) if isinstance(s, ast.stmt) and _spans(s, mutant.line)]
        statement = max(inner, key=lambda s: s.lineno, default=None)
        function = any(isinstance(s, ast.FunctionDef | ast.AsyncFunctionDef) for s in inner if s is not statement)
        if statement is not None and function:
            return {statement.lineno}
        return {s.lineno for s in ast.walk(tree) if isinstance(s, ast.stmt)}


def make_map(paths: Iterable[str], jobs: int) -> None:
    """Run files of tests and keep which lines they ran; files that were not asked for keep what they had."""
    files = sorted({file for path in paths for file in _files(ROOT / path)})
    kept, modules, lock = Seen().files, fingerprints(), Lock()

    def run(file: str) -> None:
        with tempfile.TemporaryDirectory() as folder:
            out = Path(folder) / "seen.json"
            call = [sys.executable, "-m", "pytest", "-p", "seen", file]
            places = os.pathsep.join(map(str, (ROOT / "src", ROOT, Path(__file__).resolve().parent)))
            env = {**os.environ, "BOSSAGE_SEEN": str(out), "PYTHONPATH": places}
            done = subprocess.run(call, cwd=ROOT, env=env, capture_output=True, text=True, check=False)
            closing = ((done.stdout.strip() or done.stderr.strip()).splitlines() or ["nothing was run"])[-1]
            found = json.loads(out.read_text(encoding="utf-8")) if out.exists() else {}
        print(f"  {file}: {closing}", flush=True)
        with lock:  # each as it comes, so that a map that was broken off is there as far as it went
            ran = {module for test in found.values() for module in test["lines"]}
            kept[file] = {"modules": {module: modules[module] for module in sorted(ran)}, "tests": found}
            body = json.dumps(kept, separators=(",", ":"))
            KEPT.parent.mkdir(parents=True, exist_ok=True)
            passing = KEPT.with_suffix(".new")
            passing.write_bytes(gzip.compress(body.encode(), compresslevel=1, mtime=0))
            passing.replace(KEPT)

    with ThreadPoolExecutor(jobs) as several:
        list(several.map(run, files))


def fingerprints() -> dict[str, str]:
    """A short sum of every module's text."""
    paths = sorted(PACKAGE.rglob("*.py"))
    return {p.relative_to(PACKAGE).as_posix(): hashlib.sha256(p.read_bytes()).hexdigest()[:16] for p in paths}


def _files(path: Path) -> list[str]:
    found = sorted(path.rglob("test_*.py")) if path.is_dir() else [path]
    names = [file.relative_to(ROOT).as_posix() for file in found]
    return [name for name in names if not name.startswith(LEFT_OUT)]


def _spans(statement: ast.stmt, line: int) -> bool:
    return statement.lineno <= line <= (statement.end_lineno or statement.lineno)


def _time(test: tuple[str, float]) -> tuple[float, str]:
    return test[1], test[0]
