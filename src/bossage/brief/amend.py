"""Changing a brief's text a key at a time: what is not asked for stays as the maker wrote it, comments and all.

tomlkit does the writing. What it wrote is read again by the standard library and held against the change made on plain
values, so that a text that means anything but what was asked for never comes out.
"""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterable
from typing import Any

from bossage.brief.faults import BriefFaults, Fault, quoted
from bossage.checks import Edit

Number = Callable[[str], Any]
DEEPEST = 8  # keys and places in a path; no brief goes deeper than four


class Document:
    """A brief's text, open for changes. After a refusal it is spoiled: read the text anew."""

    def __init__(self, text: str) -> None:
        """Read a text.

        Raises:
            BriefFaults: It is no TOML.
        """
        import tomlkit
        from tomlkit.exceptions import TOMLKitError

        from bossage.brief.sections import parse_toml

        parse_toml(text)
        self.text = text.removeprefix("\ufeff")
        self._plain = tomllib.loads(self.text, parse_float=str)
        try:
            self._document = tomlkit.parse(self.text)
        except TOMLKitError as error:
            raise _refused(
                (), quoted(str(error)), "TOML that can be changed in place", "Write it more plainly."
            ) from None

    def amend(self, edits: Iterable[Edit]) -> str:
        """The text after these changes, one after the other.

        Raises:
            BriefFaults: A path leads nowhere, or a value has no place in TOML.
        """
        for edit in edits:
            apply_plain(self._plain, edit)
            try:
                self._apply(edit)
            except (ValueError, TypeError, AttributeError, LookupError):
                # what plain values hold and the writer has no form for, such as a bare number among [[sections]]
                raise _refused(
                    edit.path, quoted(edit.value), "what this place of a brief holds", "Look at what stands there."
                ) from None
        text = self._written()
        if _read_again(text) != self._plain:
            raise _refused(
                (),
                "a text laid out in a way that this change cannot be written into",
                "[section] headings each written once, keys below them",
                "Change it in the text itself, or bring its sections into the usual order first.",
            )
        self.text = text
        return text

    def _written(self) -> str:
        """The text as the writer has it; empty where it put together what it cannot write."""
        try:
            text: str = self._document.as_string()
            return text
        except (ValueError, TypeError, AttributeError, LookupError):
            return ""

    def _apply(self, edit: Edit) -> None:
        *way, last = edit.path
        holder = self._holder(way, edit)
        if edit.op == "remove":
            holder.pop(last)
            if len(way) == 1 and isinstance(last, int) and not holder:
                self._document.pop(str(way[0]))
        elif edit.op == "set":
            if not way and last not in holder and isinstance(edit.value, dict | list):
                self._new_section()
            holder[last] = _item(edit.value, top=not way, table=len(way) == 1 and isinstance(last, int))
        elif edit.op == "insert":
            holder.insert(last, _item(edit.value, top=False, table=len(way) == 1))
        else:
            self._append(holder, last, edit.value, top=not way)

    def _append(self, holder: Any, key: str | int, value: Any, *, top: bool) -> None:
        import tomlkit

        there = holder.get(key) if isinstance(key, str) else holder[key]
        if there is None or (top and not there):
            if top:
                self._new_section()
            holder[key] = tomlkit.aot() if top else tomlkit.array()
        holder[key].append(_item(value, top=False, table=top))

    def _holder(self, way: list[str | int], edit: Edit) -> Any:
        """What holds the end of the path; tables on the way that are not there yet are made where a value is set."""
        import tomlkit

        here: Any = self._document
        for depth, step in enumerate(way):
            if isinstance(step, str) and step not in here and edit.op in ("set", "append"):
                if not depth:
                    self._new_section()
                here[step] = tomlkit.inline_table() if depth else tomlkit.table()
            here = here[step]
        return here

    def _new_section(self) -> None:
        """A heading needs a line of its own, after an empty one; the text may end without either."""
        import tomlkit

        written = self._document.as_string()
        while written and not written.endswith("\n\n"):
            self._document.add(tomlkit.nl())
            written += "\n"


def amend_text(text: str, edits: Iterable[Edit]) -> str:
    """The text of a brief after some changes.

    Raises:
        BriefFaults: The text is no TOML, a path leads nowhere, or a value has no place in TOML.
    """
    return Document(text).amend(edits)


