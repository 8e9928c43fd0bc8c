"""What somebody has agreed to, as the brief holds it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Settled:
    """One answer: to which check, by whom, when, for which figure (`settling` has its unit), in which words.

    `of` is the check's subject, empty where the check speaks once. The last four say how what it is about was when it
    was agreed to; None or empty: the brief does not say.
    """

    check: str
    of: str
    by: str
    on: str
    figure: float
    condition: str
    words: str
    place_nm: tuple[int, int, int, int] | None  # x, y, width, height
    opens: str
    lock: bool | None
    hands_nm: tuple[int, int] | None  # before the ankles, over the floor
