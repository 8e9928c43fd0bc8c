"""At the money found: the fewest settings, then the fewest sticks, then the longest single rest.

Each engine improves the contents, or the lower bound of their settings. The search ends with the first engine that
proves its answer.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from bossage.engines import Engine, first_answer
from bossage.saw.contents.exchange import lengthen, walk
from bossage.saw.job import limits
from bossage.saw.job.contents import Filled, drop_empty, fewest_kinds, paid, rank
from bossage.saw.job.numbers import Core
from bossage.saw.job.records import Patience
from bossage.saw.settings.fewest import fewest_settings

EASING_STEPS = 200
STATES_A_WORK = 1_200_000  # states of groups times lengths that one unit of work may do for, about as much work


@dataclass(slots=True)
class Finished:
    """The better contents, and what of them is proven."""

    filled: Filled
    kinds_proven: bool
    rest_proven: bool


def finish(core: Core, filled: Filled, patience: Patience, seed: int) -> Finished:
    """Improve what is compared at equal money, with proof where the job is small enough."""
    task = Task(core, filled, patience, seed)
    return first_answer(ENGINES, task) or Finished(task.filled, task.settings <= task.least, False)


@dataclass(slots=True)
class Task:
    """The contents so far, and how many settings are needed at least."""

    core: Core
    filled: Filled
    patience: Patience
    seed: int
    price: int = field(init=False)
    sticks: list[int] | None = field(init=False)  # all that could be used at this price; None where there are too many
    few: bool = field(init=False)
    least: int = field(init=False)

    def __post_init__(self) -> None:
        self.price = paid(self.core.bins, self.filled)
        self.sticks = _candidates(self.core, self.price)
        self.few = len(self.filled.bins) <= limits.FEW_STICKS
        most = 0 if self.sticks is None else _most_sticks(self.core, self.sticks, self.price)
        self.least = 0 if self.sticks is None else max(0, fewest_kinds(self.core) - most)

    @property
    def settings(self) -> int:
        """Settings of the contents so far, each stick's first one not counted."""
        return rank(self.core, self.filled)[0]

    def better(self, *found: Filled) -> None:
        """Take over contents that rank better."""
        self.filled = min((self.filled, *found), key=lambda f: rank(self.core, f))


def _may_list(task: Task) -> bool:
    return task.sticks is not None and len(task.sticks) ** len(task.core.widths) <= limits.WHOLE_PLACINGS_UP_TO


def _list_whole(task: Task) -> Finished | None:
    assert task.sticks is not None
    whole = _whole_lengths(task.core, task.sticks, task.price)
    fewest = len(task.core.widths) - _most_sticks(task.core, task.sticks, task.price)
    if whole is None or rank(task.core, whole)[0] > max(0, fewest):
        return None
    return Finished(whole, True, True)


def _group(task: Task) -> Finished | None:
    task.filled, task.least = _grouped(task.core, task.filled, task.least, task.patience.settings_work)
    return None


def _walk(task: Task) -> Finished | None:
    task.better(_walked(task.core, task.filled, task.patience.settings_steps, task.seed))
    return None


def _ease(task: Task) -> Finished | None:
    steps = min(task.patience.settings_steps, EASING_STEPS)
    task.better(lengthen(task.core, drop_empty(task.filled), steps, task.seed))
    return None


def _may_place(task: Task) -> bool:
    most = task.patience.settings_work * limits.PLACES_A_WORK
    sticks = task.sticks
    return sticks is not None and len(sticks) <= limits.FEW_STICKS and len(sticks) * len(task.core.widths) <= most


def _place(task: Task) -> Finished | None:
    from bossage.saw.contents.exact import better_at_price

    assert task.sticks is not None
    work = task.patience.settings_work
    done = Finished(*better_at_price(task.core, task.sticks, task.price, task.filled, work, task.seed))
    done.kinds_proven |= rank(task.core, done.filled)[0] <= task.least  # what groups and halves have proven stands
    return done


def _grouped(core: Core, filled: Filled, least: int, work: float) -> tuple[Filled, int]:
    """The better contents, and the better bound on their settings."""
    settings = rank(core, filled)[0]
    if not work or settings <= least:
        return filled, least
    price = paid(core.bins, filled)
    found = fewest_settings(core, price, settings, round(work * STATES_A_WORK / len(core.widths)))
    if found.filled is not None and paid(core.bins, found.filled) == price:
        filled = min(filled, found.filled, key=lambda f: rank(core, f))
    return filled, max(least, found.least)


def _walked(core: Core, filled: Filled, steps: int, seed: int) -> Filled:
    spare = [k for k, b in enumerate(core.bins) if not b.price for _ in range(b.count - filled.bins.count(k))]
    return drop_empty(walk(core, filled, spare[: limits.FEW_STICKS], steps, seed))


