"""The backer: which colour its ground has, where that shows, and the work on it in its order."""

from __future__ import annotations

from bossage.body import Part, Role
from bossage.brief.records import EdgeStyle, Opens
from bossage.fade.records import GroundColour
from bossage.pack.grounds import GROUNDS, PLACES, shown_grounds
from bossage.pack.sheet import Column, Para, Photo, Sheet, Steps, Table
from bossage.pack.sheet import Part as SheetPart
from bossage.pack.sheets.back_words import margin_words
from bossage.pack.sheets.common import check_cares, checks_of, words_of
from bossage.pack.words import count_of, listed
from bossage.paint.areas import LAP_MM
from bossage.paint.faces import BARE_BEVELS, waxed_bevels
from bossage.plan import Plan
from bossage.press.back_jobs import names_of

PLACES_OF = {0: (), 1: ("middle",), 2: ("left", "right"), 3: PLACES}


def ground_sheet(plan: Plan) -> Sheet:
    """The backer: its colour, its sealer, and the wood that stays free for the glue, in the order of the work."""
    checks = tuple(check for check in checks_of(plan, "paint") if check.name == "glue_on_wood")
    return Sheet(
        name="ground",
        title="Backer: colour and glue field",
        todo="Glue on wood first, seal what is left, colour what shows. "
        + (
            "The whole front is dyed, under the blocks too, and gets no sealer and no paint."
            if plan.paint.ground_way.name == "dye"
            else "Under every block stays bare wood."
        )
        + (
            f" {margin[:1].upper()}{margin[1:]} of the back stays bare: the edge strips come last."
            if (margin := margin_words(plan, words_of(plan)))
            else ""
        ),
        wrong="Paint under a block? Scrape that field down to the wood before the glue is opened."
        + (" The dye is meant to be there." if plan.paint.ground_way.name == "dye" else ""),
        parts=(
            *check_cares(plan, checks),
            Para(
                text=f"{_amounts(plan).rstrip(',')}; {plan.paint.reserve:.0%} of reserve are in it. ".replace("%", " %")
                + f"{_sealer(plan)} {_shows(plan)}",
            ),
            Steps(texts=order_of_backer(plan)),
        ),
    )


def grounds_sheet(plan: Plan) -> Sheet:
    """Every ground that was looked at, side by side, and how far each is from the shadow of a gap."""
    return Sheet(
        name="grounds",
        title="Grounds side by side",
        todo="Choose the colour that shows between the blocks before it is bought.",
        wrong="None of them vanishes? The darkest of the nearest is the safest: it looks like shadow.",
        parts=tuple(_ground(plan)),
    )


def _ground(plan: Plan) -> list[SheetPart]:
    looks = shown_grounds(plan)
    where = {look.name: place for look, place in zip(looks, PLACES_OF[len(looks)], strict=True)}
    rows = tuple(
        (
            g.colour_hex,
            g.name,
            *([where.get(g.name, "")] if looks else []),
            f"{g.lightness:.0f}",
            f"{g.contrast_de:.1f} ± {g.unsure_de:.1f}",
            _said(g, plan.fade.grounds),
        )
        for g in sorted(plan.fade.grounds, key=lambda g: g.contrast_de)
    )
    table = Table(
        columns=(
            Column(kind="patch"),
            Column(head="ground", kind="strong", wide=True),
            *([Column(head="picture")] if looks else []),
            Column(head="lightness", align="right"),
            Column(head="gap from shadow, ΔE", align="right"),
            Column(),
        ),
        rows=rows,
        tight=True,
    )
    words_of_looks = "; ".join(f"{where[g.name]}: {g.name}, gaps {g.contrast_de:.1f} from shadow" for g in looks)
    pictures: list[SheetPart] = (
        [
            Para(lead="Side by side, in one light:", text=f"{words_of_looks}."),
            Photo(name=GROUNDS, description=f"The same blocks in the same light. {words_of_looks}.", highest_mm=46.0),
        ]
        if looks
        else []
    )
    return [
        *pictures,
        table,
        Para(text=_alike(plan)),
        *([Para(text=taken)] if (taken := _taken(plan)) else []),
    ]


