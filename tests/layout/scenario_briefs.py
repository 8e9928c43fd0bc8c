"""The layout's part of our worked scenarios as briefs built by hand; the rest of each brief is the plain one's."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from bossage.brief import records as r
from tests.layout.factory import footprint, inch, mm, plain


def place(x: float, y: float, scale: int, cells: tuple[Any, ...] = (), name: str = "leaf") -> r.LeafBrief:
    return r.LeafBrief(name=name, x_nm=round(x * scale), y_nm=round(y * scale), open_cells=cells)


def thing(name: str, kind: r.FixtureKind, at: tuple[float, ...], scale: int, **more: Any) -> r.Fixture:
    """`at`: x, y, width, height, proud in the scenario's unit."""
    base = plain().fixtures[0]
    x, y, width, height, proud = (round(v * scale) for v in at)
    return replace(base, name=name, kind=kind, x_nm=x, y_nm=y, width_nm=width, height_nm=height, proud_nm=proud, **more)


def item(name: str, kind: str, at: tuple[float, ...], scale: int) -> r.Furniture:
    """`at`: x, width, bottom, top, near, far."""
    x, width, bottom, top, near, far = (round(v * scale) for v in at)
    return r.Furniture(
        name=name, kind=kind, x_nm=x, width_nm=width, bottom_nm=bottom, top_nm=top, near_nm=near, far_nm=far
    )


def behind(role: str, depth_nm: int) -> r.BehindPart:
    return r.BehindPart(
        name=role,
        role=role,
        count=2,
        length_nm=mm(400),
        width_nm=mm(20),
        depth_nm=depth_nm,
        species="spf",
        upright=True,
    )


IN, MM = 25_400_000, 1_000_000


def s1() -> r.Brief:
    cells = tuple((8 - row, column + 1) for column, row in S1_OPEN)
    return plain(
        piece__unit=r.LengthUnit.IN,
        wall__width_nm=inch(96),
        wall__height_nm=inch(96),
        wall__passage_nm=inch(40),
        fixtures=(
            thing("thermostat", r.FixtureKind.THERMOSTAT, (27.5, 58, 5, 4, 1.125), IN, needs=(r.Need.AIR,)),
            thing("chime", r.FixtureKind.CHIME, (39, 58.5, 8, 5, 2), IN, needs=(r.Need.SOUND,)),
        ),
        access__air_nm=inch(0.5),
        blocks__columns=14,
        blocks__rows=8,
        blocks__module_width_nm=inch(3),
        blocks__module_height_nm=inch(3),
        blocks__leaves=(place(16.25, 48, IN, cells),),
        blocks__footprints=(footprint("big", inch(3), inch(3)), footprint("small", inch(1.5), inch(1.5))),
        blocks__fills=(
            r.Fill(rows=(("big",),), count=None),
            r.Fill(rows=(("small", "small"), ("small", "small")), count=24),
        ),
        blocks__levels_nm=tuple(inch(v) for v in (0.75, 1.125, 1.5, 2, 2.5)),
        edge__overhang_nm=inch(0.5),
        backer__thickness_nm=inch(0.5),
        cleat__thickness_nm=inch(0.75),
        cleat__packer_nm=0,
        behind=(behind("frame", inch(2.5)),),
    )


S1_OPEN = ((3, 5), (4, 5), (5, 5), (3, 2), (4, 2), (5, 2), (8, 5), (9, 5), (8, 2), (9, 2))


def s2() -> r.Brief:
    return plain(
        wall__width_nm=mm(3200),
        wall__height_nm=mm(2450),
        furniture=(item("bench", "bench", (650, 1600, 0, 420, 0, 400), MM),),
        fixtures=(thing("manifold door", r.FixtureKind.MANIFOLD, (1150, 540, 600, 480, 12), MM),),
        blocks__columns=8,
        blocks__rows=16,
        blocks__module_width_nm=mm(140),
        blocks__module_height_nm=mm(45),
        blocks__leaves=(place(890, 480, MM),),
        blocks__footprints=tuple(footprint(str(w), mm(w), mm(45)) for w in (70, 95, 45)),
        blocks__fills=(
            r.Fill(rows=(("70", "70"),), count=64),
            r.Fill(rows=(("95", "45"),), count=32),
            r.Fill(rows=(("45", "95"),), count=32),
        ),
        blocks__levels_nm=tuple(mm(v) for v in (18, 22, 26, 30, 35, 40)),
        behind=(behind("rib", mm(18)),),
    )


