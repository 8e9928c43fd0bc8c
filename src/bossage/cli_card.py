"""Reading test cards: from a photo or typed values to what the brief should say, in words or as JSON."""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from bossage.brief import read_brief
from bossage.brief.bounds import plain_toml
from bossage.brief.kinds import nearest
from bossage.brief.records import Brief, Family
from bossage.cells import read_rows
from bossage.colour.card import FieldReading, SheetReading, open_photo, read_sheet
from bossage.colour.card_sheet import BOUGHT_GREYS, GREY_LIGHTNESS, PAPER_LIGHTNESS, PRINTED_GREYS, card_sheet
from bossage.errors import BossageError
from bossage.files import read_bytes, read_text
from bossage.paint.calibrate import Calibration, FamilyReading, Gain, Reading, calibrate
from bossage.paint.cards import CardField, FieldKind, card_fields
from bossage.serial import Json, to_json
from bossage.writing import write_new

MOST = 100_000  # no photo has more pixels to a side
TYPED = (".toml", ".csv")


@dataclass(frozen=True, slots=True, kw_only=True)
class Asked:
    """What the command line says beyond source and brief."""

    sheet: int = 1
    corners: str = ""
    greys: str = ""
    paper: float | None = None
    mixed: bool = False


@dataclass(frozen=True, slots=True, kw_only=True)
class Read:
    """What came of it."""

    brief_text: str
    calibration: Calibration
    photo: SheetReading | None


def read_card(source: Path, brief_path: Path, asked: Asked) -> Read:
    """Read a photo of a test card sheet, or a file of typed readings, and refit the families of a brief.

    Raises:
        CannotRead: A file is not there or cannot be read.
        BriefFaults: The brief is faulty.
        BossageError: The sheet cannot be found or read, a typed reading fits no field, or no field can be used.
    """
    text = read_text(brief_path)
    brief = read_brief(text)
    photo = None
    if source.suffix.lower() in TYPED:
        readings = typed_readings(read_text(source), source.suffix.lower(), brief)
    else:
        photo, readings = _photo_readings(source, brief, asked)
    return Read(brief_text=text, calibration=calibrate(brief, readings, mixed=asked.mixed), photo=photo)


def typed_readings(text: str, suffix: str, brief: Brief) -> list[Reading]:
    """Readings from `name = "#hex"` or `name = [L, a, b]` (TOML), or rows `name,#hex` or `name,L,a,b` (CSV).

    A number more at the end of a row or list is the uncertainty, CIEDE2000. A mix that is on no sheet is named by its
    parts, such as `fern 23:1`.
    """
    fields = [field for sheet in card_fields(brief) for field in sheet]
    rows = _toml_rows(text) if suffix == ".toml" else _csv_rows(text)
    if not rows:
        raise BossageError('The file holds no readings; write lines such as "fern 20:1" = [71.2, -9.4, 8.8].')
    found = {}
    for name, value in rows:
        field = _field_called(name, fields, brief)
        if field.name in found:
            raise BossageError(f"'{name}' is read twice; keep one line of it.")
        found[field.name] = _typed(field, value)
    return list(found.values())


def fragment(read: Read) -> str:
    """What to put into the brief, as TOML, family by family."""
    lines = []
    for taught in read.calibration.families:
        lines.append(f'# into [[family]] name = "{taught.family.name}"')
        lines += [f"{key} = {_toml(value)}" for key, value in family_keys(taught).items()]
        lines.append("")
    return "\n".join(lines)


def mended_brief(read: Read) -> str:
    """The brief's own text with the readings put in; all else, notes included, stays as it was written."""
    import tomlkit

    document = tomlkit.parse(read.brief_text)
    taught = {one.family.name.casefold(): one for one in read.calibration.families}
    for table in document["family"]:
        one = taught.get(str(table["name"]).casefold())
        if one is not None:
            for key, value in family_keys(one).items():
                table[key] = tomlkit.value(_toml(value))
    return tomlkit.dumps(document)


def family_keys(taught: FamilyReading) -> dict[str, Any]:
    """The keys of a family that a reading changes, as plain values."""
    family = taught.family
    if not family.base:
        return {"colour": family.colour_hex}
    keys: dict[str, Any] = {"base": _plain(family.base), "tinters": [_tinter(one) for one in family.tinters]}
    if family.cards:
        keys["cards"] = [
            {
                "tinter": card.tinter,
                "fraction": float(f"{card.fraction:.6g}"),
                "colour": _plain(card.colour),
                **({} if card.uncertainty_de is None else {"uncertainty": round(card.uncertainty_de, 1)}),
            }
            for card in family.cards
        ]
    if family.mixed is not None:
        keys["mixed"] = [row[0] if len(row) == 1 else list(row) for row in family.mixed]
    return keys


