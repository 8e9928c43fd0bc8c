"""What to heed while drilling, lifting, hanging and opening."""

from __future__ import annotations

from collections.abc import Iterator

from bossage.brief.records import Brief, FixtureKind, Opens
from bossage.checks import Caution
from bossage.hang.records import LeafHang, Lifting, WindowPlan
from bossage.hang.window import BATTEN_NM
from bossage.hang.words import DEFER, Voice
from bossage.zones.words import FIND_THEN_DRILL, STAYS_LIVE


def hang_cautions(
    brief: Brief, leaves: tuple[LeafHang, ...], liftings: tuple[Lifting, ...], put_down: str, voice: Voice
) -> Iterator[Caution]:
    """The usual cautions, said at their step; `put_down` says on what a leaf lies or stands."""
    hidden = " What is hidden here has cables or pipes of its own." if _served(brief) else ""
    yield Caution(
        step="drill",
        text=f"Find the frame of the wall, cables and pipes before the first hole. {FIND_THEN_DRILL} {STAYS_LIVE} Do "
        f"not drill above, below or beside boards, boxes, meters, sockets, switches and taps.{hidden} When in doubt "
        "ask a licensed electrician, gas fitter or plumber. Wear glasses, and a mask for the dust of the wall.",
        source=f"common practice, no source; {DEFER}",
    )
    yield Caution(
        step="lift",
        text="Take the leaf with the fingers flat behind its backer or frame, never by a block. Clear the way first, "
        f"agree on the words. {put_down} {_lift_words(liftings, voice)}",
        source=f"NIOSH 94-110 as read for this project; {DEFER}",
    )
    if brief.access.opens is Opens.LIFT_OFF:
        locked = " With its lock set it must not lift out as it is pushed up." if brief.access.lock else ""
        yield Caution(
            step="hang",
            text="Keep fingers out from between the halves of the cleat, and from behind the foot, as the leaf comes "
            f"down. Hang the bare backer first as a trial: the halves must close over their whole length, and the foot "
            f"must touch.{locked} Hang the finished piece only then.",
            source=f"common practice, no source; {DEFER}",
        )
    yield Caution(
        step="hang",
        text="The margins on the sheet “What holds it” are those of allowable loads, each by the rule named beside it, "
        "with its factors; they are no promise. Nobody has computed the wall. Where a fall can hurt somebody, have the "
        "fixing looked at by a licensed builder or engineer.",
        source=DEFER,
    )
    if brief.wall.circulation and not brief.access.lock and brief.access.opens is Opens.LIFT_OFF:
        yield Caution(
            step="hang",
            text="People walk along this wall: fit an anti-lift lock, so that a shoulder cannot lift the leaf out. The "
            "leaf in front of the fixture keeps one that opens by hand.",
            source=f"common practice, no source; {DEFER}",
        )
    swung = next((leaf.if_swung for leaf in leaves if leaf.if_swung), None)
    if swung is not None:
        pull = voice.force(max(hinge.pull_n for hinge in swung.hinges))
        yield Caution(
            step="open",
            text=f"What is opened this often is better hinged, or given a window of its own. On two hinges on the "
            f"{swung.side}, {voice.say(swung.spacing_nm)} apart, the upper one would be pulled by {pull} and carry the "
            f"leaf: {swung.screws_per_flap} screws in each flap, {swung.wall_fixings} fixings in the wall.",
            source=f"common practice, no source; hinge loads by moments; {DEFER}",
        )
    window = next((leaf.if_windowed for leaf in leaves if leaf.if_windowed), None)
    if window is not None:
        yield Caution(step="open", text=_window_words(window, voice), source=f"common practice, no source; {DEFER}")
    first, last = (
        ("turn the button of the lock out to the side first. Then ", " Turn it down again at the end.")
        if brief.access.lock
        else ("", "")
    )
    words = {
        Opens.LIFT_OFF: f"To open: {first}both hands at the sides, straight up until the cleat is free, then out."
        f"{last}",
        Opens.SWING: "Keep the swing clear of people and cables; do not lean on the open leaf or hang anything on it.",
    }
    yield Caution(step="open", text=words[brief.access.opens], source=f"common practice, no source; {DEFER}")


def _window_words(window: WindowPlan, voice: Voice) -> str:
    size = f"{voice.say(window.width_nm)} × {voice.say(window.height_nm)}"
    where = (
        f"A window for it: {size}, its lower left corner {voice.say(window.x_nm)} from the left corner of the wall and "
        f"{voice.say(window.y_nm)} above the floor, rows {window.from_row} to {window.to_row}, columns "
        f"{window.from_column} to {window.to_column}, {window.blocks} blocks, {voice.mass(window.mass_g)}."
    )
    if not window.fits:
        rest = voice.say(max(0, window.rest_nm))
        return f"{where} Only {rest} of backer would be left beside it: hinge the leaf instead."
    return (
        f"{where} Saw its board out of the backer along the joints before the blocks go on. Put battens of "
        f"{voice.say(BATTEN_NM)} behind all round ({voice.say(window.battens_nm)}). Hold it by two turn buttons, "
        f"or hang it on two hinges {voice.say(window.hinge_spacing_nm)} apart: the upper one is pulled by "
        f"{voice.force(window.hinge_pull_n)}."
    )


def _served(brief: Brief) -> bool:
    plain = {FixtureKind.HATCH, FixtureKind.OTHER, FixtureKind.CLEANOUT}
    return any(fixture.kind not in plain for fixture in brief.fixtures)


def _lift_words(liftings: tuple[Lifting, ...], voice: Voice) -> str:
    worst = min(liftings, key=lambda lifting: lifting.recommended_g)
    return (
        f"The lifting equation recommends at most {voice.mass(worst.recommended_g)} for one person here; it does not "
        "cover two people on one load, who together count for two thirds of the sum of both (HSE L23)."
    )
