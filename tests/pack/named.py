"""Briefs whose own words are other ones: each name changed by one rule, and with it what refers to the name."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import tomlkit

ROOT = Path(__file__).parents[2]
KEYS = {"name", "client", "bought_as", "colour_name", "section", "tinter", "what", "why"}
#: Keys whose value is one of the planner's own words, even where a name is the same word.
WORDS = {"kind", "role", "material", "species", "build", "unit", "home", "style", "light_from", "group", "method"}


def with_names(example: str, word: Callable[[str], str]) -> str:
    """The example with each of its names put through `word`."""
    brief = tomllib.loads((ROOT / "examples" / f"{example}.toml").read_text(encoding="utf-8"))
    names: dict[str, str] = {}
    _gather(brief, names, word)
    return tomlkit.dumps(_renamed(brief, names))


def _gather(value: Any, names: dict[str, str], word: Callable[[str], str]) -> None:
    if isinstance(value, dict):
        for key, inner in value.items():
            if key in KEYS and isinstance(inner, str):
                names[inner] = word(inner)
            elif key in ("names",) and isinstance(inner, list):
                names.update({one: word(one) for one in inner})
            else:
                _gather(inner, names, word)
    elif isinstance(value, list):
        for inner in value:
            _gather(inner, names, word)


def _renamed(value: Any, names: dict[str, str]) -> Any:
    if isinstance(value, dict):
        return {key: inner if key in WORDS else _renamed(inner, names) for key, inner in value.items()}
    if isinstance(value, list):
        return [_renamed(inner, names) for inner in value]
    if isinstance(value, str):
        shade = re.fullmatch(r"(.*) (\d+[a-z]?)", value)
        if shade and shade[1] in names:
            return f"{names[shade[1]]} {shade[2]}"
        return names.get(value, value)
    return value
