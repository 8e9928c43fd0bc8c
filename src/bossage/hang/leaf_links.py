"""The links on the leaf's side of the load path: block to backer, edge strips, backer, panel half of the cleat."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from bossage.body import How, Role
from bossage.brief.records import EdgeStyle
from bossage.errors import BossageError
from bossage.fasteners import (
    Rated,
    combined_allowable_n,
    glue_line_shear,
    head_pull_through_n,
    wood_screw_lateral,
    wood_screw_withdrawal_n_per_mm,
)
from bossage.fasteners.adhesive import (
    BOARD_PLANE_SHEAR_MPA,
    END_GRAIN_BOND_SHARE,
    PERMANENT_BOND_SHARE,
    SIDE_GRAIN_SHEAR_MPA,
)
from bossage.hang.case import DURATION, Case, gravity_of, link, screw_or_reason
from bossage.hang.records import Factor, Link, PanelFixing
from bossage.hang.sharing import shares_of
from bossage.hang.statics import weight_n
from bossage.hang.strengths import BEARING_MPA, SOURCE, bending_mpa
from bossage.layout.records import Zone
from bossage.paint.faces import coat_of
from bossage.timber import board_keys, species_or_board
from bossage.units import NM_PER_MM

FloatArray = NDArray[np.float64]

CREEP = Factor(name="glue that may creep", value=PERMANENT_BOND_SHARE, source="ours: white glue under a lasting load")
END_GRAIN = Factor(
    name="end grain", value=END_GRAIN_BOND_SHARE, source="Wood Handbook ch. 10, from memory: a quarter at best"
)
METAL_CLEAT = "metal cleat"
COATING = "coating"
METAL_WALL_MM = 1.5
"""Wall of a metal cleat's profile: ours, a common light one."""

STEEL_BEARING_MPA = 426.0
"""Dowel bearing of thin steel, 61,850 psi (NDS 2018 Table 12M, from memory)."""

GLUE_SOURCE = "shear of the wood beside the glue: from memory; shares: from memory or ours"


def leaf_links(case: Case, panel: PanelFixing | None) -> Iterator[Link]:
    """Every link from the blocks to the cleat's bevel; of a leaf that swings, those up to the backer."""
    if (case.layout.blocks.leaf == case.number).any():
        yield block_bond(case)
        if coat_of(case.paint.face_coats, "backer", "glue field") == "paint":
            yield _coating(case)
    if case.brief.edge.style is EdgeStyle.OUTRIGGER and case.layout.ring_bond is not None:
        yield _strip_bond(case)
    yield _backer(case)
    if panel is not None:
        if panel.glued:
            yield _panel_glue(case)
        yield panel_screws(case, panel)
        yield _engagement(case)


def block_bond(case: Case) -> Link:
    """The block that works its own glue line hardest.

    Its weight hangs in front of the glue, so that the upper edge is pulled off as the lower one is pressed: the demand
    is the resultant of the weight and of the peel that it makes at the upper edge.
    """
    blocks, brief = case.layout.blocks, case.brief
    mine = np.flatnonzero(blocks.leaf == case.number)
    weight = _block_weights_n(case, mine)
    # a block that misses the backer has nothing to hold by; a hair of glue keeps the arithmetic going
    width, height = (np.maximum(size, 1e-3) for size in _bonded_mm(case, mine))
    lever_mm = case.relief.length_nm[mine] / 2 / NM_PER_MM
    demand = weight * np.hypot(1.0, 6 * lever_mm / height)
    margins = width * height / demand
    worst = int(np.argmin(margins))
    shear = _shear_mpa(brief.backer.material)
    glue = glue_line_shear(
        float(width[worst] * height[worst]),
        shear,
        end_grain=True,
        permanent=True,
        duration_factor=DURATION.value,
    )
    say = case.voice
    return link(
        case,
        "block's bond",
        part=f"block {blocks.address(int(mine[worst]))}",
        demand_n=float(demand[worst]),
        allowable_n=glue.allowable_n,
        basis=f"{say.area(width[worst] * height[worst])} of glue on end grain; {_shear_words(case, glue, shear)}",
        factors=(DURATION, END_GRAIN, CREEP),
        assumptions=(
            f"the block weighs {say.bare_force(float(weight[worst]))}; the rest of the demand is peel at its top",
            "nobody pulls on it: a block is no handle",
        ),
        source=GLUE_SOURCE,
    )


