"""The re-plan as lines of a brief: quotas and pins with which the plan comes out as the piece now is."""

from __future__ import annotations

import json
import tomllib

import numpy as np

from bossage.brief.amend import amend_text
from bossage.checks import Edit, EditValue
from bossage.errors import BossageError
from bossage.replan.records import Mended, Standing
from bossage.units import format_length, parse_length_nm


class CannotSettle(BossageError):
    """A piece whose re-plan cannot be written back into one brief."""


def settled_brief(text: str, mended: Mended) -> str:
    """The brief with quotas and pins of the re-plan; everything else, comments too, as it was.

    Where the brief gives quotas they become those of the piece as it now is; where leaves differ, weights take their
    place, which give way to pins.

    Raises:
        CannotSettle: The piece is a series, whose copies differ now; or its split cells are not the seed's first draw.
        BriefFaults: The text is laid out so that it cannot be changed in place.
    """
    s = mended.standing
    _can_be_said(s)
    body = tomllib.loads(text.removeprefix("\ufeff"))
    edits: list[Edit] = []
    for number, table in enumerate(body.get("footprint", [])):
        if "quotas" in table:
            same = _same_on_every_leaf(mended, number)
            if not same:
                edits.append(Edit(op="remove", path=("footprint", number, "quotas")))
            key = "quotas" if same else "weights"
            edits.append(Edit(op="set", path=("footprint", number, key), value=_quotas(mended, number, whole=not same)))
    if "ring_quotas" in body.get("blocks", {}):
        edits.append(Edit(op="set", path=("blocks", "ring_quotas"), value=_ring_quotas(mended)))
    for number, family in enumerate(body.get("family", [])):
        asked = family["lightness"]
        ends = [float(asked["from"]), float(asked["to"])] if isinstance(asked, dict) else [float(x) for x in asked]
        own = _own_shades(s, str(family["name"]), ends)
        if isinstance(asked, dict):  # the shades are mixed by now, so they are said one by one
            scale: list[EditValue] = [round(s.lab[shade][0], 2) for shade in own]
            edits.append(Edit(op="set", path=("family", number, "lightness"), value=scale))
        counts: list[EditValue] = [int((mended.shade == shade).sum()) for shade in own]
        edits.append(Edit(op="set", path=("family", number, "quotas"), value=counts))
    edits.append(Edit(op="set", path=("pin",), value=list(_pins(mended))))
    return amend_text(text, edits)


def settled_fragment(mended: Mended) -> str:
    """Only what changes, to be put into the brief by hand: quotas as a comment, pins as they are to stand.

    Raises:
        CannotSettle: As for `settled_brief`.
    """
    _can_be_said(mended.standing)
    s = mended.standing
    lines = [f"# Re-plan of {s.name}, plan {s.stamp}. Put these quotas into the brief's own tables, and the pins below"]
    lines += ["# at its end in place of the pins it has. Families with quotas of their own need new ones too."]
    for number, name in enumerate(s.footprints):
        counts = ", ".join(f'"{key}" = {n}' for key, n in _quotas(mended, number).items())
        lines.append(f'#   [[footprint]] "{name}": quotas = {{ {counts} }}')
    ring = _ring_quotas(mended)
    if ring is not None:
        counts = ", ".join(f'"{key}" = {n}' for key, n in ring.items())
        lines.append(f"#   [blocks]: ring_quotas = {{ {counts} }}")
    return "\n".join(lines) + "\n\n" + pins_text(mended)


def pins_text(mended: Mended) -> str:
    """Every block as a pin: another draw of the field would move all that is not pinned."""
    out = ["# Every block as it now is, so that the plan follows the piece."]
    for pin in _pins(mended):
        out += ["[[pin]]", *(f"{key} = {json.dumps(value, ensure_ascii=False)}" for key, value in pin.items()), ""]
    return "\n".join(out)


def _pins(mended: Mended) -> list[dict[str, EditValue]]:
    s = mended.standing
    several = len({place.leaf for place in s.places}) > 1
    pins: list[dict[str, EditValue]] = []
    for v, place in enumerate(s.places):
        pin: dict[str, EditValue] = {"leaf": place.leaf} if several else {}
        level = _height(s, s.levels_nm[int(mended.level[v])])
        pins.append(pin | {"block": place.address, "level": level, "shade": s.shades[int(mended.shade[v])]})
    return pins


def _height(s: Standing, nm: int) -> str:
    """Exact: a height that an inch tape cannot show is written in millimetres."""
    text = format_length(nm, s.unit, bare=True)
    return text if parse_length_nm(text, s.unit) == nm else f"{nm / 1e6:.6f}".rstrip("0").rstrip(".") + " mm"


def _can_be_said(s: Standing) -> None:
    if s.draw:
        raise CannotSettle(
            "The split cells of this plan are a later draw of its seed, and a brief always begins with the first, so "
            "the blocks would not fit. Keep the work order with the old papers."
        )
    if max(place.copy for place in s.places) > 1:
        raise CannotSettle(
            "This brief is of a series: after the re-plan its copies differ, and one brief cannot say so. Copy the "
            "brief, set piece.copies to 1 and re-plan that piece by itself."
        )


def _quotas(mended: Mended, footprint: int, *, whole: bool = False) -> dict[str, EditValue]:
    """Counts by height on one leaf (on all for `whole`), the ring left out where it is longer."""
    s = mended.standing
    first = s.places[0].leaf
    return _by_height(
        mended,
        [
            v
            for v, place in enumerate(s.places)
            if s.footprint[v] == footprint and (whole or place.leaf == first) and not _in_ring(mended, v)
        ],
    )


def _same_on_every_leaf(mended: Mended, footprint: int) -> bool:
    """Quotas of a brief hold for each leaf; where leaves differ now, the pins alone say it."""
    s = mended.standing
    counts = []
    for leaf in dict.fromkeys(place.leaf for place in s.places):
        mine = [v for v, place in enumerate(s.places) if s.footprint[v] == footprint and place.leaf == leaf]
        counts.append(_by_height(mended, [v for v in mine if not _in_ring(mended, v)]))
    return all(count == counts[0] for count in counts)


def _in_ring(mended: Mended, v: int) -> bool:
    """Whether quotas of a ring of its own count this place, not those of its footprint."""
    s = mended.standing
    return s.ring_quotas and bool(s.extra_nm[v])


def _ring_quotas(mended: Mended) -> dict[str, EditValue] | None:
    s = mended.standing
    first = s.places[0].leaf
    ring = [v for v in range(s.count) if _in_ring(mended, v) and s.places[v].leaf == first]
    return _by_height(mended, ring) if ring else None


def _by_height(mended: Mended, places: list[int]) -> dict[str, EditValue]:
    s = mended.standing
    counts = [0] * len(s.levels_nm)
    for v in places:
        counts[int(mended.level[v])] += 1
    known: list[bool] = np.asarray(s.allowed[places].any(axis=0)).tolist() if places else [True] * len(counts)
    return {_height(s, nm): n for nm, n, may in zip(s.levels_nm, counts, known, strict=True) if may or n}


def _own_shades(s: Standing, family: str, lightness: list[float]) -> list[int]:
    """The shades of a family in the order of the brief, which may run the other way round from the scale."""
    own = [number for number, name in enumerate(s.shades) if name.rsplit(" ", 1)[0].casefold() == family.casefold()]
    falls = s.lab[own[0]][0] > s.lab[own[-1]][0]
    if falls != (lightness[0] > lightness[-1]):
        own.reverse()
    return own
