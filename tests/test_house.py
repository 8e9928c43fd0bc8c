"""The house itself: nothing that ties it to one machine, links that lead somewhere, one version, late imports."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

import bossage
from tests.dead import unused

ROOT = Path(__file__).resolve().parent.parent

# Put together from halves, so that this file does not find itself.
HOSTS = [
    "py" + "pi.org",
    "python" + "hosted.org",
    "npm" + "js.",
    "registry" + ".",
    "deb.debian" + ".org",
    "prox" + "y.",
]
PATHS = ["/wo" + "rk/", "/ro" + "ot/", "/tm" + "p/", "/ho" + "me/", "file:" + "//", "/Use" + "rs/"]
LOCKS = ["run.txt", "dev.txt", "build.txt", "bundle.txt", "uv.txt"]


def tracked_texts() -> dict[str, str]:
    listed = subprocess.run(["git", "ls-files", "-z"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    texts = {}
    for name in filter(None, listed.split("\0")):
        path = ROOT / name
        if path.is_file():
            raw = path.read_bytes()
            if b"\0" not in raw:
                texts[name] = raw.decode("utf-8")
    return texts


def test_tracked_files_name_no_registry_and_no_machine_path():
    texts = tracked_texts()
    assert "pyproject.toml" in texts
    host = re.compile("|".join(rf"(?<![\w.-]){re.escape(part)}(?=\w|$|[/:])" for part in HOSTS))
    place = re.compile("|".join(rf"(?<![\w.~)}}]){re.escape(part)}" for part in PATHS))
    found = [
        f"{name}:{number}: {line.strip()[:100]}"
        for name, text in texts.items()
        for number, line in enumerate(text.splitlines(), 1)
        if host.search(line) or place.search(line)
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("name", LOCKS)
def test_locks_carry_hashes_and_no_address(name):
    text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
    assert not re.search(r"https?:|file:|--(extra-)?index-url|--find-links|--trusted-host| @ ", text)
    pins = re.findall(r"^[A-Za-z0-9].*?(?=^[A-Za-z0-9]|\Z)", text, flags=re.MULTILINE | re.DOTALL)
    assert pins
    unpinned = [pin.split("\n")[0] for pin in pins if "==" not in pin or "--hash=sha256:" not in pin]
    assert not unpinned


def test_every_dependency_of_the_project_is_in_the_lock():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))
    wanted = {"run.txt": project["project"]["dependencies"], "dev.txt": project["dependency-groups"]["dev"]}
    for lock, requirements in wanted.items():
        text = (ROOT / "requirements" / lock).read_text(encoding="utf-8")
        locked = set(re.findall(r"^([a-z0-9-]+)==", text, flags=re.MULTILINE))
        names = {re.split(r"[<>=~!\[ ;]", requirement)[0].lower().replace("_", "-") for requirement in requirements}
        assert names <= locked, f"run `make lock`: {sorted(names - locked)} not in {lock}"


def test_the_two_locks_agree():
    def pins(name):
        text = (ROOT / "requirements" / name).read_text(encoding="utf-8")
        return set(re.findall(r"^([a-z0-9-]+==\S+)", text, flags=re.MULTILINE))

    shared = {pin.split("==")[0] for pin in pins("run.txt")}
    assert {pin for pin in pins("dev.txt") if pin.split("==")[0] in shared} == pins("run.txt")


def test_links_lead_somewhere():
    missing = []
    for name, text in tracked_texts().items():
        targets = re.findall(r"(?<![\w/.-])docs/[\w./-]+\.(?:md|svg|png)", text)
        places = [ROOT / target for target in targets]
        if name.endswith(".md"):
            links = re.findall(r"\]\(([^)#\s]+)(?:#[\w-]+)?\)", text)
            places += [(ROOT / name).parent / link for link in links if "://" not in link]
        missing += [f"{name}: {place}" for place in places if not place.exists()]
    assert not missing, "\n".join(missing)


def test_one_version():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert project["version"] == bossage.__version__
    assert f"## {bossage.__version__}" in (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")


def test_help_does_not_wait_for_solvers_or_pictures():
    script = (
        "import contextlib, io, json, sys\n"
        "heavy = ['scipy', 'ortools', 'typst', 'PIL', 'fastapi', 'pandas']\n"
        "import bossage.cli\n"
        "at_import = [name for name in [*heavy, 'rich'] if name in sys.modules]\n"
        "sys.argv = ['bossage', '--help']\n"
        "with contextlib.redirect_stdout(io.StringIO()) as said, contextlib.suppress(SystemExit):\n"
        "    bossage.cli.main()\n"
        "print(json.dumps([at_import, [name for name in heavy if name in sys.modules], said.getvalue()]))\n"
    )
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    at_import, at_help, said = json.loads(done.stdout)
    assert "plan" in said
    assert at_import == []
    # rich may draw the help itself, which is why it is looked for at import only.
    assert at_help == []


# The sciences stand for themselves: their functions are held to printed sources, and may wait for their first caller.
SCIENCES = ("colour/", "fasteners/", "handling/", "timber/")


def test_nobody_keeps_a_public_name_that_no_code_uses():
    found = unused(ROOT / "src" / "bossage", [ROOT / "tools", ROOT / "bench"])
    assert [name for name in found if not name.startswith(SCIENCES)] == []


def test_an_unused_name_is_found(tmp_path):
    (tmp_path / "one.py").write_text(
        "def used(): ...\ndef idle(): ...\nclass Pot:\n    def full(self): ...\nMOST = 3\n"
    )
    (tmp_path / "two.py").write_text("from one import Pot, idle, used\nfrom one import MOST as M\nused(Pot, M)\n")
    assert unused(tmp_path, []) == ["one.py Pot.full", "one.py idle"]
