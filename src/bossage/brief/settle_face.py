"""From tables to records: the blocks together, the edge, the families and their fade."""

from __future__ import annotations

from typing import Any

from bossage.brief.face import Blocks, Edge, FadeBrief, Family, Fill, Footprint, Home, LeafBrief, Pin, TestCard, Tinter
from bossage.brief.kinds import nearest
from bossage.brief.notes import Notes
from bossage.brief.sections import Tables
from bossage.brief.settle_grid import check_span, per_level, settle_module
from bossage.brief.settle_scales import base_of, settle_lightness
from bossage.brief.terms import STRIP_NM, EdgeStyle, FadeShape, HomeKind
from bossage.units import NM_PER_MM, format_length

_OF_STYLE = {
    EdgeStyle.INSET: ("overhang",),
    EdgeStyle.OUTRIGGER: ("strip_thickness", "strip_width", "strip_behind", "run_out", "strip_material", "corners"),
    EdgeStyle.BANDED: ("lipping_thickness", "lipping_depth", "lipping_species"),
}
_PLACES = {
    "left": (HomeKind.EDGE, 0.0, 0.5), "right": (HomeKind.EDGE, 1.0, 0.5), "top": (HomeKind.EDGE, 0.5, 1.0),
    "bottom": (HomeKind.EDGE, 0.5, 0.0), "upper left": (HomeKind.CORNER, 0.0, 1.0),
    "upper right": (HomeKind.CORNER, 1.0, 1.0), "lower left": (HomeKind.CORNER, 0.0, 0.0),
    "lower right": (HomeKind.CORNER, 1.0, 0.0), "middle": (HomeKind.MIDDLE, 0.5, 0.5),
    "rim": (HomeKind.RIM, 0.5, 0.5), "between": (HomeKind.BETWEEN, 0.5, 0.5),
}  # fmt: skip


def settle_ring_quotas(tables: Tables, levels: tuple[int, ...], style: EdgeStyle) -> tuple[int, ...] | None:
    """The ring's quotas by level; only an outrigger edge has a ring."""
    blocks = tables.one("blocks")
    if blocks.ring_quotas is None:
        return None
    if style is not EdgeStyle.OUTRIGGER and tables.sound("edge.style"):
        found, allowed = f"a ring beside an {style.value} edge", 'edge.style = "outrigger"'
        tables.fault("blocks.ring_quotas", found, allowed, "Change the style, or take the ring's quotas out.")
        return None
    if not tables.sound("blocks.levels", "blocks.ring_quotas"):
        return None
    quotas: tuple[int, ...] | None = per_level(
        tables, "blocks.ring_quotas", blocks.ring_quotas, levels, tuple(range(len(levels)))
    )
    return quotas


def settle_blocks(
    tables: Tables,
    notes: Notes,
    *,
    footprints: tuple[Footprint, ...],
    fills: tuple[Fill, ...],
    levels: tuple[int, ...],
    leaves: tuple[LeafBrief, ...],
    pins: tuple[Pin, ...],
    ring_quotas: tuple[int, ...] | None,
    style: EdgeStyle,
    moistures: tuple[float, float, float, float],
) -> Blocks:
    """The field of blocks."""
    table = tables.one("blocks")
    several = len(leaves) > 1
    notes.table("blocks", table, leave=() if several else ("leaf_gap",))
    if style is EdgeStyle.OUTRIGGER and tables.sound("edge.style"):
        for key, count in (("columns", table.columns), ("rows", table.rows)):
            if count is not None and count < 3:
                remedy = "Add some, or choose another edge."
                tables.fault(f"blocks.{key}", f"{count}", "at least 3 where a ring goes round a field", remedy)
    edge_levels = _edge_levels(tables, levels)
    _check_mass(tables, footprints)
    module = settle_module(tables, footprints, fills)
    check_span(tables, module)
    return Blocks(
        columns=table.columns,
        rows=table.rows,
        module_width_nm=module[0],
        module_height_nm=module[1],
        gap_nm=table.gap,
        fire_class=table.fire_class,
        footprints=footprints,
        fills=fills,
        levels_nm=levels,
        min_step=table.min_step,
        diagonal=table.corners_count,
        species=table.species,
        moisture_sawn_pct=moistures[0],
        moisture_laid_pct=moistures[1],
        moisture_use_low_pct=moistures[2],
        moisture_use_high_pct=moistures[3],
        leaves=leaves,
        leaf_gap_nm=table.leaf_gap,
        cover_margin_nm=table.cover_margin,
        pins=pins,
        ring_quotas=ring_quotas,
        edge_levels=edge_levels,
        mass_target_g=table.mass,
        through_joints=table.through_joints,
    )


