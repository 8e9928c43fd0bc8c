"""At the laying bench: how far rows may wander, and where to measure from the datum again."""

from __future__ import annotations

from bossage.layout.drift import DEVIATIONS, OUTLINE_TRUE_NM
from bossage.layout.records import Drift
from bossage.pack.sheet import Column, Heading, Para, Part, Sheet, Table
from bossage.pack.sheets.common import words_of
from bossage.pack.words import Words
from bossage.plan import Plan

MARKS_MOST = 40  # lines of a leaf that are written out
MARKS_A_LINE, MARK_MM = 6, 26.0


def rows_sheet(plan: Plan) -> Sheet | None:
    """Drift across and up, worst and likely, and the marks to set rows by; none where no section has a spread."""
    drifts, words = plan.layout.drifts, words_of(plan)
    if not drifts:
        return None
    parts: list[Part] = [_table(drifts, words), Para(text=_meaning(words), small=True)]
    for drift in drifts:
        if drift.redatum_rows:
            parts += _marks(drift, words, gap_nm=plan.brief.blocks.gap_nm)
    if not any(drift.redatum_rows for drift in drifts):
        parts.append(Para(text="No row need be measured anew: even at worst the outline stays true."))
    return Sheet(
        name="rows",
        title="Rows that stay true",
        todo="Measure ten blocks of each size first. Set rows from the datum, never from the row before alone.",
        wrong="A row is off its mark? Sort the blocks left by size, and set large ones beside small ones.",
        parts=tuple(parts),
    )


def _table(drifts: tuple[Drift, ...], words: Words) -> Table:
    rows = tuple(
        (
            drift.way,
            str(drift.rows),
            f"± {words.thin(drift.worst_nm)}",
            f"± {words.thin(drift.likely_nm)}",
            words.thin(drift.paint_nm) if drift.paint_nm else "nothing",
            words.thin(drift.gap_takes_nm) if drift.gap_takes_nm else "nothing",
            _anew(drift),
            words.thin(drift.gap_true_nm) if drift.gap_true_nm else "not needed",
        )
        for drift in drifts
    )
    columns = (
        Column(head="way", kind="strong"),
        Column(head="blocks in a row", align="right"),
        Column(head="off at worst", align="right"),
        Column(head="as a rule", align="right"),
        Column(head="paint adds", align="right"),
        Column(head="gaps take up", align="right"),
        Column(head="measure anew", kind="strong"),
        Column(head="or gaps of", align="right"),
    )
    return Table(columns=columns, rows=rows)


def _meaning(words: Words) -> str:
    return (
        f"At worst: every block off the same way, as those of one stick may be. As a rule: {DEVIATIONS} standard "
        "deviations of so many independent errors, which hardly any row exceeds. Dry paint on touching sides is "
        "reckoned with paint.build. What paint leaves of a gap takes up half of itself either way. "
        f"The outline counts as true within {words.thin(OUTLINE_TRUE_NM)} (our assumption)."
    )


def _anew(drift: Drift) -> str:
    if not drift.redatum_rows:
        return "not needed"
    return "at the marks" if drift.marks_do and drift.marks_nm else f"every {drift.redatum_rows} blocks"


def _marks(drift: Drift, words: Words, *, gap_nm: int) -> list[Part]:
    """Distances of the marks from where laying begins: a block begins there in every row."""
    at = drift.marks_nm[:MARKS_MOST]
    if not at:
        text = (
            f"Going {drift.way} there is no line at which every row begins a block. Set each row by its own card, "
            f"after every {drift.redatum_rows} blocks at most."
        )
        return [Para(text=text)]
    datum = "the left edge of the face" if drift.way == "across" else "the upper edge of the face, downwards"
    columns = tuple(Column(kind="figure", align="right", mm=MARK_MM) for _ in range(MARKS_A_LINE))
    lines = [at[start : start + MARKS_A_LINE] for start in range(0, len(at), MARKS_A_LINE)]
    rows = tuple(tuple(words.bare(nm) for nm in line) + ("",) * (MARKS_A_LINE - len(line)) for line in lines)
    short = "" if drift.marks_do else f" Between some of them more than {drift.redatum_rows} blocks lie: look twice."
    return [
        Heading(text=f"Marks for going {drift.way if drift.way == 'across' else 'down'}"),
        Para(text=f"From {datum}, in {words.unit_name}. At each mark a block begins in every row.{short}"),
        Table(columns=columns, rows=rows),
        Para(text=_set_right(drift, words, gap_nm)),
    ]


def _set_right(drift: Drift, words: Words, gap_nm: int) -> str:
    """What is done where a row is off its mark: a gap gives, joints that touch do not."""
    if gap_nm:
        return "What is missing or too much there goes into the gap before the mark."
    told = (
        "Missing before a mark: a slip of card in the joint. Too much: change blocks of that stretch for smaller ones "
        "of the same size and shade, or plane a side that does not show."
    )
    if drift.paint_nm:
        told += (
            f" The marks are for sticks squared for their paint. At the full size paint adds "
            f"{words.thin(drift.paint_nm // max(1, drift.rows - 1))} at every joint, and no mark can be kept."
        )
    return told