def card_json(read: Read) -> Json:
    """Everything, for programs."""
    calibration = read.calibration
    return {
        "outcome": "read",
        "families": [
            {
                "family": taught.family.name,
                "readings": [_gain_json(gain) for gain in taught.gains],
                "shades": to_json(taught.shades),
                "notes": list(taught.notes),
                "brief": to_json(family_keys(taught)),
            }
            for taught in calibration.families
        ],
        "refused": [{"field": one.field.name, "why": one.refused} for one in calibration.refused],
        "corners_px": None if read.photo is None else read.photo.corners_px.round(1).tolist(),
        "light_fall": None if read.photo is None else read.photo.light_fall,
        "fragment": fragment(read),
    }


def card_text(read: Read) -> str:
    """Everything, in words."""
    lines = []
    if read.photo is not None:
        lines.append(f"Light falls off by {100 * (1 - 1 / read.photo.light_fall):.0f} % over the sheet; it was evened.")
    lines += [f"refused  {one.field.name}: {one.refused}" for one in read.calibration.refused]
    for taught in read.calibration.families:
        lines += ["", f"{taught.family.name}", *_gain_lines(taught.gains), *_shade_lines(taught)]
        lines += [f"  {note}" for note in taught.notes]
    lines += ["", "Put this into the brief and plan again (or let --out write it for you):", "", fragment(read)]
    return "\n".join(lines)


def write_brief(read: Read, out: Path, *, overwrite: bool = False) -> None:
    """Write the mended brief to a file that is not there yet; with `overwrite` the old one is kept beside."""
    write_new(out, mended_brief(read).encode(), option="--out", overwrite=overwrite)


def _photo_readings(source: Path, brief: Brief, asked: Asked) -> tuple[SheetReading, list[Reading]]:
    sheets = card_fields(brief)
    if not 1 <= asked.sheet <= len(sheets):
        raise BossageError(f"There is no test card sheet {asked.sheet}; this brief has {len(sheets)}.")
    fields = sheets[asked.sheet - 1]
    _look_at_lightness("--paper", () if asked.paper is None else (asked.paper,))
    greys = _numbers(asked.greys, "--greys") if asked.greys else GREY_LIGHTNESS
    _look_at_lightness("--greys", greys)
    sheet = card_sheet(
        [field.name for field in fields],
        grey_lightness=greys,
        paper_lightness=PAPER_LIGHTNESS if asked.paper is None else asked.paper,
        grey_error=BOUGHT_GREYS if asked.greys else PRINTED_GREYS,
    )
    corners = _corners(asked.corners) if asked.corners else None
    seen = read_sheet(open_photo(read_bytes(source)), sheet, corners)
    return seen, [_from_photo(field, one) for field, one in zip(fields, seen.fields, strict=True)]


def _look_at_lightness(option: str, values: Sequence[float]) -> None:
    for value in values:
        if not 0 <= value <= 100:
            raise BossageError(f"{option} says {value:g}; a CIE lightness is 0 (black) to 100 (white).")


def _from_photo(field: CardField, one: FieldReading) -> Reading:
    return Reading(field=field, colour=one.lab, uncertainty_de=one.uncertainty_de, refused=one.refused)


def _corners(text: str) -> list[list[float]]:
    numbers = _numbers(text, "--corners")
    if len(numbers) != 8:
        raise BossageError(
            f"--corners gives {len(numbers)} numbers; give 8, the centres of the four marks in pixels as x,y,x,y,…: "
            "the mark with the hole first, then clockwise."
        )
    return [list(numbers[i : i + 2]) for i in range(0, 8, 2)]


def _numbers(text: str, option: str) -> tuple[float, ...]:
    try:
        found = tuple(float(part) for part in re.split(r"[,;\s]+", text.strip()))
    except ValueError:
        found = (math.nan,)
    if not all(abs(number) <= MOST for number in found):
        raise BossageError(f"{option} says '{text}'; write numbers with commas between them, none over {MOST:,}.")
    return found


def _toml_rows(text: str) -> list[tuple[str, Any]]:
    return list(plain_toml(text, "The file of readings").items())


def _csv_rows(text: str) -> list[tuple[str, Any]]:
    rows: list[tuple[str, Any]] = []
    for row in read_rows(text, "The file of readings"):
        cells = [cell.strip() for cell in row if cell.strip()]
        if not cells or cells[0].startswith("#") or cells[0].lower() in {"name", "field"}:
            continue
        if len(cells) > 1 and cells[1].startswith("#"):
            rows.append((cells[0], cells[1] if len(cells) == 2 else {"colour": cells[1], "uncertainty": cells[2]}))
        else:
            rows.append((cells[0], cells[1:]))
    return rows


def _typed(field: CardField, value: Any) -> Reading:
    from bossage.colour.spaces import hex_to_srgb

    colour, unsure = (value.get("colour"), value.get("uncertainty")) if isinstance(value, Mapping) else (value, None)
    if isinstance(colour, str):
        hex_to_srgb(colour)
        return Reading(field=field, colour=colour.strip().upper(), uncertainty_de=_unsure(field, unsure))
    if isinstance(colour, Sequence) and len(colour) in (3, 4):
        try:
            L, a, b, *more = (float(part) for part in colour)
        except (TypeError, ValueError):
            L, a, b, more = -1.0, 0.0, 0.0, []
        if 0 <= L <= 100 and max(abs(a), abs(b)) <= 128:
            return Reading(field=field, colour=(L, a, b), uncertainty_de=_unsure(field, more[0] if more else unsure))
    raise BossageError(f"{field.name} reads {colour!r}; write a hex colour such as #9CB09A, or L, a, b as numbers.")


