"""Shims out of what is there: rests of the saw's plan, then whole sticks and boards in the shop, then bought ones."""

from __future__ import annotations

from collections import defaultdict, deque
from collections.abc import Sequence
from dataclasses import replace

from bossage.brief.records import Brief
from bossage.press.shim_records import ShimBoard, ShimCut, ShimNeed, ShimPanels
from bossage.saw import (
    BoardLeft,
    Panel,
    Patience,
    Piece,
    SawJob,
    SawPlan,
    SheetJob,
    SheetPlan,
    SheetShortfall,
    Shortfall,
    StickLeft,
    StickStock,
    clear_spans,
    ends_of_bought_nm,
    plan_sheets,
    plan_sticks,
    usable_nm,
)

NO_PROOF = Patience(settings_work=0, settings_steps=300)
MOST_RESTS = 8  # rests of boards that shims of one thickness are gathered from; beyond it a board is cleaner


def cut_shims(brief: Brief, needs: tuple[ShimNeed, ...], left: tuple[StickLeft, ...]) -> ShimCut | None:
    """Slice the thick shims, rests that are too short to keep before others; None where no shim is thick.

    Args:
        brief: Kerf, which rests are kept.
        needs: As `shim_needs` gives them.
        left: What the saw's plan leaves of sticks.

    Returns:
        Each shim with the rest or stick that it comes out of, or what is missing and the cheapest ways out.
    """
    sliced = [need for need in needs if need.section]
    if not sliced:
        return None
    section, kerf = sliced[0].section, brief.tools.kerf_nm
    pieces = tuple(Piece(length_nm=need.thickness_nm, count=need.to_make, name="shim") for need in sliced)
    here = [one for one in left if one.section == section and _holds(one, pieces, kerf)]
    free, bought = _in_order(brief, [one for one in here if one.stock.owned]), [o for o in here if not o.stock.owned]
    chosen, plan = _fewest_rests(brief, section, pieces, free)
    short = None
    if plan is None:
        chosen = [*free, *bought]
        answer = plan_sticks(_job(brief, section, pieces, chosen), advise=False)
        plan, short = (None, answer) if isinstance(answer, Shortfall) else (answer, None)
    from_whom = _sources(plan, chosen) if plan else []
    return ShimCut(
        section=section,
        count=sum(need.to_make for need in sliced),
        need_nm=sum((need.thickness_nm + kerf) * need.to_make for need in sliced),
        plan=plan,
        rest_of=tuple(one.of_stick for one in from_whom),
        shortfall=short,
        priced=plan is not None and all(one.priced for one in from_whom),
    )


def panel_shims(
    brief: Brief, needs: tuple[ShimNeed, ...], face_nm: tuple[int, int], left: tuple[BoardLeft, ...]
) -> tuple[ShimPanels, ...]:
    """Cut thin shims as panels where the brief names a board of just that thickness; the smallest rest that does.

    Args:
        brief: Kerf.
        needs: As `shim_needs` gives them; those with a section are left out.
        face_nm: Width and length of a shim.
        left: What the saw's plan leaves of boards.
    """
    out = []
    for need in needs:
        boards = [one for one in left if one.thickness_nm == need.thickness_nm]
        if not need.section and boards:
            out.append(_panels(brief, need, face_nm, boards))
    return tuple(out)


def _holds(one: StickLeft, pieces: Sequence[Piece], kerf: int) -> bool:
    thinnest = min(piece.length_nm for piece in pieces) + kerf
    return any(span.capacity_nm >= thinnest for span in clear_spans(one.stock, kerf))


def _in_order(brief: Brief, free: list[StickLeft]) -> list[StickLeft]:
    """Rests too short to keep, the longest first; then those to keep and then whole sticks, the shortest first."""
    keep = brief.tools.keep_offcut_nm
    single = [replace(one, stock=replace(one.stock, count=1)) for one in free for _ in range(one.stock.count or 1)]

    def rank(one: StickLeft) -> tuple[bool, bool, int]:
        kept = one.stock.length_nm >= keep
        return one.of_stick is None, kept, one.stock.length_nm if kept else -one.stock.length_nm

    return sorted(single, key=rank)


