"""The worked examples up to the relief, made once."""

from __future__ import annotations

from collections import Counter
from functools import cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from bossage.body import plan_body
from bossage.brief import read_brief
from bossage.fade.records import CountRow
from bossage.layout import plan_layout
from bossage.layout.records import Zone
from bossage.paint.coats import coat_runs
from bossage.paint.days import PaintDays, backer_runs
from bossage.press import bench_of, plan_press
from bossage.relief import plan_relief
from bossage.relief.records import Relief
from bossage.saw import plan_saw

EXAMPLES = Path(__file__).parents[2] / "examples"
NAMES = {name.name[:2].upper(): name for name in sorted(EXAMPLES.glob("s[0-9]-*.toml"))}


@cache
def made(scenario):
    brief = read_brief(NAMES[scenario].read_text())
    for draw in range(12):
        layout = plan_layout(brief, draw=draw)
        relief = plan_relief(brief, layout)
        if isinstance(relief, Relief):
            return brief, layout, relief
    raise AssertionError("no draw holds the quotas")


def sawn(brief, layout, relief):
    """What the saw makes of it: of the colours it only asks how many blocks there are of each length."""
    blocks = layout.blocks
    counts = Counter(
        (int(blocks.footprint[b]), int(blocks.zone[b]), int(relief.level[b]), int(relief.length_nm[b]))
        for b in range(blocks.count)
    )
    table = tuple(
        CountRow(
            footprint=brief.blocks.footprints[footprint].name,
            zone=Zone(zone).name.lower(),
            level_nm=relief.levels_nm[level],
            length_nm=length,
            shade="",
            count=count,
        )
        for (footprint, zone, level, length), count in sorted(counts.items())
    )
    return plan_saw(brief, body_of(brief, layout), SimpleNamespace(count_table=table))


def body_of(brief, layout):
    return plan_body(brief, layout, may_ask=False)


#: All that `press` reads of how the piece hangs.
HUNG: Any = SimpleNamespace(bond_margin=40.0, bowed=None)


def on_bench(brief, layout):
    return bench_of(layout, body_of(brief, layout))


def pressing(brief, layout, relief, saw):
    return plan_press(brief, on_bench(brief, layout), relief, saw, HUNG)


@cache
def saw_of(scenario):
    return sawn(*made(scenario))


@cache
def pressed(scenario):
    return pressing(*made(scenario), saw_of(scenario))


def planned(brief):
    """Layout, relief and press of a brief built by hand."""
    layout = plan_layout(brief)
    relief = plan_relief(brief, layout)
    return layout, relief, pressing(brief, layout, relief, sawn(brief, layout, relief))


def check(press, name):
    (found,) = [c for c in press.checks if c.name == name]
    return found


def paint_days_of(brief, batches=1):
    """Rounds of painting as the piece has them, where no plan of it is made: coats alone, on blocks and backer."""
    lines = SimpleNamespace(name="lines", painted_mm2=1.0)
    return PaintDays(
        sticks=(),
        blocks=coat_runs(brief, ()),
        backer=backer_runs(brief, lines),
        batches=batches,
        shares=(1 / batches,) * batches,
        card_days=0,
    )
