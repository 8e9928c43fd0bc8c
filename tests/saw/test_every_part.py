"""Every solid part of the body is sawn once or bought once, counted again from plan.json by our numbers alone."""

from __future__ import annotations

import json
from collections import Counter
from functools import cache

import pytest

from bossage.brief import read_brief
from bossage.examples import example_names, example_text
from bossage.plan import Plan, make_plan
from bossage.serial import plan_json
from tests.brief.generate import made_up

NM = 1_000_000
BATCH = 10
ROOM_MM = 1e-6


@cache
def example(name):
    return json.loads(plan_json(make_plan(read_brief(example_text(name)))))


def key(part):
    return f"{part['leaf']}/{part['copy']}/{part['name']}"


def sizes_mm(part):
    """Along x, along y, along z."""
    ys, zs = zip(*part["outline_nm"], strict=True)
    x = part["to_x_nm"] - part["from_x_nm"]
    return x / NM, (max(ys) - min(ys)) / NM, (max(zs) - min(zs)) / NM


def cuts_of(plan):
    """Every cut that gives parts of the body: which parts, and how long and thick what comes off is, each once."""
    for cut in plan["saw"]["sections"]:
        section = (cut["section_width_mm"], cut["section_height_mm"])
        for row in cut["rows"]:
            yield "stick", row["parts"], Counter({(row["length_mm"], *sorted(section)): len(row["parts"])})
    for cut in plan["saw"]["lengths"]:
        section, got = sorted((cut["width_mm"], cut["depth_mm"])), Counter()
        for setting in cut["plan"]["settings"]:
            got[(setting["length_mm"], *section)] += setting["count"]
        yield "stick", cut["parts"], got
    for cut in plan["saw"]["boards"]:
        got = Counter()
        for sheet in cut["plan"]["sheets"] if cut["plan"] else ():
            for panel in sheet["panels"]:
                got[tuple(sorted((panel["width_mm"], panel["length_mm"], cut["thickness_mm"])))] += 1
        for strip in cut["strips"]:
            got.subtract([tuple(sorted((strip["width_mm"], strip["length_mm"], cut["thickness_mm"])))])
            for piece in strip["pieces"]:
                size = tuple(sorted((strip["width_mm"], piece["length_mm"], cut["thickness_mm"])))
                got[size] += len(piece["parts"])
            assert [key for piece in strip["pieces"] for key in piece["parts"] if key not in cut["parts"]] == []
        yield "board", cut["parts"], got if cut["plan"] else None


def faults(plan):
    """What is sawn or bought never, twice or in another size."""
    parts = {key(part): part for part in plan["body"]["parts"]}
    found = Counter()
    for how, names, got in cuts_of(plan):
        found.update(names)
        made = Counter()
        for name in names:
            x, y, z = sizes_mm(parts[name])
            if parts[name]["made_at"] != {"stick": "sticks", "board": "boards"}[how]:
                yield f"{name} is cut from a {how}"
            lying = y if parts[name]["grain"] == "y" else x
            across = x if parts[name]["grain"] == "y" else y
            made[(lying, *sorted((across, z))) if how == "stick" else tuple(sorted((x, y, z)))] += 1
        if got is not None and not alike(made, got):
            yield f"{sorted(made.items())} wanted, {sorted(got.items())} cut"
    for line in plan["cost"]["shopping"]:
        for name in line["parts"]:
            if parts[name]["made_at"] != "bought":
                yield f"{name} is bought as it is"
        found.update(line["parts"])
    for name in {*parts, *found}:
        if found[name] != 1:
            yield f"{name} is sawn or bought {found[name]} times"


def unheld(plan):
    """Parts of boards that pass the blade though hands cannot keep their distance before and behind it."""
    least = 2 * plan["brief"]["tools"]["hold_mm"]
    told = any(check["name"] == "short_parts" for check in plan["checks"])
    for cut in plan["saw"]["boards"]:
        assert not cut["unheld"] or told
        for sheet in cut["plan"]["sheets"] if cut["plan"] and not cut["unheld"] else ():
            for panel in sheet["panels"]:
                if max(panel["width_mm"], panel["length_mm"]) < least:
                    yield panel["name"]
        for strip in cut["strips"]:
            kerf = plan["brief"]["tools"]["kerf_mm"]
            taken = sum(len(piece["parts"]) * (piece["length_mm"] + kerf) for piece in strip["pieces"])
            if strip["length_mm"] - taken < min(stick["stub_mm"] for stick in plan["brief"]["sticks"]) - ROOM_MM:
                yield strip["name"]


def alike(one, other):
    """The same sizes as often, to a nanometre."""
    left, right = (sorted(size for size, n in counts.items() for _ in range(n)) for counts in (one, other))
    return len(left) == len(right) and all(
        abs(a - b) <= ROOM_MM
        for first, second in zip(left, right, strict=True)
        for a, b in zip(first, second, strict=True)
    )


@pytest.mark.parametrize("name", sorted(example_names()))
def test_every_part_of_an_example_is_sawn_or_bought_once(name):
    assert not list(faults(example(name)))
    assert not list(unheld(example(name)))


@pytest.mark.parametrize(
    "first", [0, *(pytest.param(first, marks=pytest.mark.slow) for first in range(BATCH, 100, BATCH))]
)
def test_every_part_of_made_up_briefs_is_sawn_or_bought_once(first):
    for seed in range(first, first + BATCH):
        plan = make_plan(read_brief(made_up(seed).text))
        assert isinstance(plan, Plan)
        told = json.loads(plan_json(plan))
        assert not list(faults(told)), seed
        assert not list(unheld(told)), seed


def test_a_part_left_out_or_cut_twice_is_found():
    plan = json.loads(json.dumps(example("s1-fernhollow-hall")))
    (cut,) = [one for one in plan["saw"]["lengths"] if one["name"] == "filler"]
    cut["parts"] = ["whole/1/backer"]
    said = list(faults(plan))
    assert "whole/1/filler is sawn or bought 0 times" in said
    assert "whole/1/backer is sawn or bought 2 times" in said
    assert "whole/1/backer is cut from a stick" in said
    cut["plan"]["settings"][0]["length_mm"] += 1
    assert any("wanted" in one for one in faults(plan))
