"""Planes of backers against values worked by hand."""

from __future__ import annotations

import pytest

from bossage.timber import UnknownSpecies, board_plane


def test_a_backer_of_solid_wood_is_a_twentieth_as_stiff_square_to_its_faces() -> None:
    plane = board_plane("norway_spruce", 9_600)
    assert plane.along_mpa == 9_600
    assert plane.through_mpa == pytest.approx(9_600 / 20)
    assert plane.shear_mpa == pytest.approx(9_600 / 16)


def test_a_board_is_as_stiff_square_to_its_faces_whatever_it_is_along_the_strip() -> None:
    assert board_plane("osb", 3_000).through_mpa == board_plane("osb", 6_000).through_mpa == 500


def test_a_backer_of_no_known_wood_or_board_has_no_plane() -> None:
    with pytest.raises(UnknownSpecies):
        board_plane("qqq", 9_000)
