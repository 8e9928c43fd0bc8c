"""Whether a maker's own words can be set on paper, letter by letter."""

from __future__ import annotations

import unicodedata

from bossage.brief.faults import Bad, quoted
from bossage.fonts import unset_cluster
from bossage.letters import invisible, leads_with_mark, letter_name

_LARGE = ("CJK", "HIRAGANA", "KATAKANA", "HANGUL", "BOPOMOFO", "HALFWIDTH", "FULLWIDTH", "IDEOGRAPHIC")


def look_at_letters(text: str) -> None:
    """Refuse letters that nobody can see, that turn the direction of others, or that no font has.

    Which letters of large scripts can be set depends on what is installed; all others are the same everywhere.

    Raises:
        Bad: Naming the letter.
    """
    unseen = invisible(text)
    if unseen is not None:
        raise Bad(
            f"{letter_name(unseen)} at letter {text.index(unseen) + 1} of {quoted(text)}",
            "letters that can be seen, and spaces",
            "Take that letter out; type the words anew if you cannot see where it stands.",
        )
    if leads_with_mark(text):
        raise Bad(f"{letter_name(text[0])} before any letter", "a letter first", "Take that mark out.")
    unset = unset_cluster(text)
    if unset is not None:
        raise Bad(
            f'"{unset}" ({", ".join(map(letter_name, unset))}) in {quoted(text)}',
            "letters that a font of the papers has",
            _remedy(unset),
        )


def _remedy(unset: str) -> str:
    if any(unicodedata.name(letter, "").startswith(_LARGE) for letter in unset):
        return "Install the fonts for Chinese, Japanese and Korean (bossage[cjk]), or write the name in other letters."
    if len(unset) > 1 and all(unset_cluster(letter) is None for letter in unset):
        return "No font has these together; write the mark on a letter of its own script, or leave the mark out."
    return "Write the name in other letters."
