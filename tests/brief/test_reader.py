from __future__ import annotations

import re
import subprocess
import sys
from contextlib import suppress

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.brief.generate import FAULTS, made_up, with_fault

from bossage.brief import BriefFaults, Fault, read_brief
from bossage.brief.terms import Below, FixingKind, HomeKind, WallBuild
from bossage.examples import example_text

FIRST = example_text("first")


def faults_of(text: str | bytes) -> tuple[Fault, ...]:
    with pytest.raises(BriefFaults) as caught:
        read_brief(text)
    return caught.value.faults


def fields_of(text: str) -> list[str]:
    return [fault.field for fault in faults_of(text)]


def changed(text: str, old: str, new: str) -> str:
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times"
    return text.replace(old, new)


# ------------------------------------------------------------------------------------------ made-up briefs


@pytest.mark.parametrize("block", range(10))
def test_made_up_briefs_are_read(block: int) -> None:
    for seed in range(block * 20, block * 20 + 20):
        brief = read_brief(made_up(seed).text)
        assert brief.fixtures
        assert brief.sticks
        assert all((one.quotas is None) != (one.weights is None) for one in brief.blocks.footprints)


@pytest.mark.parametrize("kind", FAULTS)
def test_a_planted_fault_is_named_alone(kind: str) -> None:
    for seed in range(4):
        brief = with_fault(seed, kind)
        faults = faults_of(brief.text)
        assert [fault.field for fault in faults if fault.field.startswith(brief.field)], [str(f) for f in faults]
        assert len(faults) == 1, [str(fault) for fault in faults]
        assert all((fault.found, fault.allowed, fault.remedy) for fault in faults)


@pytest.mark.parametrize(
    ("table", "field", "found", "allowed"),
    [
        (
            "[cleat]\nlength = 100\nend_distance = 60",
            "cleat.length",
            "100 mm",
            "more than twice the end distance, 60 mm",
        ),
        ("[cleat]\npieces = 1\napart = 400", "cleat.apart", "400 mm", "nothing beside a single cleat"),
        (
            "[cleat]\npieces = 2\nlength = 300\napart = 200",
            "cleat.apart",
            "200 mm",
            "at least the length of one, 300 mm",
        ),
        (
            '[[sheet]]\nname = "strip"\nmaterial = "plywood_birch"\nthickness = 12\nwidth = 600\nheight = 100\n'
            "edge_trim = 50",
            "sheet[1].edge_trim",
            "50 mm",
            "less than half of 100 mm",
        ),
    ],
)
def test_lengths_that_do_not_go_together_are_told_in_lengths(table: str, field: str, found: str, allowed: str) -> None:
    (fault,) = faults_of(FIRST + "\n" + table + "\n")
    assert (fault.field, fault.found, fault.allowed) == (field, found, allowed)


@given(st.integers(0, 10**6), st.sets(st.sampled_from(sorted(FAULTS)), min_size=1, max_size=1), st.data())
@settings(max_examples=60, deadline=None)
def test_a_spoiled_text_ends_in_a_brief_or_in_sentences(seed: int, kinds: set[str], data: st.DataObject) -> None:
    text = with_fault(seed, kinds.pop()).text
    at = data.draw(st.integers(0, len(text)))
    junk = data.draw(st.text(max_size=6))
    with suppress(BriefFaults):
        assert read_brief(text[:at] + junk + text[at + data.draw(st.integers(0, 12)) :]).fixtures


# --------------------------------------------------------------------------------------- every fault at once