def _item(value: Any, *, top: bool, table: bool = False) -> Any:
    """The value as tomlkit writes it: a section as [section], an entry as [[section]], all below in one line."""
    import tomlkit

    if isinstance(value, dict):
        made: Any = tomlkit.table() if (top or table) else tomlkit.inline_table()
        for key, inner in value.items():
            made[key] = _item(inner, top=False)
        return made
    if isinstance(value, list):
        if top and value and all(isinstance(entry, dict) for entry in value):
            entries = tomlkit.aot()
            for entry in value:
                entries.append(_item(entry, top=False, table=True))
            return entries
        array = tomlkit.array()
        for entry in value:
            array.append(_item(entry, top=False))
        return array
    return tomlkit.item(value)


def apply_plain(plain: dict[str, Any], edit: Edit, number: Number = str) -> None:
    """The same change on plain values; this is where a path that leads nowhere is found.

    Args:
        plain: What the standard library reads of the text; it is changed.
        edit: The change.
        number: How that reading holds a decimal, from its digits.

    Raises:
        BriefFaults: The path leads nowhere, or the value has no place in TOML.
    """
    _sane(edit)
    *way, last = edit.path
    here: Any = plain
    for depth, step in enumerate(way):
        if isinstance(here, dict) and isinstance(step, str) and step not in here and edit.op in ("set", "append"):
            here[step] = {}
        here = _step(here, step, edit.path[: depth + 1])
    if isinstance(here, dict) and isinstance(last, str):
        _in_table(here, last, edit, number)
    elif isinstance(here, list) and isinstance(last, int):
        _in_list(here, last, edit, plain, number)
    else:
        raise _nowhere(edit.path)


def _in_table(here: dict[str, Any], key: str, edit: Edit, number: Number) -> None:
    if edit.op == "set":
        here[key] = _plain(edit.value, number)
    elif edit.op == "remove":
        _step(here, key, edit.path)
        del here[key]
    elif edit.op == "append" and isinstance(here.setdefault(key, []), list):
        here[key].append(_plain(edit.value, number))
    else:
        raise _nowhere(edit.path)


def _in_list(here: list[Any], place: int, edit: Edit, plain: dict[str, Any], number: Number) -> None:
    if edit.op == "insert" and 0 <= place <= len(here):
        here.insert(place, _plain(edit.value, number))
        return
    there = _step(here, place, edit.path)
    if edit.op == "set":
        here[place] = _plain(edit.value, number)
    elif edit.op == "remove":
        del here[place]
        if not here and len(edit.path) == 2:
            del plain[str(edit.path[0])]
    elif edit.op == "append" and isinstance(there, list):
        there.append(_plain(edit.value, number))
    else:
        raise _nowhere(edit.path)


def _step(here: Any, step: str | int, path: tuple[str | int, ...]) -> Any:
    if isinstance(here, dict) and isinstance(step, str) and step in here:
        return here[step]
    if isinstance(here, list) and isinstance(step, int) and 0 <= step < len(here):
        return here[step]
    raise _nowhere(path)


def _plain(value: Any, number: Number) -> Any:
    """The value as the standard library would read it, decimals from their digits."""
    if isinstance(value, dict):
        return {key: _plain(inner, number) for key, inner in value.items()}
    if isinstance(value, list):
        return [_plain(entry, number) for entry in value]
    return number(repr(value)) if isinstance(value, float) else value


def _read_again(text: str) -> dict[str, Any] | None:
    try:
        return tomllib.loads(text, parse_float=str)
    except (tomllib.TOMLDecodeError, RecursionError):
        return None


def _sane(edit: Edit) -> None:
    if not 0 < len(edit.path) <= DEEPEST or not isinstance(edit.path[0], str):
        raise _nowhere(edit.path)
    if edit.op != "remove" and not _writable(edit.value, DEEPEST):
        raise _refused(
            edit.path,
            quoted(edit.value),
            "a number, a text, true or false, a list or a table of these",
            "Give a value.",
        )


def _writable(value: Any, deep: int) -> bool:
    if deep == 0:
        return False
    if isinstance(value, dict):
        return all(isinstance(key, str) and _writable(inner, deep - 1) for key, inner in value.items())
    if isinstance(value, list):
        return all(_writable(entry, deep - 1) for entry in value)
    if isinstance(value, float):
        return value - value == 0  # neither infinite nor not a number
    if isinstance(value, int):
        return abs(value) < 2**63
    return isinstance(value, str)


def _nowhere(path: tuple[str | int, ...]) -> BriefFaults:
    return _refused(path, "a path that leads nowhere in this brief", "a key or a place that is there", "Look again.")


def _refused(path: tuple[str | int, ...], found: str, allowed: str, remedy: str) -> BriefFaults:
    field = "".join(f"[{step + 1}]" if isinstance(step, int) else f".{step}" for step in path).lstrip(".")
    return BriefFaults([Fault(field=field, found=found, allowed=allowed, remedy=remedy)])
