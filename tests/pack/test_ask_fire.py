"""The fire officer's page: area and share by hand, classes as makers state them, what is hot; and nobody else's."""

from __future__ import annotations

from tests.test_settled import plan_of, text_of

from bossage.pack.sheet import Heading, Table
from bossage.pack.sheets.ask import ask_sheet
from bossage.pack.sheets.ask_fire import ASK_MAKER, NOT_STATED, fire_parts
from bossage.pack.sheets.common import words_of
from bossage.plan import Plan
from bossage.settling import Who

HEAT = """
[[heat]]
name = "wall lamp"
kind = "lamp"
x = "2900 mm"
width = "80 mm"
bottom = "1900 mm"
top = "2000 mm"
far = "100 mm"
clear = "300 mm"
"""


def escape(text: str = "", **keys: object) -> Plan:
    """The brief of the settled pieces on an escape route, with lines before its tables."""
    return plan_of(text_of(**keys).replace("circulation =", "escape_route = true\ncirculation =") + text)


def page(plan: Plan) -> dict[str, str]:
    (table,) = (part for part in fire_parts(plan, Who.FIRE, words_of(plan)) if isinstance(part, Table))
    return {row[0]: row[1] for row in table.rows}


def test_area_and_share_of_the_wall_are_those_of_the_face() -> None:
    plan = escape()
    leaf = plan.layout.leaves[0]
    square_m = leaf.width_nm * leaf.height_nm / 1e18
    told = page(plan)["on this wall"]
    assert f"{100 * square_m / (3.0 * 2.5):.1f} % of the wall" in told
    assert "3000 × 2500 mm" in told


def test_a_class_is_said_as_its_maker_states_it_and_asked_where_nobody_does() -> None:
    unsaid = page(escape())["class of its parts"]
    assert unsaid.count(f": {NOT_STATED}") == 3
    assert unsaid.endswith(ASK_MAKER)
    text = text_of().replace("circulation =", "escape_route = true\ncirculation =")
    text = text.replace("[backer]\n", '[backer]\nfire_class = "D-s2,d0"\n').replace(
        "[blocks]\n", '[blocks]\nfire_class = "D-s2,d2"\n'
    )
    stated = page(plan_of(text + '\n[paint]\nfire_class = "B-s1,d0 on wood"\n'))["class of its parts"]
    for one in ("D-s2,d0", "D-s2,d2", "B-s1,d0 on wood"):
        assert f"{one}, as its maker states" in stated
    assert NOT_STATED not in stated


def test_what_is_hot_behind_and_near_is_named() -> None:
    calm = page(escape())
    assert calm["hot behind it"] == calm["hot near it"] == "nothing that the brief names"
    text = text_of().replace("circulation =", "escape_route = true\ncirculation =")
    warm = page(plan_of(text.replace('kind = "hatch"', 'kind = "router"') + HEAT))
    assert warm["hot behind it"] == "hatch (warm all the time)"
    assert "wall lamp" in warm["hot near it"]
    assert "300 mm, as its maker asks" in warm["hot near it"]


def test_it_stands_on_the_fire_officers_page_alone() -> None:
    sheet = ask_sheet(escape())
    assert sheet is not None
    heads = [part.text for part in sheet.parts if isinstance(part, Heading)]
    assert "For the fire officer" in heads
    assert repr(sheet).count("EN 13501-1") == 1
    for who in set(Who) - {Who.FIRE}:
        assert not list(fire_parts(escape(), who, words_of(escape())))
