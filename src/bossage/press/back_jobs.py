"""The jobs of making the back, in the order that its joints ask for: sawn, held, hung bare as a trial; then coated."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from bossage.body import Body, How, Part, Step, word_of
from bossage.brief.records import Brief
from bossage.paint.coats import CoatRun

CUT_SHARE, HOLD_SHARE, SEAL_SHARE = 0.3, 0.2, 0.2
WALL_SHARE, TRY_SHARE = 0.1, 0.05
"""Of the fixed hours; the rest is hanging. Ours."""


@dataclass(frozen=True, slots=True, kw_only=True)
class BackJob:
    """One job: its share of the fixed hours, then hours that pass by themselves as a step of their own."""

    step: str
    title: str
    share: float
    note: str = ""
    wait: str = ""
    wait_title: str = ""
    wait_h: float = 0.0


def back_jobs(brief: Brief, body: Body) -> tuple[BackJob, ...]:
    """What is done to the back before the first tin is opened: it makes dust, and every glue wants bare wood.

    The wall half goes up and is loaded before the back, as its loose panel half carries the weights; a hinge post goes
    up with the leaf on it.

    Args:
        brief: Clamp time of the glue.
        body: Its steps.
    """
    of = {(part.leaf, part.name): part for part in reversed(body.parts)}  # the first copy's
    parts = {kind: _parts(body.steps, kind, of) for kind in ("saw", "wall", "proof")}
    glued = any(step.kind == "hold" and step.how in (How.GLUE, How.GLUE_AND_SCREWS) for step in body.steps)
    sawn = [f"{'openings' if part.openings_nm else 'notches'} in the {word_of(part)}" for part in parts["saw"]]
    cut = f"Cut the parts of the back{_with(dict.fromkeys(sawn))}"
    on_wall = f"On the wall: {names_of(parts['wall'])}"
    loaded = BackJob(
        step="wall",
        title=f"{on_wall}; load the wall half as a trial",
        share=WALL_SHARE,
        note="The panel half is loose until then: the weights hang from it.",
    )
    first = [loaded] if parts["proof"] else []
    together = bool(parts["wall"]) and not first
    return (
        BackJob(step="backer", title=cut, share=CUT_SHARE, note="No sawdust while paint is wet."),
        *first,
        *_held(brief, body.steps, of, glued=glued),
        BackJob(
            step="trial",
            title=f"{on_wall}; hang the bare backer" if together else "Hang the bare backer",
            share=TRY_SHARE if first else WALL_SHARE + TRY_SHARE,
            note="As a trial, before anything is laid; then take it off.",
        ),
    )


def backer_jobs(rounds: tuple[CoatRun, ...], *, ring: bool) -> tuple[BackJob, ...]:
    """Every round of sealer and colour on the backer, in which it lies apart from the blocks.

    Args:
        rounds: As paint gives them.
        ring: Whether there is an edge ring, for whose strips a margin of the back stays bare.
    """
    return tuple(
        BackJob(
            step="seal",
            title=run.title,
            share=SEAL_SHARE / len(rounds),
            note="Mask the bare margin for the strips first." if ring and "Seal" in run.title else "",
            wait="dry",
            wait_title="Drying of the backer",
            wait_h=run.dry_h,
        )
        for run in rounds
    )


def _held(brief: Brief, steps: tuple[Step, ...], of: dict[tuple[str, str], Part], *, glued: bool) -> Iterator[BackJob]:
    """What goes on the backer, layer by layer: what is glued on another part waits until that is out of its clamps."""
    layers = _layers(steps)
    if not layers:
        yield BackJob(step="back", title="The back: break edges, dust off", share=HOLD_SHARE)
        return
    parts = [[of[step.leaf, name] for step in layer for name in step.parts] for layer in layers]
    many = sum(map(len, parts))
    for number, mine in enumerate(parts):
        then = "in this order" if number == 0 else "then"
        yield BackJob(
            step="back",
            title=f"On the back, {then}: {names_of(mine)}",
            share=HOLD_SHARE * len(mine) / many,
            note="Glue on bare wood.",
            wait="cure" if glued else "",
            wait_title="Leave the glue of the back to set",
            wait_h=brief.glue.clamp_min / 60 if glued else 0.0,
        )


def _layers(steps: tuple[Step, ...]) -> list[list[Step]]:
    """Steps that hold, by how many glued joints lie between their parts and the backer."""
    height: dict[tuple[str, str], int] = {}
    layers: list[list[Step]] = []
    for step in (one for one in steps if one.kind == "hold"):
        layer = max((height.get((step.leaf, name), -1) for name in step.on), default=-1) + 1
        for name in step.parts:
            height[step.leaf, name] = layer
        while len(layers) <= layer:
            layers.append([])
        layers[layer].append(step)
    return layers


def names_of(parts: Iterable[Part]) -> str:
    """Names of parts in their order, each once: `ribs, packer, panel half`."""
    counts = Counter((part.leaf, word_of(part)) for part in parts)
    most: dict[str, int] = {}
    for (_, word), count in counts.items():
        most[word] = max(most.get(word, 0), count)
    return ", ".join(plural(word) if count > 1 else word for word, count in most.items())


def _parts(steps: tuple[Step, ...], kind: str, of: dict[tuple[str, str], Part]) -> list[Part]:
    return [of[step.leaf, name] for step in steps if step.kind == kind for name in step.parts]


def plural(word: str) -> str:
    """A part's word for several of them."""
    return f"{word[:-1]}ves" if word.endswith("half") else word if word.endswith(("s", "ing")) else f"{word}s"


def _with(sawn: Iterable[str]) -> str:
    said = " and ".join(sawn)
    return f", saw the {said}" if said else ""
