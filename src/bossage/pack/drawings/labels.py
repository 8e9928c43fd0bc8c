"""Sticker sheets: a page exactly as large as the paper, a label in every field of the brief's grid."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from bossage.brief.papers import PAPER_NM, LabelGrid
from bossage.drawing.box import Box
from bossage.drawing.metrics import text_width
from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Align, Arrow, Bits, Fill, Hatch, Ink, Label, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.fit import LEAST_TEXT_MM, legible_size

INSET_MM = 1.6  # kept clear inside every sticker: sheets feed crooked

#: Draws one label into its field and says it in words.
Draw = Callable[[Box], tuple[list[Shape], str]]


def label_pages(title: str, labels: Sequence[Draw], grid: LabelGrid, paper: str) -> list[Drawing]:
    """As many pages as the labels need, filled row by row from the upper left."""
    per_page = grid.across * grid.down
    width, height = (side_nm / 1e6 for side_nm in PAPER_NM[paper])
    page = Box(left_mm=0.0, bottom_mm=0.0, right_mm=width, top_mm=height)
    drawings: list[Drawing] = []
    for start in range(0, len(labels), per_page):
        shapes: list[Shape] = []
        said = []
        for number, draw in enumerate(labels[start : start + per_page]):
            made, words = draw(field_box(grid, paper, number).grown(-INSET_MM))
            shapes += made
            said.append(words)
        drawings.append(
            Drawing(
                title=f"{title}, sticker sheet {len(drawings) + 1} of {-(-len(labels) // per_page)}",
                description=f"{len(said)} labels, row by row from the upper left.",
                shapes=tuple(shapes),
                frame=page,
                reading=tuple(said),
            )
        )
    return drawings


def field_box(grid: LabelGrid, paper: str, number: int) -> Box:
    """Where sticker `number` of a page lies, from 0, row by row; millimetres from the paper's lower left corner."""
    width, height = (side_nm / 1e6 for side_nm in PAPER_NM[paper])
    gap_across, gap_down = grid.gap_across_nm / 1e6, grid.gap_down_nm / 1e6
    wide = (width - (grid.left_nm + grid.right_nm) / 1e6 - (grid.across - 1) * gap_across) / grid.across
    high = (height - (grid.top_nm + grid.bottom_nm) / 1e6 - (grid.down - 1) * gap_down) / grid.down
    row, column = divmod(number, grid.across)
    left = grid.left_nm / 1e6 + column * (wide + gap_across)
    top = height - grid.top_nm / 1e6 - row * (high + gap_down)
    return Box(left_mm=left, bottom_mm=top - high, right_mm=left + wide, top_mm=top)


def back_label(address: str, lines: tuple[str, ...], words: str, code: tuple[str, ...]) -> Draw:
    """Address, arrow up, a few words, and the square code that says `words`, which say the same."""

    def draw(box: Box) -> tuple[list[Shape], str]:
        side = min(box.height_mm, 0.32 * box.width_mm)
        left = box.left_mm + 4.0
        room = box.right_mm - side - 1.5 - left
        big = legible_size(address, width_mm=room, height_mm=0.5 * box.height_mm, most_mm=8.0, bold=True)
        wrapped = _wrapped(lines, room)
        step = (0.5 * box.height_mm) / max(len(wrapped), 1)
        shapes: list[Shape] = [
            Arrow(
                start=(box.left_mm + 1.2, box.bottom_mm + 0.5),
                end=(box.left_mm + 1.2, box.top_mm - 0.2),
                stroke=Stroke.OUTLINE,
                head_mm=3.2,
                layer="up",
            ),
            Label(
                at=(left, box.top_mm - 0.25 * box.height_mm),
                text=address,
                size_mm=big,
                bold=True,
                align=Align.LEFT,
                layer="address",
            ),
            Bits(
                x_mm=box.right_mm - side,
                y_mm=(box.bottom_mm + box.top_mm - side) / 2,
                side_mm=side,
                rows=code,
                name=words,
            ),
        ]
        for number, line in enumerate(wrapped):
            size = min(2.9, max(LEAST_TEXT_MM, 0.7 * step))
            at = (left, box.bottom_mm + (len(wrapped) - 1 - number) * step)
            text = _cut(line, room, size)
            shapes.append(Label(at=at, text=text, size_mm=size, align=Align.LEFT, stand=Stand.BOTTOM, layer="words"))
        return shapes, f"{words}."

    return draw


def tray_label(figure: str, lines: tuple[str, ...], colour_hex: str, hatch: Hatch | None) -> Draw:
    """The level as a large figure, the shade as a patch with its name, footprint and count."""

    def draw(box: Box) -> tuple[list[Shape], str]:
        wide = 0.34 * box.width_mm
        size = legible_size(figure, width_mm=wide, height_mm=0.6 * box.height_mm, most_mm=9.0, bold=True)
        left = box.left_mm + wide + 1.5
        room = box.right_mm - left
        step = box.height_mm / len(lines)
        shapes: list[Shape] = [
            Label(
                at=(box.left_mm + wide / 2, box.bottom_mm + 0.68 * box.height_mm),
                text=figure,
                size_mm=size,
                bold=True,
                layer="level",
            ),
            Rect(
                x_mm=box.left_mm,
                y_mm=box.bottom_mm,
                width_mm=wide,
                height_mm=0.3 * box.height_mm,
                stroke=Stroke.THIN,
                fill=Fill(colour=colour_hex),
                hatch=hatch,
                layer="shade",
            ),
        ]
        for number, line in enumerate(lines):
            letter = min(3.6 if number == 0 else 2.9, max(LEAST_TEXT_MM, 0.72 * step))
            shapes.append(
                Label(
                    at=(left, box.top_mm - (number + 0.5) * step),
                    text=_cut(line, room, letter),
                    size_mm=letter,
                    bold=number == 0,
                    align=Align.LEFT,
                    ink=Ink.INK,
                    layer="words",
                )
            )
        return shapes, f"{figure}: {'; '.join(lines)}."

    return draw


def _wrapped(lines: tuple[str, ...], room_mm: float) -> list[str]:
    """Lines that are too long in small type broken in two where a word ends, while no more than three come of it."""
    wrapped: list[str] = []
    for number, line in enumerate(lines):
        head, _, tail = line.rpartition(" ")
        left = len(lines) - number - 1
        if head and _wide_mm(line, LEAST_TEXT_MM) > room_mm and len(wrapped) + 2 + left <= 3:
            wrapped += [head, tail]
        else:
            wrapped.append(line)
    return wrapped


def _wide_mm(text: str, size_mm: float) -> float:
    return text_width(text) * size_mm


def _cut(text: str, room_mm: float, size_mm: float) -> str:
    """A text that is too long for its line ends in dots; the code beside it has it whole."""
    if _wide_mm(text, size_mm) <= room_mm:
        return text
    while text and _wide_mm(text + "…", size_mm) > room_mm:
        text = text[:-1]
    return text.rstrip() + "…"
