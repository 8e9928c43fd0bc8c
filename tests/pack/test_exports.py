"""Drawings for other programs, opened by other programs: what is read back equals the plan, block for block."""

from __future__ import annotations

import io
from functools import cache
from pathlib import Path
from xml.etree import ElementTree as ET

import ezdxf
import numpy as np
import pytest
import resvg_py
from ezdxf.document import Drawing as Dxf
from PIL import Image
from tests.pack.exported import CASES, case_plan, exported

from bossage.body import Role
from bossage.layout.records import Zone
from bossage.pack.exports import Export, export_files, leaf_slug, wall_slugs
from bossage.pack.order import read_order
from bossage.plan import Plan

SVG = "{http://www.w3.org/2000/svg}"
Outlines = dict[str, tuple[float, float, float, float]]  # name: left, bottom, width, height


@pytest.fixture(params=CASES)
def case(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def test_each_drawing_comes_as_svg_and_dxf(case: str):
    plan, files = case_plan(case), exported(case)
    slugs = [leaf_slug(plan, leaf) for leaf in plan.layout.leaves]
    kinds = ["map", "backer", "back", "cut", *(["ring"] if plan.press.ring is not None else [])]
    names = {f"{kind}{slug}" for kind in kinds for slug in slugs} | {f"wall{slug}" for slug in wall_slugs(plan)}
    assert len(set(slugs)) == len(slugs)
    drawings = {f"drawings/{name}.{end}" for name in names for end in ("svg", "dxf")}
    assert {name for name in files if name.startswith("drawings/")} == drawings


def test_the_same_plan_gives_the_same_bytes():
    assert export_files(case_plan("S7"), tuple(Export)) == exported("S7")


def test_dxf_has_nothing_to_mend_is_in_millimetres_names_its_layers_and_closes_its_outlines(case: str):
    for name in drawings(case, "dxf"):
        document = opened(case, name)
        audit = document.audit()
        assert (audit.errors, audit.fixes) == ([], []), name
        assert document.units == ezdxf.units.MM
        used = {entity.dxf.layer for entity in document.modelspace()}
        assert used <= {layer.dxf.name for layer in document.layers}
        assert "0" not in used, "nothing lies on a layer without a name"
        outlines = [line for line in document.modelspace().query("LWPOLYLINE") if line.dxf.layer != "notches"]
        assert all(line.closed for line in outlines), name


def test_every_block_of_the_map_is_that_of_the_plan_in_both_forms(case: str):
    plan = case_plan(case)
    for number, leaf in enumerate(plan.layout.leaves):
        want = block_outlines(plan, np.flatnonzero(plan.layout.blocks.leaf == number))
        slug = leaf_slug(plan, leaf)
        assert same(dxf_outlines(case, f"map{slug}", "blocks"), want, 1e-6)
        drawn, _ = svg_outlines(case, f"map{slug}", "blocks")
        # SVG counts from its own upper left corner: the first block tells where that lies.
        name = next(iter(want))
        dx, dy = (want[name][side] - drawn[name][side] for side in (0, 1))
        assert same({one: (x + dx, y + dy, w, h) for one, (x, y, w, h) in drawn.items()}, want, 0.003)


def test_blocks_of_the_ring_template_are_those_of_the_plan_seen_from_the_back(case: str):
    plan = case_plan(case)
    blocks = plan.layout.blocks
    if plan.press.ring is None:
        assert not (blocks.zone == int(Zone.RING)).any()
        return
    for number, leaf in enumerate(plan.layout.leaves):
        ring = np.flatnonzero((blocks.leaf == number) & (blocks.zone == int(Zone.RING)))
        right, foot = (leaf.x_nm + leaf.width_nm) / 1e6, leaf.y_nm / 1e6
        want = {
            name: (right - left - width, low - foot, width, height)
            for name, (left, low, width, height) in block_outlines(plan, ring).items()
        }
        assert len(want) > 4
        assert same(dxf_outlines(case, f"ring{leaf_slug(plan, leaf)}", "ring"), want, 1e-6)


def test_backer_and_the_points_to_drill_lie_where_cleat_and_plan_have_them(case: str):
    plan = case_plan(case)
    for leaf in plan.layout.leaves:
        slug = leaf_slug(plan, leaf)
        size = (leaf.backer_width_nm / 1e6, leaf.backer_height_nm / 1e6)
        assert same(dxf_outlines(case, f"backer{slug}", "backer"), {leaf.name: (0.0, 0.0, *size)}, 1e-6)
        space = opened(case, f"backer{slug}").modelspace()
        holes = sorted((c.dxf.center.x, c.dxf.center.y) for c in space.query('CIRCLE[layer=="drill"]'))
        hung = next(one for one in plan.hang.leaves if one.leaf == leaf.name and one.copy == leaf.copy)
        screws = hung.cleat.panel.screws if hung.cleat else ()
        right_nm, foot_nm = leaf.backer_x_nm - leaf.x_nm + leaf.backer_width_nm, leaf.backer_y_nm - leaf.y_nm
        want = sorted(
            ((right_nm - screw.from_leaf_left_nm) / 1e6, (screw.from_leaf_foot_nm - foot_nm) / 1e6) for screw in screws
        )
        assert len(holes) == len(want)
        assert np.allclose(np.array(holes), np.array(want), atol=1e-6)
        assert all(0 < x < size[0] and 0 < y < size[1] for x, y in holes)
        if hung.cleat is not None:
            assert holes
            across = {2 * c.dxf.radius for c in space.query('CIRCLE[layer=="drill"]')}
            assert across == {hung.cleat.panel.hole_in_backer_mm}


def test_the_back_has_every_part_by_name_where_the_body_has_it_seen_from_behind(case: str):
    plan = case_plan(case)
    for leaf in plan.layout.leaves:
        parts = plan.body.of(leaf.name, leaf.copy)
        backer = next(part for part in parts if part.role is Role.BACKER)
        want = {
            part.name: (
                (backer.to_x_nm - part.to_x_nm) / 1e6,
                (part.box.y0 - backer.box.y0) / 1e6,
                part.length_nm / 1e6,
                (part.box.y1 - part.box.y0) / 1e6,
            )
            for part in parts
        }
        for role in {part.role for part in parts}:
            own = {part.name: want[part.name] for part in parts if part.role is role}
            assert same(dxf_outlines(case, f"back{leaf_slug(plan, leaf)}", role.value), own, 1e-6)
        holes = sorted(
            box_of(line)
            for line in opened(case, f"back{leaf_slug(plan, leaf)}").modelspace().query('LWPOLYLINE[layer=="openings"]')
        )
        assert len(holes) == sum(len(part.openings_nm) + len(part.notches_nm) for part in parts)
        right, foot = backer.to_x_nm, backer.box.y0
        sawn = [
            ((right - x1) / 1e6, (y0 - foot) / 1e6, (x1 - x0) / 1e6, (y1 - y0) / 1e6)
            for part in parts
            for x0, y0, x1, y1 in part.openings_nm
        ]
        assert all(any(np.allclose(hole, one, atol=1e-6) for hole in holes) for one in sawn)


def test_the_wall_shows_leaves_and_fixtures_where_they_are(case: str):
    plan = case_plan(case)
    for slug, copies in wall_slugs(plan).items():
        leaves = {
            leaf.name: (leaf.x_nm / 1e6, leaf.y_nm / 1e6, leaf.width_nm / 1e6, leaf.height_nm / 1e6)
            for leaf in plan.layout.leaves
            if leaf.copy == copies[0]
        }
        assert same(dxf_outlines(case, f"wall{slug}", "piece"), leaves, 1e-6)
        drawn, scale_n = svg_outlines(case, f"wall{slug}", "piece")
        assert {name: pytest.approx(box[2:], abs=0.003) for name, box in leaves.items()} == {
            name: box[2:] for name, box in drawn.items()
        }
        assert scale_n >= 1.0
        hidden = [one for one in plan.brief.fixtures if not one.copies or copies[0] in one.copies]
        boxes = sorted((one.x_nm / 1e6, one.y_nm / 1e6, one.width_nm / 1e6, one.height_nm / 1e6) for one in hidden)
        space = opened(case, f"wall{slug}").modelspace()
        shown = sorted(box_of(line) for line in space.query('LWPOLYLINE[layer=="fixtures"]'))
        assert np.allclose(np.array(shown), np.array(boxes), atol=1e-6)
    copies_shown = sorted(copy for copies in wall_slugs(plan).values() for copy in copies)
    assert copies_shown == list(range(1, plan.brief.piece.copies + 1))


def test_svg_says_its_size_in_millimetres(case: str):
    for name in drawings(case, "svg"):
        root = ET.fromstring(exported(case)[f"drawings/{name}.svg"])
        wide, high = (float(root.get(side).removesuffix("mm")) for side in ("width", "height"))
        left, top, across, down = map(float, root.get("viewBox").split())
        assert (left, top) == (0.0, 0.0)
        assert across / wide == pytest.approx(down / high, rel=1e-3)
        assert name.startswith("wall") or across == pytest.approx(wide, abs=0.002), "all but the wall at full size"
        assert root.find(f"{SVG}title").text
        assert root.find(f"{SVG}desc").text


def test_a_map_drawn_by_another_program_shows_every_block_in_its_shade(case: str):
    plan = case_plan(case)
    shades = [tuple(bytes.fromhex(shade.colour_hex[1:])) for shade in plan.fade.shades]
    leaf = plan.layout.leaves[0]
    text = exported(case)[f"drawings/map{leaf_slug(plan, leaf)}.svg"].decode("utf-8")
    # A dot a millimetre; words are left out, as no font is given.
    png = bytes(resvg_py.svg_to_bytes(svg_string=text, dpi=25.4, skip_system_fonts=True))
    shown = np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(int)
    height_mm = float(ET.fromstring(text).get("height").removesuffix("mm"))
    assert shown.shape[0] == pytest.approx(height_mm, abs=1.0)
    outlines, _ = svg_outlines(case, f"map{leaf_slug(plan, leaf)}", "blocks")
    for block in np.flatnonzero(plan.layout.blocks.leaf == 0).tolist():
        left, low, wide, high = outlines[plan.layout.blocks.address(block)]
        dot = shown[int(-low - high / 2), int(left + wide / 2)]
        assert np.abs(dot - shades[int(plan.fade.shade[block])]).max() <= 1


def test_kinds_of_files_are_asked_for_by_name():
    assert read_order(files="glb, dxf").exports == (Export.DXF, Export.GLB)
    assert read_order(files="all").exports == tuple(Export)
    assert read_order().exports == ()


@cache
def opened(case: str, name: str) -> Dxf:
    return ezdxf.read(io.StringIO(exported(case)[f"drawings/{name}.dxf"].decode("utf-8")))


def drawings(case: str, end: str) -> list[str]:
    return sorted(Path(name).stem for name in exported(case) if name.endswith(f".{end}"))


def block_outlines(plan: Plan, which: np.ndarray) -> Outlines:
    blocks = plan.layout.blocks
    sides = [field / 1e6 for field in (blocks.x_nm, blocks.y_nm, blocks.width_nm, blocks.height_nm)]
    return {blocks.address(block): tuple(float(side[block]) for side in sides) for block in which.tolist()}


def dxf_outlines(case: str, name: str, layer: str) -> Outlines:
    lines = opened(case, name).modelspace().query(f'LWPOLYLINE[layer=="{layer}"]')
    found = {line.get_xdata("BOSSAGE")[0].value: box_of(line) for line in lines}
    assert len(found) == len(lines), "every name once"
    return found


def box_of(line: ezdxf.entities.LWPolyline) -> tuple[float, float, float, float]:
    """An outline of four corners, none of which is anywhere but in a corner of its box."""
    corners = np.array([point[:2] for point in line.get_points()])
    low, size = corners.min(axis=0), np.ptp(corners, axis=0)
    assert line.closed
    assert len(corners) == 4
    assert len({tuple(np.rint((corner - low) / size).astype(int)) for corner in corners}) == 4
    return (float(low[0]), float(low[1]), float(size[0]), float(size[1]))


def svg_outlines(case: str, name: str, layer: str) -> tuple[Outlines, float]:
    """Named rectangles of a layer, y turned upwards, and the n of 1 : n."""
    root = ET.fromstring(exported(case)[f"drawings/{name}.svg"])
    found = {}
    for group in root.iter(f"{SVG}g"):
        if group.get("class") == layer:
            for one in group.iter(f"{SVG}rect"):
                if one.get("data-name"):
                    x, y, wide, high = (float(one.get(side)) for side in ("x", "y", "width", "height"))
                    found[one.get("data-name")] = (x, -y - high, wide, high)
    return found, float(root.get("viewBox").split()[2]) / float(root.get("width").removesuffix("mm"))


def same(found: Outlines, want: Outlines, off_mm: float) -> bool:
    if set(found) != set(want):
        return False
    return all(np.allclose(found[name], want[name], rtol=0, atol=off_mm) for name in want)
