"""How far each leaf bows with its blocks on when the room is drier or damper than the day of gluing, and what helps.

Blocks that dry across their grain draw the front together; the board bends as far as their joints let them
(`press.bow_strips`). Likely is the mean of all strips, for the backer ties them together; most is the worst strip.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.press.bench import Bench
from bossage.press.bow_strips import KEPT, Bends, Slotted, bends_of, bow_of, change_pct
from bossage.press.ribs import RIB_WIDTH_NM, rib_depth_nm, ribs_wanted
from bossage.press.strips import lines_of
from bossage.press.wood_records import BackerBow, BowChange, BowStrip
from bossage.relief import Relief
from bossage.units import NM_PER_MM, format_length, format_percent

LOW_MM, HIGH_MM = 3.0, 10.0
"""Below: nobody sees it. Above: the edges stand off the wall and joints gape. Ours."""

THICKER = 1.5
"""The next board to try: 12 mm becomes 18, 1/2 in becomes 3/4."""

SETTLED_PCT = 0.5
"""Blocks that are no further from the middle of the room's range have settled in it. Ours: what a meter can tell."""

NOT_SEEN = (
    f"Relaxation is a range, not a figure: blocks keep {KEPT[0]:g} to {KEPT[2]:g} of their stiffness, likely "
    f"{KEPT[1]:g} (ours). Most is what they would do if they gave way in nothing.",
    "Slow drying: the figure is for the day when the new moisture is reached everywhere.",
    "Bending across the strip: a square leaf bows into a shallow dish and a little less along each side.",
    "The leaf's own weight, the wall and the cleat, which hold part of the bow back. Fixings that let the leaf float "
    "do not force it flat.",
    "What is glued on the back is part of the bow where the board shrinks more than it does; ribs in slots only hold "
    "the board straight. The cleat is left out: it holds one edge alone.",
    "The way of the backer's face grain: likely takes the middle of both ways, most the softer one.",
)


def backer_bow(brief: Brief, bench: Bench, relief: Relief) -> BackerBow:
    """Bow of the largest leaf along both ways, with its spread, and what would lower it.

    Args:
        brief: Backer, its sealed faces, wood, moisture when glued and in use.
        bench: Places of blocks and backers, what is glued on the back.
        relief: Heights of the blocks.

    Returns:
        Rise in millimetres over the straight line between the ends; class by the likely figure, one class up where
        the most exceeds twice the class's limit.

    Source:
        Ritz's method on each cell of block and board, held against finite elements and Timoshenko (1925) in the tests;
        shares of unevenness and relaxation and the classes are ours.
    """
    number = max(
        range(len(bench.leaves)),
        key=lambda k: bench.leaves[k].backer_width_nm * bench.leaves[k].backer_height_nm,
    )
    both = [bends_of(brief, lines_of(brief, bench, relief, number, way)) for way in ("across", "up")]
    strips = tuple(_classed(bow_of(bends)) for bends in both)
    worst = max(strips, key=lambda strip: strip.likely_mm)
    changes = () if worst.risk == "low" else tuple(_changes(brief, both, worst, bench.stand_off_nm))
    better = [change for change in changes if _order(change.risk) < _order(worst.risk)]
    return BackerBow(
        strips=strips,
        worst=worst,
        change_pct=change_pct(brief),
        changes=changes,
        cheapest=better[0] if better else None,
        leaves_out=NOT_SEEN,
    )


def bow_figures(bow: BackerBow) -> dict[str, float]:
    """Likely, least and most rise of the worst strip; rise along each way."""
    out = {f"bow.{strip.way}_mm": strip.likely_mm for strip in bow.strips}
    worst = bow.worst
    most = max(strip.most_mm for strip in bow.strips)
    return out | {"bow.likely_mm": worst.likely_mm, "bow.least_mm": worst.least_mm, "bow.most_mm": most}


def check_bow(brief: Brief, bow: BackerBow) -> Check:
    """`bow`: low is fine, medium and high are cautions with the cheapest change that lowers them."""
    unit, worst = brief.piece.unit, bow.worst
    low, high = format_length(round(LOW_MM * NM_PER_MM), unit), format_length(round(HIGH_MM * NM_PER_MM), unit)
    figures = (worst.least_mm, worst.likely_mm, worst.most_mm)
    least, likely, most = (format_length(round(mm * NM_PER_MM), unit) for mm in figures)
    sealed = {0: "no face sealed", 1: "one face sealed", 2: "the back sealed, the front closed by its blocks"}[
        brief.backer.sealed_faces
    ]
    where = "across" if worst.way == "across" else "up and down"
    shape = "the ends come forward" if worst.hollow else "the middle comes forward"
    return Check(
        stage="press",
        name="bow",
        title="Bow of a leaf in its room",
        verdict=Verdict.FINE if worst.risk == "low" else Verdict.CAUTION,
        found=f"{worst.risk.capitalize()}: {likely} likely, {least} to {most}, {where} over "
        f"{format_length(worst.span_nm, unit)}; {shape}. {format_length(brief.backer.thickness_nm, unit)} "
        f"{brief.backer.material.replace('_', ' ')}, {sealed}, {format_percent(bow.change_pct)} of moisture change "
        "after gluing.",
        allowed=f"Low: likely below {low}. High: above {high}.",
        why="Blocks move across their grain and the board does not; what is glued as one bends, weeks after it was "
        "hung, and leaves the wall.",
        remedy="" if worst.risk == "low" else _remedy(bow.cheapest, bow.changes, unit),
        source="Plane-stress model of block and board, checked against finite elements and Timoshenko 1925; moduli "
        "from memory; relaxation, classes and spread ours.",
    )


