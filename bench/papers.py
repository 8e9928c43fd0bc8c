"""Papers beside Typst alone, and how much memory the papers of 20,000 blocks take.

python bench/papers.py                 every sheet of S2, then the pack and each sheet on request of 20,000 blocks
python bench/papers.py --runs 9        more rounds of S2
python bench/papers.py --blocks 5000   a smaller large piece; 0 leaves it out

S2: from the finished plan to one PDF of every sheet, its lit picture and every drawing counted, beside Typst alone on
the very files that it was given: the same pages to the last byte, turn about, each in a fresh process, bound 1.5 times.
The large piece: the highest resident memory that the process and the one that sets the PDF ever had, summed, each paper
in a process of its own, bound 2 GB (2 × 10^9 bytes).
"""

from __future__ import annotations

import argparse
import gc
import hashlib
import json
import pickle
import re
import resource
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from bossage.brief import read_brief
from bossage.pack import SHEETS, files, typeset
from bossage.pack.catalogue import ON_REQUEST
from bossage.pack.order import Form, read_order
from bossage.plan import Plan, make_plan

ROOT = Path(__file__).resolve().parents[1]
S2 = ROOT / "examples" / "s2-brenlow-terrace.toml"
TIMES_MOST, BYTES_MOST = 1.5, 2 * 10**9
KIB = 1024  # the unit of ru_maxrss on Linux


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--runs", type=int, default=5)
    parser.add_argument("--blocks", type=int, default=20_000)
    parser.add_argument("--one", default="", help=argparse.SUPPRESS)
    parser.add_argument("--ours", action="store_true", help=argparse.SUPPRESS)
    parser.add_argument("--alone", type=Path, help=argparse.SUPPRESS)
    asked = parser.parse_args()
    if asked.ours or asked.alone:
        side(asked.alone)
        return
    if asked.one:
        one_paper(asked.blocks, asked.one)
        return
    times = beside_typst(asked.runs)
    most = large_piece(asked.blocks) if asked.blocks else 0
    if times > TIMES_MOST or most > BYTES_MOST:
        raise SystemExit("over the bound")


def beside_typst(runs: int) -> float:
    """All sheets of S2, plan to PDF, over Typst alone on the same input: medians, and their ratio.

    Each in a process of its own, turn about: Typst remembers what it has set in a process.
    """
    with tempfile.TemporaryDirectory() as folder:
        given = Path(folder) / "given"
        plan = planned(S2.read_text(encoding="utf-8"))
        given.write_bytes(
            pickle.dumps(files.pdf_input(plan, files.pack_sheets(plan, SHEETS), files.wall_picture(plan), Form.PRINT))
        )
        pairs = [(child("--ours"), child("--alone", str(given))) for _ in range(runs)]
    assert len({one["sha"] for pair in pairs for one in pair}) == 1, "not the same pages"
    whole, bare = (statistics.median(one["seconds"] for one in column) for column in zip(*pairs, strict=True))
    ratio: float = statistics.median(ours["seconds"] / alone["seconds"] for ours, alone in pairs)
    print(f"every sheet of S2, {pairs[0][0]['pages']} pages, {runs} rounds")
    print(f"  plan to PDF    {whole:6.2f} s")
    print(f"  Typst alone    {bare:6.2f} s   ours is {ratio:.2f} times it, bound {TIMES_MOST}")
    return ratio


def side(given: Path | None) -> None:
    """In a process of its own: ours, or Typst alone on what was given; what it took as JSON."""
    import typst  # noqa: F401  both sides have it at hand when the clock starts

    if given is None:
        plan = planned(S2.read_text(encoding="utf-8"))
        gc.freeze()  # as `bossage plan` does
        start = time.perf_counter()
        pdf = all_sheets(plan)
    else:
        template, inputs = pickle.loads(given.read_bytes())
        start = time.perf_counter()
        pdf = typeset.compile_pdf(template, inputs)
    seconds = time.perf_counter() - start
    pages = len(re.findall(rb"/Type\s*/Page\b", pdf))
    print(json.dumps({"seconds": seconds, "sha": hashlib.sha256(pdf).hexdigest(), "pages": pages}))


def child(*words: str) -> dict[str, Any]:
    """What another process of this script found."""
    run = subprocess.run([sys.executable, __file__, *words], check=True, capture_output=True, text=True)
    found: dict[str, Any] = json.loads(run.stdout)
    return found


def all_sheets(plan: Plan) -> bytes:
    """Every sheet, those on request too, with the picture."""
    return files.pack_pdf(plan, files.wall_picture(plan), sheets=SHEETS)


def large_piece(blocks: int) -> int:
    """Each paper of a large piece in a process of its own; the highest memory of all, in bytes."""
    print(f"{blocks} blocks, each paper in a process of its own")
    most = 0
    for paper in ("pack", "pack large", "pack text", *ON_REQUEST):
        found = child("--blocks", str(blocks), "--one", paper)
        most = max(most, found["bytes"])
        print(
            f"  {paper:<12}{found['bytes'] / 1e9:6.2f} GB  {found['seconds']:6.1f} s  "
            f"{found['megabytes']:6.1f} MB in {found['files']} files"
        )
    print(f"  most {most / 1e9:.2f} GB, {'within' if most <= BYTES_MOST else 'OVER'} {BYTES_MOST / 1e9:g} GB")
    return most


def one_paper(blocks: int, paper: str) -> None:
    """Plans, makes one paper, and prints what it took as JSON."""
    plan = planned(large_brief(blocks))
    name, _, form = paper.partition(" ")
    order = read_order(sheets="" if name == "pack" else name, form=form or Form.PRINT.value)
    start = time.perf_counter()
    made = files.ordered_files(plan, order)
    seconds = time.perf_counter() - start
    own, child = (resource.getrusage(who).ru_maxrss * KIB for who in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN))
    total = sum(map(len, made.values()))
    # Both are alive while the PDF is set.
    print(json.dumps({"bytes": own + child, "seconds": seconds, "megabytes": total / 1e6, "files": len(made)}))


def planned(text: str) -> Plan:
    made = make_plan(read_brief(text))
    assert isinstance(made, Plan), made
    return made


def large_brief(blocks: int) -> str:
    """A piece twice as wide as high, of equal blocks on one leaf."""
    rows = max(4, round((blocks / 2) ** 0.5))
    columns = round(blocks / rows)
    width_mm, height_mm = 38 * columns, 38 * rows
    return f"""
[piece]
name = "{columns * rows} blocks"
unit = "mm"

[wall]
width = {width_mm + 1200}
height = {height_mm + 600}
build = "masonry"

[[fixture]]
name = "hatch"
kind = "hatch"
x = {600 + width_mm // 4}
y = {300 + height_mm // 4}
width = {width_mm // 2}
height = {height_mm // 2}
proud = 18

[blocks]
columns = {columns}
rows = {rows}
gap = 0
levels = [18, 22, 26, 30, 35, 40]

[[footprint]]
name = "38"
width = 38
height = 38

[[leaf]]
name = "whole"
x = 600
y = 300

[[family]]
name = "lichen"
colour = "#B4BA92"
lightness = [82, 74, 66]
home = "left"

[[family]]
name = "clay"
colour = "#B58E6F"
lightness = [66, 58]
home = "right"
"""


if __name__ == "__main__":
    main()
