"""The links on the leaf's side of the load path: what is glued, the backer, the panel half's screws, the bevel."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import EdgeStyle
from bossage.hang.backer_bent import bent_nmm
from bossage.hang.bonds import block_bond, coatings, no_hold, panel_glue, strip_bond
from bossage.hang.case import DURATION, Case, link, product
from bossage.hang.panel_links import panel_screws
from bossage.hang.rated import allowed
from bossage.hang.records import Link, PanelFixing
from bossage.hang.shelf import shelf_stress_mpa, stay_stress_mpa
from bossage.hang.strengths import BEARING_MPA, SOURCE, bending_mpa
from bossage.units import NM_PER_MM

METAL_CLEAT = "metal cleat"


def leaf_links(case: Case, panel: PanelFixing | None) -> Iterator[Link]:
    """Every link from the blocks to the cleat's bevel; of a leaf that swings, those up to the backer."""
    bond = block_bond(case)
    if bond is not None:
        yield bond
    yield from coatings(case)
    if case.brief.edge.style is EdgeStyle.OUTRIGGER and case.layout.ring_bond is not None:
        yield strip_bond(case)
    yield _backer(case)
    if panel is not None:
        glue = panel_glue(case)
        if glue is not None:
            yield glue
        yield panel_screws(case, panel)
        yield _engagement(case)


def _backer(case: Case) -> Link:
    """The backer bends where the weight, which hangs in front, is taken over by the cleat behind.

    At least the weight times the distance to the backer's middle; by the masses themselves where that is more, as below
    a low cleat under deep blocks.

    The moment goes over along the cleat alone. A plate spreads a moment only further off; at the edge of what brings it
    in, its moment by width is what is brought in by width, so just the length of the cleat counts (equilibrium there;
    Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, edge moments of a plate, from memory).
    """
    brief, leaf = case.brief, case.leaf
    stand_off_mm = case.layout.stand_off.stand_off_nm / NM_PER_MM
    thick_mm = brief.backer.thickness_nm / NM_PER_MM
    wide_mm, share, along = leaf.backer_width_nm / NM_PER_MM, 1.0, "its whole width"
    if not case.swings:
        wide_mm, share = min(wide_mm, case.cleat.length_nm / NM_PER_MM), max(case.cleat_shares)
        along = f"the {case.voice.mm(wide_mm)} along the cleat"
    moment_nmm = case.weight_n * share * (stand_off_mm + thick_mm / 2)
    if not case.swings:
        moment_nmm = max(moment_nmm, bent_nmm(case) * share)
    damp = case.board_factors(brief.backer.material)
    strength = bending_mpa(brief.backer.material) * product(damp)
    stress = moment_nmm / (wide_mm * thick_mm**2 / 6)
    part = "across its whole width" if case.swings else "below the cleat, as wide as the cleat is long"
    shelf = shelf_stress_mpa(case) + stay_stress_mpa(case) if case.swings else 0.0
    if shelf > stress:
        stress, part = shelf, "beside a stay, while the leaf stands open"
        along = "its whole width or height as a shelf, and the width of a stay's block for the pull of the stay"
    return link(
        case,
        "backer",
        part=part,
        demand_n=case.weight_n * share,
        allowable_n=case.weight_n * share * strength * DURATION.value / stress,
        basis=f"bending {case.voice.stress(stress)} of {case.voice.stress(strength * DURATION.value)} allowable, over "
        f"{along}",
        factors=(DURATION, *damp),
        assumptions=(
            "the backer alone is counted on, without blocks, ribs or frame",
            f"the moment goes over along {along if case.swings else 'the cleat'}: no spread is counted on",
        ),
        source=SOURCE,
    )


def _engagement(case: Case) -> Link:
    """The bevel bears on half its width, as a cleat does that is not quite home; a metal cleat by its rating."""
    brief = case.brief
    if brief.cleat.kind == "metal":
        return _metal_grip(case)
    length_mm, thick_mm = case.cleat.length_nm / NM_PER_MM, brief.cleat.thickness_nm / NM_PER_MM
    area_mm2 = length_mm * thick_mm / 2
    damp = case.bearing_factors
    bearing = BEARING_MPA * product(damp)
    return link(
        case,
        "cleat's grip",
        part="the bevel, over its whole length"
        if len(case.cleat.pieces) == 1
        else "the bevel of the harder-worked of two cleats",
        demand_n=case.weight_n * max(case.cleat_shares),
        allowable_n=area_mm2 * bearing,
        basis=f"bearing on {case.voice.area(area_mm2)} at {case.voice.stress(bearing)}",
        factors=damp,
        assumptions=("half of the bevel bears",),
        source=SOURCE,
    )


def _metal_grip(case: Case) -> Link:
    """A metal cleat by its maker's allowable, or by a quarter of what its packet says, as any bought fixing."""
    cleat = case.brief.cleat
    found = allowed(cleat.allowable_g, cleat.rating_g)
    if found is None:
        reason = "the brief gives neither allowable nor rating of the metal cleat"
        return no_hold(case, METAL_CLEAT, "the pair", case.weight_n, reason)
    held_n, basis, factors = found
    return link(
        case,
        METAL_CLEAT,
        part="the pair" if len(case.cleat.pieces) == 1 else "the harder-worked of two pairs",
        demand_n=case.weight_n * max(case.cleat_shares),
        allowable_n=held_n,
        basis=f"{case.voice.bare_force(held_n)}: {basis}",
        factors=factors,
        assumptions=("the figure is for this length, carried along it evenly",),
        source="the cleat's maker, as the brief gives it",
    )
