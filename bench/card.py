"""How well test cards are read off 500 synthetic photos: error, stated uncertainty, and how often it holds the truth.

Two studios: the one that the reader's two constants were set on (daylight), and another with other lights, cameras,
paints, noise and fall of light, which nothing was set on. Targets: median uncertainty at most 3 CIEDE2000, and the
truth within it for 90 % of the other studio's cards, give or take 2 %. Exits 1 when that studio misses a target.

Run: python bench/card.py [--photos 500]
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.colour.photos import AWAY, HOME
from tests.colour.test_card import misses_and_claims


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--photos", type=int, default=500)
    photos = parser.parse_args().photos
    print(
        f"{'studio':12}{'cards':>7}{'error: median':>15}{'95th':>7}{'uncertainty: median':>21}{'holds the truth':>17}"
    )
    good = True
    for name, studio in (("set on", HOME), ("checked on", AWAY)):
        missed, stated = misses_and_claims(photos, studio)
        holds = float((missed <= stated).mean())
        print(
            f"{name:12}{len(missed):7}{np.median(missed):15.2f}{np.quantile(missed, 0.95):7.2f}"
            f"{np.median(stated):21.2f}{holds:17.1%}"
        )
        good = float(np.median(stated)) <= 3 and abs(holds - 0.90) <= 0.02
    return int(not good)


if __name__ == "__main__":
    sys.exit(main())
