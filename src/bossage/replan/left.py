"""The sticks of a plan.json: what its cuts leave in the shop once the shims are cut, and what its blocks came from."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bossage.replan.records import InShop
from bossage.saw import StickStock

NM_PER_MM = 10**6


def rests_of(plan: dict[str, Any]) -> tuple[InShop, ...]:
    """Rests and whole sticks in the shop, one entry for sticks alike; a stick still to be bought is not there.

    A plan of an earlier format that says nothing of its rests is taken to leave none.
    """
    shims = plan["press"].get("shim_cut") or {}
    cut = {
        (str(shims["section"]), of_stick): _nm(stick["offcut_mm"])
        for of_stick, stick in zip(shims.get("rest_of", ()), (shims.get("plan") or {}).get("sticks", ()), strict=False)
        if of_stick is not None
    }
    found = []
    for one in plan["saw"].get("sticks_left", ()):
        rest = _in_shop(one)
        if rest.of_stick is None and not rest.stock.owned:
            continue
        left = cut.get((rest.section, rest.of_stick)) if rest.of_stick is not None else None
        stock = rest.stock if left is None else replace(rest.stock, length_nm=left, no_go=())
        if stock.length_nm > stock.stub_nm:
            found.append(replace(rest, stock=stock))
    return tuple(found)


def sold_of(plan: dict[str, Any]) -> tuple[InShop, ...]:
    """The brief's sticks by section, the ones to be bought before those that were owned."""
    sticks = sorted(plan["brief"]["sticks"], key=lambda one: bool(one["owned"]))
    return tuple(
        InShop(
            section=str(one["name"]),
            of_stick=None,
            stock=StickStock(
                name=str(one["bought_as"]),
                length_nm=_nm(one["length_mm"]),
                price_cents=int(one["price_cents"] or 0),
                trim_nm=_nm(one["trim_mm"]),
                stub_nm=_nm(one["stub_mm"]),
            ),
        )
        for one in sticks
    )


def _in_shop(one: dict[str, Any]) -> InShop:
    stock = one["stock"]
    return InShop(
        section=str(one["section"]),
        of_stick=None if one["of_stick"] is None else int(one["of_stick"]),
        stock=StickStock(
            name=str(stock["name"]),
            length_nm=_nm(stock["length_mm"]),
            price_cents=0,
            count=None if stock["count"] is None else int(stock["count"]),
            owned=bool(stock["owned"]),
            trim_nm=_nm(stock["trim_mm"]),
            stub_nm=_nm(stock["stub_mm"]),
            no_go=tuple((_nm(low), _nm(high)) for low, high in stock["no_go"]),
        ),
    )


def _nm(mm: float) -> int:
    return round(float(mm) * NM_PER_MM)
