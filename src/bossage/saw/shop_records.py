"""What the stage `saw` gives: sticks by section, boards, and lengths of everything else that is wood."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.checks import Caution, Check
from bossage.saw.records import SawPlan, Shortfall
from bossage.saw.sheet_records import SheetPlan, SheetShortfall


@dataclass(frozen=True, slots=True, kw_only=True)
class SliceRow:
    """Slices of one length of one section: how many blocks need it, how many spares."""

    length_nm: int
    blocks: int
    spares: int
    levels: tuple[str, ...]  # which levels it serves, `18 mm` or `24 mm ring`

    @property
    def slices(self) -> int:
        """Blocks and spares."""
        return self.blocks + self.spares


@dataclass(frozen=True, slots=True, kw_only=True)
class SectionCut:
    """All slices of one section of stock. `plan` is None where the stock does not suffice (`shortfall` then)."""

    section: str
    bought_as: str
    species: str
    section_width_nm: int
    section_height_nm: int
    kerf_nm: int
    rows: tuple[SliceRow, ...]  # longest first
    plan: SawPlan | None
    shortfall: Shortfall | None
    priced: bool

    @property
    def bought(self) -> SawPlan | None:
        """The plan to buy for: the next safer one where the cheapest has next to no slack."""
        return self.plan.advised if self.plan else None

    @property
    def slices(self) -> int:
        """Slices of all lengths, spares too."""
        return sum(row.slices for row in self.rows)


@dataclass(frozen=True, slots=True, kw_only=True)
class BoardCut:
    """Rectangles out of boards of one material and thickness."""

    material: str
    thickness_nm: int
    serves: tuple[str, ...]  # backer, strips, cleat, packer
    plan: SheetPlan | None
    shortfall: SheetShortfall | None
    priced: bool


@dataclass(frozen=True, slots=True, kw_only=True)
class LengthCut:
    """Ribs, rails, stiles, lipping: long parts of one small section, out of lengths as bought."""

    name: str
    species: str
    width_nm: int
    depth_nm: int
    plan: SawPlan | None
    shortfall: Shortfall | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Saw:
    """Everything that is sawn, over all leaves and copies."""

    sections: tuple[SectionCut, ...]
    boards: tuple[BoardCut, ...]
    lengths: tuple[LengthCut, ...]
    minutes: float  # at the saw, by the time model of the settings
    cautions: tuple[Caution, ...]
    checks: tuple[Check, ...]
