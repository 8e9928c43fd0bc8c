"""Wood screws by gauge: shank, root and head, bending yield strength (ASME B18.6.1; NDS 2018 Appendices L and I)."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache

from bossage.errors import BossageError
from bossage.fasteners.units import INCH_MM, PSI_MPA
from bossage.ranges import within
from bossage.tables import is_from_memory, table_rows


class UnknownScrew(BossageError):
    """No such screw in the table."""


@dataclass(frozen=True, slots=True, kw_only=True)
class WoodScrew:
    """One size of wood screw. D, D_r, D_H and F_yb of the NDS, in its units and in ours."""

    gauge: int
    D_in: float
    D_r_in: float
    D_H_in: float
    F_yb_psi: float
    source: str
    from_memory: bool

    @property
    def shank_mm(self) -> float:
        """Shank and thread diameter D."""
        return self.D_in * INCH_MM

    @property
    def root_mm(self) -> float:
        """Root diameter D_r, which the yield equations use."""
        return self.D_r_in * INCH_MM

    @property
    def head_mm(self) -> float:
        """Head diameter D_H."""
        return self.D_H_in * INCH_MM

    @property
    def bending_yield_mpa(self) -> float:
        """Bending yield strength F_yb."""
        return self.F_yb_psi * PSI_MPA


@cache
def screw_gauges() -> tuple[int, ...]:
    """All gauges of the table, thinnest first."""
    return tuple(int(row["gauge"]) for row in table_rows("bossage.fasteners", "screw_gauges.csv"))


@cache
def wood_screw(gauge: int) -> WoodScrew:
    """A wood screw by its number.

    Args:
        gauge: Screw number, one of `screw_gauges()`.

    Returns:
        Its diameters and bending yield strength.

    Raises:
        UnknownScrew: The table does not list the number.

    Leaves out:
        Hardened construction screws, whose makers publish their own figures.

    Source:
        NDS 2018 Tables L3 and I1, `data/screw_gauges.csv`; numbers 6 to 14 agree with a public transcription of the
        printed tables, 16 and thicker are from memory.
    """
    rows = {int(row["gauge"]): row for row in table_rows("bossage.fasteners", "screw_gauges.csv")}
    if gauge not in rows:
        listed = ", ".join(str(g) for g in rows)
        raise UnknownScrew(f"There is no wood screw number {gauge} in the table. Listed are {listed}.")
    row = rows[gauge]
    return WoodScrew(
        gauge=gauge,
        D_in=float(row["D_shank_in"]),
        D_r_in=float(row["Dr_root_in"]),
        D_H_in=float(row["head_dia_in"]),
        F_yb_psi=float(row["Fyb_psi"]),
        source=row["source"],
        from_memory=is_from_memory(row),
    )


def shank_mm(gauge: str) -> float:
    """Shank diameter of a screw as a brief writes it: `#10`, or `5 mm`; `UnknownScrew` for an unlisted number."""
    return wood_screw(int(gauge[1:])).shank_mm if gauge.startswith("#") else float(gauge.removesuffix("mm").strip())


def thread_length_mm(screw_length_mm: float, diameter_mm: float) -> float:
    """Length of thread of a standard wood screw, tip included.

    Args:
        screw_length_mm: Length under the head, 5 to 300 mm.
        diameter_mm: Shank diameter, 1 to 12 mm.

    Returns:
        Two thirds of the length or four diameters, whichever is more, and never above the length.

    Raises:
        OutOfRange: An argument lies outside its range.

    Leaves out:
        Screws threaded to the head.

    Source:
        NDS 2018 Table L3 footnotes, read in a public transcription.
    """
    length = within("Screw length", screw_length_mm, 5, 300, "mm")
    D = within("Screw diameter", diameter_mm, 1, 12, "mm")
    return min(length, max(2 * length / 3, 4 * D))
