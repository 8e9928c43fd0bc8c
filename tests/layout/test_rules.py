"""Every rule about the wall, the access and the edge: it speaks when its cause is there, and not when it is gone."""

from __future__ import annotations

from typing import Any

import pytest

from bossage.brief import records as r
from bossage.checks import Check, Verdict
from bossage.layout import Layout, plan_layout
from tests.layout.factory import change, fixture, footprint, furniture, inch, keep_clear, leaf, mm, plain

FINE, CAUTION, STOP = Verdict.FINE, Verdict.CAUTION, Verdict.STOP
GRID = {"blocks__columns": 10, "blocks__rows": 8, "blocks__leaves": (leaf("a", 1150, 1300),)}


def checks(brief: r.Brief, name: str) -> list[Check]:
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    return [c for c in layout.checks if c.name == name]


def verdict(brief: r.Brief, name: str) -> Verdict | None:
    found = checks(brief, name)
    return found[0].verdict if found else None


def hatch(**more: Any) -> tuple[r.Fixture, ...]:
    return (fixture("hatch", 1200, 1350, 400, 300, **more),)


FRAME = (
    r.BehindPart(
        name="rail",
        role="frame",
        count=2,
        length_nm=mm(480),
        width_nm=mm(20),
        depth_nm=mm(24),
        species="spf",
        upright=False,
    ),
)
board = fixture(
    "board",
    1200,
    1350,
    400,
    300,
    kind=r.FixtureKind.ELECTRICAL,
    proud_nm=mm(20),
    door=r.Door(width_nm=mm(390), hinge=r.Side.LEFT, plane_nm=mm(20)),
)
swing = {"access__opens": r.Opens.SWING, "fixtures": (board,)}
roomy = {**swing, "wall__passage_nm": mm(3000)}  # somebody has said how far away the other side is


def faced(volts: float, facing: r.Facing, passage: float) -> dict[str, Any]:
    """A board of that voltage with something opposite, in a passage; it stands 20 mm proud."""
    return {**swing, "fixtures": (change(board, volts=volts, facing=facing),), "wall__passage_nm": mm(passage)}


seated = {"access__opened_by": r.OpenedBy.SEATED}
over_bench = {**seated, "furniture": (furniture("b", "bench", 1000, 900, 450, far_nm=mm(400)),)}


