"""What the piece hides: margins round each fixture, air, sound, sight and radio that must still get through."""

from __future__ import annotations

from bossage.brief.records import Brief, Fixture, FixtureKind, Need
from bossage.checks import Check, Verdict
from bossage.layout.grid import fixture_rect
from bossage.layout.records import Cover, Leaf, OpenCell, StandOff
from bossage.layout.rect import Rect, around
from bossage.layout.refused import to_hide
from bossage.layout.words import Voice
from bossage.units import NM_PER_MM

METAL_WORDS = ("metal", "steel", "alumin", "copper", "zinc", "brass", "foil", "mesh")


def copies_of(brief: Brief, fixture: Fixture) -> tuple[int, ...]:
    """The copies of a series in which a fixture occurs."""
    return fixture.copies or tuple(range(1, brief.piece.copies + 1))


def subject_of(brief: Brief, fixture: Fixture, copy: int) -> str:
    """How a check names a fixture, with its copy in a series."""
    return f"{fixture.name}, copy {copy}" if brief.piece.copies > 1 else fixture.name


def plan_covers(brief: Brief, leaves: tuple[Leaf, ...]) -> tuple[Cover, ...]:
    """How far the piece reaches past each fixture that may be covered, by the leaves that stand in front of it.

    Where no leaf does, the whole piece is measured, and at least one side comes out negative.
    """
    covers = []
    for fixture in to_hide(brief):
        face = fixture_rect(fixture)
        for copy in copies_of(brief, fixture):
            rects = [leaf_rect(leaf) for leaf in leaves if leaf.copy == copy]
            before = [r for r in rects if r.overlap(face)] or rects
            if not before:
                continue
            whole = around(before)
            covers.append(
                Cover(
                    fixture=fixture.name,
                    copy=copy,
                    left_nm=face.x - whole.x,
                    right_nm=whole.right - face.right,
                    below_nm=face.y - whole.y,
                    above_nm=whole.top - face.top,
                )
            )
    return tuple(covers)


def leaf_rect(leaf: Leaf) -> Rect:
    """A leaf's face on the wall."""
    return Rect(leaf.x_nm, leaf.y_nm, leaf.width_nm, leaf.height_nm)


def vent_areas(fixture: Fixture, open_cells: tuple[OpenCell, ...]) -> tuple[int, int, int]:
    """Open area wholly above, wholly below, and wanted, nm².

    Counted are open cells in columns that the fixture touches; wanted is the fixture's face, once on each side.
    """
    face = fixture_rect(fixture)
    above = below = 0
    for cell in open_cells:
        rect = Rect(cell.x_nm, cell.y_nm, cell.width_nm, cell.height_nm)
        if rect.right <= face.x or rect.x >= face.right:
            continue
        above += rect.area if rect.y >= face.top else 0
        below += rect.area if rect.top <= face.y else 0
    return above, below, face.area


def check_covers(brief: Brief, covers: tuple[Cover, ...], stand_off: StandOff, voice: Voice) -> tuple[Check, ...]:
    """`cover_margin` and `side_view` for each fixture and copy."""
    margin, wide = brief.blocks.cover_margin_nm, 2 * stand_off.stand_off_nm
    checks = []
    for cover in covers:
        sides = {
            "left": cover.left_nm,
            "right": cover.right_nm,
            "below": cover.below_nm,
            "above": cover.above_nm,
        }
        side = min(sides, key=lambda s: sides[s])
        least = sides[side]
        subject = f"{cover.fixture}, copy {cover.copy}" if brief.piece.copies > 1 else cover.fixture
        verdict = Verdict.FINE if least >= margin else Verdict.CAUTION if least >= 0 else Verdict.STOP
        reach = f"the piece reaches {voice.say(least)} past {cover.fixture} ({side})"
        checks.append(
            voice.check(
                "cover_margin",
                "Cover round what is hidden",
                verdict,
                found=reach if least >= 0 else f"{cover.fixture} shows by {voice.say(-least)} ({side})",
                allowed=f"at least {voice.say(margin)} on every side",
                why="less than that shows the fixture to anyone who does not stand straight in front",
                remedy=f"reach {voice.say(margin - least)} further on that side: move the piece or add to it",
                figure=least / NM_PER_MM,
                source="cover margin: our default, no source",
                subject=subject,
            )
        )
        if least >= 0:
            checks.append(
                voice.check(
                    "side_view",
                    "Hidden from the side",
                    Verdict.FINE if least >= wide else Verdict.CAUTION,
                    found=reach,
                    allowed=f"twice the stand-off, {voice.say(wide)}, hides it up to about 60° off square",
                    why="from the side one sees into the space behind the backer",
                    remedy=f"reach {voice.say(wide - least)} further on that side, or hang it nearer to the wall",
                    figure=least / NM_PER_MM,
                    source="geometry; twice the stand-off is our rule",
                    subject=subject,
                )
            )
    return tuple(checks)


