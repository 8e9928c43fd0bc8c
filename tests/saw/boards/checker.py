"""Saws a sheet plan cut by cut on boards of its own; shares no code with the planner, only the records."""

from __future__ import annotations

from collections import Counter


def faults(job, plan) -> list[str]:
    out: list[str] = []
    wanted: Counter[tuple[str, int, int]] = Counter()
    for p in job.panels:
        wanted[p.name, p.width_nm, p.length_nm] += p.count
    sizes = {(p.name, p.width_nm, p.length_nm): p for p in job.panels}
    got: Counter[tuple[str, int, int]] = Counter()
    used: Counter[str] = Counter()
    for sheet in plan.sheets:
        used[sheet.stock.name] += 1
        W, H, t = sheet.stock.width_nm, sheet.stock.length_nm, sheet.stock.trim_nm
        boards = {(0, 0, W, H)}
        for number, cut in enumerate(sheet.cuts, start=1):
            if cut.number != number:
                out.append("cuts are not numbered in order")
            if cut.board not in boards:
                out.append(f"cut {number} is on a board that is not in hand: {cut.board}")
                continue
            boards.remove(cut.board)
            x0, y0, x1, y1 = cut.board
            near = cut.trim and cut.at_nm == t
            a, b = (cut.at_nm - 0, cut.at_nm) if near else (cut.at_nm, cut.at_nm + (0 if cut.trim else job.kerf_nm))
            if cut.along == "y":
                boards |= {(x0, y0, a, y1), (b, y0, x1, y1)}
            else:
                boards |= {(x0, y0, x1, a), (x0, b, x1, y1)}
        boards = {b for b in boards if b[2] > b[0] and b[3] > b[1]}
        for p in sheet.panels:
            real = (p.length_nm, p.width_nm) if p.turned else (p.width_nm, p.length_nm)
            got[p.name, *real] += 1
            size = sizes.get((p.name, *real))
            if size is None or (p.turned and not size.turn):
                out.append(f"{p.name} has the wrong size or grain")
            corner = (p.x_nm, p.y_nm, p.x_nm + p.width_nm, p.y_nm + p.length_nm)
            if corner not in boards:
                out.append(f"{p.name} at {corner} is not cut free")
            boards.discard(corner)
            if corner[0] < t or corner[1] < t or corner[2] > W - t or corner[3] > H - t:
                out.append(f"{p.name} lies in a factory edge")
        for o in sheet.offcuts:
            corner = (o.x_nm, o.y_nm, o.x_nm + o.width_nm, o.y_nm + o.length_nm)
            if corner not in boards:
                out.append(f"offcut {corner} is not in hand")
    if got != +wanted:
        out.append(f"cut {got}, wanted {wanted}")
    for stock in job.sheets:
        if stock.count is not None and used[stock.name] > stock.count:
            out.append(f"more {stock.name} than there is")
    if plan.money_cents != sum(s.stock.price_cents for s in plan.sheets) or plan.bound_cents > plan.money_cents:
        out.append("money or bound wrong")
    return out
