"""The anti-lift lock in sentences: how it is made, fixed to the wall, set and undone."""

from __future__ import annotations

from bossage.body import Part, Role
from bossage.body.lock import TurnButton, turn_button
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
        f"Saw lock button (no. {lock.button.number}) and lock ledge (no. {lock.ledge.number}) by hand from one "
        f"hardwood offcut. The button: {words.bare(lock.length_nm)} along the grain × {words.bare(lock.wide_nm)} × "
        f"{words.length(lock.thick_nm)}. The ledge: {_ledge_words(lock.ledge, words)}. The button's hole is "
        f"{words.length(lock.from_screw_nm)} from its lower end, and that end is rounded to a half circle, or "
        f"its corners would meet the ledge as it turns. Fix it to the wall now, as no driver reaches it "
        f"behind the leaf. It goes {words.length(lock.x_nm)} from the left corner, its screw "
        f"{words.length(lock.screw_y_nm)} above the floor. Take one of the {fixing.what}. "
        f"{wall_drill_words(fixing.holes, 'button', words)} Sink the head flush. It turns "
        f"stiffly and stays where it is put. Leave it turned out to the {_outwards(plan, hung, lock)}. "
        f"The ledge goes on to the leaf, as the sheet 'The back' says."
    ]


def _lock_of(plan: Plan, hung: LeafHang) -> TurnButton | None:
    return turn_button(plan.body.of(hung.leaf, hung.copy))


def _outwards(plan: Plan, hung: LeafHang, button: TurnButton) -> str:
    backer = next(p for p in plan.body.of(hung.leaf, hung.copy) if p.role is Role.BACKER)
    return "right" if 2 * button.x_nm > backer.from_x_nm + backer.to_x_nm else "left"


def _ledge_words(ledge: Part, words: Words) -> str:
    box = ledge.box
    sides = f"{words.bare(box.x1 - box.x0)} along the grain × {words.bare(box.y1 - box.y0)}"
    return f"{sides} × {words.length(box.z1 - box.z0)}, its grain along the backer's lower edge"


def set_steps(plan: Plan, hung: LeafHang, words: Words) -> list[str]:
    """On the day, when the leaf hangs."""
    lock = _lock_of(plan, hung)
    if lock is None or hung.room is None:
        return []
    return [
        f"Close to the wall, lift the leaf at least {words.length(hung.room.wanted_nm)} and no more than "
        f"{words.length(lock.lift_nm)}: higher, its ledge meets the lock's button. Once it hangs, turn the button "
        "straight down, over its ledge, with a finger or a flat stick from the side or from below. Its lower end then "
        f"stands {words.length(lock.play_nm)} over the ledge, and a push from below does not lift the leaf. Before the "
        f"leaf is lifted off, turn the button out to the {_outwards(plan, hung, lock)}."
    ]
