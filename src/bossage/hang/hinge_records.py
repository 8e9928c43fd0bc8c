"""Post, hinges, chain and stays of a leaf that swings, as records. Positions are wall coordinates."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.fasteners.wall_lengths import WallScrew
from bossage.hang.wall_records import FixingPoint, WallHoles


@dataclass(frozen=True, slots=True, kw_only=True)
class HingePoint:
    """One hinge of a leaf that swings, with the forces that it takes."""

    x_nm: int  # from the left corner
    y_nm: int  # middle, over the floor
    up_n: float  # what it carries of the weight
    pull_n: float  # off the stile, plus: pulled; minus: pushed


@dataclass(frozen=True, slots=True, kw_only=True)
class PostPlan:
    """The post that the hinges sit on, and its fixings. *Along the axis*: up an upright one, else along the wall."""

    from_nm: int  # along the axis
    to_nm: int
    edge_nm: int  # outer edge, along the leaf
    inner_nm: int
    line_nm: int  # of its fixings, along the leaf
    thickness_nm: int
    screw: WallScrew
    fixings: tuple[FixingPoint, ...]
    holes: WallHoles | None  # None: the packet of the fixing says


@dataclass(frozen=True, slots=True, kw_only=True)
class EyePlan:
    """Two screw eyes alike, in the inner edges of post and stile, that the chain hangs between."""

    at_nm: int  # over the floor
    inner_nm: int  # the edges that they go into, along the wall
    tip_nm: int  # where they end in the wood, along the wall
    out_nm: int  # middle of the ring, before the edge
    wire_mm: float
    lead_hole_mm: float

    @property
    def deep_nm(self) -> int:
        """How deep each goes in."""
        return abs(self.inner_nm - self.tip_nm)


@dataclass(frozen=True, slots=True, kw_only=True)
class StayPlan:
    """Two stays that hold a leaf open which turns about a level axis; distances from the axis.

    `force_n` is of the harder-worked one. `fixings` are those of both wall blocks, none where the stays have no place.
    """

    on_leaf_nm: int
    on_wall_nm: int
    force_n: float
    pushes: bool  # under a leaf hung by its top; over one hung by its foot they pull
    open_nm: int = 0  # between the middles of its feet, open as far as the leaf goes
    shut_nm: int = 0
    screw_nm: int = 0  # length of the screws of a foot on the leaf
    fixings: tuple[FixingPoint, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class HingePlan:
    """How a leaf swings: hinges, the worst that they take, the screws of one flap, the post on the wall."""

    side: str
    axis_nm: int  # of the pins, along the wall; over the floor where they lie level
    axis_z_nm: int  # off the wall
    spacing_nm: int
    arm_nm: int  # from the axis to the centre of gravity
    hinges: tuple[HingePoint, ...]
    screws_per_flap: int
    gauge: str
    length_nm: int
    thread_nm: int
    tip_to_face_nm: int
    lead_hole_mm: float  # 0: nothing is known of the screw
    into: str
    post: PostPlan
    chain_nm: int  # between the middles of its eyes' rings, open as far as it goes; 0 where stays do this
    eye: EyePlan | None = None  # of the chain, where there is one
    stay: StayPlan | None = None  # where the axis is level

    @property
    def wall_fixings(self) -> int:
        """How many hold the post."""
        return len(self.post.fixings)

    @property
    def every_fixing(self) -> tuple[FixingPoint, ...]:
        """Those of the post, then those of the stays."""
        return (*self.post.fixings, *(self.stay.fixings if self.stay else ()))
