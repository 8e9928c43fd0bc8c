"""Ways to solve one problem as the rows of one table, tried in order; the table says what the code does, and why.

Which row runs depends on the problem alone. `docs/engines.md` is printed from these tables by `tools/engines.py`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Generic, TypeVar

Task = TypeVar("Task")
Answer = TypeVar("Answer")


@dataclass(frozen=True, slots=True, kw_only=True)
class Engine(Generic[Task, Answer]):
    """One row: what a reader is told, and what is run.

    Attributes:
        name: The method's name in the literature.
        module: Where its code is, below `src/bossage`.
        when: On which problems it runs, with the thresholds.
        why: What it does better there than the rows after it.
        proof: What its answer proves.
        source: Who described the method, or that it is our own.
        runs: Whether it runs on a task; asked when its turn has come.
        run: The method; None where it has no answer and the next row is asked.
    """

    name: str
    module: str
    when: str
    why: str
    proof: str
    source: str
    runs: Callable[[Task], bool]
    run: Callable[[Task], Answer | None]


def first_answer(engines: Sequence[Engine[Task, Answer]], task: Task) -> Answer | None:
    """The answer of the first engine that has one."""
    for engine in engines:
        if engine.runs(task):
            answer = engine.run(task)
            if answer is not None:
                return answer
    return None