def _fewest_rests(
    brief: Brief, section: str, pieces: tuple[Piece, ...], free: list[StickLeft]
) -> tuple[list[StickLeft], SawPlan | None]:
    """As many as are needed in their order, then without each that the others make up for."""
    kerf = brief.tools.kerf_nm
    need = sum((piece.length_nm + kerf) * piece.count for piece in pieces)
    room, wait, chosen, plan = 0, 0, list[StickLeft](), None
    for number, one in enumerate(free, start=1):
        room += usable_nm(one.stock, kerf)
        wait -= 1
        if room < need or (wait > 0 and number < len(free)):
            continue
        plan = _planned(brief, section, pieces, free[:number])
        if plan is not None:
            chosen = _sources(plan, free[:number])
            break
        wait = max(1, number // 8)
    if plan is None:
        return [], None
    for one in [one for one in chosen if one.of_stick is None or one.stock.length_nm >= brief.tools.keep_offcut_nm]:
        fewer = list(chosen)
        fewer.remove(one)
        if sum(usable_nm(other.stock, kerf) for other in fewer) >= need:
            other_plan = _planned(brief, section, pieces, fewer)
            if other_plan is not None:
                chosen, plan = fewer, other_plan
    return chosen, plan


def _planned(brief: Brief, section: str, pieces: tuple[Piece, ...], chosen: list[StickLeft]) -> SawPlan | None:
    answer = plan_sticks(_job(brief, section, pieces, chosen), advise=False)
    return answer if isinstance(answer, SawPlan) else None


def _job(brief: Brief, section: str, pieces: tuple[Piece, ...], chosen: list[StickLeft]) -> SawJob:
    counts: dict[StickStock, int | None] = {}
    for one in chosen:
        stock = replace(one.stock, count=None)
        counts[stock] = None if one.stock.count is None else (counts.get(stock) or 0) + one.stock.count
    return SawJob(
        pieces=pieces,
        sticks=tuple(replace(stock, count=count) for stock, count in counts.items()),
        kerf_nm=brief.tools.kerf_nm,
        keep_offcut_nm=brief.tools.keep_offcut_nm,
        patience=NO_PROOF,
        seed=brief.piece.seed,
        ends_nm=ends_of_bought_nm(brief, section),
    )


def _sources(plan: SawPlan, chosen: list[StickLeft]) -> list[StickLeft]:
    """What each stick of a plan is; alike ones in their order."""
    queues: dict[StickStock, deque[StickLeft]] = defaultdict(deque)
    for one in chosen:
        queues[replace(one.stock, count=None)].append(one)
    out = []
    for stick in plan.sticks:
        queue = queues[replace(stick.stock, count=None)]
        out.append(queue.popleft() if len(queue) > 1 else queue[0])
    return out


def _panels(brief: Brief, need: ShimNeed, face_nm: tuple[int, int], boards: list[BoardLeft]) -> ShimPanels:
    kerf = brief.tools.kerf_nm
    panel = Panel(name="shim", width_nm=face_nm[0], length_nm=face_nm[1], count=need.to_make)
    rests = _few_rests(panel, [one for one in boards if one.of_board is not None], kerf)
    owned = [one for one in boards if one.of_board is None and one.stock.owned]
    named = {
        f"{one.material} {n}": one for n, one in enumerate(sorted(boards, key=lambda one: one.of_board is None), 1)
    }
    answer: SheetPlan | SheetShortfall | None = None
    for tried in (rests, [*rests, *owned], [*rests, *(one for one in boards if one.of_board is None)]):
        sheets = tuple(replace(one.stock, name=name) for name, one in named.items() if any(one is t for t in tried))
        if sheets and not isinstance(answer, SheetPlan):
            answer = plan_sheets(SheetJob(panels=(panel,), sheets=sheets, kerf_nm=kerf))
    used = [named[sheet.stock.name] for sheet in answer.sheets] if isinstance(answer, SheetPlan) else []
    return ShimPanels(
        thickness_nm=need.thickness_nm,
        count=need.to_make,
        width_nm=panel.width_nm,
        length_nm=panel.length_nm,
        plan=answer if isinstance(answer, SheetPlan) else None,
        boards=tuple(ShimBoard(material=one.material, rest_of=one.of_board) for one in used),
        shortfall=answer if isinstance(answer, SheetShortfall) else None,
        priced=bool(used) and all(one.priced for one in used),
    )


def _few_rests(panel: Panel, rests: list[BoardLeft], kerf: int) -> list[BoardLeft]:
    """The smallest rest that holds all of them in rows; else the largest, as many as it takes."""
    held = [(_in_rows(panel, one, kerf), one) for one in sorted(rests, key=_area_nm2)]
    alone = next((one for n, one in held if n >= panel.count), None)
    if alone is not None:
        return [alone]
    out, room = [], 0
    for n, one in reversed(held):
        if n and room < panel.count:
            out.append(one)
            room += n
    return out[:MOST_RESTS]


def _in_rows(panel: Panel, one: BoardLeft, kerf: int) -> int:
    wide, tall = one.stock.width_nm + kerf, one.stock.length_nm + kerf
    across, along = panel.width_nm + kerf, panel.length_nm + kerf
    return max((wide // across) * (tall // along), (wide // along) * (tall // across))


def _area_nm2(one: BoardLeft) -> int:
    return one.stock.width_nm * one.stock.length_nm
