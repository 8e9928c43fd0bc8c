"""Where parts and screws of the back are, from the red corner, as tables."""

from __future__ import annotations

from bossage.body import Role
from bossage.pack.drawings.backview import ON_THE_WALL, BackView
from bossage.pack.sheet import Column, Heading, Para, Table
from bossage.pack.sheet import Part as SheetPart
from bossage.pack.words import Words


def beyond_words(view: BackView) -> str:
    """What a figure below nothing means, where a part reaches past the corner."""
    boxes = [view.box(part) for part in view.parts if part.role not in ON_THE_WALL]
    if all(box.left_mm >= 0 and box.bottom_mm >= 0 for box in boxes):
        return ""
    return " A figure with a minus lies beyond the corner: to its left, or below."


def places_table(view: BackView, words: Words) -> Table:
    """From the red corner to each part and each of its openings, and off the wall; what stays on the wall is said."""
    rows: list[tuple[str, ...]] = []
    groups: list[int] = []
    for part in sorted(view.parts, key=lambda one: (one.number, one.name)):
        groups.append(len(rows))
        box = view.box(part)
        depth = f"{words.bare(part.box.z0)} to {words.bare(part.box.z1)}"
        if part.role is not Role.BACKER:
            name = f"{part.name}, on the wall" if part.role in ON_THE_WALL else part.name
            rows.append((str(part.number), name, *_figures(box.left_mm, box.bottom_mm, words), depth))
        for number, hole in enumerate(view.slots(part), start=1):
            size = f"{words.of_mm(hole.width_mm)} × {words.of_mm(hole.height_mm)}"
            what = (
                f"opening {number}, {size}" if part.role is Role.BACKER else f"slot {words.of_mm(hole.width_mm)} wide"
            )
            rows.append((str(part.number), f"{part.name}: {what}", *_figures(hole.left_mm, hole.bottom_mm, words), ""))
    return Table(
        columns=(
            Column(head="no.", kind="strong", align="right"),
            Column(head="part", wide=True),
            Column(head="left edge", kind="figure", align="right"),
            Column(head="lower edge", kind="figure", align="right"),
            Column(head="off the wall", align="right"),
        ),
        rows=tuple(rows),
        groups=tuple(dict.fromkeys(n for n in groups if n < len(rows))),
        tight=True,
    )


def screw_places(view: BackView, words: Words) -> list[SheetPart]:
    """Every screw from the backer's face, part by part: one figure for its row, one for each place along it."""
    rows = []
    numbers = {part.name: part.number for part in view.parts}
    for name, spots in [*view.pins.items(), *_panel_spots(view)]:
        upright = len({x for x, _ in spots}) == 1
        across, along = (0, 1) if upright else (1, 0)
        places = ", ".join(words.of_mm(spot[along]) for spot in sorted(spots, key=lambda spot: spot[along]))
        row = f"{words.of_mm(spots[0][across])} {'across' if upright else 'up'}"
        rows.append((str(numbers[name]), name, row, f"{places} {'up' if upright else 'across'}"))
    if not rows:
        return []
    return [
        Heading(text="Screws from the backer's face"),
        Para(
            text=(
                f"Small circles{' and red crosses' if view.from_front else ''} on the drawing. From the face nobody "
                "sees the parts. So prick the places through with the thinner bit from behind, before the part goes "
                "on. Then drill both from the face, as the steps say. Or measure on the face: the same figures "
                "run from "
                "its lower right corner, leftwards and up."
            ),
            small=True,
        ),
        Table(
            columns=(
                Column(head="no.", kind="strong", align="right"),
                Column(head="part", kind="strong", mm=28.0),
                Column(head="its row", align="right"),
                Column(head=f"screws along it, {words.unit}", wide=True),
            ),
            rows=tuple(rows),
            groups=tuple(range(len(rows))),
            tight=True,
        ),
    ]


def _panel_spots(view: BackView) -> list[tuple[str, tuple[tuple[float, float], ...]]]:
    """Screws of each panel half that come from the backer's face."""
    halves = [part for part in view.parts if part.role is Role.PANEL_HALF] if view.from_front else []
    boxes = {part.name: view.box(part) for part in halves}
    found = {
        name: tuple((x, y) for x, y in view.screws if box.left_mm <= x <= box.right_mm) for name, box in boxes.items()
    }
    return list(found.items())


def _figures(left_mm: float, low_mm: float, words: Words) -> tuple[str, str]:
    return words.of_mm(left_mm), words.of_mm(low_mm)
