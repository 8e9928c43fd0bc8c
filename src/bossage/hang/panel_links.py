"""The screws of the panel half of the cleat: what pulls at them, and what of that they hold.

Where the panel half is glued as well, its screws are a second hold against the pull that peels the glue from below:
they are asked to hold that pull alone. The shear stays with the glue, as thin boards give a screw too little depth
for it. The panel half turns about its upper edge: the bevel carries the weight close to the wall and draws it outwards
below, the leaf hangs in front of it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from bossage.body import Role
from bossage.errors import BossageError
from bossage.fasteners import Bite, combined_allowable_n, head_pull_through_n, wood_screw_lateral
from bossage.hang.bonds import no_hold
from bossage.hang.case import Case, gravity_of, link, product, screw_or_reason
from bossage.hang.glue_screws import glue_screws
from bossage.hang.records import Link, PanelFixing
from bossage.hang.sharing import shares_of
from bossage.hang.statics import prying_n
from bossage.hang.strengths import METAL_WALL_MM, STEEL_BEARING_MPA
from bossage.hang.threads import Held, Shank, bite_of, held_by, shank_or_reason
from bossage.timber import species_or_board
from bossage.units import NM_PER_MM

SCREWS = "panel half's screws"
GLUE_SHEARS = "the glue takes the shear, the screws alone the pull that would peel it"
OUR_DEPTH = (
    "four diameters of thread are enough beside sound glue: ours, where EN 1995-1-1 asks for six; below 4 mm (5/32 in) "
    "no standard gives a value, so ask for its maker's",
)


@dataclass(frozen=True, slots=True, kw_only=True)
class Opening:
    """One face that opens if the glue lets go, and the thread that crosses it.

    `through_nm` is what the screw passes before the thread counts, `part` what it then bites in.
    """

    from_wall_nm: int
    through_nm: int
    receiving_nm: int
    part: str
    material: str


def openings(case: Case, *, from_front: bool, sunk_nm: int = 0) -> tuple[Opening, ...]:
    """The faces that a screw of the panel half holds together, from behind or through the backer from its face.

    `sunk_nm` is how far its head lies below that face.
    """
    brief, back = case.brief, case.choice.back_nm
    panel = brief.cleat.thickness_nm
    packer, filler = case.deep_nm(Role.PACKER), case.deep_nm(Role.FILLER)
    backer, wood = brief.backer.thickness_nm, brief.cleat.material
    if from_front:
        # the hole through backer and packer is a clearance hole: thread bites in the panel half alone, on either face
        ahead = backer + filler + packer - sunk_nm
        found = [
            Opening(from_wall_nm=face, through_nm=ahead, receiving_nm=panel, part="panel half", material=wood)
            for face in dict.fromkeys((back + panel, back + panel + packer))
        ]
        return tuple(found)
    if brief.cleat.kind == "metal":
        # a packer behind a metal cleat is glued to the leaf and holds the screw like the leaf itself
        holds = packer + filler + backer
        return (
            Opening(
                from_wall_nm=back + panel,
                through_nm=panel,
                receiving_nm=holds,
                part="filler" if filler else "backer",
                material=thread_in(case),
            ),
        )
    return (
        Opening(
            from_wall_nm=back + panel + packer,
            through_nm=panel + packer,
            receiving_nm=filler or backer,
            part="filler" if filler else "backer",
            material=thread_in(case),
        ),
    )


def thread_in(case: Case) -> str:
    """Material that a panel screw from behind bites in: the filler behind the panel half, else the backer."""
    filler = case.first(Role.FILLER)
    return filler.material if filler else case.brief.backer.material


def panel_screws(case: Case, panel: PanelFixing) -> Link:
    """The hardest-worked screw of the panel half: in pull where it is glued as well, else in shear too."""
    part = f"the hardest-worked of {len(panel.screws)}"
    shares = shares_of(case, [screw.from_leaf_left_nm + case.leaf.x_nm for screw in panel.screws])
    if shares is None:
        return no_hold(case, SCREWS, part, case.pull_n, "the centre of gravity lies outside the screws")
    found = [
        _opened(case, panel, one, max(shares))
        for one in openings(case, from_front=panel.from_front, sunk_nm=panel.sunk_nm)
    ]
    return min((*found, *_filler_face(case, panel)), key=lambda one: one.margin)


def _filler_face(case: Case, panel: PanelFixing) -> Iterator[Link]:
    """The face between filler and backer: screws of the panel half from behind end in the filler, others hold it."""
    filler, backer = case.first(Role.FILLER), case.first(Role.BACKER)
    if filler is None or backer is None or panel.from_front:
        return
    held_by_panel = [(x.from_leaf_left_nm + case.leaf.x_nm, x.from_leaf_foot_nm + case.leaf.y_nm) for x in panel.screws]
    across, fillers = shank_or_reason(panel.gauge), {one.name for one in case.parts if one.role is Role.FILLER}
    thick_mm = 0.0 if isinstance(across, str) else across.shank_mm
    found = [one for one in glue_screws(case.brief, case.parts, held_by_panel, thick_mm) if one.part in fillers]
    spots = [spot for one in found for spot in one.spots]
    part = f"the hardest-worked of {len(spots)} between filler and backer"
    box = filler.box
    up = spots[0].y_nm if spots else (box.y0 + box.y1) // 2
    pull = prying(case, box.z1, up - case.leaf.y_nm)
    shares = shares_of(case, [spot.x_nm for spot in spots])
    shank = shank_or_reason(found[0].gauge) if found else "no screw of the shelf"
    if shares is None or isinstance(shank, str):
        yield no_hold(case, SCREWS, part, pull, "no screws hold the filler level on the backer")
        return
    board, length = case.brief.backer, found[0].length_nm
    bites = bite_of(shank, length, board.thickness_nm, box.z1 - box.z0)
    held = held_by(shank, filler.material, bites, case.service_factors)
    net_mm = max(1.0, board.thickness_nm / NM_PER_MM - shank.head_mm / 2)
    head_n = head_pull_through_n(gravity_of(board.material), shank.head_mm, net_mm) * product(case.wood_factors)
    say = case.voice
    yield link(
        case,
        SCREWS,
        part=part,
        demand_n=pull * max(shares),
        allowable_n=min(held.allowable_n, head_n),
        basis=f"{say.screw(found[0].gauge, length)} from the backer's face: {say.mm(bites.holds_mm)} of thread "
        f"in the filler {say.bare_force(held.allowable_n)}, head through the backer {say.bare_force(head_n)}",
        factors=held.factors if held.allowable_n <= head_n else case.wood_factors,
        assumptions=(GLUE_SHEARS,),
        source=held.source,
    )


def screw_pull_n(case: Case, panel: PanelFixing, where: Opening) -> tuple[Held, str] | str:
    """Allowable pull of one screw across that face with its basis: thread, or head drawn through; or why none."""
    shank = shank_or_reason(panel.gauge)
    if isinstance(shank, str):
        return shank
    say = case.voice
    try:
        bites = bite_of(shank, panel.length_nm, where.through_nm, where.receiving_nm)
        held = held_by(shank, where.material, bites, case.service_factors)
        head_n = _head_n(case, panel, shank)
    except BossageError as error:
        return say.retold(str(error))
    words = _thread_words(case, where, bites)
    if not bites.enough or bites.holds_mm <= 0:
        return f"{say.screw(panel.gauge, panel.length_nm)}: {words}; at least {say.mm(bites.least_mm)} is asked for"
    basis = f"{say.screw(panel.gauge, panel.length_nm)}: {words} {say.bare_force(held.allowable_n)}"
    if math.isfinite(head_n):
        under = "backer" if panel.from_front else "panel half"
        basis += f", head through the {under} {say.bare_force(head_n)}; the lesser counts"
    if head_n < held.allowable_n:
        held = Held(
            allowable_n=head_n, factors=case.wood_factors, source="NDS 2018 12.2-6 (read in a public transcription)"
        )
    return held, basis


def _thread_words(case: Case, where: Opening, bites: Bite) -> str:
    say = case.voice
    return (
        f"{say.mm(bites.thread_mm)} of thread in the {where.part} ({species_or_board(where.material).name}), "
        f"{say.mm(bites.holds_mm)} of it without the tip"
    )


def _head_n(case: Case, panel: PanelFixing, shank: Shank) -> float:
    """Allowable pull of a head through what lies under it; what the countersink takes away is not counted."""
    brief = case.brief
    if brief.cleat.kind == "metal":
        return math.inf
    under, deep = (
        (brief.backer.material, brief.backer.thickness_nm)
        if panel.from_front
        else (brief.cleat.material, brief.cleat.thickness_nm)
    )
    net_mm = max(1.0, (deep - panel.sunk_nm) / NM_PER_MM - shank.head_mm / 2)
    return head_pull_through_n(gravity_of(under), shank.head_mm, net_mm) * product(case.wood_factors)


def _opened(case: Case, panel: PanelFixing, where: Opening, share: float) -> Link:
    part = f"the hardest-worked of {len(panel.screws)}"
    pull = prying(case, where.from_wall_nm, panel.screws[0].from_leaf_foot_nm)
    per_screw = screw_pull_n(case, panel, where)
    if isinstance(per_screw, str):
        return no_hold(case, SCREWS, part, share * pull, per_screw)
    held, basis = per_screw
    said = (
        f"if the glue peels, {case.voice.bare_force(pull)} pull at all screws together: moments about the upper edge "
        "of the panel half, where the wall may push it back",
        *_filler_words(case, panel),
    )
    if not panel.glued:
        return _screws_alone(case, panel, share, pull, held, said)
    return link(
        case,
        SCREWS,
        part=part,
        demand_n=share * pull,
        allowable_n=held.allowable_n,
        basis=basis,
        factors=held.factors,
        assumptions=(GLUE_SHEARS, *OUR_DEPTH, *said),
        source=held.source,
    )


def prying(case: Case, from_wall_nm: int, screws_up_nm: int) -> float:
    """Pull at all screws of the panel half together, if a face that far from the wall is held by them alone.

    The bevel pushes the panel half to the wall, and the wall pushes back. Where it does so at the lower edge, what is
    left is the pull of the leaf. Where it does so at the upper edge, as with a foot that stands off too far, the whole
    push of the bevel turns the panel half. So the larger of both counts.
    """
    top = max(part.box.y1 for part in case.parts if part.role is Role.PANEL_HALF)
    up = case.leaf.y_nm + screws_up_nm
    return prying_n(
        case.weight_n,
        case.thrust_n,
        before_mm=(from_wall_nm - case.bevel_middle_nm) / NM_PER_MM,
        line_to_edge_mm=(top - case.cleat.line_nm) / NM_PER_MM,
        screw_to_edge_mm=max(1, top - up) / NM_PER_MM,
    )


def _screws_alone(case: Case, panel: PanelFixing, share: float, pull: float, held: Held, said: tuple[str, ...]) -> Link:
    """Screws that carry the shear as well. The NDS asks for six diameters of penetration, which thin boards refuse."""
    part = f"the hardest-worked of {len(panel.screws)}"
    sheared = _screw_shear_n(case, panel)
    if isinstance(sheared, str):
        return no_hold(case, SCREWS, part, case.weight_n, f"{sheared}; or glue the panel half as well")
    lateral, basis = sheared
    angle = math.degrees(math.atan2(pull, case.weight_n))
    return link(
        case,
        SCREWS,
        part=part,
        demand_n=share * math.hypot(case.weight_n, pull),
        allowable_n=combined_allowable_n(held.allowable_n, lateral, angle),
        basis=f"{case.voice.screw(panel.gauge, panel.length_nm)}: {basis}; pull "
        f"{case.voice.bare_force(held.allowable_n)}; pull and shear at once by Eq. 12.4-1",
        factors=case.wood_factors,
        assumptions=("no glue is counted on between panel half and leaf", *said),
        source="NDS 2018 12.2, 12.3, 12.4",
    )


def _screw_shear_n(case: Case, panel: PanelFixing) -> tuple[float, str] | str:
    """Allowable shear of one screw of the panel half with its basis, or why there is none."""
    screw = screw_or_reason(panel.gauge)
    if isinstance(screw, str):
        return screw
    brief = case.brief
    metal = brief.cleat.kind == "metal"
    where = openings(case, from_front=panel.from_front, sunk_nm=panel.sunk_nm)[0]
    under = brief.backer.material if panel.from_front else brief.cleat.material
    try:
        found = wood_screw_lateral(
            screw,
            side_mm=METAL_WALL_MM if metal else where.through_nm / NM_PER_MM,
            penetration_mm=max(0, panel.length_nm - where.through_nm) / NM_PER_MM,
            main_gravity=gravity_of(where.material),
            side_gravity=gravity_of(under),
            side_bearing_mpa=STEEL_BEARING_MPA if metal else None,
        )
    except BossageError as error:
        return case.voice.retold(str(error))
    allowable = found.z_n * product(case.wood_factors)
    return allowable, "; ".join((f"shear {case.voice.bare_force(allowable)}", *found.basis))


def _filler_words(case: Case, panel: PanelFixing) -> tuple[str, ...]:
    if not panel.filler_nm:
        return ()
    return (
        f"a filler, {case.voice.say(panel.filler_nm)} thick, lies between panel half and backer, "
        "glued and screwed to the backer",
    )
