"""Plans a change of the brief, and gives it up at the first stage at which it is of no use."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from bossage.brief import read_brief
from bossage.checks import Check, Verdict
from bossage.errors import BossageError
from bossage.plan import READS, Memory, Plan, make_plan
from bossage.remedies.way import Way
from bossage.remedies.weigh import Effect, effect_on, worse

LAYOUTS_PER_PLAN = 8  # a change that is given up at its layout is so much less work than a whole plan
TRIES_MOST = 16  # whole plans for one piece
BLOCKS_PLANNED = 4_000  # in all tries together, beyond the least number of tries
TRIES_LEAST = 2
MOSAIC_TIMES = 25  # a mosaic is laid by a search that a grid does without


@dataclass(frozen=True, slots=True)
class Tried:
    """What came of a change.

    `plan` is None where it was given up, or where there is none; `worse` are the checks that spoke against it.
    `checks` are those of the stages that were planned, by stage.
    """

    checks: dict[str, tuple[Check, ...]]
    worse: tuple[Check, ...]
    plan: Plan | None


class Trials:
    """Tries changes of one brief; what several checks ask for is planned once."""

    def __init__(self, text: str, plan: Plan, *, memory: Memory | None = None, tries: int | None = None) -> None:
        """Try changes of this brief, which this plan was made from.

        Args:
            text: The brief's text.
            plan: What it became.
            memory: Where the results of the plan's stages are, so that they need not be worked out again.
            tries: How many whole plans may be made; by the size of the piece if not said.
        """
        self._text, self.before = text, plan
        self._memory = Memory() if memory is None else memory
        self._left = LAYOUTS_PER_PLAN * (tries_for(plan) if tries is None else tries)
        self._known: dict[str, Tried] = {}
        self._stage = {(c.stage, c.name): stage for stage in READS for c in getattr(plan, stage).checks}
        self._quiet = {(c.stage, c.name, c.subject) for c in plan.checks if c.settled is not None}

    def attempt(self, way: Way, check: Check) -> Tried | None:
        """What comes of a change that is meant to heal a check; None where there is no patience left to try it."""
        key = repr(way.edits)
        known = self._known.get(key)
        if known is not None and (known.plan or known.worse or self.effect(known, check) is Effect.NONE):
            return known
        if self._left <= 0:
            return None
        tried = self._known[key] = self._plan(way, check)
        hard = len(tried.checks) > 1 or self.before.brief.blocks.mosaic
        self._left -= LAYOUTS_PER_PLAN if hard else 1
        return tried

    def effect(self, tried: Tried, check: Check) -> Effect:
        """What a change does to a check, as far as it was planned; nothing where the check's stage was not reached."""
        stage = self._stage[check.stage, check.name]
        if stage not in tried.checks:
            return Effect.NONE
        return effect_on(check, getattr(self.before, stage).checks, tried.checks[stage])

    def _plan(self, way: Way, check: Check) -> Tried:
        checks: dict[str, tuple[Check, ...]] = {}
        against: list[Check] = []

        def watch(stage: str, found: tuple[Check, ...]) -> None:
            before = getattr(self.before, stage).checks
            checks[stage] = found
            against.extend(worse(before, found))
            idle = stage == self._stage[check.stage, check.name] and effect_on(check, before, found) is Effect.NONE
            if against or idle:
                raise _GivenUp

        try:
            made = make_plan(read_brief(self._text, way.edits), watch=watch, memory=self._memory)
        except (BossageError, _GivenUp):  # a brief may be faulty with it, or hold what cannot be made
            made = None
        if isinstance(made, Plan):
            against.extend(self._spoken_again(made))
        return Tried(checks=checks, worse=tuple(against), plan=None if against or not isinstance(made, Plan) else made)

    def _spoken_again(self, made: Plan) -> Iterator[Check]:
        """What somebody has agreed to before, and would have to be asked about again."""
        for check in made.checks:
            if check.verdict is not Verdict.FINE and (check.stage, check.name, check.subject) in self._quiet:
                yield check


class _GivenUp(Exception):
    """A change that makes something worse, or does not heal what it is meant to heal."""


def tries_for(plan: Plan) -> int:
    """How many whole plans a piece is worth: more for a small one."""
    blocks = max(1, plan.layout.blocks.count) * (MOSAIC_TIMES if plan.brief.blocks.mosaic else 1)
    return min(TRIES_MOST, max(TRIES_LEAST, BLOCKS_PLANNED // blocks))