def check_needs(
    brief: Brief, leaves: tuple[Leaf, ...], open_cells: tuple[OpenCell, ...], voice: Voice
) -> tuple[tuple[Check, ...], dict[str, int]]:
    """`vent`, `sound`, `sight`, `radio` for each fixture that needs it; areas of the tightest vent.

    Open cells are the vents of a piece whose frame closes its rim. Any other breathes by its rim as well: how much
    comes out of its body, `body_air`.
    """
    framed = any(part.role == "frame" for part in brief.behind)
    checks: list[Check] = []
    tightest: tuple[int, dict[str, int]] | None = None
    for fixture in brief.fixtures:
        # Copies share their geometry, so the first one in which the fixture occurs speaks for all.
        copy = copies_of(brief, fixture)[0]
        cells = tuple(c for c in open_cells if leaves[c.leaf].copy == copy)
        if Need.AIR in fixture.needs and framed:
            above, below, wanted = vent_areas(fixture, cells)
            checks.append(_check_vent(fixture, (above, below, wanted), voice))
            spare = min(above, below) - wanted
            if tightest is None or spare < tightest[0]:
                tightest = spare, {"vent_above": above, "vent_below": below, "vent_wanted": wanted}
        if Need.SOUND in fixture.needs:
            checks.append(_check_sound(fixture, cells, voice))
        if Need.SIGHT in fixture.needs:
            checks.append(_check_sight(fixture, cells, voice))
        if Need.RADIO in fixture.needs or fixture.kind is FixtureKind.ROUTER:
            checks.append(_check_radio(brief, fixture, voice))
    return tuple(checks), (tightest[1] if tightest else {})


def _check_vent(fixture: Fixture, areas: tuple[int, int, int], voice: Voice) -> Check:
    above, below, wanted = areas
    short = [
        f"{voice.say_area(wanted - have)} more {where}"
        for have, where in ((above, "above"), (below, "below"))
        if have < wanted
    ]
    return voice.check(
        "vent",
        "Air for what must breathe",
        Verdict.STOP if short else Verdict.FINE,
        found=f"in the columns of {fixture.name} {voice.say_area(above)} open above, {voice.say_area(below)} below",
        allowed=f"at least {voice.say_area(wanted)} above and below: the area of its face",
        why="without moving air it reads the wall behind the piece, not the room, or it overheats",
        remedy="leave cells open in its columns: " + " and ".join(short),
        source="open slots above and below are trade advice; the area is our rule",
        subject=fixture.name,
    )


def _check_sound(fixture: Fixture, cells: tuple[OpenCell, ...], voice: Voice) -> Check:
    face = fixture_rect(fixture)
    near = any(c.x_nm < face.right and c.x_nm + c.width_nm > face.x for c in cells)
    return voice.check(
        "sound",
        "Sound gets through",
        Verdict.FINE if near else Verdict.CAUTION,
        found=f"{'open cells' if near else 'no open cell'} in the columns of {fixture.name}",
        allowed="at least one open cell in its columns",
        why="solid wood in front of a sounder makes it much quieter",
        remedy="leave a cell open in its columns",
        source="common practice, no source",
        subject=fixture.name,
    )


def _check_sight(fixture: Fixture, cells: tuple[OpenCell, ...], voice: Voice) -> Check:
    face = fixture_rect(fixture)
    seen = sum(Rect(c.x_nm, c.y_nm, c.width_nm, c.height_nm).overlap(face) for c in cells)
    verdict = Verdict.STOP if not seen else Verdict.FINE if seen >= face.area else Verdict.CAUTION
    return voice.check(
        "sight",
        "What must be seen stays in sight",
        verdict,
        found=f"{voice.say_area(seen)} of {voice.say_area(face.area)} of {fixture.name} lies behind open cells",
        allowed="its whole face, or the part that is read",
        why="a display or a sensor that needs sight is of no use behind blocks",
        remedy=f"open cells in front of {voice.say_area(face.area - seen)} more of it, or leave it out of the cover",
        source="common practice, no source",
        subject=fixture.name,
    )


def _check_radio(brief: Brief, fixture: Fixture, voice: Voice) -> Check:
    parts = {
        "the backer": brief.backer.material,
        "the cleat": "metal" if brief.cleat.kind == "metal" else brief.cleat.material,
        "the edge strips": brief.edge.strip_material,
        **{part.name: part.species for part in brief.behind},
    }
    metal = [name for name, what in parts.items() if any(word in what.lower() for word in METAL_WORDS)]
    return voice.check(
        "radio",
        "Radio gets through",
        Verdict.STOP if metal else Verdict.FINE,
        found=f"{' and '.join(metal)} of metal in front of {fixture.name}"
        if metal
        else "backer, cleat, strips and what is behind are wood and board",
        allowed="no metal sheet, mesh, foil or metal-flake paint in front of it",
        why="dry wood is nearly clear to radio, metal is not",
        remedy=f"make {' and '.join(metal)} of wood or board",
        source="trade advice from several sources",
        subject=fixture.name,
    )
