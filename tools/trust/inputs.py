"""Throws spoiled inputs at every door: briefs, tables, what the shop says, photos, commands, routes of the server.

    python tools/trust/inputs.py [--share 0.1] [--seed 1] [KIND ...]

Whatever is thrown must end in an answer or in a sentence: never in an error of another kind, never after more than ten
seconds of the processor or a minute of the clock, never with more than 1.5 GB. Each kind runs in a process of its own,
so that its memory is its own; as many kinds run at once as there are processors. Ends with 1 where something was found,
and prints the input that did it.
"""

from __future__ import annotations

import argparse
import contextlib
import io
import os
import random
import resource
import signal
import subprocess
import sys
import tempfile
import time
import tomllib
from collections.abc import Callable, Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path
from typing import Any

ROOT = Path(__file__).resolve().parents[2]
LONGEST_S, MOST_BYTES = 10.0, 1_500_000_000
STUCK_S = 60.0  # of the clock: who waits for something takes no time of the processor
WHOLE = {"briefs": 10_000, "plans": 100, "tables": 2_000, "photos": 3_000, "commands": 300, "routes": 40}

VALUES: tuple[Any, ...] = (
    0, -1, 1, 2**63, 1e308, float("nan"), float("inf"), True, "", " ", "0", "0.7", "-3 mm", "1/0", "9999 in", "70",
    "7" * 400, "W" * 120, "i" * 5000, "שלום", "漢字", "\u202eabc", "a\u200bb", "\x1b[2J", "=1+1", "é", "e\u0301",
    [], {}, [[]], [0] * 300,
    {"from": 1, "to": 2, "step": 0}, {"from": 0, "to": 1e6, "step": 1}, "2026-02-30", "9999-12-31", "[", '"', "#GGGGGG",
)  # fmt: skip
WORDS = (
    "[[pin]]\n",
    "[a.b.c]\n",
    "x = [[[\n",
    '"\n',
    "'''",
    "= 1\n",
    "\0",
    "\u2028",
    "{",
    "}}}}",
    "a.a.a.a.a.a.a.a.a.a = 1\n",
)


class TooLong(BaseException):
    """An input took more than `LONGEST_S`. No `except Exception` on its way may keep it."""


@dataclass(slots=True)
class Found:
    """What went wrong with one kind of input, and its figures."""

    thrown: int = 0
    answered: int = 0
    longest_s: float = 0.0
    faults: list[str] = field(default_factory=list)


def throw(found: Found, what: str, run: Callable[[], object]) -> None:
    """Run one input; an error that is no sentence, too long a time or too much memory is noted."""
    from bossage.errors import BossageError, OurFault

    found.thrown += 1
    before_s = time.process_time()
    peak = _peak_bytes()
    signal.setitimer(signal.ITIMER_PROF, LONGEST_S)
    signal.setitimer(signal.ITIMER_REAL, STUCK_S)
    try:
        run()
        found.answered += 1
    except OurFault as fault:
        found.faults.append(f"{what}\n  {fault} {fault.said[:300]}")
    except BossageError:
        pass
    except TooLong:
        found.faults.append(f"{what}\n  took more than {LONGEST_S:.0f} s, or was stuck for {STUCK_S:.0f} s")
    except (Exception, SystemExit) as error:
        found.faults.append(f"{what}\n  {type(error).__name__}: {str(error)[:300]}")
    finally:
        signal.setitimer(signal.ITIMER_PROF, 0)
        signal.setitimer(signal.ITIMER_REAL, 0)
    found.longest_s = max(found.longest_s, time.process_time() - before_s)
    if _peak_bytes() > max(peak, MOST_BYTES):
        found.faults.append(f"{what}\n  took {_peak_bytes() / 1e9:.1f} GB")


def briefs(count: int, chance: random.Random) -> Found:
    """Spoiled briefs are read; what is still a brief is not planned here."""
    from bossage.brief import read_brief

    found = Found()
    for text in _spoiled_briefs(count, chance):
        throw(found, text, lambda text=text: read_brief(text))  # type: ignore[misc]
    return found


def plans(count: int, chance: random.Random) -> Found:
    """Spoiled briefs that are still briefs are planned and set on paper."""
    from bossage.brief import read_brief
    from bossage.errors import BossageError
    from bossage.pack import Form, Order, ordered_files
    from bossage.plan import Plan, make_plan

    def whole(text: str) -> None:
        plan = make_plan(read_brief(text))
        if isinstance(plan, Plan):
            ordered_files(plan, Order(sheets=("first", "map", "saw"), forms=(Form.PRINT,)))

    found = Found()
    for text in _spoiled_briefs(100 * count, chance, of=("first",), changes=2):
        try:
            read_brief(text)
        except BossageError:
            continue
        throw(found, text, lambda text=text: whole(text))  # type: ignore[misc]
        if found.thrown >= count:
            break
    return found


