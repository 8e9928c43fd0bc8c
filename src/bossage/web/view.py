"""A plan as the screen shows it: numbers for drawing, and for reading the words that the papers use.

No rule of the woodwork is worked out on the screen, so everything that it draws is given here as a rectangle or a box.
"""

from __future__ import annotations

from typing import Any

import numpy as np

from bossage.brief.records import Brief
from bossage.checks import worst
from bossage.costing import materials_words
from bossage.layout.records import Layout, Zone
from bossage.pack.scene import WALL_HEX, light_of
from bossage.pack.words import Words, count_of, hours
from bossage.plan import Plan
from bossage.web.about import about_checks
from bossage.web.bands import bands_of
from bossage.web.behind import fixings_view, recess_words, runs_view, zones_told, zones_view
from bossage.web.solids import solids_of_leaf

NM = 1e6
Json = dict[str, Any]


def plan_view(plan: Plan) -> Json:
    """Everything that the screen draws and says of a plan, ready for JSON (`PlanView`)."""
    checks = about_checks(plan)
    return {
        "stamp": plan.stamp,
        "version": plan.version,
        "unit": plan.brief.piece.unit.value,
        "title_block": title_block(plan),
        "checks": checks,
        "cautions": [{"step": c.step, "text": c.text, "source": c.source} for c in plan.cautions],
        "defaults": [{"field": d.field, "value": d.value, "reason": d.reason} for d in plan.brief.defaults],
        "geometry": {**geometry(plan), "bands": bands_of(plan, checks)},
        "blocks": _blocks(plan),
        "levels": [{"height_mm": nm / NM, "text": _words(plan.brief).length(nm)} for nm in plan.relief.levels_nm],
        "shades": _shades(plan),
        "families": _families(plan),
    }


def title_block(plan: Plan) -> Json:
    """The figures at the foot of the sheet."""
    words, layout = _words(plan.brief), plan.layout
    masses = [leaf.total_g for leaf in plan.hang.leaf_masses]
    heaviest = max(masses)
    sticks = sum(len(cut.bought.sticks) for cut in plan.saw.sections if cut.bought is not None)
    unpriced = f" and {count_of(plan.cost.unpriced, 'line')} without a price" if plan.cost.unpriced else ""
    shims = f", {words.money(plan.cost.shims_cents)} for shims" if plan.cost.shims_cents else ""
    verdict = worst(plan.checks)
    count = sum(check.verdict is verdict for check in plan.checks)
    return {
        "size": {"value": layout.width_nm / NM, "text": words.size(layout.width_nm, layout.height_nm)},
        "depth": {"value": layout.depth_nm / NM, "text": words.length(layout.depth_nm)},
        "mass": {
            "value": heaviest,
            "text": words.mass(heaviest) + (" the heaviest leaf" if len(masses) > 1 else ""),
        },
        "cost": {
            "value": plan.cost.materials_cents,
            "text": materials_words(plan.cost, plan.brief.piece.currency) + unpriced + shims,
        },
        "hours": {"value": plan.cost.hours, "text": hours(plan.cost.hours)},
        "sticks": {"value": sticks, "text": count_of(sticks, "stick")},
        "blocks": {"value": layout.blocks.count, "text": count_of(layout.blocks.count, "block")},
        "verdict": {
            "value": verdict.value,
            "text": "fine" if verdict == "fine" else count_of(count, *_COUNTED[verdict.value]),
        },
    }


_COUNTED = {"caution": ("caution", "cautions"), "stop": ("stop", "stops")}


def geometry(plan: Plan) -> Json:
    """The room, what is in it, and the parts of the piece behind its blocks; all but the bands."""
    brief, layout = plan.brief, plan.layout
    light = light_of(brief)
    return {
        **_room(brief),
        "outline": _box(layout.x_nm, layout.y_nm, layout.width_nm, layout.height_nm),
        "leaves": _leaves(layout),
        "solids": [part for number in range(len(layout.leaves)) for part in solids_of_leaf(plan, number)],
        "openings": [
            {
                **_box(cell.x_nm, cell.y_nm, cell.width_nm, cell.height_nm),
                "leaf": cell.leaf,
                "row": cell.row,
                "column": cell.column,
            }
            for cell in layout.open_cells
        ],
        "zones": zones_view(plan),
        "zones_told": zones_told(plan),
        "fixings": fixings_view(plan),
        "light": {
            "side": brief.wall.light_from.value,
            "azimuth_deg": light.azimuth_deg,
            "elevation_deg": light.elevation_deg,
        },
        "stand_off_mm": layout.stand_off.stand_off_nm / NM,
        "backer_mm": layout.backer_nm / NM,
        "depth_mm": layout.depth_nm / NM,
        "ground_colour": next((g.colour_hex for g in plan.fade.grounds if g.chosen), "#3a3530"),
    }


