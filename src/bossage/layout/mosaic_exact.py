"""Mosaics by CP-SAT: the best filling of some cells while the rest stays, and the proof where there is none.

One Boolean for each place of each kind; every cell is covered once. A point is a cross unless a chosen block lies over
it or has it within a side, which is linear. One worker, a fixed seed and deterministic time, so that the answer
depends on the board alone.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from bossage.layout.mosaic_board import BARE, Board, Laying
from bossage.layout.records import IntArray

BARE_WEIGHT, COUNT_WEIGHT, THROUGH_WEIGHT = 2000, 200, 100  # against 1 for a cross, within a window


@dataclass(frozen=True, slots=True, kw_only=True)
class Answer:
    """What a search came to: blocks (none where there is no mosaic, or none was found), whether that is proven.

    `value` is what was minimised, `bound` a proven lower bound of it.
    """

    blocks: tuple[tuple[int, int, int], ...] | None
    proven: bool
    value: int
    bound: int


@dataclass(frozen=True, slots=True, kw_only=True)
class Window:
    """Some cells to be laid anew. `owner` holds the blocks that stay, `BARE` where a cell is to be filled.

    `room` marks the cells, `left` says how many of each kind the wanted numbers still have for them, `lines` the
    through joints that a block of this window should lie across. Bare cells and blocks of kinds of which there are
    too many (`surplus`) are drawn to `rally`, so that they meet where they can be made into others.
    """

    owner: IntArray
    room: NDArray[np.bool_]
    left: tuple[int, ...]
    lines: tuple[tuple[str, int], ...]
    surplus: tuple[int, ...] = ()
    rally: tuple[int, int] | None = None


def best_window(board: Board, window: Window, *, units: float, hint: tuple[tuple[int, int, int], ...]) -> Answer:
    """The filling with the fewest bare cells, then counts missed, through joints and crosses, by weight."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    places, x = _places(model, board, window.room)
    bare = _cover(model, window.room, board, places, x, soft=True)
    misses = _count_misses(model, board, window.left, places, x)
    uncrossed = [_missed_line(model, board, line, places, x) for line in window.lines]
    crossing = _crossing(model, board, window.owner, places, x)
    far = 0
    if window.rally is not None:
        cells = np.argwhere(window.room).tolist() if bare else []
        far = sum(_distance(cell, window.rally) * v for cell, v in zip(cells, bare, strict=True))
        far += sum(_distance(p[1:], window.rally) * v for p, v in zip(places, x, strict=True) if p[0] in window.surplus)
    model.minimize(
        BARE_WEIGHT * sum(bare) + COUNT_WEIGHT * sum(misses) + THROUGH_WEIGHT * sum(uncrossed) + sum(crossing) + far
    )
    _hint(model, places, x, hint)
    return _run(model, places, x, units)


def fewest_crosses_laid(board: Board, *, units: float, least: int, hint: Laying | None) -> Answer:
    """The whole board with its counts exact and, where asked, no through joint: the fewest crosses."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    places, x = _whole(model, board)
    if not board.through:
        for line in _lines(board):
            model.add_bool_or(_straddlers(board, line, places, x))
    crossing = _crossing(model, board, _empty(board), places, x)
    if crossing:
        model.add(sum(crossing) >= least)
    model.minimize(sum(crossing))
    _hint(model, places, x, () if hint is None else hint.blocks)
    return _run(model, places, x, units)


def fewest_through(board: Board, *, units: float, hint: Laying) -> Answer:
    """The whole board with its counts exact, the fewest through joints and then the fewest crosses."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    places, x = _whole(model, board)
    crossing = _crossing(model, board, _empty(board), places, x)
    missed = sum(_missed_line(model, board, line, places, x) for line in _lines(board))
    model.minimize(missed * (len(crossing) + 1) + sum(crossing))
    _hint(model, places, x, hint.blocks)
    return _run(model, places, x, units)


def nearest_counts(board: Board, *, units: float) -> Answer:
    """The whole board filled, with counts as near to the wanted ones as any filling has; firm ones weigh more."""
    from ortools.sat.python import cp_model

    model = cp_model.CpModel()
    places, x = _places(model, board, board.free)
    _cover(model, board.free, board, places, x, soft=False)
    misses = _count_misses(model, board, board.wanted, places, x)
    heavy = 1 + int(board.free.sum())
    model.minimize(sum((heavy if firm else 1) * miss for firm, miss in zip(board.firm, misses, strict=True)))
    return _run(model, places, x, units)


def _whole(model: Any, board: Board) -> tuple[list[tuple[int, int, int]], list[Any]]:
    """Every place on the board, each cell covered once, counts as wanted."""
    places, x = _places(model, board, board.free)
    _cover(model, board.free, board, places, x, soft=False)
    for kind, wanted in enumerate(board.wanted):
        model.add(sum(v for p, v in zip(places, x, strict=True) if p[0] == kind) == wanted)
    return places, x


def _places(model: Any, board: Board, room: NDArray[np.bool_]) -> tuple[list[tuple[int, int, int]], list[Any]]:
    """Every place of every kind within a room, with its Boolean."""
    places: list[tuple[int, int, int]] = []
    for kind, (wide, tall) in enumerate(board.kinds):
        if tall > board.rows or wide > board.columns:
            continue
        may = room & ~board.single if wide * tall > 1 else room
        windows = np.lib.stride_tricks.sliding_window_view(may, (tall, wide)).all(axis=(2, 3))
        places += [(kind, int(r), int(c)) for r, c in np.argwhere(windows)]
    return places, [model.new_bool_var("") for _ in places]