def tables(count: int, chance: random.Random) -> Found:
    """Counts of trays, words of the shop and readings of cards."""
    from bossage.brief import read_brief
    from bossage.cli_card import typed_readings
    from bossage.pack.tables import csv_files
    from bossage.plan import Plan, make_plan
    from bossage.replan import standing_of
    from bossage.replan.shop import Said

    plan = make_plan(read_brief(_example("first")))
    assert isinstance(plan, Plan)
    standing = standing_of(plan)
    card_brief = read_brief(_example("s7-hollin-yard"))
    counts = csv_files(plan)["counts.csv"].decode("utf-8")
    shop = 'glued = ["rows 1-2", "3·4"]\nspoiled = ["3·3"]\n[trays]\n"70/18" = 3\n[lost]\n"70/24" = 1\n'
    cards = '"fern 20:1" = [71.2, -9.4, 8.8]\n"fern neat" = "#4A6B4E"\n'
    found = Found()
    for number in range(count):
        kind, text = ("csv", counts) if number % 2 else ("toml", shop)
        # short texts: one change each, or little would be read beyond the first fault
        text = _spoiled(text, chance, 1)
        said = Said(standing=standing)
        throw(found, text, lambda s=said, k=kind, t=text: (s.read_csv if k == "csv" else s.read_toml)(t, "x"))  # type: ignore[misc]
        text = _spoiled(cards, chance, 1)
        throw(found, text, lambda t=text, k=kind: typed_readings(t, f".{k}", card_brief))  # type: ignore[misc]
    return found


def photos(count: int, chance: random.Random) -> Found:
    """Photos of cards and of pieces with bytes changed, cut, or lying about their size."""
    import numpy as np
    from PIL import Image
    from tests.store.mutants import mutant_bytes

    from bossage.colour.card import open_photo
    from bossage.store.images import clean_photo

    whole = []
    pixels = np.random.default_rng(chance.randrange(2**32)).integers(0, 255, (90, 120, 3), dtype=np.uint8)
    smooth = Image.linear_gradient("L").resize((400, 300)).convert("RGB")
    for form in ("JPEG", "PNG", "WEBP"):
        for picture in (Image.fromarray(pixels), smooth):
            out, exif = io.BytesIO(), Image.Exif()
            exif[0x0112], exif[0x010E] = 6, "note"
            picture.save(out, form, exif=exif)
            whole.append(out.getvalue())
    found = Found()
    for number in range(count):
        data = chance.choice(whole)
        # the size and the kind stand at the beginning, where a change at random seldom falls
        head = chance.choice((40, 400)) if number % 2 else len(data)
        data = mutant_bytes(data[:head], chance) + data[head:]
        for door in (open_photo, clean_photo):
            throw(found, data[:60].hex(), lambda d=door, b=data: d(b))  # type: ignore[misc]
    return found


def commands(count: int, chance: random.Random) -> Found:
    """Every command with spoiled words and files: an exit code that is documented, and no traceback."""
    from bossage.cli import main

    found = Found()
    with tempfile.TemporaryDirectory() as folder:
        os.chdir(folder)
        for number in range(count):
            file = Path(folder) / f"in{chance.choice(['.toml', '.csv', '.json', '.jpg', ''])}"
            file.write_bytes(_spoiled(_example("first"), chance).encode("utf-8", "surrogatepass"))
            words = _command(str(file), number, chance)
            throw(found, " ".join(words), lambda w=words: _ran(main, w))  # type: ignore[misc]
    os.chdir(ROOT)
    return found


def routes(count: int, chance: random.Random) -> Found:
    """Every route of the server with made-up requests, by the tests that describe them."""
    found = Found(thrown=count)
    tests = "tests/web/test_described.py::test_every_answer_is_as_described"
    call = [sys.executable, "-m", "pytest", "-q", "-x", tests]
    drawn = str(chance.randrange(2**32))
    run = {**os.environ, "BOSSAGE_ROUTE_EXAMPLES": str(max(count, 1)), "BOSSAGE_ROUTE_SEED": drawn}
    done = subprocess.run(call, cwd=ROOT, env=run, capture_output=True, text=True, check=False)
    if done.returncode != 0:
        found.faults.append(done.stdout[-3_000:])
    return found


def _ran(main: Callable[[list[str]], int], words: list[str]) -> None:
    out, err = io.TextIOWrapper(io.BytesIO(), "utf-8"), io.StringIO()
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        code = main(words)
    if code not in (0, 1, 2, 3, 4) or "Traceback" in err.getvalue():
        raise AssertionError(f"exit {code}: {err.getvalue()[-400:]}")


