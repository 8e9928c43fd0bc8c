"""The glued links on the leaf: every block's bond, edge strips, the panel half; and paint that lies under a bond.

One bond has one value: what sheared and peeled glue uses of its allowables (`fasteners.bond`). `press` reads the worst
block's margin from here.
"""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from bossage.body import How, Part, Role
from bossage.body.joints import contact_nm
from bossage.fasteners.adhesive import (
    END_GRAIN_BOND_SHARE,
    PERMANENT_BOND_SHARE,
)
from bossage.fasteners.bond import BondAllowed, Side, bond_allowed, edge_peel_mpa, stiff_peel_mpa
from bossage.hang.case import DURATION, SHORT, Case, link
from bossage.hang.records import Factor, Link
from bossage.hang.statics import weight_n
from bossage.hang.strengths import plane_shear_mpa
from bossage.layout.records import Zone
from bossage.paint.faces import coat_of
from bossage.timber import board_keys
from bossage.units import NM_PER_MM

FloatArray = NDArray[np.float64]

BLOCKS_BOND = "block's bond"
COATING = "coating"
CREEP = Factor(name="glue that may creep", value=PERMANENT_BOND_SHARE, source="ours: white glue under a lasting load")
END_GRAIN = Factor(
    name="end grain in shear",
    value=END_GRAIN_BOND_SHARE,
    source="Wood Handbook ch. 10, from memory: a quarter at best",
)
GLUE_SOURCE = (
    "shear of the wood beside the glue, and pull across its grain (NDS 2018 5.2.8): from memory; shares: from memory "
    "or ours"
)
BOARD_STIFFNESS = 10.0
"""Modulus of a board in its plane over that through its thickness: plywood in its weaker direction has 4 to 8 GPa over
0.4 to 0.6 GPa. From memory, ours; sawn wood that lies across the joint has about the same both ways."""

GLUED = (How.GLUE, How.GLUE_AND_SCREWS)

#: Faces that are glued: part, face, which bond it is.
GLUED_FACES = (
    ("backer", "glue field", "under the blocks"),
    ("block", "back", "on the backs of the blocks"),
    ("backer", "back", "under the panel half"),
    ("cleat", "glue field", "on the panel half"),
)


def block_bond(case: Case) -> Link | None:
    """The block that works its own glue line hardest; None on a leaf of open cells.

    Its weight hangs in front of the glue, so that the upper edge is pulled off as the lower one is pressed: the glue
    takes the weight in shear and that moment in pull.
    """
    blocks = case.layout.blocks
    mine = np.flatnonzero(blocks.leaf == case.number)
    if not mine.size:
        return None
    weight = block_weights_n(case, mine)
    # a block that misses the backer has nothing to hold by; a hair of glue keeps the arithmetic going
    width, height = (np.maximum(size, 1e-3) for size in _bonded_mm(case, mine))
    lever_mm = case.relief.length_nm[mine] / 2 / NM_PER_MM
    allowed = bond_allowed(plane_shear_mpa(case.brief.backer.material), end_grain=True, duration_factor=DURATION.value)
    shear, pull = weight / (width * height), stiff_peel_mpa(weight * lever_mm, width, height)
    use = allowed.use(shear, pull)
    worst = int(np.argmax(use))
    return _glued(
        case,
        BLOCKS_BOND,
        part=f"block {blocks.address(int(mine[worst]))}",
        load_n=float(weight[worst]),
        area_mm2=float(width[worst] * height[worst]),
        on="on end grain",
        stresses=(float(shear[worst]), float(pull[worst])),
        allowed=allowed,
        factors=(DURATION, END_GRAIN, CREEP),
        assumptions=(
            f"its weight hangs {case.voice.mm(float(lever_mm[worst]))} before the glue and pulls at its upper edge",
            "nobody pulls on it: a block is no handle",
        ),
    )