def _amounts(plan: Plan) -> str:
    """What gets the ground's colour, as dye and as paint, and how much of each."""
    words, ground = words_of(plan), plan.paint.ground
    coats = count_of(plan.brief.paint.coats, "coat")
    edges = "the edges" + (", those of the openings too" if ground.openings_mm2 > 0 else "")
    edges += " and the wall half's face behind openings" if ground.wall_half_mm2 > 0 else ""
    name = f"{ground.name[:1].upper()}{ground.name[1:]}"
    if ground.dye_ml:
        dyed = listed(["the whole front", *(["the edge strips' fronts"] if ground.strips_mm2 > 0 else [])])
        return (
            f"{name}: {words.volume(ground.dye_ml)} of dye, one coat on {dyed}; {words.volume(ground.colour_ml)} of "
            f"paint, {coats} on {edges}, each"
        )
    where = "the front where it shows" if ground.shows_mm2 > 0 else "the front round the openings"
    parts = [where] if ground.front_mm2 > 0 else []
    parts += [edges, *(["the edge strips along the ring's gaps"] if ground.strips_mm2 > 0 else [])]
    return f"{name}: {words.volume(ground.colour_ml)} of paint; {coats} on {listed(parts)},"


def _shows(plan: Plan) -> str:
    """Where the ground is seen; through an opening it is the wall that is seen."""
    words, ground = words_of(plan), plan.paint.ground
    share = ground.shows_share
    told = f"It shows on {100 * share:.1f} % of the face." if share > 0 else "It shows nowhere on the face."
    if ground.openings_mm2 > 0:
        told += (
            f" Through the openings one sees their edges, {words.area_mm2(ground.openings_mm2)} that are painted, and "
            "the wall behind. Ask whose wall it is: it may stay as it is, or get the ground's colour inside the "
            "outline of each opening; never paint over what hangs there or over its slots."
        )
    return told


def _sealer(plan: Plan) -> str:
    """What seals the backer: the primer, out of the same tin."""
    coats, ml = plan.brief.paint.primer_coats, plan.paint.ground.seal_ml
    if not ml:
        return "No sealer is planned."
    return (
        f"The sealer is the primer, out of the same tin: {words_of(plan).volume(ml)}, {count_of(coats, 'coat')} on "
        f"{count_of(len(plan.layout.leaves), 'backer')}, back and edges, sides of the parts on it and what reaches "
        "past it; so the back stays as white as the primer. The "
        "front gets none of it: blocks and glue close it, and the sealed back keeps step with it, or the backer bows."
    )


def _said(ground: GroundColour, grounds: tuple[GroundColour, ...]) -> str:
    nearest = min(grounds, key=lambda one: one.contrast_de)
    advised = "nearest to shadow: advised" if ground is nearest else "darkest of the nearest: advised"
    words = (
        (advised, ground.advised),
        ("as near, as far as can be told", ground.vanishes and not ground.advised),
        ("taken", ground.chosen),
    )
    return listed([word for word, so in words if so])


def _alike(plan: Plan) -> str:
    alike = [ground.name for ground in plan.fade.grounds if ground.vanishes]
    if len(alike) > 1:
        return (
            f"Cannot be told apart: {listed(alike)}. Which lies nearest to shadow changes with the light on the sides, "
            "so the darkest of them is advised. To see for yourself, get a sample of each, which the list does not "
            "hold; when the blocks are sawn lay a painted card of each under two spares that stand a gap apart."
        )
    return "The ground nearest to shadow hides gaps best, by as much light as we assume on the sides."


def _taken(plan: Plan) -> str:
    """Why another ground is taken than the one advised."""
    chosen = next(ground for ground in plan.fade.grounds if ground.chosen)
    if chosen.advised:
        return ""
    return f"{chosen.name[:1].upper()}{chosen.name[1:]} is taken because the brief names it."


