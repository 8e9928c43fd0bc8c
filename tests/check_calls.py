"""Every place of the product that writes a check, read out of its text."""

from __future__ import annotations

import ast
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

SOURCE = Path(__file__).parents[1] / "src" / "bossage"

#: Names that are put together as the check is written, by what stands in the text.
MADE = {
    "name": ("bench_gap", "sofa_gap", "headboard_gap"),
    "f'over_{word}'": ("over_bed", "over_seat"),
    "fault.kind": ("alike", "unmeasurable"),
}


@dataclass(frozen=True, slots=True, kw_only=True)
class CheckCall:
    """One call that writes a check: its file and line, the names it may have, the text of its arguments."""

    where: str
    names: tuple[str, ...]
    verdict: str
    words: dict[str, str]


def check_calls() -> Iterator[CheckCall]:
    """All of them; `checks.py` hands on what it is given and writes none of its own."""
    for path in sorted(SOURCE.rglob("*.py")):
        if path.name == "checks.py" and path.parent == SOURCE:
            continue
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.Call) and _writes(node):
                yield _call(f"{path.relative_to(SOURCE)}:{node.lineno}", node)


def _writes(node: ast.Call) -> bool:
    called = node.func.id if isinstance(node.func, ast.Name) else getattr(node.func, "attr", "")
    keys = {one.arg for one in node.keywords}
    return called == "Check" or (called == "check" and {"found", "allowed"} <= keys)


def _call(where: str, node: ast.Call) -> CheckCall:
    words = {one.arg: ast.unparse(one.value) for one in node.keywords if one.arg}
    words |= {key: ast.unparse(arg) for key, arg in zip(("name", "title", "verdict"), node.args, strict=False)}
    name = words["name"]
    literal = name.startswith("'") and name.endswith("'")
    return CheckCall(
        where=where,
        names=(name.strip("'"),) if literal else MADE[name],
        verdict=words["verdict"],
        words=words,
    )
