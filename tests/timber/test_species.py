"""The records of woods and boards: which coefficient is used, which gravity, and what an unknown key is told."""

from __future__ import annotations

import pytest

from bossage.tables import table_rows
from bossage.timber import (
    UnknownSpecies,
    board,
    board_keys,
    ovendry_gravity_from_density,
    species,
    species_keys,
    species_or_board,
)


@pytest.mark.parametrize("key", species_keys())
def test_every_wood_has_a_density_a_coefficient_and_a_gravity_for_screws(key):
    wood = species(key)
    assert 300 < wood.density_12pct_kg_m3 < 800
    assert 0.0015 < wood.movement.tangential_per_pct < 0.005
    assert wood.movement.radial_per_pct < wood.movement.tangential_per_pct
    assert 0.31 <= wood.fastener_gravity <= 0.73
    assert wood.source
    assert wood.movement.reason


def test_the_printed_coefficient_goes_before_the_recomputed_one():
    printed, derived = species("douglas_fir_coast").movement, species("norway_spruce").movement
    assert (printed.column, printed.tangential_per_pct) == ("C_T_per_pct", 0.00267)
    assert (derived.column, derived.tangential_per_pct) == ("C_T_recomputed", 0.00274)
    assert derived.tangential_printed_per_pct is None


def test_a_mix_moves_as_its_largest_mover():
    assert species("spf").movement.row == "red_spruce"
    members = ["red_spruce", "black_spruce", "engelmann_spruce", "lodgepole_pine", "jack_pine", "balsam_fir"]
    largest = max(members, key=lambda key: species(key).movement.tangential_per_pct)
    assert species("spf").movement.tangential_per_pct == species(largest).movement.tangential_per_pct


@pytest.mark.parametrize("row", table_rows("bossage.timber", "movement_members.csv"), ids=lambda r: r["key"])
def test_every_borrowed_row_is_there_and_says_why(row):
    wood = species(row["key"])
    assert wood.movement.row == row["row_of"]
    assert wood.movement.reason == row["reason"]
    assert wood.movement.from_memory


@pytest.mark.parametrize("row", table_rows("bossage.timber", "fastener_groups.csv"), ids=lambda r: r["key"])
def test_every_fastener_group_is_there(row):
    assert species(row["key"]).fastener_gravity == species(row["group"]).fastener_gravity


def test_gravity_of_a_wood_outside_the_nds_is_worked_back_and_rounded_down():
    # 460 kg/m³: r = 460/1120 = 0.410714; G = r/(1 - 0.108 r) = 0.410714/0.955643 = 0.42978, rounded down
    assert ovendry_gravity_from_density(460) == 0.42
    assert species("norway_spruce").fastener_gravity == 0.42
    assert "ours" in species("norway_spruce").fastener_basis


@pytest.mark.parametrize(("typed", "meant"), [("norway spruce", "norway_spruce"), ("Douglas-fir", "douglas_fir_coast")])
def test_an_unknown_wood_is_told_near_matches(typed, meant):
    with pytest.raises(UnknownSpecies) as caught:
        species(typed)
    assert meant in caught.value.near
    assert meant in str(caught.value)


def test_a_word_with_no_near_match_is_told_the_list():
    with pytest.raises(UnknownSpecies, match="osb"):
        board("qqq")


def test_a_board_is_no_wood_and_the_error_says_so():
    with pytest.raises(UnknownSpecies, match="It is a board"):
        species("osb")


@pytest.mark.parametrize("key", board_keys())
def test_every_board_has_what_a_plan_needs(key):
    sheet = board(key)
    assert sheet is species_or_board(key)
    assert sheet.from_memory
    assert sheet.modulus_along_mpa >= sheet.modulus_across_mpa > 1000
    assert 500 < sheet.density_12pct_kg_m3 < 800
    assert 0 < sheet.expansion_per_pct < 0.001


def test_a_key_is_a_wood_or_a_board():
    assert species_or_board("spf") is species("spf")
    with pytest.raises(UnknownSpecies, match="plywood_birch"):
        species_or_board("birch plywood")
