"""What the body's checks say: a place for everything, nothing in the same place twice, a way off, air, joints."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable, Iterator

from bossage.body.hardware import INSTEAD, LOCK
from bossage.body.joints import without_way
from bossage.body.place import Draft
from bossage.body.records import Choice, Clash, Joint, LeftOver, Move, Part, Role, Wants, Way
from bossage.body.site import Site
from bossage.body.words import Voice
from bossage.brief.records import Brief
from bossage.checks import Check, Edit, Verdict
from bossage.layout.edits import toml_length
from bossage.layout.grid import PLAY_NM, lift_room_wanted
from bossage.layout.records import Layout

GEOMETRY = "geometry of the piece as one solid"
PLACE_TITLE = "A place for everything behind the backer"
PLACE_ALLOWED = "cleat, foot spacer, frame, stiles and ribs clear of one another, of what is hidden and of its air"
PLACE_WHY = "two solids cannot be in one place: the piece would not go together, or would not hang"
PATH_WHY = "a piece that cannot be taken off hides for good what it hides"
PATH_SOURCE = "swept solid of every part against all that stands still"


def check_places(
    brief: Brief, draft: Draft, site: Site, wants: Wants | None, left: tuple[LeftOver, ...], voice: Voice
) -> Iterator[Check]:
    """`body_place`: no place for the cleat or the foot; `body_part`: one for each part of the brief without a place."""
    if draft.forced or draft.foot_missing:
        what = "the cleat" if draft.forced else "the foot spacer"
        yield voice.check(
            "body_place",
            PLACE_TITLE,
            Verdict.STOP,
            found=f"no place is left for {what}: {draft.reason(site)}",
            allowed=PLACE_ALLOWED,
            why=PLACE_WHY,
            remedy=wants.words if wants else "may the piece be larger, or elsewhere?",
            source=GEOMETRY,
            subject=site.leaf.name if len(site.layout.leaves) > 1 else "",
            edits=wants.edits if wants else (),
        )
        return
    for name in dict.fromkeys(one.name for one in left):
        shortest = min((one for one in left if one.name == name), key=lambda one: one.longest_nm)
        yield from _check_left(brief, shortest, voice)


def check_wishes(brief: Brief, choices: Iterable[Choice], voice: Voice) -> Iterator[Check]:
    """`body_wish`: where the cleat or the foot had to depart from the brief's own words."""
    cleat = brief.cleat
    near = 2 * PLAY_NM[brief.piece.unit]  # what a cleat gives up of its length to go in between two others
    for one in choices:
        long = max(b - a for a, b in one.pieces_nm)
        middle = sum(a + b for a, b in one.pieces_nm) // (2 * len(one.pieces_nm))
        said = (
            ("length", "long", cleat.length_nm, long),
            ("offset", "right of the middle", cleat.offset_nm or None, middle - one.leaf_middle_nm),
            ("arm", "over what the leaf bears on", cleat.arm_nm, one.arm_nm),
        )
        departs = [(key, words, asked, got) for key, words, asked, got in said if asked is not None]
        departs = [entry for entry in departs if abs(entry[2] - entry[3]) > near]
        for key, words, asked, got in departs:
            yield voice.check(
                "body_wish",
                "The cleat departs from the brief",
                Verdict.CAUTION,
                found=f"the brief wants the cleat {voice.say(asked)} {words}; there is a place for {voice.say(got)}",
                allowed=f"as the brief says, within {voice.say(near)}",
                why="what a brief asks for and does not get should be known before anything is sawn",
                remedy=f"leave cleat.{key} out of the brief",
                source=GEOMETRY,
                subject=key,
                edits=(Edit(op="remove", path=("cleat", key)),) if asked else (),
            )


def all_placed(voice: Voice) -> Check:
    """`body_place` where nothing is without its place."""
    return voice.check(
        "body_place",
        PLACE_TITLE,
        Verdict.FINE,
        found="every part has its place, and all of them can be put together",
        allowed=PLACE_ALLOWED,
        why=PLACE_WHY,
        remedy="",
        source=GEOMETRY,
    )


def _check_left(brief: Brief, one: LeftOver, voice: Voice) -> Iterator[Check]:
    number = next((n for n, part in enumerate(brief.behind) if part.name == one.name), None)
    edits: tuple[Edit, ...] = ()
    remedy, verdict = "leave it out, or move what is in its way", Verdict.STOP
    if number is None:
        remedy = INSTEAD.get(one.name, "may the leaf turn about another side?")
        if one.name == LOCK:
            edits = (Edit(op="set", path=("access", "lock"), value=False),)
        else:
            verdict = Verdict.CAUTION
    if one.longest_nm and number is not None:
        remedy = f"make it {voice.say(one.longest_nm)} long"
        edits = (
            Edit(op="set", path=("behind", number, "length"), value=toml_length(one.longest_nm, brief.piece.unit)),
        )
    yield voice.check(
        "body_part",
        "A part without a place",
        verdict,
        found=f"{one.name} has no place on the back: {one.why}",
        allowed=f"at most {voice.say(one.longest_nm)} long there" if one.longest_nm else "none of its section",
        why="what has no place cannot be fitted, and what it is for stays undone",
        remedy=remedy,
        source=GEOMETRY,
        subject=one.name,
        edits=edits,
    )