def _cover(
    model: Any,
    room: NDArray[np.bool_],
    board: Board,
    places: list[tuple[int, int, int]],
    x: list[Any],
    *,
    soft: bool,
) -> list[Any]:
    """Each cell of the room under exactly one block; where soft, or bare. Returns the Booleans of bare cells."""
    over: dict[tuple[int, int], list[Any]] = {(int(r), int(c)): [] for r, c in np.argwhere(room)}
    for (kind, row, column), v in zip(places, x, strict=True):
        wide, tall = board.kinds[kind]
        for r in range(row, row + tall):
            for c in range(column, column + wide):
                over[r, c].append(v)
    bare = []
    for blocks in over.values():
        if soft and (1, 1) not in board.kinds:
            bare.append(model.new_bool_var(""))
            blocks.append(bare[-1])
        model.add_exactly_one(blocks)
    return bare


def _count_misses(
    model: Any, board: Board, left: tuple[int, ...], places: list[tuple[int, int, int]], x: list[Any]
) -> list[Any]:
    """How far each kind is off its number."""
    misses = []
    for kind, wanted in enumerate(left):
        mine = [v for p, v in zip(places, x, strict=True) if p[0] == kind]
        miss = model.new_int_var(0, abs(wanted) + len(mine), "")
        model.add(sum(mine) - wanted <= miss)
        model.add(wanted - sum(mine) <= miss)
        misses.append(miss)
    return misses


def _crossing(model: Any, board: Board, owner: IntArray, places: list[tuple[int, int, int]], x: list[Any]) -> list[Any]:
    """One Boolean for each point that may become a cross."""
    over: dict[tuple[int, int], list[Any]] = {}
    for r, c in _points(owner):
        over[r, c] = []
    for (kind, row, column), v in zip(places, x, strict=True):
        wide, tall = board.kinds[kind]
        for r in range(row, row + tall + 1):
            for c in range(column, column + wide + 1):
                corner = r in (row, row + tall) and c in (column, column + wide)
                if not corner and (r, c) in over:
                    over[r, c].append(v)
    crossing = []
    for blocks in over.values():
        cross = model.new_bool_var("")
        model.add_bool_or([*blocks, cross])
        crossing.append(cross)
    return crossing


def _points(owner: IntArray) -> list[tuple[int, int]]:
    """Points beside a cell to be filled, all four cells in use, that no block that stays keeps from being a cross."""
    a, b, c, d = owner[:-1, :-1], owner[:-1, 1:], owner[1:, :-1], owner[1:, 1:]
    in_use = (a != -1) & (b != -1) & (c != -1) & (d != -1)
    near = (a == BARE) | (b == BARE) | (c == BARE) | (d == BARE)

    def one(p: IntArray, q: IntArray) -> NDArray[np.bool_]:
        same: NDArray[np.bool_] = (p == q) & (p >= 0)
        return same

    kept = one(a, b) | one(a, c) | one(b, d) | one(c, d)
    return [(int(r) + 1, int(k) + 1) for r, k in np.argwhere(in_use & near & ~kept)]


def _empty(board: Board) -> IntArray:
    return np.where(board.free, BARE, -1).astype(np.int64)


def _lines(board: Board) -> list[tuple[str, int]]:
    return [("upright", c) for c in range(1, board.columns)] + [("level", r) for r in range(1, board.rows)]


def _straddlers(board: Board, line: tuple[str, int], places: list[tuple[int, int, int]], x: list[Any]) -> list[Any]:
    """Blocks that would lie across a line."""
    way, at = line
    found = []
    for (kind, row, column), v in zip(places, x, strict=True):
        wide, tall = board.kinds[kind]
        if (column < at < column + wide) if way == "upright" else (row < at < row + tall):
            found.append(v)
    return found


def _missed_line(
    model: Any, board: Board, line: tuple[str, int], places: list[tuple[int, int, int]], x: list[Any]
) -> Any:
    missed = model.new_bool_var("")
    model.add_bool_or([*_straddlers(board, line, places, x), missed])
    return missed


def _distance(cell: Sequence[int], rally: tuple[int, int]) -> int:
    return abs(cell[0] - rally[0]) + abs(cell[1] - rally[1])


def _hint(model: Any, places: list[tuple[int, int, int]], x: list[Any], hint: tuple[tuple[int, int, int], ...]) -> None:
    wished = set(hint)
    if wished:
        for place, v in zip(places, x, strict=True):
            model.add_hint(v, place in wished)


def _run(model: Any, places: list[tuple[int, int, int]], x: list[Any], units: float) -> Answer:
    from ortools.sat.python import cp_model

    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.random_seed = 1
    solver.parameters.max_deterministic_time = units
    status = solver.solve(model)
    if status in (cp_model.OPTIMAL, cp_model.FEASIBLE):
        chosen = tuple(place for place, v in zip(places, x, strict=True) if solver.boolean_value(v))
        return Answer(
            blocks=chosen,
            proven=status == cp_model.OPTIMAL,
            value=round(solver.objective_value),
            bound=round(solver.best_objective_bound),
        )
    return Answer(blocks=None, proven=status == cp_model.INFEASIBLE, value=0, bound=0)
