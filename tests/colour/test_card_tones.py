"""From levels of a photo to reflectance, on cameras whose every tone curve is a power that can be worked by hand."""

from __future__ import annotations

import numpy as np
import pytest

from bossage.colour.card import _paper_tint, _toned

KNOWN = np.array([0.72, 0.47, 0.28, 0.15, 0.08, 0.04])  # of the greys, lightest first
POWER = np.array([0.8, 1.0, 1.25])  # of each channel: reflectance is paper times level to that power
PAPER = 0.85
TINT = np.array([0.98, 1.0, 1 / 0.98])  # of the paper: a little blue, and 1 in the geometric mean


def level_of(reflectance: np.ndarray) -> np.ndarray:
    """Level of each channel over that of the paper, which is 1."""
    return np.asarray((reflectance / (PAPER * TINT)) ** (1 / POWER))


GREYS = level_of(KNOWN[:, None])


@pytest.mark.parametrize("order", [slice(None), slice(None, None, -1)], ids=["light first", "dark first"])
def test_the_tint_of_the_paper_is_read_by_going_on_from_the_two_lightest_greys(order: slice) -> None:
    assert _paper_tint(GREYS[order], KNOWN[order]) == pytest.approx(TINT)


@pytest.mark.parametrize(
    "reflectance",
    [(0.8, 0.78, 0.76), (0.6, 0.3, 0.1), (0.35, 0.2, 0.5), (0.03, 0.02, 0.035), (0.84, 0.86, 0.87)],
    ids=["between greys and paper", "red", "violet", "darker than every grey", "lighter than the paper"],
)
def test_a_card_is_read_off_the_curve_through_greys_and_paper(reflectance: tuple[float, ...]) -> None:
    card = np.array(reflectance)
    assert _toned(level_of(card), GREYS, KNOWN, PAPER) == pytest.approx(card)


def test_a_card_of_the_papers_level_has_the_papers_reflectance() -> None:
    assert _toned(np.ones(3), GREYS, KNOWN, PAPER) == pytest.approx(PAPER * TINT)


def test_a_curve_too_steep_or_too_flat_for_a_camera_is_not_gone_on_with() -> None:
    # Two greys of one level ask for any power, two that lie far apart for almost none: 1.8 and 0.6 are taken.
    known = np.array([0.6, 0.5])
    levels = np.array([[0.7, 0.7, 0.9], [0.7, 0.7, 0.1]])
    reached = np.array([0.6 * 0.7**-1.8, 0.6 * 0.7**-1.8, 0.6 * 0.9**-0.6])
    assert _paper_tint(levels, known) == pytest.approx(reached / np.prod(reached) ** (1 / 3))
