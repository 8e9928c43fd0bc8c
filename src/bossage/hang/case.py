"""One leaf with everything that its load path is worked out from, and the small hand that writes links."""

from __future__ import annotations

import math
from dataclasses import dataclass

from bossage.body import Body, Choice, Part, Role, Swing, swing_of, wood_of
from bossage.brief.records import Below, Brief, Opens
from bossage.brief.settle_fixings import passed_nm
from bossage.brief.settle_fixings import wall_screw as usual_wall_screw
from bossage.errors import BossageError
from bossage.fasteners import (
    LoadDuration,
    WoodScrew,
    load_duration_factor,
    wet_service_factor,
)
from bossage.fasteners.wall_lengths import Passed, WallScrew, named_screw
from bossage.hang.places import CleatLine, cleat_line
from bossage.hang.records import Factor, LeafMass, Link, Load
from bossage.hang.statics import pull_n, wedge_n, weight_n
from bossage.hang.strengths import METAL_WALL_MM
from bossage.hang.words import Voice
from bossage.layout.records import Layout, Leaf
from bossage.paint.records import Paint
from bossage.relief.records import Relief
from bossage.timber import board_keys, species_or_board
from bossage.units import NM_PER_MM
from bossage.zones import Zone, heeded, nearest_zone

OVER_HEAD_FACTOR = 0.5
"""Over a bed or a seat the allowable of a wall fixing is halved: our rule."""

DURATION = Factor(
    name="load duration, permanent",
    value=load_duration_factor(LoadDuration.PERMANENT),
    source="NDS 2018 Table 2.3.2",
)

SHORT = Factor(
    name="load duration, ten minutes",
    value=load_duration_factor(LoadDuration.TEN_MINUTES),
    source="NDS 2018 Table 2.3.2",
)

IN_STUDS = ("stud", "metal stud")

DAMP_BOARD_PCT = 16.0
DAMP_BOARD_BENDING, DAMP_BEARING = 0.75, 0.67
DAMP_SOURCE = "plywood design specification, and NDS Supplement C_M across the grain, from memory; from 16 %"