def _most_sticks(core: Core, sticks: list[int], price: int) -> int:
    """The most of these sticks that together cost exactly `price`."""
    most = {0: 0}
    for b in sticks:
        cost = core.bins[b].price
        for spent, n in sorted(most.items(), reverse=True):
            if spent + cost <= price:
                most[spent + cost] = max(most.get(spent + cost, 0), n + 1)
    return most.get(price, 0)


def _candidates(core: Core, price: int) -> list[int] | None:
    out: list[int] = []
    for k, b in enumerate(core.bins):
        out += [k] * (min(b.count, price // b.price) if b.price else b.count)
        if len(out) > limits.FEW_STICKS:
            return None
    return out


def _whole_lengths(core: Core, sticks: list[int], price: int) -> Filled | None:
    """The best placing with each length wholly in one span of one stick; None when there is none at this price."""
    best: tuple[tuple[int, int, int], Filled] | None = None
    spans = [(k, s, cap) for k, b in enumerate(sticks) for s, cap in enumerate(core.bins[b].caps)]
    if len(spans) != len(sticks):
        return None
    sizes = [w * d for w, d in zip(core.widths, core.demand, strict=True)]
    room = [cap for _, _, cap in spans]
    homes = [-1] * len(sizes)

    def place(i: int) -> None:
        nonlocal best
        if i == len(sizes):
            used = sorted(set(homes))
            if sum(core.bins[sticks[k]].price for k in used) != price:
                return
            contents = [[[core.demand[j] if homes[j] == k else 0 for j in range(len(sizes))]] for k in used]
            found = Filled(bins=[sticks[k] for k in used], spans=contents)
            value = rank(core, found)
            if best is None or value < best[0]:
                best = (value, found)
            return
        for k in range(len(sticks)):
            # Of equal empty sticks only the first.
            if k and sticks[k] == sticks[k - 1] and k - 1 not in homes[:i]:
                continue
            if sizes[i] <= room[k]:
                homes[i] = k
                room[k] -= sizes[i]
                place(i + 1)
                room[k] += sizes[i]
                homes[i] = -1

    place(0)
    return best[1] if best is not None else None


ENGINES: tuple[Engine[Task, Finished], ...] = (
    Engine(
        name="Exhaustive enumeration: each length in one stick",
        module="saw/settings/search.py",
        when=f"Up to {limits.WHOLE_PLACINGS_UP_TO:,} ways to give each length a stick.",
        why="Small jobs mostly have such a plan, and all of them are compared.",
        proof="Fewest settings, fewest sticks and longest rest, where no plan can have fewer settings.",
        source="Own derivation.",
        runs=_may_list,
        run=_list_whole,
    ),
    Engine(
        name="Partition into groups, then meet in the middle",
        module="saw/settings/fewest.py, saw/settings/groups.py, saw/settings/peeling.py, saw/settings/halves.py",
        when=(
            f"Up to {limits.FEW_STICKS} sticks and {limits.GROUPED_TYPES_UP_TO} lengths; halves of the sticks are met "
            f"where groups cannot tell and a stick has up to {limits.HALVED_SPANS_UP_TO} clear spans."
        ),
        why="Closed groups bound the settings; where wood is scarce, sticks have few contents, which can be listed.",
        proof="A lower bound of the settings; the fewest, where the contents meet it.",
        source="Own derivation for the groups; Horowitz and Sahni 1974 for meeting in the middle.",
        runs=lambda task: task.few,
        run=_group,
    ),
    Engine(
        name="Simulated annealing over the contents of two spans",
        module="saw/contents/exchange.py",
        when=f"Up to {limits.FEW_STICKS} sticks, while the bound is not met.",
        why="It betters contents that no proof reaches.",
        proof="None.",
        source="Kirkpatrick, Gelatt and Vecchi 1983.",
        runs=lambda task: task.few and task.settings > task.least,
        run=_walk,
    ),
    Engine(
        name="Descent: a longer rest",
        module="saw/contents/exchange.py",
        when="All jobs.",
        why="One long rest is worth more than several short ones.",
        proof="None.",
        source="Own derivation.",
        runs=lambda _: True,
        run=_ease,
    ),
    Engine(
        name="Constraint programming (CP-SAT) at this price",
        module="saw/contents/exact.py",
        when=(
            f"Up to {limits.FEW_STICKS} sticks that could be used, and {limits.PLACES_A_WORK} sticks times lengths for "
            "each unit of settings work."
        ),
        why="It decides what is still open, within its patience.",
        proof="Fewest settings, sticks and longest rest, as far as the search ends.",
        source="OR-Tools.",
        runs=_may_place,
        run=_place,
    ),
)