def _edge_levels(tables: Tables, levels: tuple[int, ...]) -> tuple[int, ...] | None:
    """Indices of the levels that the outline may take, each one of the piece's levels."""
    asked = tables.one("blocks").edge_levels
    if asked is None or not tables.sound("blocks.levels", "blocks.edge_levels"):
        return None
    for number, level in enumerate(asked, 1):
        if level not in levels:
            known = ", ".join(format_length(one, tables.unit) for one in levels)
            remedy = "Add it to blocks.levels, or take it out here."
            found = format_length(level, tables.unit)
            tables.fault(f"blocks.edge_levels[{number}]", found, f"one of the levels {known}", remedy)
    return tuple(index for index, level in enumerate(levels) if level in asked)


def _check_mass(tables: Tables, footprints: tuple[Footprint, ...]) -> None:
    """A target needs something that can give way."""
    mass = tables.one("blocks").mass
    if mass is None or not tables.sound("blocks.mass", "footprint"):
        return
    if mass <= 0:
        tables.fault("blocks.mass", "0", "a mass above 0", "Write what the blocks are to weigh, or take it out.")
    elif footprints and all(footprint.quotas is not None for footprint in footprints):
        found = "a mass beside exact quotas for every footprint"
        remedy = "Take the quotas of a footprint out, or write weights in their place."
        tables.fault("blocks.mass", found, "at least one footprint whose counts may give way", remedy)


