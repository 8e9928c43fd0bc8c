"""The nearest free place against a brute search of a coarse wall."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.layout.place import Room, nearest_place, stud_spans
from bossage.layout.rect import Rect

rects = st.builds(Rect, st.integers(0, 14), st.integers(0, 9), st.integers(1, 6), st.integers(1, 5))


@settings(max_examples=300, deadline=None)
@given(
    wish=st.tuples(st.integers(-3, 18), st.integers(-3, 12)),
    size=st.tuples(st.integers(1, 7), st.integers(1, 5)),
    obstacles=st.lists(rects, max_size=5),
    studs=st.lists(st.integers(0, 18), max_size=4, unique=True),
    wanted=st.integers(0, 2),
)
def test_nearest_place_is_the_nearest_of_all_places(
    wish: tuple[int, int], size: tuple[int, int], obstacles: list[Rect], studs: list[int], wanted: int
) -> None:
    wall = Rect(0, 0, 18, 12)
    inside = size[0] - 1, 0  # a cleat one shorter than the piece, no end distance
    spans = stud_spans(studs, 0, inside[0], 0, wanted) if wanted else None
    room = Room(
        x_low=0,
        x_high=wall.width - size[0],
        y_low=0,
        y_high=wall.height - size[1],
        obstacles=tuple(obstacles),
        x_spans=spans,
    )
    best = None
    for x in range(wall.width - size[0] + 1):
        if wanted and sum(x <= s <= x + inside[0] for s in studs) < wanted:
            continue
        for y in range(wall.height - size[1] + 1):
            if any(Rect(x, y, *size).overlap(o) for o in obstacles):
                continue
            cost = (abs(x - wish[0]) + abs(y - wish[1]), abs(y - wish[1]), x, y)
            best = cost if best is None or cost < best else best
    found = nearest_place(wish, *size, room)
    assert found == (None if best is None else best[2:])


def test_a_cleat_meets_a_stud_only_inside_its_end_distance() -> None:
    # 40 long from the piece's left edge, 5 at each end: a stud at 100 is met for x in 65 … 95.
    assert stud_spans([100], 0, 40, 5, 1) == ((65, 95),)
    assert stud_spans([100, 120], 0, 40, 5, 2) == ((85, 95),)
    assert stud_spans([100, 140], 0, 40, 5, 2) == ()
    assert stud_spans([100], 0, 8, 5, 1) == ()
