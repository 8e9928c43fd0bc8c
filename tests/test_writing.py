"""Writing: whole or not at all, over nothing that bossage did not make, and in every kind of folder."""

from __future__ import annotations

import errno
import json
import os
import shutil
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from bossage import exchange
from bossage.brief.amend import amend_text
from bossage.checks import Edit
from bossage.cli import main
from bossage.examples import example_text
from bossage.files import CannotWrite
from bossage.writing import MADE, write_folder, write_new

PAPERS = {"plan.json": b"{}\n", "pack.pdf": b"%PDF", "sheets/saw.svg": b"<svg/>"}
LATER = {"plan.json": b"{1}\n", "calendar.ics": b"BEGIN", "text/saw.txt": b"saw", "pack.pdf": b"%PDF2"}


def contents(folder: Path) -> dict[str, bytes]:
    """Everything that a maker sees in a folder, and whatever else should not be there."""
    found = {str(path.relative_to(folder)): path.read_bytes() for path in folder.rglob("*") if path.is_file()}
    found.pop(MADE, None)
    return found


def test_papers_are_written_and_nothing_else_is_left(tmp_path: Path) -> None:
    write_folder(tmp_path / "a" / "out", PAPERS, plan="1")
    assert contents(tmp_path / "a" / "out") == PAPERS
    assert [p.name for p in (tmp_path / "a").iterdir()] == ["out"]


def test_what_an_earlier_plan_made_is_taken_away_and_nothing_else(tmp_path: Path) -> None:
    (tmp_path / "notes.txt").write_text("mine")
    write_folder(tmp_path, {**PAPERS, "calendar.ics": b"BEGIN"}, plan="1")
    (tmp_path / "sheets" / "of mine.txt").write_text("mine too")
    done = write_folder(tmp_path, {"plan.json": b"{2}", "pack.pdf": b"%PDF2"}, plan="2")
    assert sorted(done.taken_away) == ["calendar.ics", "sheets/saw.svg"]
    assert contents(tmp_path) == {
        "plan.json": b"{2}",
        "pack.pdf": b"%PDF2",
        "notes.txt": b"mine",
        "sheets/of mine.txt": b"mine too",
    }


def test_papers_of_the_same_plan_stay_where_others_of_that_plan_are_added(tmp_path: Path) -> None:
    write_folder(tmp_path, PAPERS, plan="1")
    write_folder(tmp_path, {"plan.json": b"{}\n", "saw.pdf": b"%PDF"}, plan="1")
    assert contents(tmp_path) == {**PAPERS, "saw.pdf": b"%PDF"}
    write_folder(tmp_path, {"plan.json": b"{2}"}, plan="2")
    assert contents(tmp_path) == {"plan.json": b"{2}"}
    assert not (tmp_path / "sheets").exists()


def test_a_paper_that_the_maker_changed_is_neither_replaced_nor_taken_away(tmp_path: Path) -> None:
    write_folder(tmp_path, {"plan.json": b"{}", "counts.csv": b"1", "cuts.csv": b"1"}, plan="1")
    (tmp_path / "counts.csv").write_bytes(b"counted in the shop")
    (tmp_path / "cuts.csv").write_bytes(b"noted at the saw")
    before = contents(tmp_path)
    with pytest.raises(CannotWrite, match=r"changed since: counts\.csv\. Nothing was changed"):
        write_folder(tmp_path, {"plan.json": b"{2}", "counts.csv": b"2"}, plan="2")
    assert contents(tmp_path) == before
    done = write_folder(tmp_path, {"plan.json": b"{2}", "counts.csv": b"2"}, plan="2", overwrite=True)
    assert done.kept == {"counts.csv": "counts-before.csv"}
    assert done.taken_away == ()
    assert contents(tmp_path) == {
        "plan.json": b"{2}",
        "counts.csv": b"2",
        "counts-before.csv": b"counted in the shop",
        "cuts.csv": b"noted at the saw",
    }


def test_a_file_of_somebody_else_is_in_the_way(tmp_path: Path) -> None:
    (tmp_path / "plan.json").write_bytes(b'{"of": "another program"}')
    with pytest.raises(CannotWrite, match="did not make"):
        write_folder(tmp_path, PAPERS, plan="1")
    assert contents(tmp_path) == {"plan.json": b'{"of": "another program"}'}
    assert [path.name for path in tmp_path.iterdir()] == ["plan.json"]


