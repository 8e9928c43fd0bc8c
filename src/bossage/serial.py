"""A plan as JSON: every number with its unit in its name, the same bytes for the same plan.

Lengths are kept inside as whole nanometres and written as millimetres (`x_nm` becomes `x_mm`); a nanometre is the
sixth decimal of a millimetre, so nothing is lost. Records of the body, which a shop may add up, keep whole nanometres
under their own names. Areas in nm² become mm². Arrays become lists. What has no bound (the
lifting index where nothing may be lifted, the margin of a link without a load) is null.
"""

from __future__ import annotations

import json
import math
from dataclasses import fields, is_dataclass
from enum import Enum
from fractions import Fraction

import numpy as np

FORMAT = "bossage.plan/2"
READ_TOO = ("bossage.plan/1",)  # differs by names of counts that no reader of ours asks for
NM_PER_MM = 10**6

Json = dict[str, "Json"] | list["Json"] | str | int | float | bool | None


def plan_json(plan: object) -> bytes:
    """The plan as UTF-8 JSON with a final newline; `format` names this layout of it (docs/plan-json.md)."""
    body = to_json(plan)
    assert isinstance(body, dict)
    return dumps({"format": FORMAT, **body})


def dumps(value: Json) -> bytes:
    """Any JSON value as the bytes that this program writes."""
    return (json.dumps(value, ensure_ascii=False, indent=1, allow_nan=False) + "\n").encode()


def to_json(value: object) -> Json:
    """Records, enums, arrays and tuples as plain JSON values, units renamed as said above.

    Raises:
        TypeError: Something in the record has no JSON form; a plan holds nothing of the kind.
    """
    if is_dataclass(value) and not isinstance(value, type):
        pairs = [(field.name, getattr(value, field.name)) for field in fields(value)]
        return {name: to_json(item) for name, item in pairs} if getattr(value, "in_nm", False) else _pairs(pairs)
    if isinstance(value, dict):
        return _pairs([(str(key), item) for key, item in value.items()])
    return _plain(value)


def _pairs(pairs: list[tuple[str, object]]) -> dict[str, Json]:
    out: dict[str, Json] = {}
    for name, value in pairs:
        if name.endswith("_nm2"):
            out[name.removesuffix("_nm2") + "_mm2"] = _scaled(value, NM_PER_MM**2)
        elif name.endswith("_nm"):
            out[name.removesuffix("_nm") + "_mm"] = _scaled(value, NM_PER_MM)
        else:
            out[name] = to_json(value)
    return out


def _plain(value: object) -> Json:
    if isinstance(value, Enum):
        return to_json(value.name.lower() if isinstance(value.value, int) else value.value)
    if isinstance(value, float) and not math.isfinite(value):
        return None
    if value is None or isinstance(value, str | bool | int | float):
        return value
    if isinstance(value, np.generic):
        return to_json(value.item())
    if isinstance(value, np.ndarray):
        return [to_json(item) for item in value.tolist()]
    if isinstance(value, tuple | list | frozenset):
        return [to_json(item) for item in value]
    raise TypeError(f"{type(value).__name__} has no JSON form")


def _scaled(value: object, divisor: int) -> Json:
    if isinstance(value, np.ndarray):
        value = value.tolist()
    if isinstance(value, dict):
        return {str(key): _scaled(item, divisor) for key, item in value.items()}
    if isinstance(value, tuple | list):
        return [_scaled(item, divisor) for item in value]
    if isinstance(value, int):
        return value // divisor if value % divisor == 0 else float(Fraction(value, divisor))
    return value / divisor if isinstance(value, float) else to_json(value)