def test_every_fault_is_told_at_once_each_with_its_path() -> None:
    text = FIRST
    text = changed(text, "width = 420", 'width = "wide"')
    text = changed(text, "proud = 18", "prowd = 18")
    text = changed(text, 'build = "masonry"', 'build = "straw"')
    text = changed(text, 'colour = "#5F7A55"', 'colour = "moss"')
    text = changed(text, "lightness = [46, 54, 62, 70]", "lightness = [46, 540, 62, true]")
    text += '\n[glue]\nopen_time = "soon"\n[[pin]]\nblock = "here"\n[gleu]\nname = "x"\n'
    assert set(fields_of(text)) == {
        "fixture[1].width",
        "fixture[1].prowd",
        "fixture[1].proud",
        "wall.build",
        "family[1].colour",
        "family[1].lightness[2]",
        "family[1].lightness[4]",
        "glue.open_time",
        "pin[1].block",
        "pin[1]",
        "gleu",
    }


def test_faults_between_fields_are_told_beside_faults_of_single_ones() -> None:
    text = changed(example_text("s1"), "quotas = [24, 24, 24, 24]", "quotas = [24, 24, 24, 23]")
    text = changed(text, "[6, 9], [6, 10],", "[6, 9], [6, 15],")
    text = changed(text, "kerf = ", "kerff = ")
    text = changed(text, 'rows = [["big"]]', 'rows = [["bigg"]]')
    text = changed(text, "seed = 11", "seed = 1.5")
    assert fields_of(text) == ["piece.seed", "fill[2].rows[1][1]", "leaf[1].open[10]", "tools.kerff"]
    text = changed(text, 'rows = [["bigg"]]', 'rows = [["big"]]')
    text = changed(text, "[6, 9], [6, 15],", "[6, 9], [6, 10],")
    assert fields_of(text) == ["piece.seed", "footprint[2].quotas", "tools.kerff"]


def test_quotas_that_do_not_come_to_the_grid_say_both_numbers_and_the_difference() -> None:
    (fault,) = faults_of(changed(example_text("s8"), "[22, 21, 21, 20, 20, 20, 20]", "[22, 21, 21, 20, 20, 20, 21]"))
    assert fault.field == "footprint[1].quotas"
    assert "145" in fault.found
    assert "144" in fault.allowed
    assert fault.remedy == "Ask for 1 fewer."


def test_leaves_of_unlike_cells_are_told_apart() -> None:
    (fault,) = faults_of(changed(example_text("s3"), 'name = "right"\n', 'name = "right"\nopen = [[1, 1]]\n'))
    assert fault.field == "footprint[1].quotas"
    assert "on leaf right" in fault.allowed


def test_ring_and_field_have_quotas_of_their_own() -> None:
    text = changed(example_text("s7"), "[8, 8, 7, 7, 7, 7]", "[8, 8, 7, 7, 7, 8]")
    text = changed(text, "[16, 16, 16, 16, 16, 16]", "[16, 16, 16, 16, 16, 14]")
    ring, field = faults_of(text)
    assert (ring.field, ring.allowed) == ("blocks.ring_quotas", "44, the blocks in the ring")
    assert (field.field, field.allowed) == ("footprint[1].quotas", "96, the blocks of 58 in the field")


def test_unknown_names_get_the_nearest_known_one() -> None:
    cases = {
        ('kind = "meter"', 'kind = "meters"'): 'Did you mean "meter"?',
        ("proud = 18", "prod = 18\nproud = 18"): "Did you mean proud?",
        ("[[family]]", "[familly]\nx = 1\n[[family]]"): "Did you mean [[family]]?",
        ('home = "left"', 'home = "lefft"'): 'Did you mean "left"?',
    }
    for (old, new), advice in cases.items():
        (fault,) = faults_of(changed(FIRST, old, new))
        assert fault.remedy == advice


def test_a_faulty_field_makes_no_second_fault_elsewhere() -> None:
    assert fields_of(changed(example_text("s2"), "columns = 8 ", "columns = 0 ")) == ["blocks.columns"]
    zero = changed(example_text("s2"), "levels = [18, 22, 26,", "levels = [18, 0, 26,")
    assert fields_of(zero) == ["blocks.levels[2]"]
    assert fields_of(changed(example_text("s1"), 'unit = "in"', 'unit = "inn"')) == ["piece.unit"]