def check_clashes(clashes: tuple[Clash, ...], parts: tuple[Part, ...], voice: Voice) -> Iterator[Check]:
    """`body_clash`: two solids in one place. The backer in a fixture's air is what `bare_cleat` tells."""
    backers = {part.name for part in parts if part.role is Role.BACKER}
    for one in clashes:
        if one.air_only and one.a in backers:
            continue
        yield voice.check(
            "body_clash",
            "Two things in one place",
            Verdict.CAUTION if one.air_only else Verdict.STOP,
            found=f"the {one.a} reaches {voice.say(one.deep_nm)} into "
            f"{'the air round ' if one.air_only else ''}the {one.b}",
            allowed="nothing in the place of another part, of a fixture, or of the air round a fixture",
            why="it cannot be built so"
            if not one.air_only
            else "what is hidden gets warm, rubs or cannot be worked at",
            remedy=f"which of the two can move by {voice.say(one.deep_nm)}, or be so much smaller?",
            source=GEOMETRY,
            subject=f"{one.a} and {one.b}",
        )


def check_moves(moves: tuple[Move, ...], brief: Brief, layout: Layout, voice: Voice) -> Iterator[Check]:
    """`body_path`: what a leaf meets as it comes off. Room above is told by `lift_room` where that is too small."""
    low = layout.lift_room_nm < lift_room_wanted(brief)
    if not moves:
        return
    blocked = [m for m in moves if m.meets and not (low and m.at == "as it is lifted")]
    several = len({move.leaf for move in moves}) > 1
    for move in blocked:
        yield voice.check(
            "body_path",
            "The way off the wall",
            Verdict.STOP,
            found=f"{f'{move.leaf}: ' if several else ''}{move.part} meets {move.meets} {move.at}",
            allowed=f"nothing in the way while a leaf moves {move.how}",
            why=PATH_WHY,
            remedy=f"what can be moved: the piece, or {move.meets}?",
            source=PATH_SOURCE,
            subject=f"{move.leaf if several else ''} {move.meets}".strip(),
        )
    if not blocked:
        yield voice.check(
            "body_path",
            "The way off the wall",
            Verdict.FINE,
            found=f"{'each leaf' if several else 'the leaf'} moves {moves[0].how} and meets nothing",
            allowed=f"nothing in the way while a leaf moves {moves[0].how}",
            why=PATH_WHY,
            remedy="",
            source=PATH_SOURCE,
        )


def check_ways(ways: tuple[Way, ...], voice: Voice) -> Iterator[Check]:
    """`body_air`: the narrowest cut on the way of the air, low and high, for each thing that needs air."""
    by_fixture: dict[str, list[Way]] = defaultdict(list)
    for way in ways:
        by_fixture[way.fixture].append(way)
    for fixture, both in by_fixture.items():
        worst = min(both, key=lambda way: way.free_mm2)
        low, high = (next(w.free_mm2 for w in both if w.side == side) for side in ("low", "high"))
        yield voice.check(
            "body_air",
            f"Air behind the piece for the {fixture}",
            Verdict.FINE if worst.free_mm2 >= worst.wanted_mm2 else Verdict.STOP,
            found=f"the narrowest cut on the way is {voice.say_area(round(low * 1e12))} low down and "
            f"{voice.say_area(round(high * 1e12))} high up",
            allowed=f"at least {voice.say_area(round(worst.wanted_mm2 * 1e12))}, its own face, low and high",
            why="warm air rises: what needs air wants a way in below and a way out above, or it reads and works wrong",
            remedy=f"open cells {'under' if worst.side == 'low' else 'over'} the {fixture}, or a shallower frame?",
            source="max-flow min-cut over the space behind the backer; the wanted area is our assumption",
            subject=fixture,
        )


def check_joints(parts: tuple[Part, ...], joints: tuple[Joint, ...], voice: Voice) -> Iterator[Check]:
    """`body_joint`: a part that nothing holds."""
    for part in without_way(parts, joints):
        yield voice.check(
            "body_joint",
            "A part that nothing holds",
            Verdict.STOP,
            found=f"the {part.name} touches nothing that leads to {'the backer' if part.moves else 'the wall'}",
            allowed="a way over joints from every part",
            why="what nothing holds falls off",
            remedy="what should it be held on?",
            source=GEOMETRY,
            subject=part.name,
        )
