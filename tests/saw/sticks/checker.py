"""Re-adds a stick plan from its slices alone; shares no code with the planner, only the records."""

from __future__ import annotations

from collections import Counter


def faults(job, plan) -> list[str]:
    out: list[str] = []
    wanted: Counter[int] = Counter()
    for piece in job.pieces:
        wanted[piece.length_nm] += piece.count
    got: Counter[int] = Counter()
    used: Counter[object] = Counter()
    money = 0
    for stick in plan.sticks:
        stock = stick.stock
        used[stock] += 1
        money += stock.price_cents
        if stock not in job.sticks:
            out.append(f"stick {stick.number} comes from nowhere")
        if not stick.slices:
            out.append(f"stick {stick.number} is not cut at all")
        at = stock.trim_nm
        for piece in stick.slices:
            got[piece.length_nm] += 1
            if piece.to_nm - piece.from_nm != piece.length_nm:
                out.append(f"stick {stick.number}: a slice is not as long as it says")
            if piece.from_nm < at:
                out.append(f"stick {stick.number}: slices or kerfs overlap at {piece.from_nm}")
            at = piece.to_nm + job.kerf_nm
            if at > stock.length_nm - stock.stub_nm:
                out.append(f"stick {stick.number}: cut in the stub")
            for a, b in stock.no_go:
                if piece.from_nm < b and piece.to_nm > a:
                    out.append(f"stick {stick.number}: slice in a no-go zone")
                if piece.to_nm <= a and at > b and piece.to_nm > a - job.kerf_nm:
                    out.append(f"stick {stick.number}: kerf cuts past a zone")
        lengths = sum(piece.length_nm for piece in stick.slices)
        kerfs = len(stick.slices) * job.kerf_nm
        rest = stock.length_nm - at
        passed = at - stock.trim_nm - lengths - kerfs
        if (kerfs, rest, passed) != (stick.kerfs_nm, stick.offcut_nm, stick.passed_nm):
            out.append(f"stick {stick.number}: kerfs, rest or passed wood misstated")
        if lengths + kerfs + stock.trim_nm + passed + rest != stock.length_nm or passed < 0:
            out.append(f"stick {stick.number}: lengths do not add up to the stick")
        if stick.used_nm != lengths + kerfs or stick.used_nm + stick.left_nm != stick.usable_nm or stick.left_nm < 0:
            out.append(f"stick {stick.number}: over-full")
        if stick.keep != (0 < job.keep_offcut_nm <= rest):
            out.append(f"stick {stick.number}: keep misstated")
    for stock, n in used.items():
        if stock.count is not None and n > stock.count * job.sticks.count(stock):
            out.append(f"{n} of {stock.name}, only {stock.count} there")
    if +got != +wanted:
        out.append(f"cut {got}, wanted {wanted}")
    if money != plan.money_cents:
        out.append("money does not add up")
    if plan.proven and plan.bound_cents not in (plan.money_cents, 0):
        out.append("proven, but the bound differs")
    if plan.bound_cents > plan.money_cents:
        out.append("the bound lies above the price")
    if plan.need_nm != sum((l_nm + job.kerf_nm) * n for l_nm, n in wanted.items()):
        out.append("need does not add up")
    if plan.slack_nm != sum(s.left_nm for s in plan.sticks):
        out.append("slack does not add up")
    return out + _order_faults(plan, wanted)


def _order_faults(plan, wanted) -> list[str]:
    out: list[str] = []
    longest_first = sorted((l_nm for l_nm, n in wanted.items() if n), reverse=True)
    if [s.length_nm for s in plan.settings] != longest_first:
        out.append("settings are not longest first")
    for setting in plan.settings:
        per = Counter()
        for stick in plan.sticks:
            n = sum(piece.length_nm == setting.length_nm for piece in stick.slices)
            if n:
                per[stick.number] = n
        if per != Counter(dict(setting.per_stick)) or setting.count != wanted[setting.length_nm]:
            out.append(f"tally of setting {setting.length_nm} is wrong")
    # Walk the order: at each visit a stick is cut from where it was left, as far as the setting goes.
    place = Counter()
    runs = {s.number: [piece.length_nm for piece in s.slices] for s in plan.sticks}
    changes, loads, stop, in_hand = 0, 0, None, None
    for number, l_nm in plan.order:
        changes += l_nm != stop
        loads += number != in_hand if plan.handling.mode == "by_stick" else 1
        stop, in_hand = l_nm, number
        before = place[number]
        while place[number] < len(runs[number]) and runs[number][place[number]] == l_nm:
            place[number] += 1
        if place[number] == before:
            out.append(f"visit of stick {number} at {l_nm} cuts nothing")
    if any(place[n] != len(run) for n, run in runs.items()):
        out.append("the order leaves slices uncut")
    if (changes, loads) != (plan.handling.changes, plan.handling.loads):
        out.append(f"changes and loads are {changes}, {loads}, not as stated")
    if plan.handling.seconds > plan.other_handling.seconds:
        out.append("the slower way was chosen")
    return out