def test_a_folder_of_version_0_1_0_is_taken_over(tmp_path: Path) -> None:
    shutil.copy(Path(__file__).parent / "kept" / "version_0_1_0" / "plan.json", tmp_path / "plan.json")
    for name in ("pack.pdf", "calendar.ics", "saw.pdf", "my own.csv"):
        (tmp_path / name).write_bytes(b"old")
    (tmp_path / "counts.csv").write_bytes(b"counted in the shop")
    now = time.time()
    for path in tmp_path.iterdir():
        os.utime(path, (now, now - 90_000))
    os.utime(tmp_path / "counts.csv", (now, now))
    with pytest.raises(CannotWrite, match=r"counts\.csv"):
        write_folder(tmp_path, {"plan.json": b"{}", "pack.pdf": b"new", "counts.csv": b"2"}, plan="2")
    done = write_folder(tmp_path, {"plan.json": b"{}", "pack.pdf": b"new", "saw.pdf": b"new"}, plan="2")
    assert done.taken_away == ("calendar.ics",)
    assert contents(tmp_path) == {
        "plan.json": b"{}",
        "pack.pdf": b"new",
        "saw.pdf": b"new",
        "my own.csv": b"old",
        "counts.csv": b"counted in the shop",
    }


def failing(monkeypatch: pytest.MonkeyPatch, at: int, act: Callable[[], None]) -> None:
    """The move of that number does not happen; `act` happens in its place. Later ones happen."""
    real, done = os.replace, 0

    def replace(source: Path, target: Path) -> None:
        nonlocal done
        done += 1
        if done == at:
            act()
        real(source, target)

    monkeypatch.setattr(exchange.os, "replace", replace)


def refuse() -> None:
    raise OSError(errno.EIO, os.strerror(errno.EIO))


def interrupt() -> None:
    raise KeyboardInterrupt


@pytest.mark.parametrize("at", range(1, 12))
@pytest.mark.parametrize("act", [refuse, interrupt])
def test_an_exchange_that_fails_anywhere_is_undone(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: int, act: Callable[[], None]
) -> None:
    write_folder(tmp_path, PAPERS, plan="1")
    (tmp_path / "text").mkdir()
    (tmp_path / "text" / "saw.txt").write_bytes(b"mine")
    before = {**contents(tmp_path), MADE: (tmp_path / MADE).read_bytes()}
    failing(monkeypatch, at, act)
    if at > 2 * 4 + 1 + 1:  # two moves for each that is replaced, one for each that goes or is new
        write_folder(tmp_path, LATER, plan="2", overwrite=True)
        assert contents(tmp_path) == {**LATER, "text/saw-before.txt": b"mine"}
        return
    with pytest.raises((CannotWrite, KeyboardInterrupt)) as fault:
        write_folder(tmp_path, LATER, plan="2", overwrite=True)
    if act is refuse:
        assert "Nothing was changed there" in str(fault.value)
    monkeypatch.undo()
    assert {**contents(tmp_path), MADE: (tmp_path / MADE).read_bytes()} == before
    assert not list(tmp_path.glob(".bossage-new-*"))


@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork on this system")
@pytest.mark.parametrize("at", range(1, 11))
def test_an_exchange_that_was_killed_is_undone_by_the_next(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, at: int
) -> None:
    write_folder(tmp_path, PAPERS, plan="1")
    before = contents(tmp_path)
    child = os.fork()
    if child == 0:
        failing(monkeypatch, at, lambda: os._exit(9))
        try:
            write_folder(tmp_path, LATER, plan="2")
        finally:
            os._exit(0)
    os.waitpid(child, 0)
    exchange.undo_left_over(tmp_path)
    assert contents(tmp_path) == (before if at <= 2 * 3 + 1 + 2 else LATER)
    assert not list(tmp_path.glob(".bossage-new-*"))
    write_folder(tmp_path, LATER, plan="2")
    assert contents(tmp_path) == LATER


