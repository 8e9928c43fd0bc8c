"""How random the heights of a piece look, in a maker's words."""

from __future__ import annotations

from bossage.checks import Check, Verdict
from bossage.relief.likeness import CAUGHT_Z, Likeness, compare_with_fair
from bossage.relief.measure import Randomness, measure_randomness
from bossage.relief.problem.records import HeightProblem, IntArray

COMPARED_UP_TO = 2_500  # blocks up to which fair draws are made to compare with
FAIR_DRAWS = 16
FAIR_SWEEPS = 8
WORDS = {
    "moran": "how far neighbours' heights stand apart",
    "moran_rows": "how far neighbours along rows stand apart",
    "moran_cols": "how far neighbours along columns stand apart",
    "pair_distance": "which heights stand side by side",
    "pair_distance_rows": "which heights stand side by side in rows",
    "pair_distance_cols": "which heights stand side by side in columns",
    "two_apart": "blocks two steps apart",
    "lag2_rows": "every other block along rows",
    "lag2_cols": "every other block along columns",
    "diagonal": "blocks along the diagonal",
    "antidiagonal": "blocks along the other diagonal",
    "alternation": "fours that read a b over b a",
    "abab_rows": "runs a b a b in rows",
    "abab_cols": "runs a b a b in columns",
    "peak": "waves over the whole piece",
    "drift": "regions that stand high or low",
}


def likeness_of(problem: HeightProblem, levels: IntArray) -> Likeness | None:
    """The field among fair draws of its problem, or None for a piece too large for that."""
    if not 0 < problem.block_count <= COMPARED_UP_TO or not len(problem.edges):
        return None
    return compare_with_fair(problem, levels, draws=FAIR_DRAWS, sweeps=FAIR_SWEEPS)


def look_check(problem: HeightProblem, levels: IntArray, likeness: Likeness | None, draws: int) -> Check:
    """The verdict: fine where the heights pass for a fair draw under the rule, and were compared with some."""
    figures = likeness.own if likeness else measure_randomness(problem, levels)
    caught = likeness.caught if likeness else ()
    found = f"{_pairs(figures)} {_patterns(likeness)}"
    if draws > 1:
        found += f" This is draw {draws} of its seed; those before looked less even."
    return Check(
        stage="relief",
        name="looks_random",
        title="How random the heights look",
        verdict=Verdict.CAUTION if caught or likeness is None else Verdict.FINE,
        found=found,
        allowed=f"Every figure within {CAUGHT_Z:g} spreads of fair draws that keep the same rule and counts.",
        why="The eye finds stripes, a chessboard or clumps at once where chance would have made none.",
        remedy="Take another seed, or one level more." if caught else "",
        care="" if caught else "Look at it on the screen from across the room.",
        source="Pair law by Sinkhorn scaling; correlation by Moran (1950), Cliff and Ord (1981); spreads by own draws.",
    )


def _pairs(figures: Randomness) -> str:
    return (
        f"Heights of neighbours correlate at {figures.moran:.2f}; a fair draw that keeps neighbours unlike gives "
        f"{figures.moran_fair:.2f}. Of 100 pairs of neighbours {100 * figures.pair_distance:.0f} would have to be "
        "others to match fair pairs exactly."
    )


def _patterns(likeness: Likeness | None) -> str:
    if likeness is None:
        return (
            f"Whether an eye would see stripes or clumps is not known: fair draws to compare with are made up to "
            f"{COMPARED_UP_TO:,} blocks."
        )
    if likeness.caught:
        return f"An eye would see {' and '.join(likeness.caught)}."
    named = {name: abs(z) for name, z in likeness.z.items() if name in WORDS}
    furthest = max(named, key=lambda name: (named[name], name))
    return (
        f"No stripes, no chessboard, no clumps: among {FAIR_DRAWS} fair draws the figure furthest off is "
        f"{WORDS[furthest]}, by {named[furthest]:.1f} times their spread."
    )
