"""A leaf seen from the back: the shim under each block of a face-down bed, or the screw into each block."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from bossage.drawing.model import Drawing
from bossage.drawing.shapes import Label, Rect, Shape, Stand, Stroke
from bossage.pack.drawings.fit import legible_size
from bossage.pack.words import Words, count_of
from bossage.plan import Plan
from bossage.press.bed_records import BedBlock, BedCard


def bed_drawing(plan: Plan, card: BedCard, words: Words) -> Callable[[float], Drawing]:
    """The bed of shims for the n of 1 : n, as it lies before the maker; left and right have changed places."""
    return _drawing(plan, card, "Bed", lambda one: words.compact(one.shim_nm) if one.shim_nm else "–", "shim", words)


def screw_drawing(plan: Plan, card: BedCard, words: Words) -> Callable[[float], Drawing]:
    """The back with the screw for each block at its middle; blocks without one are held by glue alone."""
    lengths = {fit.level_nm: fit.length_nm for fit in plan.press.screws}

    def told(one: BedBlock) -> str:
        length = lengths[card.constant_nm - one.shim_nm]
        return "–" if length is None else words.compact(length)

    return _drawing(plan, card, "Screws from behind", told, "screw", words)


def _drawing(
    plan: Plan, card: BedCard, title: str, told: Callable[[BedBlock], str], what: str, words: Words
) -> Callable[[float], Drawing]:
    place, blocks = plan.layout.leaves[card.leaf], plan.layout.blocks

    def draw(scale_n: float) -> Drawing:
        shapes: list[Shape] = [
            Rect(
                x_mm=0,
                y_mm=0,
                width_mm=place.width_nm / 1e6,
                height_mm=place.height_nm / 1e6,
                stroke=Stroke.OUTLINE,
                layer="outline",
            )
        ]
        for one in card.blocks:
            shapes += _block(one, blocks.address(one.block), told(one), what, scale_n)
        shapes += _backer(plan, card)
        return Drawing(
            title=f"{title}, leaf {place.name}",
            description=f"{count_of(len(card.blocks), 'block')} seen from the back.",
            shapes=tuple(shapes),
            scale_n=scale_n,
            reading=tuple(_reading(plan, card, told, what, words)),
        )

    return draw


def _block(one: BedBlock, address: str, text: str, what: str, scale_n: float) -> list[Shape]:
    x, y, w, h = one.x_nm / 1e6, one.y_nm / 1e6, one.width_nm / 1e6, one.height_nm / 1e6
    wide, tall = w / scale_n, h / scale_n
    shapes: list[Shape] = [
        Rect(x_mm=x, y_mm=y, width_mm=w, height_mm=h, stroke=Stroke.THIN, layer="blocks", name=address)
    ]
    address_mm = legible_size(address, width_mm=wide, height_mm=0.36 * tall, most_mm=2.6)
    both = address_mm > 0 and tall >= 8.5
    size_mm = legible_size(text, width_mm=wide, height_mm=(0.5 if both else 0.9) * tall, most_mm=5.0, bold=True)
    if size_mm:
        at = (x + w / 2, y + (0.62 if both else 0.5) * h)
        shapes.append(Label(at=at, text=text, size_mm=size_mm, bold=True, layer=f"{what}s"))
    if both:
        at = (x + w / 2, y + 0.2 * h)
        shapes.append(Label(at=at, text=address, size_mm=address_mm, stand=Stand.MIDDLE, layer="addresses"))
    return shapes


def _backer(plan: Plan, card: BedCard) -> list[Shape]:
    place = plan.layout.leaves[card.leaf]
    right_nm = place.x_nm + place.width_nm - place.backer_x_nm - place.backer_width_nm
    return [
        Rect(
            x_mm=right_nm / 1e6,
            y_mm=(place.backer_y_nm - place.y_nm) / 1e6,
            width_mm=place.backer_width_nm / 1e6,
            height_mm=place.backer_height_nm / 1e6,
            stroke=Stroke.HIDDEN,
            layer="backer",
        )
    ]


def _reading(plan: Plan, card: BedCard, told: Callable[[BedBlock], str], what: str, words: Words) -> Iterator[str]:
    for one in card.blocks:
        text = told(one)
        said = f"no {what}" if text == "–" else f"{what} {text} {words.unit}"
        yield f"{plan.layout.blocks.address(one.block)}: {said}."
