"""The caul of a row: where its clamps sit, how straight it stays, the camber that makes up for it, and its pressure."""

from __future__ import annotations

from bossage.brief.records import Brief, LengthUnit
from bossage.checks import Check, Verdict
from bossage.fasteners import (
    HARDWOOD_PRESSURE_MPA,
    SOFTWOOD_PRESSURE_MPA,
    clamps_needed,
    pressing_force_n,
    stress_words,
)
from bossage.press.beam import clamped_beam, end_sag_mm
from bossage.press.bench import Bench
from bossage.press.method_records import Caul
from bossage.press.records import RowCard
from bossage.press.rest import back_depth_nm
from bossage.relief import Relief
from bossage.timber import is_hardwood, species
from bossage.units import NM_PER_IN, NM_PER_MM, format_length, format_thin

CLAMP_N = 370 * 4.4482216
"""What one clamp gives by hand: 370 lb, a parallel-jaw clamp in a periodical's tests, the weakest listed (read)."""

CAUL_MPA = 9_000.0
"""A straight softwood board on edge; between the handbook's softwoods and graded framing. Ours."""

EVEN_NM = 200_000
"""A caul that bends no more than this between its clamps closes every joint: about one wet film of glue. Ours."""

END_SHARE = 0.4
"""The outermost clamps sit so many spacings in from the ends: there the ends stand out just so far that they and the
spans between bend about alike. Ours, from the beam itself."""

MOST_CAMBER_MM = 4.0
"""More is no longer planed by hand over a metre. Ours."""

AMPLE_MARGIN = 10.0
"""With so much in hand a joint pressed below the published range still hangs by a mere part of its glue. Ours."""

G_MM_S2 = 9.80665

