"""Ask first: questions for those who have to agree, filled in with this piece's figures, to be answered by hand."""

from __future__ import annotations

import json
from itertools import zip_longest

from bossage.asking import ASK_SHEET, answer_of, is_asked
from bossage.body import Role
from bossage.brief.records import Fixture, Opens
from bossage.checks import Check, EditValue
from bossage.pack.drawings.behind import hiding
from bossage.pack.drawings.fit import fitted, scale_words
from bossage.pack.drawings.wall import wall_drawing
from bossage.pack.sheet import Care, Column, Drawn, Heading, NewPage, Para, Part, Sheet, Table
from bossage.pack.sheets.ask_fire import fire_parts
from bossage.pack.sheets.ask_trades import TRADES, trade_parts
from bossage.pack.sheets.common import room, words_of
from bossage.pack.sheets.stand_words import people_to_lift, seconds_to_open
from bossage.pack.sheets.wall import depth_drawn
from bossage.pack.words import Words, count_of, full, listed
from bossage.plan import Plan
from bossage.settling import SETTLEABLE, Who

TABLE = "[[settled]]"
ANSWER = ("yes", "yes, with", "no")
FRONT_SHARE, DEPTH_SHARE = 0.5, 0.26  # of the page, for the two drawings


def ask_sheet(plan: Plan, *, drawn: bool = True) -> Sheet | None:
    """The piece in five lines, then a part for each who has to agree; none where nothing gives cause to ask anybody."""
    asked = {who: _questions(plan, who) for who in Who}
    wanted = [who for who in Who if asked[who] or who in plan.brief.papers.ask]
    if not wanted:
        return None
    parts: list[Part] = [_told(plan, words_of(plan))]
    for who in wanted:
        parts += _page(plan, who, asked[who])
    if any(asked.values()):
        text = "A yes is copied into the brief, with name, day and words; the sheet 'answers' has the lines for it."
        parts.append(Para(text=f"{text} A no changes the brief.", small=True))
    scale = ""
    if drawn:
        shown, scale = _drawn(plan, words_of(plan))
        parts += shown
    else:
        parts.append(Para(text="Take the sheet 'The wall' along: it draws the piece from the front and from the side."))
    return Sheet(
        name="ask",
        title=ASK_SHEET,
        todo="Take this and the drawing to whoever is named, before you buy. Write down answer, name and day.",
        wrong=(
            "No, or yes with something that the piece has not? Change the brief and plan again. A yes is for the "
            "figure beside it: where that gets worse, the check speaks up again by itself."
        ),
        parts=tuple(parts),
        scale=scale,
    )


def ask_in_pack(plan: Plan) -> Sheet | None:
    """The same where the sheet of the wall, which has the drawings, is printed with it."""
    return ask_sheet(plan, drawn=False)


def answers_sheet(plan: Plan) -> Sheet | None:
    """What a yes to each question writes into the brief; none where nobody is asked anything."""
    blocks = [brief_lines(answer_of(check, plan.brief, plan.hang)) for who in Who for check in _questions(plan, who)]
    if not blocks:
        return None
    return Sheet(
        name="answers",
        title="Answers for the brief",
        todo="Copy the lines of each yes into the brief. Add the name, the day, the words and what was left open.",
        wrong="The answer was no? Then nothing is copied: change the brief and plan again.",
        parts=tuple(_for_the_brief(blocks)),
    )


def _questions(plan: Plan, who: Who) -> list[Check]:
    """Checks that this one has to agree to."""
    return [check for check in plan.checks if is_asked(check) and SETTLEABLE[check.name].who is who]


def _page(plan: Plan, who: Who, checks: list[Check]) -> list[Part]:
    parts: list[Part] = [Heading(text=f"For the {who.value}" if who is not Who.PARTNER else f"For {who.value}")]
    if who in TRADES:
        title = "Nothing is opened, moved or drilled before this is answered."
        text = "Whether a cover passes is for the licensed person and the local authority to say, not for this sheet."
        parts.append(Care(title=title, text=text))
    questions = ["May the piece hang here as it is told above?"] if who in plan.brief.papers.ask else []
    for check in checks:
        of = f"{check.subject}: " if check.subject else ""
        found = f"{of}{check.found if of else full(check.found)}"
        questions.append(f"{SETTLEABLE[check.name].question} {full(found)} Allowed without asking: {check.allowed}")
    if questions:
        parts.append(_boxes(questions))
    parts += [*trade_parts(plan, who, words_of(plan)), *fire_parts(plan, who, words_of(plan))]
    blanks = tuple(Column(head=head, kind="blank", wide=True) for head in ("name", "signature", "date"))
    return [*parts, Table(columns=blanks, rows=(("", "", ""),))]


def _drawn(plan: Plan, words: Words) -> tuple[list[Part], str]:
    """One page for all who are asked: the wall from the front, the section from wall to face; and the first's scale."""
    space = room(plan)
    front = fitted(wall_drawing(plan, words), width_mm=space.width_mm, height_mm=FRONT_SHARE * space.height_mm)
    caption = f"From the front, {scale_words(front.scale_n)}. Lengths in {words.unit_name}. Dashed: what it hides."
    depth = depth_drawn(plan, words, width_mm=space.width_mm, height_mm=DEPTH_SHARE * space.height_mm)
    parts: list[Part] = [
        NewPage(),
        Heading(text="The drawing to show with it"),
        Drawn(drawing=front, caption=caption),
        *([depth] if depth is not None else []),
    ]
    return parts, scale_words(front.scale_n)


