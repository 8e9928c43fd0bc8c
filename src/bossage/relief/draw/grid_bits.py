"""Bit-parallel swaps (multi-spin coding): a field on a plain grid of any size, all cells at once.

The levels are numbered from 1 in binary, and each binary digit of all cells makes one long number, a *plane*; 0 is an
open cell or the border. Whether each cell differs from the one so many places on is then a handful of shifts.

One round pairs the cells of a class with those a fixed way further on, and swaps every pair in which both may stand
where the other stood. No two cells of a class touch, so all swaps of a round are as good as one after another. They
never add a conflict, and the same round done again takes them back. Rounds of swaps first take the conflicts out of a
field that was dealt at random. Once no conflict is left, further rounds shuffle the field: the law that they tend to is
uniform over all fields that they reach.

Two kinds of class take turns, every other place and every third one. The width of a row, border included, is no
multiple of 2 or 3, so neighbours never fall into one class of either kind, and nothing is conserved within a class.

Source: Jacobs and Rebbi 1981 for the coding; Kawasaki 1966 for the swaps.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.relief.problem.field import handed_out
from bossage.relief.problem.graph import Graph
from bossage.relief.problem.pair_law import fair_moran, pair_law
from bossage.relief.problem.records import Effort, IntArray, Solved, SolveReport

REPAIR_ROUNDS = 400  # after which another engine is asked
ROUNDS_A_LOOK = 8  # between two looks for conflicts
MOST_FOLDS = 6
LEAST_SWAPPED_SHARE = 0.04  # of the pairs tried; below, shuffling takes too long
SWAPS_PER_SWEEP = 0.2  # of all blocks, at least: as many as a try each brings at seven levels
# A large field is shuffled again where its neighbours' correlation lies further than this from the fair correlation. Of
# fields of 90,000 blocks one in fifty lies further than 0.005. Small fields spread far more, and larger ones never do.
FAR = 0.0045
FAR_FROM = 40_000
FAR_UP_TO = 400_000
MOST_SHUFFLES = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where the cells lie in the planes."""

    width: int  # places in a row, border included
    place: IntArray  # of each block
    size: int  # places in all
    folds: int  # how often twice the way of a stroke may fit, so that it still leads further than a row
    there: int  # a bit for each place that holds a block
    classes: tuple[tuple[int, ...], tuple[int, ...]]  # every other place, every third


def draw_by_bits(graph: Graph, rng: np.random.Generator, effort: Effort) -> Solved | None:
    """A shuffled field; None where swaps leave conflicts, or would shuffle too slowly."""
    frame = frame_of(graph)
    field = PlaneField(frame, dealt(graph, frame, rng), rng)
    repairs = tried = swapped = 0
    while field.in_conflict():
        if field.rounds >= REPAIR_ROUNDS:
            return None
        tried, swapped = field.swap(ROUNDS_A_LOOK)
        repairs += swapped
    if swapped <= LEAST_SWAPPED_SHARE * tried:
        return None
    # The number of rounds is fixed before they begin. Else fields with more ways out would be handed out more often.
    a_sweep = max(graph.n / tried, SWAPS_PER_SWEEP * graph.n / swapped) * ROUNDS_A_LOOK
    tried = swapped = 0
    for _ in range(MOST_SHUFFLES):
        more = field.swap(math.ceil(effort.sweeps * a_sweep))
        tried, swapped = tried + more[0], swapped + more[1]
        levels = field.levels()
        if not _unfair(graph, levels):
            break
    report = SolveReport(engine="bits", draws=1, repairs=repairs, swaps_tried=tried, swaps_done=swapped)
    return handed_out(graph, levels, report)


def _unfair(graph: Graph, levels: IntArray) -> bool:
    """Whether neighbours in a large field are much more alike, or much less, than in fair fields."""
    if not FAR_FROM <= graph.n <= FAR_UP_TO:
        return False
    z = levels - levels.mean()
    moran = float((z[graph.edges[:, 0]] * z[graph.edges[:, 1]]).mean()) / float((z * z).mean())
    return abs(moran - fair_moran(graph, pair_law(graph, graph.edges))) > FAR


