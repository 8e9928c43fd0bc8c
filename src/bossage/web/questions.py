"""A brief from five plain questions: the wall, what to hide, what stands below, the block, the colours.

What the maker typed goes into the text as it was typed, so that the reading of the brief finds every fault and says it
in its own words. Only what is worked out of it (studs, heights, lightness) needs to be understood here; where it cannot
be, the typed text stands in its place and is complained of there.
"""

from __future__ import annotations

from bossage.brief.terms import PEOPLE_ON
from bossage.colour.spaces import hex_to_lab
from bossage.errors import BossageError
from bossage.units import NM_PER_MM, format_length, parse_length_nm
from bossage.web.models import AnswersIn, Length

LEVELS = 5
LOW_SHARE = 0.43  # of the tallest block: enough that the light plays, common practice, no source
SHADES = 4
LEAST_SPREAD = 18.0  # of lightness from a home to where the families meet, or the fade is too faint to see
MARK_NM = {"mm": NM_PER_MM, "in": 3_175_000}  # heights fall on whole millimetres, or eighths of an inch


def brief_of(answers: AnswersIn) -> str:
    """The TOML of the brief that the answers tell."""
    unit, wall, hide, block = answers.unit, answers.wall, answers.hide, answers.block
    lines = [
        "# Begun with five questions. Everything that is left out gets a usual value, and the plan says which.",
        "",
        "[piece]",
        _line("name", answers.name),
        _line("unit", unit),
        "",
        "[wall]                    # measured from its left corner and from the floor",
        _line("width", wall.width),
        _line("height", wall.height),
        _line("build", wall.build),
    ]
    if wall.build != "masonry" and wall.first_stud is not None and wall.stud_spacing is not None:
        lines.append(_line("studs", _studs(wall.width, wall.first_stud, wall.stud_spacing, unit)))
    if answers.below is not None and answers.below.kind in PEOPLE_ON:
        lines.append(_line("below", PEOPLE_ON[answers.below.kind].value))
    lines += [
        "",
        "[[fixture]]               # what to hide",
        _line("name", hide.name or hide.kind),
        _line("kind", hide.kind),
        *(_line(key, getattr(hide, key)) for key in ("x", "y", "width", "height", "proud")),
    ]
    if answers.below is not None:
        below = answers.below
        lines += ["", "[[furniture]]", _line("name", below.kind), _line("kind", below.kind)]
        lines += [_line(key, getattr(below, key)) for key in ("x", "width", "top")]
        if below.far is not None:
            lines.append(_line("far", below.far))
        if below.moved is not None:
            lines.append(_line("moved", below.moved))
            if below.moved_by.strip():
                lines.append(_line("moved_by", below.moved_by.strip()))
    lines += [
        "",
        "[blocks]",
        _line("levels", _levels(block.tallest, unit)),
        "",
        "[[footprint]]             # the face of a block, as measured with calipers",
        _line("width", block.width),
        _line("height", block.height),
    ]
    for family, home in zip(_families(answers), ("left", "right"), strict=True):
        name, colour, lightness = family
        lines += ["", "[[family]]                # its shades, by lightness from 0 (black) to 100 (white)"]
        lines += [_line("name", name), _line("colour", colour), _line("lightness", lightness), _line("home", home)]
    return "\n".join([*lines, ""])


def _line(key: str, value: object) -> str:
    import tomlkit

    if isinstance(value, float) and value == int(value):
        value = int(value)
    return f"{key} = {tomlkit.item(value).as_string()}"


def _studs(width: Length, first: Length, spacing: Length, unit: str) -> object:
    try:
        end, start, step = (parse_length_nm(value, unit) for value in (width, first, spacing))
    except BossageError:
        return [first]
    if step <= 0 or (end - start) // step > 200:
        return [spacing]
    return [_written(at, unit) for at in range(start, end, step)]


def _levels(tallest: Length, unit: str) -> object:
    """Evenly stepped heights up to the tallest."""
    try:
        top = parse_length_nm(tallest, unit)
    except BossageError:
        return [tallest]
    mark = MARK_NM[unit]
    step = max(mark, round(top * (1 - LOW_SHARE) / (LEVELS - 1) / mark) * mark)
    levels = [top - number * step for number in reversed(range(LEVELS)) if top - number * step > 0]
    return [_written(level, unit) for level in levels] or [tallest]


def _families(answers: AnswersIn) -> list[tuple[str, str, list[int]]]:
    """Two scales that begin at the colours asked for and meet at one lightness."""
    one, other = answers.colours.left, answers.colours.right
    try:
        from_l, to_l = (float(hex_to_lab(text)[0]) for text in (one, other))
    except BossageError:
        from_l, to_l = 70.0, 40.0
    meet = (from_l + to_l) / 2
    if abs(from_l - to_l) < 2 * LEAST_SPREAD:
        lower, upper = min(from_l, to_l) - LEAST_SPREAD, max(from_l, to_l) + LEAST_SPREAD
        meet = lower if lower >= 15 else upper
    scales = [[round(start + (meet - start) * n / (SHADES - 1)) for n in range(SHADES)] for start in (from_l, to_l)]
    names = (answers.colours.left_name or "first", answers.colours.right_name or "second")
    return [(name, colour, scale) for name, colour, scale in zip(names, (one, other), scales, strict=True)]


def _written(nm: int, unit: str) -> object:
    if unit == "in" or nm % NM_PER_MM:
        return format_length(nm, unit)
    return nm // NM_PER_MM
