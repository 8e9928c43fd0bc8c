"""Where one stands to hang, open and take down a leaf: furniture stays unless the brief says that it is moved."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from bossage.brief.records import Brief, Furniture, LengthUnit, Opens, Side
from bossage.brief.terms import PEOPLE_ON
from bossage.handling import (
    Coupling,
    Floor,
    Held,
    Lift,
    Place,
    System,
    Thing,
    frequency_multiplier,
    hands_out,
    in_the_way,
    lift_metric,
    lift_us,
    lifting_index,
    places,
)
from bossage.handling.places import STAND_NM
from bossage.hang.standing_records import Handling, Moved, Standing
from bossage.layout.grid import bevel_rise_nm
from bossage.layout.records import Layout, Leaf
from bossage.units import NM_PER_IN, NM_PER_MM

MOST_NM = 1990 * NM_PER_MM
"""The equation's own range ends before this, so longer reaches are cut to it: the answer is 0 either way."""

KNUCKLE_NM = 750 * NM_PER_MM
MOST_REACH_NM = {System.METRIC: 630 * NM_PER_MM, System.US: 25 * NM_PER_IN}

MOVE_STEP_NM = {LengthUnit.MM: 50 * NM_PER_MM, LengthUnit.IN: 2 * NM_PER_IN}
"""What is moved is moved by whole hands: ours."""

HOOK, FLOOR = "at the hook", "from the floor"
IN_PLACE, AS_TOLD, AWAY = "in place", "moved as the brief says", "moved out of the way"
LIFTED, REACHED = ("hanging", "opening", "taking down"), ("opening",)