G_LOW, G_HIGH = 0.31, 0.73
"""Range of specific gravity that the NDS tables cover."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Case:
    """A leaf of a name, in the copy that is heaviest."""

    brief: Brief
    layout: Layout
    body: Body
    relief: Relief
    number: int  # of the leaf in the layout
    leaf: Leaf
    mass: LeafMass
    paint: Paint
    zones: tuple[Zone, ...]  # of its copy

    @property
    def voice(self) -> Voice:
        """How this leaf's texts are written."""
        return Voice(self.brief)

    @property
    def weight_n(self) -> float:
        """Weight of the leaf."""
        return weight_n(self.mass.total_g)

    @property
    def swings(self) -> bool:
        """Whether it hangs on hinges, not on a cleat."""
        return self.brief.access.opens is Opens.SWING

    @property
    def swing(self) -> Swing:
        """Where it turns; of a leaf that lifts off where it would, hung on the side that the brief names."""
        return swing_of(self.brief, self.leaf, self.layout.stand_off.stand_off_nm)

    @property
    def metal_cleat(self) -> bool:
        """Whether the wall's screws go through a metal cleat, not through wood."""
        return self.brief.cleat.kind == "metal" and not self.swings

    @property
    def screwed_word(self) -> str:
        """What the wall's screws hold: the post of a leaf that swings, else the wall half of its cleat."""
        return "hinge post" if self.swings else "wall half"

    @property
    def screwed_nm(self) -> int:
        """How thick that is."""
        return self.swing.post_nm if self.swings else self.brief.cleat.thickness_nm

    @property
    def screwed_wood(self) -> str:
        """Of which wood or board it is."""
        return wood_of(self.brief) if self.swings else self.brief.cleat.material

    @property
    def cleat(self) -> CleatLine:
        """Where the cleat runs."""
        return cleat_line(self.choice)

    @property
    def choice(self) -> Choice:
        """Where the body has the cleat; only of a leaf that hangs on a cleat."""
        found = self.body.choice(self.leaf.name, self.leaf.copy)
        assert found is not None
        return found

    @property
    def parts(self) -> tuple[Part, ...]:
        """The parts of this leaf."""
        return self.body.of(self.leaf.name, self.leaf.copy)

    def first(self, role: Role) -> Part | None:
        """The first part of this leaf with a role."""
        return next((part for part in self.parts if part.role is role), None)

    def deep_nm(self, role: Role) -> int:
        """How thick the first part with a role is; 0 where there is none."""
        part = self.first(role)
        return 0 if part is None else part.box.z1 - part.box.z0

    @property
    def cleat_shares(self) -> tuple[float, ...]:
        """Part of the leaf that each cleat carries; the whole on each where it would tip off them."""
        return self.cleat.shares(self.at_nm) or (1.0,) * len(self.cleat.pieces)

    def clear_nm(self, x_nm: int, y_nm: int, into: str) -> int | None:
        """How far a fixing stands outside the zones that bind it, negative inside; None where there are none."""
        held = heeded(self.zones, self.brief.wall, into_stud=into in IN_STUDS)
        found = nearest_zone(held, x_nm, y_nm)
        return None if found is None else found[1]

    @property
    def arm_mm(self) -> float:
        """Cleat line to what the leaf bears on at its foot; of a leaf that swings the height of its backer."""
        return (self.leaf.backer_height_nm if self.swings else self.choice.arm_nm) / NM_PER_MM

    @property
    def pull_n(self) -> float:
        """Outward pull at the cleat."""
        return pull_n(self.weight_n, self.mass.from_wall_mm, self.arm_mm)

    @property
    def wedge_n(self) -> float:
        """Push of the bevel between the halves."""
        return 0.0 if self.brief.cleat.kind == "metal" else wedge_n(self.weight_n, self.brief.cleat.bevel_deg)

    @property
    def thrust_n(self) -> float:
        """What draws the wall half off the wall: the larger of tipping and of the bevel's push."""
        return max(self.pull_n, self.wedge_n)

    @property
    def packers_nm(self) -> int:
        """Thickness of the packers behind the wall half, which every fixing passes."""
        return 0 if self.swings else self.choice.back_nm

    @property
    def wall_screw(self) -> WallScrew:
        """What goes into the wall: the brief's own size, or where that is left open the one that its packers ask for.

        A fixing passes the packers behind the wall half, which are known only once the body is.
        """
        brief, fixings, back = self.brief, self.brief.fixings, self.packers_nm
        own = WallScrew(gauge=fixings.gauge, length_nm=fixings.length_nm)
        if back == 0 or not brief.left_open("fixings.length"):
            return own
        gauge = None if brief.left_open("fixings.gauge") else fixings.gauge
        return usual_wall_screw(
            fixings.kind,
            brief.wall,
            passed_nm(brief.cleat, fixings.kind),
            brief.piece.unit,
            gauge=gauge,
            packers_nm=back,
        )

    @property
    def passed(self) -> Passed:
        """What a wall screw passes before it takes hold; a metal cleat is thin."""
        return Passed(
            cleat_nm=round(METAL_WALL_MM * NM_PER_MM) if self.metal_cleat else self.screwed_nm,
            packers_nm=self.packers_nm,
            covering_nm=self.brief.wall.covering_nm,
        )

    @property
    def bevel_middle_nm(self) -> float:
        """From the wall to the middle of the bevel, where the leaf's weight goes over to the wall half."""
        return self.choice.back_nm + self.brief.cleat.thickness_nm / 2

    @property
    def at_nm(self) -> float:
        """Centre of gravity along the wall."""
        return self.leaf.x_nm + self.mass.from_left_mm * NM_PER_MM

    @property
    def over_head(self) -> Factor | None:
        """The factor for somebody lying or sitting below; None where nobody does."""
        if self.brief.wall.below is Below.NONE:
            return None
        return Factor(
            name=f"over a {self.brief.wall.below.value}", value=OVER_HEAD_FACTOR, source="our rule: half the allowable"
        )

    @property
    def wood_factors(self) -> tuple[Factor, ...]:
        """Factors of every screw in wood: the load never leaves, and damp wood holds less."""
        dampest = self.brief.blocks.moisture_use_high_pct
        wet = wet_service_factor(dampest)
        if wet == 1:
            return (DURATION,)
        return DURATION, Factor(name=f"damp service, {dampest:g} %", value=wet, source="NDS 2018 Table 11.3.3")

    def board_factors(self, material: str) -> tuple[Factor, ...]:
        """What damp takes off the bending of a board; nothing of sawn wood, whose low grade keeps its value."""
        if material not in board_keys() or self.brief.blocks.moisture_use_high_pct < DAMP_BOARD_PCT:
            return ()
        return (Factor(name="damp board", value=DAMP_BOARD_BENDING, source=DAMP_SOURCE),)

    @property
    def bearing_factors(self) -> tuple[Factor, ...]:
        """What damp takes off the bearing of the cleat's bevel, of board or of sawn wood."""
        if self.brief.blocks.moisture_use_high_pct < DAMP_BOARD_PCT:
            return ()
        return (Factor(name="damp bearing", value=DAMP_BEARING, source=DAMP_SOURCE),)

    @property
    def brief_factors(self) -> tuple[Factor, ...]:
        """Factors of a fixing in the wall under a load that is gone in minutes."""
        return SHORT, *self.wall_factors[1:]

    @property
    def service_factors(self) -> tuple[Factor, ...]:
        """Factors of screws in wood beyond load duration: none where it is dry."""
        return self.wood_factors[1:]

    @property
    def wall_factors(self) -> tuple[Factor, ...]:
        """Factors of a fixing in the wall whose allowable rests on the NDS."""
        return (*self.wood_factors, self.over_head) if self.over_head else self.wood_factors


def link(
    case: Case,
    name: str,
    *,
    part: str,
    demand_n: float,
    allowable_n: float,
    basis: str,
    source: str,
    factors: tuple[Factor, ...] = (),
    assumptions: tuple[str, ...] = (),
    load: Load | None = None,
    pull_allowable_n: float | None = None,
    shear_allowable_n: float | None = None,
    least: float = 1.0,
    assumed: bool = False,
) -> Link:
    """A link with its margin; without a load the margin is infinite. `load` and what follows: of one fixing."""
    return Link(
        name=name,
        leaf=case.leaf.name,
        part=part,
        demand_n=demand_n,
        allowable_n=allowable_n,
        margin=allowable_n / demand_n if demand_n > 0 else math.inf,
        basis=basis,
        factors=factors,
        assumptions=assumptions,
        source=source,
        pull_n=load.pull_n if load else None,
        shear_n=load.shear_n if load else None,
        pull_allowable_n=pull_allowable_n,
        shear_allowable_n=shear_allowable_n,
        least=least,
        assumed=assumed,
    )


def product(factors: tuple[Factor, ...]) -> float:
    """All factors together."""
    return math.prod(factor.value for factor in factors)


def gravity_of(key: str) -> float:
    """Specific gravity for fasteners of a wood or board; what is denser than the tables counts as their densest."""
    return min(G_HIGH, species_or_board(key).fastener_gravity)


def screw_or_reason(gauge: str) -> WoodScrew | str:
    """The screw, or in words why nothing is known of it."""
    try:
        return named_screw(gauge)
    except BossageError as error:
        return str(error)
