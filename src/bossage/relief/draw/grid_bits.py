"""The quick engine for plain pieces of any size: all cells of a grid at once, as the bits of a few whole numbers.

The levels are numbered from 1 in binary, and each binary digit of all cells makes one long number, a *plane*; 0 is an
open cell or the border. Whether each cell differs from the one so many places on is then a handful of shifts.

A *stroke* pairs the cells of a class with those a fixed way further on and swaps every pair in which both may stand
where the other stood. No two cells of a class touch, so all swaps of a stroke are as good as one after another. They
never add a conflict, and the same stroke done again takes them back. So strokes settle a field dealt at random, and
once no conflict is left they mix it: the law that they tend to is uniform over all fields that they reach.

Two kinds of class take turns, every other place and every third one. The width of a row, border included, is no
multiple of 2 or 3, so neighbours never fall into one class of either kind, and nothing is conserved within a class.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from bossage.relief.draw.on_graph import BROKEN
from bossage.relief.problem.graph import Graph, is_field
from bossage.relief.problem.pair_law import fair_moran, pair_law
from bossage.relief.problem.records import Effort, IntArray, Solved, SolveReport

PLANES_FROM_N = 65  # blocks; on fewer, swaps may not lead everywhere, and clusters are needed
LEAST_ROWS_N = 6  # so that a stroke may lead further than a row, even where rows are short
LEAST_LEVELS_N = 5  # with fewer, swaps get nowhere
MOST_LEVELS_N = 254  # their numbers go into bytes, 0 left out
MOST_SHARE = 0.27  # of the blocks on one level; above, a field dealt at random hardly settles
SETTLE_STROKES_N = 400
STROKES_A_LOOK_N = 8
MOST_FOLDS_N = 6
LEAST_SWAPPED_SHARE = 0.04  # of the pairs tried; below, swaps forget too slowly how the field was settled
SWAPS_PER_SWEEP = 0.2  # of all blocks, at least: as many as a try each brings at seven levels
# Of 90,000 blocks one field in fifty lies further than 0.005 from the fair correlation of neighbours, and is mixed on.
# Small fields spread far more and are left alone; large ones never get so far.
FAR = 0.0045
FAR_FROM_N = 40_000
FAR_UP_TO_N = 400_000
MOST_MIXED_N = 6


@dataclass(frozen=True, slots=True, kw_only=True)
class Frame:
    """Where the cells lie in the planes."""

    width: int  # places in a row, border included
    place: IntArray  # of each block
    size: int  # places in all
    folds_n: int  # how often twice the way of a stroke may fit, so that it still leads further than a row
    there: int  # a bit for each place that holds a block
    classes: tuple[tuple[int, ...], tuple[int, ...]]  # every other place, every third


def plain_enough(graph: Graph) -> bool:
    """Whether the quick engine suits: a grid with free blocks that only have to differ at their sides, many levels."""
    p = graph.problem
    return (
        p.grid is not None
        and not p.grid.diagonal
        and graph.n >= PLANES_FROM_N
        and graph.L <= MOST_LEVELS_N
        and p.grid.rows_n >= LEAST_ROWS_N
        and p.groups_n == 1
        and (p.pins is None and p.allowed is None)
        and (p.min_step == 1 and p.level_conflict is None)
        and int(p.quotas.sum()) == graph.n
        and int(np.count_nonzero(p.quotas)) >= LEAST_LEVELS_N
        and int(p.quotas.max()) <= MOST_SHARE * graph.n
    )


def plane_field(graph: Graph, rng: np.random.Generator, effort: Effort) -> Solved | None:
    """A mixed field of a plain piece; None where swaps alone do not settle it, or would mix it too slowly."""
    frame = frame_of(graph)
    field = PlaneField(frame, dealt(graph, frame, rng), rng)
    repairs = tried = swapped = 0
    while field.in_conflict():
        if field.strokes_n >= SETTLE_STROKES_N:
            return None
        tried, swapped = field.stroke(STROKES_A_LOOK_N)
        repairs += swapped
    if swapped <= LEAST_SWAPPED_SHARE * tried:
        return None
    # How long to mix is settled before the mixing, or fields with more ways out would be handed out more often.
    a_sweep = max(graph.n / tried, SWAPS_PER_SWEEP * graph.n / swapped) * STROKES_A_LOOK_N
    tried = swapped = 0
    for _ in range(MOST_MIXED_N):
        more = field.stroke(math.ceil(effort.mix_sweeps * a_sweep))
        tried, swapped = tried + more[0], swapped + more[1]
        levels = field.levels()
        if not _strays(graph, levels):
            break
    if not is_field(graph, levels):
        raise AssertionError(BROKEN)
    levels.setflags(write=False)
    report = SolveReport(engine="planes", draws_n=1, repairs_n=repairs, mix_attempts_n=tried, mix_swaps_n=swapped)
    return Solved(levels=levels, report=report)


def _strays(graph: Graph, levels: IntArray) -> bool:
    """Whether a large field is one of the few of which neighbours are more alike, or less, than of most."""
    if not FAR_FROM_N <= graph.n <= FAR_UP_TO_N:
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
    folds = min(MOST_FOLDS_N, (size // (width + 4) - 1) // 2)
    return Frame(width=width, place=place, size=size, folds_n=folds, there=there, classes=(classes[0], classes[1]))


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
        self.strokes_n = 0

    def stroke(self, count_n: int) -> tuple[int, int]:
        """Do so many strokes; returns how many pairs were tried and how many were swapped."""
        self.strokes_n += count_n
        frame, planes = self.frame, self.planes
        width, size = frame.width, frame.size
        tried = swapped = 0
        chance = self.rng.random((count_n, 4)).tolist()
        for turn, (folds, reach, shift, member) in enumerate(chance):
            every = 2 + turn % 2
            # so far on that twice one to six times as far just fits: then few cells are left without a partner
            times = 1 + int(frame.folds_n * folds)
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
