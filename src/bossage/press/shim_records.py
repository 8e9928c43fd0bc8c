"""Where the shims come from: slices of what the saw leaves of sticks, panels of what it leaves of boards."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.saw import SawPlan, SheetPlan, SheetShortfall, Shortfall


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimNeed:
    """Shims of one thickness: most needed in any one row, and what to make for the sets in use."""

    thickness_nm: int
    most_in_a_row: int  # or on the bed of one leaf, face down
    to_make: int
    section: str  # the stock they are sliced from; empty where a slice so thin is better cut from sheet or card


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimWay:
    """One way to bring blocks level: how many shims, how many of them sliced, from how much wood, kerfs and all."""

    name: str
    settings_added: int  # positions of the saw's stop that no block needs
    count: int
    sliced: int  # the rest comes out of board or card
    wood_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimCut:
    """Shims sliced from sticks of one section: rests of the blocks' sticks first, then others, then bought ones.

    A rest is a stick of its own here: it begins where the last block was cut off, and keeps its stub. `rest_of` goes
    with the sticks of the plan: the number that the stick has on the saw's own sheet, None for a whole one.
    """

    section: str
    count: int
    need_nm: int  # shims with their kerfs
    plan: SawPlan | None
    rest_of: tuple[int | None, ...]
    shortfall: Shortfall | None
    priced: bool

    @property
    def bought(self) -> int:
        """Sticks bought for shims alone."""
        return sum(not stick.stock.owned for stick in self.plan.sticks) if self.plan else 0


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimBoard:
    """What a board of the plan is: its material, and the number of the board whose rest it is, None for a whole one."""

    material: str
    rest_of: int | None


@dataclass(frozen=True, slots=True, kw_only=True)
class ShimPanels:
    """Thin shims of one thickness out of boards of just that thickness; `boards` goes with the plan's sheets."""

    thickness_nm: int
    count: int
    width_nm: int
    length_nm: int
    plan: SheetPlan | None
    boards: tuple[ShimBoard, ...]
    shortfall: SheetShortfall | None
    priced: bool

    @property
    def bought(self) -> int:
        """Boards bought for shims alone."""
        return sum(not sheet.stock.owned for sheet in self.plan.sheets) if self.plan else 0
