"""Panels laid back and photographed once: how true it is what that tells of their cuts, and of whether mates match.

    python -m tests.benchmarks.mating [PANELS [LONG_PX [FIRST]]]

Each panel is cut from the cloth of a rig of its own (``tests/calibration/laying/panels.py``): prints of all plane
groups, with and without glides and drops, cloth stretched, skewed, bowed and a little uneven. One in four each is cut
as planned, off its rows by up to 1/4 in, aslant by up to 1/4 in, and both with a wrong length; of every five the fourth
is half a width of the cloth, the fifth longer than the table, every third lies turned by half a turn. Told is by how
much what the photograph says is off the truth, at both sides of both ends where a seam would be, worst of each panel
and of all; how often what is said of 95 in 100 holds; how often a mate cut as planned, allowed to miss by 1/16 in, is
rightly and wrongly said to match or to miss, or left open; and what was refused.
"""

from __future__ import annotations

import sys
import time
from collections import Counter

import numpy as np

from calibration.laying.laid_back import back_from_photograph
from calibration.problems import PhotographRefused
from projector.scene.mates import Higher, Verdict
from tests.calibration.laying.panels import EXACT, Fault, PanelRig, panel_rig

SEAM_IN = 1.5
"""How far inside its sides a panel is sewn or folded."""
TOLERANCE_IN = 1 / 16


def panel(seed: int, long_px: int) -> PanelRig:
    """The panel of this number."""
    rng = np.random.default_rng((seed, 77))
    off, first, last, longer = (float(rng.uniform(-0.25, 0.25)) for _ in range(4))
    faults = (
        (EXACT, EXACT),
        (Fault(off), Fault(off)),
        (Fault(0.0, first), Fault(0.0, last)),
        (Fault(off, first), Fault(off + longer, last)),
    )[seed % 4]
    more: dict[str, object] = {}
    if seed % 5 == 3:
        more["across"] = (0.0, 0.5)
    if seed % 5 == 4:
        more["length_in"] = 150.0
    return panel_rig(seed, long_px, faults, turned=seed % 3 == 2, **more)


def right(verdict: Verdict, truth_in: float) -> str:
    """What a verdict is worth."""
    if verdict is Verdict.OPEN:
        return "left open"
    return "right" if (verdict is Verdict.MATCHES) == (abs(truth_in) <= TOLERANCE_IN) else "wrong"


def main(panels: int, long_px: int, first: int) -> None:
    errors, worst, held, spent = [], [], [], []
    counts: Counter[str] = Counter()
    for seed in range(first, first + panels):
        made = panel(seed, long_px)
        photo, start = made.photo(), time.process_time()
        try:
            found = back_from_photograph(photo, made.made.table, made.planned())
        except PhotographRefused as refused:
            counts["refused"] += 1
            print(f"{seed}: {made.made.setting.group}: {refused.problems[0].code}", flush=True)
            continue
        spent.append(time.process_time() - start)
        if found.problems:
            counts["refused"] += 1
            print(f"{seed}: {made.made.setting.group}: {found.problems[0].code}", flush=True)
            continue
        width = made.panel.across[1] - made.panel.across[0]
        here = []
        for last in (False, True):
            counts["ends not seen"] += found.off(last, SEAM_IN) is None
            for across in (SEAM_IN, width - SEAM_IN):
                told, truth = found.off(last, across), made.truth(last, across)
                if told is not None:
                    here.append(told.off_in - truth)
                    held.append(abs(told.off_in - truth) <= told.within_in)
                    counts[right(Higher(told.off_in, told.within_in).verdict(TOLERANCE_IN), truth)] += 1
        errors += here
        worst.append(float(np.abs(here).max()))
        print(f"{seed}: {made.made.setting.group}: worst {worst[-1]:.4f} of {len(here)} seam ends", flush=True)
    off = np.abs(errors)
    print(f"{len(worst)} panels, {len(off)} seam ends; {dict(counts)}")
    print(
        f"off the truth: half within {np.median(off):.4f}, 95 of 100 within {np.quantile(off, 0.95):.4f}, "
        f"worst {off.max():.4f} in; half of the panels have none worse than {np.median(worst):.4f}"
    )
    print(f"said of 95 in 100, held in {100 * np.mean(held):.1f}; {np.median(spent):.1f} s of processor time each")


if __name__ == "__main__":
    given = [int(one) for one in sys.argv[1:]]
    main(*(given + [40, 1500, 0][len(given) :]))
