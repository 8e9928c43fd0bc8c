"""What lies in the trays, from the plan and from what the shop says: counts by footprint, length and shade."""

from __future__ import annotations

from collections import defaultdict

from bossage.replan.records import Shop, Standing, TrayCount
from bossage.replan.shop import UnclearShop
from bossage.units import format_length

Pile = tuple[int, int]  # footprint and length
Piles = dict[Pile, dict[str, int]]  # blocks by shade, "" bare


def piles_of(standing: Standing, shop: Shop) -> tuple[Piles, tuple[str, ...]]:
    """Blocks in the trays by footprint and length, then shade; and what had to be assumed, in sentences.

    Raises:
        UnclearShop: More is lost than there is.
    """
    piles: Piles = defaultdict(lambda: defaultdict(int))
    notes: list[str] = []
    if not shop.all_counted:
        notes += _as_planned(standing, shop, piles)
    for one in shop.counted:
        _count(standing, piles, one, notes, add=shop.all_counted)
    for one in shop.lost:
        _take(standing, piles, one, notes)
    for one in shop.found:
        piles[one.footprint, one.length_nm][one.shade or ""] += one.count
    if not shop.painted:
        for pile in piles.values():
            total = sum(pile.values())
            pile.clear()
            pile[""] = total
        notes.append("No block in the trays is painted yet.")
    return piles, tuple(dict.fromkeys(notes))


def _as_planned(standing: Standing, shop: Shop, piles: Piles) -> list[str]:
    """Every block of the plan that is not glued, and its spares."""
    glued = {one.place: one.level for one in shop.glued}
    for v in range(standing.count):
        if glued.get(v, -1) is None or glued.get(v) == standing.level[v]:
            continue
        piles[_own_pile(standing, v)][standing.shades[int(standing.shade[v])]] += 1
    for pile, spares in standing.spares.items():
        piles[pile][""] += spares
    for v, level in glued.items():
        if level is not None and level != standing.level[v]:
            own = standing.shades[int(standing.shade[v])]
            there = piles[int(standing.footprint[v]), standing.length_nm(v, level)]
            shade = next((s for s in (own, "") if there[s] > 0), _fullest(there))
            if there[shade] > 0:
                there[shade] -= 1
    for v in shop.spoiled:
        piles[_own_pile(standing, v)][standing.shades[int(standing.shade[v])]] -= 1
    notes = []
    uncounted = set(piles) - {(c.footprint, c.length_nm) for c in shop.counted}
    if uncounted:
        spares = sum(n for pile, n in standing.spares.items() if pile in uncounted)
        more = f", and the plan's {spares} spares, unpainted" if spares > 1 else ""
        more = ", and the plan's one spare, unpainted" if spares == 1 else more
        kept = "the blocks that are not glued" + (", less those spoiled" if shop.spoiled else "")
        notes.append(f"Where no tray was counted it is taken to hold {kept}{more}.")
    return notes


def _own_pile(standing: Standing, v: int) -> Pile:
    return int(standing.footprint[v]), standing.length_nm(v, int(standing.level[v]))


def _count(standing: Standing, piles: Piles, one: TrayCount, notes: list[str], *, add: bool) -> None:
    pile = piles[one.footprint, one.length_nm]
    if add:
        pile[one.shade or ""] += one.count
    elif one.shade is not None:
        pile[one.shade] = one.count
    else:
        there = sum(pile.values())
        if one.count >= there:
            pile[""] += one.count - there
        else:
            _thin(standing, pile, one, there - one.count, notes)


def _take(standing: Standing, piles: Piles, one: TrayCount, notes: list[str]) -> None:
    pile = piles[one.footprint, one.length_nm]
    there = sum(pile.values()) if one.shade is None else pile[one.shade]
    if one.count > there:
        raise UnclearShop(
            f"{_named(standing, one)}: {one.count} are said to be lost, but there are only {max(there, 0)}. "
            "Say instead how many lie in the tray."
        )
    if one.shade is None:
        _thin(standing, pile, one, one.count, notes)
    else:
        pile[one.shade] -= one.count


def _thin(standing: Standing, pile: dict[str, int], one: TrayCount, fewer: int, notes: list[str]) -> None:
    """Take blocks away where it was not said in which shade: bare ones first, then as evenly as the counts allow."""
    bare = min(fewer, pile.get("", 0))
    pile[""] = pile.get("", 0) - bare
    for _ in range(fewer - bare):
        pile[_fullest(pile)] -= 1
    if fewer > bare and len([s for s in pile if s and pile[s] > 0]) > 0:
        notes.append(
            f"{_named(standing, one)}: which shades are missing was not said, so they are taken from the fullest; "
            "say it as footprint/length/shade = count."
        )


def _named(standing: Standing, one: TrayCount) -> str:
    shade = "" if one.shade is None else f" {one.shade or 'bare'}"
    return f"{standing.footprints[one.footprint]}, {format_length(one.length_nm, standing.unit)}{shade}"


def _fullest(pile: dict[str, int]) -> str:
    return max(pile, key=lambda shade: (pile[shade], shade))
