"""The colour of planed bare wood by species: a first guess for clear finishes."""

from __future__ import annotations

from bossage.tables import table_rows
from bossage.timber.species import species


def wood_lab(key: str) -> tuple[float, float, float]:
    """CIELAB (D65) of planed, bare, fresh wood.

    Args:
        key: A species or group, as `species` knows it; one that the table does not name takes its class's colour.

    Raises:
        UnknownSpecies: No such wood.

    Leaves out:
        Heartwood and sapwood, light over the years, and the spread between boards, some 5 in L* either way.

    Source:
        `data/wood_colours.csv`: recalled and rounded; a reading of your own wood stands before it.
    """
    rows = {row["key"]: row for row in table_rows("bossage.timber", "wood_colours.csv")}
    named = rows.get(key) or rows.get(key.removesuffix("_grp"))
    if named is None:
        named = rows["hardwood" if species(key).kind == "hardwood" else "softwood"]
    return float(named["L"]), float(named["a"]), float(named["b"])
