"""The example briefs that come with bossage: in the checkout's `examples/`, or inside the installed package."""

from __future__ import annotations

import difflib
from pathlib import Path

from bossage.errors import BossageError

_PLACES = (Path(__file__).parent / "_examples", Path(__file__).parents[2] / "examples")
_SIMPLEST = "first"


class NoExample(BossageError):
    """No example goes by that name; the text lists those that there are."""


def example_names() -> dict[str, str]:
    """Every example by name, with what it is about, the simplest first."""
    return {name: _about(example_text(name)) for name in sorted(_files(), key=lambda name: (name != _SIMPLEST, name))}


def example_text(name: str) -> str:
    """The TOML of an example; a name may be shortened to its first part, as `s2`.

    Raises:
        NoExample: There is none of that name.
    """
    files = _files()
    wanted = name.strip().lower().removesuffix(".toml")
    fitting = [key for key in files if key == wanted] or [key for key in files if key.startswith(f"{wanted}-")]
    if len(fitting) != 1:
        near = difflib.get_close_matches(wanted, files, n=1)
        advice = f"Did you mean {near[0]}?" if near else f"There are: {', '.join(sorted(files))}."
        raise NoExample(f"There is no example '{name[:40]}'. {advice}")
    return files[fitting[0]].read_text(encoding="utf-8")


def _files() -> dict[str, Path]:
    place = next((place for place in _PLACES if place.is_dir()), None)
    if place is None:
        raise NoExample("This installation has no examples: it is incomplete. Install bossage again.")
    return {path.stem: path for path in place.glob("*.toml")}


def _about(text: str) -> str:
    """The sentence that an example opens with."""
    return text.splitlines()[0].lstrip("# ").strip()
