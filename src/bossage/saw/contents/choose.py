"""How given sticks get their contents: the engines in order, beam search, linear program in bulk, subset sums."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from bossage.engines import Engine, first_answer
from bossage.saw.contents.fill import expand, fill_by_length, fill_fullest
from bossage.saw.contents.many import fill_bulk
from bossage.saw.job import limits
from bossage.saw.job.contents import Filled
from bossage.saw.job.numbers import Bin, Core
from bossage.saw.job.records import Patience

TAIL_STEPS = 300  # of the walk over the last spans of many
FEW_RESTARTS = 6


@dataclass(slots=True)
class Task:
    """The sticks of one mix, small ones first, as indices of `bins`."""

    core: Core
    bins: Sequence[Bin]
    sticks: list[int]
    patience: Patience
    seed: int

    @property
    def spans(self) -> int:
        """Clear spans in all."""
        return sum(len(self.bins[b].caps) for b in self.sticks)

    @property
    def few(self) -> bool:
        """Whether a beam search goes first."""
        return self.spans <= limits.BEAM_FROM_START

    @property
    def in_bulk(self) -> bool:
        """Whether the linear program goes first."""
        few_types = len(self.core.widths) <= limits.BEAM_TYPES_UP_TO
        return not self.few and (few_types or self.patience.settings_steps > 0)


def fill_mix(core: Core, bins: Sequence[Bin], counts: Sequence[int], patience: Patience, seed: int) -> Filled | None:
    """Fill so many of each of these bins with the whole demand; the answer's bins are indices of the core."""
    found = first_answer(ENGINES, Task(core, bins, expand(bins, counts), patience, seed))
    if found is None:
        return None
    places = {b.stock: k for k, b in enumerate(core.bins)}
    return Filled(bins=[places[bins[b].stock] for b in found.bins], spans=found.spans)


def _by_length(task: Task) -> Filled | None:
    return fill_by_length(task.bins, task.sticks, task.core.widths, task.core.demand)


def _bulk(task: Task) -> Filled | None:
    steps = min(task.patience.settings_steps, TAIL_STEPS)
    return fill_bulk(task.core, task.bins, task.sticks, steps, task.seed)


def _fullest(task: Task) -> Filled | None:
    core, restarts = task.core, task.patience.restarts
    if len(core.widths) > limits.BEAM_TYPES_UP_TO or not task.few:
        restarts = min(FEW_RESTARTS, restarts)
    if task.in_bulk:
        units = len(core.widths) * sum(sum(task.bins[b].caps) for b in task.sticks)
        restarts = min(restarts, limits.FULLEST_WORK_UP_TO // units)
    return fill_fullest(task.bins, task.sticks, core.widths, core.demand, restarts, task.seed)


ENGINES: tuple[Engine[Task, Filled], ...] = (
    Engine(
        name="Beam search over whole lengths",
        module="saw/contents/fill.py",
        when=f"Up to {limits.BEAM_FROM_START} clear spans and {limits.BEAM_TYPES_UP_TO} lengths.",
        why="It finishes one length after another, so that few settings come out at once.",
        proof="Contents; none is no proof.",
        source="Own derivation.",
        runs=lambda task: task.few and len(task.core.widths) <= limits.BEAM_TYPES_UP_TO,
        run=_by_length,
    ),
    Engine(
        name="Linear program over patterns, cut in bulk",
        module="saw/contents/many.py",
        when=(
            f"More than {limits.BEAM_FROM_START} clear spans, with up to {limits.BEAM_TYPES_UP_TO} lengths, or with "
            "more where settings count."
        ),
        why="Many sticks are cut alike, so few patterns do for most of them, and few settings.",
        proof="Contents; none is no proof.",
        source="Gilmore and Gomory 1961.",
        runs=lambda task: task.in_bulk,
        run=_bulk,
    ),
    Engine(
        name="Bounded subset sums, span by span, with restarts",
        module="saw/contents/fill.py",
        when="All sticks that the rows above left.",
        why="Each span is filled as full as can be, which loses least wood.",
        proof="Contents; none is no proof.",
        source="Bellman 1957.",
        runs=lambda _: True,
        run=_fullest,
    ),
)
