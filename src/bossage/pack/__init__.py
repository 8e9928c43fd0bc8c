"""The papers and files that a shop uses, made from a plan."""

from __future__ import annotations

from bossage.pack.files import SHEETS, pack_files

__all__ = ["SHEETS", "pack_files"]
