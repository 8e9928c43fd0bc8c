"""Writes the API's description, from which the screen's typed client is made: the same bytes for the same code.

Usage: python tools/openapi.py FILE (or nothing, for standard output).
"""

from __future__ import annotations

import json
import sys
import tempfile
from pathlib import Path


def described() -> str:
    """The description as JSON text, keys in order."""
    from bossage.store import Pieces
    from bossage.web.app import api_app
    from bossage.web.desk import Desk
    from bossage.web.jobs import Jobs

    with tempfile.TemporaryDirectory() as folder:
        pieces = Pieces(Path(folder) / "pieces.sqlite")
        spec = api_app(Desk(pieces), Jobs()).openapi()
        pieces.close()
    return json.dumps(spec, indent=1, sort_keys=True, ensure_ascii=False) + "\n"


def main(arguments: list[str]) -> int:
    """Write, and leave a file that is right already untouched, so that nothing is built anew."""
    text = described()
    if not arguments:
        print(text, end="")
        return 0
    out = Path(arguments[0])
    if not out.is_file() or out.read_text(encoding="utf-8") != text:
        out.write_text(text, encoding="utf-8")
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
