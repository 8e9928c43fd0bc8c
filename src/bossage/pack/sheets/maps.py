"""At the laying bench: the map of every leaf."""

from __future__ import annotations

import math
from collections import Counter

import numpy as np
from numpy.typing import NDArray

from bossage.drawing.metrics import text_width
from bossage.pack.drawings.fit import LEAST_TEXT_MM, filling, scale_words
from bossage.pack.drawings.leafmap import Rows, map_drawing, shade_keys, tiles_of
from bossage.pack.sheet import Beside, Column, Drawn, Part, Sheet, Table
from bossage.pack.sheets.common import Room, room, words_of
from bossage.plan import Plan

KEY_MM = 68.0  # beside a map that lies across
KEY_ROW_MM, KEY_BESIDE = 8.0, 2  # a shade of the key; how many stand beside each other under a map
AS_LARGE = 0.88  # an upright map shares its page, so one lies across only where that makes blocks larger than by this
MOST_KEY = 0.5  # of a page, for the key under a map
ENOUGH_MM = 12.5  # on paper: a block so large carries its words at their full size
LEAST_BLOCK_MM = 5.5  # on paper: below this a block cannot carry two lines that are read at arm's length


def map_sheets(plan: Plan) -> list[Sheet]:
    """A map for each leaf of each copy, over several pages where the blocks would grow too small to read."""
    sheets = []
    for leaf, place in enumerate(plan.layout.leaves):
        which = f" of piece {place.copy}" if plan.brief.piece.copies > 1 else ""
        several = sum(other.copy == place.copy for other in plan.layout.leaves) > 1
        title = f"Map{f' of leaf {place.name}' if several else ''}{which}"
        pages = _pages(plan, leaf)
        if len(pages) == 1:
            sheets.append(_map_sheet(plan, leaf, title, None, pages[0][1], ""))
            continue
        tiles = [rows for rows, _ in pages]
        for number, (rows, space) in enumerate(pages):
            follows = _neighbours(tiles, number)
            sheets.append(_map_sheet(plan, leaf, f"{title}, {rows.words}", rows, space, follows))
    return sheets