def _coating(case: Case) -> Link:
    """Paint between glue and backer: nobody rates a coat of paint as a glue line, so nothing is counted on it."""
    mine = np.flatnonzero(case.layout.blocks.leaf == case.number)
    heaviest = float(_block_weights_n(case, mine).max())
    return _no_hold(case, COATING, "under the blocks", heaviest, "paint is no glue line: no allowable is known for it")


def panel_screws(case: Case, panel: PanelFixing) -> Link:
    """The screws of the panel half: in pull where it is glued as well, else in shear too, which thin boards refuse."""
    shares = _panel_shares(case, panel)
    name, part = "panel half's screws", f"the hardest-worked of {len(panel.screws)}"
    pull = case.pull_n
    if shares is None:
        return _no_hold(case, name, part, pull, "the centre of gravity lies outside the screws")
    per_screw = screw_pull_n(case, panel)
    if isinstance(per_screw, str):
        return _no_hold(case, name, part, pull, per_screw)
    if not panel.glued:
        return _screws_alone(case, panel, name, part, max(shares), per_screw[0])
    allowable, basis = per_screw
    return link(
        case,
        name,
        part=part,
        demand_n=max(shares) * pull,
        allowable_n=allowable,
        basis=basis,
        factors=(DURATION,),
        assumptions=("the glue takes the shear, the screws the pull", *_filler_words(case, panel)),
        source="NDS 2018 Eq. 12.2-2 (read) and 12.2-6 (read in a public transcription)",
    )


def _screws_alone(case: Case, panel: PanelFixing, name: str, part: str, share: float, pull_allowable: float) -> Link:
    """Screws that carry the shear as well. The NDS asks for six diameters of penetration, which thin boards refuse."""
    sheared = _screw_shear_n(case, panel)
    if isinstance(sheared, str):
        return _no_hold(case, name, part, case.weight_n, f"{sheared}; or glue the panel half as well")
    lateral, basis = sheared
    angle = math.degrees(math.atan2(case.pull_n, case.weight_n))
    return link(
        case,
        name,
        part=part,
        demand_n=share * math.hypot(case.weight_n, case.pull_n),
        allowable_n=combined_allowable_n(pull_allowable / DURATION.value, lateral, angle) * DURATION.value,
        basis=f"{panel.gauge}: {basis}; pull and shear at once by Eq. 12.4-1",
        factors=(DURATION,),
        assumptions=("no glue is counted on between panel half and leaf", *_filler_words(case, panel)),
        source="NDS 2018 12.2, 12.3, 12.4",
    )


def _screw_shear_n(case: Case, panel: PanelFixing) -> tuple[float, str] | str:
    """Reference shear of one screw of the panel half with its basis, or why there is none."""
    screw = screw_or_reason(panel.gauge)
    if isinstance(screw, str):
        return screw
    brief = case.brief
    metal = brief.cleat.kind == "metal"
    holds = gravity_of(thread_in(case))
    side_mm = METAL_WALL_MM if metal else panel.under_head_nm / NM_PER_MM
    try:
        found = wood_screw_lateral(
            screw,
            side_mm=side_mm,
            penetration_mm=max(0, panel.length_nm - panel.under_head_nm) / NM_PER_MM,
            main_gravity=holds,
            side_gravity=gravity_of(brief.cleat.material),
            side_bearing_mpa=STEEL_BEARING_MPA if metal else None,
        )
    except BossageError as error:
        return case.voice.retold(str(error))
    return found.z_n, "; ".join((f"shear {case.voice.bare_force(found.z_n)}", *found.basis))


