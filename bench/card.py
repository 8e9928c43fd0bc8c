"""How well test cards are read off 500 synthetic photos: error, stated uncertainty, and how often it holds the truth.

Targets (issue 4): median uncertainty at most 3 CIEDE2000, the truth within it for 90 to 97 % of the cards.

Run: python bench/card.py [--photos 500]
"""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

import numpy as np

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from tests.colour.test_card import misses_and_claims


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--photos", type=int, default=500)
    photos = parser.parse_args().photos
    missed, stated = misses_and_claims(photos)
    print(f"{photos} photos, {len(missed)} cards read")
    print(f"error        median {np.median(missed):.2f}  95th percentile {np.quantile(missed, 0.95):.2f} CIEDE2000")
    print(f"uncertainty  median {np.median(stated):.2f}")
    print(f"the truth lies within it for {(missed <= stated).mean():.1%}")


if __name__ == "__main__":
    main()
