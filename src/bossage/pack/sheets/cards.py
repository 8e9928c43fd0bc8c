"""What stays with the piece: a card for its back, a card for the household."""

from __future__ import annotations

from bossage.body.lock import turn_button
from bossage.brief.records import Fixture, FixtureKind, Opens
from bossage.checks import Verdict
from bossage.hang.access import ACCESS, NEVER_COVERED, SPACE_KEPT
from bossage.hang.put_down import put_down_words
from bossage.hang.records import LeafHang
from bossage.layout.records import Leaf
from bossage.pack.drawings.access import access_drawing
from bossage.pack.drawings.behind import Hiding, hiding, leaves_to_open, opened_for, several_leaves
from bossage.pack.drawings.fit import fitted
from bossage.pack.drawings.front import front_drawing
from bossage.pack.sheet import Beside, Care, Column, Drawn, Figure, Figures, Heading, Para, Part, Sheet, Steps, Table
from bossage.pack.sheets.care import mending
from bossage.pack.sheets.common import cares, room, words_of
from bossage.pack.sheets.hinged import off_words, under_props
from bossage.pack.sheets.stand_words import (
    alone_groups,
    alone_parts,
    clear_step,
    move_steps,
    people_to_lift,
    stand_steps,
)
from bossage.pack.words import Words, listed, split_unit
from bossage.plan import Plan

DRAWN_MM = 84.0  # what the drawing of the back takes beside what lies behind it


def access_sheet(plan: Plan) -> Sheet:
    """To be glued to the back: what lies behind, how it opens, how heavy it is, who made it and who may be asked."""
    words = words_of(plan)
    heaviest = max(plan.hang.leaf_masses, key=lambda leaf: leaf.total_g)
    mass, unit = split_unit(words.mass(heaviest.total_g))
    found = hiding(plan)
    people = max(people_to_lift(plan, one.leaf.name) for one in found)
    leaves = [leaf for leaf in plan.layout.leaves if leaf.copy == 1]
    rows = tuple(
        (_named(plan, f), f"{_asks(plan, f)} Reached {_opened(f.opened_per_year)}.") for f in plan.brief.fixtures
    )
    parts: list[Part] = [
        Figures(
            items=(
                Figure(value=mass, unit=unit, words="heaviest leaf" if len(leaves) > 1 else "to lift"),
                Figure(value=str(people), unit="people" if people > 1 else "person", words="to take it off"),
                Figure(value=plan.stamp, unit="", words="plan"),
            )
        ),
        *_behind(plan, found, rows),
        *_taking_off(plan, found),
        Para(
            lead="Left and right change places on this side.",
            text="Block 3·1 is in the third row from the top; seen from here it stands at the right.",
        ),
        Heading(text="Who to ask"),
        Table(
            columns=(
                Column(kind="strong"),
                *(Column(head=head, kind="blank", wide=True) for head in ("name", "telephone", "hung on, weighed at")),
            ),
            rows=(("made by", "", "", ""), ("electrician or plumber", "", "", "")),
            tight=True,
        ),
    ]
    return Sheet(
        name="access",
        title="Access card",
        todo="Fill it in, glue it to the back of the piece, and show it to all who may have to open it in a hurry.",
        wrong="It does not come off as it says here? Stop: do not lever. Look for the lock or a screw first.",
        parts=tuple(parts),
    )


def household_sheet(plan: Plan) -> Sheet:
    """For those who live with it: what it likes, what it does not, when to look at it."""
    words, house = words_of(plan), plan.press.house
    humidity = f"{house.driest_humidity_pct:.0f} %"
    parts: list[Part] = [
        Heading(text="Living with it"),
        Table(
            columns=(Column(kind="strong", mm=34.0), Column(wide=True)),
            rows=(
                ("air", f"Planned for a room no drier than {humidity} on a hygrometer. Fine seams come and go."),
                ("heat", _heat(plan)),
                ("weight", "Nothing is hung on it, nobody leans on it, and children do not climb it."),
                *mending(plan),
            ),
            groups=tuple(range(3 + len(mending(plan)))),
            tight=True,
        ),
        *_front(plan),
        *_taking_off(plan, hiding(plan)),
        *_alone(plan),
        Heading(text="Look at it"),
        Table(
            columns=(Column(head="when", kind="strong", mm=54.0), Column(head="what", wide=True), Column(kind="tick")),
            rows=(
                ("after a day", "Does it still hang level? Is the seam at the wall as it was?", ""),
                ("after the first winter", f"Screws and {_held_by(plan)}: nothing loose, nothing bent.", ""),
                ("every year", "The same again; whatever is behind it can be reached as its card says.", ""),
            ),
            tight=True,
        ),
        Para(text="Common practice, no source.", small=True),
    ]
    if any(fixture.opened_per_year > 0 for fixture in plan.brief.fixtures):
        names = listed([fixture.name for fixture in plan.brief.fixtures])
        parts.insert(
            0,
            Care(
                title=f"Behind it: {names}.",
                text=(
                    "Everybody in the house knows it, and knows how the piece opens. Whether that is ready enough "
                    "is for your local authority and a licensed tradesperson to say."
                ),
            ),
        )
    heaviest = max(leaf.total_g for leaf in plan.hang.leaf_masses)
    parts.insert(0, Para(lead="It weighs", text=f"{words.mass(heaviest)} in its heaviest leaf; plan {plan.stamp}."))
    return Sheet(
        name="household",
        title="Household card",
        todo="Hang this inside a cupboard door near the piece.",
        wrong="It rattles, tilts or has moved? Keep people away from under it, and take it down with two people.",
        parts=tuple(parts),
    )


