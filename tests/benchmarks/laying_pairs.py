"""How well pairs match when the light is fitted to the print: run with ``python -m tests.benchmarks.laying_pairs``.

Cloth up to 1 1/2 % long or short, 1 % wide or narrow, skewed and bowed up to 3 % of its width, laid up to 1/2 in and
1 1/2 degrees off. Shown: the share of pairs whose cut edges match each other's print within 1/16 in over the whole
cloth width, and what 95 of 100 stay within; for three meanings of "placed to 1/32 in"; and with the light left alone.
"""

from __future__ import annotations

import sys

import numpy as np

from tests.projector.demo import laying_trials as trials

BOLTS = {
    "repeat 12 3/8 x 13 1/4 on 54, turned pair": trials.Bolt(),
    "the same, upright pair": trials.Bolt(turned=False),
    "repeat 25 x 13 1/2 on 55": trials.Bolt(25, 13.5, 55),
    "repeat 18 x 6 3/8 on 54": trials.Bolt(18, 6.375),
    "repeat 9 x 17 5/8 on 54 (three columns)": trials.Bolt(9, 17.625),
}
COUNTS = (4, 6, 9, 16)


def main(count: int = 400) -> None:
    """Print the table; ``count`` pairs for each figure."""
    for name, bolt in BOLTS.items():
        print(f"\n{name}: {count} pairs each")
        rng = np.random.default_rng(1)
        _show("  light left alone", [trials.mismatch_unlaid(bolt, rng) for _ in range(count)])
        for placed in trials.PLACED:
            for points in COUNTS:
                rng = np.random.default_rng(2)
                missed = [trials.mismatch(bolt, rng, placed, points) for _ in range(count)]
                _show(f"  {points:2} points, {placed}", missed)


def _show(what: str, missed: list[float]) -> None:
    found = np.array(missed)
    within = 100 * (found <= 1 / 16).mean()
    print(f"{what:60} within 1/16 in: {within:5.1f} %   95 of 100 within {np.quantile(found, 0.95):.3f} in")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 400)
