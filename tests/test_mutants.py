"""What looks for code without tests: each kind of change is planted; what ran is told from what did not."""

from __future__ import annotations

import importlib
import sys
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from tools.mutants.changes import is_python, mutants_of

from tests import every_function
from tests.every_function import PACKAGE, EveryFunction, all_tests_are_run, named
from tests.ran import Finder, Marks, all_functions

CODE = '''"""A module."""
from __future__ import annotations

MOST = 7


def bent(load: float, *, stiff: bool = False) -> float:
    """A docstring, 3 times."""
    if load > MOST and not stiff:
        raise ValueError(f"{load + 1} is too much")
    return min(load / 2.0, 4 + load)


class Beam:
    span: int = 5

    def half(self) -> int:
        return self.span // 2 if self.span in (2, 4) else 0

    def idle(self):
        ...
'''


def test_every_kind_of_change_is_planted_and_is_still_python(tmp_path: Path) -> None:
    path = tmp_path / "beams.py"
    path.write_text(CODE, encoding="utf-8")
    found = {(m.line, m.kind, m.before, m.after) for m in mutants_of(tmp_path, path)}
    assert found == {
        (4, "constant", "7", "8"),
        (7, "constant", "False", "True"),
        (9, "connective", "load > MOST and not stiff", "(load > MOST or not stiff)"),
        (9, "comparison", "load > MOST", "(load >= MOST)"),
        (9, "dropped not", "not stiff", "(stiff)"),
        (10, "dropped raise", 'raise ValueError(f"{load + 1} is too much")', "pass"),
        (11, "returned default", "min(load / 2.0, 4 + load)", "0.0"),
        (11, "extreme", "min", "max"),
        (11, "arithmetic", "load / 2.0", "(load * 2.0)"),
        (11, "constant", "2.0", "2.1"),
        (11, "arithmetic", "4 + load", "(4 - load)"),
        (11, "constant", "4", "5"),
        (15, "constant", "5", "6"),
        (18, "returned default", "self.span // 2 if self.span in (2, 4) else 0", "0"),
        (18, "arithmetic", "self.span // 2", "(self.span * 2)"),
        (18, "constant", "2", "3"),
        (18, "comparison", "self.span in (2, 4)", "(self.span not in (2, 4))"),
        (18, "constant", "4", "5"),
        (18, "constant", "0", "1"),
    }
    for mutant in mutants_of(tmp_path, path):
        source = mutant.source(path.read_bytes())
        assert is_python(source)
        assert source != path.read_bytes()


