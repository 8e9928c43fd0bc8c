"""Every function of the package is run by some test, or is named with its reason: looked at where all tests are run.

`make test` runs them all, so it ends with 1 where a function is left over. Under CI nothing is looked at: the marks
take an eighth of the time, and a slower or quicker machine takes other ways. A part of the tests says nothing of the
rest, so nothing is looked at there either, nor where the first failure ends the run. A test that fails may have run
less than it would. What runs in a program of its own (`python -m bossage`) does not count.
"""

from __future__ import annotations

import os
from pathlib import Path
from typing import Any

import pytest

import bossage
from tests.ran import Marks, all_functions

PACKAGE = Path(bossage.__file__).parent
NAMED = Path(__file__).parent / "unrun.txt"


def named() -> dict[tuple[str, str], str]:
    """Functions that no test runs, by file and name, each with the reason."""
    lines = [line for line in NAMED.read_text(encoding="utf-8").splitlines() if line and not line.startswith("#")]
    parted = (line.partition(": ") for line in lines)
    return {(where.split()[0], where.split()[1]): reason for where, _, reason in parted}


def all_tests_are_run(config: Any) -> bool:
    """Whether this is `make test`, or a worker of it."""
    if hasattr(config, "workerinput"):
        return bool(config.workerinput.get("every_function"))
    part = config.option.markexpr or config.option.keyword or config.args_source is not config.ArgsSource.TESTPATHS
    return not part and os.environ.get("BOSSAGE_BROWSER") == "required" and not os.environ.get("CI")


class EveryFunction:
    """A plugin of pytest, on the controller and on each of its workers."""

    def __init__(self) -> None:
        self.marks = Marks(PACKAGE, lines=False)
        self.marks.watch()
        self.ran: set[tuple[str, str]] = set()
        self.left: list[tuple[str, str]] = []
        self.ended = False

    @pytest.hookimpl(optionalhook=True)
    def pytest_configure_node(self, node: Any) -> None:
        node.workerinput["every_function"] = True

    @pytest.hookimpl(optionalhook=True)
    def pytest_testnodedown(self, node: Any) -> None:
        self.ran |= {(file, name) for file, name in getattr(node, "workeroutput", {}).get("ran", ())}

    def pytest_sessionfinish(self, session: Any, exitstatus: int) -> None:
        self.ran |= {(file, str(name)) for file, name in self.marks.seen()}
        if hasattr(session.config, "workerinput"):
            session.config.workeroutput["ran"] = [list(place) for place in self.ran]
        elif exitstatus in (0, 1) and not session.shouldfail:
            self.ended = True
            self.left = sorted(all_functions(PACKAGE) - self.ran - set(named()))
            session.exitstatus = 1 if self.left else exitstatus

    def pytest_terminal_summary(self, terminalreporter: Any) -> None:
        if self.left:
            terminalreporter.section("functions that no test runs: test, take out, or name them in tests/unrun.txt")
            for file, name in self.left:
                terminalreporter.line(f"{file} {name}")
        if self.ended and (known := sorted(set(named()) & self.ran)):
            terminalreporter.section("functions that are run by now: take them out of tests/unrun.txt")
            for file, name in known:
                terminalreporter.line(f"{file} {name}")