@pytest.mark.parametrize(
    ("name", "wrong", "verdict_then", "right", "verdict_now"),
    [
        ("cover_margin", {"fixtures": (fixture("h", 1199, 1350, 400, 300),)}, CAUTION, {}, FINE),
        ("cover_margin", {"fixtures": (fixture("h", 1140, 1350, 400, 300),)}, STOP, {}, FINE),
        ("side_view", {"cleat__packer_nm": mm(8)}, CAUTION, {"cleat__packer_nm": mm(7)}, FINE),
        ("bare_cleat", {"cleat__packer_nm": mm(3)}, CAUTION, {"cleat__packer_nm": mm(4)}, FINE),
        ("bare_cleat", {"fixtures": hatch(proud_nm=mm(25))}, STOP, {"fixtures": hatch(proud_nm=mm(12))}, FINE),
        (
            "wall_edge",
            {"blocks__leaves": (leaf("a", -1, 1300),)},
            STOP,
            {"blocks__leaves": (leaf("a", 0, 1300),)},
            FINE,
        ),
        ("wall_edge", {"wall__width_nm": mm(1649)}, STOP, {"wall__width_nm": mm(1650)}, FINE),
        ("ceiling", {"wall__height_nm": mm(1699)}, STOP, {"wall__height_nm": mm(1700)}, FINE),
        ("lift_room", {"wall__height_nm": mm(1720)}, STOP, {"wall__height_nm": mm(1721)}, FINE),
        ("lift_room", {"furniture": (furniture("s", "shelf", 1200, 200, 1800, bottom_nm=mm(1710)),)}, STOP, {}, FINE),
        ("keep_clear", {"keep_clear": (keep_clear("k", 1600, 1400, 50, 50),)}, STOP, {}, None),
        ("keep_clear", {"keep_clear": (keep_clear("k", 1650, 1400, 50, 50),)}, FINE, {}, None),
        ("furniture_clash", {"furniture": (furniture("s", "sofa", 1000, 900, 1301),)}, STOP, {}, None),
        ("bench_gap", {"furniture": (furniture("b", "bench", 1000, 800, 1151),)}, CAUTION, {}, None),
        ("bench_gap", {"furniture": (furniture("b", "bench", 1000, 800, 1150),)}, FINE, {}, None),
        ("sofa_gap", {"furniture": (furniture("b", "sofa", 1000, 800, 1000),)}, CAUTION, {}, None),
        ("headboard_gap", {"furniture": (furniture("b", "bed", 1000, 750, 1069),)}, CAUTION, {}, None),
        ("headboard_gap", {"furniture": (furniture("b", "bed", 1000, 750, 1070),)}, FINE, {}, None),
        ("width_band", {"furniture": (furniture("b", "bed", 1000, 750, 1100),)}, FINE, {}, None),
        ("width_band", {"furniture": (furniture("b", "bed", 1000, 750.001, 1100),)}, CAUTION, {}, None),
        ("width_band", {"furniture": (furniture("b", "bed", 1000, 666, 1100),)}, CAUTION, {}, None),
        ("width_band", {"furniture": (furniture("b", "bed", 1000, 667, 1100),)}, FINE, {}, None),
        ("eye_level", {"blocks__leaves": (leaf("a", 1150, 1500),)}, CAUTION, {}, FINE),
        ("hall_depth", {"wall__passage_nm": mm(1000), "blocks__levels_nm": (mm(20), mm(65))}, CAUTION, {}, None),
        ("hall_depth", {"wall__passage_nm": mm(1000), "blocks__levels_nm": (mm(20), mm(64))}, FINE, {}, None),
        ("protrusion", {"wall__circulation": True, "blocks__levels_nm": (mm(20), mm(65))}, STOP, {}, None),
        ("protrusion", {"wall__circulation": True, "blocks__levels_nm": (mm(20), mm(64))}, FINE, {}, None),
        (
            "protrusion",
            {
                "wall__circulation": True,
                "blocks__levels_nm": (mm(20), mm(65)),
                "blocks__leaves": (leaf("a", 1150, 2030),),
            },
            FINE,
            {},
            None,
        ),
        ("escape_route", {"wall__escape_route": True}, CAUTION, {}, None),
        ("lift_off", {"fixtures": hatch(opened_per_year=53.0)}, STOP, {"fixtures": hatch(opened_per_year=52.0)}, FINE),
        ("lift_off", {"fixtures": hatch(opened_per_year=53.0)}, STOP, {"access__opens": r.Opens.SWING}, None),
        ("refusal", {"fixtures": hatch(kind=r.FixtureKind.SUPPLY_GRILLE)}, STOP, {}, None),
        ("refusal", {"fixtures": hatch(kind=r.FixtureKind.RETURN_GRILLE)}, STOP, {}, None),
        ("refusal", {"fixtures": hatch(kind=r.FixtureKind.APPLIANCE)}, STOP, {}, None),
        (
            "flue",
            {"fixtures": hatch(kind=r.FixtureKind.CLEANOUT, flue_in_use=True)},
            STOP,
            {"fixtures": hatch(kind=r.FixtureKind.CLEANOUT)},
            CAUTION,
        ),
        (
            "vent",
            {"fixtures": hatch(needs=(r.Need.AIR,)), "behind": FRAME},
            STOP,
            {"fixtures": hatch(needs=(r.Need.AIR,))},
            None,
        ),
        ("sound", {"fixtures": hatch(needs=(r.Need.SOUND,))}, CAUTION, {}, None),
        ("sight", {"fixtures": hatch(needs=(r.Need.SIGHT,))}, STOP, {}, None),
        (
            "radio",
            {"fixtures": hatch(kind=r.FixtureKind.ROUTER), "cleat__kind": "metal"},
            STOP,
            {"fixtures": hatch(kind=r.FixtureKind.ROUTER)},
            FINE,
        ),
        ("radio", {"fixtures": hatch(needs=(r.Need.RADIO,)), "cleat__kind": "metal"}, STOP, {}, None),
        ("outer_bond", {"edge__overhang_nm": mm(25)}, STOP, {"edge__overhang_nm": mm(20)}, FINE),
        ("outer_bond", {"edge__overhang_nm": mm(22)}, CAUTION, {"edge__overhang_nm": mm(21)}, FINE),
        ("ready_access", {"fixtures": (board,)}, STOP, swing, CAUTION),
        ("ready_access", {**swing, "access__tool": True}, STOP, swing, CAUTION),
        ("swing_angle", {**swing, "access__angle_deg": 89.0}, STOP, {**swing, "access__angle_deg": 90.0}, FINE),
        ("space", {**swing, "wall__passage_nm": mm(933)}, STOP, {**swing, "wall__passage_nm": mm(934)}, FINE),
        # NEC Table 110.26(A)(1): 1067 mm where brick is opposite, 1219 where another board is, 914 up to 150 V
        ("space", faced(230.0, r.Facing.EARTHED, 1086), STOP, faced(230.0, r.Facing.EARTHED, 1087), FINE),
        ("space", faced(230.0, r.Facing.LIVE, 1238), STOP, faced(230.0, r.Facing.LIVE, 1239), FINE),
        ("space", faced(230.0, r.Facing.LIVE, 1087), STOP, faced(120.0, r.Facing.LIVE, 934), FINE),
        ("space", faced(1000.0, r.Facing.NOTHING, 2000), STOP, faced(600.0, r.Facing.NOTHING, 2000), FINE),
        ("handle", {**swing, "fixtures": (change(board, handle_nm=mm(2001)),)}, STOP, swing, FINE),
        ("handle", {**swing, "fixtures": (change(board, y_nm=mm(1701)),)}, CAUTION, swing, FINE),
        ("reach", {**seated, "access__grip_nm": mm(1221)}, CAUTION, {**seated, "access__grip_nm": mm(1220)}, FINE),
        ("reach", seated, CAUTION, {**seated, "access__grip_nm": mm(1220)}, FINE),  # where the grip is nobody has said
        ("reach", {**seated, "access__grip_nm": mm(379)}, CAUTION, {"access__grip_nm": mm(379)}, None),
        (
            "reach",
            {**over_bench, "access__grip_nm": mm(1171)},
            CAUTION,
            {**over_bench, "access__grip_nm": mm(1170)},
            FINE,
        ),
        (
            "keep_clear",  # it ends 50 mm from the switch
            {"keep_clear": (change(keep_clear("switch", 1700, 1400, 80, 80), margin_nm=mm(51)),)},
            STOP,
            {"keep_clear": (change(keep_clear("switch", 1700, 1400, 80, 80), margin_nm=mm(50)),)},
            FINE,
        ),
        ("space", swing, CAUTION, roomy, FINE),  # nobody has said what stands opposite
        ("space", {**roomy, "wall__height_nm": mm(1980)}, STOP, {**roomy, "wall__height_nm": mm(1981)}, FINE),
        (
            "space",
            {**roomy, "furniture": (furniture("c", "cabinet", 0, 839, 900), furniture("d", "cabinet", 1600, 300, 900))},
            STOP,
            {**roomy, "furniture": (furniture("c", "cabinet", 0, 838, 900), furniture("d", "cabinet", 1600, 300, 900))},
            FINE,
        ),
        ("space", {**roomy, "furniture": (furniture("c", "cabinet", 1500, 50, 900),)}, STOP, roomy, FINE),
        (
            "space",
            {**roomy, "furniture": (furniture("s", "shelf", 1300, 50, 2100, bottom_nm=mm(1980)),)},
            STOP,
            {**roomy, "furniture": (furniture("s", "shelf", 1300, 50, 2100, bottom_nm=mm(1981)),)},
            FINE,
        ),
        ("fix_to_enclosure", {**swing, "access__fixed_to_fixture": True}, STOP, swing, FINE),
        ("combustible", swing, CAUTION, {}, None),
        # Hinge 50 from the leaf's axis, tip at 20 + 390: arctan(410 / 50) = 83.05°.
        ("door_swing", {**swing, "access__angle_deg": 83.0}, STOP, {**swing, "access__angle_deg": 83.1}, FINE),
        ("middle_leaf", {"blocks__leaves": (leaf("a", 720, 1300), leaf("b", 1240, 1300))}, CAUTION, {}, None),
        ("middle_leaf", {"blocks__leaves": (leaf("a", 1150, 1300), leaf("b", 1660, 1300))}, FINE, {}, None),
        (
            "drift",
            {"blocks__footprints": (change(plain().blocks.footprints[0], spread_nm=mm(0.3)),)},
            CAUTION,
            {},
            None,
        ),
        (
            "drift",  # nine of 0.2 mm are 1.8 mm, if nothing is painted on the sides
            {"blocks__footprints": (footprint("fifty", mm(50), mm(50), mm(0.2)),), "paint__build_nm": 0},
            FINE,
            {},
            None,
        ),
        (
            "mixed",
            {"blocks__footprints": (change(plain().blocks.footprints[0], width_nm=mm(49)),)},
            STOP,
            {},
            None,
        ),
        (
            "mixed",
            {"blocks__footprints": (change(plain().blocks.footprints[0], width_nm=mm(49), spread_nm=mm(1)),)},
            CAUTION,
            {},
            None,
        ),
    ],
)
def test_a_rule_speaks_with_its_cause_and_not_without(
    name: str,
    wrong: dict[str, Any],
    verdict_then: Verdict,
    right: dict[str, Any],
    verdict_now: Verdict | None,
) -> None:
    assert verdict(plain(**(GRID | wrong)), name) is verdict_then
    assert verdict(plain(**(GRID | right)), name) is verdict_now


