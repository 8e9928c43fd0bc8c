from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.drawing import metrics
from bossage.drawing.box import Box
from bossage.drawing.extent import bounds, label_box, moved
from bossage.drawing.place import Wanted, chain, fitted_size, placed
from bossage.drawing.plain import hatch_lines, plain
from bossage.drawing.shapes import Align, Arrow, Circle, Dimension, Hatch, Label, Line, Rect, Stand


@pytest.mark.parametrize("bold", [False, True])
def test_capitals_are_as_high_as_the_font_file_says(bold):
    above = -float(metrics._font(bold).getbbox("H", anchor="ls")[1]) / metrics._UNITS
    assert above == pytest.approx(metrics.CAP_HEIGHT, abs=0.002)


def test_figures_are_tabular():
    widths = {round(metrics.text_width(figure), 6) for figure in "0123456789"}
    assert len(widths) == 1


def test_bounds_hold_every_kind_of_shape():
    shapes = [
        Rect(x_mm=0, y_mm=0, width_mm=10, height_mm=20),
        Circle(centre=(30, 5), radius_mm=4),
        Line(start=(-5, 3), end=(2, 50)),
    ]
    assert bounds(shapes) == Box(left_mm=-5, bottom_mm=0, right_mm=34, top_mm=50)


def test_bounds_of_nothing_are_refused():
    with pytest.raises(ValueError, match="without shapes"):
        bounds([])


def test_text_grows_with_the_scale_while_lengths_do_not():
    label = Label(at=(0, 0), text="1120", size_mm=3)
    assert label_box(label, 10).width_mm == pytest.approx(10 * label_box(label, 1).width_mm)


@pytest.mark.parametrize("align", list(Align))
@pytest.mark.parametrize("stand", list(Stand))
def test_upright_text_is_the_flat_one_turned_a_quarter_to_the_left(align, stand):
    flat = label_box(Label(at=(0, 0), text="480", align=align, stand=stand), 1)
    turned = label_box(Label(at=(0, 0), text="480", align=align, stand=stand, upright=True), 1)
    # (x, y) turned by 90 degrees to the left is (-y, x).
    assert turned.left_mm == pytest.approx(-flat.top_mm)
    assert turned.right_mm == pytest.approx(-flat.bottom_mm)
    assert turned.bottom_mm == pytest.approx(flat.left_mm)
    assert turned.top_mm == pytest.approx(flat.right_mm)


def test_moving_shifts_bounds_and_nothing_else():
    shapes = [
        Dimension(start=(0, 0), end=(100, 0), text="100", line_mm=-20),
        Dimension(start=(0, 0), end=(0, 80), text="80", line_mm=-20, across=False),
        Arrow(start=(0, 0), end=(10, 10)),
        Rect(x_mm=1, y_mm=2, width_mm=3, height_mm=4),
    ]
    before, after = bounds(shapes), bounds([moved(shape, 7, -3) for shape in shapes])
    assert after.left_mm == pytest.approx(before.left_mm + 7)
    assert after.top_mm == pytest.approx(before.top_mm - 3)
    assert after.width_mm == pytest.approx(before.width_mm)


@given(
    wide=st.floats(5, 200), tall=st.floats(5, 200), angle=st.sampled_from([0, 30, 45, 90, 135]), step=st.floats(0.8, 5)
)
@settings(max_examples=40, deadline=None)
def test_hatching_stays_inside_and_is_evenly_spaced(wide, tall, angle, step):
    rect = Rect(x_mm=3, y_mm=4, width_mm=wide, height_mm=tall, hatch=Hatch(spacing_mm=step, angle_deg=angle))
    lines = hatch_lines(rect, 1)
    assert lines
    for line in lines:
        for x, y in (line.start, line.end):
            assert 3 - 1e-6 <= x <= 3 + wide + 1e-6
            assert 4 - 1e-6 <= y <= 4 + tall + 1e-6


def test_a_dimension_across_is_read_from_below_and_stands_above_its_line():
    parts = plain(Dimension(start=(0, 0), end=(600, 0), text="600", line_mm=-80), 10)
    (figure,) = [part for part in parts if isinstance(part, Label)]
    assert not figure.upright
    assert figure.at[0] == 300
    assert label_box(figure, 10).bottom_mm > -80


def test_a_dimension_upright_is_read_from_the_right_and_stands_left_of_its_line():
    parts = plain(Dimension(start=(0, 0), end=(0, 480), text="480", line_mm=-80, across=False), 10)
    (figure,) = [part for part in parts if isinstance(part, Label)]
    assert figure.upright
    assert label_box(figure, 10).right_mm < -80


def _figures(dimensions, scale_n):
    return [label_box(part, scale_n) for dim in dimensions for part in plain(dim, scale_n) if isinstance(part, Label)]


@given(
    st.lists(st.integers(0, 3000), min_size=3, max_size=14, unique=True), st.booleans(), st.sampled_from([5, 10, 25])
)
@settings(max_examples=60, deadline=None)
def test_figures_of_a_chain_never_overlap(places, across, scale_n):
    boxes = _figures(
        chain(places, feet_mm=0, line_mm=-100, words=lambda mm: f"{mm:.0f}", across=across, scale_n=scale_n), scale_n
    )
    assert len(boxes) == len(places) - 1
    assert not [1 for one in range(len(boxes)) for two in range(one) if boxes[one].meets(boxes[two])]


def test_a_chain_adds_up():
    texts = [
        int(dim.text)
        for dim in chain([890, 2010, 0, 1150, 1750, 3200], feet_mm=0, line_mm=-100, words=lambda mm: f"{mm:.0f}")
    ]
    assert texts == [890, 260, 600, 260, 1190]


@given(st.lists(st.tuples(st.integers(20, 180), st.integers(20, 180)), min_size=1, max_size=12))
@settings(max_examples=40, deadline=None)
def test_placed_labels_keep_clear_of_each_other(points):
    within = Box(left_mm=0, bottom_mm=0, right_mm=200, top_mm=200)
    shapes = placed([Wanted(at=point, text="socket 12") for point in points], scale_n=1, within=within)
    boxes = [label_box(shape, 1) for shape in shapes if isinstance(shape, Label)]
    assert len(boxes) == len(points)
    assert not [1 for one in range(len(boxes)) for two in range(one) if boxes[one].meets(boxes[two])]
    assert all(within.holds(box) for box in boxes)


def test_fitted_letters_fit():
    size_mm = fitted_size("12·16b", width_mm=8, height_mm=5, most_mm=4)
    box = label_box(Label(at=(0, 0), text="12·16b", size_mm=size_mm), 1)
    assert box.width_mm < 8
    assert box.height_mm < 5
    assert size_mm <= 4
