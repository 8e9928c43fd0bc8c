"""Which sheet and which thing on it a check is about, so that its note can be pinned there."""

from __future__ import annotations

from typing import Any

from bossage.asking import answer_of, is_asked, to_settle
from bossage.checks import Check
from bossage.plan import Plan
from bossage.settling import SETTLEABLE
from bossage.stakes import AT_STAKE

#: Check by name: the sheet it is pinned on, and what kind of thing its subject is. The rest goes by its stage.
_PINNED: dict[str, tuple[str, str]] = {
    "drift": ("sizes", "grid"),
    "paint_build": ("sizes", "grid"),
    "mixed": ("sizes", "footprint"),
    "cover_margin": ("wall", "fixture"),
    "side_view": ("wall", "fixture"),
    "bare_cleat": ("wall", "fixture"),
    "lift_off": ("wall", "fixture"),
    "vent": ("wall", "fixture"),
    "sight": ("wall", "fixture"),
    "sound": ("wall", "fixture"),
    "radio": ("wall", "fixture"),
    "space": ("wall", "fixture"),
    "open_space": ("wall", "fixture"),
    "refusal": ("wall", "fixture"),
    "flue": ("wall", "fixture"),
    "combustible": ("wall", "fixture"),
    "fix_to_enclosure": ("wall", "fixture"),
    "ready_access": ("wall", "fixture"),
    "meter_reach": ("wall", "fixture"),
    "gas_reach": ("wall", "fixture"),
    "pipes_reach": ("wall", "fixture"),
    "door_swing": ("wall", "fixture"),
    "swing_angle": ("wall", "fixture"),
    "middle_leaf": ("wall", "leaf"),
    "furniture_clash": ("wall", "furniture"),
    "width_band": ("wall", "furniture"),
    "keep_clear": ("wall", "keep clear"),
    "sightline": ("wall", "eye"),
    "lighter": ("sizes", "grid"),
    "leaf_split": ("sizes", "grid"),
    "outer_bond": ("sizes", "edge"),
    "corner_bond": ("sizes", "edge"),
    "ring_bond": ("sizes", "edge"),
    "edge_strips": ("sizes", "edge"),
    "meeting": ("fade", "meeting"),
    "studs": ("hang", "leaf"),
    "load_path": ("hang", "leaf"),
    "lift": ("hang", "leaf"),
    "two_people": ("hang", "leaf"),
    "tug": ("hang", "leaf"),
    "who_is_below": ("hang", "leaf"),
    "cleat_bow": ("hang", "leaf"),
    "short_stock": ("saw", "stick"),
    "greedy": ("saw", "stick"),
    "stock_missing": ("saw", "stick"),
    "board_too_small": ("saw", "board"),
    "short_parts": ("saw", "board"),
    "thin_slice": ("saw", "setting"),
    "budget": ("papers", "cost"),
}
_SHEET = {"layout": "wall", "body": "hang", "cost": "papers", "costing": "papers", "plan": "papers", "brief": "wall"}


def about_checks(plan: Plan) -> list[dict[str, Any]]:
    """A plan's checks in their order, each with a key of its own, where it is pinned, and how it can be settled."""
    seen: dict[str, int] = {}
    out = []
    for check in plan.checks:
        key = f"{check.stage}.{check.name}" + (f"·{check.subject}" if check.subject else "")
        seen[key] = seen.get(key, 0) + 1
        view, anchor = _where(check)
        out.append(
            {
                "check_id": key if seen[key] == 1 else f"{key}#{seen[key]}",
                "stage": check.stage,
                "name": check.name,
                "subject": check.subject,
                "kind": check.kind.value,
                "at_stake": AT_STAKE[check.kind],
                "title": check.title,
                "verdict": check.verdict.value,
                "found": check.found,
                "allowed": check.allowed,
                "why": check.why,
                "care": check.care,
                "advice": check.advice.value,
                "remedy": check.remedy,
                "source": check.source,
                "settled": str(check.settled or ""),
                "settle": _settle(check, plan),
                "about": {"view": view, "anchor": anchor, "name": check.subject},
            }
        )
    return out


def _settle(check: Check, plan: Plan) -> dict[str, Any] | None:
    """What an answer to it would hold but name, day and words; None where nobody can agree to it, or has done so."""
    if check.settled is not None or not to_settle(check):
        return None
    may, table = SETTLEABLE[check.name], answer_of(check, plan.brief, plan.hang)
    return {
        "who": may.who.value,
        "question": may.question,
        "asked": is_asked(check),
        "agreed": table["for"],
        "table": table,
    }


def _where(check: Check) -> tuple[str, str]:
    if check.name in _PINNED:
        return _PINNED[check.name]
    if check.name.endswith("_gap") and check.stage == "layout":
        return "wall", "furniture"
    return _SHEET.get(check.stage, check.stage), "piece"