def _behind(plan: Plan, found: tuple[Hiding, ...], rows: tuple[tuple[str, str], ...]) -> list[Part]:
    """What lies behind the piece beside its back; where there are several leaves under it all of them."""
    table = Table(
        columns=(Column(kind="strong", mm=24.0), Column(wide=True)), rows=rows, groups=tuple(range(len(rows)))
    )
    told: list[Part] = [
        Heading(text="Behind this piece"),
        table if rows else Para(text="Nothing but the wall."),
        Para(lead="Never hidden:", text=f"{NEVER_COVERED}. Local codes and licensed practice govern.", small=True),
        Para(text=_stands_on(plan), small=True),
    ]
    backs = [part for one in found for part in _back(plan, one)]
    if several_leaves(plan):
        return [*told, *_front(plan), *backs]
    return [Beside(left=tuple(backs), right=tuple(told), left_mm=DRAWN_MM)]


def _named(plan: Plan, fixture: Fixture) -> str:
    """A thing, and which leaf is opened for it."""
    names = leaves_to_open(plan, fixture) if several_leaves(plan) else ()
    return f"{fixture.name}: open {'leaf' if len(names) == 1 else 'leaves'} {listed(names)}" if names else fixture.name


def _hands(plan: Plan, one: Hiding) -> int:
    return people_to_lift(plan, one.leaf.name) if plan.brief.access.opens is Opens.LIFT_OFF else 1


def _alone(plan: Plan) -> list[Part]:
    groups = alone_groups(plan, hiding(plan))
    parts = [part for mine in groups for part in alone_parts(plan, _hands(plan, mine[0]), mine)]
    return [Heading(text="At night, and alone"), *parts] if parts else []


def _front(plan: Plan) -> list[Part]:
    """Which leaf to open, where there are several."""
    if not several_leaves(plan):
        return []
    drawing = fitted(front_drawing(plan), width_mm=room(plan).width_mm - 1, height_mm=_tall_mm(plan))
    return [Drawn(drawing=drawing, caption="Seen from the front. Heavy: what is opened. Dashed: what lies behind it.")]


def _tall_mm(plan: Plan) -> float:
    return 30.0 if several_leaves(plan) else 44.0


def _back(plan: Plan, one: Hiding) -> list[Part]:
    drawing = fitted(access_drawing(plan, one.hung, one.leaf), width_mm=DRAWN_MM, height_mm=_tall_mm(plan))
    which = f"Leaf {one.leaf.name}: its back. " if several_leaves(plan) else "Seen from here, the back. "
    return [Drawn(drawing=drawing, caption=f"{which}Dashed: what lies before it.")]


def _taking_off(plan: Plan, found: tuple[Hiding, ...]) -> list[Part]:
    """On both cards: the one that is glued to the back is read too late by somebody who stands before the piece."""
    opens = plan.brief.access.opens
    return [
        Heading(text="Opening it, and taking it off" if opens is Opens.SWING else "Taking it off"),
        *_steps(plan, found),
        *cares(plan, "open"),
    ]


def _steps(plan: Plan, found: tuple[Hiding, ...]) -> list[Part]:
    """The steps of each leaf that hides something; leaves with the same steps share them."""
    shared: dict[tuple[str, ...], list[Hiding]] = {}
    for one in found:
        texts = (*_opening(plan, one.hung, one.leaf), *_off(plan, one.hung))
        shared.setdefault(texts, []).append(one)
    parts: list[Part] = []
    for texts, mine in shared.items():
        if several_leaves(plan):
            parts.append(Para(lead=f"{'; '.join(opened_for(one) for one in mine)}.", text=""))
        parts.append(Steps(texts=texts))
    return parts


