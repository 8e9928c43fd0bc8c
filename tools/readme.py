"""The README for a package index, where none of our files lie beside it.

Where the files have an address, links and pictures lead there. Where they have none, what stands between the marks
`files beside` is left out, and a link leaves its words.
"""

from __future__ import annotations

import re

_LINK = re.compile(r"(!?)\[([^\]]*)\]\(([^)]+)\)")
_BESIDE = re.compile(r"<!-- files beside -->.*?<!-- /files beside -->\n*", re.DOTALL)


def for_index(text: str, files: str) -> str:
    """The text with links that lead somewhere.

    Args:
        text: The README, whose links and pictures are files beside it.
        files: The address of these files, ending in a slash; empty where there is none.
    """
    if not files:
        text = _BESIDE.sub("", text)
    return _LINK.sub(lambda found: _link(found[1], found[2], found[3], files), text)


def _link(picture: str, words: str, target: str, files: str) -> str:
    if "://" in target or target.startswith("#"):
        return f"{picture}[{words}]({target})"
    return f"{picture}[{words}]({files}{target})" if files else words