def order_of_backer(plan: Plan) -> tuple[str, ...]:
    """The work on the backer in its order: wood for every glue, then sealer, then the colour where it shows."""
    way, dry = plan.paint.ground_way, f"{plan.brief.paint.dry_h:g} h"
    held = _held(plan)
    behind = (
        f"Before the backer or a block is painted: glue on to bare wood, as the sheet 'Back' says: {held}. Let it "
        "set, hang it bare."
        if held
        else "Before the backer or a block is painted: break the edges, dust off, hang it bare."
    )
    after = _after(plan)
    if way.name == "dye":
        return (
            f"Scrap test, on day 1: saw {_scraps(plan)} off the ends that are trimmed away, and two offcuts off a "
            "stick's. Dye the scraps, let them dry a day, glue the offcuts on, knock them off sideways the day "
            f"after. Wood must tear. {_instead(plan)}",
            behind,
            f"Dye the whole front once with a water dye or a thin stain without binder{_strips(plan, 'dye')}; wipe it, "
            "let it dry a day.",
            _seal(plan, held, dry),
            f"Paint {_edges(plan)} in the ground's colour{_coats(plan)}: {dry} after each.",
            *after,
        )
    if way.name == "all over":
        return (
            behind,
            _seal(plan, held, dry),
            f"Turn it on to its sealed back. Paint front and edges in the ground's colour{_coats(plan)}: {dry} after "
            "each.",
            *after,
            "Before gluing: scrape every glue field down to the wood. Glue on paint holds only as the paint does.",
        )
    return (behind, _seal(plan, held, dry), _lines(plan, dry), *after)


def _instead(plan: Plan) -> str:
    """What is painted where no glue holds on the dye."""
    words, coats = words_of(plan), plan.brief.paint.coats
    lines = next(way for way in plan.paint.ground_ways if way.name == "lines")
    ml = lines.painted_mm2 * coats / plan.brief.paint.colour_m2_per_l / 1e3 * (1 + plan.paint.reserve)
    if not ml:
        return "If a joint comes off clean, leave the front bare: nothing of it shows."
    return (
        "If a joint comes off clean, dye nothing. With the edges paint the front along gaps and in open cells, "
        f"{words.length(round(LAP_MM * 1e6))} under the blocks, {count_of(coats, 'coat')}, {words.volume(ml)} more "
        'of the ground\'s colour; and plan again with paint.ground = "lines".'
    )


def _scraps(plan: Plan) -> str:
    """Boards that something is glued to."""
    return "a scrap of the backer and one of the strips" if plan.paint.ground.strips_mm2 > 0 else "a scrap of the board"


def _strips(plan: Plan, do: str) -> str:
    """The edge strips lie by, cut and not yet glued on; what of their fronts is coloured with the backer."""
    if not plan.paint.ground.strips_mm2:
        return ""
    wide = words_of(plan).length(plan.brief.edge.strip_width_nm - plan.brief.edge.strip_behind_nm)
    if do == "dye":
        ends = words_of(plan).length(plan.brief.edge.strip_run_out_nm)
        owner = plan.brief.edge.strip_corners
        return (
            f". Dye {wide} of each edge strip's front too: the side that goes out past the backer. Dye {ends} at each "
            f"end of the {owner} ones as well, and the strips' own edges"
        )
    return f" Paint the edge strips' fronts {wide} wide, along the ring's gaps alone, and the strips' own edges."


