"""At the laying bench: the map of every leaf."""

from __future__ import annotations

from collections import Counter

import numpy as np
from numpy.typing import NDArray

from bossage.drawing.metrics import text_width
from bossage.errors import BossageError
from bossage.pack.drawings.fit import LEAST_TEXT_MM, filling, scale_words
from bossage.pack.drawings.leafmap import Rows, map_drawing, shade_keys
from bossage.pack.sheet import Beside, Column, Drawn, Part, Sheet, Table
from bossage.pack.sheets.common import Room, room, words_of
from bossage.plan import Plan

KEY_MM = 68.0  # beside a map that lies across
LEAST_BLOCK_MM = 5.5  # on paper: below this a block cannot carry two lines that are read at arm's length


def map_sheets(plan: Plan) -> list[Sheet]:
    """A map for each leaf of each copy, over several pages where the blocks would grow too small to read."""
    sheets = []
    for leaf, place in enumerate(plan.layout.leaves):
        which = f" of piece {place.copy}" if plan.brief.piece.copies > 1 else ""
        several = sum(other.copy == place.copy for other in plan.layout.leaves) > 1
        title = f"Map{f' of leaf {place.name}' if several else ''}{which}"
        pages = _pages(plan, leaf)
        for rows, space in pages:
            part = f", {rows.words}" if len(pages) > 1 else ""
            sheets.append(_map_sheet(plan, leaf, title + part, rows if len(pages) > 1 else None, space))
    return sheets


def _map_sheet(plan: Plan, leaf: int, title: str, rows: Rows | None, space: Room) -> Sheet:
    words = words_of(plan)
    landscape = space.width_mm > 200
    drawing = filling(
        map_drawing(plan, leaf, words, rows=rows),
        width_mm=space.width_mm - (KEY_MM if landscape else 0.0),
        height_mm=space.height_mm - (0.0 if landscape else 8.0 * len(plan.fade.shades)),
    )
    counts = Counter(plan.fade.shade[_shown(plan, leaf, rows)].tolist())
    keys = shade_keys(plan.fade.shades)
    key = Table(
        columns=(Column(kind="patch"), Column(kind="strong"), Column(), Column(align="right")),
        rows=tuple(
            (shade.colour_hex, keys[shade.name], shade.name, str(counts[number]))
            for number, shade in enumerate(plan.fade.shades)
            if counts[number]
        ),
        tight=True,
    )
    picture = Drawn(
        drawing=drawing, caption=f"Seen from the front, top up. Large: level in {words.unit_name}. Small: shade."
    )
    parts: list[Part] = (
        [Beside(left=(picture,), right=(key,), left_mm=drawing.paper_width_mm)] if landscape else [picture, key]
    )
    return Sheet(
        name="map",
        title=title,
        todo=(
            "Lay the blocks dry, row by row from the top left. Tick each row off on its press card, then mark every "
            "back: row, block, arrow up."
        ),
        wrong=(
            "A level or shade has run out? Put a block of the same shade one level off where no neighbour has that "
            "level, and note its place."
        ),
        parts=tuple(parts),
        scale=scale_words(drawing.scale_n),
        landscape=landscape,
    )


def _shown(plan: Plan, leaf: int, rows: Rows | None) -> NDArray[np.int64]:
    blocks = plan.layout.blocks
    mine = blocks.leaf == leaf
    if rows is not None:
        mine &= rows.hold(blocks.row, blocks.column)
    return np.flatnonzero(mine)


def _pages(plan: Plan, leaf: int) -> list[tuple[Rows, Room]]:
    """Upright or across, one page or several: the fewest on which every block is large enough to read."""
    rows = sorted(set(plan.layout.blocks.row[plan.layout.blocks.leaf == leaf].tolist()))
    keys = shade_keys(plan.fade.shades).values()
    least_mm = max(LEAST_BLOCK_MM, max(text_width(key) for key in keys) * LEAST_TEXT_MM)
    for pages in range(1, len(rows) + 1):
        per_page = -(-len(rows) // pages)
        spans = [
            Rows(first=rows[i], last=rows[min(i + per_page, len(rows)) - 1]) for i in range(0, len(rows), per_page)
        ]
        best = max(
            (room(plan, landscape=landscape) for landscape in (False, True)),
            key=lambda space: _smallest_mm(plan, leaf, spans[0], space),
        )
        if _smallest_mm(plan, leaf, spans[0], best) >= least_mm or pages == len(rows):
            space = Room(width_mm=best.width_mm, height_mm=best.height_mm - 8.0)
            return [(span, space) for span in spans]
    raise BossageError("A leaf without rows has no map.")


def _smallest_mm(plan: Plan, leaf: int, rows: Rows, space: Room) -> float:
    """The least side of a block on paper, a little short for the numbers round the map."""
    blocks = plan.layout.blocks
    mine = _shown(plan, leaf, rows)
    wide = int((blocks.x_nm[mine] + blocks.width_nm[mine]).max() - blocks.x_nm[mine].min()) / 1e6
    tall = int((blocks.y_nm[mine] + blocks.height_nm[mine]).max() - blocks.y_nm[mine].min()) / 1e6
    across = space.width_mm > 200
    room_mm = (space.width_mm - (KEY_MM if across else 0.0) - 16, space.height_mm - (20 if across else 80))
    shrink = min(room_mm[0] / wide, room_mm[1] / tall)
    side_mm = int(min(blocks.width_nm[mine].min(), blocks.height_nm[mine].min())) / 1e6
    return side_mm * shrink
