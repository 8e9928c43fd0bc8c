"""Files for other programs, opened by other programs: drawings as DXF and SVG, the model as GLB, CSV, calendar."""

from __future__ import annotations

import csv
import io
import json
import shutil
import subprocess
from dataclasses import replace
from functools import cache
from pathlib import Path

import ezdxf
import icalendar
import numpy as np
import pytest
import trimesh
from tests.scenarios.cases import plan_of

from bossage.layout.records import Zone
from bossage.pack import Order, ordered_files, pack_files
from bossage.pack.exports import Export, export_files, leaf_slug
from bossage.pack.order import read_order

SCENARIOS = ("S2", "S7", "S3")  # one leaf, an edge ring, three leaves
VALIDATOR = Path(__file__).parents[1] / "drawing" / "validate_glb.mjs"
PACKAGE = Path(__file__).parents[2] / "ui" / "node_modules" / "gltf-validator"


@cache
def exported(scenario: str) -> dict[str, bytes]:
    return export_files(plan_of(scenario), tuple(Export))


@pytest.fixture(params=SCENARIOS)
def scenario(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_each_drawing_comes_as_svg_and_dxf_and_again_byte_for_byte(scenario: str):
    files = exported(scenario)
    names = {Path(name).stem for name in files if name.startswith("drawings/")}
    for name in names:
        assert {f"drawings/{name}.svg", f"drawings/{name}.dxf"} <= set(files)
    assert {"wall"} < names
    assert ("ring" in names) == (scenario == "S7")
    assert export_files(plan_of(scenario), tuple(Export)) == files


def test_dxf_has_nothing_to_mend_is_in_millimetres_and_closes_its_outlines(scenario: str):
    for name, data in exported(scenario).items():
        if not name.endswith(".dxf"):
            continue
        document = ezdxf.read(io.StringIO(data.decode("utf-8")))
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], []), name
        assert document.units == ezdxf.units.MM
        outlines = [line for line in document.modelspace().query("LWPOLYLINE") if line.dxf.layer != "notches"]
        assert outlines
        assert all(line.closed for line in outlines), name


def test_outlines_of_blocks_in_the_map_are_those_of_the_plan(scenario: str):
    plan = plan_of(scenario)
    blocks = plan.layout.blocks
    for number, leaf in enumerate(plan.layout.leaves):
        data = exported(scenario)[f"drawings/map{leaf_slug(plan, leaf)}.dxf"]
        space = ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace()
        drawn = {}
        for line in space.query('LWPOLYLINE[layer=="blocks"]'):
            corners = np.array([point[:2] for point in line.get_points()])
            name = line.get_xdata("BOSSAGE")[0].value
            drawn[name] = (*corners.min(axis=0), *np.ptp(corners, axis=0))
        mine = np.flatnonzero(blocks.leaf == number).tolist()
        assert set(drawn) == {blocks.address(block) for block in mine}
        for block in mine:
            want = [int(field[block]) / 1e6 for field in (blocks.x_nm, blocks.y_nm, blocks.width_nm, blocks.height_nm)]
            assert drawn[blocks.address(block)] == pytest.approx(want, abs=1e-6)


def test_points_to_drill_lie_where_the_screws_of_the_cleat_go(scenario: str):
    plan = plan_of(scenario)
    for leaf in plan.layout.leaves:
        data = exported(scenario)[f"drawings/backer{leaf_slug(plan, leaf)}.dxf"]
        space = ezdxf.read(io.StringIO(data.decode("utf-8"))).modelspace()
        holes = sorted(
            (round(c.dxf.center.x, 4), round(c.dxf.center.y, 4)) for c in space.query('CIRCLE[layer=="drill"]')
        )
        hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
        screws = hung.cleat.panel.screws if hung.cleat else ()
        right_nm, foot_nm = leaf.backer_x_nm - leaf.x_nm + leaf.backer_width_nm, leaf.backer_y_nm - leaf.y_nm
        want = sorted(
            (round((right_nm - s.from_leaf_left_nm) / 1e6, 4), round((s.from_leaf_foot_nm - foot_nm) / 1e6, 4))
            for s in screws
        )
        assert holes == want
        assert bool(want) == (scenario != "S7")