def settle_edge(tables: Tables, notes: Notes, footprints: tuple[Footprint, ...]) -> Edge:
    """The edge; keys of another style are faults, fields of the other styles are 0."""
    table = tables.one("edge")
    style: EdgeStyle = table.style
    notes.table("edge", table, leave=() if style is EdgeStyle.OUTRIGGER else ("bond_share",))
    for other, keys in _OF_STYLE.items():
        for key in keys:
            if other is not style and getattr(table, key) is not None and tables.sound("edge.style"):
                allowed = f'{", ".join(_OF_STYLE[style])} beside style = "{style.value}"'
                remedy = f'Take it out, or write style = "{other.value}".'
                tables.fault(f"edge.{key}", f"a key of an {other.value} edge", allowed, remedy)
    take = _Take(table, notes)
    least = min((side for one in footprints for side in (one.width_nm, one.height_nm)), default=0)
    inset, outrigger, banded = (style is one for one in EdgeStyle)
    overhang = 0
    if inset:
        usual = min(10 * NM_PER_MM, least // 4)
        overhang = take.length("overhang", usual, "10 mm, or a quarter of the smallest block (common practice)")
        if overhang >= least > 0 and tables.sound("edge.overhang", "footprint[*].width", "footprint[*].height"):
            allowed = f"less than half of the smallest block's {format_length(least, tables.unit)}"
            remedy = "Lower it: nothing would be left to glue."
            tables.fault("edge.overhang", format_length(overhang, tables.unit), allowed, remedy)
    width = behind = run_out = thick = 0
    material = corners = lipping_species = ""
    lipping_thickness = lipping_depth = 0
    if outrigger:
        width = take.length("strip_width", 70 * NM_PER_MM, "half to lap, half to carry (our assumption)")
        behind = take.length("strip_behind", width // 2, "half of the strip's width")
        if behind >= width and tables.sound("edge.strip_behind", "edge.strip_width"):
            allowed = f"less than the width, {format_length(width, tables.unit)}"
            remedy = "Leave some of the strip to carry the ring."
            tables.fault("edge.strip_behind", format_length(behind, tables.unit), allowed, remedy)
        run_out = take.length("run_out", width - behind, "as far as the strips reach past the backer")
        thick = take.length("strip_thickness", STRIP_NM, "thin plywood (our assumption)")
        material = take.word("strip_material", "plywood_birch", "stiff for its thickness")
        corners = take.word("corners", "horizontal", "the upper strip then carries both upper corners")
    if banded:
        lipping_thickness = take.length("lipping_thickness", 12 * NM_PER_MM, "our assumption")
        lipping_depth = take.length("lipping_depth", tables.one("backer").thickness, "as deep as the backer")
        lipping_species = take.word("lipping_species", tables.one("blocks").species, "the wood of the blocks")
    return Edge(
        style=style,
        overhang_nm=overhang,
        strip_thickness_nm=thick,
        strip_width_nm=width,
        strip_behind_nm=behind,
        strip_run_out_nm=run_out,
        strip_material=material,
        strip_corners=corners,
        bond_share_min=table.bond_share,
        lipping_thickness_nm=lipping_thickness,
        lipping_depth_nm=lipping_depth,
        lipping_species=lipping_species,
    )


def settle_families(tables: Tables, notes: Notes) -> tuple[Family, ...]:
    """The families, each with a hue or a base and tinters, and a home."""
    entries = tables.all("family")
    shape = tables.one("fade").shape
    scales = settle_lightness(tables)
    seen: dict[str, str] = {}
    out = []
    for number, (path, table) in enumerate(entries, 1):
        if table is None:
            continue
        if table.name.casefold() in seen:
            found = f'"{table.name}", as in {seen[table.name.casefold()]}'
            tables.fault(f"{path}.name", found, "a name that stands once", "Give each family a name of its own.")
        seen.setdefault(table.name.casefold(), path)
        _check_paint(tables, path, table)
        lightness = scales[path]
        fitting = table.quotas is None or len(table.quotas) == len(lightness)
        if not fitting and tables.sound(f"{path}.quotas", f"{path}.lightness"):
            allowed = f"{len(lightness)}, one for each shade"
            tables.fault(f"{path}.quotas", f"{len(table.quotas)} numbers", allowed, "Write one for each lightness.")
        out.append(
            Family(
                name=table.name,
                lightness=lightness,
                home=_home(tables, notes, path, table.home, number, len(entries), shape),
                colour_hex=table.colour,
                base=base_of(tables, table),
                base_g_per_ml=table.base_g_per_ml,
                tinters=tuple(
                    Tinter(
                        name=tinter.name,
                        colour=tinter.colour,
                        uncertainty_de=tinter.uncertainty,
                        g_per_ml=tinter.g_per_ml,
                    )
                    for tinter in table.tinters
                ),
                cards=tuple(
                    TestCard(
                        tinter=card.tinter,
                        fraction=card.fraction,
                        colour=card.colour,
                        uncertainty_de=card.uncertainty,
                    )
                    for card in table.cards
                ),
                finish=table.finish,
                end_grain=table.end_grain,
                hex_measured=table.measured,
                mixed=_mixed(tables, path, table, len(lightness)),
                quotas=table.quotas,
            )
        )
    return tuple(out)


def check_shade_quotas(tables: Tables, families: tuple[Family, ...], total: int | None) -> None:
    """Quotas of shades: for all families or none, and as many as there are blocks."""
    with_quotas = [path for path, table in tables.many("family") if table.quotas is not None]
    if not with_quotas or not tables.sound("family[*].quotas", "family[*].lightness"):
        return
    for path, table in tables.many("family"):
        if table.quotas is None:
            tables.fault(f"{path}.quotas", "nothing", f"quotas as in {with_quotas[0]}", "Give all families quotas.")
    given = sum(sum(family.quotas or ()) for family in families)
    if len(with_quotas) == len(families) and total is not None and given != total:
        remedy = f"Ask for {abs(total - given)} {'more' if given < total else 'fewer'}."
        tables.fault(with_quotas[-1] + ".quotas", f"shade quotas that sum to {given}", f"{total}, all blocks", remedy)


def settle_fade(tables: Tables, notes: Notes, families: tuple[Family, ...], pins: tuple[Pin, ...]) -> FadeBrief:
    """The fade."""
    table = tables.one("fade")
    notes.table("fade", table, leave=("meet_lightness", "meet_colour") if len(families) < 2 else ())
    if table.shades_each is not None and tables.sound("family[*].lightness", "family[*].quotas", "pin[*].shade"):
        _check_shades_each(tables, table.shades_each, families, pins)
    return FadeBrief(
        shape=table.shape,
        grain=table.grain,
        neighbours_differ=table.neighbours_differ,
        neighbours_dl=table.neighbours_lightness,
        meet_dl=table.meet_lightness,
        meet_de=table.meet_colour,
        shades_each=table.shades_each,
    )


def _check_shades_each(tables: Tables, each: int, families: tuple[Family, ...], pins: tuple[Pin, ...]) -> None:
    """A piece may take no more shades than there are, no fewer than are pinned, and none by quota."""
    shades = sum(len(family.lightness) for family in families)
    pinned = len({pin.shade for pin in pins if pin.shade is not None})
    if each > shades:
        remedy = "Take it out to let every piece have all of them, or add shades to a family."
        tables.fault("fade.shades_each", str(each), f"at most the {shades} shades of all families", remedy)
    elif each < pinned:
        remedy = f"Raise it to {pinned}, or take the shade out of a pin."
        tables.fault("fade.shades_each", str(each), f"at least the {pinned} shades that pins name", remedy)
    if any(family.quotas is not None for family in families):
        remedy = "Take the quotas out: a piece shares its blocks out evenly over its own shades."
        tables.fault("fade.shades_each", "quotas beside it", "shades_each or quotas", remedy)


class _Take:
    """Fields of the edge: as given, or a usual value with a note."""

    def __init__(self, table: Any, notes: Notes) -> None:
        self.table, self.notes = table, notes

    def length(self, key: str, usual: int, reason: str) -> int:
        value: int | None = getattr(self.table, key)
        return value if value is not None else self.notes.length(f"edge.{key}", usual, reason)

    def word(self, key: str, usual: str, reason: str) -> str:
        value: str | None = getattr(self.table, key)
        if value is None:
            self.notes.add(f"edge.{key}", usual, reason)
        return value or usual


def _check_paint(tables: Tables, path: str, table: Any) -> None:
    if not tables.sound(f"{path}.colour", f"{path}.base", f"{path}.tinters"):
        return
    if table.finish != "paint":
        _check_clear(tables, path, table)
        return
    if table.end_grain is not None:
        remedy = 'Take it out, or say finish = "stain".'
        tables.fault(f"{path}.end_grain", f"{table.end_grain:g} with paint", "a clear finish", remedy)
    allowed = "colour, or base and at least one of tinters"
    if not table.base and not table.tinters and not table.colour:
        tables.fault(path, "neither a colour nor a base with tinters", allowed, 'Add colour = "#…" of its hue.')
    elif bool(table.base) != bool(table.tinters):
        have, lack = ("base", "tinters") if table.base else ("tinters", "base")
        tables.fault(f"{path}.{lack}", f"{have} alone", allowed, f"Add {lack}, or take {have} out and give a colour.")
    names = {tinter.name.casefold(): tinter.name for tinter in table.tinters}
    for number, card in enumerate(table.cards, 1):
        if card.tinter.casefold() not in names and tables.sound(f"{path}.cards"):
            near = nearest(card.tinter.casefold(), names)
            advice = f'Did you mean "{names[near]}"?' if near else "Add the tinter, or take the card out."
            known = f"a tinter of this family: {', '.join(names.values()) or 'none yet'}"
            tables.fault(f"{path}.cards[{number}].tinter", f'"{card.tinter}"', known, advice)


def _check_clear(tables: Tables, path: str, table: Any) -> None:
    """A clear finish takes one tinter and no pots that are mixed already."""
    if len(table.tinters) != 1:
        allowed = f"one tinter: the {table.finish}, by its colour after one coat on a side of this wood"
        remedy = 'Write tinters = [{ name = "…", colour = "#…" }].'
        tables.fault(f"{path}.tinters", f"{len(table.tinters)} of them", allowed, remedy)
    if table.mixed is not None:
        remedy = "Take it out; cards say what was tried."
        tables.fault(f"{path}.mixed", f"mixed pots of {table.finish}", "pots of paint", remedy)


def _mixed(tables: Tables, path: str, table: Any, shades: int) -> tuple[tuple[float, ...], ...] | None:
    """Pots that stand there already, one a shade, each with the share of every tinter."""
    if table.mixed is None or not tables.sound(f"{path}.mixed", f"{path}.lightness", f"{path}.tinters"):
        return None
    tinters = len(table.tinters)
    rows = tuple(entry if isinstance(entry, tuple) else (entry,) for entry in table.mixed)
    if not tinters:
        if not table.base:  # a base without tinters is told of by itself
            allowed, remedy = "base and tinters", "Add them, or take mixed out."
            tables.fault(f"{path}.mixed", "mixes of a family without tinters", allowed, remedy)
        return None
    if len(rows) != shades:
        tables.fault(
            f"{path}.mixed", f"{len(rows)} mixes", f"{shades}, one for each lightness", "Write one for each shade."
        )
    for number, row in enumerate(rows, 1):
        if len(row) != tinters:
            allowed = f"{tinters}, one for each tinter"
            tables.fault(f"{path}.mixed[{number}]", f"{len(row)} shares", allowed, "Write the share of every tinter.")
        elif sum(row) > 1:
            found, remedy = f"shares that sum to {sum(row):g}", "Tinters cannot be more than the whole mix."
            tables.fault(f"{path}.mixed[{number}]", found, "at most 1", remedy)
    return rows


def _home(tables: Tables, notes: Notes, path: str, home: Any, number: int, count: int, shape: FadeShape) -> Home:
    outermost = number in {1, count}
    if home is None:
        home = ("middle" if count == 1 else "left" if number == 1 else "right") if outermost else "between"
        if tables.sound(f"{path}.home"):
            notes.add(f"{path}.home", home, "families run from left to right in the order of the brief")
    if isinstance(home, tuple):
        return Home(kind=HomeKind.POINT, x=home[0], y=home[1])
    if home == "between" and shape is FadeShape.PATH and outermost and tables.sound(f"{path}.home", "fade.shape"):
        allowed = "a place for the first and the last family of a path"
        tables.fault(f"{path}.home", '"between"', allowed, "Give it a side, a corner, middle, rim or a point.")
    kind, x, y = _PLACES[home]
    return Home(kind=kind, x=x, y=y)
