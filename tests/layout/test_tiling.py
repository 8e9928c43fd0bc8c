"""Footprints that truly tile: the arithmetic of measured sections."""

from __future__ import annotations

from itertools import combinations_with_replacement

from hypothesis import given, settings
from hypothesis import strategies as st

from bossage.brief import records as r
from bossage.layout import Layout, plan_layout
from bossage.layout.tiling import find_tilings, near_tilings, rips_that_tile, tilings_in_words
from tests.layout.factory import footprint, inch, mm, plain


def sums(sections: list[float], gap: float = 0) -> list[tuple[float, set[tuple[float, ...]]]]:
    found = find_tilings([mm(s) for s in sections], mm(gap), 3)
    return [(s.length_nm / 1e6, {tuple(p / 1e6 for p in row) for row in s.rows}) for s in found]


def test_european_planed_widths_match_at_equal_piece_counts() -> None:
    assert (140.0, {(70.0, 70.0), (95.0, 45.0)}) in sums([45, 70, 95])
    assert (190.0, {(95.0, 95.0), (145.0, 45.0), (120.0, 70.0)}) in sums([45, 70, 95, 120, 145])
    # With equal counts the gap drops out.
    assert (142.0, {(70.0, 70.0), (95.0, 45.0)}) in sums([45, 70, 95], gap=2)


def test_australasian_widths_are_exact_multiples_only_without_a_gap() -> None:
    assert (90.0, {(90.0,), (45.0, 45.0)}) in sums([45, 90])
    assert all(len(rows) < 2 or total != 92.0 for total, rows in sums([45, 90], gap=2))


def test_north_american_widths_need_counts_both_odd_or_both_even() -> None:
    quarter = inch(0.25)
    found = find_tilings([inch(1.5), inch(3.5), inch(5.5)])
    for rows in found:
        assert len({len(row) % 2 for row in rows.rows}) == 1
        assert rows.length_nm % quarter == 0
    assert any(set(s.rows) == {(inch(3.5), inch(3.5)), (inch(5.5), inch(1.5))} for s in found)


@settings(max_examples=40, deadline=None)
@given(st.lists(st.integers(2, 30), min_size=1, max_size=4, unique=True), st.integers(0, 2))
def test_every_equal_pair_of_rows_is_explained_by_what_is_found(sizes: list[int], gap: int) -> None:
    found = find_tilings(sizes, gap, 4)
    for rows in found:
        assert {sum(row) + (len(row) - 1) * gap for row in rows.rows} == {rows.length_nm}
        flat = [set(row) for row in rows.rows]
        assert all(not a & b for i, a in enumerate(flat) for b in flat[:i])
    lengths = {rows.length_nm for rows in found}
    by_length: dict[int, list[tuple[int, ...]]] = {}
    for pieces in range(1, 5):
        for row in combinations_with_replacement(sorted(sizes), pieces):
            by_length.setdefault(sum(row) + (pieces - 1) * gap, []).append(row)
    expected = {
        length
        for length, rows in by_length.items()
        if any(not set(a) & set(b) for i, a in enumerate(rows) for b in rows[:i])
    }
    assert lengths == expected


def test_ripping_makes_a_multiple() -> None:
    ways = {(w.from_nm, w.to_nm, w.count) for w in rips_that_tile(inch(3.5), inch(1.5))}
    assert ways == {(inch(3.5), inch(3.0), 2)}
    gapped = {(w.from_nm, w.to_nm, w.count) for w in rips_that_tile(95, 45, 2)}
    assert (95, 92, 2) in gapped
    down = {(w.from_nm, w.to_nm, w.count) for w in rips_that_tile(90, 50)}
    assert down == {(90, 50, 1), (50, 45, 2)}


def test_the_naive_mixed_set_is_refused_with_what_would_tile() -> None:
    naive = plain(
        piece__unit=r.LengthUnit.IN,
        blocks__module_width_nm=inch(3.5),
        blocks__module_height_nm=inch(3.5),
        blocks__columns=6,
        blocks__rows=5,
        blocks__footprints=(
            footprint("big", inch(3.5), inch(3.5)),
            footprint("small", inch(1.5), inch(1.5)),
        ),
        blocks__fills=(
            r.Fill(rows=(("big",),), count=None),
            r.Fill(rows=(("small", "small"), ("small", "small")), count=6),
        ),
    )
    layout = plan_layout(naive)
    assert isinstance(layout, Layout)
    (check,) = [c for c in layout.checks if c.name == "mixed"]
    assert check.verdict == "stop"
    assert layout.figures_nm["mismatch"] == inch(0.5)
    assert "1/2 in" in check.found
    assert "3-1/2 in to 3 in" in check.remedy
    squared = plan_layout(
        plain(
            piece__unit=r.LengthUnit.IN,
            blocks__module_width_nm=inch(3),
            blocks__module_height_nm=inch(3),
            blocks__columns=6,
            blocks__rows=5,
            blocks__footprints=(footprint("big", inch(3), inch(3)), footprint("small", inch(1.5), inch(1.5))),
            blocks__fills=naive.blocks.fills,
        )
    )
    assert isinstance(squared, Layout)
    assert [c.verdict for c in squared.checks if c.name == "mixed"] == ["fine"]
    assert squared.figures_nm["mismatch"] == 0


@settings(max_examples=40, deadline=None)
@given(st.dictionaries(st.integers(5, 40), st.integers(0, 2), min_size=1, max_size=4), st.integers(0, 2))
def test_rows_that_are_near_are_all_found_and_no_others(spreads: dict[int, int], gap: int) -> None:
    found = {frozenset(rows.rows): rows.off_nm for rows in near_tilings(spreads, gap, 3)}
    every = [row for n in (1, 2, 3) for row in combinations_with_replacement(sorted(spreads, reverse=True), n)]
    expected = {}
    for i, a in enumerate(every):
        for b in every[:i]:
            off = abs(sum(a) + (len(a) - 1) * gap - sum(b) - (len(b) - 1) * gap)
            may = max(sum(spreads[s] for s in a), sum(spreads[s] for s in b))
            if 0 < off <= may and not set(a) & set(b):
                expected[frozenset((a, b))] = off
    assert found == expected


def test_measured_sizes_that_are_a_little_off_tile_within_their_spread() -> None:
    # Planed spruce as measured: 69.8, 94.9 and 44.6 mm, each half a millimetre either way.
    measured = {mm(69.8): mm(0.5), mm(94.9): mm(0.5), mm(44.6): mm(0.5)}
    best = near_tilings(measured)[0]
    assert set(best.rows) == {(mm(69.8), mm(69.8)), (mm(94.9), mm(44.6))}
    assert best.off_nm == mm(0.1)
    # Without any spread they do not tile.
    assert near_tilings(dict.fromkeys(measured, 0)) == ()
    assert not [s for s in find_tilings(list(measured)) if s.pieces <= 2]


def test_a_maker_reads_what_tiles_and_what_to_rip_where_nothing_does() -> None:
    planed = plain(blocks__footprints=tuple(footprint(str(n), mm(n), mm(45)) for n in (70, 95, 45)), sticks=())
    assert tilings_in_words(planed)[0] == "70 mm + 70 mm = 95 mm + 45 mm: equal piece counts, with any gap"
    odd = plain(blocks__footprints=(footprint("a", mm(97), mm(97)), footprint("b", mm(41), mm(41))), sticks=())
    lines = tilings_in_words(odd)
    assert lines[0] == "rip 97 mm to 82 mm: 2 of 41 mm fill it"
    assert tilings_in_words(plain()) == ()
