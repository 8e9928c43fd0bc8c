"""Clear finishes by shade: coats, dilution, volumes, and how sides look beside faces of end grain."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief, Family
from bossage.colour.spaces import lab_to_hex
from bossage.colour.stains import stained_lab
from bossage.fade.records import Fade
from bossage.fade.scales import family_mixes, family_scale, family_stain
from bossage.paint.records import ShadePaint
from bossage.paint.way_records import StainFamily, StainShade


def primed_blocks(brief: Brief, fade: Fade) -> NDArray[np.bool_]:
    """Which blocks get a primer: those of paint. A clear finish goes on bare wood."""
    clear = {family.name for family in brief.families if family.clear}
    by_shade = np.array([shade.family not in clear for shade in fade.shades])
    return np.asarray(by_shade[fade.shade])


def stain_families(brief: Brief) -> tuple[StainFamily, ...]:
    """Families with a clear finish, volumes still nil."""
    return tuple(_family(family) for family in brief.families if family.clear)


def with_volumes(families: tuple[StainFamily, ...], rows: tuple[ShadePaint, ...]) -> tuple[StainFamily, ...]:
    """The same with the millilitres of each shade's row."""
    mix_ml = {row.shade: row.mix_ml for row in rows}
    return tuple(
        replace(
            family,
            shades=tuple(
                replace(
                    one,
                    mix_ml=mix_ml[one.shade],
                    finish_ml=mix_ml[one.shade] * one.parts[0] / sum(one.parts),
                )
                for one in family.shades
            ),
        )
        for family in families
    )


def _family(family: Family) -> StainFamily:
    stain = family_stain(family)
    shades = []
    for shade, mix in zip(family_scale(family).shades, family_mixes(family), strict=True):
        sides = stained_lab(stain, mix.strength, end_grain=False)
        shades.append(
            StainShade(
                shade=shade.name,
                coats=mix.coats,
                parts=mix.parts,
                mix_ml=0.0,
                finish_ml=0.0,
                face_lab=shade.lab,
                sides_lab=(float(sides[0]), float(sides[1]), float(sides[2])),
                sides_hex=lab_to_hex(sides),
            )
        )
    return StainFamily(
        family=family.name,
        finish=family.finish,
        name=stain.name,
        end_grain=stain.end_grain,
        by_cards=bool(stain.card_miss_de),
        wood_lab=stain.wood_lab,
        shades=tuple(shades),
    )
