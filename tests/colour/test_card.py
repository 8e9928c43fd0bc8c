"""Test cards read off synthetic photos: the stated uncertainty holds the truth, and planted faults are named."""

from __future__ import annotations

import io

import numpy as np
import pytest
from PIL import Image
from tests.colour.photos import AWAY, HOME, Studio, take_photo

from bossage.colour.card import open_photo, read_sheet
from bossage.colour.difference import delta_e
from bossage.errors import BossageError

PHOTOS = 40  # bench/card.py takes 500


def misses_and_claims(photos: int, studio: Studio) -> tuple[np.ndarray, np.ndarray]:
    """CIEDE2000 from the truth and the uncertainty stated, for every card that was not refused."""
    missed, stated = [], []
    for seed in range(photos):
        shot = take_photo(seed, studio=studio)
        for field in read_sheet(shot.photo, shot.sheet).fields:
            if not field.refused:
                missed.append(float(delta_e(field.lab, shot.labs[field.name])))
                stated.append(field.uncertainty_de)
    return np.array(missed), np.array(stated)


@pytest.mark.parametrize("studio", [HOME, AWAY], ids=["set on", "checked on"])
def test_the_stated_uncertainty_is_small_and_holds_the_truth(studio: Studio) -> None:
    missed, stated = misses_and_claims(PHOTOS, studio)
    assert len(missed) > 5 * PHOTOS
    assert np.median(stated) <= 3
    # 90 to 97 % over 500 photos; some 330 cards of 40 photos may stray from that by two standard errors
    assert 0.87 <= (missed <= stated).mean() <= 0.99


# A highlight on a card almost as pale as the paper runs into 255 before it stands out, and is then called clipped.
@pytest.mark.parametrize(
    ("fault", "named"), [("glossy", ("glossy", "clipped")), ("clipped", ("clipped",)), ("shadowed", ("shadowed",))]
)
def test_a_planted_fault_is_refused_by_name(fault: str, named: tuple[str, ...]) -> None:
    for seed in range(8):
        shot = take_photo(seed, faults={"card 2": fault})
        reading = read_sheet(shot.photo, shot.sheet)
        refused = {field.name: field.refused for field in (*reading.fields, *reading.greys) if field.refused}
        assert refused["card 2"].startswith(named), f"photo {seed}"
        # A fault on one card is no reason to refuse another.
        untouched = read_sheet(take_photo(seed).photo, shot.sheet)
        already = {field.name for field in untouched.fields if field.refused}
        assert set(refused) - {"card 2"} <= already, f"photo {seed}"


@pytest.mark.parametrize("turn_deg", [45, 90, 180, 270])
def test_a_turned_sheet_is_found_by_the_mark_with_the_hole(turn_deg: float) -> None:
    shot = take_photo(3, turn_deg=turn_deg)
    assert np.abs(read_sheet(shot.photo, shot.sheet).corners_px - shot.corners_px).max() < 1


def test_corners_that_are_given_are_taken() -> None:
    shot = take_photo(3)
    given = read_sheet(shot.photo, shot.sheet, shot.corners_px)
    found = read_sheet(shot.photo, shot.sheet)
    assert np.abs(given.corners_px - found.corners_px).max() < 2
    assert all(delta_e(a.lab, b.lab) < 2 for a, b in zip(given.fields, found.fields, strict=True))


def test_no_sheet_in_the_photo_is_a_sentence() -> None:
    with pytest.raises(BossageError):
        read_sheet(np.full((320, 420, 3), 128, dtype=np.uint8), take_photo(0).sheet)


def test_a_file_that_is_no_picture_is_a_sentence() -> None:
    with pytest.raises(BossageError, match="cannot be opened"):
        open_photo(b"no picture")
    file = io.BytesIO()
    Image.new("RGB", (4, 3), "#808080").save(file, "PNG")
    assert open_photo(file.getvalue()).shape == (3, 4, 3)