def test_a_distance_is_told_as_a_distance_and_a_refusal_says_which_way_to_go() -> None:
    near = plain(**GRID, keep_clear=(change(keep_clear("switch", 1700, 1400, 80, 80), margin_nm=mm(100)),))
    (found,) = checks(near, "keep_clear")
    assert "50 mm from switch" in found.found
    assert "at least 100 mm" in found.allowed
    assert "50 mm left" in found.remedy
    grille = fixture("grille", 1500, 1350, 400, 300, kind=r.FixtureKind.RETURN_GRILLE)
    (refused,) = checks(plain(**GRID, fixtures=(grille,)), "refusal")
    # the piece reaches from 1150 to 1650 mm: 150 mm to the left clears the grille at 1500
    assert "move the piece 150 mm left" in refused.remedy


def test_every_stop_says_what_was_found_and_what_would_pass() -> None:
    brief = plain(
        **(GRID | {"wall__height_nm": mm(1710), "fixtures": (fixture("h", 1140, 1350, 400, 300),)}),
        furniture=(furniture("s", "sofa", 1000, 900, 1400),),
        keep_clear=(keep_clear("k", 1600, 1400, 100, 50),),
    )
    layout = plan_layout(brief)
    assert isinstance(layout, Layout)
    stops = [c for c in layout.checks if c.verdict is STOP]
    assert {c.name for c in stops} == {"cover_margin", "lift_room", "furniture_clash", "keep_clear"}
    for check in stops:
        assert check.found
        assert check.allowed
        assert check.remedy
        assert check.why
        assert check.source
    assert "11 mm" in next(c.remedy for c in stops if c.name == "lift_room")
    assert "50 mm left" in next(c.remedy for c in stops if c.name == "keep_clear")


