"""The README opens with the job, then how to have it; on an index its links lead somewhere or are words."""

from __future__ import annotations

import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.test_bundle_tool import tool_of

ROOT = Path(__file__).parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
FILES = "https://example.org/files/"


def test_the_job_comes_first_then_the_commands_then_pictures() -> None:
    title, job, heading, *_ = re.split(r"\n{2,}", README)
    assert title == "# bossage"
    assert job.startswith("Something ugly on the wall")
    assert heading == "## Having it"
    places = [README.index(words) for words in ("pipx install", "make bundle", "make demo", "make test", "![")]
    assert places == sorted(places)


def test_without_an_address_no_picture_and_no_link_is_left() -> None:
    made = tool_of("readme").for_index(README, "")
    assert not re.search(r"!\[|\]\(|<!--|docs/pictures", made)
    assert "More in the workbench." in made
    assert "Reading on" not in made
    assert "## With care" in made
    assert "| --- |" not in made
    assert made.startswith("# bossage\n\nSomething ugly")


def test_with_an_address_every_picture_and_link_leads_there() -> None:
    made = tool_of("readme").for_index(README, FILES)
    targets = re.findall(r"\]\(([^)]+)\)", made)
    assert len(targets) > 15
    for target in targets:
        assert target.startswith(FILES)
        assert (ROOT / target.removeprefix(FILES).partition("#")[0]).exists()


def test_what_leads_elsewhere_stays() -> None:
    text = "[a](https://example.org/a) [b](#b) ![c](docs/pictures/map.png) [d](docs/glossary.md)"
    assert tool_of("readme").for_index(text, "") == "[a](https://example.org/a) [b](#b) c d"
    assert tool_of("readme").for_index(text, FILES) == text.replace("docs/", f"{FILES}docs/")


def test_every_classifier_is_known() -> None:
    classifiers = pytest.importorskip("trove_classifiers").classifiers
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert len(project["classifiers"]) > 10
    assert set(project["classifiers"]) <= set(classifiers)
    assert all(word.strip() == word for word in project["keywords"])


def test_what_is_told_of_the_package_has_the_readme_for_an_index() -> None:
    call = [sys.executable, "-m", "hatchling", "metadata"]
    done = subprocess.run(call, cwd=ROOT, capture_output=True, text=True, check=True)
    assert '"readme"' in done.stdout
    assert "docs/pictures" not in done.stdout
