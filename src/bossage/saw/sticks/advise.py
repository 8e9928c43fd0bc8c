"""The saw's answer for sticks: cheapest, fewest settings, longest rest; or what is missing and the cures."""

from __future__ import annotations

from dataclasses import replace

from bossage.saw.job.records import SawJob, SawPlan, Shortfall
from bossage.saw.sticks import cures
from bossage.saw.sticks.plan import plan_once

LEAST_SLACK = 50  # one part in so many of the usable wood; under it one knot breaks the plan (our own rule)


def plan_sticks(job: SawJob, *, advise: bool = True) -> SawPlan | Shortfall:
    """Cut the pieces from the sticks for the least money, then the fewest settings, then the longest rest.

    Args:
        job: Pieces of one section, sticks, saw, time model and patience.
        advise: Also look for the next safer plan, and for spares that would save a stick.

    Returns:
        The plan with its proof, or what stays uncut and the cheapest ways out.

    Raises:
        FaultyJob: The job holds nothing to saw, or a value that makes no sense.

    Leaves out:
        Which faces of a stick are good, and taper within a stick; both are no-go zones to the caller.
    """
    core, plan = plan_once(job)
    if plan is None:
        return cures.shortfall(job, core)
    if not advise:
        return plan
    # One spoiled slice of the longest kind could not be cut again, and hardly anything else either.
    tight = plan.slack_nm < min(core.lengths_nm[0] + job.kerf_nm, plan.usable_nm // LEAST_SLACK)
    return replace(
        plan,
        savings=cures.savings(job, plan),
        tight=tight,
        safer=cures.safer(job) if tight else None,
    )
