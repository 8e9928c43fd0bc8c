"""Reading test cards from the command line: the pack's own page, photographed, read, and put back into the brief."""

from __future__ import annotations

import json
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pypdfium2
import pytest
from PIL import Image

from bossage.brief import read_brief
from bossage.cli import FAULTY, NOT_WRITTEN, PLANNED, main
from bossage.colour.card_find import find_marks, homography, onto_photo
from bossage.colour.card_sheet import CardSheet, card_sheet
from bossage.colour.difference import delta_e
from bossage.colour.given import given_lab
from bossage.colour.mixing import TestCard as Card
from bossage.colour.mixing import mix_lab, paint_from_colours
from bossage.colour.spaces import lab_to_hex, srgb_to_linear
from bossage.examples import example_text
from bossage.fade.scales import family_scales
from bossage.pack.files import pack_pdf
from bossage.paint.cards import FieldKind, card_fields
from bossage.plan import Plan, make_plan
from tests.colour.photos import HOME, take_photo

DPI = 100
S7 = Path(__file__).parents[1] / "examples" / "s7-hollin-yard.toml"


@pytest.fixture(scope="module")
def plan() -> Plan:
    made = make_plan(read_brief(S7.read_text(encoding="utf-8")))
    assert isinstance(made, Plan)
    return made


@pytest.fixture(scope="module")
def printed(plan: Plan) -> np.ndarray:
    """The pack's test card page as it comes out of a printer, 8-bit sRGB."""
    pdf = pypdfium2.PdfDocument(pack_pdf(plan, b"", sheets=("testcard",)))
    assert len(pdf) == 1
    return np.asarray(pdf[0].render(scale=DPI / 72).to_pil().convert("RGB"))


def sheet_of(plan: Plan, **more) -> CardSheet:
    return card_sheet([field.name for field in card_fields(plan.brief)[0]], **more)


def true_paints(plan: Plan) -> dict[str, object]:
    """Real paints that are not what the brief takes them for: stronger or weaker, and each a little off in hue."""
    base = given_lab(plan.brief.families[0].base) + np.array([1.0, -0.6, 1.5])
    found = {}
    for family, fraction, lightness in zip(plan.brief.families, (0.05, 0.12), (66.0, 70.0), strict=True):
        neat = given_lab(family.tinters[0].colour) + np.array([1.5, 2.0, -2.0])
        card = Card(fraction=fraction, lab=(lightness, neat[1] * 0.7, neat[2] * 0.7))
        found[family.name] = paint_from_colours(family.name, base, neat, [card])
    return found