def test_a_disk_that_refuses_to_put_back_is_told_and_nothing_is_thrown_away(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    write_folder(tmp_path, PAPERS, plan="1")
    before = contents(tmp_path)
    real, done = os.replace, 0

    def replace(source: Path, target: Path) -> None:
        nonlocal done
        done += 1
        if done > 3:
            refuse()
        real(source, target)

    monkeypatch.setattr(exchange.os, "replace", replace)
    with pytest.raises(CannotWrite, match="which are all kept in") as fault:
        write_folder(tmp_path, LATER, plan="2")
    assert "Nothing was changed" not in str(fault.value)
    monkeypatch.undo()
    # as the next command finds it, once this process is gone
    (hidden,) = tmp_path.glob(".bossage-new-*")
    hidden.rename(tmp_path / f".bossage-new-99999999-{hidden.name[-8:]}")
    exchange.undo_left_over(tmp_path)
    assert contents(tmp_path) == before


@pytest.mark.parametrize("name", ["../a", "b/../../a", "/a", "C:a", "C:/a", "\\a", "..\\a", "\\\\host\\share\\a", ""])
@pytest.mark.parametrize("where", ["fresh", "away", "kept"])
def test_a_folder_of_somebody_else_leads_to_no_file_outside(tmp_path: Path, name: str, where: str) -> None:
    """What an unfinished exchange wrote down may have been written by anybody, on any system."""
    assert not exchange.leads_inside(name)
    (tmp_path / "a").write_text("mine")
    out = tmp_path / "out"
    hidden = out / ".bossage-new-99999999-0123abcd"
    (hidden / "old").mkdir(parents=True)
    steps = {"fresh": [name] if where == "fresh" else [], "away": {"b": name} if where == "kept" else {}}
    (hidden / "steps.json").write_text(json.dumps({**steps, **({"away": {name: None}} if where == "away" else {})}))
    with pytest.raises(CannotWrite, match="names places outside"):
        write_folder(out, PAPERS, plan="1")
    assert (tmp_path / "a").read_text() == "mine"


def test_steps_that_are_none_are_not_followed(tmp_path: Path) -> None:
    hidden = tmp_path / ".bossage-new-99999999-0123abcd"
    hidden.mkdir()
    for steps in ("[]", '{"away": [], "fresh": [7]}', "7", '{"away": {"a": 7}, "fresh": []}', "no json"):
        (hidden / "steps.json").write_text(steps)
        with pytest.raises(CannotWrite):
            write_folder(tmp_path, PAPERS, plan="1")
    assert [path.name for path in tmp_path.iterdir()] == [hidden.name]


def test_a_name_below_the_folder_leads_inside() -> None:
    assert all(map(exchange.leads_inside, ("a", "drawings/map.svg", ".bossage-made.json", "a..b", "c/..d")))


def test_a_full_disk_changes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    out = tmp_path / "out"
    write_folder(out, PAPERS, plan="1")
    real, written = os.fsync, 0

    def full(number: int) -> None:
        nonlocal written
        written += 1
        if written == 3:
            raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
        real(number)

    monkeypatch.setattr(exchange.os, "fsync", full)
    with pytest.raises(CannotWrite, match="the disk is full"):
        write_folder(out, dict.fromkeys(PAPERS, b"new"), plan="2")
    monkeypatch.undo()
    assert contents(out) == PAPERS
    monkeypatch.setattr(exchange.os, "fsync", lambda number: refuse())
    with pytest.raises(CannotWrite):
        write_folder(tmp_path / "new" / "folder", PAPERS, plan="1")
    assert [p.name for p in tmp_path.iterdir()] == ["out"]


def test_a_file_in_the_place_of_the_folder(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("a file")
    with pytest.raises(CannotWrite, match="is a file, and the papers need a folder"):
        write_folder(tmp_path / "out", PAPERS, plan="1")
    with pytest.raises(CannotWrite, match="a part of that path is a file"):
        write_folder(tmp_path / "out" / "below", PAPERS, plan="1")
    (tmp_path / "other" / "pack.pdf").mkdir(parents=True)
    with pytest.raises(CannotWrite, match="is no ordinary file"):
        write_folder(tmp_path / "other", PAPERS, plan="1")


@pytest.mark.parametrize("code", [errno.EACCES, errno.EROFS, errno.ENAMETOOLONG])
def test_a_folder_that_may_not_be_written(code: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    # tests may run as root, who may write anywhere, so the refusal is put in place of the system's
    def refused(self: Path, *args: object, **more: object) -> None:
        raise OSError(code, os.strerror(code))

    monkeypatch.setattr(Path, "mkdir", refused)
    with pytest.raises(CannotWrite, match="Nothing was changed there"):
        write_folder(tmp_path / "out", PAPERS, plan="1")


def other_disk() -> Path | None:
    """A folder on another disk than the passing files, where this machine has one that may be written."""
    shared = Path("/dev/shm")
    return shared if shared.is_dir() and os.access(shared, os.W_OK) else None


@pytest.mark.skipif(other_disk() is None, reason="no second disk on this machine")
def test_a_link_to_another_disk_will_do(tmp_path: Path) -> None:
    shared = other_disk()
    assert shared is not None
    there = shared / f"bossage-{os.getpid()}"
    there.mkdir()
    try:
        assert there.stat().st_dev != tmp_path.stat().st_dev
        (tmp_path / "out").symlink_to(there)
        for plan in ("1", "2"):
            write_folder(tmp_path / "out", PAPERS, plan=plan)
        assert contents(there) == PAPERS
        assert (tmp_path / "out").is_symlink()
    finally:
        shutil.rmtree(there)


@pytest.mark.skipif(not hasattr(os, "fork") or os.name != "posix", reason="needs another user of POSIX")
def test_a_folder_will_do_whose_parent_may_not_be_written(tmp_path: Path) -> None:
    out = tmp_path / "parent" / "out"
    out.mkdir(parents=True)
    out.chmod(0o777)
    out.parent.chmod(0o555)
    for folder in (tmp_path, *tmp_path.parents):  # whoever may not write must still get there
        if folder == Path(tempfile.gettempdir()):
            break
        folder.chmod(folder.stat().st_mode | 0o055)
    child = os.fork()
    if child == 0:
        if os.getuid() == 0:
            os.setuid(65534)  # who may write anywhere would see nothing
        try:
            write_folder(out, PAPERS, plan="1")
        finally:
            os._exit(0 if contents(out) == PAPERS else 1)
    _, status = os.waitpid(child, 0)
    out.parent.chmod(0o755)
    assert os.waitstatus_to_exitcode(status) == 0
    assert contents(out) == PAPERS


def test_a_single_file_is_never_written_over(tmp_path: Path) -> None:
    path = tmp_path / "new" / "mine.toml"
    assert write_new(path, b"1", option="--write") is None
    assert write_new(path, b"1", option="--write") is None
    with pytest.raises(CannotWrite, match="--write, or say --overwrite"):
        write_new(path, b"2", option="--write")
    assert path.read_bytes() == b"1"
    assert write_new(path, b"2", option="--write", overwrite=True) == path.with_name("mine-before.toml")
    assert write_new(path, b"3", option="--write", overwrite=True) == path.with_name("mine-before-2.toml")
    assert contents(tmp_path / "new") == {"mine.toml": b"3", "mine-before.toml": b"1", "mine-before-2.toml": b"2"}
    for way in (tmp_path / "new", Path(os.devnull)):
        with pytest.raises(CannotWrite, match="no ordinary file"):
            write_new(way, b"1", option="--write", overwrite=True)


def test_no_command_writes_over_what_is_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief, mine = tmp_path / "brief.toml", tmp_path / "mine.toml"
    brief.write_text(example_text("first"), encoding="utf-8")
    mine.write_text("# my own brief\n")
    for words in (
        ["replan", str(brief), "--glued", "rows 1-2", "--write", str(mine)],
        ["survey", "--out", str(mine)],
    ):
        assert main(words) == 4
        assert "is there already" in capsys.readouterr().err
        assert mine.read_text() == "# my own brief\n"
        assert main([*words, "--overwrite"]) == 0
        (kept,) = tmp_path.glob("mine-before.toml")
        assert kept.read_text() == "# my own brief\n"
        kept.replace(mine)


@pytest.mark.slow
def test_a_re_plan_without_dates_leaves_no_calendar(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    brief, out = tmp_path / "brief.toml", tmp_path / "out"
    text = example_text("first")
    dated = amend_text(text, [Edit(op="set", path=("piece", "date"), value="2026-12-01")])
    brief.write_text(dated, encoding="utf-8")
    words = ["plan", str(brief), "--out", str(out), "--sheets", "saw", "--form", "text"]
    assert main(words) in (0, 1)
    calendar = out / "calendar.ics"
    assert main(words[:4]) in (0, 1)
    assert calendar.exists()
    capsys.readouterr()
    brief.write_text(text, encoding="utf-8")
    assert main([*words, "--json"]) in (0, 1)
    said = json.loads(capsys.readouterr().out)
    assert "calendar.ics" in said["taken_away"]
    assert not calendar.exists()
