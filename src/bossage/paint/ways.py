"""The ways to paint the blocks, side by side: areas, paint, hours, drying room, what touches when wet."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from bossage.brief.records import Brief, Footprint
from bossage.fade.records import Fade
from bossage.layout.records import Layout
from bossage.paint.areas import BlockAreas, FloatArray, bare_mm2
from bossage.paint.coats import CoatRun, face_primer_coats
from bossage.paint.drying import APART_MM, PARKED_MM, room_mm2, spare_sizes_mm, strips_length_mm
from bossage.paint.way_records import PaintWay
from bossage.relief.records import Relief
from bossage.units import format_volume

# Minutes and rates: first guesses, ours, to be replaced by a log of twenty blocks.
HANDLE_MIN = 0.1  # take up a block, put it by
SCREW_IN_MIN, SCREW_OUT_MIN = 0.12, 0.08  # a thin screw into the back as a handle, and out again before the glue
FOOT_MM = 8.0  # of bare side that two fingers can hold a block by
LINE_MIN = 0.25  # find a block on the map, read off its lowest neighbour, pencil the line round it
BRUSH_MM2_PER_MIN = 30_000.0  # small faces, cut in by brush
ROLL_MM2_PER_MIN = 200_000.0
SPRAY_MM2_PER_MIN = 300_000.0
DIP_MIN = 0.5  # pin, dip, drain, wipe the run, hang
SET_OUT_MIN = 0.05  # lay a block against others, draw it away again
GANG_MIN = 1.0  # square up blocks of one shade and height, and take them apart before the coat skins
STICK_MIN = 1.5  # coat two sides of a stick, turn it after drying
WORTH = 1.05  # what saves less than a twentieth of the hours is not worth more risks
DENIB_MIN = 0.08  # a stroke of fine paper over a primed face
POT_MIN = {"brush": 3.0, "roll": 5.0, "spray": 8.0, "dip": 8.0}  # open and stir a shade, wash up after it
KEEPS = {"brush": 1.0, "roll": 1.05, "spray": 1.6, "dip": 1.25}  # paint used over paint on the wood
TUB_MM = 10.0  # of paint round and under a block that is dipped
STICK_LENGTH_MM = 2400.0  # a usual stick, for handling alone
LEAD_WORDS = (
    "Drill a lead hole of 2 mm (5/64 in), 12 mm (1/2 in) deep, first: end grain of hardwood takes no screw without."
)
HANDLE_WORDS = (
    "A thin screw, turned a few turns into the middle of the back, is its handle. The block hangs by that between the "
    "strips. The screw comes out before blocks are laid dry."
)


@dataclass(frozen=True, slots=True, kw_only=True)
class _Job:
    """What all ways have in common."""

    brief: Brief
    layout: Layout
    areas: BlockAreas
    blocks_n: int
    shades_n: int
    gangs_n: int  # blocks of one shade, footprint and level
    turns_n: int  # footprints and levels: gangs for the sides
    sticks_mm: float  # length of stick that the blocks come out of, kerfs and spares with it
    sticks_mm2: float  # its four long sides
    spares_mm: tuple[FloatArray, FloatArray]  # widths and heights of slices that are coated with the blocks
    spare: FloatArray  # by block, with its share of the spares: these are primed with the rest
    primed: NDArray[np.bool_]  # by block
    coats_n: NDArray[np.int64]  # of colour or clear finish, by block
    runs: tuple[CoatRun, ...]
    drunk_mm2: FloatArray  # by block, beyond its face: a clear finish in end grain

    @property
    def spares_n(self) -> int:
        """Spares that are coated with the blocks."""
        return int(self.spares_mm[0].size)

    @property
    def dried_mm(self) -> tuple[FloatArray, FloatArray]:
        """Widths and heights of all that dries: blocks and spares."""
        areas, (wide, high) = self.areas, self.spares_mm
        return np.concatenate([areas.width_mm, wide]), np.concatenate([areas.height_mm, high])

    @property
    def primed_share(self) -> float:
        """Of the faces."""
        return float(self.areas.face_mm2[self.primed].sum() / self.areas.face_mm2.sum())

    @property
    def coats(self) -> tuple[int, int]:
        """Primer, topcoat."""
        paint = self.brief.paint
        topcoats = paint.topcoat_coats if paint.topcoat else 0
        return paint.primer_coats if self.primed.any() else 0, topcoats


def compare_ways(
    brief: Brief,
    layout: Layout,
    relief: Relief,
    fade: Fade,
    areas: BlockAreas,
    primed: NDArray[np.bool_],
    coats_n: NDArray[np.int64],
    runs: tuple[CoatRun, ...],
    *,
    drunk_mm2: FloatArray,
) -> tuple[PaintWay, ...]:
    """All ways for the whole job: the advised one is marked, and the one that amounts and papers are for.

    Advised is the least by `rank_h` among those for which the shop has what it takes; the plainer one, in the order
    given, where the least saves less than a twentieth. Taken is what the brief names,
    else a brush where the brief counts a share of the sides by itself, else the advised one.

    `primed` tells which blocks get a primer: none under a clear finish. `coats_n` are each block's coats of colour or
    of its clear finish. `drunk_mm2` is what end grain takes of such a finish, by block, as area beyond its face.

    Source:
        Rates and minutes: this module's constants, first guesses. Coverage, coats and reserve: the brief.
    """
    job = _job(brief, layout, relief, fade, areas, primed, coats_n, runs, drunk_mm2)
    ways = (_brush(job), _to_line(job), _roll(job), _sticks(job), _spray(job), _dip(job))
    able = [way for way in ways if way.has_means]
    least = min(way.rank_h for way in able)
    best = next(way for way in able if way.rank_h <= WORTH * least)
    wanted = brief.paint.way or (best.name if brief.paint.side_share is None else "brush")
    return tuple(replace(way, advised=way.name == best.name, chosen=way.name == wanted) for way in ways)


def _job(
    brief: Brief,
    layout: Layout,
    relief: Relief,
    fade: Fade,
    areas: BlockAreas,
    primed: NDArray[np.bool_],
    coats_n: NDArray[np.int64],
    runs: tuple[CoatRun, ...],
    drunk_mm2: FloatArray,
) -> _Job:
    blocks = layout.blocks
    gangs = np.unique(np.stack([fade.shade, blocks.footprint, relief.level]), axis=1).shape[1]
    turns = np.unique(np.stack([blocks.footprint, relief.level]), axis=1).shape[1]
    spare = np.array([1 + _spares_pct(brief, one) / 100 for one in brief.blocks.footprints])[blocks.footprint]
    length_mm = (relief.length_nm + brief.tools.kerf_nm) / 1e6 * spare
    return _Job(
        brief=brief,
        layout=layout,
        areas=areas,
        blocks_n=blocks.count,
        shades_n=int(np.unique(fade.shade).size),
        gangs_n=int(gangs),
        turns_n=int(turns),
        sticks_mm=float(length_mm.sum()),
        spares_mm=spare_sizes_mm(brief, fade),
        spare=spare,
        sticks_mm2=float((2 * (areas.width_mm + areas.height_mm) * length_mm).sum()),
        primed=primed,
        coats_n=coats_n,
        runs=runs,
        drunk_mm2=drunk_mm2,
    )


def _spares_pct(brief: Brief, footprint: Footprint) -> float:
    return next((stick.spares_pct for stick in brief.sticks if stick.name == footprint.section), 0.0)


def _brush(job: _Job) -> PaintWay:
    each = job.areas.face_mm2 + job.areas.sides_mm2
    area = float(each.sum())
    return _of(
        job,
        "brush",
        "Brush, block by block, the whole of each side",
        tool="brush",
        shade_mm2=each,
        depth=job.areas.sawn_mm,
        per_coat=job.blocks_n * HANDLE_MIN + area / BRUSH_MM2_PER_MIN,
        touch=f"Only the bare back, on two strips of wood. {HANDLE_WORDS}",
        why="Nothing to set up and nothing shows bare from any side; the most paint and the most strokes.",
        risks=("Paint creeps round the back edge: wipe it off while it is wet, glue needs that wood.",),
        handles=job.blocks_n + job.spares_n,
    )


def _to_line(job: _Job) -> PaintWay:
    each = job.areas.face_mm2 + job.areas.to_line_mm2
    area = float(each.sum())
    made = _of(
        job,
        "brush to line",
        "Brush the face, and the sides down to just below the lowest neighbour",
        tool="brush",
        shade_mm2=each,
        depth=job.areas.line_mm,
        per_coat=job.blocks_n * HANDLE_MIN + area / BRUSH_MM2_PER_MIN,
        touch="The bare foot of the sides and the back; hold the block there. A block that is painted whole has no "
        f"foot. {HANDLE_WORDS}",
        why="All that shows is painted, and no more; each block has its own line, off the card of its row.",
        risks=("A block that changes its place may show bare wood.", "Blocks at the outline are painted whole."),
        handles=int((job.areas.sawn_mm - job.areas.line_mm < FOOT_MM).sum()) + job.spares_n,
    )
    return replace(made, minutes=made.minutes | {"mark the lines": job.blocks_n * LINE_MIN})


def _roll(job: _Job) -> PaintWay:
    faces, sides = float(job.areas.face_mm2.sum()), float(job.areas.sides_mm2.sum())
    return _of(
        job,
        "roll",
        "Roll faces ganged by shade and height, the sides in the ground's colour",
        tool="roll",
        shade_mm2=job.areas.face_mm2,
        ground_mm2=sides,
        depth=job.areas.sawn_mm,
        per_coat=job.gangs_n * GANG_MIN + job.blocks_n * SET_OUT_MIN + faces / ROLL_MM2_PER_MIN,
        sides=4 * (job.turns_n * GANG_MIN / 2 + job.blocks_n * SET_OUT_MIN / 2) + sides / ROLL_MM2_PER_MIN,
        touch="Sides lie against sides while faces are wet: draw the blocks apart before the coat skins.",
        why="Quick where many blocks share a shade and a height; sides read as shadow, not as the block's own shade.",
        risks=("Blocks of unequal height take no even coat: gang by height.", "Paint bridges the seams: cut it dry."),
    )


def _sticks(job: _Job) -> PaintWay:
    faces = float(job.areas.face_mm2.sum())
    sticks = math.ceil(job.sticks_mm / STICK_LENGTH_MM)
    made = _of(
        job,
        "sticks first",
        "Coat the long sides of the sticks before sawing, roll the faces after",
        tool="roll",
        shade_mm2=job.areas.face_mm2,
        ground_mm2=job.sticks_mm2,
        depth=job.areas.sawn_mm,
        per_coat=job.gangs_n * GANG_MIN + job.blocks_n * SET_OUT_MIN + faces / ROLL_MM2_PER_MIN,
        sides=2 * sticks * STICK_MIN + job.sticks_mm2 / ROLL_MM2_PER_MIN,
        touch="Two sides of a stick lie on strips: coat two, let them dry, turn it, coat the others.",
        why="The sides of all blocks in a few strokes, kerfs and spares with them; faces and backs are fresh wood.",
        risks=(
            "Breaking the front edges goes through the coat: touch the edges up with the shade.",
            "Sawdust of paint: extract at the saw, and measure sticks for the stop after painting.",
        ),
    )
    touch_up = made.minutes | {"touch up the edges": job.blocks_n * HANDLE_MIN}
    return replace(
        made, minutes=touch_up, wait_h=made.wait_h + job.brief.paint.dry_h * (job.coats[0] + job.brief.paint.coats)
    )


def _spray(job: _Job) -> PaintWay:
    each = job.areas.face_mm2 + job.areas.sides_mm2
    area = float(each.sum())
    return _of(
        job,
        "spray",
        "Spray faces and sides, set out on a grid by shade",
        tool="spray",
        shade_mm2=each,
        depth=job.areas.sawn_mm,
        per_coat=job.blocks_n * SET_OUT_MIN + area / SPRAY_MM2_PER_MIN,
        touch="Only the back, on a grid; mask nothing, but keep the backs down so that they stay bare.",
        why="Even coats on every side; wants a place, a mask and air, and blows a third of the paint away.",
        risks=(
            "Mist is breathed in and burns: a mask rated for it, air across the room, no flame; the label governs.",
        ),
        missing=() if job.brief.paint.sprayer else ("a sprayer and a place for it (`paint.sprayer`)",),
    )


def _dip(job: _Job) -> PaintWay:
    areas = job.areas
    tub_ml = (areas.width_mm + 2 * TUB_MM) * (areas.height_mm + 2 * TUB_MM) * (areas.sawn_mm + TUB_MM) / 1e3
    tub_ml = tub_ml - areas.face_mm2 * areas.sawn_mm / 1e3
    deepest = float(tub_ml.max())
    made = _of(
        job,
        "dip",
        "Dip face down to just short of the back, and hang to drain",
        tool="dip",
        shade_mm2=areas.face_mm2 + areas.sides_mm2,
        depth=areas.sawn_mm,
        per_coat=job.blocks_n * DIP_MIN,
        touch="Nothing: each hangs from a pin in its back, which leaves a hole for the glue to find.",
        why="The quickest coat of a block; the tub must hold far more than goes on.",
        risks=("Runs gather at the lower edge: wipe once.", "End grain drinks: the first dips thicken the tub."),
    )
    each = made.shade_ml / job.shades_n
    short = deepest - each
    missing = (
        ()
        if short <= 0
        else (f"{format_volume(short, job.brief.piece.unit)} more of every shade, to fill a tub for the largest block",)
    )
    return replace(made, missing=missing)


def _of(
    job: _Job,
    name: str,
    title: str,
    *,
    tool: str,
    shade_mm2: FloatArray,
    depth: FloatArray,
    per_coat: float,
    touch: str,
    why: str,
    risks: tuple[str, ...],
    ground_mm2: float = 0.0,
    sides: float = 0.0,
    missing: tuple[str, ...] = (),
    handles: int = 0,
) -> PaintWay:
    """A way from its areas (`shade_mm2` by block) and the minutes of one coat: `per_coat` in the shade, `sides` in the
    ground's colour."""
    paint = job.brief.paint
    primer, topcoat = job.coats
    again = face_primer_coats(job.brief) - primer if primer else 0
    keeps = KEEPS[tool]
    minutes = {
        "handles": handles * SCREW_IN_MIN,
        "handles out": handles * SCREW_OUT_MIN,
        "prime": primer * ((per_coat + sides) * job.primed_share + POT_MIN[tool]) if primer else 0.0,
        "prime the faces again": again * _faces_again_min(job),
        "denib": job.blocks_n * DENIB_MIN * job.primed_share if primer else 0.0,
        "colour": float(job.coats_n.mean()) * (per_coat + job.shades_n * POT_MIN[tool]),
        "sides in the ground's colour": paint.coats * (sides + POT_MIN[tool]) if ground_mm2 else 0.0,
        "topcoat": topcoat * (per_coat + POT_MIN[tool]) if topcoat else 0.0,
    }
    in_ground = paint.coats if ground_mm2 and name == "roll" else 0
    rack_mm2 = room_mm2(*job.dried_mm, APART_MM)
    batches = max(1, math.ceil(rack_mm2 / (paint.rack_m2 * 1e6) - 1e-9))
    per_litre = 1e3 / 1e6 * keeps
    under_primer = float((shade_mm2 * job.spare)[job.primed].sum()) + ground_mm2
    area, coated_mm2 = float(shade_mm2.sum()), float(((shade_mm2 + job.drunk_mm2) * job.coats_n).sum())
    return PaintWay(
        name=name,
        title=title,
        shade_mm2=area,
        ground_mm2=ground_mm2,
        bare_mm2=float(bare_mm2(job.layout, job.areas, depth).sum()),
        primer_ml=(under_primer * primer * keeps + again * float((job.areas.face_mm2 * job.spare)[job.primed].sum()))
        / paint.primer_m2_per_l
        * 1e-3
        * (1 + paint.primer_reserve),
        shade_ml=coated_mm2 / paint.colour_m2_per_l * per_litre * (1 + paint.reserve),
        ground_ml=ground_mm2 * paint.coats / paint.colour_m2_per_l * per_litre * (1 + paint.reserve),
        topcoat_ml=(area + float(job.drunk_mm2.sum()))
        * topcoat
        / paint.topcoat_m2_per_l
        * per_litre
        * (1 + paint.reserve),
        minutes={step: value for step, value in minutes.items() if value > 0},
        goes=len(job.runs) + in_ground,
        rack_mm2=rack_mm2,
        batches=batches,
        strips_mm=strips_length_mm(job.dried_mm[0]),
        parked_mm2=room_mm2(*job.dried_mm, PARKED_MM),
        wait_h=batches * (sum(run.dry_h for run in job.runs) + in_ground * paint.dry_h),
        touch=touch,
        risks=risks,
        missing=missing,
        why=why,
        hands=max(1, min(job.brief.tools.people, paint.brushes)),
        handles=handles,
    )


def _faces_again_min(job: _Job) -> float:
    """One more coat of primer on the faces alone, by brush in every way: end grain drinks the first."""
    faces_mm2 = float(job.areas.face_mm2[job.primed].sum())
    return float(job.primed.sum()) * HANDLE_MIN + faces_mm2 / BRUSH_MM2_PER_MIN + POT_MIN["brush"]
