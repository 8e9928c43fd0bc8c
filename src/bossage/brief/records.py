"""What a maker said, checked and made exact: the records that every stage reads.

All lengths are whole nanometres. On the wall, x runs right from the left corner and y up from the floor, as the
maker faces it. A cell is `(row, column)`, both from 1, counted from the upper left of its leaf seen from the front.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from bossage.brief.climate import Air, Climate
from bossage.brief.face import (
    Blocks,
    Edge,
    FadeBrief,
    Family,
    Fill,
    Footprint,
    Home,
    LeafBrief,
    Pin,
    TestCard,
    Tinter,
)
from bossage.brief.hinges import USUAL, Butt
from bossage.brief.making import (
    Access,
    Backer,
    BehindPart,
    Cleat,
    Fixings,
    Glue,
    Lift,
    PaintBrief,
    Price,
    Rates,
    Ratings,
    SheetStock,
    StickStock,
    Tin,
    Tools,
)
from bossage.brief.papers import Crew, LabelGrid, Papers
from bossage.brief.room import HeatSource, Room
from bossage.brief.settled import Settled
from bossage.brief.site import (
    DefaultUsed,
    Door,
    Eye,
    Fixture,
    Furniture,
    KeepClear,
    Piece,
    Run,
    Wall,
)
from bossage.brief.terms import (
    Below,
    ClearKind,
    Coupling,
    EdgeStyle,
    Facing,
    FadeShape,
    FixingKind,
    FixtureKind,
    FoundBy,
    HomeKind,
    LengthUnit,
    Medium,
    Need,
    OpenedBy,
    Opens,
    RunKind,
    Side,
    WallBuild,
    Wiring,
)
from bossage.countries import Rules

__all__ = [
    "Access",
    "Air",
    "Backer",
    "BehindPart",
    "Below",
    "Blocks",
    "Brief",
    "Butt",
    "ClearKind",
    "Cleat",
    "Climate",
    "Coupling",
    "Crew",
    "DefaultUsed",
    "Door",
    "Edge",
    "EdgeStyle",
    "Eye",
    "Facing",
    "FadeBrief",
    "FadeShape",
    "Family",
    "Fill",
    "FixingKind",
    "Fixings",
    "Fixture",
    "FixtureKind",
    "Footprint",
    "FoundBy",
    "Furniture",
    "Glue",
    "HeatSource",
    "Home",
    "HomeKind",
    "KeepClear",
    "LabelGrid",
    "LeafBrief",
    "LengthUnit",
    "Lift",
    "Medium",
    "Need",
    "OpenedBy",
    "Opens",
    "PaintBrief",
    "Papers",
    "Piece",
    "Pin",
    "Price",
    "Rates",
    "Ratings",
    "Room",
    "Run",
    "RunKind",
    "Settled",
    "SheetStock",
    "Side",
    "StickStock",
    "TestCard",
    "Tin",
    "Tinter",
    "Tools",
    "Wall",
    "WallBuild",
    "Wiring",
]


@dataclass(frozen=True, slots=True, kw_only=True)
class Brief:
    """Everything a maker says, checked."""

    piece: Piece
    wall: Wall
    fixtures: tuple[Fixture, ...]
    furniture: tuple[Furniture, ...]
    keep_clear: tuple[KeepClear, ...]
    eyes: tuple[Eye, ...]
    climate: Climate
    blocks: Blocks
    edge: Edge
    backer: Backer
    behind: tuple[BehindPart, ...]
    cleat: Cleat
    fixings: Fixings
    access: Access
    lift: Lift
    families: tuple[Family, ...]
    fade: FadeBrief
    sticks: tuple[StickStock, ...]
    tools: Tools
    glue: Glue
    paint: PaintBrief
    rates: Rates
    prices: tuple[Price, ...]
    rules: Rules
    papers: Papers = field(default_factory=Papers)
    crew: Crew = field(default_factory=Crew)
    runs: tuple[Run, ...] = ()
    settled: tuple[Settled, ...] = ()
    room: Room = field(default_factory=Room)
    heat: tuple[HeatSource, ...] = ()
    defaults: tuple[DefaultUsed, ...] = field(default=())

    @property
    def butt(self) -> Butt:
        """The butt hinge that a leaf which swings turns on: as measured, or a usual one."""
        return self.access.butt or USUAL[self.piece.unit]

    @property
    def into_studs(self) -> bool:
        """Whether the wall's fixings go into studs: screws in a studded wall."""
        studded = self.wall.build in (WallBuild.TIMBER_STUDS, WallBuild.METAL_STUDS)
        return studded and self.fixings.kind in (FixingKind.WOOD_SCREW, FixingKind.STEEL)

    def left_open(self, field: str) -> bool:
        """Whether the maker left a field open, so that a usual value was taken."""
        return any(used.field == field for used in self.defaults)