def _command(file: str, number: int, chance: random.Random) -> list[str]:
    odd = chance.choice(
        ["nan", "", "-1", "9" * 30, "\x00", "W" * 300, "שלום", "../..", "=1", "7·1 = x", "inf,1,2", file]
    )
    store = ["--store", f"{file}.db"]
    all_of_them: list[list[str]] = [
        ["check", file], ["sizes", file], ["plan", file, "--out", f"{file}-out", "--sheets", odd],
        ["survey", "--out", f"{file}-s", "--paper", odd], ["replan", file, "--glued", odd],
        ["replan", file, "--tray", odd], ["replan", file, "--shop", file],
        ["read-card", file, "--brief", file, "--corners", odd],
        ["read-card", file, "--brief", file, "--greys", odd], ["open", "--port", odd], ["pieces", *store],
        ["keep", file, *store], ["brief", odd or "x", *store], ["example", odd], ["schema", odd], [odd, file],
    ]  # fmt: skip
    return all_of_them[number % len(all_of_them)]


def _spoiled_briefs(count: int, chance: random.Random, *, of: tuple[str, ...] = (), changes: int = 3) -> Iterator[str]:
    import tomlkit

    names = of or tuple(path.stem for path in sorted((ROOT / "examples").glob("*.toml")))
    for number in range(count):
        text = _example(chance.choice(names))
        if number % 2:
            yield _spoiled(text, chance)
            continue
        body = tomllib.loads(text)
        for _ in range(chance.randint(1, changes)):
            _change(body, chance)
        try:
            yield tomlkit.dumps(body)
        except (ValueError, TypeError, OverflowError):
            yield _spoiled(text, chance)


def _change(body: Any, chance: random.Random) -> None:
    """One value somewhere within becomes another, goes, or comes twice."""
    while True:
        keys = list(body) if isinstance(body, dict) else list(range(len(body)))
        if not keys:
            return
        key = chance.choice(keys)
        if isinstance(body[key], dict | list) and body[key] and chance.random() < 0.8:
            body = body[key]
            continue
        kind = chance.random()
        if kind < 0.15:
            del body[key]
        elif kind < 0.3 and isinstance(body, list):
            body.extend([body[key]] * chance.choice((1, 3, 200)))
        elif kind < 0.5 and type(body[key]) in (int, float):
            body[key] = body[key] * chance.choice((0, -1, 0.01, 0.1, 2, 10, 1000))
        else:
            body[key] = chance.choice(VALUES)
        return


def _spoiled(text: str, chance: random.Random, most: int = 4) -> str:
    """The text with a few places changed, cut, doubled or filled with words that parsers stumble over."""
    for _ in range(chance.randint(1, most)):
        at = chance.randrange(len(text) + 1)
        to = min(len(text), at + chance.choice((1, 1, 3, 30, 300)))
        middle = chance.choice(("", text[at:to] * 2, chance.choice(WORDS), str(chance.choice(VALUES))[:500]))
        text = text[:at] + middle + text[to:]
    return text


@cache
def _example(name: str) -> str:
    return (ROOT / "examples" / f"{name}.toml").read_text(encoding="utf-8")


def _peak_bytes() -> int:
    peak = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    return peak if sys.platform == "darwin" else peak * 1024


def _stop(number: int, frame: object) -> None:
    raise TooLong


KINDS: dict[str, Callable[[int, random.Random], Found]] = {
    "briefs": briefs, "plans": plans, "tables": tables, "photos": photos, "commands": commands, "routes": routes,
}  # fmt: skip


def main() -> int:
    """Throw all kinds, or those named."""
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("kinds", nargs="*", choices=[*KINDS, []], default=[])
    parser.add_argument("--share", type=float, default=1.0)
    parser.add_argument("--seed", type=int, default=1)
    asked = parser.parse_args()
    if len(asked.kinds) == 1:
        return _one_kind(asked.kinds[0], asked.share, asked.seed)
    kinds = asked.kinds or list(KINDS)

    def run(kind: str) -> int:
        call = [sys.executable, __file__, kind, "--share", str(asked.share), "--seed", str(asked.seed)]
        return subprocess.run(call, check=False).returncode

    with ThreadPoolExecutor(os.cpu_count()) as several:
        return max(several.map(run, kinds))


def _one_kind(kind: str, share: float, seed: int) -> int:
    sys.path.insert(0, str(ROOT))
    signal.signal(signal.SIGALRM, _stop)
    signal.signal(signal.SIGPROF, _stop)
    before_s = time.perf_counter()
    found = KINDS[kind](max(1, round(share * WHOLE[kind])), random.Random(f"{kind} {seed}"))
    print(
        f"{kind:<9} {found.thrown:>6,} thrown, {found.answered:>6,} answered, longest {found.longest_s:4.1f} s, "
        f"peak {_peak_bytes() / 1e9:.2f} GB, {time.perf_counter() - before_s:.0f} s in all, {len(found.faults)} faults",
        flush=True,
    )
    for fault in found.faults[:10]:
        print(fault[-2_000:])
    return 1 if found.faults else 0


if __name__ == "__main__":
    sys.exit(main())
