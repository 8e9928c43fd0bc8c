"""The first page: the piece on its wall, the key numbers, what the checks say."""

from __future__ import annotations

from itertools import groupby

from bossage.asking import to_settle
from bossage.checks import Verdict
from bossage.costing import materials_words
from bossage.pack.causes import Told, care_words, found_words, remedy_words, told
from bossage.pack.sheet import Care, Column, Figure, Figures, Heading, Para, Part, Photo, Sheet, Table
from bossage.pack.sheets.common import LINE_MM, cares, lines_n, room, words_of
from bossage.pack.words import Words, count_of, hours, listed, sentence, split_unit
from bossage.plan import Plan
from bossage.stakes import AT_STAKE, TASTE_ALONE, Kind

PICTURE = "picture.png"
HIGHEST_MM, LOWEST_MM = 100.0, 42.0  # the picture gives way to checks
TITLE_MM, ROW_GAP_MM, HEAD_MM = 34.0, 2.8, 9.0  # of the tables of checks
FIGURES_MM, CARE_MM, ELSE_MM = 18.0, 12.0, 34.0  # a row of figures, a caution, heading, what is fine, the last line


def first_sheet(plan: Plan) -> Sheet:
    """What it is, how big, how heavy, how long, and whether anything stands against it."""
    words = words_of(plan)
    highest_mm = picture_height_mm(plan)
    parts: list[Part] = [Photo(name=PICTURE, description=picture_words(plan, words), highest_mm=highest_mm)]
    parts += [Figures(items=row) for row in _figures(plan, words)]
    parts += [*_cares(plan), *_checks(plan)]
    return Sheet(
        name="first",
        title=plan.brief.piece.name,
        todo="Read this page first. Then tape each sheet up at the place where its work is done.",
        wrong=(
            "Nothing is sawn yet: change the brief and plan again. Throw away every sheet with another plan number at "
            "its foot."
        ),
        parts=tuple(parts),
    )


def picture_height_mm(plan: Plan) -> float:
    """Height of the picture on the first page: what checks that are not fine leave of it.

    Where they fill more than the page, the picture is as low as it may be.
    """
    space = room(plan)
    column_mm = space.width_mm - TITLE_MM - 4.8
    taken_mm = ELSE_MM + FIGURES_MM * len(_figures(plan, words_of(plan))) + CARE_MM * len(_cares(plan))
    taken_mm += sum(2.2 * LINE_MM for check in plan.checks if check.settled is not None)
    heavy = told(plan, plan.checks)
    taken_mm += HEAD_MM * len({one.kind for one in heavy})
    taken_mm += sum(LINE_MM * lines_n(_said(one), column_mm) + ROW_GAP_MM for one in heavy)
    return min(max(space.height_mm - taken_mm, LOWEST_MM), HIGHEST_MM)


def picture_words(plan: Plan, words: Words) -> str:
    """The picture, for those who cannot see it."""
    layout = plan.layout
    families = list(dict.fromkeys(shade.family for shade in plan.fade.shades))
    return (
        f"The finished piece on its wall, {words.size(layout.width_nm, layout.height_nm)}, lit from the "
        f"{plan.brief.wall.light_from.value}: {layout.blocks.count // plan.brief.piece.copies} blocks of "
        f"{len(plan.relief.levels_nm)} heights in {count_of(len(plan.fade.shades), 'shade')} of {listed(families)}."
    )


def _figures(plan: Plan, words: Words) -> list[tuple[Figure, ...]]:
    layout, copies = plan.layout, plan.brief.piece.copies
    size, unit = split_unit(words.size(layout.width_nm, layout.height_nm))
    leaves = [leaf for leaf in layout.leaves if leaf.copy == 1]
    heaviest = max(plan.hang.leaf_masses, key=lambda leaf: leaf.total_g)
    mass, mass_unit = split_unit(words.mass(heaviest.total_g))
    depth, depth_unit = split_unit(words.length(layout.depth_nm))
    one_leaf = "heaviest leaf" if len(leaves) > 1 else "on the wall"
    per = f" in {copies} pieces" if copies > 1 else ""
    first = (
        Figure(
            value=size,
            unit=unit,
            words="across and up" + (f", {count_of(len(leaves), 'leaf', 'leaves')}" if len(leaves) > 1 else ""),
        ),
        Figure(value=depth, unit=depth_unit, words="proud of the wall"),
        Figure(value=mass, unit=mass_unit, words=one_leaf),
    )
    second = (
        Figure(value=f"{layout.blocks.count:,}", unit="", words=f"blocks{per}"),
        Figure(value=hours(plan.cost.hours)[:-2], unit="h", words="of work"),
        Figure(
            value=materials_words(plan.cost, plan.brief.piece.currency),
            unit="",
            words="materials" + (f", {plan.cost.unpriced} unpriced" if plan.cost.unpriced else ""),
        ),
    )
    return [(*first, *second)] if sum(len(f.value) for f in (*first, *second)) < 36 else [first, second]


def _cares(plan: Plan) -> list[Care]:
    stops = [check for check in plan.checks if check.verdict is Verdict.STOP]
    found = list(cares(plan, "fire", "electricity"))
    if stops:
        title = f"Do not build yet: {count_of(len(stops), 'check')} {'says' if len(stops) == 1 else 'say'} stop."
        text = "The papers are made all the same, so that you can see what is meant. Change the brief, plan again."
        if any(to_settle(check) for check in stops):
            text += " Some of it somebody may agree to: see the sheet “Ask first”."
        found.insert(0, Care(title=title, text=text))
    return found


def _checks(plan: Plan) -> list[Part]:
    """What is not fine by what is at stake, one line a cause; what is settled; how many are fine."""
    fine = [check for check in plan.checks if check.verdict is Verdict.FINE and check.settled is None]
    parts: list[Part] = []
    for (verdict, kind), group in groupby(told(plan, plan.checks), key=lambda one: (one.verdict, one.kind)):
        rows = tuple((one.title, _said(one)) for one in group)
        columns = (Column(kind="strong", mm=TITLE_MM), Column(wide=True))
        stake = TASTE_ALONE if kind is Kind.TASTE else f"at stake: {AT_STAKE[kind]}"
        head = f"{verdict.value.capitalize()}, {stake[:1].lower()}{stake[1:]}"
        parts += [
            Heading(text=head),
            Table(columns=columns, rows=rows, groups=tuple(range(len(rows))), tight=True),
        ]
    parts += [
        Para(lead=f"{check.title}{f' ({check.subject})' if check.subject else ''}:", text=sentence(str(check.settled)))
        for check in plan.checks
        if check.settled is not None
    ]
    if fine:
        text = f"{count_of(len(fine), 'check')} more, each with its reason in the file checks.csv."
        parts.append(Para(lead="Fine:", text=text))
    return parts


def _said(one: Told) -> str:
    """Found, and what to decide: the change that would help; what to mind where people are at stake or no change is."""
    remedy = remedy_words(one)
    care = care_words(one, uncured=True) if one.kind is Kind.HARM or not remedy else ""
    return " ".join(filter(None, (found_words(one), care, remedy)))
