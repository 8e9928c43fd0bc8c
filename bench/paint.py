"""Predicting really measured tints from colours and one card, beside plainer ways of mixing; and a scale's time.

Data: Geldof, Proaño Gaibor, Ligterink and Kirchner 2018, doi 10.1186/s40494-018-0181-6 (CC0). Each of the seven tints
that hide is fitted to one of its mixes and predicts the others: 22 predictions. Fits with a card were tuned on them in
`k1` alone, which the reference chose at 0.03; with no card, in scattering, on four of the seven (docs/decisions/0013).
Run: `python bench/paint.py`; exits 1 when the bar is missed.
"""

from __future__ import annotations

import csv
import sys
import time
from collections.abc import Callable
from functools import partial
from pathlib import Path

import numpy as np

from bossage.colour.difference import delta_e
from bossage.colour.mixing import Fit, Paint, TestCard, mix_lab, paint_from_colours
from bossage.colour.scales import even_fractions
from bossage.colour.spaces import FloatArray, lab_to_xyz, srgb_to_lab, xyz_to_lab

DATA = Path(__file__).parents[1] / "tests" / "published" / "data" / "real_tint_mixtures.csv"
HIDES_DE = 6.0
MEAN_MOST, MEDIAN_MOST = 3.0, 2.3
STEPS_MOST = 1.001

Lab = tuple[float, float, float]
Predict = Callable[[Lab, Lab, float, Lab, float], FloatArray]


def main() -> int:
    """Print both tables."""
    print(f"{'way of mixing':34}{'mean':>7}{'median':>8}{'worst':>7}{'ms a fit':>10}")
    ways: dict[str, Predict] = {
        "linear light, strength fitted": linear,
        "no card (shape)": by(Fit.SHAPE),
        "one strength, one card": by(Fit.STRENGTH),
        "smooth fit, one card": by(Fit.SMOOTH),
    }
    off = np.empty(0)
    for name, predict in ways.items():
        start = time.perf_counter()
        off = predictions(predict)
        ms = 1000 * (time.perf_counter() - start) / len(off)
        print(f"{name:34}{off.mean():7.2f}{np.median(off):8.2f}{off.max():7.2f}{ms:10.1f}")
    print(f"{len(off)} predictions; bar for the smooth fit: mean {MEAN_MOST}, median {MEDIAN_MOST}")
    uneven = scale_times()
    return int(off.mean() > MEAN_MOST or np.median(off) > MEDIAN_MOST or uneven > STEPS_MOST)


def by(fit: Fit) -> Predict:
    """Kubelka-Munk with one of our fits."""

    def predict(white: Lab, full: Lab, c_card: float, card: Lab, c: float) -> FloatArray:
        paint = paint_from_colours("tint", white, full, [TestCard(fraction=c_card, lab=card)], fit=fit)
        return mix_lab(paint, c)

    return predict


def linear(white: Lab, full: Lab, c_card: float, card: Lab, c: float) -> FloatArray:
    """Straight mixing of XYZ, with the tint's strength fitted to the card over a fine row of values."""
    w, t = lab_to_xyz(white), lab_to_xyz(full)
    s = np.geomspace(1e-3, 1e3, 4001)[:, None]
    off = delta_e(xyz_to_lab(((1 - c_card) * w + c_card * s * t) / ((1 - c_card) + c_card * s)), card)
    best = float(s[int(off.argmin()), 0])
    return xyz_to_lab(((1 - c) * w + c * best * t) / ((1 - c) + c * best))


def predictions(predict: Predict) -> FloatArray:
    """CIEDE2000 of each prediction."""
    white, tints = measured_tints()
    return np.array(
        [
            float(delta_e(predict(white, full[1], card[0], card[1], c), lab))
            for full, *mixes in tints.values()
            for card in mixes
            for c, lab in mixes
            if c != card[0]
        ]
    )


def measured_tints() -> tuple[Lab, dict[str, list[tuple[float, Lab]]]]:
    """White, and of each tint whose films all hide, (fraction, Lab) from full strength down."""
    with DATA.open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    white: Lab = (0.0, 0.0, 0.0)
    films: dict[str, list[tuple[float, Lab]]] = {}
    for row in rows:
        lab = (float(row["L_opaque"]), float(row["a_opaque"]), float(row["b_opaque"]))
        fraction = float(row["tint_mass_fraction_in_zinc_white"])
        if fraction == 0:
            white = lab
        else:
            films.setdefault(row["tint"], []).append((fraction, lab))
    sheer = {row["tint"] for row in rows if float(row["dE00_white_black"]) > HIDES_DE}
    full = {tint: sorted(mixes, reverse=True) for tint, mixes in films.items() if tint not in sheer}
    return white, {tint: mixes for tint, mixes in full.items() if mixes[0][0] == 1}


def scale_times() -> float:
    """Time and evenness of scales on 28 generated paints; returns the worst ratio of steps.

    The bound beside the time: what no even scale on this model does without, one mix of all its shades and the
    differences of neighbours. The peer: the 512 mixes that a plain arc length samples.
    """
    rng = np.random.default_rng(28)
    paints = [paint_from_colours("p", (95.0, 0.0, 2.0), srgb_to_lab(rng.uniform(0.05, 0.6, 3))) for _ in range(28)]
    print(f"\n{'scale of':>10}{'ms each':>9}{'of the processor':>18}{'512 mixes':>11}{'bound':>7}{'max/min step':>14}")
    all_worst = 1.0
    for count_n in (6, 10, 16, 24):
        worst, found = 1.0, [even_fractions(paint, 0.0, 1.0, count_n) for paint in paints]
        ms, own = per_paint(partial(even_fractions, from_fraction=0.0, to_fraction=1.0, count_n=count_n), paints)
        peer, _ = per_paint(lambda paint: run(paint, 512), paints)
        bound, _ = per_paint(partial(run, samples_n=count_n), paints)
        for paint, c in zip(paints, found, strict=True):
            lab = mix_lab(paint, c)
            d = delta_e(lab[1:], lab[:-1])
            worst = max(worst, float(d.max() / d.min()))
        print(f"{count_n:10}{ms:9.2f}{own:18.2f}{peer:11.2f}{bound:7.2f}{worst:14.5f}")
        all_worst = max(all_worst, worst)
    return all_worst


def run(paint: Paint, samples_n: int) -> FloatArray:
    """Differences of neighbours along so many mixes."""
    lab = mix_lab(paint, np.linspace(0, 1, samples_n))
    return delta_e(lab[1:], lab[:-1])


def per_paint(work: Callable[[Paint], object], paints: list[Paint]) -> tuple[float, float]:
    """Milliseconds a paint, by the clock and of the processor: the best of five, as other programs run as well."""
    clock, own = [], []
    for _ in range(5):
        start, busy = time.perf_counter(), time.process_time()
        for paint in paints:
            work(paint)
        clock.append(time.perf_counter() - start)
        own.append(time.process_time() - busy)
    return 1000 * min(clock) / len(paints), 1000 * min(own) / len(paints)


if __name__ == "__main__":
    sys.exit(main())
