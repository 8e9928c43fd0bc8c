"""Runs the stages one after the other, asks for another draw where one cannot be met, keeps everything in one record.

The flow is one way. The only way back is counted: where a draw of the split modules cannot hold the quotas, the next
draw of the layout is asked for, and the plan says how many it took.

A stage is a function of what it reads, and what it reads is declared here, so a plan that differs little from an
earlier one need not work all of it out again.
"""

from __future__ import annotations

import pickle
from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass, fields, replace
from hashlib import sha256
from typing import Any

import numpy as np

from bossage import __version__
from bossage.asking import Answered, answered
from bossage.body import Body, Wants, amended, plan_body
from bossage.brief import digest
from bossage.brief.records import Brief
from bossage.checks import Caution, Check
from bossage.costing import Cost, plan_cost
from bossage.fade import Fade, plan_fade
from bossage.hang import Handling, Hang, fasten, plan_hang, standing_of
from bossage.layout import Layout, NoLayout, plan_layout
from bossage.paint import Paint, plan_paint
from bossage.press import Bench, Press, bench_of, plan_press
from bossage.relief import NoRelief, Relief, plan_relief
from bossage.saw import Saw, plan_saw
from bossage.zones import Zone, zones_of

MAX_DRAWS = 12
MAX_ASKS = 2  # times that the body may ask the layout for another size or place
MEMORY_BLOCKS_N = 1_500_000  # a few hundred bytes each

Tell = Callable[[str], None]
Watch = Callable[[str, tuple[Check, ...]], None]


def _of(record: str, parts: str) -> tuple[str, ...]:
    return tuple(f"{record}.{part}" for part in parts.split())


