"""What is known of a wood or a board by its key: density, gravity for fasteners, movement, stiffness.

The tables lie in `data/`, each row with its source and whether any of it is from memory.
"""

from __future__ import annotations

import difflib
from dataclasses import dataclass
from functools import cache

from bossage.errors import BossageError
from bossage.tables import is_from_memory, number_or_none, table_rows
from bossage.timber.density import ovendry_gravity_from_density
from bossage.timber.movement import DEFAULT_FSP_PCT

_PACKAGE = "bossage.timber"


class UnknownSpecies(BossageError):
    """No wood or board goes by that key.

    Attributes:
        key: What was asked for.
        near: Keys that look like it, best first.
    """

    def __init__(self, key: str, near: tuple[str, ...], what: str) -> None:
        self.key, self.near = key, near
        if what == "wood" and key in board_keys():
            advice = "It is a board; name the wood of the blocks."
        elif near:
            advice = f"Did you mean {' or '.join(near)}?"
        else:
            advice = f"Known are: {', '.join(_keys_of(what))}."
        super().__init__(f"'{key}' is no {what} that the tables list. {advice}")


@dataclass(frozen=True, slots=True, kw_only=True)
class Movement:
    """Movement coefficients of one row, printed and recomputed, with the rule which of them is used.

    The printed one where it exists, else the one recomputed from shrinkage. `row` is the row's own key; for a mix of
    species it is the largest mover (`reason` says why).
    """

    row: str
    reason: str
    radial_printed_per_pct: float | None
    radial_recomputed_per_pct: float | None
    tangential_printed_per_pct: float | None
    tangential_recomputed_per_pct: float | None
    fsp_pct: float
    source: str
    from_memory: bool

    @property
    def tangential_per_pct(self) -> float:
        """The tangential coefficient that plans use; also where the ring angle is unknown."""
        return _first(self.tangential_printed_per_pct, self.tangential_recomputed_per_pct)

    @property
    def radial_per_pct(self) -> float:
        """The radial coefficient that plans use, where the rings are known to lie flat to the direction."""
        return _first(self.radial_printed_per_pct, self.radial_recomputed_per_pct)

    @property
    def column(self) -> str:
        """Which column of the printed table the coefficient in use comes from."""
        return "C_T_per_pct" if self.tangential_printed_per_pct is not None else "C_T_recomputed"


@dataclass(frozen=True, slots=True, kw_only=True)
class Species:
    """One wood, or a group of woods that are graded together.

    The four bases of gravity stay apart: `basic_gravity` (green volume), `gravity_12pct` (12 % volume),
    `fastener_gravity` (oven-dry volume, as the NDS assigns it) and `density_12pct_kg_m3`.
    """

    key: str
    name: str
    latin: str
    kind: str
    density_12pct_kg_m3: float
    basic_gravity: float | None
    gravity_12pct: float | None
    fastener_gravity: float
    fastener_basis: str
    movement: Movement
    modulus_along_mpa: float | None
    source: str
    from_memory: bool
    note: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Board:
    """One kind of sheet material. `expansion_per_pct` is in the plane, per 1 % of moisture; all from memory."""

    key: str
    name: str
    density_12pct_kg_m3: float
    fastener_gravity: float
    fastener_basis: str
    modulus_along_mpa: float
    modulus_across_mpa: float
    planar_shear_mpa: float
    expansion_per_pct: float
    source: str
    from_memory: bool
    note: str


@cache
def species(key: str) -> Species:
    """The record of a wood or group.

    Args:
        key: A key of `species_keys()`, such as `norway_spruce` or `spf`.

    Returns:
        Everything that the tables know of it.

    Raises:
        UnknownSpecies: No such wood; the text lists near matches.

    Leaves out:
        The spread within a species: allow 10 % either way on any weight.

    Source:
        `data/species.csv` and `data/dimension_change.csv`, row by row.
    """
    row = _species_rows().get(key)
    if row is None:
        raise UnknownSpecies(key, _near(key, species_keys()), "wood")
    gravity, basis = _fastener_gravity(row)
    moduli = {r["key"]: r for r in table_rows(_PACKAGE, "moduli.csv")}
    return Species(
        key=key,
        name=row["common_name"],
        latin=row["latin"],
        kind=row["class"],
        density_12pct_kg_m3=float(row["density_12pct_kg_m3"]),
        basic_gravity=number_or_none(row["sg_basic"]),
        gravity_12pct=number_or_none(row["sg_12pct"]),
        fastener_gravity=gravity,
        fastener_basis=basis,
        movement=_movement(key),
        modulus_along_mpa=float(moduli[key]["modulus_along_mpa"]) if key in moduli else None,
        source=row["source"],
        from_memory=is_from_memory(row),
        note=row["note"],
    )


