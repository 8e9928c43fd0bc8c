"""Print `docs/engines.md` from the tables of engines that the code runs.

python tools/engines.py           print it
python tools/engines.py --write   write it
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from bossage.engines import Engine
from bossage.relief import solve
from bossage.relief.problem.records import HeightProblem, Solved, plain_grid, quotas_from_weights
from bossage.saw.boards import plan as boards
from bossage.saw.contents import choose
from bossage.saw.money import search as money
from bossage.saw.settings import search as settings

PAGE = Path(__file__).resolve().parent.parent / "docs" / "engines.md"
TABLES: tuple[tuple[str, str, str, Sequence[Engine[Any, Any]]], ...] = (
    ("Heights", "Which level has each block?", "relief/solve.py", solve.ENGINES),
    ("Money", "Which sticks are bought?", "saw/money/search.py", money.ENGINES),
    ("Contents", "What lies in which stick, once the sticks are given?", "saw/contents/choose.py", choose.ENGINES),
    ("Settings", "How few settings do at that money?", "saw/settings/search.py", settings.ENGINES),
    ("Boards", "What lies on which board?", "saw/boards/plan.py", boards.ENGINES),
)


def page() -> str:
    """The whole page."""
    return "\n".join([*_opening(), *(line for table in TABLES for line in _section(*table)), *_examples()]) + "\n"


def _opening() -> Iterator[str]:
    yield "# Which engine runs, and why"
    yield ""
    yield "This page is printed by `tools/engines.py` from the tables that the code runs; a test holds it to them. In"
    yield "each table the rows are asked from the first one down. A row runs where its condition holds, and the first"
    yield "answer counts. Which row answers depends on the problem alone, never on the machine. The thresholds are in"
    yield "`src/bossage/relief/problem/limits.py` and `src/bossage/saw/job/limits.py`. Years name the publication."


def _section(title: str, question: str, module: str, engines: Sequence[Engine[Any, Any]]) -> Iterator[str]:
    yield from ("", f"## {title}", "", f"{question} The table is `ENGINES` in `src/bossage/{module}`.")
    for number, engine in enumerate(engines, start=1):
        yield from ("", f"### {number}. {engine.name}", "")
        yield f"- Code: {', '.join(f'`src/bossage/{name}`' for name in engine.module.split(', '))}"
        yield f"- Runs on: {engine.when}"
        yield f"- Why: {engine.why}"
        yield f"- Proves: {engine.proof}"
        yield f"- Source: {engine.source}"


def cases() -> Iterator[tuple[str, HeightProblem]]:
    """Problems that show which row of the heights answers."""

    def grid(side: int, levels: int, *, diagonal: bool = False, min_step: int = 1) -> HeightProblem:
        quotas = quotas_from_weights(side * side, [1] * levels)
        return plain_grid(side, side, quotas, diagonal=diagonal, min_step=min_step)

    yield "6 × 6 blocks, 7 levels, corners must differ too", grid(6, 7, diagonal=True)
    yield "6 × 6 blocks, 4 levels, corners must differ too", grid(6, 4, diagonal=True)
    yield "50 × 50 blocks, 7 levels, neighbours differ", grid(50, 7)
    yield "50 × 50 blocks, 7 levels, corners must differ too", grid(50, 7, diagonal=True)
    yield "a mosaic, or any other graph that is no plain grid", replace(grid(12, 6), grid=None)


def _examples() -> Iterator[str]:
    yield from ("", "## Examples of heights", "", "| problem | answered by |", "| --- | --- |")
    for words, problem in cases():
        answer = solve.solve_heights(problem)
        assert isinstance(answer, Solved)
        yield f"| {words} | {SAID[answer.report.engine]} |"


SAID = {
    "bits": "bit-parallel swaps",
    "classes": "checkerboard updating",
    "tabu": "tabu search over swaps",
    "stripes": "stripes",
    "bands": "bands of levels",
    "chess": "chessboards",
    "cp-sat": "constraint programming",
}


if __name__ == "__main__":
    if "--write" in sys.argv:
        PAGE.write_text(page(), encoding="utf-8")
    else:
        print(page(), end="")