def lifted_block(case: Case, force_n: float) -> tuple[str, float]:
    """The block at the leaf's edge whose bond gives first as somebody lifts by it for some minutes.

    Args:
        case: The leaf.
        force_n: Upward, at the front of the block.

    Returns:
        Its address and its margin; no end where the leaf has no block at its edge.
    """
    blocks, leaf = case.layout.blocks, case.leaf
    right, top = blocks.x_nm + blocks.width_nm, blocks.y_nm + blocks.height_nm
    outer = (blocks.x_nm <= leaf.x_nm) | (right >= leaf.x_nm + leaf.width_nm)
    outer |= (blocks.y_nm <= leaf.y_nm) | (top >= leaf.y_nm + leaf.height_nm)
    mine = np.flatnonzero((blocks.leaf == case.number) & outer)
    if not mine.size:
        return "", np.inf
    width, height = (np.maximum(size, 1e-3) for size in _bonded_mm(case, mine))
    allowed = bond_allowed(
        plane_shear_mpa(case.brief.backer.material), end_grain=True, duration_factor=SHORT.value, permanent=False
    )
    turning = force_n * case.relief.length_nm[mine] / NM_PER_MM
    use = allowed.use(force_n / (width * height), stiff_peel_mpa(turning, width, height))
    worst = int(np.argmax(use))
    return blocks.address(int(mine[worst])), float(1 / use[worst])


def coatings(case: Case) -> Iterator[Link]:
    """Paint between glue and wood: nobody rates a coat of paint as a glue line, so nothing is counted on it."""
    mine = np.flatnonzero(case.layout.blocks.leaf == case.number)
    heaviest = float(block_weights_n(case, mine).max()) if mine.size else 0.0
    for part, face, where in GLUED_FACES:
        if coat_of(case.paint.face_coats, part, face) == "paint":
            load = heaviest if "block" in where else case.weight_n
            if load:
                reason = "paint is no glue line: no allowable is known for it"
                yield no_hold(case, COATING, where, load, reason)


def strip_bond(case: Case) -> Link:
    """The edge strip that works its lap behind the backer hardest."""
    blocks, leaf, bond = case.layout.blocks, case.leaf, case.layout.ring_bond
    assert bond is not None
    all_mine = np.flatnonzero(blocks.leaf == case.number)
    ring = blocks.zone[all_mine] == Zone.RING
    mine = all_mine[ring]
    weight, lever_mm = block_weights_n(case, all_mine)[ring], case.relief.length_nm[mine] / 2 / NM_PER_MM
    middle = blocks.y_nm[mine] + blocks.height_nm[mine] / 2
    lap_mm = bond.behind_backer_nm / NM_PER_MM
    back_top = leaf.backer_y_nm + leaf.backer_height_nm
    wide_mm, tall_mm = leaf.backer_width_nm / NM_PER_MM, leaf.backer_height_nm / NM_PER_MM
    upright = (middle <= back_top) & (middle >= leaf.backer_y_nm)
    left = blocks.x_nm[mine] < leaf.backer_x_nm
    sides = {
        "upper": (middle > back_top, wide_mm, lap_mm),
        "lower": (middle < leaf.backer_y_nm, wide_mm, lap_mm),
        "left": (upright & left, lap_mm, tall_mm),
        "right": (upright & ~left, lap_mm, tall_mm),
    }
    shear_mpa = min(plane_shear_mpa(case.brief.backer.material), plane_shear_mpa(case.brief.edge.strip_material))
    allowed = bond_allowed(shear_mpa, end_grain=False, duration_factor=DURATION.value)
    found = []
    for side, (on, width, height) in sides.items():
        carried = float(weight[on].sum())
        pull = float(stiff_peel_mpa(float((weight[on] * lever_mm[on]).sum()), width, np.asarray(height)))
        shear = carried / (width * height)
        found.append((float(allowed.use(shear, pull)), side, carried, width * height, (shear, pull)))
    _, side, carried, area, stresses = max(found)
    return _glued(
        case,
        "edge strip's bond",
        part=f"the {side} strip",
        load_n=carried,
        area_mm2=area,
        on="behind the backer",
        stresses=stresses,
        allowed=allowed,
        factors=(DURATION, CREEP),
        assumptions=("the ring's own screws are not counted on",),
    )


