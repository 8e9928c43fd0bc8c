"""One command from end to end: read, plan, make the papers, write. The edge where files and stages meet."""

from __future__ import annotations

import gc
import sys
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from bossage.brief import BriefFaults, read_brief
from bossage.files import read_text
from bossage.plan import Memory, NoPlan, Plan, Tell, make_plan
from bossage.remedies import advised
from bossage.writing import Written, write_folder, write_new

if TYPE_CHECKING:
    from bossage.pack import Order


@dataclass(frozen=True, slots=True, kw_only=True)
class Outcome:
    """What came of a brief: faults, no plan, or a plan and where its papers are."""

    faults: BriefFaults | None = None
    no_plan: NoPlan | None = None
    plan: Plan | None = None
    out: Path | None = None
    files: tuple[str, ...] = ()
    written: Written = field(default_factory=Written)


def is_file_name(words: str) -> bool:
    """Whether words name a file rather than a piece of the store: by `.toml` at the end, a folder, or a file there."""
    return words.endswith(".toml") or "/" in words or "\\" in words or Path(words).is_file()


def brief_text(named: Path, store: Path | None = None) -> str:
    """The text of a brief: of a file, or of a piece that is kept, by its name or number.

    Args:
        named: The file, or the piece.
        store: The file of pieces; the usual one if not said.

    Raises:
        CannotRead: There is neither, or the file cannot be read.
        NoSuchPiece: Pieces are kept, but none goes by that name, or several do.
        StoreFault: The store cannot be used.
    """
    if is_file_name(str(named)):
        return read_text(named)
    from bossage.store import Pieces, default_store

    store = store or default_store()
    if not store.is_file():
        # a slip of the keys must not make a store
        return read_text(named)
    with Pieces(store) as pieces:
        for note in pieces.file.notes:
            print(note, file=sys.stderr)
        return pieces.revision(pieces.named(str(named))).toml


def plan_only(brief_path: Path, *, store: Path | None = None, tell: Tell = lambda stage: None) -> Outcome:
    """Read and plan; write nothing. The brief is a file, or a piece that is kept (see `brief_text`).

    Raises:
        CannotRead, NoSuchPiece, StoreFault: The brief is not there or cannot be read.
    """
    text = brief_text(brief_path, store)
    try:
        brief = read_brief(text)
    except BriefFaults as faults:
        return Outcome(faults=faults)
    memory = Memory()
    made = make_plan(brief, tell=tell, memory=memory)
    if isinstance(made, NoPlan):
        return Outcome(no_plan=made)
    tell("remedies")
    return Outcome(plan=advised(text, made, memory=memory))


def plan_and_write(
    brief_path: Path,
    out: Path,
    *,
    sheets: str = "",
    form: str = "",
    files: str = "",
    store: Path | None = None,
    overwrite: bool = False,
    tell: Tell = lambda stage: None,
) -> Outcome:
    """Read, plan and write papers into a folder.

    Args:
        brief_path: The brief: a file, or a piece that is kept.
        out: The folder.
        sheets: Names of sheets, parted by commas, each to be a file of its own; nothing for the whole pack.
        form: Forms of them, parted by commas: print, large, text; print if nothing is said.
        files: Kinds of files for other programs, parted by commas: svg, dxf, glb; none if nothing is said.
        store: The file of pieces; the usual one if not said.
        overwrite: Replace files in the folder also that bossage did not make, and keep those beside.
        tell: Called with the name of each stage as it begins.

    Raises:
        UnknownSheet: A sheet of that name does not exist; nothing was planned.
        UnknownForm: A form of that name does not exist; nothing was planned.
        CannotRead, NoSuchPiece, StoreFault: The brief is not there or cannot be read.
        CannotWrite: The papers cannot be written; what was in the folder stays.
    """
    from bossage.pack import read_order

    order = read_order(sheets=sheets, form=form, files=files)
    outcome = plan_only(brief_path, store=store, tell=tell)
    if outcome.plan is None:
        return outcome
    tell("the papers")
    gc.freeze()  # plan and libraries stay to the end of this process: no use in walking them again at every sheet
    made = papers(outcome.plan, order)
    plan = f"{outcome.plan.stamp} {outcome.plan.version}"
    written = write_folder(out, made, plan=plan, overwrite=overwrite)
    return Outcome(plan=outcome.plan, out=out, files=tuple(made), written=written)


def papers(plan: Plan, order: Order | None = None) -> dict[str, bytes]:
    """Every file that was ordered, the whole pack if nothing was said; `plan.json` first."""
    from bossage.pack import Order, ordered_files
    from bossage.serial import plan_json

    return {"plan.json": plan_json(plan), **ordered_files(plan, order or Order())}


def write_survey(out: Path, *, paper: str, unit: str, overwrite: bool = False) -> Path | None:
    """Write the blank sheet for the wall as a PDF; where a file that was there is kept, if there was one.

    Raises:
        BossageError: Paper or unit is unknown.
        CannotWrite: The file cannot be written.
    """
    from bossage.pack import blank_survey

    return write_new(out, blank_survey(paper=paper, unit=unit), option="--out", overwrite=overwrite)