@dataclass(frozen=True, slots=True, kw_only=True)
class Ground:
    """One leaf in its room: what is lifted, and where."""

    brief: Brief
    leaf: Leaf
    depth_nm: int
    mass_g: float

    @property
    def swings(self) -> bool:
        """Whether it hangs on hinges."""
        return self.brief.access.opens is Opens.SWING

    @property
    def system(self) -> System:
        """The printed form of the equation that goes with the brief's unit."""
        return System.US if self.brief.piece.unit is LengthUnit.IN else System.METRIC

    @property
    def unit_nm(self) -> int:
        """Length of that form's unit."""
        return NM_PER_IN if self.system is System.US else 10 * NM_PER_MM

    @property
    def rise_nm(self) -> int:
        """How far it is raised over where it hangs."""
        return 0 if self.swings else bevel_rise_nm(self.brief)

    @property
    def travel_nm(self) -> int:
        """How far the hands rise."""
        asked = self.brief.lift.travel_nm
        return self.leaf.y_nm + self.rise_nm if asked is None else asked

    @property
    def ends_nm(self) -> dict[str, int]:
        """Height of the hands at the ends of the lift that count; the hook alone where the brief measured all."""
        asked, half = self.brief.lift, self.leaf.height_nm // 2
        hook = self.leaf.y_nm + half + self.rise_nm if asked.vertical_nm is None else asked.vertical_nm
        measured = None not in (asked.horizontal_nm, asked.vertical_nm, asked.travel_nm)
        return {HOOK: hook} if measured else {HOOK: hook, FLOOR: half}

    def close_nm(self, height_nm: int) -> int:
        """The reach of somebody who stands close, by half the depth of the leaf."""
        return round(hands_out(self.depth_nm / self.unit_nm, height_nm / self.unit_nm, self.system) * self.unit_nm)

    @property
    def floor(self) -> Floor:
        """The floor before the wall."""
        return Floor(wide_nm=self.brief.wall.width_nm, deep_nm=self.brief.wall.passage_nm)

    def held(self, x_nm: int, z_nm: int, close_nm: int) -> Held:
        """The leaf in hands at such a place."""
        return Held(x_nm=x_nm, z_nm=z_nm, front_nm=self.depth_nm, foot_nm=self.leaf.y_nm, close_nm=close_nm)

    def hands_x_nm(self, people: int) -> tuple[int, ...]:
        """Middle of the hands: of one person that of the leaf, of two people its two ends."""
        left, right = self.leaf.x_nm, self.leaf.x_nm + self.leaf.width_nm
        return ((left + right) // 2,) if people == 1 else (left, right)


def standing_of(brief: Brief, layout: Layout, masses_g: Iterable[tuple[str, float]]) -> Handling:
    """Every place to stand of every leaf of one copy, with the one that governs.

    Args:
        brief: Furniture, lift, how the piece opens.
        layout: Leaves and depth.
        masses_g: Mass by leaf; of a name that comes more than once the heaviest counts.
    """
    heaviest: dict[str, float] = {}
    for name, mass_g in masses_g:
        heaviest[name] = max(mass_g, heaviest.get(name, 0.0))
    leaves = {leaf.name: leaf for leaf in reversed(layout.leaves)}
    grounds = [
        Ground(brief=brief, leaf=leaves[name], depth_nm=layout.depth_nm, mass_g=g) for name, g in heaviest.items()
    ]
    return Handling(standing=tuple(one for ground in grounds for one in standings(ground)))


def standings(ground: Ground) -> tuple[Standing, ...]:
    """The places of one leaf: for one person and for two, with furniture in place and moved."""
    asked = min(2, ground.brief.lift.people)
    found = []
    for case, moved, used in _cases(ground):
        things = things_of(ground.brief, moved)
        lifts = [_lifted(ground, case, moved, things, people, used and people == asked) for people in (1, 2)]
        found += lifts
        if ground.swings:
            found.append(_opened(ground, case, moved, things, used))
    return tuple(found)


def governing(found: Iterable[Standing], leaf: str) -> Standing:
    """The lift that counts for a leaf."""
    return next(one for one in found if one.leaf == leaf and one.governs)


def to_move(ground: Ground) -> tuple[Moved, ...]:
    """What has to go so that one can stand close before the leaf, with the least way out that is enough."""
    things = things_of(ground.brief, ())
    # what swings is lifted by one while the other has the screws; what lifts off may take two, one at each end
    xs = [x for people in ((1,) if ground.swings else (1, 2)) for x in ground.hands_x_nm(people)]
    held = [ground.held(x, ground.depth_nm // 2, 0) for x in xs]
    names = dict.fromkeys(thing.name for one in held for thing in in_the_way(one, things, ground.floor))
    step = MOVE_STEP_NM[ground.brief.piece.unit]
    return tuple(
        Moved(name=item.name, out_nm=-((item.near_nm - ground.depth_nm - STAND_NM) // step) * step, by="")
        for item in ground.brief.furniture
        if item.name in names
    )


def things_of(brief: Brief, moved: Iterable[Moved]) -> tuple[Thing, ...]:
    """Furniture as it stands with so much of it moved out into the room."""
    out = {one.name: one.out_nm for one in moved}
    return tuple(
        Thing(
            name=item.name,
            x0_nm=item.x_nm,
            x1_nm=item.right_nm,
            z0_nm=item.near_nm + out.get(item.name, 0),
            z1_nm=max(item.far_nm, item.near_nm + 1) + out.get(item.name, 0),
            y0_nm=item.bottom_nm,
            y1_nm=item.top_nm,
            knelt_on=item.kind in PEOPLE_ON,
        )
        for item in brief.furniture
    )


def told_moved(furniture: Iterable[Furniture]) -> tuple[Moved, ...]:
    """What the brief says is moved."""
    return tuple(
        Moved(name=item.name, out_nm=item.moved_nm, by=item.moved_by) for item in furniture if item.moved_nm is not None
    )


def _cases(ground: Ground) -> list[tuple[str, tuple[Moved, ...], bool]]:
    """Furniture in place, as the brief says, and out of the way; and which of these is used."""
    told, needed = told_moved(ground.brief.furniture), to_move(ground)
    if not needed:
        return [(IN_PLACE, (), True)]
    enough = {one.name: one.out_nm for one in told}
    cases: list[tuple[str, tuple[Moved, ...], bool]] = [(IN_PLACE, (), not told)]
    if told:
        cases.append((AS_TOLD, told, True))
    if any(enough.get(one.name, 0) < one.out_nm for one in needed):
        cases.append(
            (AWAY, tuple(replace(one, out_nm=max(one.out_nm, enough.get(one.name, 0))) for one in needed), False)
        )
    return cases


def _lifted(
    ground: Ground, case: str, moved: tuple[Moved, ...], things: tuple[Thing, ...], people: int, governs: bool
) -> Standing:
    """The best place that there is, at the worse end of the lift and for the worse placed of two people."""
    found = [
        _best(ground, case, moved, things, people, x_nm, end)
        for end in ground.ends_nm
        for x_nm in ground.hands_x_nm(people)
    ]
    return replace(min(found, key=lambda one: (one.recommended_g, one.holds)), governs=governs)


def _best(
    ground: Ground, case: str, moved: tuple[Moved, ...], things: tuple[Thing, ...], people: int, x_nm: int, end: str
) -> Standing:
    """The place with the highest recommended weight for hands at one place."""
    height_nm, measured = ground.ends_nm[end], ground.brief.lift.horizontal_nm
    close_nm = ground.close_nm(height_nm)
    if measured is not None and case != AWAY:
        ways: tuple[Place, ...] = (Place(name="at the reach that the brief gives", horizontal_nm=measured),)
    elif end == FLOOR:
        ways = (Place(name="on free floor", horizontal_nm=close_nm),)
    else:
        ways = places(ground.held(x_nm, ground.depth_nm // 2, close_nm), things, ground.floor)
    tried = [_standing(ground, case, moved, people, way, end) for way in ways]
    return max(tried, key=lambda one: (one.recommended_g, "kneeling" in one.place, -one.horizontal_nm))


def _standing(ground: Ground, case: str, moved: tuple[Moved, ...], people: int, place: Place, end: str) -> Standing:
    height_nm = ground.ends_nm[end]
    turn = min(180.0, ground.brief.lift.turn_deg + place.turn_deg)
    lift = equation(ground, place.horizontal_nm, height_nm, turn)
    beyond = place.horizontal_nm > MOST_REACH_NM[ground.system]
    why_not = place.why_not or ("the hands would be more than 63 cm (25 in) before the ankles" if beyond else "")
    recommended_g = 0.0 if place.why_not else lift.recommended_g
    carries_g = ground.mass_g / people
    return Standing(
        leaf=ground.leaf.name,
        acts=("hanging", "taking down") if ground.swings else LIFTED,
        case=case,
        moved=moved,
        place=place.name,
        people=people,
        where=end,
        horizontal_nm=place.horizontal_nm,
        vertical_nm=height_nm,
        travel_nm=ground.travel_nm,
        turn_deg=turn,
        holds=recommended_g > 0,
        why_not=why_not if recommended_g <= 0 else "",
        carries_g=carries_g,
        recommended_g=recommended_g,
        index=lifting_index(ground.mass_g, lift, people) if recommended_g > 0 else float("inf"),
        governs=False,
    )


def _opened(ground: Ground, case: str, moved: tuple[Moved, ...], things: tuple[Thing, ...], used: bool) -> Standing:
    """A leaf that swings is pulled, not lifted: the reach alone counts, to the middle of its free edge."""
    leaf, access = ground.leaf, ground.brief.access
    across = {Side.LEFT: leaf.x_nm + leaf.width_nm, Side.RIGHT: leaf.x_nm}
    up = {Side.TOP: leaf.y_nm, Side.BOTTOM: leaf.y_nm + leaf.height_nm}
    x_nm = across.get(access.hinge, leaf.x_nm + leaf.width_nm // 2)
    high = up.get(access.hinge, leaf.y_nm + leaf.height_nm // 2) if access.grip_nm is None else access.grip_nm
    close_nm = ground.close_nm(high) - ground.depth_nm // 2
    ways = places(ground.held(x_nm, ground.depth_nm, close_nm), things, ground.floor)
    standing = [way for way in ways if not way.name.startswith("kneeling")]
    place = min(standing, key=lambda one: (bool(one.why_not), one.horizontal_nm))
    beyond = place.horizontal_nm > MOST_REACH_NM[ground.system]
    why_not = place.why_not or ("the grip is more than 63 cm (25 in) before the ankles" if beyond else "")
    return Standing(
        leaf=leaf.name,
        acts=REACHED,
        case=case,
        moved=moved,
        place=place.name,
        people=1,
        where="at its grip",
        horizontal_nm=place.horizontal_nm,
        vertical_nm=high,
        travel_nm=0,
        turn_deg=place.turn_deg,
        holds=not why_not,
        why_not=why_not,
        carries_g=0.0,
        recommended_g=0.0,
        index=float("inf"),
        governs=False,
    )


def equation(ground: Ground, reach_nm: int, height_nm: int, turn_deg: float) -> Lift:
    """The lifting equation in the form of the piece's unit."""
    asked = ground.brief.lift
    coupling = Coupling(asked.coupling.value)
    FM = frequency_multiplier(asked.per_minute, 1.0, height_nm >= KNUCKLE_NM)
    H, V, D = (min(max(0, length), MOST_NM) / ground.unit_nm for length in (reach_nm, height_nm, ground.travel_nm))
    if ground.system is System.US:
        return lift_us(H_in=H, V_in=V, D_in=D, A_deg=turn_deg, FM=FM, coupling=coupling)
    return lift_metric(H_cm=H, V_cm=V, D_cm=D, A_deg=turn_deg, FM=FM, coupling=coupling)
