"""Names and numbers of parts: alike parts share a number, and each has a name of its own on its leaf."""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterable
from dataclasses import replace

from bossage.body.records import Part, Role

ORDER = list(Role)


def named(parts: Iterable[Part]) -> tuple[Part, ...]:
    """The parts of one leaf in their order, from top to bottom and left to right within a kind."""
    ordered = sorted(parts, key=lambda p: (ORDER.index(p.role), p.label, -p.box.y0, p.from_x_nm, p.box.z0))
    words = [_word(part, ordered) for part in ordered]
    many = Counter(words)
    numbers: dict[tuple[object, ...], int] = {}
    seen: Counter[str] = Counter()
    found = []
    for part, word in zip(ordered, words, strict=True):
        number = numbers.setdefault(_kind(part), len(numbers) + 1)
        seen[word] += 1
        name = f"{word} {seen[word]}" if many[word] > 1 else word
        found.append(replace(part, name=name, number=number))
    return tuple(found)


def key_of(part: Part) -> str:
    """The part among those of all leaves and copies: `leaf/copy/name`."""
    return f"{part.leaf}/{part.copy}/{part.name}"


def word_of(part: Part) -> str:
    """The maker's own word, else that of its role; a layer of the foot next to the backer is its packer."""
    if part.role is Role.FOOT and part.box.z0 > 0:
        return "foot packer"
    return part.label or part.role.value


def marks_of(parts: tuple[Part, ...]) -> dict[str, str]:
    """What is pencilled on each part, by its key: its number; where leaves differ in it, with the leaf and the copy."""
    kinds: dict[int, set[tuple[object, ...]]] = defaultdict(set)
    numbers: dict[tuple[object, ...], set[int]] = defaultdict(set)
    of_leaf: dict[tuple[str, int], set[tuple[object, ...]]] = defaultdict(set)
    for part in parts:
        kind = _kind(part)
        kinds[part.number].add(kind)
        numbers[kind].add(part.number)
        of_leaf[part.leaf, part.number].add(kind)
    marks = {}
    for part in parts:
        mark = str(part.number)
        if len(kinds[part.number]) > 1 or len(numbers[_kind(part)]) > 1:
            copy = f", copy {part.copy}" if len(of_leaf[part.leaf, part.number]) > 1 else ""
            mark = f"{part.leaf} {mark}{copy}"
        marks[key_of(part)] = mark
    return marks


def _word(part: Part, parts: list[Part]) -> str:
    word = word_of(part)
    if not part.label and part.role in (Role.STRIP, Role.LIPPING):
        return f"{_side(part, parts)} {word}"
    return word


def _side(part: Part, parts: list[Part]) -> str:
    backer = next(p for p in parts if p.role is Role.BACKER).box
    box = part.box
    if box.x1 - box.x0 > box.y1 - box.y0:
        return "upper" if box.y0 + box.y1 > backer.y0 + backer.y1 else "lower"
    return "left" if box.x0 + box.x1 < backer.x0 + backer.x1 else "right"


def _kind(part: Part) -> tuple[object, ...]:
    """What makes parts alike: the same solid, wherever it sits."""
    box = part.box
    size = (box.x1 - box.x0, box.y1 - box.y0, box.z1 - box.z0)
    openings = tuple((x0 - box.x0, y0 - box.y0, x1 - box.x0, y1 - box.y0) for x0, y0, x1, y1 in part.openings_nm)
    notches = tuple((x0 - box.x0, x1 - box.x0, z0, z1) for x0, x1, z0, z1 in part.notches_nm)
    if part.role in (Role.STRIP, Role.LIPPING, Role.RIB, Role.FRAME, Role.STILE, Role.HINGE_STILE, Role.POST):
        size = (*sorted(size[:2]), size[2])  # type: ignore[assignment]
    return part.role, word_of(part), size, openings, notches, part.material
