"""How far the backer bows when the room is drier or damper than the shop, and the cheapest change that lowers it.

A strip of the backer along each of its two ways, as layers that want to change length by different amounts
(`timber.layered_bow`: Timoshenko 1925). One face of the board follows the room, the other is held back by paint.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.layout.records import Layout
from bossage.press.house import backer_expansion_per_pct
from bossage.press.wood_records import BackerBow, BowChange, BowStrip, RibPlace
from bossage.timber import Layer, board, board_keys, layered_bow, species
from bossage.timber.bow import LEAVES_OUT
from bossage.timber.movement import DEFAULT_FSP_PCT, LONGITUDINAL_SHRINKAGE_PCT
from bossage.units import NM_PER_MM, format_length, format_percent

UNEVEN = {0: (0.0, 0.2, 0.5), 1: (0.25, 0.5, 1.0), 2: (0.0, 0.1, 0.25)}
"""How much less one face follows the room than the other, by sealed faces: least, likely, most. Ours. Two bare faces
differ because blocks cover one of them, two sealed ones by the luck of the brush."""

LOW_MM, HIGH_MM = 3.0, 10.0
"""Below: nobody sees it. Above: the edges stand off the wall and joints gape. Ours."""

RIB_SPACING_NM = 400_000_000
"""A rib each so far, ours; ribs from about 750 mm (30 in) of backer on are a rule of thumb without source."""

RIB_WIDTH_NM, RIB_DEPTH_NM = 20_000_000, 40_000_000
RIB_MPA = 9_000.0
"""A rib to try: a softwood batten on edge, with a usual modulus along its grain."""

THICKER = 1.5
"""The next board to try: 12 mm becomes 18, 1/2 in becomes 3/4."""

NOT_SEEN = (
    *LEAVES_OUT,
    "Ribs of the brief are taken as glued: on a board that shrinks more than they do, glue makes ribs part of the bow. "
    "In slots they only hold the board straight.",
    "The blocks on the front: drying across their grain they pull the edges into the room, each letting go at its "
    "joints; no published formula for layers fits that.",
)


def backer_bow(brief: Brief, layout: Layout) -> BackerBow:
    """Bow of the largest leaf's backer along both ways, with its spread, and what would lower it.

    Args:
        brief: Backer, its sealed faces, ribs behind, moisture when sawn and in use (the board is taken to start as
            damp as the shop's wood).
        layout: Sizes of the backers.

    Returns:
        Rise of the middle over the ends in millimetres, whichever way it goes; class by the likely figure, one class
        up where the most exceeds twice the class's limit.

    Source:
        Timoshenko (1925) as in `timber.bow`; shares of unevenness and classes ours.
    """
    leaf = max(layout.leaves, key=lambda one: one.backer_width_nm * one.backer_height_nm)
    sizes = {"across": leaf.backer_width_nm, "up": leaf.backer_height_nm}
    strips = tuple(_strip(brief, way, sizes) for way in sizes)
    worst = max(strips, key=lambda strip: strip.likely_mm)
    changes = tuple(sorted(_changes(brief, sizes, worst), key=lambda change: change.rank))
    better = [change for change in changes if _order(change.risk) < _order(worst.risk)]
    return BackerBow(
        strips=strips,
        worst=worst,
        change_pct=_change_pct(brief),
        changes=changes,
        cheapest=better[0] if better else None,
        ribs=_rib_places(brief, layout, worst.way),
        leaves_out=NOT_SEEN,
    )


def bow_figures(bow: BackerBow) -> dict[str, float]:
    """Likely, least and most rise of the worst strip; rise along each way."""
    out = {f"bow.{strip.way}_mm": strip.likely_mm for strip in bow.strips}
    worst = bow.worst
    return out | {"bow.likely_mm": worst.likely_mm, "bow.least_mm": worst.least_mm, "bow.most_mm": worst.most_mm}


def check_bow(brief: Brief, bow: BackerBow) -> Check:
    """`bow`: low is fine, medium and high are cautions with the cheapest change that lowers them."""
    unit, worst = brief.piece.unit, bow.worst
    low, high = format_length(round(LOW_MM * NM_PER_MM), unit), format_length(round(HIGH_MM * NM_PER_MM), unit)
    likely, most = (format_length(round(mm * NM_PER_MM), unit) for mm in (worst.likely_mm, worst.most_mm))
    sealed = {0: "no face sealed", 1: "one face sealed", 2: "both faces sealed"}[brief.backer.sealed_faces]
    where = "across" if worst.way == "across" else "up and down"
    change = bow.cheapest
    return Check(
        stage="press",
        name="bow",
        title="Bow of the backer in its room",
        verdict=Verdict.FINE if worst.risk == "low" else Verdict.CAUTION,
        found=f"{worst.risk.capitalize()}: {likely} likely, {most} at most, {where} over "
        f"{format_length(worst.span_nm, unit)}; {format_length(brief.backer.thickness_nm, unit)} "
        f"{brief.backer.material.replace('_', ' ')}, {sealed}, {format_percent(bow.change_pct)} of moisture change.",
        allowed=f"Low: likely below {low}. High: above {high}.",
        why="A board that follows the room on one face only bends, weeks after it was hung, and leaves the wall.",
        remedy="" if worst.risk == "low" else _remedy(change, bow.changes, unit),
        source="Layered strip, Timoshenko 1925; board figures from memory; classes and spread ours.",
    )


def modulus_mpa(key: str, *, along: bool) -> float:
    """Modulus of elasticity of a wood (along its grain) or a board; a usual softwood's where the tables have none."""
    if key in board_keys():
        return board(key).modulus_along_mpa if along else board(key).modulus_across_mpa
    return species(key).modulus_along_mpa or RIB_MPA


def _remedy(change: BowChange | None, changes: tuple[BowChange, ...], unit: str) -> str:
    if change is None:
        return "No single change lowers it: split the piece into leaves, seal both faces alike and put ribs in slots."
    said = _after(change, unit)
    low = next((one for one in changes if one.risk == "low"), change)
    return said if low is change else f"{said} {_after(low, unit)}"


def _after(change: BowChange, unit: str) -> str:
    after = format_length(round(change.likely_mm * NM_PER_MM), unit)
    return f"{change.text}: then {after} likely, {change.risk}."


def _strip(brief: Brief, way: str, sizes: dict[str, int], loose: tuple[str, int] = ("", 0)) -> BowStrip:
    """One strip of the backer, its glued ribs smeared over its width; `loose`: way and number of slotted ribs more."""
    span, width = sizes[way], sizes["up" if way == "across" else "across"]
    ribs = [part for part in brief.behind if _runs(part.upright, way) and part.length_nm * 3 >= span * 2]
    rib_width = sum(part.count * part.width_nm for part in ribs)
    depth = max((part.depth_nm for part in ribs), default=0)
    rib_mpa = min((modulus_mpa(part.species, along=True) for part in ribs), default=1.0)
    shares = UNEVEN[brief.backer.sealed_faces]
    # ribs pull one way whatever the paint does, so either face may turn out the worse one to leave open
    held = _held_share(brief, width, loose[1]) if loose[0] == way else 1.0
    by_face = [
        [_rise_mm(brief, share, span, width, rib_width, depth, rib_mpa, front=front) * held for share in shares]
        for front in (False, True)
    ]
    # between the shares the rise runs straight, so it passes through flat where its ends differ in sign
    least = min(0.0 if ends[0] * ends[-1] < 0 else min(map(abs, ends)) for ends in by_face)
    likely = max(abs(rises[1]) for rises in by_face)
    most = max(abs(rise) for rises in by_face for rise in rises)
    return BowStrip(
        way=way,
        span_nm=span,
        ribs=sum(part.count for part in ribs),
        least_mm=least,
        likely_mm=likely,
        most_mm=most,
        risk=_risk(likely, most),
    )


def _rise_mm(
    brief: Brief,
    share: float,
    span_nm: int,
    width_nm: int,
    rib_width_nm: int,
    depth_nm: int,
    rib_mpa: float,
    *,
    front: bool,
) -> float:
    """Layers from the back: ribs that hardly move along their grain, then the board, open at its back or its front."""
    change = _change_pct(brief)
    strain, held = (backer_expansion_per_pct(brief) * change * part for part in (1, 1 - share))
    ours = Layer(
        thickness_mm=brief.backer.thickness_nm / NM_PER_MM,
        width_mm=width_nm / NM_PER_MM,
        modulus_mpa=modulus_mpa(brief.backer.material, along=True),
        lower_strain=held if front else strain,
        upper_strain=strain if front else held,
    )
    layers = [ours]
    if rib_width_nm:
        along = LONGITUDINAL_SHRINKAGE_PCT / 100 / DEFAULT_FSP_PCT * change
        rib = Layer(
            thickness_mm=depth_nm / NM_PER_MM,
            width_mm=rib_width_nm / NM_PER_MM,
            modulus_mpa=rib_mpa,
            lower_strain=along,
            upper_strain=along,
        )
        layers = [rib, ours]
    return layered_bow(layers, span_nm / NM_PER_MM).sagitta_mm


def _changes(brief: Brief, sizes: dict[str, int], worst: BowStrip) -> Iterator[BowChange]:
    """What a maker could do, cheapest first: a coat, ribs, both, thicker, calmer, smaller leaves."""
    unit = brief.piece.unit
    backer = brief.backer
    sealed = replace(brief, backer=replace(backer, sealed_faces=2))
    count = max(2, -(-sizes["up" if worst.way == "across" else "across"] // RIB_SPACING_NM))
    ribs = f"{count} ribs {'lying' if worst.way == 'across' else 'upright'}, {format_length(RIB_WIDTH_NM, unit)} wide "
    ribs += f"and {format_length(RIB_DEPTH_NM, unit)} deep, screwed through slots and not glued"
    thick = round(backer.thickness_nm * THICKER)
    loose, none = (worst.way, count), ("", 0)
    tries = [("Put " + ribs, brief, sizes, loose)]
    if backer.sealed_faces < 2:
        tries.insert(0, ("Seal both faces and the edges alike", sealed, sizes, none))
        tries.append(("Seal both faces alike and put " + ribs, sealed, sizes, loose))
    thicker = replace(brief, backer=replace(backer, thickness_nm=thick))
    tries.append((f"Take a backer of {format_length(thick, unit)}", thicker, sizes, none))
    if backer.material != "plywood_birch":
        calmer = replace(brief, backer=replace(backer, material="plywood_birch"))
        tries.append(("Take birch plywood", calmer, sizes, none))
    halves = {way: size // 2 if way == worst.way else size for way, size in sizes.items()}
    tries.append(("Split the piece into two leaves", brief, halves, none))
    for rank, (text, changed, spans, ribbed) in enumerate(tries):
        after = max((_strip(changed, way, spans, ribbed) for way in spans), key=lambda strip: strip.likely_mm)
        yield BowChange(text=text, rank=rank, likely_mm=after.likely_mm, most_mm=after.most_mm, risk=after.risk)


def _held_share(brief: Brief, width_nm: int, count: int) -> float:
    """What is left of the bow where ribs in slots hold the board straight: they share its bending, not its length."""
    board_EI = modulus_mpa(brief.backer.material, along=True) * width_nm / NM_PER_MM
    board_EI *= (brief.backer.thickness_nm / NM_PER_MM) ** 3 / 12
    ribs_EI = RIB_MPA * count * RIB_WIDTH_NM / NM_PER_MM * (RIB_DEPTH_NM / NM_PER_MM) ** 3 / 12
    return board_EI / (board_EI + ribs_EI)


def _rib_places(brief: Brief, layout: Layout, way: str) -> tuple[RibPlace, ...]:
    """Where ribs stand: those of the brief, else as many as the rule asks for, each in the middle of an equal strip.

    A rib deeper than the air behind the backer is moved off every fixture, to the nearer side.
    """
    out = []
    for number, leaf in enumerate(layout.leaves):
        parts = [(p.upright, p.count, p.width_nm, p.depth_nm) for p in brief.behind if p.role == "rib"]
        longest = max(leaf.backer_width_nm, leaf.backer_height_nm)
        if not parts and longest >= 750 * NM_PER_MM:
            across = way == "up"
            size = leaf.backer_width_nm if across else leaf.backer_height_nm
            parts = [(across, max(2, -(-size // RIB_SPACING_NM)), RIB_WIDTH_NM, RIB_DEPTH_NM)]
        for upright, count, width, depth in parts:
            start = leaf.backer_x_nm if upright else leaf.backer_y_nm
            size = leaf.backer_width_nm if upright else leaf.backer_height_nm
            for k in range(count):
                middle = start + size * (2 * k + 1) // (2 * count)
                clear = _off_fixtures(brief, layout, leaf.copy, upright, middle, width, depth)
                out.append(RibPlace(leaf=number, upright=upright, middle_nm=clear, moved_nm=clear - middle))
    return tuple(out)


def _off_fixtures(brief: Brief, layout: Layout, copy: int, upright: bool, middle: int, width: int, depth: int) -> int:
    room = layout.stand_off.stand_off_nm - depth
    for fixture in brief.fixtures:
        if fixture.proud_nm + brief.access.air_nm <= room or (fixture.copies and copy not in fixture.copies):
            continue
        low, high = (fixture.x_nm, fixture.right_nm) if upright else (fixture.y_nm, fixture.top_nm)
        if low - width // 2 < middle < high + width // 2:
            middle = low - width // 2 if middle - low <= high - middle else high + width // 2
    return middle


def _change_pct(brief: Brief) -> float:
    blocks = brief.blocks
    ends = (blocks.moisture_use_low_pct, blocks.moisture_use_high_pct)
    return max(abs(end - blocks.moisture_sawn_pct) for end in ends)


def _runs(upright: bool, way: str) -> bool:
    return upright == (way == "up")


def _risk(likely_mm: float, most_mm: float) -> str:
    if likely_mm > HIGH_MM or most_mm > 2 * HIGH_MM:
        return "high"
    return "low" if likely_mm < LOW_MM and most_mm < 2 * LOW_MM else "medium"


def _order(risk: str) -> int:
    return ("low", "medium", "high").index(risk)
