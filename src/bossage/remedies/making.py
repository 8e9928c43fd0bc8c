"""Ways that change how the piece is made: gaps, edge, heights, sticks, glue."""

from __future__ import annotations

from dataclasses import replace

from bossage.brief.records import EdgeStyle, Pin
from bossage.checks import Check, Edit
from bossage.layout.edges import exact_share
from bossage.layout.edits import in_proportion, toml_length
from bossage.plan import Plan
from bossage.remedies.way import MARK_IN_NM, Way, Ways, put, put_length, steps, up_to_mark
from bossage.units import NM_PER_MM, format_length


def wider_gap(plan: Plan, check: Check) -> Ways:
    """The gap between blocks: as wide as the checks ask for, then a little wider at a time."""
    fine_nm = MARK_IN_NM // 4 if plan.brief.piece.unit.value == "in" else NM_PER_MM // 10
    asked_nm = [plan.press.house.gap_advice_nm, *(drift.gap_true_nm for drift in plan.layout.drifts)]
    least_nm = -(-max(asked_nm) // fine_nm) * fine_nm
    for nm in (least_nm, *(step for step in steps(plan, 1, 2, 3, 4, 6, 8) if step > least_nm)):
        if nm > plan.brief.blocks.gap_nm:
            yield put_length(plan, "Widen the gap between blocks to", "blocks", "gap", nm=nm)


def smaller_overhang(plan: Plan, check: Check) -> Ways:
    """Less of the outer blocks past the backer."""
    over = plan.brief.edge.overhang_nm
    if plan.brief.edge.style is EdgeStyle.INSET:
        for share in (0.75, 0.5, 0.25):
            nm = up_to_mark(plan, over * share)
            if nm < over:
                yield put_length(plan, "Let the outer blocks hang over by only", "edge", "overhang", nm=nm)


def larger_overhang(plan: Plan, check: Check) -> Ways:
    """More of the outer blocks past the backer, so that less shows behind them."""
    if plan.brief.edge.style is EdgeStyle.INSET:
        for more in (5, 10, 15, 20):
            nm = up_to_mark(plan, plan.brief.edge.overhang_nm + more * NM_PER_MM)
            yield put_length(plan, "Let the outer blocks hang over by", "edge", "overhang", nm=nm)


def corner_run_out(plan: Plan, check: Check) -> Ways:
    """Strips that run out further under the corner blocks."""
    bond = plan.layout.ring_bond
    if bond is not None and bond.corner_run_out_that_passes_nm:
        nm = up_to_mark(plan, bond.corner_run_out_that_passes_nm)
        yield put_length(plan, "Let the strips run out past the backer by", "edge", "run_out", nm=nm)


def wider_strips(plan: Plan, check: Check) -> Ways:
    """Strips wide enough for the ring."""
    blocks, edge = plan.brief.blocks, plan.brief.edge
    side = max(blocks.module_width_nm, blocks.module_height_nm)
    need = up_to_mark(plan, float(exact_share(edge.bond_share_min) * side))
    nm = need + blocks.gap_nm + edge.strip_behind_nm
    yield put_length(plan, "Make the edge strips as wide as", "edge", "strip_width", nm=nm)


def narrower_strips(plan: Plan, check: Check) -> Ways:
    """Strips that stay behind the ring."""
    blocks, edge = plan.brief.blocks, plan.brief.edge
    across = edge.strip_corners != "upright"
    along = blocks.module_width_nm if across else blocks.module_height_nm
    over = blocks.module_height_nm if across else blocks.module_width_nm
    if edge.strip_run_out_nm > blocks.gap_nm + along:
        run_out = blocks.gap_nm + along
        yield put_length(plan, "Let the strips run out past the backer by", "edge", "run_out", nm=run_out)
    width = edge.strip_behind_nm + blocks.gap_nm + min(over, along)
    if edge.strip_width_nm > width:
        yield put_length(plan, "Make the edge strips only as wide as", "edge", "strip_width", nm=width)


def without_top_level(plan: Plan, check: Check) -> Ways:
    """No blocks of the highest level; their number goes to the others in proportion."""
    blocks, unit = plan.brief.blocks, plan.brief.piece.unit
    levels = blocks.levels_nm
    whole = all(len(footprint.allowed) == len(levels) for footprint in blocks.footprints)
    if len(levels) < 4 or not whole or any(_is_top(pin, len(levels)) for pin in blocks.pins):
        return
    left = levels[:-1]
    edits = [Edit(op="set", path=("blocks", "levels"), value=[toml_length(nm, unit) for nm in left])]
    if blocks.ring_quotas is not None:
        ring = in_proportion(blocks.ring_quotas[:-1], sum(blocks.ring_quotas))
        edits.append(Edit(op="set", path=("blocks", "ring_quotas"), value=list(ring)))
    for number, footprint in enumerate(blocks.footprints):
        if footprint.quotas is not None:
            quotas = list(in_proportion(footprint.quotas[:-1], sum(footprint.quotas)))
            edits.append(Edit(op="set", path=("footprint", number, "quotas"), value=list(quotas)))
        elif footprint.weights is not None and len(set(footprint.weights)) > 1:
            weights = list(footprint.weights[:-1])
            edits.append(Edit(op="set", path=("footprint", number, "weights"), value=list(weights)))
    words = f"Leave out the highest level, {format_length(levels[-1], unit.value)}"
    yield Way(words=words, edits=tuple(edits))


def fewer_spares(plan: Plan, check: Check) -> Ways:
    """Fewer spares of the section that is a little short, where that saves the stick."""
    for number, stick in enumerate(plan.brief.sticks):
        if stick.name == check.subject and stick.spares_pct > 0:
            for share in (0.9, 0.75, 0.5, 0.0):
                spares = round(stick.spares_pct * share, 1)
                text = f"Cut {spares:g} % of spares from {check.subject}, not {stick.spares_pct:g} %"
                to = int(spares) if spares == int(spares) else spares
                yield replace(put(text, "stick", number, "spares", to=to), saves=True)
            return


def slower_glue(plan: Plan, check: Check) -> Ways:
    """A glue that stays open for longer, or another pair of hands at it."""
    open_min = plan.brief.glue.open_min
    if plan.brief.tools.people < 2:
        yield put("Glue with two pairs of hands", "tools", "people", to=2)
    for times in (1.5, 2, 3):
        minutes = round(open_min * times)
        yield put(f"Take a glue that stays open for {minutes} minutes", "glue", "open_time", to=minutes)


def more_clamps(plan: Plan, check: Check) -> Ways:
    """More clamps on the row."""
    have = plan.brief.tools.clamps
    for more in (2, 4, 6, 10, 16):
        yield put(f"Borrow {more} clamps more", "tools", "clamps", to=have + more)


def flatter_backer(plan: Plan, check: Check) -> Ways:
    """A rest before gluing, both faces sealed, both of these, or a thicker backer."""
    backer, blocks = plan.brief.backer, plan.brief.blocks
    middle = round((blocks.moisture_use_low_pct + blocks.moisture_use_high_pct) / 2, 1)
    rest = put(f"Let the slices rest in the room to {middle:g} % before gluing", "blocks", "moisture_laid", to=middle)
    yield rest
    if backer.sealed_faces < 2:
        seal = put("Seal both faces of the backer alike", "backer", "sealed_faces", to=2)
        yield seal
        yield Way(words=f"{rest.words}, and seal both faces of the backer alike", edits=(*rest.edits, *seal.edits))
    yield from thicker_backer(plan, check)


def thicker_backer(plan: Plan, check: Check) -> Ways:
    """A backer a trade thickness thicker."""
    for more in (3, 6, 9):
        nm = up_to_mark(plan, plan.brief.backer.thickness_nm + more * NM_PER_MM)
        yield put_length(plan, "Take a backer as thick as", "backer", "thickness", nm=nm)


def drawn_again(plan: Plan, check: Check) -> Ways:
    """The next few lays."""
    for more in range(1, 6):
        yield put(
            f"Draw again, with seed {plan.brief.piece.seed + more}", "piece", "seed", to=plan.brief.piece.seed + more
        )


def _is_top(pin: Pin, levels: int) -> bool:
    return pin.level == levels - 1
