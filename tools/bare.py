"""Tries the self-contained folder in a bare Debian root, which has no Python, git or make. Linux, as root, by hand:

    apt-get install debootstrap
    python tools/bare.py FOLDER_FOR_THE_ROOT        # about 200 MB; made by debootstrap unless it is there

Prints the size of the folder, how long starts take, and what came of planning S1 there: at the command line and by the
workbench. Ends with 1 where anything is not as it should be. Papers and files of both ways are held against those of
this checkout, byte for byte.
"""

from __future__ import annotations

import io
import json
import re
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
import zipfile
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
FOLDER = ROOT / "dist" / "bossage"
EXAMPLE = "s1-fernhollow-hall"
PROGRAM, HOME = "opt/bossage/bossage", "srv"
WAIT_S = 120.0
_MISSING = ("python3", "python", "git", "make")


def main(arguments: list[str]) -> int:
    """Make the root if needed, carry the folder in, and try it."""
    (named,) = arguments
    bare = Path(named).resolve()
    if not (bare / "bin").exists():
        subprocess.run(["debootstrap", "--variant=minbase", "bookworm", str(bare)], check=True)
    there = [
        name for name in _MISSING if any((bare / folder / name).exists() for folder in ("usr/bin", "usr/local/bin"))
    ]
    if there:
        raise SystemExit(f"The root is not bare: {', '.join(there)} is there.")
    target = bare / Path(PROGRAM).parent
    shutil.rmtree(target, ignore_errors=True)
    shutil.copytree(FOLDER, target, symlinks=True)
    size_mb = sum(path.lstat().st_size for path in target.rglob("*") if not path.is_dir()) / 1e6
    print(f"The folder: {size_mb:.0f} MB.")
    for time_of in ("first", "second"):
        _, took_s = timed(bare, "--version")
        print(f"`bossage --version`, {time_of} time: {took_s:.2f} s.")
    ours = of_this_checkout()
    return max(by_command(bare, ours), by_workbench(bare, ours))


def timed(bare: Path, *words: str) -> tuple[str, float]:
    """Run the program in the root; what it said, and how long it took."""
    begun = time.monotonic()
    done = subprocess.run(_call(bare, *words), capture_output=True, text=True, timeout=WAIT_S, check=False)
    if done.returncode not in (0, 1):
        raise SystemExit(f"{' '.join(words)} ended with {done.returncode}: {done.stderr}")
    return done.stdout, time.monotonic() - begun


def of_this_checkout() -> dict[str, bytes]:
    """The papers and files of the example as this checkout makes them."""
    from bossage.run import papers, plan_only

    plan = plan_only(ROOT / "examples" / f"{EXAMPLE}.toml").plan
    assert plan is not None, "the example cannot be planned"
    return papers(plan)


def by_command(bare: Path, ours: dict[str, bytes]) -> int:
    """Plan the example at the command line."""
    text, _ = timed(bare, "example", EXAMPLE)
    (bare / HOME / "s1.toml").write_text(text, encoding="utf-8")
    shutil.rmtree(bare / HOME / "papers", ignore_errors=True)
    _, took_s = timed(bare, "plan", f"/{HOME}/s1.toml", "--out", f"/{HOME}/papers", "--quiet")
    made = {path.name: path.read_bytes() for path in (bare / HOME / "papers").iterdir() if path.name[0] != "."}
    return told(f"`bossage plan` in {took_s:.1f} s", made, ours)


def by_workbench(bare: Path, ours: dict[str, bytes]) -> int:
    """Open the workbench without a word, make the example a piece there, and order its papers as the page does."""
    begun = time.monotonic()
    with subprocess.Popen(_call(bare), stdout=subprocess.PIPE, text=True) as workbench:
        try:
            assert workbench.stdout is not None
            found = re.search(r"http://[\d.:]+/", workbench.stdout.readline())
            if found is None:
                raise SystemExit("The workbench did not say where it is.")
            page = _ask(found[0])
            print(f"The workbench without a word: its page after {time.monotonic() - begun:.1f} s.")
            for asset in re.findall(rb'(?:src|href)="/([^"]+)"', page):
                print(f"  {asset.decode()}: {len(_ask(found[0] + asset.decode()))} bytes")
            token = re.search(rb'name="bossage-token" content="([^"]+)"', page)
            made = _papers(found[0], token[1].decode() if token else "")
        finally:
            workbench.send_signal(signal.SIGTERM)
            said = workbench.communicate(timeout=WAIT_S)[0]
    print(said.strip().splitlines()[-1])
    return told("Papers of the workbench", made, {name: ours[name] for name in ours if name in made or not made})


def told(way: str, made: dict[str, bytes], ours: dict[str, bytes]) -> int:
    """Say how what was made agrees with ours; 1 where it does not."""
    other = sorted(name for name in made.keys() | ours.keys() if made.get(name) != ours.get(name))
    print(f"{way}: {len(made)} files, {'all as this checkout makes them' if not other else f'other: {other}'}.")
    return 1 if other or not made else 0


def _papers(address: str, token: str) -> dict[str, bytes]:
    example = {"from_": "example", "name": EXAMPLE}
    piece = json.loads(_ask(f"{address}api/pieces", example, token))["piece_id"]
    begun = time.monotonic()
    job = json.loads(_ask(f"{address}api/pieces/{piece}/papers", {}, token))["job_id"]
    state = ""
    while state not in ("done", "failed"):
        time.sleep(0.2)
        state = json.loads(_ask(f"{address}api/jobs/{job}"))["state"]
    print(f"Papers ordered at the workbench: {state} after {time.monotonic() - begun:.1f} s.")
    if state == "failed":
        return {}
    with zipfile.ZipFile(io.BytesIO(_ask(f"{address}api/jobs/{job}/file"))) as archive:
        return {name: archive.read(name) for name in archive.namelist()}


def _ask(address: str, body: object = None, token: str = "") -> bytes:
    headers = {"content-type": "application/json", "x-bossage-token": token}
    data = None if body is None else json.dumps(body).encode()
    with urllib.request.urlopen(urllib.request.Request(address, data, headers), timeout=WAIT_S) as answer:
        read: bytes = answer.read()
        return read


def _call(bare: Path, *words: str) -> list[str]:
    bare_env = ["env", "-i", f"HOME=/{HOME}", "PATH=/usr/bin:/bin", "LANG=C.UTF-8"]
    return ["chroot", str(bare), *bare_env, f"/{PROGRAM}", *words]


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
