"""What differs between systems, with Windows faked where it can be."""

from __future__ import annotations

import errno
import io
import json
import os
import runpy
import secrets
import signal
import socket
import subprocess
import sys
import unicodedata
from pathlib import Path
from typing import Any

import pytest

from bossage import __main__ as program
from bossage import cli, fonts_machine, system
from bossage.cli import main
from bossage.exchange import undo_left_over
from bossage.files import why


@pytest.fixture
def windows(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(system, "POSIX", False)


@pytest.fixture
def frozen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "frozen", True, raising=False)


def test_a_program_of_our_own_is_a_module_where_there_is_python() -> None:
    for module in system.PROGRAMS:
        assert system.own_program(module, "a b") == [sys.executable, "-m", module, "a b"]
        assert Path(*module.split(".")).with_suffix(".py") in {
            path.relative_to(Path(system.__file__).parents[1]) for path in Path(system.__file__).parent.rglob("*.py")
        }
    with pytest.raises(ValueError, match="os"):
        system.own_program("os")


@pytest.mark.usefixtures("frozen")
def test_a_frozen_program_runs_its_own_programs_and_no_other(monkeypatch: pytest.MonkeyPatch) -> None:
    ran: list[tuple[str, list[str], str]] = []
    monkeypatch.setattr(runpy, "run_module", lambda name, run_name, alter_sys: ran.append((name, sys.argv, run_name)))
    monkeypatch.setattr(sys, "argv", ["bossage"])
    (called, *words) = system.own_program("bossage.pack.typeset", "root", "made.pdf")
    assert called == sys.executable
    assert program.start(words) == 0
    assert ran == [("bossage.pack.typeset", ["bossage.pack.typeset", "root", "made.pdf"], "__main__")]
    for other in ([], ["plan"], [words[0]], [words[0], "os"], ["-m", "bossage.pack.typeset"]):
        assert not system.run_own(other)
    assert len(ran) == 1