def _for_the_brief(blocks: list[tuple[str, ...]]) -> list[Part]:
    """Every yes as the brief takes it, two beside each other."""
    rows: list[tuple[str, str]] = []
    for left, right in zip_longest(blocks[::2], blocks[1::2], fillvalue=()):
        rows += zip_longest(left, right, fillvalue="")
    groups = tuple(number for number, (left, _) in enumerate(rows) if left == TABLE)
    columns = (Column(kind="small", wide=True), Column(kind="small", wide=True))
    return [Table(columns=columns, rows=tuple(rows), groups=groups, tight=True)]


def brief_lines(table: dict[str, EditValue]) -> tuple[str, ...]:
    """A yes as the brief takes it, line by line; by whom, when, in which words and with what is left open."""
    open_keys: dict[str, EditValue] = {"by": "", "on": "", "words": "", "with": ""}
    return (TABLE, *(f"{key} = {_toml(value)}" for key, value in (table | open_keys).items()))


def _toml(value: EditValue) -> str:
    if isinstance(value, list):
        return f"[{', '.join(_toml(one) for one in value)}]"
    return json.dumps(value, ensure_ascii=False)


def _boxes(questions: list[str]) -> Table:
    """Each question with a box for each answer."""
    columns = (
        Column(head="question", wide=True),
        *(Column(head=head, kind="tick") for head in ANSWER),
        Column(head="with what", kind="blank", mm=30.0),
    )
    rows = tuple((question, "", "", "", "") for question in questions)
    return Table(columns=columns, rows=rows, groups=tuple(range(len(rows))), tight=True)


def _told(plan: Plan, words: Words) -> Table:
    """The piece in five lines: what is behind, what hangs before it, how it opens, what stays, what goes back."""
    layout, brief = plan.layout, plan.brief
    leaves = [leaf for leaf in layout.leaves if leaf.copy == 1]
    heaviest = max(one.total_g for one in plan.hang.leaf_masses)
    size = words.size(layout.width_nm, layout.height_nm)
    many = f", on {count_of(len(leaves), 'leaf', 'leaves')}" if len(leaves) > 1 else ""
    rows = (
        ("behind it", listed([_behind(fixture, words) for fixture in brief.fixtures]) or "the bare wall"),
        (
            "hangs there",
            f"A relief of wooden blocks on a board, {size}{many}, {words.length(layout.depth_nm)} proud of the wall; "
            f"{'the heaviest leaf' if many else 'it'} weighs {words.mass(heaviest)}.",
        ),
        ("opens", _opens(plan)),
        ("stays on the wall", _stays(plan)),
        ("goes back", _goes_back(plan)),
    )
    columns = (Column(kind="strong", mm=34.0), Column(wide=True))
    return Table(columns=columns, rows=rows, groups=tuple(range(len(rows))), tight=True)


def _behind(fixture: Fixture, words: Words) -> str:
    sunk = f", {words.length(fixture.recess_nm)} deep in the wall" if fixture.recess_nm else ""
    kind = f" ({fixture.kind.value})" if fixture.kind.value != fixture.name else ""
    return (
        f"{fixture.name}{kind}, {words.size(fixture.width_nm, fixture.height_nm)}, "
        f"{words.length(fixture.proud_nm)} proud{sunk}, opened {fixture.opened_per_year:g} times a year"
    )


def _opens(plan: Plan) -> str:
    access, people = plan.brief.access, people_to_lift(plan)
    seconds = max(seconds_to_open(plan, one.leaf.name) for one in hiding(plan))
    with_tool = "with a tool" if access.tool else "without a tool"
    how = f"It swings to {access.angle_deg:g}° {with_tool}"
    if access.opens is Opens.LIFT_OFF:
        how = f"It lifts up and off {with_tool}, by {count_of(people, 'person', 'people')}"
    return f"{how}; free after about {seconds} s (our guess: time it)."


def _stays(plan: Plan) -> str:
    held = list(dict.fromkeys(part.name for part in plan.body.parts if not part.moves and part.copy == 1))
    return full(f"{listed(held)} with {count_of(_fixings(plan), 'fixing')} in the wall") if held else "Nothing."


def _goes_back(plan: Plan) -> str:
    holes = count_of(_fixings(plan), "hole")
    return f"All of it comes off; {holes} are filled and painted, and what is behind is as it was."


def _fixings(plan: Plan) -> int:
    """Fixings in the wall of one copy."""
    hung = [leaf for leaf in plan.hang.leaves if leaf.copy == 1]
    cleats = sum(len(leaf.cleat.fixings) for leaf in hung if leaf.cleat)
    locks = sum(part.role is Role.BUTTON for leaf in hung for part in plan.body.of(leaf.leaf, leaf.copy))
    return cleats + locks + sum(len(leaf.hinges.every_fixing) for leaf in hung if leaf.hinges)
