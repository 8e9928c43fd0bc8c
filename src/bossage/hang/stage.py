"""The stage: mass, load path, positions, lifting, what to buy."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from bossage.body import Body
from bossage.brief.records import Brief, Fixture, Opens
from bossage.checks import Check
from bossage.hang.bonds import BLOCKS_BOND
from bossage.hang.bowed import bowed_hold, least
from bossage.hang.buy import things_to_buy
from bossage.hang.case import Case
from bossage.hang.cautions import hang_cautions
from bossage.hang.glue_screws import glue_screws
from bossage.hang.hang_checks import (
    cleat_checks,
    hinge_checks,
    link_checks,
    mass_checks,
    over_head_checks,
    who_is_below,
)
from bossage.hang.hinge_records import HingePlan
from bossage.hang.hinges import hinge_links, plan_hinges
from bossage.hang.latch import latch_check
from bossage.hang.leaf_links import leaf_links
from bossage.hang.lift import plan_lift
from bossage.hang.lift_checks import lift_checks, people_check
from bossage.hang.linings import in_studs
from bossage.hang.mass import leaf_masses
from bossage.hang.panel import plan_panel
from bossage.hang.places import feet_of, shortest_cleats_nm, stud_missed, studs_met, studs_taken
from bossage.hang.proof import proof_load
from bossage.hang.put_down import put_down_words
from bossage.hang.records import CleatPiece, CleatPlan, Hang, LeafHang, LeafMass, Lifting, LiftOffRoom, Link
from bossage.hang.screw_records import GlueScrews
from bossage.hang.statics import mass_of_g, pull_n, weight_n
from bossage.hang.stile_screws import screws_of_back
from bossage.hang.threads import shank_or_reason
from bossage.hang.trial import trial_battens
from bossage.hang.tug import swung_tug_check, tug_check
from bossage.hang.wall import WallHold, hold_wall
from bossage.hang.wall_holes import wall_holes
from bossage.hang.window import window_for
from bossage.hang.words import Voice
from bossage.hang.zone_checks import depth_check, hinge_zone_check, zone_check
from bossage.layout.access import LIFT_OFF_MOST
from bossage.layout.grid import bevel_rise_nm, lift_room_wanted
from bossage.layout.records import Layout, Leaf
from bossage.paint.records import Paint
from bossage.relief.records import Relief
from bossage.units import G_PER_LB, NM_PER_MM
from bossage.zones import zones_of


@dataclass(frozen=True, slots=True, kw_only=True)
class _Hung:
    """One leaf of one copy, worked out: it stands for the leaf of that name in every copy."""

    case: Case
    cleat: CleatPlan | None
    hold: WallHold | None
    hinges: HingePlan | None
    links: tuple[Link, ...]
    lifting: Lifting


def plan_hang(brief: Brief, layout: Layout, body: Body, relief: Relief, paint: Paint) -> Hang:
    """How the piece hangs and what that asks for.

    Args:
        brief: The checked brief.
        layout: Leaves, stand-off, lift-off room.
        body: Every part behind the blocks and on the wall, where cleat, foot and hinges are.
        relief: Lengths of the blocks.
        paint: Dry paint a leaf, and what the glue fields carry when they are glued.

    Returns:
        Mass and centre of gravity of every leaf, positions of cleat and fixings, every link of the load path with its
        allowable, lifting, checks. Links are of the heaviest copy of each leaf.

    Leaves out:
        The wall itself, blows, earthquakes. Of people who lean on the piece it asks for one stated tug, `tug`.

    Source:
        Named beside each link. Allowables are allowable-stress values; local codes and licensed practice govern.
    """
    masses = leaf_masses(brief, layout, body, relief, paint)
    cases = _cases(brief, layout, body, relief, masses, paint)
    hung = tuple(_hang(case) for case in cases)
    by_name = {one.case.leaf.name: one for one in hung}
    voice = Voice(brief)
    leaves = tuple(
        _leaf_hang(by_name[leaf.name], layout, leaf, mass) for leaf, mass in zip(layout.leaves, masses, strict=True)
    )
    liftings = tuple(one.lifting for one in hung)
    bonds = [link.margin for one in hung for link in one.links if link.name == BLOCKS_BOND]
    return Hang(
        leaf_masses=masses,
        leaves=leaves,
        links=tuple(sorted((link for one in hung for link in one.links), key=lambda link: link.reserve)),
        liftings=liftings,
        to_buy=tuple(
            things_to_buy(
                brief,
                body,
                tuple(one.cleat for one in hung if one.cleat),
                tuple(one.hinges for one in hung if one.hinges),
                leaves,
                voice,
            )
        ),
        checks=tuple(check for one in hung for check in _checks(one, voice, named=len(hung) > 1)),
        cautions=tuple(
            hang_cautions(brief, leaves, liftings, put_down_words(layout, body, brief.piece.unit, voice.say), voice)
        ),
        assumptions=tuple(_assumptions(brief)),
        bowed=min((bowed_hold(one.cleat, one.hold) for one in hung if one.cleat and one.hold), key=least, default=None),
        bond_margin=min(bonds, default=math.inf),
        figures=_figures(hung),
    )


def _cases(
    brief: Brief, layout: Layout, body: Body, relief: Relief, masses: tuple[LeafMass, ...], paint: Paint
) -> tuple[Case, ...]:
    """The heaviest copy of each leaf, in the order of the leaves."""
    heaviest: dict[str, int] = {}
    for number, leaf in enumerate(layout.leaves):
        held = heaviest.get(leaf.name)
        if held is None or masses[number].total_g > masses[held].total_g:
            heaviest[leaf.name] = number
    return tuple(
        Case(
            brief=brief,
            layout=layout,
            body=body,
            relief=relief,
            number=number,
            leaf=layout.leaves[number],
            mass=masses[number],
            paint=paint,
            zones=zones_of(brief, layout.leaves[number].copy),
        )
        for number in heaviest.values()
    )


def _hang(case: Case) -> _Hung:
    if case.swings:
        hinges = plan_hinges(case)
        links = (*leaf_links(case, None), *hinge_links(case, hinges))
        return _Hung(case=case, cleat=None, hold=None, hinges=hinges, links=links, lifting=plan_lift(case))
    hold = hold_wall(case)
    cleat = _cleat(case, hold)
    links = (*leaf_links(case, cleat.panel), *hold.links)
    return _Hung(case=case, cleat=cleat, hold=hold, hinges=None, links=links, lifting=plan_lift(case))


def _cleat(case: Case, hold: WallHold) -> CleatPlan:
    brief, line = case.brief, case.cleat
    rise, panel = bevel_rise_nm(brief), plan_panel(case)
    return CleatPlan(
        kind=brief.cleat.kind,
        pieces=tuple(
            CleatPiece(
                from_nm=start,
                to_nm=stop,
                load_share=share,
                weight_n=case.weight_n * share,
                pull_n=case.pull_n * share,
            )
            for (start, stop), share in zip(line.pieces, case.cleat_shares, strict=True)
        ),
        from_nm=line.from_nm,
        to_nm=line.to_nm,
        length_nm=line.length_nm,
        line_nm=line.line_nm,
        line_below_top_nm=case.leaf.y_nm + case.leaf.height_nm - line.line_nm,
        wall_half_bottom_nm=line.line_nm + rise // 2 - brief.cleat.strip_nm,
        bevel_deg=brief.cleat.bevel_deg,
        engagement_nm=rise,
        studs=studs_met(brief, line),
        missed=stud_missed(brief, case.leaf, line),
        taken_nm=studs_taken(brief, line),
        fixings=hold.points,
        per_stud=hold.per_stud,
        count_reason=hold.reason,
        screw=case.wall_screw,
        proof=proof_load(case),
        holes=wall_holes(brief, case.wall_screw, case.screwed_nm + case.choice.back_nm),
        in_studs=in_studs(case, hold.points),
        panel=panel,
        battens=trial_battens(case, panel),
    )


def _leaf_hang(one: _Hung, layout: Layout, leaf: Leaf, mass: LeafMass) -> LeafHang:
    brief = one.case.brief
    weight = weight_n(mass.total_g)
    lifts = one.cleat is not None
    arm_mm = one.case.arm_mm
    pull = pull_n(weight, mass.from_wall_mm, arm_mm)
    return LeafHang(
        leaf=leaf.name,
        copy=leaf.copy,
        mass_g=mass.total_g,
        weight_n=weight,
        from_wall_mm=mass.from_wall_mm,
        x_nm=leaf.x_nm + round(mass.from_left_mm * NM_PER_MM),
        y_nm=leaf.y_nm + round(mass.from_foot_mm * NM_PER_MM),
        arm_nm=round(arm_mm * NM_PER_MM),
        pull_n=pull,
        pull_g=mass_of_g(pull),
        wedge_n=one.case.wedge_n * weight / one.case.weight_n if lifts else 0.0,
        cleat=one.cleat,
        hinges=one.hinges,
        feet=feet_of(one.case.parts) if lifts else (),
        room=LiftOffRoom(
            bevel_rise_nm=bevel_rise_nm(brief), wanted_nm=lift_room_wanted(brief), room_nm=layout.lift_room_nm
        )
        if lifts
        else None,
        glue_screws=_glue_screws(one, leaf),
        if_swung=_if_swung(one.case, leaf) if lifts else None,
        if_windowed=window_for(one.case, _behind(brief, leaf)) if lifts else None,
    )


def _glue_screws(one: _Hung, leaf: Leaf) -> tuple[GlueScrews, ...]:
    """Screws of the back of one copy, clear of those of its panel half, or of its hinges and its chain."""
    parts = one.case.body.of(leaf.name, leaf.copy)
    if one.cleat is None:
        assert one.hinges is not None
        return screws_of_back(one.case, parts, one.hinges.length_nm)
    panel = one.cleat.panel
    shank = shank_or_reason(panel.gauge)
    spots = [(leaf.x_nm + s.from_leaf_left_nm, leaf.y_nm + s.from_leaf_foot_nm) for s in panel.screws]
    return glue_screws(one.case.brief, parts, spots, 0.0 if isinstance(shank, str) else shank.shank_mm)


def _if_swung(case: Case, leaf: Leaf) -> HingePlan | None:
    """The hinges that would do where something is opened too often to be lifted off each time."""
    brief = case.brief
    if max((f.opened_per_year for f in _behind(brief, leaf)), default=0.0) <= LIFT_OFF_MOST:
        return None
    swung = replace(brief, access=replace(brief.access, opens=Opens.SWING))
    return plan_hinges(replace(case, brief=swung))


def _behind(brief: Brief, leaf: Leaf) -> tuple[Fixture, ...]:
    """What is hidden in this leaf's copy."""
    return tuple(f for f in brief.fixtures if not f.copies or leaf.copy in f.copies)


