"""Which faces of which parts carry what when they are glued, so that a joint can ask; and what to say of it."""

from __future__ import annotations

from bossage.brief.records import Brief, EdgeStyle, Opens
from bossage.checks import Check, Verdict
from bossage.paint.way_records import FaceCoat, GroundWay

BARE_BEVELS = (
    "Both bevels and what touches the wall stay bare: sealed faces stick to one another. Rub them with wax when all "
    "paint is dry, before it hangs."
)
"""Common practice, no source."""


def waxed_bevels(brief: Brief) -> bool:
    """Whether a leaf hangs by bevels of wood."""
    return brief.access.opens is Opens.LIFT_OFF and brief.cleat.kind == "wood"


def face_coats(brief: Brief, way: GroundWay) -> tuple[FaceCoat, ...]:
    """Every face of the making, with its coat at the time of gluing.

    Parts on the back of the backer are glued before the back is sealed, so their glue fields are wood on both sides.
    """
    field = {"lines": "bare", "dye": "stain", "all over": "paint"}[way.name]
    told = {
        "lines": "Bare wood under every block; paint along gaps, at edges and in open cells only.",
        "dye": "Dyed without a film; the scrap test says whether the glue holds on it.",
        "all over": "Painted: the glue holds on paint, not on wood.",
    }[way.name]
    found = [
        FaceCoat(part="block", face="front", coat="paint", words="Primer and colour."),
        FaceCoat(part="block", face="sides", coat="paint", words="As the way of painting says."),
        FaceCoat(part="block", face="back", coat="bare", words="Bare wood: it is glued."),
        FaceCoat(part="backer", face="glue field", coat=field, words=told),
        FaceCoat(part="backer", face="edges", coat="paint", words="The ground's colour; bare under a lipping."),
        FaceCoat(
            part="backer",
            face="back",
            coat="bare",
            words="Parts behind are glued on to bare wood first; then what is left of the back is sealed."
            + (" The margin for the edge strips stays bare." if brief.edge.style is EdgeStyle.OUTRIGGER else ""),
        ),
        FaceCoat(part="behind", face="glue field", coat="bare", words="Bare where it is glued."),
        FaceCoat(part="cleat", face="glue field", coat="bare", words="Bare where it is glued."),
        FaceCoat(part="cleat", face="bevel", coat="bare", words=BARE_BEVELS),
        FaceCoat(part="foot", face="wall", coat="bare", words=BARE_BEVELS),
    ]
    if brief.edge.style is EdgeStyle.OUTRIGGER:
        front = (
            "Dyed past the backer, as its front is." if way.name == "dye" else "Painted along the ring's gaps alone."
        )
        found += [
            FaceCoat(part="strip", face="front", coat="stain" if way.name == "dye" else "bare", words=front),
            FaceCoat(part="strip", face="glue field", coat="bare", words="Bare on the backer; no film under the ring."),
        ]
    if brief.edge.style is EdgeStyle.BANDED:
        found.append(FaceCoat(part="lipping", face="glue field", coat="bare", words="Bare where it meets the backer."))
    return tuple(found)


def coat_of(coats: tuple[FaceCoat, ...], part: str, face: str) -> str:
    """What a face carries when it is glued: `bare`, `stain` or `paint`; `bare` where nothing is said of it."""
    return next((coat.coat for coat in coats if (coat.part, coat.face) == (part, face)), "bare")


def glue_checks(coats: tuple[FaceCoat, ...], ways: tuple[GroundWay, ...]) -> tuple[Check, ...]:
    """Whether every block is glued to wood."""
    way = next(one for one in ways if one.chosen)
    best = next(one for one in ways if one.advised)
    coat = coat_of(coats, "backer", "glue field")
    verdict = {"bare": Verdict.FINE, "stain": Verdict.CAUTION, "paint": Verdict.STOP}[coat]
    found = {
        "lines": f"{way.bare_field_mm2 / 1e6:.2f} m² of bare wood under the blocks.",
        "dye": f"{way.dyed_mm2 / 1e6:.2f} m² of front are dyed under the blocks.",
        "all over": f"{way.painted_mm2 / 1e6:.2f} m² of front are painted, the glue field with it.",
    }[way.name]
    remedy = {
        "lines": "",
        "dye": "Glue two offcuts of a stick on a dyed scrap of the same board; the day after, knock them off sideways. "
        "Wood must tear. If the joint comes off clean, paint lines instead.",
        "all over": f'Say `ground = "{best.name}"` in [paint], or scrape every glue field down to the wood.',
    }[way.name]
    return (
        Check(
            stage="paint",
            name="glue_on_wood",
            title="Blocks are glued to wood",
            verdict=verdict,
            found=found,
            allowed="Bare wood under every block, or a stain without a film that a scrap test has shown to hold.",
            why="On paint a block holds only as well as the paint holds on the board.",
            remedy=remedy,
            source="common practice, no source",
        ),
    )
