"""Briefs built by hand: a plain one, and changes to it by dotted path."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bossage.brief import records as r
from bossage.countries import Country, Rules

MM = 1_000_000
IN = 25_400_000


def mm(value: float) -> int:
    return round(value * MM)


def inch(value: float) -> int:
    return round(value * IN)


def footprint(name: str, width_nm: int, height_nm: int, spread_nm: int = 0) -> r.Footprint:
    return r.Footprint(
        name=name,
        width_nm=width_nm,
        height_nm=height_nm,
        section=name,
        quotas=None,
        weights=(1.0, 1.0),
        allowed=(0, 1),
        spread_nm=spread_nm,
    )


def fixture(name: str, x: float, y: float, width: float, height: float, **more: Any) -> r.Fixture:
    """A fixture in mm."""
    values: dict[str, Any] = {
        "kind": r.FixtureKind.HATCH,
        "proud_nm": mm(10),
        "opened_per_year": 2.0,
        "needs": (),
        "cover_screws_nm": (),
        "door": None,
        "flue_in_use": False,
        "flue_capped": True,
        "copies": (),
    }
    return r.Fixture(name=name, x_nm=mm(x), y_nm=mm(y), width_nm=mm(width), height_nm=mm(height), **(values | more))


def furniture(name: str, kind: str, x: float, width: float, top: float, **more: Any) -> r.Furniture:
    """Furniture in mm; stands on the floor against the wall, 600 deep, unless told otherwise."""
    values: dict[str, Any] = {"bottom_nm": 0, "near_nm": 0, "far_nm": mm(600)}
    return r.Furniture(name=name, kind=kind, x_nm=mm(x), width_nm=mm(width), top_nm=mm(top), **(values | more))


def keep_clear(name: str, x: float, y: float, width: float, height: float) -> r.KeepClear:
    return r.KeepClear(name=name, x_nm=mm(x), y_nm=mm(y), width_nm=mm(width), height_nm=mm(height), why="")


def leaf(name: str, x: float | None = None, y: float | None = None, cells: tuple[Any, ...] = ()) -> r.LeafBrief:
    return r.LeafBrief(
        name=name, x_nm=None if x is None else mm(x), y_nm=None if y is None else mm(y), open_cells=cells
    )


def change(record: Any, **changes: Any) -> Any:
    """A record with fields changed; `wall__width_nm=1` reaches into nested records."""
    for path, value in changes.items():
        head, _, rest = path.partition("__")
        record = replace(record, **{head: change(getattr(record, head), **{rest: value}) if rest else value})
    return record


def plain(**changes: Any) -> r.Brief:
    """A metric brief: a hatch on a wide wall, blocks of 50 without gap, inset edge, two levels."""
    return change(_plain(), **changes)


def _plain() -> r.Brief:
    return r.Brief(
        piece=r.Piece(
            name="test",
            unit=r.LengthUnit.MM,
            paper="A4",
            seed=1,
            date="",
            currency="€",
            client="",
            copies=1,
            budget_cents=None,
            mass_cap_g=None,
            weighed_g=None,
        ),
        wall=r.Wall(
            width_nm=mm(3000),
            height_nm=mm(2500),
            build=r.WallBuild.TIMBER_STUDS,
            covering_nm=mm(12.5),
            studs_nm=tuple(mm(x) for x in range(200, 3000, 400)),
            stud_width_nm=mm(45),
            stud_species="spf",
            passage_nm=None,
            circulation=False,
            escape_route=False,
            escape_width_nm=None,
            below=r.Below.NONE,
            light_from=r.Side.LEFT,
            colour_hex="#ffffff",
        ),
        fixtures=(fixture("hatch", 1200, 1350, 400, 300),),
        furniture=(),
        keep_clear=(),
        eyes=(),
        climate=r.Climate(shop=(), room=(), sawn_when=""),
        blocks=r.Blocks(
            columns=None,
            rows=None,
            module_width_nm=mm(50),
            module_height_nm=mm(50),
            gap_nm=0,
            footprints=(footprint("fifty", mm(50), mm(50)),),
            fills=(r.Fill(rows=(("fifty",),), count=None),),
            levels_nm=(mm(20), mm(30)),
            min_step=1,
            diagonal=False,
            species="norway_spruce",
            moisture_sawn_pct=12.0,
            moisture_laid_pct=12.0,
            moisture_use_low_pct=7.0,
            moisture_use_high_pct=11.0,
            leaves=(leaf("leaf 1"),),
            leaf_gap_nm=mm(20),
            cover_margin_nm=mm(50),
            pins=(),
            ring_quotas=None,
        ),
        edge=r.Edge(
            style=r.EdgeStyle.INSET,
            overhang_nm=mm(10),
            strip_thickness_nm=0,
            strip_width_nm=0,
            strip_behind_nm=0,
            strip_run_out_nm=0,
            strip_material="plywood_birch",
            strip_corners="horizontal",
            bond_share_min=1 / 3,
            lipping_thickness_nm=0,
            lipping_depth_nm=0,
            lipping_species="",
        ),
        backer=r.Backer(
            material="plywood_birch",
            thickness_nm=mm(12),
            colour_hex="",
            colour_name="",
            sealed_faces=2,
            sheets=(),
        ),
        behind=(),
        cleat=r.Cleat(
            kind="wood",
            material="plywood_birch",
            thickness_nm=mm(18),
            strip_nm=mm(75),
            bevel_deg=45.0,
            length_nm=None,
            packer_nm=mm(6),
            packer_height_nm=mm(75),
            end_distance_nm=mm(20),
            offset_nm=0,
            arm_nm=None,
            line_below_top_nm=None,
        ),
        fixings=r.Fixings(
            kind=r.FixingKind.WOOD_SCREW,
            gauge="#10",
            length_nm=mm(75),
            count=None,
            per_stud=1,
            allowable_g=None,
            rating_g=None,
            panel_gauge="3.5 mm",
            panel_length_nm=mm(33),  # through 12 of backer and 6 of packer: 15 of thread in the panel half
            panel_count=None,
            panel_glued=True,
        ),
        access=r.Access(
            opens=r.Opens.LIFT_OFF,
            tool=False,
            hinge=r.Side.LEFT,
            angle_deg=95.0,
            marked=True,
            lock=False,
            fixed_to_fixture=False,
            air_nm=mm(12),
        ),
        lift=r.Lift(
            horizontal_nm=None,
            vertical_nm=None,
            travel_nm=None,
            turn_deg=0.0,
            per_minute=0.0,
            coupling=r.Coupling.POOR,
            people=1,
        ),
        families=(),
        fade=r.FadeBrief(
            shape=r.FadeShape.PATH, grain=1.0, neighbours_differ=False, meet_dl=0.5, meet_de=5.0, neighbours_dl=0.0
        ),
        sticks=(
            r.StickStock(
                name="fifty",
                section_width_nm=mm(50),
                section_height_nm=mm(50),
                bought_as="",
                length_nm=mm(2400),
                price_cents=500,
                count=None,
                owned=False,
                trim_nm=mm(20),
                stub_nm=mm(200),
                no_go_nm=(),
                spares_pct=8.0,
                species="norway_spruce",
            ),
        ),
        tools=r.Tools(
            saw="power saw",
            kerf_nm=mm(2.5),
            hold_nm=mm(150),
            keep_offcut_nm=mm(300),
            clamps=4,
            cauls=1,
            clamp_reach_nm=mm(300),
            measure_ml=1.0,
        ),
        glue=r.Glue(
            name="white glue",
            open_min=8.0,
            clamp_min=45.0,
            close_min=1.0,
            unload_min=2.0,
            spread_g_per_m2=200.0,
            dry_g_per_m2=120.0,
        ),
        paint=r.PaintBrief(
            coats=2,
            colour_m2_per_l=8.0,
            reserve=0.25,
            primer_coats=1,
            primer_m2_per_l=5.0,
            side_share=0.6,
            dry_g_per_m2=150.0,
        ),
        rates=r.Rates(
            saw_min=0.75,
            sand_min=1.5,
            paint_min=2.5,
            lay_min=0.75,
            glue_min=0.7,
            fixed_h=5.0,
            lay_s=20.0,
            hourly_cents=None,
            overhead_pct=0.0,
            contingency_pct=0.0,
            markup_pct=0.0,
            deposit_pct=50.0,
            repeat_step_pct=5.0,
            repeat_floor_pct=70.0,
        ),
        rules=Rules(country=Country.UNITED_STATES),
        prices=(),
    )
