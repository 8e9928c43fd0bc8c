"""At the laying bench: how far rows may wander, and where to measure from the datum again."""

from __future__ import annotations

from bossage.layout.drift import DEVIATIONS, OUTLINE_TRUE_NM
from bossage.layout.records import Drift
from bossage.pack.sheet import Column, Para, Part, Sheet, Table
from bossage.pack.sheets.common import words_of
from bossage.pack.words import Words
from bossage.plan import Plan

MARKS_MOST = 40  # lines of a leaf that are written out
MARKS_A_LINE, MARK_MM, FROM_MM = 6, 22.0, 44.0


def rows_sheet(plan: Plan) -> Sheet | None:
    """Drift across and up, worst and likely, and the marks to set rows by; none where no section has a spread."""
    drifts, words = plan.layout.drifts, words_of(plan)
    if not drifts:
        return None
    parts: list[Part] = [_table(drifts, words)]
    set_anew = [drift for drift in drifts if drift.redatum_rows]
    parts += _marks(set_anew, words)
    parts += [
        Para(text=text)
        for text in dict.fromkeys(_set_right(one, words, plan.brief.blocks.gap_nm) for one in set_anew if one.marks_nm)
    ]
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


def drift_meaning(words: Words) -> str:
    """What the figures of the table count."""
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


def _marks(drifts: list[Drift], words: Words) -> list[Part]:
    """Distances of the marks from where laying begins: a block begins there in every row."""
    rows: list[tuple[str, ...]] = []
    groups, notes = list[int](), list[Part]()
    for drift in drifts:
        at = drift.marks_nm[:MARKS_MOST]
        if not at:
            text = (
                f"Going {drift.way} there is no line at which every row begins a block. Set each row by its own card, "
                f"after every {drift.redatum_rows} blocks at most."
            )
            notes.append(Para(text=text))
            continue
        datum = "from the left edge of the face" if drift.way == "across" else "from the upper edge of the face, down"
        lines = [at[start : start + MARKS_A_LINE] for start in range(0, len(at), MARKS_A_LINE)]
        groups.append(len(rows))
        for number, line in enumerate(lines):
            places = tuple(words.bare(nm) for nm in line) + ("",) * (MARKS_A_LINE - len(line))
            rows.append(("" if number else f"{drift.way}, {datum}", *places))
        if not drift.marks_do:
            text = f"Going {drift.way} more than {drift.redatum_rows} blocks lie between some of the marks: look twice."
            notes.append(Para(text=text))
    if not rows:
        return notes
    columns = (Column(mm=FROM_MM), *(Column(kind="figure", align="right", mm=MARK_MM) for _ in range(MARKS_A_LINE)))
    lead = Para(lead=f"Marks, in {words.unit_name}:", text="at each of them a block begins in every row.")
    return [lead, Table(columns=columns, rows=tuple(rows), groups=tuple(groups), tight=True), *notes]


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
