"""Whatever happens to a command ends in a sentence and an exit code that says whose it is."""

from __future__ import annotations

import os
import signal
import sqlite3
import subprocess
import sys
import time
from pathlib import Path

import pytest

from bossage import cli
from bossage.cli import main
from bossage.cli_rim import DONE, FAULTY, MACHINE, OUR_FAULT, STOPPED
from bossage.errors import OurFault

ROOT = Path(__file__).parents[1]
FIRST = ROOT / "examples" / "first.toml"
TERRACE = ROOT / "examples" / "s2-brenlow-terrace.toml"


def _run(*words: str, encoding: str = "utf-8", **kept: object) -> subprocess.CompletedProcess[bytes]:
    run = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path), "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"}
    run["LC_ALL"] = "C"
    call = [sys.executable, "-m", "bossage.cli", *words]
    return subprocess.run(call, env=run, check=False, timeout=120, **{"capture_output": True, **kept})


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "cp437", "latin-1", "cp932"])
def test_every_letter_finds_its_way_to_a_screen_that_has_few(encoding: str, tmp_path: Path) -> None:
    brief = tmp_path / "b.toml"
    brief.write_text(FIRST.read_text(encoding="utf-8").replace('"moss"', '"зелёный"'), encoding="utf-8")
    for words in (["check", str(brief)], ["sizes", str(brief)], ["example"], ["schema"], ["--help"]):
        done = _run(*words, encoding=encoding)
        assert done.returncode in (0, 1), done.stderr
        assert b"Traceback" not in done.stderr
        assert done.stdout.decode(encoding)


@pytest.mark.skipif(not Path("/dev/full").exists(), reason="only Linux has a disk that is always full")
def test_a_full_disk_under_the_output_is_the_machines() -> None:
    with open("/dev/full", "wb") as full:
        done = _run("check", str(FIRST), stdout=full, stderr=subprocess.PIPE, capture_output=False)
    assert done.returncode == MACHINE
    assert done.stderr.decode().strip() == "The output cannot be written: the disk is full."


def test_a_reader_that_has_left_is_no_fault() -> None:
    read, write = os.pipe()
    os.close(read)
    done = _run("schema", stdout=write, stderr=subprocess.PIPE, capture_output=False)
    os.close(write)
    assert (done.returncode, done.stderr) == (DONE, b"")


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["open", "--port", "99999"], "65535"),
        (["open", "--port", "-1"], "0"),
        (["read-card", "x.toml", "--brief", str(TERRACE), "--corners", "nan"], "no file x.toml"),
        (["check", "/dev/zero"], "goes on past"),
    ],
)
def test_words_that_make_no_sense_are_the_makers(
    words: list[str], said: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(words) == FAULTY
    assert said in capsys.readouterr().err


@pytest.mark.parametrize(
    "option", [["--corners", "nan,1,2,3,4,5,6,7"], ["--greys", "88,inf"], ["--paper", "nan"], ["--greys", "200"]]
)
def test_numbers_that_are_none_are_said(option: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from PIL import Image

    photo = tmp_path / "photo.png"
    Image.new("RGB", (80, 60), (200, 200, 200)).save(photo)
    assert main(["read-card", str(photo), "--brief", str(TERRACE), *option]) == FAULTY
    assert option[0] in capsys.readouterr().err


@pytest.mark.parametrize("day", ["2026-02-30", "9999-12-31", "2026-13-01", "1812-01-01", "20261301", "2026-2-3"])
def test_a_day_that_the_calendar_has_not_is_a_fault_of_the_brief(
    day: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    brief = tmp_path / "b.toml"
    brief.write_text(FIRST.read_text().replace('unit = "mm"', f'unit = "mm"\ndate = "{day}"'))
    assert main(["check", str(brief)]) == FAULTY
    assert "piece.date" in capsys.readouterr().err


def test_a_fault_of_ours_has_its_own_code_three_sentences_and_a_file_to_send(
    monkeypatch: pytest.MonkeyPatch, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))

    def break_down(words: object, **options: object) -> int:
        raise ZeroDivisionError("a thing of ours")

    monkeypatch.setattr(cli, "app", break_down)
    assert main(["check", "b.toml"]) == OUR_FAULT
    said = capsys.readouterr().err
    assert len([line for line in said.splitlines() if line]) == 3
    assert "Traceback" not in said
    assert "ZeroDivisionError" not in said
    (report,) = tmp_path.glob("bossage-fault-*.txt")
    assert str(report) in said
    assert "ZeroDivisionError: a thing of ours" in report.read_text()
    assert "check b.toml" in report.read_text()


@pytest.mark.parametrize(
    ("raised", "code"),
    [
        (OurFault("A paper could not be set.", "unknown variable"), OUR_FAULT),
        (sqlite3.DatabaseError("file is not a database"), MACHINE),
        (OSError(28, "No space left on device"), MACHINE),
        (MemoryError(), MACHINE),
        (KeyboardInterrupt(), STOPPED),
    ],
)
def test_each_thing_is_said_to_be_whose_it_is(
    raised: BaseException,
    code: int,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    tmp_path: Path,
) -> None:
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    monkeypatch.setattr("bossage.cli_rim._let_go_of", lambda stream: None)

    def stop(words: object, **options: object) -> int:
        raise raised

    monkeypatch.setattr(cli, "app", stop)
    assert main(["plan", "b.toml", "--out", "x"]) == code
    said = capsys.readouterr().err
    assert said
    assert "unknown variable" not in said
    if code == STOPPED:
        assert "what lay in the folder is as it was" in said


@pytest.mark.skipif(os.name == "nt", reason="Windows sends Ctrl-C otherwise")
def test_ctrl_c_says_what_was_kept_and_leaves_the_folder(tmp_path: Path) -> None:
    run = {**os.environ, "PYTHONPATH": os.pathsep.join(sys.path)}
    script = "import sys; from bossage.cli import main; print('on', flush=True); sys.exit(main(sys.argv[1:]))"
    call = [sys.executable, "-c", script, "plan", str(TERRACE), "--out", str(tmp_path / "out")]
    with subprocess.Popen(call, env=run, stdout=subprocess.PIPE, stderr=subprocess.PIPE) as running:
        assert running.stdout is not None
        assert running.stdout.readline() == b"on\n"  # a busy machine may take seconds to come so far
        time.sleep(0.5)
        running.send_signal(signal.SIGINT)
        _, said = running.communicate(timeout=60)
    assert running.returncode == STOPPED
    assert said.decode().startswith("Stopped. No paper was written")
    assert not (tmp_path / "out").exists()
