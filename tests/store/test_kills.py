from __future__ import annotations

import os
from pathlib import Path

import pytest

from tests.store.killing import kill_often


@pytest.mark.slow
@pytest.mark.skipif(not hasattr(os, "fork"), reason="no fork on this system")
def test_a_kill_loses_no_acknowledged_change_and_shows_no_half_one(tmp_path: Path) -> None:
    seen = kill_often(tmp_path, 120, seed=20)
    assert seen.kills == 120
    assert seen.acknowledged > 120
