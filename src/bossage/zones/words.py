"""The words with which every hole in a wall is begun: the one home of how to look, switch off and drill.

A detector finds a cable by its field, so that the power stays on while somebody looks, and goes off before the hole.
"""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, Fixture, FixtureKind, Side
from bossage.zones.rules import UNKNOWN, WHERE, led_from, led_without_word

FIND_THEN_DRILL = (
    "Prove the detector on a cable that you know to be live. Search with the power on, and mark what it finds. Then "
    "switch off, lock or tape the breaker, prove dead with a tester at the nearest outlet. Drill with a battery tool."
)
IN_SHORT = (
    "mark what a proven detector finds with the power on, then switch off and prove dead before the hole; leave what "
    "is in doubt to a licensed electrician, gas fitter or plumber"
)
STAYS_LIVE = (
    "The tails of a meter and the supply side of a board stay live with the main switch off; gas and water do not go "
    "off with the power."
)
BY_BOX = (
    "Before each hole do what the box at the head of the hang sheet says: look with the power on, then switch off and "
    "prove dead."
)
LICENSED = "What is in doubt is for a licensed person, and the local code goes first."
NOT_PROVEN = "What is not hatched is not proven empty"
OTHER_SIDE = "a thin wall also holds what belongs to the room behind it, so look there too"


def caution(*, hatched: bool) -> str:
    """What a drawing of the wall says of drilling; `hatched`: it has zones."""
    first = NOT_PROVEN if hatched else "Nothing is hatched here, and that proves nothing"
    return f"{first}; {OTHER_SIDE}. {BY_BOX} {LICENSED}"


def told(brief: Brief, copy: int) -> tuple[str, ...]:
    """What zones do not say, as sentences: sides that the brief frees, and what leads nobody knows where."""
    there = [one for one in brief.fixtures if not one.copies or copy in one.copies]
    return (*(said for one in there for said in _freed(one)), *(said for one in there for said in _not_known(one)))


def _freed(one: Fixture) -> Iterator[str]:
    """Sides of a fixture that count as free on the brief's word alone."""
    if one.fed_from is None:
        return
    free = [WHERE[side] for side in led_without_word(one) if side not in one.fed_from]
    if free:
        led = _listed([_FROM[side] for side in one.fed_from]) or "straight through the wall"
        yield (
            f"{_listed(free).capitalize()} {one.name} is counted free, as the brief has it fed {led}: use the detector "
            "there above all."
        )


def _not_known(one: Fixture) -> Iterator[str]:
    if one.kind not in UNKNOWN or one.fed_from is not None:
        return
    if one.kind is FixtureKind.CLEANOUT:
        yield (
            f"The flue of {one.name} runs up behind the wall, perhaps behind one brick: drill without hammer, and stop "
            "if the bit falls through."
        )
        return
    hatched = "above and below it is hatched by guess" if led_from(one) else "nothing is hatched for it"
    yield f"What leads to {one.name} is not known ({one.kind.value}); {hatched}: look before each hole near it."


_FROM = {Side.TOP: "from above", Side.BOTTOM: "from below", Side.LEFT: "from the left", Side.RIGHT: "from the right"}


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
