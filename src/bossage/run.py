"""One command from end to end: read, plan, make the papers, write. The edge where files and stages meet."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bossage.brief import BriefFaults, read_brief
from bossage.files import read_text, write_folder
from bossage.plan import NoPlan, Plan, Tell, make_plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of a brief: faults, no plan, or a plan and where its papers are."""

    faults: BriefFaults | None = None
    no_plan: NoPlan | None = None
    plan: Plan | None = None
    out: Path | None = None
    files: tuple[str, ...] = ()


def plan_only(brief_path: Path, *, tell: Tell = lambda stage: None) -> Outcome:
    """Read and plan; write nothing.

    Raises:
        CannotRead: The file is not there or cannot be read.
    """
    text = read_text(brief_path)
    try:
        brief = read_brief(text)
    except BriefFaults as faults:
        return Outcome(faults=faults)
    made = make_plan(brief, tell=tell)
    return Outcome(no_plan=made) if isinstance(made, NoPlan) else Outcome(plan=made)


def plan_and_write(brief_path: Path, out: Path, *, tell: Tell = lambda stage: None) -> Outcome:
    """Read, plan and write every paper into a folder.

    Raises:
        CannotRead: The file is not there or cannot be read.
        CannotWrite: The papers cannot be written; what was in the folder stays.
    """
    outcome = plan_only(brief_path, tell=tell)
    if outcome.plan is None:
        return outcome
    tell("the papers")
    files = papers(outcome.plan)
    write_folder(out, files)
    return Outcome(plan=outcome.plan, out=out, files=tuple(files))


def papers(plan: Plan) -> dict[str, bytes]:
    """Every file of a pack, `plan.json` first."""
    from bossage.pack import pack_files
    from bossage.serial import plan_json

    return {"plan.json": plan_json(plan), **pack_files(plan)}
