"""A mosaic put right window by window: bare cells, counts, through joints, then the crosses that are left.

Each window is laid anew by the exact engine while the rest stays; what comes out is kept when it is no worse.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from bossage.layout.chance import uniforms
from bossage.layout.mosaic_board import BARE, Board, Laying, crosses, through_joints
from bossage.layout.mosaic_exact import Window, best_window
from bossage.layout.records import IntArray

WINDOW, UNITS = 6, 0.03  # cells each way, and deterministic time for one window
WIDER, MORE_UNITS = 10, 0.3  # where the small ones no longer help
PATIENCE_N = 15  # small windows without gain


class Bench:
    """A mosaic that is being worked on."""

    def __init__(self, board: Board, laying: Laying) -> None:
        self.board = board
        self.blocks = dict(enumerate(laying.blocks))
        self.owner = laying.owners(board)
        self.next = len(self.blocks)

    def laying(self) -> Laying:
        """What lies on it, in reading order."""
        return Laying(blocks=tuple(sorted(self.blocks.values(), key=lambda b: (b[1], b[2]))))

    def missing(self) -> tuple[int, ...]:
        """How many of each kind are still wanted; below 0 where there are too many."""
        have = [0] * len(self.board.kinds)
        for kind, _, _ in self.blocks.values():
            have[kind] += 1
        return tuple(w - h for w, h in zip(self.board.wanted, have, strict=True))

    def lay_anew(
        self, middle: tuple[int, int], lines: tuple[tuple[str, int], ...] = (), *, wider: bool = False
    ) -> bool:
        """Lay the window round a cell anew; whether anything changed for the better."""
        size = WIDER if wider else WINDOW
        top, low = _span(middle[0], size, self.board.rows)
        left, right = _span(middle[1], size, self.board.columns)
        inside = self._inside(top, low, left, right)
        room = np.zeros(self.board.free.shape, dtype=np.bool_)
        spot = np.s_[top:low, left:right]
        room[spot] = np.isin(self.owner[spot], inside) | (self.owner[spot] == BARE)
        if not room.any():
            return False
        held = np.where(room, BARE, self.owner)
        left_over = list(self.missing())
        for number in inside:
            left_over[self.blocks[number][0]] += 1
        before = tuple(self.blocks[number] for number in inside)
        window = Window(owner=held, room=room, left=tuple(left_over), lines=lines)
        answer = best_window(self.board, window, units=MORE_UNITS if wider else UNITS, hint=before)
        if answer.blocks is None:
            return False
        was = self.worth()
        keep = (dict(self.blocks), self.owner.copy(), self.next)
        for number in inside:
            del self.blocks[number]
        self.owner = held
        for kind, row, column in answer.blocks:
            wide, tall = self.board.kinds[kind]
            self.owner[row : row + tall, column : column + wide] = self.next
            self.blocks[self.next] = (kind, row, column)
            self.next += 1
        if self.worth() >= was:
            self.blocks, self.owner, self.next = keep
            return False
        return True

    def worth(self) -> tuple[int, ...]:
        """Bare cells, counts missed, through joints where they may not be, crosses: less is better."""
        through = 0 if self.board.through else len(through_joints(self.owner))
        missed = sum(abs(n) for n in self.missing())
        return (int((self.owner == BARE).sum()), missed, through, len(crosses(self.owner)))

    def _inside(self, top: int, low: int, left: int, right: int) -> list[int]:
        """Blocks that lie within the window whole."""
        numbers = np.unique(self.owner[top:low, left:right])
        found = []
        for number in numbers[numbers >= 0].tolist():
            kind, row, column = self.blocks[number]
            wide, tall = self.board.kinds[kind]
            if top <= row and row + tall <= low and left <= column and column + wide <= right:
                found.append(number)
        return found


def put_right(board: Board, laying: Laying, *, windows: int, key: IntArray) -> Laying:
    """Bare cells, counts and through joints put right, as far as so many windows do it."""
    bench = Bench(board, laying)
    idle = 0
    for draw in uniforms(windows * 2, key).reshape(windows, 2):
        bare, missed, through, _ = bench.worth()
        if not bare and not missed and not through:
            break
        lines = () if board.through else through_joints(bench.owner)
        middle = (int(draw[0] * board.rows), int(draw[1] * board.columns))
        if bare:
            spots = np.argwhere(bench.owner == BARE)
            middle = tuple(spots[int(draw[0] * len(spots))].tolist())
        elif not missed:
            way, at = lines[int(draw[0] * len(lines))]
            middle = (middle[0], at) if way == "upright" else (at, middle[1])
        idle = 0 if bench.lay_anew(middle, lines, wider=idle >= PATIENCE_N) else idle + 1
    return bench.laying()


def fewer_crosses(board: Board, laying: Laying, *, windows: int, least: int, key: IntArray) -> Laying:
    """Crosses laid anew one after the other, as far as so many windows go."""
    bench = Bench(board, laying)
    draws = uniforms(windows, key)
    tried: NDArray[np.bool_] = np.zeros((board.rows + 1, board.columns + 1), dtype=np.bool_)
    for draw in draws:
        spots = crosses(bench.owner)
        if len(spots) <= least:
            break
        spots = spots[~tried[spots[:, 0], spots[:, 1]]]
        if not len(spots):
            break
        row, column = spots[int(draw * len(spots))].tolist()
        if bench.lay_anew((row, column)):
            # What lies round the window has changed, so crosses near it are worth another try.
            tried[max(0, row - WINDOW) : row + WINDOW, max(0, column - WINDOW) : column + WINDOW] = False
        else:
            tried[row, column] = True
    return bench.laying()


def _span(middle: int, window: int, size: int) -> tuple[int, int]:
    """A window's first line and the one after its last, within the board."""
    first = min(max(0, middle - window // 2), max(0, size - window))
    return first, min(size, first + window)