def panel_glue(case: Case) -> Link | None:
    """The hardest-worked glued face on the way from the panel half to the backer, over packer and filler; None without.

    The bevel carries the weight close to the wall, the leaf hangs in front: the lower edge of each face is pulled off.
    """
    parts = {part.name: part for part in case.parts}
    glued = case.brief.fixings.panel_glued and case.brief.cleat.kind == "wood"
    roles = (Role.PACKER, Role.FILLER, *((Role.PANEL_HALF,) if glued else ()))
    found = []
    for joint in case.body.joints:
        if (joint.leaf, joint.copy) != (case.leaf.name, case.leaf.copy) or joint.how not in GLUED:
            continue
        behind, before = parts[joint.a], parts[joint.b]
        if behind.role in roles:
            shear, pull = _panel_stresses(case, behind, before, joint.area_mm2)
            allowed = bond_allowed(
                min(plane_shear_mpa(part.material) for part in (behind, before)),
                end_grain=False,
                duration_factor=DURATION.value,
            )
            found.append(
                (float(allowed.use(shear, pull)), behind.name, before.name, joint.area_mm2, shear, pull, allowed)
            )
    if not found:
        return None
    _, a, b, area, shear, pull, allowed = max(found, key=lambda entry: entry[0])
    return _glued(
        case,
        "panel half's glue",
        part="all of it" if len(case.cleat.pieces) == 1 else "on the harder-worked of two cleats",
        load_n=case.weight_n * max(case.cleat_shares),
        area_mm2=area,
        on=f"between {a} and {b}",
        stresses=(shear, pull),
        allowed=allowed,
        factors=(DURATION, CREEP),
        assumptions=(
            "bare wood on both sides, pressed as the glue asks",
            "pull at its lower edge: both parts as beams on the wood between them (Hetényi 1946; Bigwood and Crocombe "
            "1989, from memory)",
            "the wall pushes the panel half back at its lower edge",
            "where it does so at the upper one, the glue may open below, and the screws hold alone: see there",
        ),
    )


def _panel_stresses(case: Case, behind: Part, before: Part, area_mm2: float) -> tuple[float, float]:
    """Shear of the weight, and pull at the lower edge, of one face between panel half and backer."""
    y0, y1 = contact_nm(behind, before)
    height_mm = (y1 - y0) / NM_PER_MM
    width_mm = area_mm2 / height_mm
    share = max(case.cleat_shares)
    weight, outward = case.weight_n * share, case.pull_n * share
    at_nm, front_nm = behind.box.z1, case.layout.stand_off.stand_off_nm + case.brief.backer.thickness_nm
    back_nm = case.choice.back_nm
    pull = edge_peel_mpa(
        outward / width_mm,
        outward * max(0, y0 - case.choice.line_nm) / NM_PER_MM / width_mm,
        weight * (at_nm - case.bevel_middle_nm) / NM_PER_MM / width_mm,
        height_mm,
        (
            Side(
                thickness_mm=(at_nm - back_nm) / NM_PER_MM,
                stiffness=min(_stiffness(behind.material), _stiffness(case.brief.cleat.material)),
            ),
            Side(
                thickness_mm=(front_nm - at_nm) / NM_PER_MM,
                stiffness=min(_stiffness(before.material), _stiffness(case.brief.backer.material)),
            ),
        ),
    )
    return weight / area_mm2, pull


def _glued(
    case: Case,
    name: str,
    *,
    part: str,
    load_n: float,
    area_mm2: float,
    on: str,
    stresses: tuple[float, float],
    allowed: BondAllowed,
    factors: tuple[Factor, ...],
    assumptions: tuple[str, ...],
) -> Link:
    """A bond as a link: its load, and how much of that load it would carry at the same place."""
    say, (shear, pull) = case.voice, stresses
    use = float(allowed.use(shear, pull))
    return link(
        case,
        name,
        part=part,
        demand_n=load_n,
        allowable_n=load_n / use if use else np.inf,
        basis=f"{say.area(area_mm2)} of glue {on}: sheared {say.stress(shear)} of "
        f"{say.stress(allowed.shear_mpa)}, pulled at its edge {say.stress(pull)} of "
        f"{say.stress(allowed.pull_mpa)}; both at once by the sum of squares",
        factors=factors,
        assumptions=assumptions,
        source=GLUE_SOURCE,
    )


def no_hold(case: Case, name: str, part: str, demand_n: float, reason: str) -> Link:
    """A link that nothing is counted on, with the reason."""
    return link(
        case, name, part=part, demand_n=demand_n, allowable_n=0.0, basis=f"nothing is counted on: {reason}", source=""
    )


def block_weights_n(case: Case, mine: NDArray[np.intp]) -> FloatArray:
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


def _stiffness(material: str) -> float:
    return BOARD_STIFFNESS if material in board_keys() else 1.0
