"""A piece that stands off the wall with open edges breathes by its rim, whatever its cells do."""

from __future__ import annotations

from pathlib import Path

from bossage.brief import read_brief
from bossage.plan import Plan, make_plan

FIRST = (Path(__file__).parents[2] / "examples" / "first.toml").read_text()


def test_no_sum_of_open_cells_speaks_against_an_open_rim() -> None:
    # a small meter, 48 proud with 12 of air over it: the piece stands 60 off the wall, and no cell is open
    text = FIRST.replace("width = 420", "width = 90").replace("height = 520", "height = 90")
    planned = make_plan(read_brief(text.replace("proud = 18", 'needs = ["air"]\nproud = 48')))
    assert isinstance(planned, Plan)
    assert planned.layout.stand_off.stand_off_nm == 60_000_000
    assert not planned.layout.open_cells
    air = [check for check in planned.checks if "open above" in check.found or check.name in ("vent", "body_air")]
    assert [(check.name, check.verdict) for check in air] == [("body_air", "fine")]
    # by hand: what the meter can take is no more than the rim of its air, 100 × 100 and 60 deep; the cleat takes of it
    rim_mm2 = 4 * 100 * 60
    face_mm2 = 90 * 90
    for way in planned.body.ways:
        assert face_mm2 <= way.free_mm2 <= rim_mm2
