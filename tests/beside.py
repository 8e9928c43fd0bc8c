"""The reference folder that lies beside the repository where it is worked on; a copy alone does not have it."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

REFERENCE = Path(__file__).resolve().parents[2] / "shared" / "reference"


def beside(name: str = "") -> pytest.MarkDecorator:
    """Skips a test where the reference is not there, and says so; on the machine that checks every change it fails."""
    there = (REFERENCE / name).exists()
    reason = f"not compared: {name or 'the reference folder'} does not lie beside the repository"
    return pytest.mark.skipif(not there and os.environ.get("CI") != "true", reason=reason)
