"""Runs the stages one after the other, asks for another draw where one cannot be met, keeps everything in one record.

The flow is one way. The only way back is counted: where a draw of the split modules cannot hold the quotas, the next
draw of the layout is asked for, and the plan says how many it took.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from hashlib import sha256

from bossage import __version__
from bossage.brief import digest
from bossage.brief.records import Brief
from bossage.checks import Caution, Check, Verdict
from bossage.costing import Cost, plan_cost
from bossage.fade import Fade, plan_fade
from bossage.hang import Hang, plan_hang
from bossage.layout import Layout, NoLayout, plan_layout
from bossage.paint import Paint, plan_paint
from bossage.press import Press, plan_press
from bossage.relief import NoRelief, Relief, plan_relief
from bossage.saw import Saw, plan_saw

MAX_DRAWS = 12

STAGES = ("layout", "relief", "fade", "saw", "paint", "press", "hang", "cost")
Tell = Callable[[str], None]


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything computed for one brief. `stamp` is printed on every paper: same stamp, same plan."""

    brief: Brief
    layout: Layout
    relief: Relief
    fade: Fade
    saw: Saw
    paint: Paint
    press: Press
    hang: Hang
    cost: Cost
    checks: tuple[Check, ...]  # heaviest first, then in the order of the work
    cautions: tuple[Caution, ...]
    version: str
    stamp: str


@dataclass(frozen=True, slots=True, kw_only=True)
class NoPlan:
    """There is nothing to draw: which stage cannot be met, why, and what would do."""

    stage: str
    reason: str
    remedy: str
    proven: bool


def make_plan(brief: Brief, *, max_draws: int = MAX_DRAWS, tell: Tell = lambda stage: None) -> Plan | NoPlan:
    """Plan the whole job.

    Args:
        brief: A checked brief.
        max_draws: How many draws of the split modules may be asked for before giving up.
        tell: Called with the name of each stage as it begins.

    Returns:
        The plan, checks and all (a check that says stop does not keep it from being made), or why there is none.
    """
    found = _laid_out(brief, max_draws, tell)
    if isinstance(found, NoPlan):
        return found
    layout, relief = found
    tell("fade")
    fade = plan_fade(brief, layout, relief)
    tell("saw")
    saw = plan_saw(brief, layout, fade)
    tell("paint")
    paint = plan_paint(brief, layout, relief, fade)
    tell("press")
    press = plan_press(brief, layout, relief)
    tell("hang")
    hang = plan_hang(brief, layout, relief, paint)
    tell("cost")
    cost = plan_cost(brief, layout, saw, paint, press, hang)
    stages = (layout, relief, fade, saw, paint, press, hang, cost)
    return Plan(
        brief=brief,
        layout=layout,
        relief=relief,
        fade=fade,
        saw=saw,
        paint=paint,
        press=press,
        hang=hang,
        cost=cost,
        checks=in_order([check for stage in stages for check in stage.checks]),
        cautions=(*saw.cautions, *paint.cautions, *press.cautions, *hang.cautions),
        version=__version__,
        stamp=stamp_of(brief),
    )


def in_order(checks: list[Check]) -> tuple[Check, ...]:
    """Heaviest verdict first; within one verdict, the order of the work."""
    weight = list(Verdict)
    return tuple(sorted(checks, key=lambda check: -weight.index(check.verdict)))


def stamp_of(brief: Brief) -> str:
    """Short stamp of brief and program version, read out in two halves: `k7f3-92bd`."""
    mark = sha256(f"{__version__} {digest(brief)}".encode()).hexdigest()
    return f"{mark[:4]}-{mark[4:8]}"


def _laid_out(brief: Brief, max_draws: int, tell: Tell) -> tuple[Layout, Relief] | NoPlan:
    reason = NoPlan(stage="layout", reason="No draw was allowed.", remedy="Allow at least one draw.", proven=True)
    for draw in range(max_draws):
        tell("layout")
        layout = plan_layout(brief, draw=draw)
        if isinstance(layout, NoLayout):
            return NoPlan(stage="layout", reason=layout.reason, remedy=layout.remedy, proven=True)
        tell("relief")
        relief = plan_relief(brief, layout)
        if isinstance(relief, Relief):
            return layout, replace(relief, draws=draw + 1)
        reason = _no_plan(relief)
        if not relief.redraw:
            break
    return reason


def _no_plan(relief: NoRelief) -> NoPlan:
    return NoPlan(stage="relief", reason=relief.reason, remedy=relief.remedy, proven=relief.proven)
