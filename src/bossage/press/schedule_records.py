"""What a pressing schedule is made of. Seconds from the start, whole ones, so that nothing is lost by adding up."""

from __future__ import annotations

from dataclasses import dataclass

DAY_S = 86_400


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressing:
    """One batch: laid and closed by hand, left in its set of caul and clamps, taken out by hand."""

    name: str
    leaf: int
    lay_s: int
    close_s: int
    press_s: int
    unload_s: int
    clamps: int = 0
    shims: tuple[tuple[int, int], ...] = ()  # thickness in nm, count

    @property
    def hands_s(self) -> int:
        """What it keeps a pair of hands."""
        return self.lay_s + self.close_s + self.unload_s


@dataclass(frozen=True, slots=True, kw_only=True)
class WorkDay:
    """When hands work: from and to, in seconds after midnight, and days of the week off (0 is Monday)."""

    from_s: int = 9 * 3600
    to_s: int = 17 * 3600
    days_off: tuple[int, ...] = ()
    first_weekday: int = 0  # of day 1

    def works(self, day: int) -> bool:
        """Whether that day (0 is day 1) is worked."""
        return (self.first_weekday + day) % 7 not in self.days_off


@dataclass(frozen=True, slots=True, kw_only=True)
class PressShop:
    """What the pressings share: pairs of hands, sets of caul and clamps, bench places for leaves, shims owned.

    `shims` is None where they are made to suit; `work` None where hands never stop.
    """

    hands: int
    sets: int
    bench: int
    open_s: int
    shims: tuple[tuple[int, int], ...] | None = None
    work: WorkDay | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pressed:
    """One batch in time: laid from, closed from, in the clamps from, taken out from, done."""

    pressing: int
    hand: int
    out_hand: int
    set_no: int
    lay_s: int
    close_s: int
    press_s: int
    out_s: int
    done_s: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Schedule:
    """All batches in time, the finish, and what no cleverness can beat, batches laid in their order."""

    pressed: tuple[Pressed, ...]
    finish_s: int
    bound_s: int
    bound_by: str  # hands, sets, bench; turns, where the search went further than these
    proven: bool

    @property
    def gap(self) -> float:
        """How far the finish may be from the best, as a share of the bound."""
        return 0.0 if self.bound_s == 0 else self.finish_s / self.bound_s - 1
