"""Briefs made up by seed: feasible by construction, or with one planted fault of a known kind.

`made_up(seed)` gives a brief that can be planned; `with_fault(seed, kind)` the same with one thing wrong, and the
field that a fault must name. All lengths are drawn on the marks of the brief's own unit, so both forms are exact.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

MM = 1_000_000
IN_8 = 3_175_000  # an eighth of an inch
WOODS = ("spf", "norway_spruce", "douglas_fir_coast", "yellow_poplar", "radiata_pine", "eastern_white_pine")
HUES = ("#5F7A55", "#7B6A86", "#B58E6F", "#8F4A2E", "#56636E", "#3F7376")
FAMILY_NAMES = ("moss", "heather", "clay", "rust", "slate", "teal")
Data = dict[str, Any]


@dataclass(frozen=True, slots=True, kw_only=True)
class MadeUp:
    """A brief as TOML; `fault` and `field` say what was planted, empty where nothing was."""

    seed: int
    text: str
    fault: str
    field: str


@dataclass(frozen=True, slots=True)
class Nm:
    """A length, written in one of its forms."""

    nm: int


def made_up(seed: int) -> MadeUp:
    """A brief that can be planned."""
    rng = random.Random(seed)
    return MadeUp(seed=seed, text=to_toml(_feasible(rng), rng), fault="", field="")


def with_fault(seed: int, kind: str) -> MadeUp:
    """A brief with one fault of that kind."""
    rng = random.Random(seed)
    data = _feasible(rng)
    field = FAULTS[kind](data, rng)
    return MadeUp(seed=seed, text=to_toml(data, rng), fault=kind, field=field)


def mosaic(seed: int, fault: str = "") -> MadeUp:
    """A brief whose blocks cover cells of the grid, by count or by share; with a fault of `MOSAIC_FAULTS` if told."""
    rng = random.Random(f"mosaic {seed}")
    data = _mosaic(rng)
    field = MOSAIC_FAULTS[fault](data, rng) if fault else ""
    return MadeUp(seed=seed, text=to_toml(data, rng), fault=fault, field=field)


def one_of_many(seed: int) -> MadeUp:
    """Feasible or faulty by turns: every third brief has a fault, of each kind in turn."""
    kinds = list(FAULTS)
    return with_fault(seed, kinds[seed // 3 % len(kinds)]) if seed % 3 == 2 else made_up(seed)


def to_toml(data: Data, rng: random.Random) -> str:
    """The sections as TOML text."""
    unit = data["piece"]["unit"]
    out = []
    for name, value in data.items():
        tables = value if isinstance(value, list) else [value]
        for table in tables:
            out.append(f"[[{name}]]" if isinstance(value, list) else f"[{name}]")
            out += [f"{_key(key)} = {_value(entry, unit, rng)}" for key, entry in table.items()]
            out.append("")
    return "\n".join(out)


# ------------------------------------------------------------------------------------------- feasible briefs


def _feasible(rng: random.Random) -> Data:
    unit = rng.choice(("mm", "in"))
    step = MM if unit == "mm" else IN_8
    data: Data = {"piece": {"name": f"Piece {rng.randrange(1000)}", "unit": unit, "seed": rng.randrange(1000)}}
    columns, rows = rng.randint(4, 9), rng.randint(4, 8)
    style = rng.choice(("inset", "inset", "outrigger", "banded"))
    kind = "plain" if style == "outrigger" else rng.choice(("plain", "split", "rows"))
    levels = _levels(rng, step, 3 if kind == "plain" else 5)
    footprints, fills, module = _footprints(rng, kind, step, columns, rows)
    while not _roomy(style, module, columns, rows):
        columns, rows = min(columns + 1, 12), rows + 1
        footprints, fills, module = _footprints(rng, kind, step, columns, rows)
    leaves = rng.choice((1, 1, 1, 2))
    opened = _open_cells(rng, columns, rows, style, kind)
    _quotas(rng, data, footprints, fills, levels, (columns, rows), opened, style)
    width = leaves * columns * module[0]
    height = rows * module[1]
    wall_w, wall_h = width + 600 * MM // step * step, height + 1200 * MM // step * step
    data["wall"] = _wall(rng, wall_w, wall_h, step)
    data["fixture"] = [_fixture(rng, data["wall"], width, height, module, step)]
    data["blocks"] = {
        **data.pop("blocks", {}), "columns": columns, "rows": rows, "gap": 0, "levels": levels,
        "species": rng.choice(WOODS), "cover_margin": Nm(0),
    }  # fmt: skip
    data["footprint"] = footprints
    if fills:
        data["fill"] = fills
    if opened or leaves > 1:
        data["leaf"] = [{"name": name, "open": opened} for name in ("left", "right")[:leaves]]
        if leaves > 1:
            data["blocks"]["leaf_gap"] = 0
    data["edge"] = {"style": style, **_edge(style, module, step)}
    data["family"] = _families(rng)
    data["fade"] = {"shape": "path", "grain": rng.choice((0, 0.5, 1))}
    if rng.random() < 0.7:
        data["stick"] = _sticks(rng, footprints, step)
    data["tools"] = {"kerf": Nm(3_200_000)}
    if rng.random() < 0.3:
        data["climate"] = _climate(rng)
    if rng.random() < 0.3:
        lost = 3 * module[1] if style == "outrigger" else 0
        _ribs(rng, data, (height - lost) // 2 // step * step, step)
    return data


def _roomy(style: str, module: tuple[int, int], columns: int, rows: int) -> bool:
    """Whether a cleat, what is hidden and a foot have a place behind it: more than a hand's breadth over and beside."""
    lost = (3, 3) if style == "outrigger" else (0, 0)  # the ring, and half as much again under the strips' laps
    return (columns - lost[0]) * module[0] >= 260 * MM and (rows - lost[1]) * module[1] >= 260 * MM