def test_two_dozen_faults_are_two_dozen_sentences() -> None:
    text = "\n".join(f"[[fixture]]\nname = 'box {n}'\nwidth = 0\nheight = 0\nproud = -1\n" for n in range(8)) + FIRST
    faults = faults_of(text)
    assert len([fault for fault in faults if fault.field.startswith("fixture")]) >= 24
    assert len(set(map(str, faults))) == len(faults)


def test_the_message_lists_every_fault() -> None:
    with pytest.raises(BriefFaults) as caught:
        read_brief(changed(changed(FIRST, "height = 520", "height = 0"), "proud = 18", "proud = -1"))
    assert str(caught.value).startswith("2 things in the brief are to be put right:")
    assert all(str(fault) in str(caught.value) for fault in caught.value.faults)


# ------------------------------------------------------------------------------------- files that are no brief


def test_what_is_not_toml_is_told_by_line_and_column() -> None:
    (fault,) = faults_of("[wall]\nwidth = 3 1/2 in\n")
    assert re.match(r'at line 2, column \d+: "width = 3 1/2 in"', fault.found)
    assert "Put a length with its unit in quotes" in fault.remedy
    (fault,) = faults_of("[wall]\nwidth = 3\nwidth = 4\n")
    assert fault.found.startswith("at line 3")
    assert "twice" in fault.remedy
    (fault,) = faults_of('[wall]\nwidth = "3')
    assert "line" in fault.found or "end" in fault.found


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("x" * 1_000_001, "1,000,001 letters"),
        ("a = " + "9" * 5000, "absurd size"),
        ("a = " + "[" * 100_000, "100000 deep"),
        (b"\xff\xfe\x00", "no text"),
        ("\0", "line 1"),
    ],
    ids=["too long", "huge number", "deep brackets", "not UTF-8", "NUL"],
)
def test_what_is_no_brief_at_all_is_one_sentence(text: str | bytes, said: str) -> None:
    (fault,) = faults_of(text)
    assert said in fault.found
    assert fault.remedy


def test_a_byte_order_mark_and_windows_line_ends_do_no_harm() -> None:
    assert read_brief(b"\xef\xbb\xbf" + FIRST.replace("\n", "\r\n").encode()) == read_brief(FIRST)


def test_an_empty_brief_asks_for_the_four_things_that_have_no_default() -> None:
    assert fields_of("") == ["wall", "fixture", "footprint", "family"]


@pytest.mark.parametrize("number", ["nan", "inf", "-inf", "1e400", "1e-400", "1e99999999999999999999", "9" * 400])
def test_numbers_of_no_use_are_told(number: str) -> None:
    assert fields_of(changed(FIRST, "proud = 18", f"proud = {number}")) == ["fixture[1].proud"]
    assert fields_of(changed(FIRST, "[blocks]", f"[blocks]\ncolumns = {number}")) == ["blocks.columns"]


# --------------------------------------------------------------------------------------------------- defaults


def test_every_default_is_told_with_its_reason() -> None:
    brief = read_brief(FIRST)
    used = {one.field: one for one in brief.defaults}
    assert all(one.value and one.reason for one in brief.defaults)
    assert len(used) == len(brief.defaults)
    assert used["glue.open_time"].value == "8 min"
    assert "assumption" in used["glue.open_time"].reason
    assert used["glue.spread_g_per_m2"].value == "250"
    assert used["stick"].value == "70 × 70 mm, 2400 mm long, without a price"
    assert "blocks.levels" not in used
    assert "lipping" not in " ".join(used)
    assert brief.sticks[0].price_cents is None