def test_where_there_is_python_the_word_of_a_frozen_program_is_no_command(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    with monkeypatch.context() as inside:
        inside.setattr(sys, "frozen", True, raising=False)
        words = system.own_program("bossage.pack.typeset")[1:]
    assert program.start(words) == cli.FAULTY
    assert "bossage --help" in capsys.readouterr().err


class Terminal(io.StringIO):
    """A window in which somebody may type."""

    def isatty(self) -> bool:
        return True


@pytest.mark.usefixtures("frozen")
@pytest.mark.parametrize(("words", "asked"), [([], 1), (["pieces"], 0)])
def test_a_window_that_a_double_click_opened_stays_where_the_start_failed(
    monkeypatch: pytest.MonkeyPatch, words: list[str], asked: int
) -> None:
    pressed: list[str] = []
    monkeypatch.setattr(cli, "main", lambda words: cli.NOT_WRITTEN)
    monkeypatch.setattr(sys, "stdin", Terminal())
    monkeypatch.setattr("builtins.input", lambda said: pressed.append(said) or "")
    assert program.start(words) == cli.NOT_WRITTEN
    assert len(pressed) == asked
    monkeypatch.setattr(cli, "main", lambda words: cli.PLANNED)
    assert program.start(words) == cli.PLANNED
    monkeypatch.setattr(sys, "stdin", None)
    monkeypatch.setattr(cli, "main", lambda words: cli.NOT_WRITTEN)
    assert program.start(words) == cli.NOT_WRITTEN
    assert len(pressed) == asked


@pytest.mark.parametrize(
    ("found", "left"),
    [
        ({}, {}),
        ({"LD_LIBRARY_PATH": "ours"}, {}),
        ({"LD_LIBRARY_PATH": "ours", "LD_LIBRARY_PATH_ORIG": "theirs"}, {"LD_LIBRARY_PATH": "theirs"}),
        ({"LD_LIBRARY_PATH": "ours", "LD_LIBRARY_PATH_ORIG": ""}, {}),
    ],
)
def test_what_is_started_finds_the_libraries_of_the_system(found: dict[str, str], left: dict[str, str]) -> None:
    found["LANG"] = "C"
    system.give_back_libraries(found)
    assert found == {**left, "LANG": "C"}


@pytest.mark.skipif(os.name != "posix", reason="groups of POSIX")
def test_a_program_ends_with_all_that_it_started() -> None:
    script = "import subprocess, sys; print(subprocess.Popen(['sleep', '60']).pid, flush=True); sys.stdin.read()"
    process = system.start_in_group([sys.executable, "-c", script], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
    assert process.stdin is not None
    assert process.stdout is not None
    with process:
        child = int(process.stdout.readline())
        assert system.is_alive(child)
        system.end_group(process)
        assert process.wait(10) == -signal.SIGKILL
        assert process.stdout.read() == b""  # nobody holds the pipe any more
    system.end_group(process)  # twice does no harm


@pytest.mark.usefixtures("windows")
def test_windows_is_asked_to_end_a_tree_of_programs(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[Any] = []

    class Process:
        pid = 4711

        def kill(self) -> None:
            asked.append("kill")

    monkeypatch.setattr(subprocess, "run", lambda call, **options: asked.append(call))
    system.end_group(Process())  # type: ignore[arg-type]
    assert asked == [["taskkill", "/F", "/T", "/PID", "4711"], "kill"]

    def refuse(call: list[str], **options: Any) -> None:
        raise FileNotFoundError

    asked.clear()
    monkeypatch.setattr(subprocess, "run", refuse)
    system.end_group(Process())  # type: ignore[arg-type]
    assert asked == ["kill"]
    system.end_rest_of_group()  # asks nothing of a system without groups


class Kernel:
    """As much of Windows as is asked whether a process runs: handle 0 for none, what waiting for it says."""

    def __init__(self, handle: int, waited: int = 0) -> None:
        self.handle, self.waited, self.closed = handle, waited, 0

        def open_process(rights: int, inherit: bool, number: int) -> int:
            assert (rights, inherit, number) == (0x0010_0000, False, 4711)
            return self.handle

        self.OpenProcess = open_process

    def WaitForSingleObject(self, handle: Any, wait_ms: int) -> int:
        assert (handle.value, wait_ms) == (self.handle, 0)
        return self.waited

    def CloseHandle(self, handle: Any) -> None:
        self.closed += 1


@pytest.mark.usefixtures("windows")
@pytest.mark.parametrize(
    ("kernel", "error", "alive"),
    [(Kernel(8, 0x102), 0, True), (Kernel(8, 0), 0, False), (Kernel(0), 5, True), (Kernel(0), 87, False)],
)
def test_windows_tells_whether_a_process_runs(
    monkeypatch: pytest.MonkeyPatch, kernel: Kernel, error: int, alive: bool, tmp_path: Path
) -> None:
    monkeypatch.setattr("ctypes.WinDLL", lambda name, use_last_error: kernel, raising=False)
    monkeypatch.setattr("ctypes.get_last_error", lambda: error, raising=False)
    monkeypatch.setattr(os, "kill", lambda *_: pytest.fail("that ends the process there"))
    assert system.is_alive(4711) is alive
    assert kernel.closed == bool(kernel.handle)
    # an exchange of papers that another program is in the middle of is not undone
    hidden = tmp_path / f".bossage-new-4711-{secrets.token_hex(4)}"
    hidden.mkdir()
    (hidden / "steps.json").write_text(json.dumps({"away": {}, "fresh": []}))
    undo_left_over(tmp_path)
    assert hidden.exists() is alive


@pytest.mark.skipif(os.name != "posix", reason="asks by a signal of POSIX")
def test_a_process_that_has_ended_is_not_alive(monkeypatch: pytest.MonkeyPatch) -> None:
    assert system.is_alive(os.getpid())
    ended = subprocess.Popen([sys.executable, "-c", ""])
    ended.wait()
    assert not system.is_alive(ended.pid)

    def forbid(number: int, signal: int) -> None:
        raise PermissionError

    monkeypatch.setattr(os, "kill", forbid)
    assert system.is_alive(1)


def test_on_macos_bytes_are_flushed_past_the_memory_of_the_drive(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    fcntl = pytest.importorskip("fcntl")
    asked: list[object] = []
    monkeypatch.setattr(os, "fsync", lambda handle: asked.append("fsync"))
    monkeypatch.setattr(fcntl, "F_FULLFSYNC", 51, raising=False)
    monkeypatch.setattr(fcntl, "fcntl", lambda handle, command: asked.append(command))
    with (tmp_path / "a").open("wb") as file:
        system.flush(file.fileno())
        assert asked == [51]

        def refuse(handle: int, command: int) -> None:
            raise OSError(errno.ENOTSUP, "not here")

        monkeypatch.setattr(fcntl, "fcntl", refuse)
        system.flush(file.fileno())
        monkeypatch.setattr(system, "POSIX", False)
        system.flush(file.fileno())
    assert asked == [51, "fsync", "fsync"]


class Listener:
    """A socket that remembers what it was asked."""

    def setsockopt(self, level: int, option: int, value: int) -> None:
        self.asked = (level, option, value)


@pytest.mark.parametrize(("posix", "option"), [(True, socket.SO_REUSEADDR), (False, ~socket.SO_REUSEADDR)])
def test_no_two_workbenches_get_one_port(monkeypatch: pytest.MonkeyPatch, posix: bool, option: int) -> None:
    monkeypatch.setattr(system, "POSIX", posix)
    listener = Listener()
    system.claim_port(listener)  # type: ignore[arg-type]
    assert listener.asked == (socket.SOL_SOCKET, option, 1)


def test_a_file_that_windows_holds_for_another_program_is_said_to_be_open_there() -> None:
    fault = PermissionError(errno.EACCES, "The process cannot access the file", "pack.pdf")
    assert "may not write" in why(fault)
    fault.winerror = 32  # type: ignore[attr-defined, unused-ignore]
    assert "another program has that file open" in why(fault)


def test_a_reader_that_has_left_is_no_fault_on_windows_either(monkeypatch: pytest.MonkeyPatch) -> None:
    gone, faulty = OSError(errno.EINVAL, "Invalid argument"), OSError(errno.EINVAL, "Invalid argument", "b.toml")
    assert system.reader_has_left(BrokenPipeError())
    assert not system.reader_has_left(gone)
    monkeypatch.setattr(system, "POSIX", False)
    assert system.reader_has_left(gone)
    assert not system.reader_has_left(faulty)
    monkeypatch.setattr("bossage.cli_rim._let_go_of", lambda stream: None)

    def leave(words: object, **options: object) -> int:
        raise gone

    monkeypatch.setattr(cli, "app", leave)
    assert main(["schema"]) == cli.PLANNED


def test_a_program_without_a_window_has_no_streams(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "stdout", None)
    monkeypatch.setattr(sys, "stderr", None)
    assert main(["pieces", "--store", os.devnull + "/none", "--quiet"]) == cli.FAULTY
    assert main(["example", "--quiet"]) == cli.PLANNED


def test_fonts_are_looked_for_where_the_system_says_they_are(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    names = {
        "$WINDIR/Fonts": "msyh.ttc",
        "$LOCALAPPDATA/Microsoft/Windows/Fonts": "NotoSansKR-Regular.ttf",
        "$XDG_DATA_HOME/fonts": unicodedata.normalize("NFD", "ヒラギノ角ゴシック W3.ttc"),
    }
    for number, (folder, name) in enumerate(names.items()):
        variable = folder[1:].split("/", 1)[0]
        monkeypatch.setenv(variable, str(tmp_path / str(number)))
        at = Path(os.path.expandvars(folder))
        at.mkdir(parents=True)
        (at / name).touch()
        (at / "msyh-Bold.ttc").touch()
    monkeypatch.setattr(fonts_machine, "_FOLDERS", [one for one in fonts_machine._FOLDERS if one.startswith("$")])
    fonts_machine.machine_fonts.cache_clear()
    try:
        found = {path.name for path in fonts_machine.machine_fonts()}
    finally:
        fonts_machine.machine_fonts.cache_clear()
    assert found == set(names.values())