#: What each stage reads: parts of the brief and of the records before it, or one of these as a whole. A part behind a
#: tuple is that of every entry; a layout as a whole is all of it but its checks. Tests run every stage on records in
#: which all the rest raises when it is touched.
READS: dict[str, tuple[str, ...]] = {
    "layout": (
        # it weighs sizes roughly and tries what would heal, so the making counts as well as the wall
        *_of(
            "brief",
            "access backer behind blocks cleat edge eyes fixings fixtures furniture glue keep_clear paint",
        ),
        *_of("brief", "families.finish families.quotas heat room rules sticks wall"),
        *_of("brief.piece", "copies mass_cap_g seed unit"),
    ),
    "body": (
        # where nothing has a place it tries other sizes, so all that a layout's size hangs on counts
        *_of("brief", "access backer behind blocks cleat defaults edge families.quotas fixings fixtures furniture"),
        *_of("brief", "keep_clear rules runs sticks wall"),
        *_of("brief.piece", "copies unit"),
        "layout",
    ),
    "relief": (
        *_of(
            "brief.blocks", "diagonal edge_levels footprints levels_nm mass_target_g min_step pins ring_quotas species"
        ),
        *_of("brief.piece", "seed unit"),
        *_of("layout.blocks", "leaf row column letter footprint zone edges corner_edges x_nm y_nm width_nm height_nm"),
        *_of("layout", "draw ring_bond leaves.name leaves.copy"),
    ),
    "fade": (
        *_of("brief", "fade families blocks.footprints blocks.pins piece.copies piece.seed"),
        *_of("brief.backer", "colour_hex colour_name"),
        *_of("layout.blocks", "leaf row column letter footprint zone edges x_nm y_nm width_nm height_nm"),
        *_of("layout", "x_nm y_nm width_nm height_nm leaves"),
        *_of("relief", "level levels_nm length_nm"),
    ),
    "saw": (
        *_of("brief", "backer sticks blocks.footprints cleat tools"),
        *_of("brief.piece", "seed unit"),
        *("body.parts", "fade.count_table"),
    ),
    "paint": (
        *_of("brief", "backer blocks.footprints blocks.gap_nm blocks.species edge.overhang_nm edge.style families"),
        *_of("brief", "paint rates sticks tools"),
        *_of("brief.piece", "unit"),
        *_of("relief", "level levels_nm length_nm"),
        *("layout", "body.parts", "body.steps", "fade"),
    ),
    "press": (
        *_of("brief", "backer climate edge glue paint rates sticks tools"),
        *_of("brief.blocks", "footprints gap_nm module_height_nm module_width_nm species"),
        *_of("brief.blocks", "moisture_laid_pct moisture_sawn_pct moisture_use_high_pct moisture_use_low_pct"),
        *_of("brief.piece", "seed unit"),
        *_of("relief", "level levels_nm length_nm"),
        *_of("saw", "sticks_left boards_left"),  # shims come out of what the saw leaves
        *("bench", "hang.bond_margin", "hang.bowed", "brief.access.opens"),
    ),
    "hang": (
        *_of(
            "brief",
            "access backer behind defaults fixtures furniture blocks.species cleat edge fixings glue keep_clear",
        ),
        *_of("brief", "lift runs wall"),
        *_of("brief.blocks", "moisture_laid_pct moisture_use_high_pct"),
        *_of("brief.piece", "mass_cap_g unit weighed_g"),
        *_of("relief", "level levels_nm length_nm"),
        *("layout", "body", "paint"),
    ),
    "cost": (
        *_of(
            "brief",
            "access.opens blocks.gap_nm blocks.species cleat.kind edge.strip_behind_nm edge.style families glue.name",
        ),
        *_of("brief", "glue.spread_g_per_m2 paint.topcoat paint.topcoat_coats prices rates tools.people"),
        *_of("brief.piece", "budget_cents copies currency unit"),
        *("layout", "body", "saw", "paint", "press", "hang"),
    ),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Plan:
    """Everything computed for one brief. `stamp` is printed on every paper: same stamp, same plan."""

    brief: Brief
    layout: Layout
    body: Body
    relief: Relief
    fade: Fade
    saw: Saw
    paint: Paint
    press: Press
    hang: Hang
    cost: Cost
    zones: tuple[Zone, ...]  # where nothing is drilled
    handling: Handling  # where one stands to hang, open and take down each leaf
    checks: tuple[Check, ...]  # what can kill first, taste last (`in_order`); what is settled is fine
    settled: tuple[Answered, ...]  # every answer of the brief, and whether it holds
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


def make_plan(
    brief: Brief,
    *,
    max_draws: int = MAX_DRAWS,
    tell: Tell = lambda stage: None,
    watch: Watch = lambda stage, checks: None,
    memory: Memory | None = None,
) -> Plan | NoPlan:
    """Plan the whole job.

    Args:
        brief: A checked brief.
        max_draws: How many draws of the split modules may be asked for before giving up.
        tell: Called with the name of each stage as it begins; not for one whose result is remembered.
        watch: Called with the name of each stage and its checks as it is done; what it raises ends the planning.
        memory: Results of earlier plans. A stage whose inputs are as they were then is not worked out again.

    Returns:
        The plan, checks and all (a check that says stop does not keep it from being made), or why there is none.
    """
    work, stamp = _Work(brief, tell, watch, memory), stamp_of(brief)
    found = _laid_out(work, max_draws)
    if isinstance(found, NoPlan):
        return found
    layout, body, relief = found
    brief = work.brief  # with what the body asked for
    fade: Fade = work.stage("fade", plan_fade, layout=layout, relief=relief)
    saw: Saw = work.stage("saw", plan_saw, body=body, fade=fade)
    paint: Paint = work.stage("paint", plan_paint, layout=layout, body=body, relief=relief, fade=fade)
    hang: Hang = work.stage("hang", plan_hang, layout=layout, body=body, relief=relief, paint=paint)
    press: Press = work.stage("press", plan_press, bench=bench_of(layout, body), relief=relief, saw=saw, hang=hang)
    cost: Cost = work.stage("cost", plan_cost, layout=layout, body=body, saw=saw, paint=paint, press=press, hang=hang)
    stages = (layout, body, relief, fade, saw, paint, press, hang, cost)
    checks, answers = answered([check for stage in stages for check in stage.checks], brief, layout, hang)
    return Plan(
        brief=brief,
        layout=layout,
        body=fasten(layout, body, hang),
        relief=relief,
        fade=fade,
        saw=saw,
        paint=paint,
        press=press,
        hang=hang,
        cost=cost,
        zones=zones_of(brief),
        handling=standing_of(brief, layout, [(mass.leaf, mass.total_g) for mass in hang.leaf_masses]),
        checks=checks,
        settled=answers,
        cautions=(*saw.cautions, *paint.cautions, *press.cautions, *hang.cautions),
        version=__version__,
        stamp=stamp,
    )


class Memory:
    """Results of stages by what they were made from. One user at a time."""

    def __init__(self, *, blocks_n: int = MEMORY_BLOCKS_N) -> None:
        """Keep results of pieces with so many blocks together; the longest unused ones are forgotten first."""
        self._most, self._held = blocks_n, 0
        self._results: OrderedDict[tuple[Hashable, ...], tuple[object, int]] = OrderedDict()

    def recall(self, key: tuple[Hashable, ...]) -> object | None:
        """What was made from the same."""
        found = self._results.get(key)
        if found is None:
            return None
        self._results.move_to_end(key)
        return found[0]

    def keep(self, key: tuple[Hashable, ...], result: object, blocks_n: int) -> None:
        """Remember a result of a piece with so many blocks."""
        self._results[key] = (result, blocks_n)
        self._held += blocks_n
        while self._held > self._most and len(self._results) > 1:
            self._held -= self._results.popitem(last=False)[1][1]


class _Work:
    """One plan in the making."""

    def __init__(self, brief: Brief, tell: Tell, watch: Watch, memory: Memory | None) -> None:
        self.brief, self._tell, self._watch, self._memory = brief, tell, watch, memory

    def stage(self, name: str, work: Callable[..., Any], **records: Any) -> Any:
        """The result of a stage: remembered, or worked out."""
        result = self._result(name, work, **records)
        self._watch(name, getattr(result, "checks", ()))  # an outcome that there is none of holds no checks
        return result

    def _result(self, name: str, work: Callable[..., Any], **records: Any) -> Any:
        if self._memory is None:
            self._tell(name)
            return work(self.brief, **records)
        key = (name, *read_by(name, brief=self.brief, **records))
        result = self._memory.recall(key)
        if result is None:
            self._tell(name)
            result = work(self.brief, **records)
            field = result if isinstance(result, Layout) else records.get("layout", records.get("bench"))
            self._memory.keep(key, result, 500 + (0 if field is None else field.blocks.count))
        return result


def read_by(name: str, **records: Any) -> tuple[Hashable, ...]:
    """What a stage reads of its records (`READS`), in a form that is equal when it is the same again."""
    return (records.get("draw"), records.get("may_ask"), *(_mark(_part(records, path)) for path in READS[name]))


def _part(records: dict[str, Any], path: str) -> Any:
    first, *rest = path.split(".")
    here = records[first]
    if not rest:
        return _Alike(here) if isinstance(here, Layout | Body | Bench) else _Same(here)
    for step in rest:
        here = tuple(getattr(entry, step) for entry in here) if isinstance(here, tuple) else getattr(here, step)
    return here


class _Same:
    """A whole record: equal only to itself, and kept alive so that no other takes its place."""

    __slots__ = ("_record",)

    def __init__(self, record: object) -> None:
        self._record = record

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Same) and self._record is other._record

    def __hash__(self) -> int:
        return id(self._record)


