"""Lists what others made and the project carries or runs on, from the locks alone: CycloneDX JSON and plain text.

Run by the build hook, so that every wheel carries the list and the notices that licences ask for; by hand:

    python tools/third_parties.py

The same locks give the same bytes: no clock, no random number, nothing of the machine.
"""

from __future__ import annotations

import importlib.util
import json
import re
import shutil
import sys
from pathlib import Path
from types import ModuleType
from typing import NamedTuple

TARGET = Path("src/bossage/_third_parties")
LOCK = Path("requirements/run.txt")
PAGE = Path("src/bossage/_web")
PACKAGES, NOTICES = "packages.json", "NOTICES.txt"
BOM, LIST = "bom.cdx.json", "third-parties.txt"

_LOCKED = re.compile(r"^(?P<name>[A-Za-z0-9._-]+)==(?P<version>[^\s;\\]+)")
_HASH = re.compile(r"--hash=sha256:([0-9a-f]{64})")


class Part(NamedTuple):  # not a dataclass: the build hook loads this file without naming it to Python
    """One package of somebody else: where it is from, and what the project does with it."""

    name: str
    version: str
    purl: str
    role: str  # `runs on`, `in the page`, `font of the papers`
    licence: str = ""
    sha256: tuple[str, ...] = ()


def make_lists(root: Path) -> bool:
    """Bring the lists under `root` up to date; True when they changed."""
    parts = third_parties(root)
    made = {BOM: bom_json(parts, _version(root)), LIST: plain_list(parts)}
    notices = root / PAGE / NOTICES
    if notices.is_file():
        made[NOTICES] = notices.read_text(encoding="utf-8")
    target = root / TARGET
    old = {path.name: path.read_text(encoding="utf-8") for path in target.glob("*")} if target.is_dir() else {}
    if old == made:
        return False
    if target.is_dir():
        shutil.rmtree(target)
    target.mkdir(parents=True)
    for name, text in made.items():
        (target / name).write_text(text, encoding="utf-8", newline="\n")
    return True


def third_parties(root: Path) -> list[Part]:
    """Everything: Python packages of the lock, packages in the page, the font that ours is made from."""
    font = _tool(root, "font")
    parts = [*locked(root / LOCK), *in_page(root / PAGE / PACKAGES)]
    parts.append(
        Part(
            name=font.PACKAGE,
            version=font.VERSION,
            purl=_npm_purl(font.PACKAGE, font.VERSION),
            role="font of the papers",
            licence="OFL-1.1",
        )
    )
    return sorted(parts, key=lambda part: part.purl)


def locked(path: Path) -> list[Part]:
    """Packages of a hash-pinned lock."""
    parts: list[Part] = []
    for block in re.split(r"\n(?=\S)", path.read_text(encoding="utf-8")):
        found = _LOCKED.match(block)
        if found:
            name, version = found["name"].lower().replace("_", "-"), found["version"]
            hashes = tuple(sorted(_HASH.findall(block)))
            purl = f"pkg:pypi/{name}@{version}"
            parts.append(Part(name=name, version=version, purl=purl, role="runs on", sha256=hashes))
    return parts


def in_page(path: Path) -> list[Part]:
    """Packages whose code is in the page, as its build wrote them down; none where the page was not built."""
    if not path.is_file():
        return []
    return [
        Part(
            name=one["name"],
            version=one["version"],
            purl=_npm_purl(one["name"], one["version"]),
            role="in the page",
            licence=one["licence"],
        )
        for one in json.loads(path.read_text(encoding="utf-8"))
    ]


def bom_json(parts: list[Part], version: str) -> str:
    """The list as CycloneDX 1.6 (ECMA-424), which programs read."""
    body = {
        "bomFormat": "CycloneDX",
        "specVersion": "1.6",
        "version": 1,
        "metadata": {
            "component": {
                "type": "application",
                "bom-ref": f"pkg:pypi/bossage@{version}",
                "name": "bossage",
                "version": version,
                "purl": f"pkg:pypi/bossage@{version}",
                "licenses": [{"license": {"id": "Apache-2.0"}}],
            }
        },
        "components": [_component(part) for part in parts],
        "dependencies": [{"ref": f"pkg:pypi/bossage@{version}", "dependsOn": [part.purl for part in parts]}],
    }
    return json.dumps(body, indent=1, ensure_ascii=False) + "\n"


def plain_list(parts: list[Part]) -> str:
    """The list for people."""
    lines = ["What others made and bossage carries or runs on. Hashes stand in bom.cdx.json.", ""]
    for role in ("font of the papers", "in the page", "runs on"):
        lines += [
            role,
            *(f"  {one.name} {one.version}  {one.licence}".rstrip() for one in parts if one.role == role),
            "",
        ]
    return "\n".join(lines)


def _component(part: Part) -> dict[str, object]:
    kind = "data" if part.role == "font of the papers" else "library"
    body: dict[str, object] = {
        "type": kind,
        "bom-ref": part.purl,
        "name": part.name,
        "version": part.version,
        "purl": part.purl,
        "properties": [{"name": "bossage:role", "value": part.role}],
    }
    if part.licence:
        body["licenses"] = [{"license": {"id": part.licence}}]
    if part.sha256:
        body["hashes"] = [{"alg": "SHA-256", "content": one} for one in part.sha256]
    return body


def _npm_purl(name: str, version: str) -> str:
    return f"pkg:npm/{name.replace('@', '%40')}@{version}"


def _version(root: Path) -> str:
    found = re.search(r'^version = "([^"]+)"', (root / "pyproject.toml").read_text(encoding="utf-8"), re.MULTILINE)
    if found is None:
        raise RuntimeError("pyproject.toml names no version.")
    return found[1]


def _tool(root: Path, name: str) -> ModuleType:
    spec = importlib.util.spec_from_file_location(f"bossage_{name}_tool", root / "tools" / f"{name}.py")
    if spec is None or spec.loader is None:
        raise RuntimeError(f"tools/{name}.py cannot be loaded; the checkout is incomplete.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


if __name__ == "__main__":
    made_now = make_lists(Path(__file__).resolve().parent.parent)
    print("The lists are made." if made_now else "The lists are there already.")
    sys.exit(0)
