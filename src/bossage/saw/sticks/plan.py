"""One job planned once: the cheapest sticks with their proof, without advice beside it."""

from __future__ import annotations

from dataclasses import replace

from bossage.saw.job.contents import drop_empty
from bossage.saw.job.first_fit import first_fit_decreasing
from bossage.saw.job.numbers import Core, build_core
from bossage.saw.job.records import FaultyJob, Greedy, SawJob, SawPlan
from bossage.saw.money.bound import Mixes
from bossage.saw.money.records import Solved
from bossage.saw.money.search import solve
from bossage.saw.settings.search import finish
from bossage.saw.sticks.places import cut_sticks, sequences, settings, sort_sticks


def plan_once(job: SawJob) -> tuple[Core, SawPlan | None]:
    """The plan without advice; None when the stock does not suffice.

    Raises:
        FaultyJob: The job holds nothing to saw, or a value that makes no sense.
    """
    core = build_core(job)
    if not core.demand:
        raise FaultyJob("There is nothing to saw: every count is 0.")
    if core.widths[0] > max((max(b.caps) for b in core.bins), default=0):
        return core, None
    solved = solve(core, job.patience, job.seed)
    if solved.filled is None:
        return core, None
    filled = drop_empty(solved.filled)
    done = finish(core, filled, job.patience, job.seed)
    solved.filled = done.filled
    plan = plan_of(job, core, solved)
    return core, replace(plan, settings_proven=done.kinds_proven, rest_proven=done.rest_proven)


def plan_of(job: SawJob, core: Core, solved: Solved) -> SawPlan:
    """The plan that solved contents make."""
    assert solved.filled is not None
    filled = sort_sticks(core, drop_empty(solved.filled))
    quicker, other = sequences(core, job, filled)
    sticks = cut_sticks(core, job, filled, quicker.within)
    money = sum(stick.stock.price_cents for stick in sticks)
    need = core.need * core.unit_nm
    usable = sum(stick.usable_nm for stick in sticks)
    paid = [stick.usable_nm for stick in sticks if not stick.stock.owned]
    short = need - (usable - min(paid)) if paid and len(sticks) > 1 else None
    return SawPlan(
        sticks=sticks,
        settings=settings(core, job, filled),
        order=tuple((s + 1, core.lengths_nm[i]) for s, i in quicker.visits),
        handling=quicker.handling,
        other_handling=other.handling,
        money_cents=money,
        bound_cents=solved.bound if core.priced else 0,
        bound_sticks=fewest_sticks(core),
        proven=solved.price <= solved.bound,
        why_proven=solved.why,
        need_nm=need,
        usable_nm=usable,
        greedy=greedy(job, core),
        short_for_one_fewer_nm=short,
    )


def fewest_sticks(core: Core) -> int:
    """Fewest sticks of any kind that could hold the demand, whatever they cost."""
    return Mixes(tuple(replace(b, price=1) for b in core.bins), core.need).bound or 0


def greedy(job: SawJob, core: Core) -> Greedy | None:
    """First-fit decreasing on the same job."""
    loads = first_fit_decreasing(
        core,
        tuple(job.sticks[b.stock].owned or job.sticks[b.stock].price_cents == 0 for b in core.bins),
        tuple(b.length_nm for b in core.bins),
    )
    if loads is None:
        return None
    return Greedy(
        sticks=len(loads),
        money_cents=sum(job.sticks[core.bins[load.bin].stock].price_cents for load in loads),
    )