def frame_of(graph: Graph) -> Frame:
    """Where the cells of a graph lie: rows one after another, with so much border that the classes keep apart."""
    grid = graph.problem.grid
    assert grid is not None
    rows, cols = grid.block.shape
    width = cols + 1
    while width % 2 == 0 or width % 3 == 0:
        width += 1
    held = np.zeros((rows + 1, width), dtype=np.bool_)
    held[1:, :cols] = grid.block >= 0
    place = np.empty(graph.n, dtype=np.int64)
    place[grid.block[held[1:, :cols]]] = np.flatnonzero(held)
    size, there = held.size, _bits(held.reshape(-1))
    classes = tuple(tuple(there & (_comb(1, every, size) << first) for first in range(every)) for every in (2, 3))
    folds = min(MOST_FOLDS, (size // (width + 4) - 1) // 2)
    return Frame(width=width, place=place, size=size, folds=folds, there=there, classes=(classes[0], classes[1]))


def dealt(graph: Graph, frame: Frame, rng: np.random.Generator) -> list[int]:
    """Planes of a field with the levels dealt at random, whatever touches."""
    hand = np.repeat(np.arange(1, graph.L + 1, dtype=np.uint8), graph.problem.quotas[0])
    rng.shuffle(hand)
    numbers = np.zeros(frame.size, dtype=np.uint8)
    numbers[frame.place] = hand
    return [_bits(numbers & np.uint8(1 << k)) for k in range(graph.L.bit_length())]


class PlaneField:
    """A field under way."""

    def __init__(self, frame: Frame, planes: list[int], rng: np.random.Generator) -> None:
        self.frame = frame
        self.planes = planes
        self.rng = rng
        self.rounds = 0

    def swap(self, rounds: int) -> tuple[int, int]:
        """Do so many rounds of swaps; returns how many pairs were tried and how many were swapped."""
        self.rounds += rounds
        frame, planes = self.frame, self.planes
        width, size = frame.width, frame.size
        tried = swapped = 0
        chance = self.rng.random((rounds, 4)).tolist()
        for turn, (folds, reach, shift, member) in enumerate(chance):
            every = 2 + turn % 2
            # so far on that twice one to six times as far just fits: then few cells are left without a partner
            times = 1 + int(frame.folds * folds)
            on = int(size / (2 * times + reach)) // every * every
            first = size - 2 * times * on if shift < 0.5 else 0  # those left are at one end or the other
            pool = frame.classes[every - 2][int(member * every)]
            pairs = (_comb(on, 2 * on, size) << first) & pool & (pool >> on)
            tried += pairs.bit_count()
            for beside in (1, width):
                # whether x and x + on + beside differ speaks of two things: of what comes to x beside what stays at
                # x + on + beside, and of what comes to x + beside + on beside what stays at x
                differ = 0
                for plane in planes:
                    differ |= plane ^ (plane >> on + beside)
                pairs &= differ & (differ << beside)
                differ = 0
                for plane in planes:
                    differ |= plane ^ (plane >> on - beside)
                pairs &= differ & (differ >> beside)
            moved = 0
            for k, plane in enumerate(planes):
                change = (plane ^ (plane >> on)) & pairs
                planes[k] = plane ^ change ^ (change << on)
                moved |= change
            swapped += moved.bit_count()
        return tried, swapped

    def in_conflict(self) -> bool:
        """Whether two neighbours are alike."""
        there = self.frame.there
        for beside in (1, self.frame.width):
            differ = 0
            for plane in self.planes:
                differ |= plane ^ (plane >> beside)
            if there & (there >> beside) & ~differ:
                return True
        return False

    def levels(self) -> IntArray:
        """The level of each block."""
        numbers = np.zeros(self.frame.size, dtype=np.int64)
        for k, plane in enumerate(self.planes):
            packed = np.frombuffer(plane.to_bytes(-(-self.frame.size // 8), "little"), dtype=np.uint8)
            numbers += np.unpackbits(packed, bitorder="little", count=self.frame.size).astype(np.int64) << k
        return numbers[self.frame.place] - 1


def _comb(tooth: int, period: int, size: int) -> int:
    """A number of at least so many bits, of which in every period the first few are set."""
    comb = (1 << tooth) - 1
    while period < size:
        comb |= comb << period
        period *= 2
    return comb


def _bits(flags: NDArray[np.bool_] | NDArray[np.uint8]) -> int:
    return int.from_bytes(np.packbits(flags, bitorder="little").tobytes(), "little")