def screw_pull_n(case: Case, panel: PanelFixing) -> tuple[float, str] | str:
    """Allowable pull of one screw of the panel half with its basis: thread in the board or head through the cleat."""
    screw = screw_or_reason(panel.gauge)
    if isinstance(screw, str):
        return screw
    brief = case.brief
    holds = thread_in(case)
    under_mm = panel.under_head_nm / NM_PER_MM - screw.head_mm / 2
    try:
        thread = wood_screw_withdrawal_n_per_mm(gravity_of(holds), screw.shank_mm) * panel.thread_nm / NM_PER_MM
        head = math.inf
        if brief.cleat.kind == "wood":
            head = head_pull_through_n(gravity_of(brief.cleat.material), screw.head_mm, max(1.0, under_mm))
    except BossageError as error:
        return case.voice.retold(str(error))
    words = species_or_board(holds).name
    say = case.voice
    basis = f"{panel.gauge}: {say.say(panel.thread_nm)} of thread in {words} {say.bare_force(thread)}"
    if math.isfinite(head):
        basis += f", head through the panel half {say.bare_force(head)}; the lesser counts"
    return min(thread, head) * DURATION.value, basis


def thread_in(case: Case) -> str:
    """Material that the thread of a panel screw bites in: the filler behind the panel half, else the backer."""
    filler = next((part for part in case.parts if part.role is Role.FILLER), None)
    return filler.material if filler else case.brief.backer.material


def _no_hold(case: Case, name: str, part: str, demand_n: float, reason: str) -> Link:
    return link(
        case, name, part=part, demand_n=demand_n, allowable_n=0.0, basis=f"nothing is counted on: {reason}", source=""
    )


def _filler_words(case: Case, panel: PanelFixing) -> tuple[str, ...]:
    if not panel.filler_nm:
        return ()
    return (
        f"a filler, {case.voice.say(panel.filler_nm)} thick, lies between panel half and backer, "
        "glued and screwed to the backer",
    )


def _panel_shares(case: Case, panel: PanelFixing) -> tuple[float, ...] | None:
    return shares_of(case, [screw.from_leaf_left_nm + case.leaf.x_nm for screw in panel.screws])


def _block_weights_n(case: Case, mine: NDArray[np.intp]) -> FloatArray:
    """Weight of each block with its paint and glue; blocks take what a weighed leaf weighs beyond the sum."""
    blocks = case.layout.blocks
    volume = blocks.width_nm[mine].astype(np.float64) * blocks.height_nm[mine] * case.relief.length_nm[mine]
    parts = {part.name: part.mass_g for part in case.mass.parts}
    total_g = parts["blocks"] + parts["paint and glue"]
    more = case.mass.total_g / case.mass.computed_g
    share: FloatArray = volume / volume.sum()
    return share * weight_n(total_g * more)


def _bonded_mm(case: Case, mine: NDArray[np.intp]) -> tuple[FloatArray, FloatArray]:
    """Width and height of each block's glue: what lies on the backer, or what a ring block has of its strip."""
    blocks, leaf, bond = case.layout.blocks, case.leaf, case.layout.ring_bond
    x, y = blocks.x_nm[mine], blocks.y_nm[mine]
    right, top = x + blocks.width_nm[mine], y + blocks.height_nm[mine]
    back_right, back_top = leaf.backer_x_nm + leaf.backer_width_nm, leaf.backer_y_nm + leaf.backer_height_nm
    width = (np.minimum(right, back_right) - np.maximum(x, leaf.backer_x_nm)) / NM_PER_MM
    height = (np.minimum(top, back_top) - np.maximum(y, leaf.backer_y_nm)) / NM_PER_MM
    if case.paint.ground_way.name == "lines":
        # The ground's colour reaches a lap under each block: as much less wood for the glue.
        on_backer = np.maximum(width, 0) * np.maximum(height, 0)
        free = np.sqrt(np.minimum(1.0, case.paint.glue_field_mm2[mine] / np.maximum(on_backer, 1e-9)))
        width, height = width * free, height * free
    if bond is None:
        return width, height
    ring = blocks.zone[mine] == Zone.RING
    level_with_backer = (y < back_top) & (top > leaf.backer_y_nm)
    over_backer = (x < back_right) & (right > leaf.backer_x_nm)
    corner = ring & ~level_with_backer & ~over_backer
    lap = bond.behind_ring_nm / NM_PER_MM
    side, ends = ring & level_with_backer, ring & over_backer
    width = np.where(side, lap, np.where(ends, blocks.width_nm[mine] / NM_PER_MM, width))
    height = np.where(ends, lap, np.where(side, blocks.height_nm[mine] / NM_PER_MM, height))
    square = (bond.corner_area_nm2**0.5) / NM_PER_MM
    return np.where(corner, square, width), np.where(corner, square, height)


