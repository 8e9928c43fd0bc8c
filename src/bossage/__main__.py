"""The program itself: `python -m bossage`, and the one program of a frozen folder."""

from __future__ import annotations

import os
import sys

from bossage.system import give_back_libraries, is_frozen, run_own


def start(words: list[str]) -> int:
    """Run a program of our own, or the command line; after a double click that failed, keep the window open."""
    if is_frozen():
        give_back_libraries(os.environ)
        if run_own(words):
            return 0
    from bossage.cli import main

    code = main(words)
    if code and is_frozen() and not words and sys.stdin is not None and sys.stdin.isatty():
        input("Press Enter to close this window.")
    return code


if __name__ == "__main__":
    sys.exit(start(sys.argv[1:]))