def test_the_model_holds_as_much_wood_as_the_plan(scenario: str):
    plan = plan_of(scenario)
    blocks = plan.layout.blocks
    scene = trimesh.load(io.BytesIO(exported(scenario)["piece.glb"]), file_type="glb")
    volume_mm3 = 1e9 * sum(mesh.volume for mesh in scene.geometry.values())
    faces = blocks.width_nm / 1e6 * (blocks.height_nm / 1e6)
    want = float((faces * (plan.relief.length_nm / 1e6)).sum()) + sum(
        leaf.backer_width_nm / 1e6 * leaf.backer_height_nm / 1e6 * plan.layout.backer_nm / 1e6
        for leaf in plan.layout.leaves
    )
    assert volume_mm3 == pytest.approx(want, rel=0.001)
    (low, high) = scene.bounds * 1000
    assert high[2] == pytest.approx(plan.layout.depth_nm / 1e6, abs=0.01)
    assert low[2] == pytest.approx(plan.layout.stand_off.stand_off_nm / 1e6, abs=0.01)
    assert high[0] - low[0] == pytest.approx(plan.layout.width_nm / 1e6, abs=0.01)
    assert sum(len(mesh.faces) for mesh in scene.geometry.values()) == 12 * (blocks.count + len(plan.layout.leaves))


def test_each_block_of_the_model_has_the_colour_of_its_shade():
    plan = plan_of("S2")
    scene = trimesh.load(io.BytesIO(exported("S2")["piece.glb"]), file_type="glb", process=False)
    mesh = next(mesh for name, mesh in scene.geometry.items() if name.startswith("blocks"))
    colours = mesh.visual.vertex_attributes["color"][::24][:, :3]
    assert len(colours) == plan.layout.blocks.count
    shown = {}
    for block, colour in enumerate(colours.tolist()):
        shown.setdefault(int(plan.fade.shade[block]), set()).add(tuple(colour))
    assert all(len(one) == 1 for one in shown.values())
    assert len({next(iter(one)) for one in shown.values()}) == len(shown)


@pytest.mark.skipif(
    shutil.which("node") is None or not PACKAGE.exists(), reason="node or the validator's package is not there"
)
def test_the_khronos_validator_finds_nothing(scenario: str, tmp_path: Path):
    path = tmp_path / "piece.glb"
    path.write_bytes(exported(scenario)["piece.glb"])
    said = subprocess.run(["node", str(VALIDATOR), str(path)], capture_output=True, text=True, check=True).stdout
    issues = json.loads(said)[str(path)]
    assert issues["messages"] == []
    assert (issues["numErrors"], issues["numWarnings"]) == (0, 0)


def test_ring_blocks_begin_at_the_back_of_the_backer():
    plan = plan_of("S7")
    scene = trimesh.load(io.BytesIO(exported("S7")["piece.glb"]), file_type="glb", process=False)
    mesh = next(mesh for name, mesh in scene.geometry.items() if name.startswith("blocks"))
    feet_mm = 1000 * mesh.vertices.reshape(-1, 24, 3)[:, :, 2].min(axis=1)
    ring = plan.layout.blocks.zone == int(Zone.RING)
    assert set(np.round(feet_mm[ring], 3)) == {plan.layout.stand_off.stand_off_nm / 1e6}
    assert set(np.round(feet_mm[~ring], 3)) == {(plan.layout.stand_off.stand_off_nm + plan.layout.backer_nm) / 1e6}


def test_tables_name_their_units_and_hold_plain_numbers(scenario: str):
    files = ordered_files(plan_of(scenario), Order(forms=()))
    for name in ("blocks.csv", "cuts.csv", "counts.csv"):
        rows = list(csv.reader(io.StringIO(files[name].decode("utf-8"), newline="")))
        measured = [column for column, head in enumerate(rows[0]) if head.endswith(("_mm", "_ml", "_mm2"))]
        assert measured
        for row in rows[1:]:
            assert len(row) == len(rows[0])
            assert all(float(row[column]) >= 0 for column in measured if row[column])


def test_the_calendar_is_read_by_another_program():
    plan = plan_of("S2")
    dated = replace(plan, brief=replace(plan.brief, piece=replace(plan.brief.piece, date="2026-12-01")))
    calendar = icalendar.Calendar.from_ical(pack_files(dated, sheets=("days",))["calendar.ics"])
    events = list(calendar.walk("VEVENT"))
    assert len(events) > 3
    assert all(event["UID"] and event["DTSTAMP"] and event["DTSTART"] for event in events)
    assert len({str(event["UID"]) for event in events}) == len(events)


def test_kinds_of_files_are_asked_for_by_name():
    assert read_order(files="glb, dxf").exports == (Export.DXF, Export.GLB)
    assert read_order(files="all").exports == tuple(Export)
    assert read_order().exports == ()
