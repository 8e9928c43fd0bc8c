"""What a mosaic's checks tell: crosses with their bound, joints that run through, shares that gave way."""

from __future__ import annotations

from bossage.brief.records import Brief
from bossage.checks import Check, Verdict
from bossage.layout.records import Leaf, Mosaic
from bossage.layout.words import Voice

SAID_MOST = 6  # joints named one by one


def check_mosaics(
    brief: Brief, leaves: tuple[Leaf, ...], mosaics: tuple[Mosaic, ...], voice: Voice
) -> tuple[Check, ...]:
    """`crosses` for each leaf, `through_joints` where they are not wanted, `shares` where they gave way."""
    checks = []
    for mosaic in mosaics:
        leaf = leaves[mosaic.leaf]
        subject = f"{leaf.name}, copy {leaf.copy}" if brief.piece.copies > 1 else leaf.name
        subject = subject if len(leaves) > 1 else ""
        checks.append(_check_crosses(mosaic, subject, voice))
        if not brief.blocks.through_joints:
            checks.append(_check_through(leaf, mosaic, subject, voice))
        if mosaic.counts != mosaic.asked:
            checks.append(_check_shares(brief, mosaic, subject, voice))
    return tuple(checks)


def _check_crosses(mosaic: Mosaic, subject: str, voice: Voice) -> Check:
    many = f"{mosaic.crosses} point{'' if mosaic.crosses == 1 else 's'} where four corners meet"
    fewest = mosaic.crosses == mosaic.least_crosses
    bound = "no laying of these counts has fewer" if fewest else f"none can have fewer than {mosaic.least_crosses}"
    return voice.check(
        "crosses",
        "Four corners that meet",
        Verdict.FINE,
        found=f"{many if mosaic.crosses else 'no point where four corners meet'}; {bound}",
        allowed="as few as can be",
        why="four corners in one point draw the eye, and show any error of size at once",
        remedy="",
        source="each block keeps only so many points of the grid from being a cross; geometry",
        subject=subject,
    )


def _check_through(leaf: Leaf, mosaic: Mosaic, subject: str, voice: Voice) -> Check:
    joints = mosaic.through_joints
    words = [f"between {'columns' if way == 'upright' else 'rows'} {at} and {at + 1}" for way, at in joints[:SAID_MOST]]
    more = f" and {len(joints) - SAID_MOST} more" if len(joints) > SAID_MOST else ""
    lines = leaf.columns + leaf.rows - 2
    reason = (
        f"with these counts some must: blocks of more than one cell are too few, or lie so, that not all "
        f"{lines} lines of the grid can be crossed (proven)"
        if mosaic.through_proven
        else "no laying without was found; that there is none is not proven"
    )
    return voice.check(
        "through_joints",
        "Joints that run through",
        Verdict.CAUTION if joints else Verdict.FINE,
        found=f"{len(joints)} run from edge to edge: {', '.join(words)}{more}; {reason}"
        if joints
        else "no joint runs from edge to edge",
        allowed="none, as the brief asks",
        why="a joint from edge to edge reads as a crack, and the piece as two",
        remedy="ask for more blocks of two cells and more, or allow it: blocks.through_joints = true",
        source="the brief",
        subject=subject,
    )


def _check_shares(brief: Brief, mosaic: Mosaic, subject: str, voice: Voice) -> Check:
    pairs = [
        f"{have} {f.name} in place of {asked}"
        for f, have, asked in zip(brief.blocks.footprints, mosaic.counts, mosaic.asked, strict=True)
        if have != asked
    ]
    return voice.check(
        "shares",
        "Shares that gave way",
        Verdict.FINE,
        found=f"{', '.join(pairs)}: the grid has no filling with the shares as asked, or none was found",
        allowed="shares as near as they come",
        why="a share is a wish; a count is kept to the block",
        remedy="",
        source="the brief",
        subject=subject,
    )