def _seal(plan: Plan, held: str, dry: str) -> str:
    """Back and edges under the primer, and where the backer lies meanwhile."""
    margin = margin_words(plan, words_of(plan))
    masked = f"Mask {margin} of the back: the edge strips are glued there, last, with the ring. " if margin else ""
    with_parts = f", {held} with it" if held else ""
    with_parts += ", and the backs of the edge strips" if plan.paint.ground.ring_backs_mm2 > 0 else ""
    coats = plan.brief.paint.primer_coats
    told = (
        f"{masked}Lay it front down on two battens set in from the rim, on trestles of its own beside the drying room. "
        f"Seal what is left of the back{with_parts}. Then seal {_edges(plan)}. All get {count_of(coats, 'coat')} of "
        f"primer, {dry} after each. Nothing is glued on the sealer.{_stays_bare(plan)}"
    )
    if margin:
        told += " Take the tape off while the sealer is still soft."
    return told if coats else f"{masked}No sealer is planned: the back stays bare."


def _stays_bare(plan: Plan) -> str:
    """What the sealer leaves out, of a leaf on a wooden cleat; the wall half goes up as it was sawn."""
    if plan.brief.access.opens is Opens.SWING:
        dyed = plan.paint.ground_way.name == "dye"
        front = "is dyed with the backer's front, as it shows between the ring's blocks" if dyed else "stays bare"
        ring = (
            f" The hinge stile's front, where the ring is glued, {front}." if margin_words(plan, words_of(plan)) else ""
        )
        return f" Post and catch are off: the parts are sealed where they meet the wall and the post too.{ring}"
    if not waxed_bevels(plan.brief):
        return ""
    seen = (
        ". Its face gets the ground's colour where openings look on to it, as the hang sheet says; its bevel none"
        if plan.paint.ground.wall_half_mm2 > 0
        else ""
    )
    return f" {BARE_BEVELS} The wall half needs no sealer{seen}."


def _lines(plan: Plan, dry: str) -> str:
    """The ground's colour where it shows, or on the edges alone."""
    words, way = words_of(plan), plan.paint.ground_way
    turn = f"Turn it on to its sealed back, on the same battens.{_strips(plan, 'paint')}"
    if way.painted_mm2 <= 0:
        return (
            f"{turn} The front stays bare: nothing of it shows. Paint {_edges(plan)} in the ground's colour"
            f"{_coats(plan)}: {dry} after each."
        )
    lap = words.length(round(LAP_MM * 1e6))
    shows = plan.paint.ground.shows_mm2 > 0
    along = "along gaps and in open cells" if shows else "round the openings"
    return (
        f"{turn} Pencil the blocks' outlines from the map. Paint {_edges(plan)}, and the front {along}, {lap} under "
        f"the blocks and no further: {words.area_mm2(way.painted_mm2)}{_coats(plan)}, {dry} after each. "
        f"{words.area_mm2(way.bare_field_mm2)} stay bare wood for the glue."
    )


def _after(plan: Plan) -> tuple[str, ...]:
    """Backs of blocks that reach past the backer are end grain too."""
    over = plan.brief.edge.overhang_nm
    if plan.brief.edge.style is not EdgeStyle.INSET or not over or not plan.brief.paint.primer_coats:
        return ()
    return (
        "When the field is laid and its glue has cured, lay the piece on its back on two battens, one edge out "
        "past the "
        "bench. Brush primer from below on the backs of the outer blocks, where they reach "
        f"{words_of(plan).length(over)} past the backer; they are bare end grain. Tape their outer sides, or keep off "
        "the "
        "arris: a white line there is seen from the side. Then the next edge.",
    )


def _edges(plan: Plan) -> str:
    return (
        "the backer's edges and those of the openings" if plan.paint.ground.openings_mm2 > 0 else "the backer's edges"
    )


def _coats(plan: Plan) -> str:
    coats = plan.brief.paint.coats
    return "" if coats == 1 else f", {coats} coats"


def _held(plan: Plan) -> str:
    """Names of what is glued on the back before it is sealed."""
    of = {(part.leaf, part.name): part for part in reversed(plan.body.parts)}
    held: list[Part] = [of[s.leaf, name] for s in plan.body.steps if s.kind == "hold" for name in s.parts]
    return names_of(part for part in held if part.role is not Role.BACKER)