def _remedy(change: BowChange | None, changes: tuple[BowChange, ...], unit: str) -> str:
    if change is None:
        best = min(changes, key=lambda one: one.likely_mm, default=None)
        tail = "" if best is None else f"; beginning with this: {_after(best, unit)}"
        return f"make several changes together{tail}. No single change brings it a class down."
    said = _after(change, unit)
    low = next((one for one in changes if one.risk == "low"), change)
    return said if low is change else f"{said}; or {_after(low, unit)}"


def _after(change: BowChange, unit: str) -> str:
    after = format_length(round(change.likely_mm * NM_PER_MM), unit)
    return f"{change.text[:1].lower()}{change.text[1:]} (then {after} likely, {change.risk})"


def _changes(brief: Brief, both: list[Bends], worst: BowStrip, stand_off_nm: int) -> Iterator[BowChange]:
    """What a maker could do, cheapest first: a rest, a coat, ribs, thicker, calmer, smaller leaves."""
    unit, backer, blocks = brief.piece.unit, brief.backer, brief.blocks
    across_nm = next(bends.lines.width_nm for bends in both if bends.lines.way == worst.way)
    count = ribs_wanted(across_nm)
    ribs = f"{count} ribs {'lying' if worst.way == 'across' else 'upright'}, {format_length(RIB_WIDTH_NM, unit)} wide "
    deep_nm = rib_depth_nm(stand_off_nm, unit)
    ribs += f"and {format_length(deep_nm, unit)} deep, screwed through slots and not glued"
    loose = Slotted(way=worst.way, count=count, depth_nm=deep_nm)
    thick = round(backer.thickness_nm * THICKER)
    tries: list[tuple[str, list[Bends], Slotted | None]] = []

    def changed(**backing: Any) -> list[Bends]:
        return _bent(replace(brief, backer=replace(backer, **backing)), both)

    middle = (blocks.moisture_use_low_pct + blocks.moisture_use_high_pct) / 2
    unsettled = abs(blocks.moisture_laid_pct - middle) > SETTLED_PCT
    rested = _bent(replace(brief, blocks=replace(blocks, moisture_laid_pct=middle)), both) if unsettled else both
    resting = (
        f"Let the slices lie loose in the room until their weight stands still, about {format_percent(middle)}, "
        "before they are glued"
    )
    if unsettled:
        tries.append((resting, rested, None))
    if backer.sealed_faces < 2:
        tries.append(("Seal both faces and the edges alike", changed(sealed_faces=2), None))
    if deep_nm:
        tries.append(("Put " + ribs, both, loose))
    tries.append((f"Take a backer of {format_length(thick, unit)}", changed(thickness_nm=thick), None))
    if unsettled and deep_nm:
        tries.append((f"Do both: let the slices rest in the room; put {ribs}", rested, loose))
    if backer.material != "plywood_birch":
        tries.append(("Take birch plywood", changed(material="plywood_birch"), None))
    halves = [_halved(brief, bends) if bends.lines.way == worst.way else bends for bends in both]
    tries.append(("Split the piece into two leaves", halves, None))
    for rank, (text, bent, slotted) in enumerate(tries):
        after = _classed(max((bow_of(bends, slotted) for bends in bent), key=lambda strip: strip.likely_mm))
        yield BowChange(text=text, rank=rank, likely_mm=after.likely_mm, most_mm=after.most_mm, risk=after.risk)


def _bent(brief: Brief, both: list[Bends]) -> list[Bends]:
    return [bends_of(brief, bends.lines) for bends in both]


def _halved(brief: Brief, bends: Bends) -> Bends:
    return bends_of(brief, bends.lines.halved())


def _classed(strip: BowStrip) -> BowStrip:
    return replace(strip, risk=_risk(strip.likely_mm, strip.most_mm))


def _risk(likely_mm: float, most_mm: float) -> str:
    if likely_mm > HIGH_MM or most_mm > 2 * HIGH_MM:
        return "high"
    return "low" if likely_mm < LOW_MM and most_mm < 2 * LOW_MM else "medium"


def _order(risk: str) -> int:
    return ("low", "medium", "high").index(risk)