def _ribs(rng: random.Random, data: Data, long: int, step: int) -> None:
    """Ribs, bought as lengths or out of a stick or a plank that the brief names."""
    thick, wide = (18 * MM, 40 * MM) if step == MM else (6 * IN_8, 12 * IN_8)
    wood = rng.choice(WOODS)
    data["behind"] = [
        {
            "role": "rib", "count": rng.randint(1, 3), "length": Nm(long), "width": Nm(wide), "depth": Nm(thick),
            "species": wood,
        }
    ]  # fmt: skip
    there = {"owned": True, "count": rng.randint(1, 3)} if rng.random() < 0.5 else {"price": 4}
    source = rng.choice(("stick", "sheet", "none"))
    if source == "stick" and "stick" in data:
        data["stick"].append(
            {
                "name": "rib", "width": Nm(thick), "height": Nm(wide), "length": Nm(4 * long + 400 * step),
                "species": wood, **there,
            }
        )  # fmt: skip
    elif source == "sheet":
        data["sheet"] = [
            {"material": wood, "thickness": Nm(thick), "width": Nm(8 * wide), "height": Nm(2 * long), **there}
        ]


def _climate(rng: random.Random) -> Data:
    """Air over the year: one value, winter and summer, or twelve months, humidity and temperature of one length."""
    count = rng.choice((1, 2, 12))
    humidity = [rng.randint(25, 75) for _ in range(count)]
    degrees = [f"{rng.randint(16, 26)} °C" for _ in range(rng.choice((1, count)))]
    place = rng.choice(("shop", "room"))
    return {
        f"{place}_humidity": humidity if count > 1 else humidity[0],
        f"{place}_temperature": degrees if len(degrees) > 1 else degrees[0],
    }


