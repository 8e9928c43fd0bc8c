"""The parts of the tool that gathers the self-contained folder; the folder itself is not made in a test."""

from __future__ import annotations

import importlib.util
import itertools
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType, SimpleNamespace

import pytest

from bossage import system

ROOT = Path(__file__).parents[1]


def tool_of(name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"{name}_tool", ROOT / "tools" / f"{name}.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


@pytest.fixture(scope="module")
def tool() -> ModuleType:
    return tool_of("bundle")


def test_all_of_our_own_code_and_files_are_gathered(tool: ModuleType, tmp_path: Path) -> None:
    words = tool.options(tmp_path, tmp_path / "icon.png")
    pairs = list(itertools.pairwise(words))
    # programs of our own are found by no import
    assert ("--collect-submodules", "bossage") in pairs
    assert ("--collect-data", "bossage") in pairs
    fonts = (ROOT / "src" / "bossage" / "fonts.py").read_text(encoding="utf-8")
    assert ("--collect-data", *re.findall(r'_package_folder\("(manimgx_fonts)"\)', fonts)) in pairs
    assert ("--exclude-module", "readline") in pairs  # under the GPL
    assert "--onefile" not in words
    assert words[-1] == str(tmp_path / "start.py")


def test_the_program_of_the_folder_starts_ours(tool: ModuleType, monkeypatch: pytest.MonkeyPatch) -> None:
    from bossage import __main__ as program

    started: list[list[str]] = []
    monkeypatch.setattr(program, "start", lambda words: started.append(words) or 7)
    monkeypatch.setattr(sys, "argv", ["bossage", "a", "b"])
    with pytest.raises(SystemExit) as ended:
        exec(compile(tool.ENTRY, "start.py", "exec"), {})
    assert (ended.value.code, started) == (7, [["a", "b"]])


def test_what_is_left_out_is_not_what_we_run_on(tool: ModuleType) -> None:
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {tool.plain_name(re.split(r"[>=]", one)[0]) for one in project["dependencies"]}
    assert not wanted & {tool.plain_name(name) for name in tool.LEFT_OUT}
    source = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "src" / "bossage").rglob("*.py"))
    for name in tool.LEFT_OUT:
        assert not re.search(rf"^\s*(import|from) {name}\b", source, re.MULTILINE)


def test_licences_travel_of_what_is_carried_and_of_nothing_else(
    tool: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    build = tmp_path / "build"
    site = build / "env" / "lib" / "site-packages"
    for home, name in (
        ("numpy-2.4.6.dist-info", "licenses/LICENSE.txt"),
        ("typing_extensions-4.1.dist-info", "LICENSE"),
        ("numpy-2.4.6.dist-info", "METADATA"),
        ("numpy-2.4.6.dist-info", "notice.py"),
        ("hatchling-1.dist-info", "LICENSE.txt"),
        ("bossage-0.1.0.dist-info", "licenses/LICENSE"),
        ("pyinstaller-6.1.dist-info", "COPYING.txt"),
    ):
        path = site / home / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(home)
    (build / "work").mkdir()
    toc = [("numpy/a.so", str(site / "a.so"), "EXTENSION"), ("libz.so.1", str(tmp_path / "libz.so.1"), "BINARY")]
    toc.append(("libpython.so", str(Path(sys.base_prefix) / "lib" / "libpython.so"), "BINARY"))
    (build / "work" / "COLLECT-00.toc").write_text(repr(("name", toc)))
    (tmp_path / "zlib").write_text("zlib's licence")
    asked: list[list[Path]] = []
    monkeypatch.setattr(tool, "system_owners", lambda paths: asked.append(paths) or [("zlib1g", tmp_path / "zlib")])
    target = tmp_path / "licences"
    tool.carry_licences(target, build)
    assert asked == [[tmp_path / "libz.so.1"]]
    found = {path.relative_to(target).as_posix() for path in target.rglob("*") if path.is_file()}
    assert {name for name in found if not name.startswith("Python/")} == {
        "numpy-2.4.6/LICENSE.txt",
        "typing_extensions-4.1/LICENSE",
        "bossage-0.1.0/LICENSE",
        "pyinstaller-6.1/COPYING.txt",
        "system/zlib1g.txt",
    }


def test_a_library_of_the_system_is_asked_for_its_package(
    tool: ModuleType, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(tool.shutil, "which", lambda name: None)
    assert list(tool.system_owners([tmp_path / "libz.so.1"])) == []
    monkeypatch.setattr(tool.shutil, "which", lambda name: name)
    monkeypatch.setattr(subprocess, "run", lambda call, **_: SimpleNamespace(stdout=""))
    assert list(tool.system_owners([tmp_path / "libz.so.1"])) == []
    if Path("/usr/share/doc/libc6/copyright").exists():
        monkeypatch.setattr(subprocess, "run", lambda call, **_: SimpleNamespace(stdout=f"libc6:amd64: {call[-1]}\n"))
        found = list(tool.system_owners([tmp_path / "libc.so.6"]))
        assert found == [("libc6", Path("/usr/share/doc/libc6/copyright"))]


def test_the_lock_of_the_tool_pins_nothing_otherwise_than_what_a_maker_runs(tool: ModuleType) -> None:
    def pins(name: str) -> dict[str, str]:
        text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
        return dict(re.findall(r"^([a-z0-9-]+)==([^\s;\\]+)", text, flags=re.MULTILINE))

    run, bundle = pins("run.txt"), pins("bundle.txt")
    assert "pyinstaller" in bundle
    assert all(run[name] == version for name, version in bundle.items() if name in run)
    assert tool.locked((ROOT / "requirements" / "run.txt").read_text(encoding="utf-8")) == {
        tool.plain_name(name) for name in run
    }


def test_programs_of_our_own_are_known_where_they_are_started() -> None:
    source = "\n".join(path.read_text(encoding="utf-8") for path in (ROOT / "src" / "bossage").rglob("*.py"))
    started = set(re.findall(r'own_program\(\s*"([\w.]+)"', source))
    assert started == set(system.PROGRAMS)
    # the one place that may call Python itself
    assert [
        path.name
        for path in (ROOT / "src" / "bossage").rglob("*.py")
        if "sys.executable" in path.read_text(encoding="utf-8")
    ] == ["system.py"]
