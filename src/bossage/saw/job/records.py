"""What the saw is asked and what it answers; lengths are whole nanometres, money is whole cents."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from bossage.errors import BossageError


class FaultyJob(BossageError):
    """A sawing job that no plan could be made from; the text says what was found and what would do."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Piece:
    """Slices of one length; `count` holds the spares too, `spares` says how many of them may be given up."""

    length_nm: int
    count: int
    name: str = ""
    spares: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class StickStock:
    """One kind of stick: bought by the piece, or an offcut on the shelf.

    `trim_nm` squares the start, the last `stub_nm` are never cut, and no slice may touch a `no_go` zone (knot,
    split, taper; from and to measured from the squared end's side). `count` None means as many as wanted.
    """

    name: str
    length_nm: int
    price_cents: int
    count: int | None = None
    owned: bool = False
    trim_nm: int = 0
    stub_nm: int = 0
    no_go: tuple[tuple[int, int], ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class TimeModel:
    """Seconds at the saw. First guesses without a source: the maker replaces them by their own log."""

    change_s: int = 180  # move the stop, cut and measure the first slice
    load_s: int = 45  # fetch a stick, lay it against fence and stop
    cut_s: int = 20  # one cut, the slice put by
    at_once: int | None = None  # sticks that lie at the saw together; None: as many as there are


@dataclass(frozen=True, slots=True, kw_only=True)
class Patience:
    """How hard to try, counted in work, so that one job gives one plan on any machine."""

    restarts: int = 40  # random refills of one mix of sticks
    mixes: int = 12  # mixes of sticks tried at each price
    rounds: int = 2000  # work on new patterns, about one unit a round
    dives: int = 24  # descents through the patterns, each with its own random choices
    proof_work: float = 12.0  # deterministic work of one integer program
    settings_steps: int = 3000  # pairs of spans shared out anew for fewer settings
    settings_work: float = 0.1  # deterministic work for their proof, on jobs that it may do for; 0 proves none


@dataclass(frozen=True, slots=True, kw_only=True)
class SawJob:
    """Pieces of one section, the sticks that they may come from, the saw and its patience."""

    pieces: tuple[Piece, ...]
    sticks: tuple[StickStock, ...]
    kerf_nm: int
    keep_offcut_nm: int = 0
    time: TimeModel = TimeModel()
    patience: Patience = Patience()
    seed: int = 0
    ends_nm: tuple[int, int] | None = (
        None  # trim and stub of a stick that would be bought; the least of all if not said
    )


@dataclass(frozen=True, slots=True, kw_only=True)
class Slice:
    """One cut piece where it lies in its stick; its kerf follows `to_nm`."""

    length_nm: int
    from_nm: int
    to_nm: int


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStick:
    """One stick: its slices in order from the squared end, and where all of its length went.

    slices + kerfs + trim + passed over + offcut (the stub in it) = length of the stick.
    """

    stock: StickStock
    number: int
    slices: tuple[Slice, ...]
    usable_nm: int
    used_nm: int  # slices with their kerfs
    kerfs_nm: int
    passed_nm: int  # wood before the last slice that no slice takes: zones and what is lost beside them
    left_nm: int  # usable and not used
    offcut_nm: int  # in one length after the last cut, the stub in it
    keep: bool  # long enough to go on the shelf


@dataclass(frozen=True, slots=True, kw_only=True)
class Setting:
    """One position of the stop, and how many slices it owes over all sticks."""

    length_nm: int
    count: int
    names: tuple[str, ...]
    per_stick: tuple[tuple[int, int], ...]  # number of the stick, slices from it


@dataclass(frozen=True, slots=True, kw_only=True)
class Handling:
    """One way through the sawing, weighed by the time model."""

    mode: Literal["by_setting", "by_stick"]
    changes: int
    loads: int
    cuts: int
    seconds: int

    @property
    def minutes(self) -> float:
        """Minutes at the saw."""
        return self.seconds / 60


@dataclass(frozen=True, slots=True, kw_only=True)
class Greedy:
    """First-fit decreasing, one slice at a time, for comparison; None when it cannot place every slice."""

    sticks: int
    money_cents: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Cure:
    """A small change that saves money or lets the stock suffice.

    `drop` lists spares given up (length, how many); `buy_nm` is the shortest further stick that would do;
    `frees` counts the bought sticks fewer, `saves_cents` the money, `saves_nm` the wood given up with kerfs.
    """

    drop: tuple[tuple[int, int], ...] = ()
    buy_nm: int | None = None
    saves_nm: int = 0
    saves_cents: int = 0
    frees: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class SawPlan:
    """Every slice out of its stick, with the proof of how good that is."""

    sticks: tuple[CutStick, ...]
    settings: tuple[Setting, ...]  # longest first
    order: tuple[tuple[int, int], ...]  # (stick, length) in the order of the quicker way
    handling: Handling
    other_handling: Handling
    money_cents: int
    bound_cents: int
    bound_sticks: int
    proven: bool
    why_proven: str
    settings_proven: bool = False  # no plan of this money has a smaller Σ(k−1) over sticks of k lengths
    rest_proven: bool = False  # nor, with as many settings and sticks, a longer single rest
    need_nm: int
    usable_nm: int
    greedy: Greedy | None
    short_for_one_fewer_nm: int | None  # need less what all but the cheapest-spared bought stick hold
    savings: tuple[Cure, ...] = ()
    tight: bool = False
    safer: SawPlan | None = None

    @property
    def slack_nm(self) -> int:
        """Usable wood of the sticks in the plan that no slice needs."""
        return self.usable_nm - self.need_nm

    @property
    def slices(self) -> int:
        """Slices of all lengths."""
        return sum(setting.count for setting in self.settings)

    @property
    def advised(self) -> SawPlan:
        """The plan to buy for: the next safer one where this one has next to no slack."""
        return self.safer or self

    @property
    def offcuts(self) -> tuple[CutStick, ...]:
        """Sticks whose rest is worth keeping, the longest rest first."""
        return tuple(sorted((s for s in self.sticks if s.keep), key=lambda s: (-s.offcut_nm, s.number)))


@dataclass(frozen=True, slots=True, kw_only=True)
class Shortfall:
    """The stock does not suffice: what stays uncut, by how much, and the cheapest ways out."""

    missing: tuple[Piece, ...]
    need_nm: int
    usable_nm: int
    short_nm: int  # slices and kerfs of what stays uncut
    too_long: tuple[Piece, ...]  # longer than any clear run of any stick
    proven: bool
    cures: tuple[Cure, ...]
