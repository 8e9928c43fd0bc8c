"""Parts made from boxes: volume, mass, grain and where they come from."""

from __future__ import annotations

from dataclasses import replace

from bossage.body.cleats import Cleats, heights
from bossage.body.made import source_of
from bossage.body.records import MadeAt, Part, Role
from bossage.body.site import Site
from bossage.body.solids import Corner, Cuboid, area2_nm2
from bossage.body.swing import SIDES, strip_rects
from bossage.brief.records import Brief, EdgeStyle
from bossage.layout.rect import Rect
from bossage.layout.rough import ALUMINIUM_KG_M3, METAL_WALL_NM
from bossage.timber import board_keys, species_or_board

G_NM3_PER_KG_M3 = 1e3 / 1e27
HARDWARE = "steel"


def solid(
    site: Site,
    role: Role,
    x: tuple[int, int],
    outline: tuple[Corner, ...],
    *,
    material: str,
    made_at: MadeAt = MadeAt.BOARDS,
    moves: bool = True,
    grain: str | None = None,
    bevelled: bool = False,
    label: str = "",
) -> Part:
    """A part of this leaf, not yet named."""
    leaf = site.leaf
    made = Part(
        name="",
        number=0,
        role=role,
        leaf=leaf.name,
        copy=leaf.copy,
        moves=moves,
        material=material,
        grain=None if material in board_keys() else grain,
        from_x_nm=x[0],
        to_x_nm=x[1],
        outline_nm=outline,
        mass_g=0.0,
        made_at=made_at,
        bevelled=bevelled,
        label=label,
    )
    return weighed(made)


def boxed(
    site: Site, role: Role, box: Cuboid, *, material: str, made_at: MadeAt = MadeAt.BOARDS, **more: object
) -> Part:
    """A part that is a box."""
    return solid(site, role, (box.x0, box.x1), box.outline, material=material, made_at=made_at, **more)  # type: ignore[arg-type]


def weighed(part: Part) -> Part:
    """The part with the mass of its volume, openings and notches taken out; what is bought as hardware weighs 0."""
    if part.material == HARDWARE:
        return part
    if part.bevelled and part.made_at is MadeAt.BOUGHT:
        # a bought metal cleat is a thin profile as high as the wooden half would be
        grams = METAL_WALL_NM * area2_nm2(part.outline_nm) / 2 / _thick(part) * part.length_nm
        return replace(part, mass_g=grams * ALUMINIUM_KG_M3 * G_NM3_PER_KG_M3)
    box = part.box
    out = sum((x1 - x0) * (y1 - y0) for x0, y0, x1, y1 in part.openings_nm) * (box.z1 - box.z0)
    out += sum((x1 - x0) * (z1 - z0) for x0, x1, z0, z1 in part.notches_nm) * (box.y1 - box.y0)
    volume = area2_nm2(part.outline_nm) * part.length_nm / 2 - out
    return replace(part, mass_g=volume * species_or_board(part.material).density_12pct_kg_m3 * G_NM3_PER_KG_M3)


def _thick(part: Part) -> int:
    return part.box.z1 - part.box.z0


def long_part(site: Site, role: Role, box: Cuboid, species: str, *, upright: bool, label: str = "") -> Part:
    """A part with its grain along its length, out of sticks or boards as the brief has them."""
    across = (box.x1 - box.x0) if upright else (box.y1 - box.y0)
    section = tuple(sorted((across, box.z1 - box.z0)))
    source = source_of(site.brief, species, (section[0], section[1]))
    made_at = MadeAt.BOARDS if source.board_nm else MadeAt.STICKS
    return boxed(site, role, box, material=species, made_at=made_at, grain="y" if upright else "x", label=label)


def backer_part(site: Site) -> Part:
    """The backer with its openings."""
    back, thick, r = site.stand_off_nm, site.brief.backer.thickness_nm, site.backer
    made = boxed(
        site,
        Role.BACKER,
        Cuboid(r.x, r.right, r.y, r.top, back, back + thick),
        material=site.brief.backer.material,
    )
    openings = tuple((o.x, o.y, o.right, o.top) for o in site.openings)
    return weighed(replace(made, openings_nm=openings))


def edge_parts(site: Site) -> list[Part]:
    """Edge strips behind backer and ring, none at the hinges; or the lipping round the backer, level with its front."""
    edge, back = site.brief.edge, site.stand_off_nm
    if edge.style is EdgeStyle.OUTRIGGER:
        return [
            boxed(
                site,
                Role.STRIP,
                Cuboid(r.x, r.right, r.y, r.top, back - edge.strip_thickness_nm, back),
                material=edge.strip_material,
            )
            for side, r in zip(SIDES, strip_rects(site.brief, site.leaf), strict=True)
            if site.lifts or side is not site.brief.access.hinge  # there the stile of the hinges lies in its stead
        ]
    if edge.style is EdgeStyle.BANDED:
        front = back + site.brief.backer.thickness_nm
        return [
            long_part(
                site,
                Role.LIPPING,
                Cuboid(r.x, r.right, r.y, r.top, front - edge.lipping_depth_nm, front),
                edge.lipping_species,
                upright=r.height > r.width,
            )
            for r in lipping_rects(site)
        ]
    return []