@pytest.mark.parametrize("lines", [False, True])
def test_what_ran_is_told_from_what_did_not(lines: bool, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    package = tmp_path / "girders"
    package.mkdir()
    (package / "__init__.py").write_text("")
    (package / "beams.py").write_text(CODE, encoding="utf-8")
    monkeypatch.syspath_prepend(str(tmp_path))
    marks = Marks(package, lines=lines)
    monkeypatch.setattr(sys, "meta_path", [Finder(marks), *sys.meta_path])
    monkeypatch.setattr("builtins.__ran__", marks.hit, raising=False)
    beams = importlib.import_module("girders.beams")
    at_import = marks.seen()
    marks.wipe()
    assert beams.bent(3.0) == 1.5
    after = marks.seen()
    with pytest.raises(ValueError, match=r"9\.0 is too much"):
        beams.bent(8.0)
    raised = marks.seen()
    if lines:
        assert {line for _, line in at_import} == {4, 7, 14, 15, 17, 20}
        assert after == {("beams.py", line) for line in (9, 11)}
        assert raised - after == {("beams.py", 10)}
    else:
        assert at_import == set()
        assert raised == after == {("beams.py", "bent")}
        assert all_functions(package) == {("beams.py", "bent"), ("beams.py", "Beam.half")}
    for name in ("girders", "girders.beams"):
        sys.modules.pop(name, None)


def test_functions_that_no_test_runs_are_there_and_say_why() -> None:
    assert set(named()) <= all_functions(PACKAGE)
    assert all(len(reason) > 10 for reason in named().values())


def over(
    ran: set[tuple[str, str]], config: Any, exitstatus: int = 0, shouldfail: bool | str = False
) -> tuple[EveryFunction, Any]:
    """The plugin at the end of a session in which these functions ran."""
    plugin = object.__new__(EveryFunction)
    plugin.ran, plugin.left, plugin.ended = set(), [], False
    plugin.marks = SimpleNamespace(seen=lambda: ran)
    session = SimpleNamespace(config=config, exitstatus=exitstatus, shouldfail=shouldfail)
    plugin.pytest_sessionfinish(session, exitstatus)
    return plugin, session


def test_a_function_that_no_worker_ran_ends_the_session_with_1(monkeypatch: pytest.MonkeyPatch) -> None:
    one, *others = sorted(all_functions(PACKAGE))
    monkeypatch.setattr(every_function, "named", dict)
    plugin, session = over(set(others), SimpleNamespace())
    assert (plugin.left, session.exitstatus) == ([one], 1)
    lines: list[str] = []
    plugin.pytest_terminal_summary(SimpleNamespace(section=lines.append, line=lines.append))
    assert lines[1:] == [" ".join(one)]
    assert over({one, *others}, SimpleNamespace())[1].exitstatus == 0
    # where a test failed the rest is told all the same, for all of them take long
    plugin, session = over(set(others), SimpleNamespace(), exitstatus=1)
    assert (plugin.left, session.exitstatus) == ([one], 1)
    assert over({one, *others}, SimpleNamespace(), exitstatus=1)[1].exitstatus == 1
    # but a run that ended early says nothing of what it did not come to
    assert over(set(), SimpleNamespace(), exitstatus=2)[0].left == []
    assert over(set(), SimpleNamespace(), exitstatus=1, shouldfail="stopping after 1 failures")[0].left == []
    monkeypatch.setattr(every_function, "named", lambda: {one: "a reason"})
    assert over(set(others), SimpleNamespace())[1].exitstatus == 0
    # one that is named and runs all the same is said, which ends nothing
    plugin, session = over({one, *others}, SimpleNamespace())
    lines.clear()
    plugin.pytest_terminal_summary(SimpleNamespace(section=lines.append, line=lines.append))
    assert (session.exitstatus, lines[1:]) == (0, [" ".join(one)])


def test_workers_tell_the_controller_what_ran() -> None:
    worker = SimpleNamespace(workerinput={"every_function": True}, workeroutput={})
    over({("a.py", "b")}, worker)
    assert all_tests_are_run(worker)
    plugin = object.__new__(EveryFunction)
    plugin.ran = {("c.py", "d")}
    plugin.pytest_testnodedown(SimpleNamespace(workeroutput=worker.workeroutput))
    assert plugin.ran == {("a.py", "b"), ("c.py", "d")}
    plugin.pytest_testnodedown(SimpleNamespace())  # one that was killed has nothing to tell
    told = SimpleNamespace(workerinput={})
    plugin.pytest_configure_node(told)
    assert told.workerinput == {"every_function": True}


@pytest.mark.parametrize(
    ("change", "whole"),
    [({}, True), ({"markexpr": "not slow"}, False), ({"keyword": "saw"}, False), ({"source": "args"}, False)],
)
def test_only_where_all_tests_are_run_is_anything_left_over(
    change: dict[str, str], whole: bool, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked = {"markexpr": "", "keyword": "", "source": "testpaths", **change}
    config = SimpleNamespace(
        option=SimpleNamespace(markexpr=asked["markexpr"], keyword=asked["keyword"]),
        args_source=asked["source"],
        ArgsSource=SimpleNamespace(TESTPATHS="testpaths"),
    )
    monkeypatch.setenv("BOSSAGE_BROWSER", "required")
    monkeypatch.delenv("CI", raising=False)
    assert all_tests_are_run(config) is whole
    monkeypatch.setenv("CI", "true")
    assert not all_tests_are_run(config)
    monkeypatch.delenv("CI")
    monkeypatch.delenv("BOSSAGE_BROWSER")
    assert not all_tests_are_run(config)