class _Alike:
    """A layout, a body or a bench: equal to one with the same content, whatever its checks say of it.

    Many an edit works them out anew only to come to the same, and most stages read nearly all of them.
    """

    __slots__ = ("_content", "_record")

    def __init__(self, record: Layout | Body | Bench) -> None:
        self._record = record
        self._content: bytes | None = None

    @property
    def content(self) -> bytes:
        """A digest of all but the checks; two of the same may differ where they share parts otherwise, none else."""
        if self._content is None:
            parts = [getattr(self._record, field.name) for field in fields(self._record) if field.name != "checks"]
            self._content = sha256(pickle.dumps(parts, protocol=5)).digest()
        return self._content

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Alike) and (self._record is other._record or self.content == other.content)

    def __hash__(self) -> int:
        return hash(type(self._record))


def _mark(value: Any) -> Hashable:
    if isinstance(value, np.ndarray):
        return (value.shape, value.dtype.str, sha256(np.ascontiguousarray(value).tobytes()).digest())
    assert isinstance(value, Hashable)
    return value


def stamp_of(brief: Brief) -> str:
    """Short stamp of brief and program version, read out in two halves: `k7f3-92bd`."""
    mark = sha256(f"{__version__} {digest(brief)}".encode()).hexdigest()
    return f"{mark[:4]}-{mark[4:8]}"


def _laid_out(work: _Work, max_draws: int) -> tuple[Layout, Body, Relief] | NoPlan:
    reason = NoPlan(stage="layout", reason="No draw was allowed.", remedy="Allow at least one draw.", proven=True)
    for draw in range(max_draws):
        solid = _built(work, draw)
        if isinstance(solid, NoPlan):
            return solid
        layout, body = solid
        relief: Relief | NoRelief = work.stage("relief", plan_relief, layout=layout)
        if isinstance(relief, Relief):
            return layout, body, replace(relief, draws=draw + 1)
        reason = _no_plan(relief)
        if not relief.redraw:
            break
    return reason


def _built(work: _Work, draw: int) -> tuple[Layout, Body] | NoPlan:
    """A layout in which every part of the body has its place; another size or place is asked for where it has not."""
    for ask in range(MAX_ASKS + 1):
        layout: Layout | NoLayout = work.stage("layout", plan_layout, draw=draw)
        if isinstance(layout, NoLayout):
            reason, remedy = _sentence(layout.reason), _sentence(layout.remedy)
            return NoPlan(stage="layout", reason=reason, remedy=remedy, proven=layout.proven)
        body: Body | Wants = work.stage("body", plan_body, layout=layout, may_ask=ask < MAX_ASKS)
        if isinstance(body, Body):
            return layout, body
        work.brief = amended(work.brief, body)
    raise AssertionError("a body that may not ask is always built")


def _sentence(clause: str) -> str:
    return f"{clause[:1].upper()}{clause[1:].rstrip('.')}."


def _no_plan(relief: NoRelief) -> NoPlan:
    return NoPlan(stage="relief", reason=relief.reason, remedy=relief.remedy, proven=relief.proven)
