"""One brief in inches and in millimetres is one brief (must-show 5 of issue 2)."""

from __future__ import annotations

import dataclasses

import numpy as np

from bossage.brief import Brief, brief_to_dict, digest, read_brief
from bossage.brief.terms import LengthUnit
from bossage.countries import Country, Rules
from bossage.plan import Plan, make_plan

INCHES = """
[piece]
name = "twin"
unit = "in"
paper = "A4"
currency = "$"
[wall]
width = 96
height = "8 ft"
build = "timber studs"
covering = "1/2 in"
studs = { first = 16, every = 16 }
[[fixture]]
name = "valves"
kind = "valve box"
centre = [48, "5' 0\\""]
width = "10 in"
height = 12
proud = "1 1/2 in"
[blocks]
columns = 8
rows = 6
gap = '1/16"'
levels = { from = 0.5, to = 1.5, step = "1/8 in" }
cover_margin = 2
[[footprint]]
width = '3-1/2"'
height = 1.5
quotas = [6, 6, 6, 5, 5, 5, 5, 5, 5]
[[leaf]]
name = "whole"
x = "33 7/8 in"
y = 50
open = []
[edge]
style = "inset"
overhang = "3/8 in"
[cleat]
packer_height = 2  # left out, it is rounded to what a rule of the unit shows
[fixings]
# left out, these are what the shops of the unit have
gauge = "#10"
length = "3 in"
panel_gauge = "#8"
panel_length = "2 1/4 in"
[[stick]]
name = "2x4"
width = "1 1/2 in"
height = 3.5
length = "8 ft"
price = 4.80
trim = 1
stub = 8
[tools]
kerf = 0.125
[[family]]
name = "slate"
colour = "#56636E"
lightness = [40, 50]
"""

MILLIMETRES = """
[piece]
name = "twin"
unit = "mm"
paper = "A4"
currency = "$"
[wall]
width = 2438.4
height = "2.4384 m"
build = "timber studs"
covering = "12.7 mm"
studs = ["406.4 mm", 812.8, "121.92 cm", 1625.6, 2032, 2438.4]
[[fixture]]
name = "valves"
kind = "valve box"
x = 1092.2
y = "1371.6 mm"
width = 254
height = 304.8
proud = "38,1 mm"
[blocks]
columns = 8
rows = 6
gap = 1.5875
levels = [12.7, 15.875, 19.05, 22.225, 25.4, 28.575, 31.75, 34.925, 38.1]
cover_margin = 50.8
[[footprint]]
width = 88.9
height = "3,81 cm"
[footprint.quotas]
"12.7" = 6
"15.875" = 6
"19.05 mm" = 6
"22.225" = 5
"25.4" = 5
"28.575" = 5
"1 1/4 in" = 5
"34.925" = 5
"38.1" = 5
[[leaf]]
name = "whole"
x = 860.425
y = 1270
[edge]
overhang = 9.525
style = "inset"
[cleat]
packer_height = 50.8
[fixings]
gauge = "#10"
length = 76.2
panel_gauge = "#8"
panel_length = 57.15
[[stick]]
name = "2x4"
width = 38.1
height = 88.9
length = 2438.4
price = "$4.80"
trim = 25.4
stub = 203.2
[tools]
kerf = 3.175
[[family]]
name = "slate"
colour = "#56636e"
lightness = [40, 50]
"""


def as_millimetres(brief: Brief) -> Brief:
    """The same brief, printed in millimetres: defaults are printed in the piece's unit, so they are left out.

    The unit alone chooses the country whose rules count, so that is made one as well.
    """
    piece = dataclasses.replace(brief.piece, unit=LengthUnit.MM)
    return dataclasses.replace(brief, piece=piece, rules=Rules(country=Country.EUROPE), defaults=())


def test_inch_and_millimetre_forms_give_one_brief() -> None:
    inches, millimetres = read_brief(INCHES), read_brief(MILLIMETRES)
    assert as_millimetres(inches) == as_millimetres(millimetres)
    assert digest(as_millimetres(inches)) == digest(as_millimetres(millimetres))
    assert digest(inches) != digest(millimetres)
    assert [one.field for one in inches.defaults] == [one.field for one in millimetres.defaults]


def test_inch_and_millimetre_forms_give_one_plan() -> None:
    inches, millimetres = (make_plan(read_brief(text)) for text in (INCHES, MILLIMETRES))
    assert isinstance(inches, Plan)
    assert isinstance(millimetres, Plan)
    for name in ("leaf", "x_nm", "y_nm", "width_nm", "height_nm", "footprint", "zone", "edges"):
        assert np.array_equal(getattr(inches.layout.blocks, name), getattr(millimetres.layout.blocks, name)), name
    assert np.array_equal(inches.relief.level, millimetres.relief.level)
    assert np.array_equal(inches.relief.length_nm, millimetres.relief.length_nm)
    assert np.array_equal(inches.fade.shade, millimetres.fade.shade)
    assert inches.fade.count_table == millimetres.fade.count_table
    for one, other in zip(inches.saw.sections, millimetres.saw.sections, strict=True):
        assert one.plan is not None
        assert other.plan is not None
        assert [s.slices for s in one.plan.sticks] == [s.slices for s in other.plan.sticks]
    assert [b.plan.sheets for b in inches.saw.boards if b.plan] == [
        b.plan.sheets for b in millimetres.saw.boards if b.plan
    ]
    assert inches.paint.rows == millimetres.paint.rows
    assert inches.press.rows == millimetres.press.rows
    assert inches.hang.leaf_masses == millimetres.hang.leaf_masses
    assert inches.cost.materials_cents == millimetres.cost.materials_cents
    assert inches.cost.hours == millimetres.cost.hours
    verdicts = [{(c.name, c.subject, c.verdict) for c in p.checks if c.name != "lift"} for p in (inches, millimetres)]
    assert verdicts[0] == verdicts[1]  # the lifting equation has a form of its own for each unit, not exact conversions


def test_the_canonical_form_does_not_depend_on_order_or_spelling() -> None:
    sections = INCHES.strip().split("\n[")
    turned = "\n[".join([sections[0], *reversed(sections[1:])]).replace("1 1/2 in", "1.5 in")
    assert digest(read_brief(turned)) != ""
    assert as_millimetres(read_brief(turned)) == as_millimetres(read_brief(INCHES))


def test_the_canonical_form_is_plain_and_whole() -> None:
    plain = brief_to_dict(read_brief(INCHES))
    assert plain["piece"]["unit"] == "in"
    assert plain["fixtures"][0]["proud_nm"] == 38_100_000
    assert plain["blocks"]["levels_nm"][-1] == 38_100_000
    assert set(plain) == {field.name for field in dataclasses.fields(Brief)}


def test_a_changed_number_changes_the_digest() -> None:
    assert digest(read_brief(INCHES)) != digest(read_brief(INCHES.replace("kerf = 0.125", "kerf = 0.126")))