def _checks(one: _Hung, voice: Voice, *, named: bool) -> list[Check]:
    case = one.case
    subject = case.leaf.name if named else ""
    checks = [*over_head_checks(case, one.hold, one.links, voice), *who_is_below(case, voice, subject)]
    checks += link_checks(case, one.links, voice, subject)
    if one.cleat is not None and one.hold is not None:
        checks += cleat_checks(case, one.cleat, one.hold, voice, subject)
        checks.append(tug_check(case, one.hold, voice, subject))
        behind = (zone_check(case, one.cleat, voice, subject), depth_check(case, one.cleat, voice, subject))
        checks += [check for check in behind if check is not None]
    if one.hinges is not None:
        checks += hinge_checks(case, one.hinges, voice, subject)
        checks += latch_check(case, voice, subject)
        checks.append(swung_tug_check(case, one.hinges, voice, subject))
        zoned = hinge_zone_check(case, one.hinges, voice, subject)
        checks += [zoned] if zoned else []
    checks += mass_checks(case, voice, subject)
    checks.append(people_check(case, one.lifting, voice, subject))
    checks += lift_checks(case, one.lifting, voice, subject)
    return checks


def _assumptions(brief: Brief) -> list[str]:
    said = [
        "wood varies by about 10 % either way: weigh the leaf before it hangs",
        "the load is permanent: factor 0.9 (NDS 2018 Table 2.3.2)",
    ]
    if brief.left_open("wall.covering"):
        deep = Voice(brief).say(brief.wall.covering_nm)
        said.append(f"{deep} of plaster or board lie on the wall: measure it at the first hole, as screws go by it")
    if brief.piece.weighed_g is not None:
        said.append("the mass is what the scales said; the centre of gravity is the computed one")
    if brief.access.opens is Opens.SWING:
        said.append("the wood of the hinges runs along its whole edge, and both its hinges turn about one line")
        return said
    if brief.cleat.kind == "metal":
        said.append("the metal cleat is counted as 1.5 mm of aluminium; weigh it where it matters")
    if brief.cleat.length_nm is None and brief.access.opens is Opens.LIFT_OFF:
        alone = brief.cleat.pieces == 1
        said.append("the cleat is as long as the backer" if alone else "each cleat is a third as long as the backer")
    return said