DEPTHS_NM = {
    LengthUnit.MM: (45 * NM_PER_MM, 70 * NM_PER_MM, 95 * NM_PER_MM, 145 * NM_PER_MM),
    LengthUnit.IN: (NM_PER_IN * 3 // 2, NM_PER_IN * 5 // 2, NM_PER_IN * 7 // 2, NM_PER_IN * 11 // 2),
}
"""Planed sections that a caul is made from, on edge."""


def plan_caul(brief: Brief, bench: Bench, relief: Relief, cards: tuple[RowCard, ...], bond_margin: float) -> Caul:
    """One caul for every row: its section, its sag between the clamps, the camber for clamps at its ends alone.

    Args:
        brief: Clamps and their reach, glue, species.
        bench: Backers, for how far in the clamps must reach; footprints.
        relief: The heaviest block.
        cards: Rows, for length, glued area and clamps.
        bond_margin: Of the block that works its glue hardest, as `hang` has it.

    Returns:
        The shallowest of the usual sections that stays straight enough, or the deepest of them.

    Source:
        Pressure wanted: a woodworking periodical (2021, read); clamps: `CLAMP_N`. The published range is for side
        grain to side grain; none was found for end grain on a board.
    """
    longest = max(cards, key=lambda card: card.caul_length_nm)
    length_mm, breadth_mm = longest.caul_length_nm / NM_PER_MM, longest.caul_width_nm / NM_PER_MM
    used = max(2, min(longest.clamps, brief.tools.clamps))
    area_mm2 = longest.glue_g / brief.glue.spread_g_per_m2 * 1e6
    force_n = used * CLAMP_N
    places = clamp_places_mm(length_mm, used)

    def sag_mm(depth_nm: int, at_mm: tuple[float, ...]) -> float:
        return clamped_beam(force_n, length_mm, at_mm, CAUL_MPA, breadth_mm, depth_nm / NM_PER_MM).sag_mm

    sags = {depth: sag_mm(depth, places) for depth in DEPTHS_NM[brief.piece.unit]}
    depth = next((d for d, sag in sags.items() if sag * NM_PER_MM <= EVEN_NM), max(sags))
    # held at its ends alone by two clamps: planed as much fuller in the middle as it bends, it presses evenly
    cambers = {depth: end_sag_mm(2 * CLAMP_N, length_mm, CAUL_MPA, breadth_mm, depth / NM_PER_MM) for depth in sags}
    end_depth = next((d for d, camber in cambers.items() if camber <= MOST_CAMBER_MM), max(cambers))
    wanted = HARDWOOD_PRESSURE_MPA if is_hardwood(species(brief.blocks.species)) else SOFTWOOD_PRESSURE_MPA
    reach = max(_reach_nm(bench, card) for card in cards)
    far = sum(_reach_nm(bench, card) > brief.tools.clamp_reach_nm for card in cards)
    # held at their ends, one caul lies over the blocks and one under the backer
    cauls_nm = 2 * end_depth if far or sags[depth] * NM_PER_MM > EVEN_NM else depth
    return Caul(
        length_nm=longest.caul_length_nm,
        breadth_nm=longest.caul_width_nm,
        depth_nm=depth,
        clamps=used,
        end_in_nm=round(places[0] * NM_PER_MM),
        spacing_nm=round((places[1] - places[0]) * NM_PER_MM),
        sag_nm=round(sags[depth] * NM_PER_MM),
        end_clamped_sag_nm=round(sag_mm(depth, _at_the_ends(length_mm, used)) * NM_PER_MM),
        end_depth_nm=end_depth,
        camber_nm=round(cambers[end_depth] * NM_PER_MM),
        reach_wanted_nm=reach,
        rows_out_of_reach=far,
        opening_wanted_nm=cauls_nm + max(relief.levels_nm) + brief.backer.thickness_nm + back_depth_nm(bench),
        pressure_mpa=force_n / area_mm2,
        wanted_mpa=wanted,
        clamps_for_wanted=clamps_needed(pressing_force_n(area_mm2, wanted[0]), CLAMP_N),
        bond_margin=bond_margin,
    )


def clamp_places_mm(length_mm: float, clamps: int) -> tuple[float, ...]:
    """Where the clamps of a caul sit, from one end: evenly, the outermost `END_SHARE` of a spacing in."""
    spacing = length_mm / (clamps - 1 + 2 * END_SHARE)
    return tuple(spacing * (END_SHARE + k) for k in range(clamps))


def clamp_words(brief: Brief, caul: Caul) -> str:
    """How many clamps a row takes and where they sit on the caul."""
    unit = brief.piece.unit
    return (
        f"{caul.clamps} clamps, the first and last {format_length(caul.end_in_nm, unit)} from the caul's ends, "
        f"{format_length(caul.spacing_nm, unit)} apart"
    )


def caul_words(brief: Brief, caul: Caul) -> str:
    """The caul and its clamps as the glue bench needs them; with its camber where that is needed."""
    unit = brief.piece.unit
    section = f"{format_length(caul.breadth_nm, unit)} wide and {format_length(caul.depth_nm, unit)} deep"
    if caul.rows_out_of_reach or caul.sag_nm > EVEN_NM:
        said = f"Held at its ends alone: {end_caul_words(brief, caul)}. Try it dry: no light under any block."
        if caul.rows_out_of_reach:
            said += (
                f" Clamps that reach {format_length(caul.reach_wanted_nm, unit)} in would hold a straight one along "
                f"its length: {clamp_words(brief, caul)}."
            )
        return f"{said} The clamps have to open {format_length(caul.opening_wanted_nm, unit)}."
    return (
        f"A straight softwood batten, {section}, on edge; on the longest row {clamp_words(brief, caul)}. Mark these "
        f"places on it. Clamped at its very ends it would bend {format_thin(caul.end_clamped_sag_nm, unit)} between "
        f"them, not {format_thin(caul.sag_nm, unit)}. The clamps reach {format_length(caul.reach_wanted_nm, unit)} in "
        f"and open {format_length(caul.opening_wanted_nm, unit)}."
    )


def check_caul(brief: Brief, caul: Caul) -> tuple[Check, ...]:
    """`pressure`, `caul`; `clamp_reach` and `clamp_opening` where the clamps are too small for it."""
    checks = [_pressure(brief, caul), _straight(brief, caul)]
    if caul.rows_out_of_reach:
        checks.append(_reach(brief, caul))
    if caul.opening_wanted_nm > brief.tools.clamp_opening_nm:
        checks.append(_opening(brief, caul))
    return tuple(checks)


def end_caul_words(brief: Brief, caul: Caul) -> str:
    """How deep a caul must be that is clamped at its ends alone, and how much fuller in the middle."""
    unit = brief.piece.unit
    return (
        f"a caul {format_length(caul.end_depth_nm, unit)} deep, planed "
        f"{format_thin(caul.camber_nm, unit)} fuller in the middle than at its ends"
    )


def _pressure(brief: Brief, caul: Caul) -> Check:
    unit = brief.piece.unit
    low, high = caul.wanted_mpa
    enough = caul.pressure_mpa >= low or caul.bond_margin >= AMPLE_MARGIN
    return Check(
        stage="press",
        name="pressure",
        title="Pressure on the glue",
        verdict=Verdict.FINE if enough else Verdict.CAUTION,
        found=f"{stress_words(caul.pressure_mpa, unit)} with {caul.clamps} clamps. The block that works "
        f"its glue hardest hangs with a margin of {caul.bond_margin:.0f}: shear and peel, end grain, a load that never "
        "leaves.",
        allowed=f"{stress_words(low, unit)} to {stress_words(high, unit)} is published for side grain; for end grain "
        "on a board nothing was found.",
        why="Pressure only closes the joint: what counts is that every back touches. White glue creeps; never hang the "
        "piece itself by it.",
        care="Size the end grain first. Rub a thin coat of the glue into every back of the row. Let that coat go tacky "
        "while the row before is in the clamps. The glue on the list holds both coats.",
        remedy=f"use {caul.clamps_for_wanted} clamps a row, or press fewer blocks at a time",
        source="Woodworking periodical, 2021 (read); shares for end grain and creep from memory or ours.",
    )


def _straight(brief: Brief, caul: Caul) -> Check:
    unit = brief.piece.unit
    fine = caul.sag_nm <= EVEN_NM
    section = f"{format_length(caul.breadth_nm, unit)} wide and {format_length(caul.depth_nm, unit)} deep"
    return Check(
        stage="press",
        name="caul",
        title="Caul stays straight between its clamps",
        verdict=Verdict.FINE if fine else Verdict.CAUTION,
        found=f"A softwood caul {section} bends {format_thin(caul.sag_nm, unit)} with {clamp_words(brief, caul)}; "
        f"{format_thin(caul.end_clamped_sag_nm, unit)} if they sit at its very ends.",
        allowed=f"{format_thin(EVEN_NM, unit)}, about one film of glue.",
        why="Blocks under a bent caul are pressed at the clamps and not between them.",
        remedy=f"use more clamps, or hold it at its ends alone: {end_caul_words(brief, caul)}",
        source="A continuous beam with shear; moduli as the Wood Handbook FPL-GTR-190 ch. 9 (from memory); limit ours.",
    )


def _reach(brief: Brief, caul: Caul) -> Check:
    unit = brief.piece.unit
    return Check(
        stage="press",
        name="clamp_reach",
        title="Throat of the clamps",
        verdict=Verdict.CAUTION,
        found=f"The clamps are taken to reach {format_length(brief.tools.clamp_reach_nm, unit)} in; "
        f"{caul.rows_out_of_reach} rows lie deeper.",
        allowed=f"{format_length(caul.reach_wanted_nm, unit)} to the middle of the farthest row.",
        why="A clamp that does not reach the row tilts the caul.",
        care="Let two cauls, over and under, stand out past the backer. Clamp them at their ends: "
        f"{end_caul_words(brief, caul)}. Or weigh those rows down.",
        remedy="",
        source="Geometry; camber by the Wood Handbook, FPL-GTR-190 ch. 9, Eq. 9-2 (from memory).",
    )


def _opening(brief: Brief, caul: Caul) -> Check:
    unit = brief.piece.unit
    return Check(
        stage="press",
        name="clamp_opening",
        title="Opening of the clamps",
        verdict=Verdict.CAUTION,
        found=f"The clamps are taken to open {format_length(brief.tools.clamp_opening_nm, unit)}.",
        allowed=f"{format_length(caul.opening_wanted_nm, unit)}: caul, highest block, backer and what is on its back.",
        why="A clamp that does not go over caul and piece presses nothing.",
        care="Measure the clamps and write tools.clamp_opening. Or weigh the rows down.",
        remedy="",
        source="Geometry.",
    )


def _at_the_ends(length_mm: float, clamps: int) -> tuple[float, ...]:
    return tuple(length_mm * (k / (clamps - 1)) for k in range(clamps))  # the last is the length itself, no more


def _reach_nm(bench: Bench, card: RowCard) -> int:
    """From the nearer of the backer's upper and lower edge to the middle of the row."""
    leaf = bench.leaves[card.leaf]
    blocks = [b.block for batch in card.batches for b in batch.blocks]
    foot = min(int(bench.blocks.y_nm[b]) for b in blocks)
    top = max(int(bench.blocks.y_nm[b] + bench.blocks.height_nm[b]) for b in blocks)
    middle = (foot + top) // 2 - leaf.backer_y_nm
    return min(middle, leaf.backer_height_nm - middle)
