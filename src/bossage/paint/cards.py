"""Which mixes are painted on the test card sheets, and in which field each one lies.

The mixes depend on the families' bases and tinters only, never on what is known of them, so that a sheet printed
before the first reading is the sheet that is read afterwards.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from bossage.brief.records import Brief, Family
from bossage.colour.card_sheet import MOST_CARDS

BASE_PARTS = (5, 20, 80)
"""Parts of base to one of tinter where its strength is not known: one of the three lies near the middle in lightness
of most tinters (reference note on paint, simulated acrylics)."""


LET_DOWN_ML = (2.0, 6.0, 7.0, 10.0, 15.0, 20.0)
"""What is measured out for the mixes of one tinter: tinter, the mixes that are let down further, base."""

GUESS_TIMES = (1 / 3, 4.0)
"""How much less and how much more tinter than a guess a measured tint took (docs/decisions/0013)."""

CARD_BASE_ML, CARD_TINTER_ML = 45.0, 4.0
"""What the mixes of one tinter take: 2 mL let down with 10, 15 and 20 mL of base (as the sheet says), 2 mL neat."""


class FieldKind(StrEnum):
    """What is painted on a field."""

    BASE = "base"
    NEAT = "neat"  # a tinter by itself
    MIX = "mix"  # a tinter in base
    CROSS = "cross"  # all tinters of a family at once
    SHADE = "shade"  # as bought


@dataclass(frozen=True, slots=True, kw_only=True)
class CardField:
    """One field of a sheet."""

    name: str
    kind: FieldKind
    families: tuple[str, ...]  # the base may belong to several
    tinter: str = ""
    parts: tuple[int, ...] = ()  # base first, then each tinter of the family
    lightness: float | None = None  # of a shade as bought

    @property
    def fraction(self) -> float:
        """Tinter in the whole, by volume: 1 for a neat tinter, 0 for the base."""
        return sum(self.parts[1:]) / sum(self.parts) if self.parts else 0.0


def card_fields(brief: Brief) -> tuple[tuple[CardField, ...], ...]:
    """Fields of every sheet, in order; a family is not torn apart where it fits on one."""
    sheets: list[list[CardField]] = [[]]
    for group in _groups(brief.families):
        if sheets[-1] and len(sheets[-1]) + len(group) > MOST_CARDS:
            sheets.append([])
        for field in group:
            if len(sheets[-1]) == MOST_CARDS:
                sheets.append([])
            sheets[-1].append(field)
    return tuple(tuple(sheet) for sheet in sheets)


def _groups(families: tuple[Family, ...]) -> list[list[CardField]]:
    groups = []
    bases: dict[object, list[str]] = {}
    for family in families:
        if family.base:
            bases.setdefault(family.base, []).append(family.name)
    for family in families:
        group: list[CardField] = []
        if family.base and bases[family.base][0] == family.name:
            sharing = tuple(bases[family.base])
            name = "base" if len(bases) == 1 else f"{family.name} base"
            if family.clear:
                name = f"{family.name} bare wood"
            group.append(CardField(name=name, kind=FieldKind.BASE, families=sharing))
        fields = _clear(family) if family.clear else _tinted(family) if family.base else _bought(family)
        groups.append([*group, *fields])
    return groups


def _tinted(family: Family) -> list[CardField]:
    several = len(family.tinters) > 1
    fields = []
    for number, tinter in enumerate(family.tinters):
        call = f"{family.name} {tinter.name}" if several else family.name

        def parts(base_n: int, number: int = number) -> tuple[int, ...]:
            return (base_n, *(int(k == number) for k in range(len(family.tinters))))

        fields.append(
            CardField(
                name=f"{call} neat", kind=FieldKind.NEAT, families=(family.name,), tinter=tinter.name, parts=parts(0)
            )
        )
        fields += [
            CardField(
                name=f"{call} {base_n}:1",
                kind=FieldKind.MIX,
                families=(family.name,),
                tinter=tinter.name,
                parts=parts(base_n),
            )
            for base_n in BASE_PARTS
        ]
    if several:
        ones = ":".join("1" for _ in family.tinters)
        middle = BASE_PARTS[1]
        fields.append(
            CardField(
                name=f"{family.name} {middle}:{ones}",
                kind=FieldKind.CROSS,
                families=(family.name,),
                parts=(middle, *(1 for _ in family.tinters)),
            )
        )
    return fields


def _clear(family: Family) -> list[CardField]:
    """One full coat on a face of end grain, and for a stain half and a quarter of its strength."""
    (tinter,) = family.tinters
    halves = {"half": (1, 1), "quarter": (3, 1)} if family.finish == "stain" else {}
    neat = CardField(
        name=f"{family.name} full", kind=FieldKind.NEAT, families=(family.name,), tinter=tinter.name, parts=(0, 1)
    )
    return [
        neat,
        *(
            CardField(
                name=f"{family.name} {strength}",
                kind=FieldKind.MIX,
                families=(family.name,),
                tinter=tinter.name,
                parts=(thinner, finish),
            )
            for strength, (thinner, finish) in halves.items()
        ),
    ]


def _bought(family: Family) -> list[CardField]:
    from bossage.colour.scales import shade_names

    return [
        CardField(name=name, kind=FieldKind.SHADE, families=(family.name,), lightness=lightness)
        for name, lightness in zip(shade_names(family.name, family.lightness), family.lightness, strict=True)
    ]