def lipping_rects(site: Site) -> tuple[Rect, ...]:
    """The four lengths of lipping seen from the front: below, above, left, right; butted."""
    thick, leaf = site.brief.edge.lipping_thickness_nm, site.leaf
    x, y, wide, tall = leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm
    less = (0, thick) if site.brief.edge.strip_corners != "upright" else (thick, 0)
    along, up = wide - 2 * less[0], tall - 2 * less[1]
    return (
        Rect(x + less[0], y, along, thick),
        Rect(x + less[0], y + tall - thick, along, thick),
        Rect(x, y + less[1], thick, up),
        Rect(x + wide - thick, y + less[1], thick, up),
    )


def cleat_parts(site: Site, cleats: Cleats) -> list[Part]:
    """Both halves, what lies between the panel half and the backer, and the packers under a wall half that bridges."""
    brief, at = site.brief, heights(site, cleats.line_nm)
    cleat = brief.cleat
    z0, z1 = cleats.back_nm, cleats.back_nm + cleat.thickness_nm
    bought = cleat.kind == "metal"
    made_at = MadeAt.BOUGHT if bought else MadeAt.BOARDS
    panel = (at.low, z0), (at.top, z0), (at.top, z1), (at.high, z1)
    wall = (at.bottom, z0), (at.low, z0), (at.high, z1), (at.bottom, z1)
    parts = []
    rest = site.stand_off_nm - z1
    packer = min(rest, cleat.packer_nm)
    filler = rest - packer
    for span in cleats.pieces:
        parts.append(solid(site, Role.PANEL_HALF, span, panel, material=cleat.material, made_at=made_at, bevelled=True))
        if packer > 0:
            box = Cuboid(*span, at.packer, at.top, z1, z1 + packer)
            parts.append(boxed(site, Role.PACKER, box, material=cleat.material))
        if filler > 0:
            # behind the panel half's whole back, from the bevel's upper edge on
            box = Cuboid(*span, at.high, at.top, z1 + packer, site.stand_off_nm)
            parts.append(long_part(site, Role.FILLER, box, filler_material(brief), upright=False))
    for span in cleats.wall_pieces:
        parts.append(
            solid(
                site,
                Role.WALL_HALF,
                span,
                wall,
                material=cleat.material,
                made_at=made_at,
                moves=False,
                bevelled=True,
            )
        )
        parts += _wall_packers(site, span, at.bottom, at.low, z0)
    return parts


def _wall_packers(site: Site, span: tuple[int, int], bottom: int, low: int, thick: int) -> list[Part]:
    """Packers under a wall half that bridges: wherever no fixture is, along its whole length."""
    if not thick:
        return []
    free = [span]
    for one in site.hidden:
        box = one.air_box
        if box.y0 < low and box.y1 > bottom:
            free = [part for a, b in free for part in ((a, min(b, box.x0)), (max(a, box.x1), b)) if part[1] > part[0]]
    material = site.brief.cleat.material
    return [
        boxed(site, Role.WALL_PACKER, Cuboid(a, b, bottom, low, 0, thick), material=material, moves=False)
        for a, b in free
    ]


def swing_parts(site: Site) -> list[Part]:
    """Post and stile of the hinges of a leaf that swings; none of one that lifts off."""
    if site.lifts:
        return []
    swing, brief = site.swing, site.brief
    wood = wood_of(brief)
    along, axis = (swing.edge_nm, site.hinge_inner_nm), (swing.from_nm, swing.to_nm)
    post = swing.box(along, axis, 0, swing.post_nm)
    stile = swing.box(along, axis, swing.stand_off_nm - swing.stile_nm, swing.stand_off_nm)
    word = "stile" if swing.upright else "rail"
    upright = swing.upright
    return [
        replace(long_part(site, Role.POST, post, wood, upright=upright, label="hinge post"), moves=False),
        long_part(site, Role.HINGE_STILE, stile, wood, upright=upright, label=f"hinge {word}"),
    ]


def filler_material(brief: Brief) -> str:
    """Wood of the frame or stiles; the cleat's material where there are none."""
    return _framed_of(brief) or brief.cleat.material


def wood_of(brief: Brief) -> str:
    """Wood of post, stile and stop block: that of the brief's frame or stiles, else that of the blocks."""
    return _framed_of(brief) or brief.blocks.species


def _framed_of(brief: Brief) -> str:
    solid = (p.species for p in brief.behind if p.role in ("frame", "stile"))
    return next(solid, "")