def s3() -> r.Brief:
    return plain(
        wall__width_nm=mm(6400),
        wall__height_nm=mm(2700),
        wall__circulation=True,
        fixtures=(thing("cable box", r.FixtureKind.CABLE_BOX, (3000, 900, 400, 300, 15), MM, opened_per_year=3.0),),
        blocks__columns=10,
        blocks__rows=10,
        blocks__module_width_nm=mm(90),
        blocks__module_height_nm=mm(90),
        blocks__leaf_gap_nm=mm(40),
        blocks__leaves=tuple(place(x, 700, MM, name=name) for x, name in ((1810, "a"), (2750, "b"), (3690, "c"))),
        blocks__footprints=(footprint("big", mm(90), mm(90)), footprint("small", mm(45), mm(45))),
        blocks__fills=(
            r.Fill(rows=(("big",),), count=None),
            r.Fill(rows=(("small", "small"), ("small", "small")), count=8),
        ),
        blocks__levels_nm=tuple(mm(v) for v in (20, 26, 32, 38, 44, 50)),
        cleat__packer_nm=mm(9),
        behind=(behind("rib", mm(27)),),
    )


def s4() -> r.Brief:
    box = (23, 50, 10, 12, 1.5)
    return plain(
        piece__unit=r.LengthUnit.IN,
        piece__copies=6,
        wall__width_nm=inch(120),
        wall__height_nm=inch(96),
        fixtures=(
            thing("valve box", r.FixtureKind.VALVES, box, IN, copies=(1, 2, 3, 5, 6)),
            thing("keypad", r.FixtureKind.KEYPAD, box, IN, copies=(4,), opened_per_year=365.0),
        ),
        access__air_nm=inch(0.5),
        blocks__columns=6,
        blocks__rows=24,
        blocks__module_width_nm=inch(3.5),
        blocks__module_height_nm=inch(1.5),
        blocks__leaves=(place(17.5, 38, IN),),
        blocks__footprints=(footprint("block", inch(3.5), inch(1.5)),),
        blocks__fills=(r.Fill(rows=(("block",),), count=None),),
        blocks__levels_nm=tuple(inch(v) for v in (0.5, 0.75, 1, 1.25, 1.5, 1.75)),
        edge__overhang_nm=inch(0.375),
        backer__thickness_nm=inch(0.5),
        cleat__thickness_nm=inch(0.75),
        cleat__packer_nm=0,
        behind=(behind("frame", inch(2)),),
    )


def s7() -> r.Brief:
    board = thing(
        "sub-distribution board",
        r.FixtureKind.ELECTRICAL,
        (1090, 1230, 360, 440, 22),
        MM,
        door=r.Door(width_nm=mm(350), hinge=r.Side.LEFT, plane_nm=mm(22)),
    )
    return plain(
        furniture=(
            item("counter", "counter", (0, 700, 0, 900, 0, 600), MM),
            item("low cabinet", "cabinet", (1480, 800, 0, 800, 0, 400), MM),
            item("table", "table", (900, 1000, 0, 740, 940, 1740), MM),
        ),
        fixtures=(board,),
        access__opens=r.Opens.SWING,
        blocks__columns=14,
        blocks__rows=10,
        blocks__module_width_nm=mm(58),
        blocks__module_height_nm=mm(58),
        blocks__gap_nm=mm(2),
        blocks__leaves=(place(851, 1151, MM),),
        blocks__footprints=(footprint("block", mm(58), mm(58)),),
        blocks__fills=(r.Fill(rows=(("block",),), count=None),),
        blocks__levels_nm=tuple(mm(v) for v in (13, 18, 24, 29, 35, 40)),
        edge__style=r.EdgeStyle.OUTRIGGER,
        edge__overhang_nm=0,
        edge__strip_thickness_nm=mm(5),
        edge__strip_width_nm=mm(70),
        edge__strip_behind_nm=mm(35),
        edge__strip_run_out_nm=mm(35),
        backer__material="osb",
        backer__thickness_nm=mm(11),
        cleat__packer_nm=mm(16),
        behind=(behind("stile", mm(34)),),
    )


def s8() -> r.Brief:
    return plain(
        piece__unit=r.LengthUnit.IN,
        wall__width_nm=inch(132),
        wall__height_nm=inch(92),
        furniture=(item("bed", "bed", (36, 60, 0, 42, 0, 80), IN),),
        fixtures=(thing("cleanout cover", r.FixtureKind.CLEANOUT, (62, 54, 8, 8, 0.75), IN),),
        access__air_nm=inch(0.5),
        blocks__columns=16,
        blocks__rows=9,
        blocks__module_width_nm=inch(2.5),
        blocks__module_height_nm=inch(2.5),
        blocks__leaves=(place(46, 50, IN),),
        blocks__footprints=(footprint("block", inch(2.5), inch(2.5)),),
        blocks__fills=(r.Fill(rows=(("block",),), count=None),),
        blocks__levels_nm=tuple(inch(v) for v in (0.625, 0.875, 1.125, 1.375, 1.625, 1.875, 2.125)),
        edge__style=r.EdgeStyle.BANDED,
        edge__overhang_nm=0,
        edge__lipping_thickness_nm=inch(0.5),
        edge__lipping_depth_nm=inch(0.5),
        edge__lipping_species="yellow_poplar",
        backer__thickness_nm=inch(0.5),
        cleat__thickness_nm=inch(0.75),
        cleat__packer_nm=inch(0.5),
    )


BRIEFS = {"S1": s1, "S2": s2, "S3": s3, "S4": s4, "S7": s7, "S8": s8}