def _room(brief: Brief) -> Json:
    words, wall = _words(brief), brief.wall
    return {
        "wall": {
            "width_mm": wall.width_nm / NM,
            "height_mm": wall.height_nm / NM,
            "build": wall.build.value,
            "covering_mm": wall.covering_nm / NM,
            "colour": wall.colour_hex or WALL_HEX,
            "below": wall.below.value,
        },
        "fixtures": [
            {
                **_box(f.x_nm, f.y_nm, f.width_nm, f.height_nm),
                "index": index,
                "name": f.name,
                "kind": f.kind.value,
                "proud_mm": f.proud_nm / NM,
                "recess_mm": None if f.recess_nm is None else f.recess_nm / NM,
                "recess": recess_words(f.recess_nm, words),
                "text": f"{f.name}, {words.size(f.width_nm, f.height_nm)}, {words.length(f.proud_nm)} proud",
            }
            for index, f in enumerate(brief.fixtures)
        ],
        "studs": [{"x_mm": x / NM, "width_mm": wall.stud_width_nm / NM} for x in wall.studs_nm],
        "furniture": [
            {
                **_box(f.x_nm, f.bottom_nm, f.width_nm, f.top_nm - f.bottom_nm),
                "index": index,
                "name": f.name,
                "kind": f.kind,
                "near_mm": f.near_nm / NM,
                "far_mm": f.far_nm / NM,
                "text": f"{f.name}, {words.length(f.width_nm)} wide, top at {words.length(f.top_nm)}",
            }
            for index, f in enumerate(brief.furniture)
        ],
        "keep_clear": [
            {**_box(k.x_nm, k.y_nm, k.width_nm, k.height_nm), "index": index, "name": k.name, "why": k.why}
            for index, k in enumerate(brief.keep_clear)
        ],
        "runs": runs_view(brief),
        "eyes": [
            {
                "name": eye.name,
                "x_mm": eye.x_nm / NM,
                "height_mm": eye.height_nm / NM,
                "distance_mm": eye.distance_nm / NM,
            }
            for eye in brief.eyes
        ],
    }


def _leaves(layout: Layout) -> list[Json]:
    return [
        {
            **_box(leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm),
            "index": index,
            "name": leaf.name,
            "copy_n": leaf.copy,
            "columns": leaf.columns,
            "rows": leaf.rows,
            "backer": _box(leaf.backer_x_nm, leaf.backer_y_nm, leaf.backer_width_nm, leaf.backer_height_nm),
        }
        for index, leaf in enumerate(layout.leaves)
    ]


def _blocks(plan: Plan) -> Json:
    blocks = plan.layout.blocks
    tall_nm = np.asarray(plan.relief.levels_nm, dtype=np.int64)[plan.relief.level]
    names = [leaf.name for leaf in plan.layout.leaves]
    addresses = [blocks.address(block) for block in range(blocks.count)]
    pins = {(pin.leaf, pin.address): pin for pin in plan.brief.blocks.pins}
    pinned = [pins.get((names[leaf], address)) for leaf, address in zip(blocks.leaf.tolist(), addresses, strict=True)]
    return {
        "address": addresses,
        "leaf": blocks.leaf.tolist(),
        "x_mm": (blocks.x_nm / NM).tolist(),
        "y_mm": (blocks.y_nm / NM).tolist(),
        "width_mm": (blocks.width_nm / NM).tolist(),
        "height_mm": (blocks.height_nm / NM).tolist(),
        "tall_mm": (tall_nm / NM).tolist(),
        "level": plan.relief.level.tolist(),
        "shade": plan.fade.shade.tolist(),
        "ring": (blocks.zone == Zone.RING).tolist(),
        "pinned_level": [pin is not None and pin.level is not None for pin in pinned],
        "pinned_shade": [pin is not None and pin.shade is not None for pin in pinned],
    }


def _shades(plan: Plan) -> list[Json]:
    counts = np.bincount(plan.fade.shade, minlength=len(plan.fade.shades)).tolist()
    return [
        {
            "name": shade.name,
            "family": shade.family,
            "colour": shade.colour_hex,
            "lightness": shade.lightness,
            "blocks": count,
        }
        for shade, count in zip(plan.fade.shades, counts, strict=True)
    ]


def _families(plan: Plan) -> list[Json]:
    shades = plan.fade.shades
    return [
        {
            "index": index,
            "name": family.name,
            "home": {"kind": family.home.kind.value, "x": family.home.x, "y": family.home.y},
            "colour": family.colour_hex or next((s.colour_hex for s in shades if s.family == family.name), "#808080"),
            "shades": [number for number, shade in enumerate(shades) if shade.family == family.name],
        }
        for index, family in enumerate(plan.brief.families)
    ]


def _words(brief: Brief) -> Words:
    return Words(unit=brief.piece.unit.value, currency=brief.piece.currency)


def _box(x_nm: int, y_nm: int, width_nm: int, height_nm: int) -> Json:
    return {"x_mm": x_nm / NM, "y_mm": y_nm / NM, "width_mm": width_nm / NM, "height_mm": height_nm / NM}
