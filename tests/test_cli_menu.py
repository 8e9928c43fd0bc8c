"""bossage in the menu of the desktop: an entry that starts this very program, and an icon of our own."""

from __future__ import annotations

import configparser
import io
import itertools
import json
import shlex
import shutil
import subprocess
import sys
from pathlib import Path
from xml.etree import ElementTree

import pytest
from PIL import Image

from bossage import system
from bossage.cli import FAULTY, PLANNED, main
from bossage.cli_menu import desktop_entry
from bossage.drawing.icon import SIZE, icon_patches, icon_png, icon_svg
from tests.test_bundle_tool import tool_of


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    monkeypatch.setattr(system, "POSIX", True)
    monkeypatch.setattr(sys, "platform", "linux")
    return tmp_path / "data"


def entry_of(text: str) -> configparser.SectionProxy:
    read = configparser.RawConfigParser()
    read.optionxform = str  # type: ignore[assignment, method-assign]
    read.read_string(text)
    return read["Desktop Entry"]


def test_an_entry_is_made_renewed_and_taken_away(data: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["menu"]) == PLANNED
    (entry,) = data.rglob("*.desktop")
    assert str(entry) in capsys.readouterr().out
    found = entry_of(entry.read_text(encoding="utf-8"))
    assert shlex.split(found["Exec"]) == [sys.executable, "-m", "bossage"]
    assert Path(found["Icon"]).read_bytes() == icon_svg()
    entry.write_text("old")
    assert main(["menu", "--json"]) == PLANNED
    assert json.loads(capsys.readouterr().out)["entry"] == str(entry)
    assert entry.read_text(encoding="utf-8").startswith("[Desktop Entry]")
    assert main(["menu", "--remove", "--quiet"]) == PLANNED
    assert not [path for path in data.rglob("*") if path.is_file()]
    assert main(["menu", "--remove"]) == PLANNED
    assert "no longer" in capsys.readouterr().out


def test_a_frozen_program_starts_itself(data: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "frozen", True, raising=False)
    monkeypatch.setattr(sys, "executable", "/opt/my tools/bossage")
    assert main(["menu", "--quiet"]) == PLANNED
    (entry,) = data.rglob("*.desktop")
    assert entry_of(entry.read_text())["Exec"] == '"/opt/my tools/bossage"'


def test_a_folder_that_is_not_named_from_the_root_does_not_count(
    data: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", "somewhere")
    monkeypatch.setenv("HOME", str(tmp_path))
    assert main(["menu", "--quiet"]) == PLANNED
    assert (tmp_path / ".local/share/applications/bossage.desktop").is_file()


def test_signs_of_a_path_stand_for_themselves(tmp_path: Path) -> None:
    text = desktop_entry(['/a b/50%/$x/`y`/"z"/w\\v'], tmp_path / "icon.svg")
    # one escape for the words of a command, one more for a string of the file
    assert entry_of(text)["Exec"] == r'"/a b/50%%/\\$x/\\`y\\`/\\"z\\"/w\\\\v"'


@pytest.mark.skipif(shutil.which("desktop-file-validate") is None, reason="desktop-file-utils is not there")
def test_the_entry_is_valid(data: Path) -> None:
    assert main(["menu", "--quiet"]) == PLANNED
    (entry,) = data.rglob("*.desktop")
    done = subprocess.run(["desktop-file-validate", str(entry)], capture_output=True, text=True, check=False)
    assert (done.returncode, done.stdout) == (0, "")


@pytest.mark.parametrize(("name", "word"), [("win32", "pin"), ("darwin", "Dock"), ("other", "short cut")])
def test_a_menu_that_takes_no_file_is_told_in_words(
    data: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], name: str, word: str
) -> None:
    monkeypatch.setattr(sys, "platform", name)
    monkeypatch.setattr(system, "POSIX", name == "darwin")
    assert main(["menu"]) == FAULTY
    assert word in capsys.readouterr().err
    assert not data.exists()


def test_the_icon_is_the_same_in_lines_and_in_pixels(tmp_path: Path) -> None:
    root = ElementTree.fromstring(icon_svg())
    assert len(list(root)) == 1 + len(icon_patches())
    assert all(one.x > 0 and one.x + one.width < SIZE and one.y + one.height < SIZE for one in icon_patches())
    image = Image.open(io.BytesIO(icon_png(SIZE))).convert("RGB")
    for number in (0, len(icon_patches()) - 1):
        one = icon_patches()[number]
        at = (int(one.x + one.width / 2) + 4, int(one.y + one.height / 2))
        shown = [
            two for two in icon_patches() if two.x <= at[0] < two.x + two.width and two.y <= at[1] < two.y + two.height
        ]
        assert "#{:02x}{:02x}{:02x}".format(*image.getpixel(at)) == shown[-1].colour
    assert icon_png(64) == icon_png(64)
    tool_of("icon").main(tmp_path / "icons")
    assert (tmp_path / "icons" / "bossage.svg").read_bytes() == icon_svg()
    assert Image.open(tmp_path / "icons" / "bossage.png").size == (512, 512)


def test_no_two_neighbours_of_the_icon_are_of_one_height() -> None:
    from bossage.drawing import icon

    rows = icon._LEVELS
    assert all(one != two for row in rows for one, two in itertools.pairwise(row))
    assert all(one != two for upper, lower in itertools.pairwise(rows) for one, two in zip(upper, lower, strict=True))
