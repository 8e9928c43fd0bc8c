"""A range that a function of the sciences tells is the range that it keeps: docstring beside `within`, for each."""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

PACKAGE = Path(__file__).parents[1] / "src" / "bossage"
NUMBER = r"(-?\d[\d,]*(?:\.\d+)?)"


def kept_ranges() -> Iterator[tuple[str, str, float | None, float | None]]:
    """Where, what the docstring says of the argument, and the bounds in the code; None where they are names."""
    for room in ("colour", "fasteners", "handling", "timber"):
        for path in sorted((PACKAGE / room).rglob("*.py")):
            for function in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
                if isinstance(function, ast.FunctionDef) and not function.name.startswith("_"):
                    for name, low, high in _within(function):
                        said = _told(ast.get_docstring(function) or "", name)
                        yield f"{room}/{path.stem} {function.name} {name}", said, low, high


def _within(function: ast.FunctionDef) -> Iterator[tuple[str, float | None, float | None]]:
    arguments = {a.arg for a in (*function.args.args, *function.args.kwonlyargs)}
    for call in ast.walk(function):
        if isinstance(call, ast.Call) and isinstance(call.func, ast.Name) and call.func.id == "within":
            value = call.args[1]
            if isinstance(value, ast.Name) and value.id in arguments:
                yield value.id, _number(call.args[2]), _number(call.args[3])


def _number(node: ast.expr) -> float | None:
    try:
        return float(ast.literal_eval(node))
    except ValueError:
        return None


def _told(docstring: str, name: str) -> str:
    found = re.search(rf"^ +(?:\w+, )*{name}(?:, \w+)*: ((?:.|\n {{8}})*)", docstring, re.MULTILINE)
    return "" if found is None else " ".join(found[1].split())


RANGES = list(kept_ranges())
TOLD = [(where, said, low, high) for where, said, low, high in RANGES if re.search(r"\d", said)]


def test_most_ranges_are_told() -> None:
    assert len(TOLD) > 75
    assert len(TOLD) > 0.75 * len(RANGES)


@pytest.mark.parametrize(("where", "said", "low", "high"), TOLD, ids=[where for where, *_ in TOLD])
def test_the_range_that_is_told_is_kept(where: str, said: str, low: float | None, high: float | None) -> None:
    both = re.search(rf"{NUMBER} to {NUMBER}", said)
    above = re.search(rf"above 0(?: to {NUMBER})?", said)
    if above:
        assert low is None or 0 < low <= 0.5 or (low <= 10 and "MPa" in said), where
        assert above[1] is None or high == float(above[1].replace(",", "")), where
    elif both:
        told = [float(number.replace(",", "")) for number in both.groups()]
        assert [low if low is not None else told[0], high if high is not None else told[1]] == told, where
    elif re.search(r"\b0\b[^.]{0,8} or more|not negative", said):
        assert low == 0, where
