"""The order of making a leaf's body: it follows from the joints, outward from the backer and from the wall."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.body.records import WALL, How, Joint, Part, Role, Step

HELD = (How.GLUE, How.GLUE_AND_SCREWS, How.SCREWS)


def order_of_making(parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> tuple[Step, ...]:
    """Steps for the leaf that these parts are of.

    Openings and notches are sawn before anything is sealed or glued. What stays on the wall goes up before anything is
    held on the backer of a leaf that hangs on a cleat, since its panel half, still loose, loads the wall half as a
    trial. The post of a leaf that swings goes up after its stile and its hinges. Each part is held on what is there
    already, nearest to the backer first; then the bare leaf is hung as a trial. Edge strips carry the ring, and go on
    with its blocks, last of all: their margin of the backer stays bare until then.
    """
    return tuple(_steps(parts, joints))


def _steps(parts: tuple[Part, ...], joints: tuple[Joint, ...]) -> Iterator[Step]:
    leaf = parts[0].leaf
    sawn = [p.name for p in parts if p.openings_nm or p.notches_nm]
    if sawn:
        yield Step(leaf=leaf, kind="saw", parts=tuple(sawn))
    backer = next(p.name for p in parts if p.role is Role.BACKER)
    still = [p for p in parts if not p.moves]
    fixed = [p for p in still if p.role not in (Role.HINGE, Role.KEEPER)]
    wall = list(_outward(leaf, "wall", WALL, [p for p in fixed if p.role is not Role.BUTTON], joints))
    halves, under = (tuple(p.name for p in parts if p.role is role) for role in (Role.PANEL_HALF, Role.WALL_HALF))
    if halves:
        yield from wall
        yield Step(leaf=leaf, kind="proof", parts=halves, on=under)
        yield from _outward(leaf, "wall", WALL, [p for p in fixed if p.role is Role.BUTTON], joints)
    later = (Role.STRIP, Role.CATCH)
    held = [p for p in parts if p.moves and p.name != backer and p.role not in later]
    yield from _outward(leaf, "hold", backer, held, joints)
    catches = [p for p in parts if p.role is Role.CATCH]
    for one in catches:
        on = tuple(joint.b for joint in joints if joint.a == one.name and joint.how is How.SCREWS)
        yield Step(leaf=leaf, kind="bench", parts=(one.name,), on=on, how=How.SCREWS)
    hinges = tuple(p.name for p in parts if p.role is Role.HINGE)
    if hinges:
        wood = tuple(p.name for p in parts if p.role in (Role.HINGE_STILE, Role.POST))
        yield Step(leaf=leaf, kind="bench", parts=hinges, on=wood, how=How.SCREWS)
    if not halves:
        yield from wall
    tried = tuple(p.name for p in fixed if p.role not in (Role.STAY, Role.STAY_BLOCK))
    yield Step(leaf=leaf, kind="try", parts=(backer,), on=tried or (WALL,))
    yield from _outward(leaf, "keep", WALL, [p for p in still if p.role is Role.KEEPER], joints)
    yield from _outward(leaf, "ring", backer, [p for p in parts if p.role is Role.STRIP], joints)


def _outward(leaf: str, kind: str, start: str, parts: list[Part], joints: tuple[Joint, ...]) -> Iterator[Step]:
    """Parts by the joint that holds them on what is there, layer by layer; those of a kind go on together."""
    there, left = {start}, {p.name: p for p in parts}
    while left:
        reach: dict[tuple[Role, How], tuple[list[str], set[str]]] = {}
        for name, part in left.items():
            joint = next((j for j in joints if j.how in HELD and _joins(j, name, there)), None)
            if joint is not None:
                names, on = reach.setdefault((part.role, joint.how), ([], set()))
                names.append(name)
                on.add(joint.b if joint.a == name else joint.a)
        if not reach:
            return
        for (_, how), (names, on) in reach.items():
            yield Step(leaf=leaf, kind=kind, parts=tuple(names), on=tuple(sorted(on)), how=how)
        for names, _ in reach.values():
            there |= set(names)
            for name in names:
                del left[name]


def _joins(joint: Joint, name: str, there: set[str]) -> bool:
    return (joint.a == name and joint.b in there) or (joint.b == name and joint.a in there)
