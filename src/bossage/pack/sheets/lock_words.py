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
            f"{words.length(button.from_screw_nm)} from its lower end, and that end is rounded to a half circle, or "
            f"its corners would meet the ledge as it turns. Fix it to the wall now, as no driver reaches it "
            f"behind the leaf: {words.length(button.x_nm)} from the left corner, its screw "
            f"{words.length(button.screw_y_nm)} above the floor, with one of the {fixing.what}. "
            f"{wall_drill_words(fixing.holes, 'button', words)} Sink the head flush. It turns "
            f"stiffly and stays where it is put. Leave it turned out to the {_outwards(plan, hung, button)}. "
            f"{ledge_words(plan, hung, words)}"
        )
    return told


def _outwards(plan: Plan, hung: LeafHang, button: TurnButton) -> str:
    backer = next(p for p in plan.body.of(hung.leaf, hung.copy) if p.role is Role.BACKER)
    return "right" if 2 * button.x_nm > backer.from_x_nm + backer.to_x_nm else "left"


def most_lift_nm(button: TurnButton) -> int:
    """How far the ledge may be lifted until it meets the button that is turned out above it."""
    return button.screw_y_nm - WIDE_NM // 2 - button.ledge_y_nm - LEDGE_NM - PLAY_NM


def ledge_words(plan: Plan, hung: LeafHang, words: Words) -> str:
    """The ledge that belongs to the lock, glued to the leaf; nothing without a lock."""
    return " ".join(_ledge(plan, hung, turn_button(part), words) for part in still_of(plan, hung, Role.LOCK))


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
        "Close to the wall, lift the leaf no more than "
        f"{words.length(most_lift_nm(turn_button(part)))}: higher, its ledge meets the lock's button. "
        "Once it hangs, turn the button straight down, over its ledge, with a finger or a flat stick from the side or "
        f"from below. Its lower end then stands {words.length(PLAY_NM)} over the ledge, and a push from below does not "
        f"lift the leaf. Before the leaf is lifted off, turn the button out to the "
        f"{_outwards(plan, hung, turn_button(part))}."
        for part in still_of(plan, hung, Role.LOCK)
    ]
