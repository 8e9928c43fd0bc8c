"""Files changed in small ways, as accident and malice change them; for tests and for the harness."""

from __future__ import annotations

import json
import random
from collections.abc import Iterator
from typing import Any

#: What is put in the place of a value.
ODD: tuple[Any, ...] = (
    *(None, True, False, 0, -1, 1, 2, 5, 10**9, 10**9 + 1, 2**63, -(2**63), 10**400, 1e308, float("nan"), float("inf")),
    *("", "a", "\x00", "\ud800", "é", "𝔸", "\u202e", "9999-12-31T23:59:59Z", "2026-02-30T00:00:00Z", "x" * 2000),
    *("date = 2026-12-01", "a = nan", "[[[[", "a.b.c.d = 1\n" * 50, "a = " + "[" * 500, "=", "fine", "stop"),
    *([], {}, [[]], [{}], {"": 1}, [0] * 50),
)


def mutants(data: bytes, rng: random.Random, count: int) -> Iterator[bytes]:
    """Mutants of a JSON file: values put in others' places, taken away, given twice; bytes turned, cut and doubled."""
    for _ in range(count):
        if rng.random() < 0.75:
            body = json.loads(data)
            for _ in range(rng.choice((1, 1, 1, 2, 4))):
                _change(body, rng)
            yield json.dumps(body, ensure_ascii=rng.random() < 0.9).encode("utf-8", "surrogatepass")
        else:
            yield mutant_bytes(data, rng)


def mutant_bytes(data: bytes, rng: random.Random) -> bytes:
    """A file of any kind with some bytes turned, cut out, doubled or put in."""
    made = bytearray(data)
    for _ in range(rng.choice((1, 1, 2, 8))):
        at = rng.randrange(max(1, len(made)))
        kind = rng.randrange(5)
        if kind == 0 and made:
            made[at] = rng.randrange(256)
        elif kind == 1:
            del made[at : at + rng.choice((1, 4, 100, len(made)))]
        elif kind == 2:
            made[at:at] = made[at : at + rng.choice((1, 10, 1000))]
        elif kind == 3:
            made[at:at] = rng.randbytes(rng.choice((1, 4, 40)))
        else:
            made[at : at + 4] = rng.choice((b"\xff\xff\xff\xff", b"\x00\x00\x00\x00", b"\x7f\xff\xff\xff"))
    return bytes(made)


def _change(body: Any, rng: random.Random) -> None:
    """Change one place, found by a walk from the top."""
    here, holder, key = body, None, None
    while isinstance(here, dict | list) and here and (holder is None or rng.random() < 0.8):
        holder, key = here, rng.choice(list(here) if isinstance(here, dict) else range(len(here)))
        here = here[key]
    if holder is None:
        return
    kind = rng.randrange(5)
    if kind == 0:
        del holder[key]
    elif kind == 1 and isinstance(holder, list):
        holder.append(json.loads(json.dumps(here)))
    elif kind == 2 and isinstance(here, str):
        at = rng.randrange(len(here) + 1)
        holder[key] = here[:at] + str(rng.choice(("\x00", "\ud800", '"', "[", "\n", "-", "9"))) + here[at:]
    elif kind == 3 and isinstance(here, int) and not isinstance(here, bool):
        holder[key] = here + rng.choice((-1, 1, 10**9, -(10**9), 10**20))
    else:
        holder[key] = rng.choice(ODD)
