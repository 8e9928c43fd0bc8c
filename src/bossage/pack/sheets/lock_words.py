"""The anti-lift lock in sentences: how it is made, fixed to the wall, set and undone."""

from __future__ import annotations

from bossage.body import Role
from bossage.body.lock import LEDGE_NM, PLAY_NM, WIDE_NM, TurnButton, turn_button
from bossage.hang.lock import lock_fixing
from bossage.hang.records import LeafHang
from bossage.pack.drawings.hanging import still_of
from bossage.pack.sheets.drilling import wall_drill_words
from bossage.pack.words import Words
from bossage.plan import Plan


def lock_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """At the wall, before the bare leaf hangs: no driver reaches the screw behind it."""
    told = []
    for part in still_of(plan, hung, Role.LOCK):
        button = turn_button(part)
        fixing = lock_fixing(plan.brief, button.thick_nm)
        told.append(
            f"Make the anti-lift lock (no. {part.number}), a turn button of hardwood "
            f"{words.bare(button.length_nm)} × {words.bare(WIDE_NM)} × {words.length(button.thick_nm)}. Its hole is "
            f"{words.length(button.from_screw_nm)} from its lower end. Fix it to the wall now, as no driver reaches it "
            f"behind the leaf: {words.length(button.x_nm)} from the left corner, its screw "
            f"{words.length(button.screw_y_nm)} above the floor, with one of the {fixing.what}. "
            f"{wall_drill_words(fixing.holes, 'button', words)} Sink the head flush. It turns "
            f"stiffly and stays where it is put. Leave it turned out to the side. {_ledge(plan, hung, button, words)}"
        )
    return told


def _ledge(plan: Plan, hung: LeafHang, button: TurnButton, words: Words) -> str:
    backer = next(p for p in plan.body.of(hung.leaf, hung.copy) if p.role is Role.BACKER)
    up = button.ledge_y_nm - backer.box.y0
    where = (
        f"its lower edge {words.length(up)} above that of the backer" if up else "flush with the backer's lower edge"
    )
    return (
        f"Glue its ledge, hardwood {words.bare(WIDE_NM)} wide, {words.bare(LEDGE_NM)} high and "
        f"{words.length(button.ledge_deep_nm)} deep, to the back of the backer as the back is made: {where}, its "
        f"middle {words.length(backer.to_x_nm - button.x_nm)} from the edge at the right, seen from the front."
    )


def set_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """On the day, when the leaf hangs."""
    return [
        "Turn the button of the lock straight down, over its ledge, with a finger or a flat stick from the side or "
        f"from below. Its lower end then stands {words.length(PLAY_NM)} over the ledge, and a push from below does not "
        "lift the leaf. Before the leaf is lifted off, turn the button out to the side."
        for _ in still_of(plan, hung, Role.LOCK)
    ]