def _strip_bond(case: Case) -> Link:
    """The edge strip that carries most ring per area of its lap behind the backer."""
    blocks, leaf, bond = case.layout.blocks, case.leaf, case.layout.ring_bond
    assert bond is not None
    mine = np.flatnonzero((blocks.leaf == case.number) & (blocks.zone == Zone.RING))
    weight, lever_mm = _block_weights_of_ring(case, mine), case.relief.length_nm[mine] / 2 / NM_PER_MM
    middle = blocks.y_nm[mine] + blocks.height_nm[mine] / 2
    lap_mm = bond.behind_backer_nm / NM_PER_MM
    back_top = leaf.backer_y_nm + leaf.backer_height_nm
    sides = {
        "upper": (middle > back_top, leaf.backer_width_nm, lap_mm),
        "lower": (middle < leaf.backer_y_nm, leaf.backer_width_nm, lap_mm),
    }
    upright = (middle <= back_top) & (middle >= leaf.backer_y_nm)
    left = blocks.x_nm[mine] < leaf.backer_x_nm
    tall_mm = leaf.backer_height_nm / NM_PER_MM
    sides["left"] = (upright & left, leaf.backer_height_nm, tall_mm)
    sides["right"] = (upright & ~left, leaf.backer_height_nm, tall_mm)
    found = []
    for side, (on, length_nm, height_mm) in sides.items():
        carried = float(weight[on].sum())
        peel = float((weight[on] * lever_mm[on]).sum()) * 6 / height_mm
        found.append((side, float(np.hypot(carried, peel)), lap_mm * length_nm / NM_PER_MM))
    side, demand, area_mm2 = min(found, key=lambda entry: entry[2] / max(entry[1], 1e-9))
    shear = min(_shear_mpa(case.brief.backer.material), _shear_mpa(case.brief.edge.strip_material))
    glue = glue_line_shear(
        area_mm2,
        shear,
        end_grain=False,
        permanent=True,
        duration_factor=DURATION.value,
    )
    return link(
        case,
        "edge strip's bond",
        part=f"the {side} strip",
        demand_n=demand,
        allowable_n=glue.allowable_n,
        basis=f"{case.voice.area(area_mm2)} of glue behind the backer; {_shear_words(case, glue, shear)}",
        factors=(DURATION, CREEP),
        assumptions=("the strip's screws are not counted on",),
        source=GLUE_SOURCE,
    )


def _block_weights_of_ring(case: Case, ring: NDArray[np.intp]) -> FloatArray:
    mine = np.flatnonzero(case.layout.blocks.leaf == case.number)
    return _block_weights_n(case, mine)[np.isin(mine, ring)]