def _unsure(field: CardField, value: Any) -> float | None:
    if value is None:
        return None
    try:
        found = float(value)
    except (TypeError, ValueError):
        found = -1.0
    if not 0.1 <= found <= 30:
        raise BossageError(f"The uncertainty of {field.name} is {value!r}; it is a CIEDE2000 of 0.1 to 30.")
    return found


def _field_called(name: str, fields: Sequence[CardField], brief: Brief) -> CardField:
    plain = " ".join(name.split()).casefold()
    known = {field.name.casefold(): field for field in fields}
    if plain in known:
        return known[plain]
    mix = re.fullmatch(r"(.+?)\s+(\d+)\s*:\s*(\d+)", plain)
    if mix is not None and int(mix[2]) > 0 and int(mix[3]) > 0:
        for family in brief.families:
            field = _own_mix(family, mix[1], int(mix[2]), int(mix[3]))
            if field is not None:
                return field
    near = nearest(plain, known)
    hint = f"Did you mean '{known[near].name}'?" if near else f"Fields: {', '.join(f.name for f in fields)}."
    raise BossageError(f"'{name}' is no field of this brief's test cards. {hint}")


def _own_mix(family: Family, call: str, base_n: int, tinter_n: int) -> CardField | None:
    several = len(family.tinters) > 1
    for number, tinter in enumerate(family.tinters):
        mine = f"{family.name} {tinter.name}" if several else family.name
        if mine.casefold() == call:
            return CardField(
                name=f"{mine} {base_n}:{tinter_n}",
                kind=FieldKind.MIX,
                families=(family.name,),
                tinter=tinter.name,
                parts=(base_n, *(tinter_n if k == number else 0 for k in range(len(family.tinters)))),
            )
    return None


def _gain_lines(gains: Sequence[Gain]) -> list[str]:
    head = ("field", "L*", "a*", "b*", "±", "off before", "after", "left out")
    rows = [head]
    for gain in gains:
        L, a, b = gain.reading.lab
        unsure = gain.reading.uncertainty_de
        rows.append(
            (
                gain.reading.field.name,
                f"{L:.1f}",
                f"{a:.1f}",
                f"{b:.1f}",
                "-" if unsure is None else f"{unsure:.1f}",
                f"{gain.before_de:.1f}",
                "-" if gain.after_de is None else f"{gain.after_de:.1f}",
                "-" if gain.left_out_de is None else f"{gain.left_out_de:.1f}",
            )
        )
    widths = [max(len(row[k]) for row in rows) for k in range(len(head))]
    return [
        "  "
        + "  ".join(
            f"{word:<{w}}" if k == 0 else f"{word:>{w}}" for k, (word, w) in enumerate(zip(row, widths, strict=True))
        )
        for row in rows
    ] + ["  Off is CIEDE2000 from what was read; 'left out' by a fit that did not know that card."]


def _shade_lines(taught: FamilyReading) -> list[str]:
    if not taught.shades:
        return []
    kept = taught.family.mixed is not None
    what = "tinter stays" if kept else "tinter now"
    lines = [f"  names stay; share of tinter was, {what}, and how far a pot by the old recipe would be off:"]
    for shade in taught.shades:
        after = "out of reach" if shade.after is None else _shares(shade.after)
        lines.append(f"  {shade.name:<16} {_shares(shade.before):>9}  {after:>9}  {shade.old_pot_de:4.1f}")
    return lines


def _shares(shares: Sequence[float]) -> str:
    return " + ".join(f"{100 * share:.3g} %" for share in shares)


def _gain_json(gain: Gain) -> dict[str, Json]:
    return {
        "field": gain.reading.field.name,
        "fraction": gain.reading.field.fraction,
        "lab": list(gain.reading.lab),
        "uncertainty_de": gain.reading.uncertainty_de,
        "before_de": gain.before_de,
        "after_de": gain.after_de,
        "left_out_de": gain.left_out_de,
    }


def _tinter(tinter: Any) -> dict[str, Any]:
    keys = {"name": tinter.name, "colour": _plain(tinter.colour)}
    if tinter.uncertainty_de is not None:
        keys["uncertainty"] = round(tinter.uncertainty_de, 1)
    if tinter.g_per_ml is not None:
        keys["g_per_ml"] = tinter.g_per_ml
    return keys


def _plain(colour: Any) -> Any:
    return colour if isinstance(colour, str) else list(colour)


def _toml(value: Any) -> str:
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key} = {_toml(entry)}" for key, entry in value.items()) + " }"
    if isinstance(value, list):
        if value and isinstance(value[0], dict):
            return "[\n" + "".join(f"  {_toml(entry)},\n" for entry in value) + "]"
        return "[" + ", ".join(_toml(entry) for entry in value) + "]"
    if isinstance(value, str):
        escaped = value.replace("\\", "\\\\").replace('"', '\\"')
        return f'"{escaped}"'
    return f"{value}"