def test_lift_off_is_judged_for_each_copy() -> None:
    daily = fixture("keypad", 1200, 1350, 400, 300, opened_per_year=365.0, copies=(2,))
    rare = fixture("valves", 1200, 1350, 400, 300, copies=(1, 3))
    found = {c.subject: c.verdict for c in checks(plain(piece__copies=3, fixtures=(rare, daily)), "lift_off")}
    assert found == {"valves, copy 1": FINE, "valves, copy 3": FINE, "keypad, copy 2": STOP}


def test_an_inch_brief_speaks_inches() -> None:
    brief = plain(**GRID, piece__unit=r.LengthUnit.IN, fixtures=hatch(proud_nm=inch(0.5)))
    (check,) = checks(brief, "bare_cleat")
    assert "1/2 in" in check.found
    assert "mm" not in check.found


def test_a_door_hung_on_the_far_side_only_minds_a_leaf_that_leans_over_it() -> None:
    far = change(board, door=r.Door(width_nm=mm(390), hinge=r.Side.RIGHT, plane_nm=mm(20)))
    layout = plan_layout(plain(**(GRID | swing | {"fixtures": (far,)})))
    assert isinstance(layout, Layout)
    # Hinge 450 away and 20 proud, door 390: the leaf must clear a circle, asin(390 / 450.4) + atan(20 / 450).
    assert layout.angles_deg["leaf_min_for_door_90"] == pytest.approx(59.97 + 2.545, abs=0.02)
    assert layout.angles_deg["door_max"] == 180.0