@pytest.fixture(scope="module")
def photo(plan: Plan, printed: np.ndarray, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The printed page with cards stuck on, tilted and unevenly lit, as a JPEG."""
    sheet = sheet_of(plan)
    H = homography(sheet.mark_centres_mm, find_marks(printed, sheet))
    px_per_mm = 4
    x, y = np.meshgrid(
        (np.arange(int(sheet.width_mm * px_per_mm)) + 0.5) / px_per_mm,
        (np.arange(int(sheet.height_mm * px_per_mm)) + 0.5) / px_per_mm,
    )
    at = np.rint(onto_photo(H, np.stack([x.ravel(), y.ravel()], axis=1))).astype(int)
    ink = srgb_to_linear(printed[at[:, 1], at[:, 0]] / 255).reshape(*x.shape, 3)
    paints = true_paints(plan)
    labs = {f.name: mix_lab(paints[f.families[0]], f.fraction) for f in card_fields(plan.brief)[0]}
    shot = take_photo(
        4, sheet=sheet, labs=labs, print_of_sheet=ink, size_px=(1200, 960), studio=replace(HOME, metamerism=0)
    )
    path = tmp_path_factory.mktemp("photo") / "cards.jpg"
    Image.fromarray(shot.photo).save(path, quality=92)
    return path


def test_the_page_is_the_sheet_at_true_size(plan: Plan, printed: np.ndarray) -> None:
    sheet = sheet_of(plan)
    marks_mm = find_marks(printed, sheet) / DPI * 25.4
    assert np.ptp(marks_mm, axis=0) == pytest.approx(np.ptp(sheet.mark_centres_mm, axis=0), abs=0.4)


def test_a_photo_of_the_packs_page_teaches_the_next_plan(
    plan: Plan, photo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    after = tmp_path / "after.toml"
    assert main(["read-card", str(photo), "--brief", str(S7), "--out", str(after), "--json"]) == PLANNED
    told = json.loads(capsys.readouterr().out)
    paints = true_paints(plan)
    gains = [r for family in told["families"] for r in family["readings"]]
    assert len(gains) == 10  # the base is read for both families
    for field in (f for f in card_fields(plan.brief)[0] if f.kind is not FieldKind.BASE):
        read = next(r for r in gains if r["field"] == field.name)
        assert delta_e(read["lab"], mix_lab(paints[field.families[0]], field.fraction)) <= 1.5 * read["uncertainty_de"]
    mixes = [r for r in gains if ":" in r["field"]]
    assert np.mean([r["after_de"] for r in mixes]) < 0.5 * np.mean([r["before_de"] for r in mixes])
    assert all(r["left_out_de"] < r["before_de"] + 1 for r in mixes)
    # The mended brief plans, keeps every shade's name, and its recipes now make what they say.
    brief = read_brief(after.read_text(encoding="utf-8"))
    old, new = family_scales(plan.brief), family_scales(brief)
    assert [s.name for scale in new for s in scale.shades] == [s.name for scale in old for s in scale.shades]
    assert "# Ready access and clear working space" in after.read_text(encoding="utf-8")

    def off(scales) -> float:
        return np.mean(
            [
                float(delta_e(mix_lab(paints[scale.family], shade.fraction), shade.lab))
                for scale in scales
                for shade in scale.shades
            ]
        )

    assert off(new) < 0.4 * off(old)
    assert isinstance(make_plan(brief), Plan)


def test_the_fragment_is_what_out_writes(photo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    after = tmp_path / "after.toml"
    assert main(["read-card", str(photo), "--brief", str(S7), "--out", str(after)]) == PLANNED
    said = capsys.readouterr().out
    assert "off before" in said
    written = tomllib.loads(after.read_text(encoding="utf-8"))["family"]
    parts = said[said.index("# into [[family]]") :].split("# into [[family]]")[1:]
    for part, family in zip(parts, written, strict=True):
        keys = tomllib.loads("\n".join(part.splitlines()[1:]))
        assert keys == {key: family[key] for key in keys}
        assert {"base", "tinters", "cards"} <= set(keys)


def test_pots_that_are_mixed_keep_recipe_and_name(photo: Path, plan: Plan, tmp_path: Path) -> None:
    after = tmp_path / "after.toml"
    assert main(["read-card", str(photo), "--brief", str(S7), "--mixed", "--out", str(after), "--quiet"]) == PLANNED
    old, new = family_scales(plan.brief), family_scales(read_brief(after.read_text(encoding="utf-8")))
    for before, now in zip(old, new, strict=True):
        assert [s.name for s in now.shades] == [s.name for s in before.shades]
        assert [s.fraction for s in now.shades] == pytest.approx([s.fraction for s in before.shades], rel=1e-5)
        assert any(abs(s.lab[0] - b.lab[0]) > 1 for s, b in zip(now.shades, before.shades, strict=True))


def test_corners_may_be_given(photo: Path, plan: Plan, capsys: pytest.CaptureFixture[str]) -> None:
    found = find_marks(np.asarray(Image.open(photo).convert("RGB")), sheet_of(plan))
    corners = ",".join(f"{v:.0f}" for v in found.ravel())
    assert main(["read-card", str(photo), "--brief", str(S7), "--corners", corners, "--json"]) == PLANNED
    given = json.loads(capsys.readouterr().out)
    assert np.abs(np.array(given["corners_px"]) - found).max() <= 0.5


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("typed.toml", '"fern 20:1" = [71.2, -9.4, 8.8]\n"fern neat" = "#4A6B4E"\n"umber 30:1" = [82, 8, 15, 0.8]\n'),
        ("typed.csv", "name,L,a,b\nfern 20:1,71.2,-9.4,8.8\nfern neat,#4A6B4E\number 30:1,82,8,15,0.8\n"),
    ],
)
def test_typed_readings_do_the_same(name: str, text: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    typed = tmp_path / name
    typed.write_text(text, encoding="utf-8")
    assert main(["read-card", str(typed), "--brief", str(S7), "--json"]) == PLANNED
    fern, umber = json.loads(capsys.readouterr().out)["families"]
    assert fern["brief"]["cards"] == [{"tinter": "fern", "fraction": 0.047619, "colour": [71.2, -9.4, 8.8]}]
    assert fern["brief"]["tinters"][0]["colour"] == "#4A6B4E"
    assert umber["brief"]["cards"][0] == {
        "tinter": "umber",
        "fraction": pytest.approx(1 / 31, rel=1e-5),
        "colour": [82, 8, 15],
        "uncertainty": 0.8,
    }
    card = next(r for r in fern["readings"] if r["field"] == "fern 20:1")
    assert card["after_de"] < 1 < card["before_de"]


def test_families_as_bought_take_their_hue_from_what_was_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    brief = tmp_path / "first.toml"
    brief.write_text(example_text("first"), encoding="utf-8")
    fields = card_fields(read_brief(brief.read_text(encoding="utf-8")))[0]
    bought = [field for field in fields if field.kind is FieldKind.SHADE]
    typed = tmp_path / "typed.toml"
    typed.write_text("".join(f'"{f.name}" = [{f.lightness}, 12, -20]\n' for f in bought), encoding="utf-8")
    assert main(["read-card", str(typed), "--brief", str(brief), "--json"]) == PLANNED
    for family in json.loads(capsys.readouterr().out)["families"]:
        assert all(r["after_de"] < 1 < r["before_de"] for r in family["readings"])
        assert set(family["brief"]) == {"colour"}


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('"ferm 20:1" = "#4A6B4E"\n', "Did you mean"),
        ('"fern 20:1" = "green"\n', "not a hex colour"),
        ('"fern 20:1" = [171, 0, 0]\n', "write a hex colour"),
        ('"fern 20:1" = [71, 0, 0, 99]\n', "0.1 to 30"),
        (f'"fern 20:1" = [71, 0, {"8" * 400}]\n', "absurd size"),
        ("", "holds no readings"),
        ("fern 20:1 = [\n", "is not TOML"),
    ],
)
def test_a_wrong_reading_is_a_sentence(
    text: str, says: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    typed = tmp_path / "typed.toml"
    typed.write_text(text, encoding="utf-8")
    assert main(["read-card", str(typed), "--brief", str(S7)]) == FAULTY
    assert says in capsys.readouterr().err


def test_what_cannot_be_read_or_written_is_a_sentence(
    photo: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    there = tmp_path / "there.toml"
    there.write_text("mine", encoding="utf-8")
    assert main(["read-card", str(photo), "--brief", str(S7), "--out", str(there)]) == NOT_WRITTEN
    assert there.read_text(encoding="utf-8") == "mine"
    grey = tmp_path / "grey.png"
    Image.new("RGB", (300, 200), lab_to_hex((50, 0, 0))).save(grey)
    for more, says in (
        ([str(grey)], "marks of the sheet cannot be found"),
        ([str(photo), "--corners", "1,2,3"], "give 8"),
        ([str(photo), "--sheet", "2"], "no test card sheet 2"),
        ([str(photo), "--greys", "88,74,dark"], "numbers with commas"),
        ([str(tmp_path / "none.jpg")], "no file"),
    ):
        assert main(["read-card", *more, "--brief", str(S7)]) == FAULTY
        assert says in capsys.readouterr().err
