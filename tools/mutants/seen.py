"""A plugin of pytest: which lines of the package each test runs, its fixtures with it.

    BOSSAGE_SEEN=out.json PYTHONPATH=src:.:tools/mutants python -m pytest -p seen tests/hang/test_lift.py

Written is, by the name of each test without its parameters, how long it took and which lines ran; under "" what ran
while the tests were collected.
"""

from __future__ import annotations

import json
import os
import time
from collections import defaultdict
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from tests.ran import Marks

import bossage

MARKS = Marks(Path(bossage.__file__).parent, lines=True)
MARKS.watch()
LINES: defaultdict[str, set[tuple[str, int | str]]] = defaultdict(set)
TOOK_S: defaultdict[str, float] = defaultdict(float)


def pytest_collection_finish() -> None:
    """What ran by now ran because modules were loaded."""
    LINES[""] |= MARKS.seen()
    MARKS.wipe()


@pytest.hookimpl(hookwrapper=True)
def pytest_runtest_protocol(item: Any) -> Iterator[None]:
    """One test with all that was set up for it."""
    begun_s = time.process_time()
    yield
    name = item.nodeid.split("[")[0]
    TOOK_S[name] += time.process_time() - begun_s
    LINES[name] |= MARKS.seen()
    MARKS.wipe()


def pytest_sessionfinish() -> None:
    """Write it all down."""
    out = {}
    for name, places in LINES.items():
        by_file: defaultdict[str, list[int]] = defaultdict(list)
        for file, line in places:
            by_file[file].append(int(line))
        lines = {file: sorted(those) for file, those in sorted(by_file.items())}
        out[name] = {"took_s": round(TOOK_S[name], 2), "lines": lines}
    Path(os.environ["BOSSAGE_SEEN"]).write_text(json.dumps(out), encoding="utf-8")
