"""What a fire officer is shown: how much wood on which wall, of what class by its makers' word, what is hot behind it.

Nothing is decided here: a class is what a maker states by EN 13501-1 or the code of the place, and what may hang on a
wall is the fire officer's to say.
"""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, Fixture, FixtureKind, Medium
from bossage.pack.sheet import Column, Para, Part, Table
from bossage.pack.sheets.shims import material_words
from bossage.pack.words import Words, listed
from bossage.plan import Plan
from bossage.settling import Who

NOT_STATED = "not stated"
ASK_MAKER = "ask the makers of what is not stated for the class and for the paper that proves it"

WARM: dict[FixtureKind, str] = {
    FixtureKind.ELECTRICAL: "warm in use, hot in a fault",
    FixtureKind.CABLE_BOX: "warm in use, hot in a fault",
    FixtureKind.ACCESSORY: "warm in use, hot in a fault",
    FixtureKind.ROUTER: "warm all the time",
    FixtureKind.CHIME: "its transformer is warm all the time",
    FixtureKind.MANIFOLD: "as warm as its water",
    FixtureKind.APPLIANCE: "burns something",
}
"""What is warm by its kind: ours."""


def fire_parts(plan: Plan, who: Who, words: Words) -> Iterator[Part]:
    """Area, share of the wall, classes and heat; for the fire officer alone."""
    if who is not Who.FIRE:
        return
    rows = (
        ("on this wall", _area(plan, words)),
        ("class of its parts", "; ".join(_classes(plan.brief))),
        ("hot behind it", listed(list(_behind(plan.brief))) or "nothing that the brief names"),
        ("hot near it", listed(list(_near(plan))) or "nothing that the brief names"),
    )
    columns = (Column(kind="strong", mm=34.0), Column(wide=True))
    yield Table(columns=columns, rows=rows, groups=tuple(range(len(rows))), tight=True)
    yield Para(
        text="Classes are those of EN 13501-1 or of the code of the place, as the makers state them. A class holds for "
        "what was tested: nobody has tested these together as this piece. The fire code of the place governs.",
        small=True,
    )


def _area(plan: Plan, words: Words) -> str:
    """The face, its share of the wall, all wood that the air reaches, the depth."""
    wall, leaves = plan.brief.wall, [leaf for leaf in plan.layout.leaves if leaf.copy == 1]
    face = sum(leaf.width_nm * leaf.height_nm for leaf in leaves) / 1e12
    share = 100 * face / (wall.width_nm * wall.height_nm / 1e12)
    coated = plan.paint.painted_mm2 / plan.brief.piece.copies
    return (
        f"{words.area_mm2(face)} of wooden blocks, {share:.1f} % of the wall of "
        f"{words.size(wall.width_nm, wall.height_nm)}; faces and sides that are coated {words.area_mm2(coated)}; "
        f"{words.length(plan.layout.depth_nm)} proud."
    )


def _classes(brief: Brief) -> Iterator[str]:
    """Wood, board and coating, each with what its maker states."""
    coating = brief.paint.topcoat or listed(list(dict.fromkeys(family.finish for family in brief.families)))
    missing = False
    for what, stated in (
        (f"blocks of {material_words(brief.blocks.species)}", brief.blocks.fire_class),
        (f"backer of {material_words(brief.backer.material)}", brief.backer.fire_class),
        (f"coating ({coating})", brief.paint.fire_class),
    ):
        missing = missing or not stated
        yield f"{what}: {f'{stated}, as its maker states' if stated else NOT_STATED}"
    if missing:
        yield ASK_MAKER


def _behind(brief: Brief) -> Iterator[str]:
    for fixture in brief.fixtures:
        warm = _warm(fixture)
        if warm:
            yield f"{fixture.name} ({warm})"


def _warm(fixture: Fixture) -> str:
    """How it is warm; empty where nothing of its kind is."""
    if fixture.kind is FixtureKind.CLEANOUT and fixture.flue_in_use:
        return "a flue in use"
    if fixture.kind is FixtureKind.METER and fixture.medium in (Medium.ELECTRICITY, None):
        return WARM[FixtureKind.ELECTRICAL]
    return WARM.get(fixture.kind, "")


def _near(plan: Plan) -> Iterator[str]:
    """What `heat_near` found: the same distances, said once."""
    for check in plan.checks:
        if check.name == "heat_near":
            yield f"{check.found} ({check.allowed})"