def test_the_agreed_defaults_are_the_same_in_either_unit() -> None:
    for brief in (read_brief(FIRST), read_brief(_with_units(changed(FIRST, 'unit = "mm"', 'unit = "in"')))):
        assert brief.rates.lay_s == 20
        assert (brief.glue.open_min, brief.glue.clamp_min) == (8, 45)
        # end grain takes about twice the 120 to 150 g/m² of a long-grain joint: common practice, no source
        assert brief.glue.spread_g_per_m2 == 250
        assert brief.tools.hold_nm == 150_000_000
        assert brief.blocks.cover_margin_nm == 50_000_000
        assert brief.access.air_nm == 12_000_000
        assert brief.sticks[0].spares_pct == 8
        assert brief.paint.reserve == 0.25


def _with_units(text: str) -> str:
    for key in ("width = 420", "height = 520", "proud = 18", "width = 70", "height = 70"):
        name, number = key.split(" = ")
        text = changed(text, key, f'{name} = "{number} mm"')
    text = changed(text, "[1400, 1500]", '["1400 mm", "1500 mm"]')
    return changed(text, "{ from = 18, to = 42, step = 6 }", '["18 mm", "24 mm", "30 mm"]')


def test_what_is_left_out_follows_from_what_is_said() -> None:
    masonry = read_brief(FIRST)
    assert masonry.fixings.kind is FixingKind.PLUG
    assert masonry.cleat.packer_nm == 12_000_000  # 18 proud + 12 air - 18 cleat
    studs = read_brief(changed(FIRST, 'build = "masonry"', "studs = [400, 800]"))
    assert (studs.wall.build, studs.fixings.kind) == (WallBuild.TIMBER_STUDS, FixingKind.WOOD_SCREW)
    bed = read_brief(FIRST + '\n[[furniture]]\nkind = "bed"\nx = 900\nwidth = 1400\ntop = 1000\n')
    assert bed.wall.below is Below.BED
    assert bed.furniture[0].far_nm == 2_000_000_000
    assert bed.furniture[0].name == "bed"
    assert read_brief(changed(FIRST, 'home = "left"', "")).families[0].home.kind is HomeKind.MIDDLE
    assert read_brief(changed(FIRST, 'name = "meter cupboard"\n', "")).fixtures[0].name == "meter"


def test_neither_quotas_nor_weights_mean_equal_shares() -> None:
    (footprint,) = read_brief(FIRST).blocks.footprints
    assert footprint.quotas is None
    assert footprint.weights == (1, 1, 1, 1, 1)


def test_quotas_in_written_order_follow_levels_that_are_not_sorted() -> None:
    text = changed(FIRST, "levels = { from = 18, to = 42, step = 6 }", "levels = [30, 18]\ncolumns = 4\nrows = 4")
    text = changed(text, "height = 70\n", "height = 70\nquotas = [9, 7]\n")
    blocks = read_brief(text).blocks
    assert blocks.levels_nm == (18_000_000, 30_000_000)
    assert blocks.footprints[0].quotas == (7, 9)


def test_owned_stock_is_one_piece_unless_counted() -> None:
    text = FIRST + "\n[[stick]]\nname = 'block'\nlength = 900\nowned = true\n[[stick]]\nname = 'block'\nlength = 2400\n"
    shelf, bought = read_brief(text).sticks
    assert (shelf.count, shelf.owned, bought.count) == (1, True, None)
    assert (shelf.section_width_nm, shelf.section_height_nm) == (70_000_000, 70_000_000)
    assert read_brief(text).blocks.footprints[0].section == "block"


def test_pins_are_settled_by_address_height_and_shade() -> None:
    text = changed(FIRST, "[[footprint]]", "columns = 8\nrows = 10\n[[footprint]]")
    brief = read_brief(text + "\n[[pin]]\nblock = '7.3b'\nlevel = 24\nshade = 'Moss 54'\n")
    (pin,) = brief.blocks.pins
    assert (pin.leaf, pin.address, pin.level, pin.shade) == ("whole", "7·3b", 1, "moss 54")


def test_the_records_alone_do_not_import_pydantic() -> None:
    code = "import sys, bossage.brief.records, bossage.brief; sys.exit('pydantic' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