def _heat(plan: Plan) -> str:
    """What warms it: a manifold behind it does so by itself."""
    sun = "direct sun bleaches shades unevenly."
    if any(fixture.kind is FixtureKind.MANIFOLD for fixture in plan.brief.fixtures):
        return f"The manifold behind it warms it already: no other heater and no lamp close before it; {sun}"
    return f"No heater or lamp close under or before it; {sun}"


def _opening(plan: Plan, hung: LeafHang, leaf: Leaf) -> tuple[str, ...]:
    words, access = words_of(plan), plan.brief.access
    moves = move_steps(plan, hung.leaf, words)
    locked = access.lock and access.opens is Opens.LIFT_OFF  # no lock is fitted to a leaf on hinges
    lock = ("Turn the button of the lock at the foot out to the side.",) if locked else ()
    tool = ("Take out the screw that holds it shut; the tool hangs beside this card.",) if access.tool else ()
    if access.opens is Opens.SWING:
        return (
            *moves,
            *lock,
            *tool,
            f"Seen from the front it is hung on its {access.hinge.value}: pull at the other edge, fingers behind it. "
            f"It opens to {access.angle_deg:g}°.",
            "Do not lean on it while it stands open. Shut it until the catch holds.",
        )
    lift = words.length(hung.room.wanted_nm) if hung.room is not None else "a hand's breadth"
    return (
        *moves,
        clear_step(plan, leaf, words),
        *lock,
        *tool,
        *stand_steps(plan, hung.leaf, words),
        f"Hold it by its backer or frame, never by a block. Lift it {lift} straight up{_no_higher(plan, hung, words)}, "
        "then towards you.",
        put_down_words(plan.layout, plan.body, plan.brief.piece.unit, words.length),
    )


def _no_higher(plan: Plan, hung: LeafHang, words: Words) -> str:
    """The most that it may be lifted where it has a lock: its ledge stays behind it with the button turned out too."""
    button = turn_button(plan.body.of(hung.leaf, hung.copy))
    if button is None:
        return ""
    return f", no more than {words.length(button.lift_nm)} (higher, its ledge meets the button, turned out as well)"


def _held_by(plan: Plan) -> str:
    return "hinges" if plan.brief.access.opens is Opens.SWING else "cleat"


def _off(plan: Plan, hung: LeafHang) -> tuple[str, ...]:
    """Of a piece that swings: how it comes off the wall, which to open it does not ask for."""
    if plan.brief.access.opens is not Opens.SWING:
        return ()
    words = words_of(plan)
    props = move_steps(plan, hung.leaf, words, props_on=under_props(plan, hung))
    told = move_steps(plan, hung.leaf, words)
    return (*(step for step in props if step not in told), *off_words(plan, hung, words))


def _opened(per_year: float) -> str:
    if per_year <= 0:
        return "never"
    return "once a year" if per_year == 1 else f"{per_year:g} times a year"


def _asks(plan: Plan, fixture: Fixture) -> str:
    """What this kind of fixture must be granted, and who may say whether it is."""
    rule = ACCESS[fixture.kind]
    behind, grant = _copies(plan, fixture.copies), _granted(plan, fixture)
    return f"{behind[:1].upper()}{behind[1:]}. {grant} {rule.ask}" if behind else f"{grant} {rule.ask}"


def _granted(plan: Plan, fixture: Fixture) -> str:
    """What is granted; of a working space that falls short what there is, and who agreed, never that it is empty."""
    grant = ACCESS[fixture.kind].grant
    asked = [c for c in plan.checks if c.name in ("space", "open_space") and c.subject == fixture.name]
    short = [c for c in asked if c.verdict is not Verdict.FINE or c.settled is not None]
    if not short:
        return grant
    space = next((c for c in short if c.settled is None), short[0])
    by = f"as agreed by {space.settled.by} on {space.settled.on}" if space.settled else "which nobody has agreed to"
    return grant.replace(SPACE_KEPT, f"working space before it {by}")


def _stands_on(plan: Plan) -> str:
    rules = {ACCESS[fixture.kind].source for fixture in plan.brief.fixtures}
    return f"Sources: {'; '.join(sorted(rules))}." if rules else "Sources: common practice, no source."


def _copies(plan: Plan, copies: tuple[int, ...]) -> str:
    if plan.brief.piece.copies == 1 or not copies:
        return ""
    return f"behind piece {listed([str(copy) for copy in copies])}"
