"""A leaf to hang: a layout with two levels in turn, without the stages in between."""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace
from typing import Any

import numpy as np

from bossage.body import Body, plan_body
from bossage.brief import records as r
from bossage.hang import Hang, plan_hang
from bossage.layout import Layout, plan_layout
from bossage.relief.records import Relief
from tests.layout.factory import mm, plain

PLUGS = {
    "wall__build": r.WallBuild.MASONRY,
    "wall__studs_nm": (),
    "fixings__kind": r.FixingKind.PLUG,
    "fixings__allowable_g": 6000.0,
    "fixings__pull_allowable_g": 6000.0,
}


def laid(brief: r.Brief) -> Layout:
    layout = plan_layout(brief)
    assert isinstance(layout, Layout), layout
    return layout


def hang(brief: r.Brief) -> Hang:
    layout = laid(brief)
    level = (layout.blocks.row + layout.blocks.column) % len(brief.blocks.levels_nm)
    levels = np.asarray(brief.blocks.levels_nm)
    extra = brief.backer.thickness_nm if brief.edge.style is r.EdgeStyle.OUTRIGGER else 0
    relief = Relief(
        levels_nm=brief.blocks.levels_nm,
        level=level,
        length_nm=levels[level] + extra * layout.blocks.zone,
        groups=(),
        figures={},
        draws=1,
        checks=(),
    )
    # a dyed backer: the whole back of a block is glued
    paint: Any = SimpleNamespace(
        dry_paint_g_per_leaf=(50.0,) * len(layout.leaves), face_coats=(), ground_way=SimpleNamespace(name="dye")
    )
    body = plan_body(with_small_hatch(brief), layout, may_ask=False)
    assert isinstance(body, Body)
    return plan_hang(brief, layout, body, relief, paint)


def with_small_hatch(brief: r.Brief) -> r.Brief:
    """The factory's hatch fills its piece; a small one leaves room for cleat and foot."""
    small = tuple(
        replace(f, x_nm=f.x_nm + mm(150), y_nm=f.y_nm + mm(100), width_nm=mm(100), height_nm=mm(60))
        if (f.width_nm, f.height_nm) == (mm(400), mm(300))
        else f
        for f in brief.fixtures
    )
    return replace(brief, fixtures=small)


def hung(**changes: Any) -> Hang:
    return hang(plain(**changes))


def verdict(planned: Hang, name: str) -> str:
    return next((str(check.verdict) for check in planned.checks if check.name == name), "none")