def _mosaic(rng: random.Random) -> Data:
    unit = rng.choice(("mm", "in"))
    step = MM if unit == "mm" else IN_8
    columns, rows = rng.randint(4, 8), rng.randint(4, 7)
    style = rng.choice(("inset", "inset", "banded", "outrigger"))
    cell = tuple(rng.randint(30, 60) * MM if step == MM else rng.randint(10, 20) * IN_8 for _ in range(2))
    shapes = [(1, 1), *rng.sample([(2, 1), (1, 2), (2, 2), (3, 1), (1, 3)], rng.randint(1, 3))]
    opened = _open_cells(rng, columns, rows, style, "mosaic")
    levels = _levels(rng, step, 6)
    cells = (columns - 2) * (rows - 2) if style == "outrigger" else columns * rows - len(opened)
    by_count = rng.random() < 0.5
    footprints, left = [], cells
    for wide, tall in shapes[1:]:
        one: Data = {
            "name": f"{wide}x{tall}", "width": Nm(wide * cell[0]), "height": Nm(tall * cell[1]),
            "cells": [wide, tall], "weights": [1] * len(levels),
        }  # fmt: skip
        if by_count:
            one["count"] = rng.randint(0, max(0, min(left // 3, cells // 4) // (wide * tall)))
            left -= one["count"] * wide * tall
            if one["count"]:
                one["quotas"] = _even(one["count"], len(levels))
                del one["weights"]
        elif rng.random() < 0.7:
            one["share"] = rng.choice((0.5, 1, 2))
        footprints.append(one)
    footprints.insert(0, {"name": "1x1", "width": Nm(cell[0]), "height": Nm(cell[1]), "cells": [1, 1]})
    width, height = columns * cell[0], rows * cell[1]
    wall_w, wall_h = width + 600 * MM // step * step, height + 1200 * MM // step * step
    data: Data = {
        "piece": {"name": f"Mosaic {rng.randrange(1000)}", "unit": unit, "seed": rng.randrange(1000)},
        "wall": _wall(rng, wall_w, wall_h, step),
        "blocks": {
            "columns": columns, "rows": rows, "levels": levels, "cover_margin": Nm(0),
            "through_joints": rng.choice((True, False)),
        },
        "footprint": footprints,
        "edge": {"style": style, **_edge(style, cell, step)},
        "family": _families(rng),
    }  # fmt: skip
    data["fixture"] = [_fixture(rng, data["wall"], width, height, cell, step)]
    if opened:
        data["leaf"] = [{"open": opened}]
    return data


def _levels(rng: random.Random, step: int, least: int) -> list[Nm]:
    low = (12 if step == MM else 4) * step
    rise = rng.randint(3, 8) * MM if step == MM else rng.randint(1, 3) * IN_8
    return [Nm(low + n * rise) for n in range(rng.randint(least, least + 3))]


def _footprints(
    rng: random.Random, kind: str, step: int, columns: int, rows: int
) -> tuple[list[Data], list[Data], tuple[int, int]]:
    if kind == "plain":
        width, height = (rng.randint(40, 100) * MM if step == MM else rng.randint(12, 32) * IN_8 for _ in range(2))
        return [{"name": "block", "width": Nm(width), "height": Nm(height)}], [], (width, height)
    if kind == "split":
        half = rng.randint(20, 50) * MM if step == MM else rng.randint(8, 16) * IN_8
        big, small = (
            {"name": name, "width": Nm(n * half), "height": Nm(n * half)} for name, n in (("big", 2), ("small", 1))
        )
        share = max(2, columns * rows // 5)
        fills: list[Data] = [{"rows": [["small", "small"]] * 2, "count": share}, {"rows": [["big"]]}]
        return [big, small], fills, (2 * half, 2 * half)
    sizes = (70, 95, 45) if step == MM else (22, 30, 14)  # 70 + 70 = 95 + 45, in mm and in eighths alike
    height = 45 * MM if step == MM else 14 * IN_8
    names = [str(n) for n in sizes]
    prints = [{"name": name, "width": Nm(n * step), "height": Nm(height)} for name, n in zip(names, sizes, strict=True)]
    third = columns * rows // 4
    a, b, c = names
    fills = [{"rows": [[a, a]]}, {"rows": [[b, c]], "count": third}, {"rows": [[c, b]], "count": third}]
    return prints, fills, (2 * sizes[0] * step, height)


def _open_cells(rng: random.Random, columns: int, rows: int, style: str, kind: str) -> list[list[int]]:
    if style == "outrigger" or kind == "rows" or rng.random() < 0.6:
        return []
    inner = [[row, column] for row in range(2, rows) for column in range(2, columns)]
    return sorted(rng.sample(inner, min(len(inner), rng.randint(1, 3))))


def _quotas(
    rng: random.Random,
    data: Data,
    footprints: list[Data],
    fills: list[Data],
    levels: list[Nm],
    grid: tuple[int, int],
    opened: list[list[int]],
    style: str,
) -> None:
    """Exact counts, as even as they go; or weights, or nothing, where the brief may leave them open."""
    if rng.random() < 0.3:
        if rng.random() < 0.5:
            footprints[0]["weights"] = [1] * len(levels)
        return
    columns, rows = grid
    modules = columns * rows - len(opened)
    counts = dict.fromkeys((str(one["name"]) for one in footprints), 0)
    rest = modules - sum(fill.get("count", 0) for fill in fills)
    for fill in fills or [{"rows": [[str(footprints[0]["name"])]]}]:
        for row in fill["rows"]:
            for name in row:
                counts[name] += fill.get("count", rest)
    if style == "outrigger":
        ring = 2 * (columns + rows) - 4
        data["blocks"] = {"ring_quotas": _even(ring, len(levels))}
        counts[str(footprints[0]["name"])] -= ring
    for one in footprints:
        quotas = _even(counts[str(one["name"])], len(levels))
        if rng.random() < 0.3:
            one["quotas"] = dict(zip(levels, quotas, strict=True))
        else:
            one["quotas"] = quotas


def _even(count: int, parts: int) -> list[int]:
    return [count // parts + (part < count % parts) for part in range(parts)]


def _wall(rng: random.Random, width: int, height: int, step: int) -> Data:
    wall: Data = {"width": Nm(width), "height": Nm(height)}
    if rng.random() < 0.5:
        return {**wall, "build": "masonry", "covering": Nm(15 * step) if step == MM else Nm(4 * step)}
    pitch = 400 * MM if step == MM else 16 * 8 * IN_8
    if rng.random() < 0.5:
        return {
            **wall,
            "studs": [Nm(n * pitch) for n in range(1, width // pitch + 1)] or [Nm(width // 2 // step * step)],
        }
    return {**wall, "build": "timber studs", "studs": {"first": Nm(pitch // 4 // step * step), "every": Nm(pitch)}}


def _fixture(rng: random.Random, wall: Data, width: int, height: int, module: tuple[int, int], step: int) -> Data:
    """Half as large as the piece at most, in the middle of the wall, so that any grid found or given covers it."""
    w, h = (max(step, size // 4 // step * step) for size in (width, height))
    x, y = ((wall[key].nm - size) // 2 // step * step for key, size in (("width", w), ("height", h)))
    fixture: Data = {
        "name": "hatch", "kind": rng.choice(("hatch", "valve box", "cable box", "meter")),
        "width": Nm(w), "height": Nm(h),
        "proud": Nm(rng.randint(0, 5) * (2 * MM if step == MM else IN_8)), "opened_per_year": rng.randint(1, 12),
    }  # fmt: skip
    if rng.random() < 0.5:
        return {**fixture, "x": Nm(x), "y": Nm(y)}
    return {**fixture, "centre": [Nm(x + w // 2), Nm(y + h // 2)]}


def _edge(style: str, module: tuple[int, int], step: int) -> Data:
    if style == "inset":
        return {"overhang": Nm(4 * MM if step == MM else IN_8)}
    if style == "banded":
        thick = Nm(6 * MM if step == MM else 2 * IN_8)
        return {"lipping_thickness": thick, "lipping_depth": Nm(12 * MM if step == MM else 4 * IN_8)}
    lap = min(module) // 2 // step * step
    return {"strip_thickness": Nm(4 * MM if step == MM else IN_8), "strip_width": Nm(2 * lap), "strip_behind": Nm(lap)}


def _families(rng: random.Random) -> list[Data]:
    count = rng.randint(1, 3)
    homes = {1: ["middle"], 2: ["left", "right"], 3: ["lower left", "between", "upper right"]}[count]
    names = rng.sample(range(len(FAMILY_NAMES)), count)
    out = []
    for index, home in zip(names, homes, strict=True):
        start = rng.randint(40, 60)
        family: Data = {
            "name": FAMILY_NAMES[index],
            "lightness": [start + 8 * n for n in range(rng.randint(1, 4))],
            "home": home,
        }
        if rng.random() < 0.3:
            # a white base reaches every lightness between it and its tinter
            strong: Data = {"name": "strong", "colour": rng.choice(("#4A4B3E", [31.2, -1.5, 7.0]))}
            family |= {"base": rng.choice(("#F2EFE6", [94.4, -0.5, 4.7])), "tinters": [strong]}
            if rng.random() < 0.5:
                strong |= {"g_per_ml": 1.4, "uncertainty": 1.5}
                card = {"tinter": "strong", "fraction": 0.05, "colour": [70.0, -2.0, 6.0], "uncertainty": 2.0}
                family |= {"base_g_per_ml": 1.2, "cards": [card]}
            if rng.random() < 0.4:
                family["lightness"] = {"from": start, "to": start + 24, "shades": rng.randint(2, 5)}
            elif rng.random() < 0.3:
                family["mixed"] = [0.3 / (1 + n) for n in range(len(family["lightness"]))]
        else:
            family["colour"] = HUES[index]
        out.append(family)
    return out


def _sticks(rng: random.Random, footprints: list[Data], step: int) -> list[Data]:
    long = Nm(2400 * MM) if step == MM else Nm(96 * 8 * IN_8)
    trim, stub = (Nm(30 * MM), Nm(200 * MM)) if step == MM else (Nm(8 * IN_8), Nm(64 * IN_8))
    return [
        {
            "name": one["name"], "width": one["width"], "height": one["height"], "length": long,
            "price": rng.randint(300, 2000) / 100, "trim": trim, "stub": stub, "spares": rng.choice((0, 5, 8)),
        }
        for one in footprints
    ]  # fmt: skip


# --------------------------------------------------------------------------------------------- planted faults


def _set(section: str, key: str, value: Any, field: str = "") -> Callable[[Data, random.Random], str]:
    """A value put where it does not belong; the field is that of the key unless told."""

    def plant(data: Data, rng: random.Random) -> str:
        table = data.setdefault(section, {})
        several = isinstance(table, list)
        (table[0] if several else table)[key] = value
        return field or f"{section}{'[1]' if several else ''}.{key}"

    return plant


def _drop(section: str, key: str) -> Callable[[Data, random.Random], str]:
    def plant(data: Data, rng: random.Random) -> str:
        table = data[section]
        several = isinstance(table, list)
        (table[0] if several else table).pop(key)
        return f"{section}{'[1]' if several else ''}.{key}"

    return plant


def _without(section: str) -> Callable[[Data, random.Random], str]:
    def plant(data: Data, rng: random.Random) -> str:
        del data[section]
        return section

    return plant


def _moisture_upside_down(data: Data, rng: random.Random) -> str:
    data.pop("climate", None)
    data["blocks"]["moisture_use"] = [12, 6]
    return "blocks.moisture_use"


def _air_and_moisture(data: Data, rng: random.Random) -> str:
    data["blocks"]["moisture_use"] = [6, 9]
    data["climate"] = {"room_humidity": [35, 60]}
    return "climate.room_humidity"


def _quotas_off(data: Data, rng: random.Random) -> str:
    one = data["footprint"][0]
    one.pop("weights", None)
    count = len(data["blocks"]["levels"])
    one["quotas"] = [7777] + [0] * (count - 1)
    return "footprint[1].quotas"


def _quotas_short(data: Data, rng: random.Random) -> str:
    one = data["footprint"][0]
    one.pop("weights", None)
    one["quotas"] = [1]
    return "footprint[1].quotas"


def _quotas_and_weights(data: Data, rng: random.Random) -> str:
    count = len(data["blocks"]["levels"])
    data["footprint"][0] |= {"quotas": [1] * count, "weights": [1] * count}
    return "footprint[1].weights"


def _quota_of_no_level(data: Data, rng: random.Random) -> str:
    one = data["footprint"][0]
    one.pop("weights", None)
    one["quotas"] = {Nm(999 * MM): 3}
    return "footprint[1].quotas."


def _quotas_without_grid(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["footprint"][0]["quotas"] = [1] * len(data["blocks"]["levels"])
    del data["blocks"]["columns"]
    return "footprint[1].quotas"


def _fill_names_nothing(data: Data, rng: random.Random) -> str:
    data["fill"] = [*data.get("fill", [{"rows": [[data["footprint"][0]["name"]]]}]), {"rows": [["bgi"]], "count": 1}]
    return f"fill[{len(data['fill'])}].rows[1][1]"


def _fills_too_many(data: Data, rng: random.Random) -> str:
    name = data["footprint"][0]["name"]
    data["fill"] = [*data.get("fill", [{"rows": [[name]]}]), {"rows": [[name]], "count": 15_000}]
    return "fill"


def _open_outside(data: Data, rng: random.Random) -> str:
    data["leaf"] = [{"open": [[1, 1000]]}]
    return "leaf[1].open[1]"


def _open_twice(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["leaf"] = [{"open": [[2, 2], [2, 2]]}]
    return "leaf[1].open[2]"


def _level_twice(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["blocks"]["levels"].append(data["blocks"]["levels"][0])
    return f"blocks.levels[{len(data['blocks']['levels'])}]"


def _level_zero(data: Data, rng: random.Random) -> str:
    data["blocks"]["levels"][1] = Nm(0)
    return "blocks.levels[2]"


def _steps_astray(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["blocks"]["levels"] = {"from": Nm(12 * MM), "to": Nm(31 * MM), "step": Nm(6 * MM)}
    return "blocks.levels.to"


def _plain_grid(data: Data) -> None:
    """Nothing that hangs on the number of blocks or levels."""
    data["blocks"].pop("ring_quotas", None)
    for one in data["footprint"]:
        one.pop("quotas", None)
        one.pop("weights", None)
    data.pop("leaf", None)


def _fixture_off_the_wall(data: Data, rng: random.Random) -> str:
    fixture = data["fixture"][0]
    fixture.pop("centre", None)
    fixture |= {"x": data["wall"]["width"], "y": Nm(0)}
    return "fixture[1].x"


def _two_places(data: Data, rng: random.Random) -> str:
    data["fixture"][0] |= {"x": Nm(10 * MM), "y": Nm(10 * MM), "centre": [Nm(500 * MM), Nm(500 * MM)]}
    return "fixture[1].centre"


def _pin(field: str, **values: Any) -> Callable[[Data, random.Random], str]:
    def plant(data: Data, rng: random.Random) -> str:
        data["pin"] = [values]
        return f"pin[1]{field}"

    return plant


def _pin_outside(data: Data, rng: random.Random) -> str:
    data["pin"] = [{"block": "99·1", "level": data["blocks"]["levels"][0]}]
    return "pin[1].block"


def _other_edge_key(data: Data, rng: random.Random) -> str:
    key = "overhang" if data["edge"]["style"] != "inset" else "lipping_thickness"
    data["edge"][key] = Nm(5 * MM)
    return f"edge.{key}"


def _ring_without_outrigger(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["edge"] = {"style": "inset"}
    data["blocks"]["ring_quotas"] = [1] * len(data["blocks"]["levels"])
    return "blocks.ring_quotas"


def _no_paint(data: Data, rng: random.Random) -> str:
    for key in ("colour", "base", "tinters"):
        data["family"][0].pop(key, None)
    return "family[1]"


def _base_alone(data: Data, rng: random.Random) -> str:
    for key in ("tinters", "cards", "mixed"):
        data["family"][0].pop(key, None)
    data["family"][0]["base"] = "#F2EFE6"
    return "family[1].tinters"


def _twins(section: str) -> Callable[[Data, random.Random], str]:
    def plant(data: Data, rng: random.Random) -> str:
        data[section].append(dict(data[section][0]))
        return f"{section}[{len(data[section])}].name"

    return plant


def _too_many_blocks(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["footprint"] = [{"width": Nm(10 * MM), "height": Nm(10 * MM)}]
    data.pop("fill", None)
    data.pop("stick", None)
    data["edge"] = {"style": "inset"}
    data["blocks"] |= {"columns": 150, "rows": 150}
    return "blocks"


def _too_wide(data: Data, rng: random.Random) -> str:
    _plain_grid(data)
    data["blocks"] |= {"columns": 4000, "rows": 4}
    data.pop("fill", None)
    data.pop("stick", None)
    data["footprint"] = data["footprint"][:1]
    data["edge"] = {"style": "inset"}
    return "blocks.columns"


def _wrong_section(data: Data, rng: random.Random) -> str:
    data["stick"] = _sticks(rng, data["footprint"], MM)
    data["footprint"][0]["section"] = "no such stick"
    return "footprint[1].section"


def _other_size(data: Data, rng: random.Random) -> str:
    data["stick"] = _sticks(rng, data["footprint"], MM)
    data["stick"][0] |= {"width": Nm(131 * MM)}
    return "footprint[1].section"


def _short_stick(data: Data, rng: random.Random) -> str:
    data["stick"] = _sticks(rng, data["footprint"], MM)
    data["stick"][0]["length"] = Nm(200 * MM)
    return "stick[1].length"


def _no_studs(data: Data, rng: random.Random) -> str:
    data["wall"].pop("studs", None)
    data["wall"]["build"] = "timber studs"
    return "wall.studs"


def _stud_off_the_wall(data: Data, rng: random.Random) -> str:
    data["wall"] |= {"build": "timber studs", "studs": [Nm(100 * MM), Nm(19_000 * MM)]}
    return "wall.studs[2]"


def _unknown_section(data: Data, rng: random.Random) -> str:
    data["fixtures"] = [{"width": 3}]
    return "fixtures"


def _of_footprint(number: int, key: str, value: Any) -> Callable[[Data, random.Random], str]:
    def plant(data: Data, rng: random.Random) -> str:
        data["footprint"][number][key] = value
        return f"footprint[{number + 1}].{key}"

    return plant


def _cells_left_out(data: Data, rng: random.Random) -> str:
    del data["footprint"][1]["cells"]
    return "footprint[2].cells"


def _count_and_share(data: Data, rng: random.Random) -> str:
    data["footprint"][1] |= {"count": 1, "share": 1}
    return "footprint[2].share"


def _quotas_by_share(data: Data, rng: random.Random) -> str:
    for one in data["footprint"]:
        one.pop("count", None)
        one.pop("quotas", None)
        one.pop("weights", None)
    data["footprint"][1]["quotas"] = [1] * len(data["blocks"]["levels"])
    return "footprint[2].quotas"


def _counts_of_too_much(data: Data, rng: random.Random) -> str:
    one = data["footprint"][1]
    one.pop("share", None)
    one.pop("quotas", None)
    one["count"] = 999
    return "footprint"


def _fill_beside_cells(data: Data, rng: random.Random) -> str:
    data["fill"] = [{"rows": [["1x1"]]}]
    return "fill"


MOSAIC_FAULTS: dict[str, Callable[[Data, random.Random], str]] = {
    "no cells": _of_footprint(1, "cells", [0, 1]),
    "a block of seven cells across": _of_footprint(1, "cells", [7, 1]),
    "cells left out": _cells_left_out,
    "cells twice": _of_footprint(1, "cells", [1, 1]),
    "a share of nothing": _of_footprint(1, "share", 0),
    "a count and a share": _count_and_share,
    "quotas by share": _quotas_by_share,
    "counts of too much": _counts_of_too_much,
    "a fill beside cells": _fill_beside_cells,
}


FAULTS: dict[str, Callable[[Data, random.Random], str]] = {
    "unknown key": _set("fixture", "widht", 3),
    "unknown section": _unknown_section,
    "no wall": _without("wall"),
    "no fixture": _without("fixture"),
    "no footprint": _without("footprint"),
    "no family": _without("family"),
    "no width": _drop("fixture", "width"),
    "no proud": _drop("fixture", "proud"),
    "words for a count": _set("blocks", "columns", "many"),
    "a fraction for a count": _set("blocks", "rows", 4.5),
    "words for a length": _set("fixture", "proud", "three inches"),
    "a number for a name": _set("piece", "name", 3),
    "a word for yes or no": _set("wall", "escape_route", "yes"),
    "an unknown unit": _set("fixture", "height", "3 furlong"),
    "a comma that could be two things": _set("fixture", "height", "1,200 mm"),
    "a negative length": _set("fixture", "width", -30),
    "not a number": _set("fixture", "proud", float("nan")),
    "endless": _set("wall", "width", float("inf")),
    "a wall over 20 m": _set("wall", "height", "25 m"),
    "an unknown build": _set("wall", "build", "wood"),
    "an unknown wood": _set("blocks", "species", "spff"),
    "an unknown kind": _set("fixture", "kind", "thermostate"),
    "an unknown unit of the piece": _set("piece", "unit", "furlong"),
    "a bad colour": _set("family", "colour", "green"),
    "a bad home": _set("family", "home", "upstairs"),
    "a bad gauge": _set("fixings", "gauge", "#11"),
    "lightness over 100": _set("family", "lightness", [50, 120], "family[1].lightness[2]"),
    "moisture upside down": _moisture_upside_down,
    "air and moisture both": _air_and_moisture,
    "five seasons": _set("climate", "shop_humidity", [60, 61, 62, 63, 64]),
    "air too damp": _set("climate", "room_humidity", 99),
    "quotas off": _quotas_off,
    "quotas short": _quotas_short,
    "quotas and weights": _quotas_and_weights,
    "a quota of no level": _quota_of_no_level,
    "quotas without a grid": _quotas_without_grid,
    "a fill of no footprint": _fill_names_nothing,
    "a count without cells": _of_footprint(0, "count", 5),
    "through joints without cells": _set("blocks", "through_joints", False),
    "too many fills": _fills_too_many,
    "an open cell outside": _open_outside,
    "an open cell twice": _open_twice,
    "a level twice": _level_twice,
    "a level of nothing": _level_zero,
    "steps astray": _steps_astray,
    "a fixture off the wall": _fixture_off_the_wall,
    "two places": _two_places,
    "a pin outside": _pin_outside,
    "a pin that says nothing": _pin("", block="1·1"),
    "a pin of no level": _pin(".level", block="1·1", level=Nm(777 * MM)),
    "a pin on no leaf": _pin(".leaf", block="1·1", leaf="cellar", level=Nm(777 * MM)),
    "a key of another edge": _other_edge_key,
    "a ring without outrigger": _ring_without_outrigger,
    "no paint": _no_paint,
    "a base alone": _base_alone,
    "two families of one name": _twins("family"),
    "two fixtures of one name": _twins("fixture"),
    "too many blocks": _too_many_blocks,
    "a leaf over 20 m": _too_wide,
    "a section of no stick": _wrong_section,
    "a section of another size": _other_size,
    "a stick too short": _short_stick,
    "no studs": _no_studs,
    "a stud off the wall": _stud_off_the_wall,
}


# ------------------------------------------------------------------------------------------------------- TOML


def _key(key: Any) -> str:
    return f'"{key.nm / MM:g} mm"' if isinstance(key, Nm) else key


def _value(value: Any, unit: str, rng: random.Random) -> str:
    if isinstance(value, Nm):
        return _length(value.nm, unit, rng)
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        return f"'{value}'" if '"' in value else f'"{value}"'
    if isinstance(value, list):
        return f"[{', '.join(_value(entry, unit, rng) for entry in value)}]"
    if isinstance(value, dict):
        inner = ", ".join(f"{_key(key)} = {_value(entry, unit, rng)}" for key, entry in value.items())
        return f"{{ {inner} }}"
    return str(value)


def _length(nm: int, unit: str, rng: random.Random) -> str:
    """One of the exact ways to write a length."""
    forms = [f'"{_decimal(nm, MM)} mm"', f'"{_decimal(nm, 10 * MM)} cm"'.replace(".", rng.choice(".,"))]
    if "," in forms[1] and len(forms[1].split(",")[1].split(" ")[0]) == 3:
        forms.pop()  # a comma before three digits could be two things
    if nm % IN_8 == 0:
        whole, eighths = divmod(nm // IN_8, 8)
        fraction = f"{whole}-{eighths}/8 in" if whole and eighths else f"{eighths}/8 in" if eighths else f"{whole} in"
        forms += [f'"{fraction}"', f"'{fraction.replace(' in', chr(34))}'"]
    bare = _decimal(nm, MM) if unit == "mm" else _decimal(nm, 25_400_000) if nm % IN_8 == 0 else None
    return rng.choice([*forms, *([bare] * len(forms) if bare else [])])


def _decimal(nm: int, per: int) -> str:
    # exact: `per` divides a power of ten times every length that is drawn here
    from decimal import Decimal

    text = f"{Decimal(nm) / Decimal(per):f}"
    return text.rstrip("0").rstrip(".") if "." in text else text
