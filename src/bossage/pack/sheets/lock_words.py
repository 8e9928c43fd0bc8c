"""The anti-lift lock in sentences: how it is made, fixed to the wall, set and undone."""

from __future__ import annotations

from bossage.body import Role
from bossage.body.lock import LEDGE_NM, PLAY_NM, WIDE_NM, TurnButton, turn_button
from bossage.hang.lock import lock_fixing
from bossage.hang.records import LeafHang
from bossage.pack.sheets.drilling import wall_drill_words
from bossage.pack.words import Words
from bossage.plan import Plan


def lock_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """At the wall, before the bare leaf hangs: no driver reaches the screw behind it; none without a lock."""
    lock = _lock_of(plan, hung)
    if lock is None:
        return []
    fixing = lock_fixing(plan.brief, lock.thick_nm)
    return [
        f"Make the lock button (no. {lock.button.number}) of hardwood, {words.bare(lock.length_nm)} × "
        f"{words.bare(WIDE_NM)} × {words.length(lock.thick_nm)}. Its hole is "
        f"{words.length(lock.from_screw_nm)} from its lower end, and that end is rounded to a half circle, or "
        f"its corners would meet the ledge as it turns. Fix it to the wall now, as no driver reaches it "
        f"behind the leaf: {words.length(lock.x_nm)} from the left corner, its screw "
        f"{words.length(lock.screw_y_nm)} above the floor, with one of the {fixing.what}. "
        f"{wall_drill_words(fixing.holes, 'button', words)} Sink the head flush. It turns "
        f"stiffly and stays where it is put. Leave it turned out to the {_outwards(plan, hung, lock)}. "
        f"The lock ledge (no. {lock.ledge.number}) is on the leaf by now, as the sheet 'The back' says."
    ]


def _lock_of(plan: Plan, hung: LeafHang) -> TurnButton | None:
    return turn_button(plan.body.of(hung.leaf, hung.copy))


def _outwards(plan: Plan, hung: LeafHang, button: TurnButton) -> str:
    backer = next(p for p in plan.body.of(hung.leaf, hung.copy) if p.role is Role.BACKER)
    return "right" if 2 * button.x_nm > backer.from_x_nm + backer.to_x_nm else "left"


def most_lift_nm(button: TurnButton) -> int:
    """How far the ledge may be lifted until it meets the button that is turned out above it."""
    return button.screw_y_nm - WIDE_NM // 2 - button.ledge_y_nm - LEDGE_NM - PLAY_NM


def set_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """On the day, when the leaf hangs."""
    lock = _lock_of(plan, hung)
    if lock is None:
        return []
    return [
        f"Close to the wall, lift the leaf no more than {words.length(most_lift_nm(lock))}: higher, its ledge meets "
        "the lock's button. Once it hangs, turn the button straight down, over its ledge, with a finger or a flat "
        f"stick from the side or from below. Its lower end then stands {words.length(PLAY_NM)} over the ledge, and a "
        "push from below does not lift the leaf. Before the leaf is lifted off, turn the button out to the "
        f"{_outwards(plan, hung, lock)}."
    ]