def test_the_run_out_that_passes_is_a_mark_of_the_briefs_own_tape() -> None:
    # 3 in blocks, a third of the back wanted, corners on 1.5 in of strip: 9 / 3 / 1.5 = 2 in exactly, and no gap.
    # Rounded to whole millimetres that was 51 mm, printed 2-1/64 in.
    ring = {
        "piece__unit": r.LengthUnit.IN,
        "blocks__footprints": (footprint("three", inch(3), inch(3)),),
        "blocks__module_width_nm": inch(3),
        "blocks__module_height_nm": inch(3),
        "blocks__columns": 6,
        "blocks__rows": 5,
        "edge__style": r.EdgeStyle.OUTRIGGER,
        "edge__overhang_nm": 0,
        "edge__strip_thickness_nm": inch(0.25),
        "edge__strip_width_nm": inch(3),
        "edge__strip_behind_nm": inch(1.5),
        "edge__strip_run_out_nm": inch(1),
        "edge__bond_share_min": 1 / 3,
        "blocks__fills": (r.Fill(rows=(("three",),), count=None),),
    }
    layout = plan_layout(plain(**ring))
    assert isinstance(layout, Layout)
    assert layout.ring_bond is not None
    assert layout.ring_bond.corner_run_out_that_passes_nm == inch(2)
    assert verdict(plain(**(ring | {"edge__strip_run_out_nm": inch(2)})), "corner_bond") is FINE
    (short,) = checks(plain(**(ring | {"edge__strip_run_out_nm": inch(2) - 1})), "corner_bond")
    assert short.verdict is CAUTION
    assert "2 in" in short.remedy
    # in millimetres the same ring asks for the next whole one
    metric = plan_layout(plain(**(ring | {"piece__unit": r.LengthUnit.MM})))
    assert isinstance(metric, Layout)
    assert metric.ring_bond is not None
    assert metric.ring_bond.corner_run_out_that_passes_nm == mm(51)


@pytest.mark.parametrize(
    ("medium", "opens", "told"),
    [
        (r.Medium.ELECTRICITY, r.Opens.LIFT_OFF, STOP),
        (None, r.Opens.LIFT_OFF, STOP),  # it may be gas, or current
        (r.Medium.WATER, r.Opens.LIFT_OFF, CAUTION),
        (r.Medium.ELECTRICITY, r.Opens.SWING, CAUTION),
        (None, r.Opens.SWING, CAUTION),
    ],
)
def test_what_may_be_the_only_switch_is_reached_without_lifting(
    medium: r.Medium | None, opens: r.Opens, told: Verdict
) -> None:
    brief = plain(fixtures=hatch(kind=r.FixtureKind.METER, medium=medium), access__opens=opens)
    assert verdict(brief, "meter_reach") is told