def _figures(hung: tuple[_Hung, ...]) -> dict[str, float]:
    """What tests and papers quote: mass and pull of the heaviest leaf, the rest of the one with the weakest link."""
    heavy = max(hung, key=lambda one: one.case.mass.total_g).case
    weak = min(hung, key=lambda one: min(link.reserve for link in one.links))
    figures: dict[str, float] = {
        "mass_total_g": heavy.mass.total_g,
        "mass_total_lb": heavy.mass.total_g / G_PER_LB,
        "cg_from_wall_mm": heavy.mass.from_wall_mm,
        "pull_n": heavy.pull_n,
        "pull_g": mass_of_g(heavy.pull_n),
        "pull_lb": mass_of_g(heavy.pull_n) / G_PER_LB,
        "least_margin": min(link.margin for one in hung for link in one.links),
        "lift_rwl_g": min(one.lifting.recommended_g for one in hung),
        "lift_index": max(one.lifting.index for one in hung),
    }
    for part in heavy.mass.parts:
        figures[f"mass_{part.name.replace(' ', '_')}_g"] = part.mass_g
    if weak.cleat is not None and weak.hold is not None:
        figures |= _cleat_figures(weak.case, weak.cleat, weak.hold)
    if weak.hinges is not None:
        figures |= {
            "hinge_arm_nm": weak.hinges.arm_nm,
            "hinge_spacing_nm": weak.hinges.spacing_nm,
            "hinge_pull_n": max(h.pull_n for h in weak.hinges.hinges),
        }
    return figures


def _cleat_figures(case: Case, cleat: CleatPlan, hold: WallHold) -> dict[str, float]:
    figures: dict[str, float] = {
        "cleat_from_nm": cleat.from_nm,
        "cleat_to_nm": cleat.to_nm,
        "cleat_length_nm": cleat.length_nm,
        "cleat_line_nm": cleat.line_nm,
        "studs": len(cleat.studs),
        "fixings": len(cleat.fixings),
        "fixings_needed": hold.needed,
        "fixings_needed_elsewhere": hold.needed_elsewhere,
        "fixing_allowable_g": mass_of_g(hold.allowable_each_n),
        "fixing_rated_g": 0.0 if isinstance(hold.hold, str) else mass_of_g(hold.hold.shear_n),
        "margin": min(link.margin for link in hold.links if link.shear_n is not None),
    }
    if cleat.missed is not None:
        figures |= {"miss_nm": cleat.missed.miss_nm, "cleat_one_more_shortest_nm": cleat.missed.shortest_nm}
    for count, shortest in enumerate(shortest_cleats_nm(case.brief, case.cleat), 1):
        figures[f"cleat_{count}_studs_shortest_nm"] = shortest
    return figures
