"""The one base of every error that speaks to a maker; anything else that escapes is our bug."""

from __future__ import annotations


class BossageError(Exception):
    """What was found, what is allowed and what to change, in a maker's words."""


class OutOfRange(BossageError):
    """A value lies outside what its source covers; NaN counts as outside.

    Attributes:
        what: The quantity, in words.
        found: The offending value.
        low, high: The range that the source covers.
        unit: Unit of all three.
    """

    def __init__(self, what: str, found: float, low: float, high: float, unit: str, hint: str = "") -> None:
        self.what, self.found, self.low, self.high, self.unit = what, found, low, high, unit
        text = f"{what} is {found:g} {unit}; the source covers {low:g} to {high:g} {unit}."
        super().__init__(f"{text} {hint}".strip())


class OurFault(BossageError):
    """Something that no maker can have caused. `said` is what the library said; a maker does not see it.

    The text is for the screen; the command line writes `said` and the traceback into a file that can be sent.
    """

    def __init__(self, what: str, said: str) -> None:
        self.said = said
        super().__init__(f"{what} This is a fault of bossage, not of the brief.")