def _backer(case: Case) -> Link:
    """The backer bends where the weight, which hangs in front, is taken over by the cleat behind."""
    brief, leaf = case.brief, case.leaf
    stand_off_mm = case.layout.stand_off.stand_off_nm / NM_PER_MM
    thick_mm, wide_mm = brief.backer.thickness_nm / NM_PER_MM, leaf.backer_width_nm / NM_PER_MM
    moment_nmm = case.weight_n * (stand_off_mm + thick_mm / 2)
    strength = bending_mpa(brief.backer.material)
    stress = moment_nmm / (wide_mm * thick_mm**2 / 6)
    return link(
        case,
        "backer",
        part="across its width below the cleat",
        demand_n=case.weight_n,
        allowable_n=case.weight_n * strength * DURATION.value / stress,
        basis=f"bending {case.voice.stress(stress)} of {case.voice.stress(strength * DURATION.value)} allowable",
        factors=(DURATION,),
        assumptions=("the backer alone is counted on, without blocks, ribs or frame",),
        source=SOURCE,
    )


def _panel_glue(case: Case) -> Link:
    """The least glued area on the way from the panel half to the backer, over packer and filler where there are."""
    parts = {part.name: part for part in case.parts}
    between = (Role.PANEL_HALF, Role.PACKER, Role.FILLER)
    joints = [
        joint
        for joint in case.body.joints
        if (joint.leaf, joint.copy) == (case.leaf.name, case.leaf.copy)
        and joint.how is How.GLUE_AND_SCREWS
        and parts[joint.a].role in between
    ]
    weakest = min(joints, key=lambda joint: joint.area_mm2)
    held = (parts[weakest.a], parts[weakest.b])
    strength = min(_shear_mpa(part.material) for part in held)
    glue = glue_line_shear(weakest.area_mm2, strength, end_grain=False, permanent=True, duration_factor=DURATION.value)
    return link(
        case,
        "panel half's glue",
        part="all of it, in shear" if len(case.cleat.pieces) == 1 else "on the harder-worked of two cleats, in shear",
        demand_n=case.weight_n * max(case.cleat_shares),
        allowable_n=glue.allowable_n,
        basis=f"{case.voice.area(weakest.area_mm2)} of glue between {held[0].name} and {held[1].name}; "
        f"{_shear_words(case, glue, strength)}",
        factors=(DURATION, CREEP),
        assumptions=("bare wood on both sides, pressed as the glue asks", "glue never holds alone: screws as well"),
        source=GLUE_SOURCE,
    )


def _engagement(case: Case) -> Link:
    """The bevel bears on half its width, as a cleat does that is not quite home; a metal cleat by its rating."""
    brief = case.brief
    if brief.cleat.kind == "metal":
        return _metal_grip(case)
    length_mm, thick_mm = case.cleat.length_nm / NM_PER_MM, brief.cleat.thickness_nm / NM_PER_MM
    area_mm2 = length_mm * thick_mm / 2
    return link(
        case,
        "cleat's grip",
        part="the bevel, over its whole length"
        if len(case.cleat.pieces) == 1
        else "the bevel of the harder-worked of two cleats",
        demand_n=case.weight_n * max(case.cleat_shares),
        allowable_n=area_mm2 * BEARING_MPA,
        basis=f"bearing on {case.voice.area(area_mm2)} at {case.voice.stress(BEARING_MPA)}",
        assumptions=("half of the bevel bears",),
        source=SOURCE,
    )


def _metal_grip(case: Case) -> Link:
    rating_g = case.brief.cleat.rating_g
    if rating_g is None:
        return _no_hold(case, METAL_CLEAT, "the pair", case.weight_n, "the brief gives no rating of the metal cleat")
    return link(
        case,
        METAL_CLEAT,
        part="the pair" if len(case.cleat.pieces) == 1 else "the harder-worked of two pairs",
        demand_n=case.weight_n * max(case.cleat_shares),
        allowable_n=weight_n(rating_g),
        basis="the rating of its maker, its factor inside",
        assumptions=("read whether the rating is a working load: an ultimate one must be divided first",),
        source="the cleat's maker, as the brief gives it",
    )


def _shear_words(case: Case, glue: Rated, shear_mpa: float) -> str:
    return f"{case.voice.stress(shear_mpa)}: {glue.basis}"


def _shear_mpa(material: str) -> float:
    return BOARD_PLANE_SHEAR_MPA if material in board_keys() else SIDE_GRAIN_SHEAR_MPA
