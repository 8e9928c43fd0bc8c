"""The worked examples up to the relief, made once."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from bossage.brief import read_brief
from bossage.layout import plan_layout
from bossage.press import plan_press
from bossage.relief import plan_relief
from bossage.relief.records import Relief

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


@cache
def pressed(scenario):
    return plan_press(*made(scenario))


def planned(brief):
    """Layout, relief and press of a brief built by hand."""
    layout = plan_layout(brief)
    relief = plan_relief(brief, layout)
    return layout, relief, plan_press(brief, layout, relief)


def check(press, name):
    (found,) = [c for c in press.checks if c.name == name]
    return found