@cache
def board(key: str) -> Board:
    """The record of a sheet material.

    Args:
        key: A key of `board_keys()`: plywood_softwood, plywood_birch, osb, mdf or particleboard.

    Returns:
        Everything that the tables know of it.

    Raises:
        UnknownSpecies: No such board; the text lists near matches.

    Leaves out:
        The spread between mills: OSB runs from 0.51 to 0.80 in gravity. Weigh a sheet where it matters.

    Source:
        `data/species.csv` (density) and `data/boards.csv`, row by row; stiffness and movement from memory.
    """
    rows = {r["key"]: r for r in table_rows(_PACKAGE, "boards.csv")}
    if key not in rows:
        raise UnknownSpecies(key, _near(key, board_keys()), "board")
    row, common = rows[key], _panel_rows()[key]
    return Board(
        key=key,
        name=common["common_name"],
        density_12pct_kg_m3=float(common["density_12pct_kg_m3"]),
        fastener_gravity=float(row["g_fasteners"]),
        fastener_basis=row["g_basis"],
        modulus_along_mpa=float(row["modulus_along_mpa"]),
        modulus_across_mpa=float(row["modulus_across_mpa"]),
        planar_shear_mpa=float(row["planar_shear_mpa"]),
        expansion_per_pct=float(row["expansion_per_pct"]),
        source=f"{common['source']}; {row['source']}",
        from_memory=is_from_memory(row) or is_from_memory(common),
        note=common["note"],
    )


def species_or_board(key: str) -> Species | Board:
    """Whichever of the two goes by `key`; `UnknownSpecies` lists near matches among both."""
    if key in board_keys():
        return board(key)
    if key in species_keys():
        return species(key)
    raise UnknownSpecies(key, _near(key, species_keys() + board_keys()), "wood or board")


@cache
def species_keys() -> tuple[str, ...]:
    """Keys of all woods and groups, in the table's order."""
    return tuple(_species_rows())


@cache
def board_keys() -> tuple[str, ...]:
    """Keys of all sheet materials, in the table's order."""
    return tuple(row["key"] for row in table_rows(_PACKAGE, "boards.csv"))


def _movement(key: str) -> Movement:
    printed = {row["key"]: row for row in table_rows(_PACKAGE, "dimension_change.csv")}
    members = {row["key"]: row for row in table_rows(_PACKAGE, "movement_members.csv")}
    row_key, reason, recalled = key, "its own row", False
    if key in members:
        row_key, reason, recalled = members[key]["row_of"], members[key]["reason"], is_from_memory(members[key])
    row = printed[row_key]
    return Movement(
        row=row_key,
        reason=reason,
        radial_printed_per_pct=number_or_none(row["C_R_per_pct"]),
        radial_recomputed_per_pct=number_or_none(row["C_R_recomputed"]),
        tangential_printed_per_pct=number_or_none(row["C_T_per_pct"]),
        tangential_recomputed_per_pct=number_or_none(row["C_T_recomputed"]),
        # Commercial red and white oak are averages over species and follow from no single shrinkage.
        fsp_pct=number_or_none(row["fsp_used_pct"]) or DEFAULT_FSP_PCT,
        source=row["source"],
        from_memory=recalled or is_from_memory(row),
    )


def _fastener_gravity(row: dict[str, str]) -> tuple[float, str]:
    assigned = number_or_none(row["sg_nds_assigned"])
    if assigned is not None:
        return assigned, f"{row['common_name']}, {row['source']}"
    groups = {r["key"]: r for r in table_rows(_PACKAGE, "fastener_groups.csv")}
    if row["key"] in groups:
        group = groups[row["key"]]
        found = _species_rows()[group["group"]]
        return float(found["sg_nds_assigned"]), f"{found['common_name']}, {group['source']}"
    at_12pct = number_or_none(row["sg_12pct"])
    if at_12pct is not None:
        return at_12pct, "ours: no NDS group, so the 12 % gravity, which is below the oven-dry one"
    density = float(row["density_12pct_kg_m3"])
    return ovendry_gravity_from_density(density), "ours: no NDS group, so worked back from the mean density"


def _first(printed: float | None, recomputed: float | None) -> float:
    value = printed if printed is not None else recomputed
    if value is None:
        raise ValueError("a row of the movement table has neither coefficient")
    return value


@cache
def _species_rows() -> dict[str, dict[str, str]]:
    return {r["key"]: r for r in table_rows(_PACKAGE, "species.csv") if r["class"] != "panel"}


@cache
def _panel_rows() -> dict[str, dict[str, str]]:
    return {r["key"]: r for r in table_rows(_PACKAGE, "species.csv") if r["class"] == "panel"}


def _keys_of(what: str) -> tuple[str, ...]:
    return {"board": board_keys(), "wood": species_keys()}.get(what, species_keys() + board_keys())


def _near(key: str, known: tuple[str, ...]) -> tuple[str, ...]:
    wanted = "_".join(key.lower().replace("-", " ").replace("_", " ").split())
    close = difflib.get_close_matches(wanted, known, n=3, cutoff=0.6)
    holding = [k for k in known if wanted and (wanted in k or k in wanted)]
    return tuple(dict.fromkeys(close + holding))[:4]
