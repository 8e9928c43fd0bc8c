"""Which leaf hides what: the leaf to be opened for each thing behind the piece."""

from __future__ import annotations

from dataclasses import dataclass

from bossage.brief.records import Fixture
from bossage.hang.records import LeafHang
from bossage.layout.records import Leaf
from bossage.pack.drawings.cut import hidden_by
from bossage.pack.words import listed
from bossage.plan import Plan


@dataclass(frozen=True, slots=True, kw_only=True)
class Hiding:
    """A leaf that hides something, how it hangs, and the names of what it hides."""

    leaf: Leaf
    hung: LeafHang
    things: tuple[str, ...]


def hiding(plan: Plan) -> tuple[Hiding, ...]:
    """The leaves that hide something, in the order of the brief, each once; the first leaf where none does.

    The leaves of a series hang at one place of their own, so a name stands for all its copies.
    """
    found: dict[str, list[str]] = {}
    for leaf in plan.layout.leaves:
        found.setdefault(leaf.name, []).extend(one.name for one in hidden_by(plan, leaf))
    names = [name for name, things in found.items() if things] or [plan.layout.leaves[0].name]
    return tuple(_hiding(plan, name, tuple(dict.fromkeys(found[name]))) for name in names)


def several_leaves(plan: Plan) -> bool:
    """Whether the right leaf has to be found at all."""
    return len({leaf.name for leaf in plan.layout.leaves}) > 1


def leaves_to_open(plan: Plan, fixture: Fixture) -> tuple[str, ...]:
    """Names of the leaves before a thing."""
    return tuple(one.leaf.name for one in hiding(plan) if fixture.name in one.things)


def opened_for(one: Hiding) -> str:
    """`Leaf C, for the fuse box`."""
    return f"Leaf {one.leaf.name}, for the {listed(one.things)}" if one.things else f"Leaf {one.leaf.name}"


def _hiding(plan: Plan, name: str, things: tuple[str, ...]) -> Hiding:
    leaf = next(leaf for leaf in plan.layout.leaves if leaf.name == name)
    hung = next(one for one in plan.hang.leaves if one.leaf == name and one.copy == leaf.copy)
    return Hiding(leaf=leaf, hung=hung, things=things)