def _map_sheet(plan: Plan, leaf: int, title: str, rows: Rows | None, space: Room, follows: str) -> Sheet:
    words = words_of(plan)
    landscape = space.width_mm > 200
    drawing = filling(
        map_drawing(plan, leaf, words, rows=rows),
        width_mm=space.width_mm - (KEY_MM if landscape else 0.0),
        height_mm=space.height_mm - (0.0 if landscape else _key_mm(plan, space)),
        least_n=_least_side_nm(plan, leaf, rows) / 1e6 / ENOUGH_MM,
    )
    beside = landscape or space.width_mm - drawing.paper_width_mm > KEY_MM
    counts = Counter(plan.fade.shade[_shown(plan, leaf, rows)].tolist())
    keys = shade_keys(plan.fade.shades)
    rows_of_key = [
        (shade.colour_hex, keys[shade.name], shade.name, str(counts[number]))
        for number, shade in enumerate(plan.fade.shades)
        if counts[number]
    ]
    key = _key(rows_of_key, 1 if beside else KEY_BESIDE)
    caption = f"Seen from the front, top up. Large: level in {words.unit_name}. Small: shade. {follows}".rstrip()
    picture = Drawn(drawing=drawing, caption=caption)
    parts: list[Part] = (
        [Beside(left=(picture,), right=(key,), left_mm=drawing.paper_width_mm)] if beside else [picture, key]
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


def _key(rows: list[tuple[str, str, str, str]], beside: int) -> Table:
    """The shades with their short forms and counts, read down; so many columns of them beside each other."""
    high = -(-len(rows) // beside)
    padded = [*rows, *[("", "", "", "")] * (high * beside - len(rows))]
    lines = tuple(sum((padded[column * high + line] for column in range(beside)), ()) for line in range(high))
    one = (Column(kind="patch"), Column(kind="strong"), Column(wide=beside > 1), Column(align="right"))
    return Table(columns=one * beside, rows=lines, tight=True)


def _key_mm(plan: Plan, space: Room) -> float:
    """What the key takes of a page that its map stands on; a key of many shades goes over to the next page."""
    high_mm = KEY_ROW_MM * -(-len(plan.fade.shades) // KEY_BESIDE) + 8.0
    return high_mm if high_mm <= MOST_KEY * space.height_mm else 0.0


def _shown(plan: Plan, leaf: int, rows: Rows | None) -> NDArray[np.int64]:
    blocks = plan.layout.blocks
    mine = blocks.leaf == leaf
    if rows is not None:
        mine &= rows.hold(blocks.row, blocks.column)
    return np.flatnonzero(mine)


def _pages(plan: Plan, leaf: int) -> list[tuple[Rows, Room]]:
    """Upright or across, one page or several: the fewest on which every block is large enough to read."""
    blocks, place = plan.layout.blocks, plan.layout.leaves[leaf]
    mine = blocks.leaf == leaf
    keys = shade_keys(plan.fade.shades).values()
    least_mm = max(LEAST_BLOCK_MM, max(text_width(key) for key in keys) * LEAST_TEXT_MM)
    shrink = least_mm / (int(min(blocks.width_nm[mine].min(), blocks.height_nm[mine].min())) / 1e6)
    found: list[tuple[int, float, Room, list[Rows]]] = []
    for landscape in (False, True):
        space = room(plan, landscape=landscape)
        wide_mm, tall_mm = _map_room(space)
        tiles = tiles_of(
            plan,
            leaf,
            across=math.ceil(shrink * place.width_nm / 1e6 / wide_mm),
            down=math.ceil(shrink * place.height_nm / 1e6 / tall_mm),
        )
        smallest_mm = _smallest_mm(plan, leaf, tiles[0], space) * (AS_LARGE if landscape else 1.0)
        found.append((len(tiles), -smallest_mm, space, tiles))
    _, _, space, tiles = min(found, key=lambda one: one[:2])
    return [(tile, Room(width_mm=space.width_mm, height_mm=space.height_mm - 8.0)) for tile in tiles]


def _map_room(space: Room) -> tuple[float, float]:
    """What a page leaves for the blocks: less the numbers round the map and its key."""
    across = space.width_mm > 200
    return space.width_mm - (KEY_MM if across else 0.0) - 16, space.height_mm - (20 if across else 80)


def _neighbours(tiles: list[Rows], number: int) -> str:
    """Which page goes where, for maps that are taped together."""
    across = len({tile.first_column for tile in tiles})
    said = [f"Page {number + 1} of the {len(tiles)} of this map"]
    if across > 1:
        said[0] += f", {across} across and {len(tiles) // across} down"
    if across > 1 and (number + 1) % across:
        said.append(f"to the right follows page {number + 2}")
    if number + across < len(tiles):
        said.append(f"below follows page {number + across + 1}")
    return "; ".join(said) + "."


def _smallest_mm(plan: Plan, leaf: int, rows: Rows, space: Room) -> float:
    """The least side of a block on paper, a little short for the numbers round the map."""
    blocks = plan.layout.blocks
    mine = _shown(plan, leaf, rows)
    wide = int((blocks.x_nm[mine] + blocks.width_nm[mine]).max() - blocks.x_nm[mine].min()) / 1e6
    tall = int((blocks.y_nm[mine] + blocks.height_nm[mine]).max() - blocks.y_nm[mine].min()) / 1e6
    room_mm = _map_room(space)
    shrink = min(room_mm[0] / wide, room_mm[1] / tall)
    return _least_side_nm(plan, leaf, rows) / 1e6 * shrink


def _least_side_nm(plan: Plan, leaf: int, rows: Rows | None) -> int:
    blocks, mine = plan.layout.blocks, _shown(plan, leaf, rows)
    return int(min(blocks.width_nm[mine].min(), blocks.height_nm[mine].min()))
