"""Where pieces are kept when nothing else is said."""

from __future__ import annotations

from pathlib import Path


def default_store() -> Path:
    """The file of pieces in the folder that this system has for a program's data."""
    from platformdirs import user_data_path

    return user_data_path("bossage", appauthor=False) / "pieces.sqlite"
