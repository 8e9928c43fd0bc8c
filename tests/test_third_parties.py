"""The list of what others made is that of the locks; notices travel in the wheel; two wheels are the same bytes."""

from __future__ import annotations

import importlib.util
import json
import os
import re
import subprocess
import sys
import zipfile
from pathlib import Path
from types import ModuleType

import pytest

ROOT = Path(__file__).parents[1]
LOCK = ROOT / "requirements" / "run.txt"


@pytest.fixture(scope="module")
def tool() -> ModuleType:
    spec = importlib.util.spec_from_file_location("third_parties", ROOT / "tools" / "third_parties.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_every_package_of_the_lock_is_listed_with_its_hashes(tool: ModuleType) -> None:
    text = LOCK.read_text(encoding="utf-8")
    pinned = re.findall(r"^([\w.-]+)==([^\s;\\]+)", text, re.MULTILINE)
    bom = json.loads(tool.bom_json(tool.third_parties(ROOT), "1.2.3"))
    listed = {(one["name"], one["version"]): one for one in bom["components"]}
    assert len(pinned) > 30
    for name, version in pinned:
        assert listed[name.lower().replace("_", "-"), version]["hashes"]
    assert sum(len(one.get("hashes", ())) for one in bom["components"]) == text.count("--hash=sha256:")


def test_the_list_is_cyclonedx(tool: ModuleType) -> None:
    bom = json.loads(tool.bom_json(tool.third_parties(ROOT), "1.2.3"))
    assert (bom["bomFormat"], bom["specVersion"], bom["version"]) == ("CycloneDX", "1.6", 1)
    refs = [one["bom-ref"] for one in bom["components"]]
    assert len(set(refs)) == len(refs)
    assert bom["dependencies"][0]["dependsOn"] == refs
    for one in bom["components"]:
        assert one["type"] in ("library", "data")
        assert re.fullmatch(r"pkg:(pypi|npm)/[\w.%/-]+@[\w.+-]+", one["purl"])
        assert all(re.fullmatch(r"[0-9a-f]{64}", found["content"]) for found in one.get("hashes", ()))


def test_each_part_of_the_page_is_listed_and_its_notice_carried(tool: ModuleType) -> None:
    page = ROOT / "src" / "bossage" / "_web"
    if not (page / "index.html").is_file():
        pytest.skip("the page was not built here")
    parts = tool.in_page(page / "packages.json")
    assert {"svelte", "three"} <= {part.name for part in parts}
    notices = (page / "NOTICES.txt").read_text(encoding="utf-8")
    for part in parts:
        assert f"{part.name} {part.version}\n" in notices
        assert part.licence in tool.plain_list(parts)
    assert notices.count("Permission is hereby granted") >= len(parts)
    assert "SIL OPEN FONT LICENSE" in (page / "assets" / "OFL.txt").read_text(encoding="utf-8")


@pytest.mark.slow
def test_two_wheels_are_the_same_bytes_and_carry_lists_notices_and_licences(tmp_path: Path) -> None:
    if not (ROOT / "src" / "bossage" / "_web" / "index.html").is_file():
        pytest.skip("the page was not built here")
    run = {**os.environ, "SOURCE_DATE_EPOCH": "1767225600"}
    for name in ("one", "two"):
        call = [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(tmp_path / name)]
        subprocess.run(call, cwd=ROOT, env=run, check=True, capture_output=True)
    (one,), (two,) = ((tmp_path / name).glob("*.whl") for name in ("one", "two"))
    assert one.read_bytes() == two.read_bytes()
    with zipfile.ZipFile(one) as wheel:
        names = set(wheel.namelist())
        for wanted in ("bom.cdx.json", "third-parties.txt", "NOTICES.txt"):
            assert f"bossage/_third_parties/{wanted}" in names
        assert {"bossage/_fonts/OFL.txt", "bossage/_web/assets/OFL.txt", "bossage/_web/NOTICES.txt"} <= names
        assert any(name.endswith("licenses/LICENSE") for name in names)
