"""What a re-plan reads and gives: the piece as planned, what the shop says, the way out."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.saw import StickStock

IntArray = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Place:
    """Where one block sits: leaf, copy in a series, address."""

    leaf: str
    copy: int
    row: int
    column: int
    letter: str
    address: str  # `7·12b`


@dataclass(frozen=True, slots=True, kw_only=True)
class InShop:
    """Sticks of one section alike: a rest of the plan's own, `of_stick` its number on the saw sheet, or whole ones."""

    section: str
    of_stick: int | None
    stock: StickStock


@dataclass(frozen=True, slots=True, kw_only=True)
class Standing:
    """A piece as it was planned: one entry a place, in the order of the plan.

    Attributes:
        name, stamp, unit: Of the plan.
        places: Where each block sits.
        footprints: Their names; `footprint` indexes them.
        levels_nm: Heights, lowest first; `level` indexes them. `extra_nm` is what a block is sawn longer (the ring).
        shades: Their names, `shade` indexes them; `lab` their CIE L*a*b*.
        edges, corner_edges: Places that share part of an edge, and that only meet at a corner.
        diagonal, min_step: The rule for neighbours.
        allowed: Levels that each place may have, shape (places, levels).
        x_nm, y_nm, width_nm, height_nm: Faces on the wall.
        light_from: Side that the light comes from.
        spares: Spare blocks that the plan has sawn, by footprint and length, unpainted.
        hold_nm: How near to the blade hands may come in this shop.
        by_hand: Whether blocks are sawn by hand, in a mitre box.
        kerf_nm: What a cut takes.
        sections: By footprint, the name of the section that its blocks are sawn from.
        rests: What the plan leaves in the shop, shims cut; `sold` are the sticks that its blocks were planned from.
        seed, draw: Of the plan, and how many draws of its split cells came before the one that was taken.
        ring_quotas: Whether the ring has quotas of its own.
    """

    name: str
    stamp: str
    unit: str
    seed: int
    draw: int
    ring_quotas: bool
    places: tuple[Place, ...]
    footprints: tuple[str, ...]
    footprint: IntArray
    levels_nm: tuple[int, ...]
    level: IntArray
    extra_nm: IntArray
    shades: tuple[str, ...]
    shade: IntArray
    lab: tuple[tuple[float, float, float], ...]
    edges: IntArray
    corner_edges: IntArray
    diagonal: bool
    min_step: int
    allowed: NDArray[np.bool_]
    x_nm: IntArray
    y_nm: IntArray
    width_nm: IntArray
    height_nm: IntArray
    light_from: str
    spares: dict[tuple[int, int], int]
    hold_nm: int
    by_hand: bool
    kerf_nm: int
    sections: tuple[str, ...]
    rests: tuple[InShop, ...]
    sold: tuple[InShop, ...]

    @property
    def count(self) -> int:
        """How many places there are."""
        return len(self.places)

    def length_nm(self, place: int, level: int) -> int:
        """What is sawn for this place to stand at this level."""
        return self.levels_nm[level] + int(self.extra_nm[place])


@dataclass(frozen=True, slots=True, kw_only=True)
class TrayCount:
    """So many blocks of one footprint and length, in one shade (`None`: whatever shade; `""`: bare)."""

    footprint: int
    length_nm: int
    shade: str | None
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Glued:
    """One place that is settled: on its planned level, or on another that was laid there."""

    place: int
    level: int | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """What the shop says.

    Attributes:
        glued: Places where a block is fixed and stays.
        spoiled: Places whose own block is lost, wherever it lay.
        counted: Blocks counted in the trays now. Where a footprint and length is counted, nothing else is taken to be
            there; `all_counted` says that what is not listed is not there at all.
        lost, found: Blocks fewer and more than otherwise said.
        painted: Whether the blocks in the trays have their paint.
        saw: Whether a block may be sawn shorter.
        repaint: Whether a painted block may be painted over.
        light_from: Side that the light comes from, where not as planned.
        rests: Sticks that lie in the shop; `None`: those that the plan leaves.
    """

    glued: tuple[Glued, ...] = ()
    spoiled: tuple[int, ...] = ()
    counted: tuple[TrayCount, ...] = ()
    all_counted: bool = False
    lost: tuple[TrayCount, ...] = ()
    found: tuple[TrayCount, ...] = ()
    painted: bool = True
    saw: bool = True
    repaint: bool = True
    light_from: str | None = None
    rests: tuple[InShop, ...] | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Taken:
    """One place that does not get its own block from the plan, or stands on another level.

    Attributes:
        place: Which.
        before_nm, after_nm: Height planned and height now.
        shade: Name of the shade that it is to have now; `planned_shade` that of the plan.
        source_nm: Length of the block in its tray; `None` for one from a stick.
        source_shade: Shade of that block, empty if bare.
        length_nm: Length that it is laid with.
    """

    place: int
    before_nm: int
    after_nm: int
    planned_shade: str
    shade: str
    source_nm: int | None
    source_shade: str
    length_nm: int

    @property
    def moves(self) -> bool:
        """Whether the height changes."""
        return self.before_nm != self.after_nm

    @property
    def needs_paint(self) -> bool:
        """Whether the block has to be painted, first time or over another shade."""
        return self.source_shade != self.shade

    @property
    def over_paint(self) -> bool:
        """Whether it already has another shade."""
        return self.needs_paint and bool(self.source_shade)


@dataclass(frozen=True, slots=True, kw_only=True)
class Recut:
    """So many blocks to saw shorter, or (from no length) off a stick."""

    footprint: int
    from_nm: int | None
    to_nm: int
    count: int


@dataclass(frozen=True, slots=True, kw_only=True)
class FromStick:
    """New blocks out of one stick of the shop: `lengths` are what is sawn, each with how many."""

    section: str
    stick: InShop
    lengths: tuple[tuple[int, int], ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class Short:
    """New blocks that the shop has no stick for, and what to buy: `sticks` of `stick_nm`."""

    section: str
    lengths: tuple[tuple[int, int], ...]
    bought_as: str
    stick_nm: int
    sticks: int


@dataclass(frozen=True, slots=True, kw_only=True)
class NewBlocks:
    """Where all new blocks come from."""

    cuts: tuple[FromStick, ...] = ()
    short: tuple[Short, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class Mended:
    """A valid relief from what there is.

    `changes_n` places stand on another level than planned; no fewer than `bound_n` can. `level` and `shade` are
    those of every place now, `taken` every place that does not get its own block, `recuts` what goes to the saw,
    `new` where blocks off a stick come from, `left` what stays in the trays; `notes` says what was assumed.
    """

    standing: Standing
    level: IntArray
    shade: IntArray
    glued: NDArray[np.bool_]
    changes_n: int
    bound_n: int
    proven: bool
    visible_n: int
    least_seen: bool
    kept_n: int  # pairs of neighbours that break the rule and are both glued, so that they stay as they are
    taken: tuple[Taken, ...]
    recuts: tuple[Recut, ...]
    new: NewBlocks
    left: tuple[TrayCount, ...]
    notes: tuple[str, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class NoMend:
    """Why no valid relief can be had round what is glued, and what would do."""

    reason: str
    remedy: str
    proven: bool
