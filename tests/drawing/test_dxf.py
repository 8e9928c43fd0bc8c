"""A drawing is the same DXF file in every run, whatever order Python gives its sets."""

from __future__ import annotations

import os
import subprocess
import sys

_WRITE = """
import hashlib
from bossage.drawing.dxf import dxf_bytes
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Circle, Label, Line, Rect
shapes = (
    Rect(x_mm=0, y_mm=0, width_mm=30, height_mm=20, name="7\\u00b712"), Circle(centre=(4, 4), radius_mm=2),
    Line(start=(0, 0), end=(9, 9)), Label(at=(3, 3), text="word"),
)
print(hashlib.sha256(dxf_bytes(Drawing(title="t", description="d", shapes=shapes))).hexdigest())
"""


def test_the_same_bytes_in_every_run_of_python() -> None:
    found = {_written(seed) for seed in range(6)}
    assert len(found) == 1


def _written(seed: int) -> str:
    run = {**os.environ, "PYTHONHASHSEED": str(seed), "PYTHONPATH": os.pathsep.join(sys.path)}
    done = subprocess.run([sys.executable, "-c", _WRITE], env=run, capture_output=True, text=True, check=True)
    return done.stdout
