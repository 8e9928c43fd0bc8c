"""The piece as it was planned, from a plan in memory or from its plan.json."""

from __future__ import annotations

import json
from typing import Any

import numpy as np

from bossage.errors import BossageError
from bossage.layout.records import Zone, letter_name
from bossage.plan import Plan
from bossage.relief import at_outline
from bossage.replan.left import rests_of, sold_of
from bossage.replan.records import Place, Standing
from bossage.serial import FORMAT, READ_TOO, to_json

NM_PER_MM = 10**6


class CannotStand(BossageError):
    """A file that is no plan, or one that a re-plan cannot start from."""


def standing_of(plan: Plan) -> Standing:
    """What a re-plan needs of a plan."""
    body = to_json(plan)
    assert isinstance(body, dict)
    return _from_body(body)


def standing_of_json(text: str) -> Standing:
    """What stands in the shop, by a plan.json of this format or an earlier one.

    Raises:
        CannotStand: It is no plan.json of a format that is read, or lacks what is needed.
    """
    try:
        body = json.loads(text)
    except (ValueError, RecursionError):
        raise CannotStand("This is no plan.json: it is not JSON. Name the brief, or the plan.json of a pack.") from None
    if not isinstance(body, dict) or body.get("format") not in (FORMAT, *READ_TOO):
        found = body.get("format") if isinstance(body, dict) else None
        raise CannotStand(
            f"This JSON says format {found!r}; a plan.json of this version says {FORMAT!r}. Plan the brief again and "
            "name the plan.json of that pack."
        )
    try:
        return _from_body(body)
    except (KeyError, TypeError, IndexError, ValueError, AttributeError, OverflowError) as fault:
        raise CannotStand(
            f"This plan.json is not whole ({type(fault).__name__}: {fault}). Plan the brief again and name the new one."
        ) from None


def _from_body(body: dict[str, Any]) -> Standing:
    brief, layout, relief, fade = body["brief"], body["layout"], body["relief"], body["fade"]
    blocks, face = layout["blocks"], brief["blocks"]
    n, levels_n = len(blocks["leaf"]), len(face["levels_mm"])
    leaf = _whole(blocks["leaf"], n, len(layout["leaves"]))
    footprint = _whole(blocks["footprint"], n, len(face["footprints"]))
    ring = np.asarray(_whole(blocks["zone"], n, 2)) == int(Zone.RING)
    bond = layout["ring_bond"]
    extra_nm = 0 if bond is None else _nm(bond["extra_mm"])
    allowed = np.zeros((len(face["footprints"]), levels_n), dtype=np.bool_)
    for number, one in enumerate(face["footprints"]):
        allowed[number, one["allowed"]] = True
    x_nm, y_nm = _lengths(blocks["x_mm"], n), _lengths(blocks["y_mm"], n)
    width_nm, height_nm = _lengths(blocks["width_mm"], n), _lengths(blocks["height_mm"], n)
    may = allowed[footprint]
    if face["edge_levels"] is not None:
        copies = np.array([int(one["copy"]) for one in layout["leaves"]], dtype=np.int64)[leaf]
        barred = [level for level in range(levels_n) if level not in face["edge_levels"]]
        may[:, barred] &= ~at_outline(copies, x_nm, y_nm, width_nm, height_nm)[:, None]
    letters = _whole(blocks["letter"], n, 10**4)
    rows, columns = _whole(blocks["row"], n, 10**6), _whole(blocks["column"], n, 10**6)
    places = []
    for block in range(n):
        letter = letter_name(int(letters[block])) if letters[block] else ""
        places.append(
            Place(
                leaf=str(layout["leaves"][leaf[block]]["name"]),
                copy=int(layout["leaves"][leaf[block]]["copy"]),
                row=int(rows[block]),
                column=int(columns[block]),
                letter=letter,
                address=f"{rows[block]}·{columns[block]}{letter}",
            )
        )
    return Standing(
        name=str(brief["piece"]["name"]),
        stamp=str(body["stamp"]),
        unit=str(brief["piece"]["unit"]),
        seed=int(brief["piece"]["seed"]),
        draw=int(layout["draw"]),
        ring_quotas=face["ring_quotas"] is not None,
        places=tuple(places),
        footprints=tuple(str(one["name"]) for one in face["footprints"]),
        footprint=footprint,
        levels_nm=tuple(_nm(level) for level in face["levels_mm"]),
        level=_whole(relief["level"], n, levels_n),
        extra_nm=(extra_nm * ring).astype(np.int64),
        shades=tuple(str(shade["name"]) for shade in fade["shades"]),
        shade=_whole(fade["shade"], n, len(fade["shades"])),
        lab=tuple(tuple(float(x) for x in shade["lab"]) for shade in fade["shades"]),  # type: ignore[misc]
        edges=_pairs(blocks["edges"], n),
        corner_edges=_pairs(blocks["corner_edges"], n),
        diagonal=bool(face["diagonal"]),
        min_step=int(face["min_step"]),
        allowed=may,
        x_nm=x_nm,
        y_nm=y_nm,
        width_nm=width_nm,
        height_nm=height_nm,
        light_from=str(brief["wall"]["light_from"]),
        spares=_spares(
            tuple((str(one["section"]), number) for number, one in enumerate(face["footprints"])),
            tuple(
                (str(cut["section"]), tuple((_nm(row["length_mm"]), int(row["spares"])) for row in cut["rows"]))
                for cut in body["saw"]["sections"]
            ),
        ),
        hold_nm=_nm(brief["tools"]["hold_mm"]),
        by_hand=str(brief["tools"]["saw"]) == "mitre box",
        kerf_nm=_nm(brief["tools"]["kerf_mm"]),
        sections=tuple(str(one["section"]) for one in face["footprints"]),
        rests=rests_of(body),
        sold=sold_of(body),
    )


def _spares(
    sections: tuple[tuple[str, int], ...], rows: tuple[tuple[str, tuple[tuple[int, int], ...]], ...]
) -> dict[tuple[int, int], int]:
    """Spares by footprint and length; where footprints share a section they go to the first of them."""
    first: dict[str, int] = {}
    for section, number in sections:
        first.setdefault(section, number)
    return {
        (first[section], length): spares
        for section, lengths in rows
        if section in first
        for length, spares in lengths
        if spares
    }


def _nm(mm: float) -> int:
    return round(float(mm) * NM_PER_MM)


def _lengths(values: list[float], n: int) -> Any:
    found = np.array([_nm(value) for value in values], dtype=np.int64)
    if len(found) != n:
        raise ValueError("lists of blocks differ in length")
    return found


def _whole(values: list[int], n: int, below: int) -> Any:
    found = np.array(values, dtype=np.int64).reshape(-1)
    if len(found) != n or (n and not (found.min() >= 0 and found.max() < below)):
        raise ValueError("a list of blocks does not fit the others")
    return found


def _pairs(values: list[list[int]], n: int) -> Any:
    found = np.array(values, dtype=np.int64).reshape(-1, 2)
    if len(found) and not (found.min() >= 0 and found.max() < n):
        raise ValueError("neighbours that do not exist")
    return found
