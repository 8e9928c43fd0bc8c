"""`bossage replan`: from a plan and what the shop says to a work order, in words or as JSON."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from bossage.brief import BriefFaults
from bossage.errors import BossageError
from bossage.files import read_text
from bossage.plan import Tell
from bossage.replan import Mended, NoMend, Standing, mend, standing_of, standing_of_json
from bossage.replan.settled import settled_brief, settled_fragment
from bossage.replan.shop import Said, split_words
from bossage.replan.words import Part, left_words, swaps_of, verdict_words, work_order
from bossage.run import plan_only
from bossage.serial import Json, to_json
from bossage.writing import write_new

PLAN_MAX_BYTES = 200_000_000


class NothingToReplan(BossageError):
    """The brief cannot be planned, so there is no plan to start from."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """The words of the command line."""

    plan: Path
    shop: tuple[Path, ...] = ()
    glued: tuple[str, ...] = ()
    spoiled: tuple[str, ...] = ()
    tray: tuple[str, ...] = ()
    lost: tuple[str, ...] = ()
    found: tuple[str, ...] = ()
    stock: tuple[str, ...] = ()
    unpainted: bool = False
    no_saw: bool = False
    no_repaint: bool = False
    light: str = ""
    write: Path | None = None
    overwrite: bool = False


def replanned(asked: Asked, *, tell: Tell = lambda stage: None) -> Mended | NoMend:
    """Read the plan and what the shop says, and mend; the settled brief is written where one was asked for.

    Raises:
        BossageError: A file or something said is not understood, or the brief cannot be planned.
        CannotWrite: A file is there already, or the disk refuses.
    """
    standing, text = _standing(asked.plan, tell)
    tell("the re-plan")
    mended = mend(standing, _said(asked, standing).shop())
    if asked.write is not None and isinstance(mended, Mended):
        settled = settled_fragment(mended) if text is None else settled_brief(text, mended)
        write_new(asked.write, settled.encode(), option="--write", overwrite=asked.overwrite)
    return mended


def _standing(path: Path, tell: Tell) -> tuple[Standing, str | None]:
    """The piece as planned, and the text of the brief where that was named."""
    if path.suffix.casefold() == ".json":
        return standing_of_json(read_text(path, most_bytes=PLAN_MAX_BYTES)), None
    outcome = plan_only(path, tell=tell)
    if outcome.faults is not None:
        raise outcome.faults
    if outcome.plan is None:
        assert outcome.no_plan is not None
        raise NothingToReplan(f"This brief cannot be planned. {outcome.no_plan.reason} {outcome.no_plan.remedy}")
    return standing_of(outcome.plan), read_text(path)


def _said(asked: Asked, standing: Standing) -> Said:
    said = Said(standing=standing)
    for path in asked.shop:
        text = read_text(path)
        if path.suffix.casefold() == ".csv":
            said.read_csv(text, path.name)
        else:
            said.read_toml(text, path.name)
    for words, say in (
        (asked.glued, said.glue),
        (asked.spoiled, said.spoil),
        (asked.tray, said.count),
        (asked.lost, said.lose),
        (asked.found, said.find),
    ):
        for one in words:
            for part in split_words(one):
                say(part)
    for one in asked.stock:
        said.lie(one)
    if asked.light:
        said.light(asked.light)
    said.painted = said.painted and not asked.unpainted
    said.saw = said.saw and not asked.no_saw
    said.repaint = said.repaint and not asked.no_repaint
    return said


def mended_text(mended: Mended) -> str:
    """The work order for the bench."""
    s = mended.standing
    lines = [f"{s.name}, plan {s.stamp}: re-plan", "", verdict_words(mended)]
    number = 0
    parts = work_order(mended)
    for part in parts:
        lines += ["", part.station]
        for step in part.steps:
            number += 1
            lines.append(f"{number:>4}. {step}")
        if part.heed:
            lines.append(f"    △ {part.heed}")
    if not parts:
        lines += ["", "Nothing has to be done: every place gets its own block."]
    lines += ["", left_words(mended)]
    if mended.notes:
        lines += ["", "Taken as given:", *(f"  {note}" for note in mended.notes)]
    return "\n".join(lines)


def mended_json(mended: Mended) -> Json:
    """Everything, for programs. Lengths in millimetres."""
    s = mended.standing
    swaps, _ = swaps_of(mended)
    with_mate = {a.place: b.place for a, b in swaps} | {b.place: a.place for a, b in swaps}
    return {
        "outcome": "replanned",
        "piece": s.name,
        "stamp": s.stamp,
        "changes": mended.changes_n,
        "bound": mended.bound_n,
        "proven": mended.proven,
        "visible": mended.visible_n,
        "least_seen": mended.least_seen,
        "glued": int(mended.glued.sum()),
        "already_alike": mended.kept_n,
        "places": [
            {
                **_place(s, one.place),
                "before_mm": one.before_nm / 1e6,
                "after_mm": one.after_nm / 1e6,
                "length_mm": one.length_nm / 1e6,
                "shade": one.shade,
                "planned_shade": one.planned_shade,
                "from_length_mm": None if one.source_nm is None else one.source_nm / 1e6,
                "from_shade": one.source_shade or None,
                "needs_paint": one.needs_paint,
                "swap_with": s.places[with_mate[one.place]].address if one.place in with_mate else None,
            }
            for one in mended.taken
        ],
        "saw": [
            {
                "footprint": s.footprints[one.footprint],
                "from_mm": None if one.from_nm is None else one.from_nm / 1e6,
                "to_mm": one.to_nm / 1e6,
                "count": one.count,
            }
            for one in mended.recuts
        ],
        "stock": {
            "cuts": [
                {
                    "section": one.section,
                    "of_stick": one.stick.of_stick,
                    "stick_mm": one.stick.stock.length_nm / 1e6,
                    "lengths": _lengths(one.lengths),
                }
                for one in mended.new.cuts
            ],
            "short": [
                {
                    "section": one.section,
                    "lengths": _lengths(one.lengths),
                    "buy": one.bought_as,
                    "stick_mm": one.stick_nm / 1e6,
                    "sticks": one.sticks,
                }
                for one in mended.new.short
            ],
        },
        "left": [
            {
                "footprint": s.footprints[one.footprint],
                "length_mm": one.length_nm / 1e6,
                "shade": one.shade or None,
                "count": one.count,
            }
            for one in mended.left
        ],
        "levels": [
            {
                **_place(s, v),
                "level_mm": s.levels_nm[int(mended.level[v])] / 1e6,
                "shade": s.shades[int(mended.shade[v])],
                "glued": bool(mended.glued[v]),
            }
            for v in range(s.count)
        ],
        "order": [_part(part) for part in work_order(mended)],
        "notes": list(mended.notes),
    }


def no_mend_json(no: NoMend) -> Json:
    """Why not, for programs."""
    body = to_json(no)
    assert isinstance(body, dict)
    return {"outcome": "no re-plan", **body}


def _place(s: Standing, v: int) -> dict[str, Json]:
    place = s.places[v]
    return {
        "leaf": place.leaf,
        "copy": place.copy,
        "address": place.address,
        "footprint": s.footprints[int(s.footprint[v])],
    }


def _lengths(lengths: tuple[tuple[int, int], ...]) -> Json:
    return [{"length_mm": nm / 1e6, "count": count} for nm, count in lengths]


def _part(part: Part) -> Json:
    return {"station": part.station, "steps": list(part.steps), "heed": part.heed}


__all__ = ["Asked", "BriefFaults", "mended_json", "mended_text", "no_mend_json", "replanned"]
