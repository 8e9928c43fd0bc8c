"""What a shade takes beside its blocks: two spares for the blocking test, what clings to a pot, test pieces of wood."""

from __future__ import annotations

from collections.abc import Sequence

from bossage.brief.records import Brief
from bossage.fade.records import Fade, Shade
from bossage.paint.areas import BlockAreas, FloatArray
from bossage.paint.way_records import StainFamily

TEST_SPARES = 2
"""Spares that are pressed as a test before a face is (`press.young`)."""

POT_LOSES_ML = (5.0, 8.0)
"""What dabs, brush and the wall of a family's pot take (a painter's count, no source). All of it is missing in the last
shade that is poured."""

STRENGTHS_TRIED = 1 + 1 / 2 + 1 / 4
"""Stain on the test pieces: full, half, a quarter."""


def blocking_shade(brief: Brief, fade: Fade) -> Shade:
    """The shade of the blocking test: paint with the most tinter; without a mix the darkest, which got the most."""
    clear = {family.name for family in brief.families if family.clear}
    painted = [shade for shade in fade.shades if shade.family not in clear] or list(fade.shades)
    return max(painted, key=lambda shade: (shade.tinter_fraction or 0.0, -shade.lightness))


def thirst(brief: Brief, fade: Fade, stains: tuple[StainFamily, ...]) -> tuple[float, ...]:
    """By shade, how many times as much as a side a face takes: end grain drinks a clear finish, and primer fills it
    under paint."""
    end_grain = {one.family: one.end_grain for one in stains}
    return tuple(end_grain.get(shade.family, 1.0) for shade in fade.shades)


def largest_mm2(areas: BlockAreas, face_times: float = 1.0) -> float:
    """Face and sides of the largest block: a spare is not larger."""
    return float((face_times * areas.face_mm2 + areas.sides_mm2).max())


def extra_ml(
    brief: Brief,
    fade: Fade,
    areas: BlockAreas,
    stains: tuple[StainFamily, ...],
    face_times: Sequence[float],
    coats_n: Sequence[int],
) -> tuple[float, ...]:
    """By shade, over its blocks' coats and reserve: the spares of the blocking test, and the loss of a family's pot.

    The loss stands with the darkest shade of a family of one tinter, which is poured last.
    """
    ml_per_mm2 = 1e-3 / brief.paint.colour_m2_per_l
    tested = blocking_shade(brief, fade).name
    last: dict[str, str] = {}
    for family in brief.families:
        mixed = [s for s in fade.shades if s.family == family.name and s.modelled and s.tinter_fraction is not None]
        if mixed and not family.clear and len(family.tinters) == 1 and family.mixed is None:
            last[family.name] = max(mixed, key=lambda shade: shade.tinter_fraction or 0.0).name
    return tuple(
        (TEST_SPARES * largest_mm2(areas, times) * coats * ml_per_mm2 if shade.name == tested else 0.0)
        + (POT_LOSES_ML[1] if last.get(shade.family) == shade.name else 0.0)
        for shade, times, coats in zip(fade.shades, face_times, coats_n, strict=True)
    )


def tried_ml(brief: Brief, face_mm2: FloatArray, stain: StainFamily) -> float:
    """Stain, oil or wax on the test pieces of one family: end grain of the largest face."""
    coats = max(shade.coats for shade in stain.shades)
    full = STRENGTHS_TRIED if stain.finish == "stain" else coats * (coats + 1) / 2
    return full * float(face_mm2.max()) * stain.end_grain / brief.paint.colour_m2_per_l * 1e-3
