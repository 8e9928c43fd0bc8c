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
WIDER, MORE_UNITS = 10, 0.1  # where the small ones no longer help
PATIENCE_N = 6  # small windows without gain


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
        self,
        middle: tuple[int, int],
        lines: tuple[tuple[str, int], ...] = (),
        *,
        rally: tuple[int, int] | None = None,
        wider: bool = False,
    ) -> bool:
        """Lay the window round a cell anew; whether anything changed for the better, or drew nearer to `rally`."""
        size = WIDER if wider else WINDOW
        top, low = _span(middle[0], size, self.board.rows)
        left, right = _span(middle[1], size, self.board.columns)
        inside = self._inside(top, low, left, right)
        room = np.zeros(self.board.free.shape, dtype=np.bool_)
        spot = np.s_[top:low, left:right]
        room[spot] = np.isin(self.owner[spot], inside) | (self.owner[spot] == BARE)
        if not room.any():
            return False
        missing = self.missing()
        left_over = list(missing)
        for number in inside:
            left_over[self.blocks[number][0]] += 1
        window = Window(
            owner=np.where(room, BARE, self.owner),
            room=room,
            left=tuple(left_over),
            lines=lines,
            surplus=tuple(kind for kind, n in enumerate(missing) if n < 0),
            rally=rally,
        )
        before = tuple(self.blocks[number] for number in inside)
        answer = best_window(self.board, window, units=MORE_UNITS if wider else UNITS, hint=before)
        if answer.blocks is None or set(answer.blocks) == set(before):
            return False
        return self._kept(inside, window.owner, answer.blocks, equal=rally is not None)

    def _kept(self, old: list[int], owner: IntArray, new: tuple[tuple[int, int, int], ...], *, equal: bool) -> bool:
        """Take the new blocks for the old ones where that is better; where `equal`, counts no worse will do."""
        was = self.worth()
        keep = (dict(self.blocks), self.owner, self.next)
        for number in old:
            del self.blocks[number]
        self.owner = owner
        for kind, row, column in new:
            wide, tall = self.board.kinds[kind]
            self.owner[row : row + tall, column : column + wide] = self.next
            self.blocks[self.next] = (kind, row, column)
            self.next += 1
        now = self.worth()
        if now < was or (equal and now[:2] <= was[:2]):
            return True
        self.blocks, self.owner, self.next = keep
        return False

    def amiss(self) -> IntArray:
        """Bare cells and blocks of kinds of which there are too many, by row and column."""
        many = {kind for kind, n in enumerate(self.missing()) if n < 0}
        spots = np.argwhere(self.owner == BARE).tolist()
        spots += [[row, column] for kind, row, column in self.blocks.values() if kind in many]
        return np.array(spots, dtype=np.int64).reshape(-1, 2)

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
        rally = None
        spots = bench.amiss() if bare or missed else np.zeros((0, 2), dtype=np.int64)
        if len(spots) > 1:
            middle, rally = _meeting(spots, int(draw[0] * len(spots)))
        elif not bare and not missed:
            way, at = lines[int(draw[0] * len(lines))]
            middle = (middle[0], at) if way == "upright" else (at, middle[1])
        idle = 0 if bench.lay_anew(middle, lines, rally=rally, wider=idle >= PATIENCE_N) else idle + 1
    return bench.laying()


def _meeting(spots: IntArray, one: int) -> tuple[tuple[int, int], tuple[int, int] | None]:
    """Where to lay anew so that a spot meets the one nearest to it: between them, or where it stands, drawn nearer."""
    far = np.abs(spots - spots[one]).sum(axis=1)
    far[one] = far.max() + 1
    other = int(far.argmin())
    (r, c), (r2, c2) = spots[one].tolist(), spots[other].tolist()
    if max(abs(r - r2), abs(c - c2)) < WINDOW - 1:
        return ((r + r2) // 2, (c + c2) // 2), None
    return (r, c), (r2, c2)


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
