"""What becomes of a calibration from photographs in which one thing is wrong.

    python -m tests.benchmarks.calibration_traps [RIGS [LONG_PX [FIRST]]]

The rigs are those of ``calibration_photographs``, every second one with cloth on its table; of five good photographs
one is spoilt, or their order, or one counts twice, or the length is typed wrong. Each becomes one of: refused; doubted
(taken, and said what is wrong); harmless (taken, and nowhere more than 1/8 in off); taken in silence and farther off.
The tape is read twice, as is asked for; how it ends if only one reading, the wrong one, is given is tried as well, or
the same wrong one twice: on a table that was never calibrated, and on one that was, by nine marks set by hand.
"""

from __future__ import annotations

import sys
from collections import Counter
from dataclasses import replace

import cv2
import numpy as np

from calibration.photographs.calibrating import calibrate
from calibration.photographs.detecting import Judged, judge
from calibration.photographs.taping import Taped
from calibration.problems import PhotographRefused, Refused
from calibration.table import Table
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, from_around, photograph
from projector.demo.virtual_projector import VirtualProjector
from projector.light.pattern import pattern_frame
from tests.benchmarks.calibration_photographs import PATTERN, TABLE_IN, by_hand, off_in, rig
from tests.calibration.photographs.printed import printed_cloth

HARM_IN = 1 / 8


def spoilt(taking: Taking, trap: str, rng: np.random.Generator) -> Taking:
    x, y = rng.uniform(0.2, 0.8, 2) * TABLE_IN
    usual = taking.blur_px
    return {
        "glare": replace(taking, glare=(x, y, float(rng.uniform(8, 25)))),
        "hand": replace(taking, hand=(x, y, float(rng.uniform(6, 20)))),
        "out of focus": replace(taking, blur_px=usual * float(rng.uniform(4, 12))),
        "moved": replace(taking, moved_px=usual * float(rng.uniform(10, 40))),
        "dark": replace(taking, exposure=float(rng.uniform(0.003, 0.08))),
    }.get(trap, taking)


def taken(lit: VirtualProjector, camera: VirtualCamera, taking: Taking, laid: object, number: int) -> Judged | None:
    """What the photograph gives; None where it is refused."""
    table = LitTable(lit, pattern_frame(PATTERN), laid, TABLE_IN)  # type: ignore[arg-type]
    grey = np.asarray(cv2.cvtColor(photograph(camera, table, taking), cv2.COLOR_RGB2GRAY))
    try:
        return judge(grey, PATTERN, "one", None, number)
    except PhotographRefused:
        return None


def typed_wrong(length: float, rng: np.random.Generator) -> float:
    """The length with one of its digits typed wrong, or two exchanged; a whole inch has two or three."""
    digits = list(str(int(length)))
    at = int(rng.integers(len(digits)))
    if rng.random() < 0.3 and digits[-1] != digits[-2]:
        digits[-2:] = digits[-1], digits[-2]
    else:
        digits[at] = str((int(digits[at]) + int(rng.integers(1, 10))) % 10)
    return max(float("".join(digits)), 1.0) + length % 1


def outcome(
    judged: list[Judged], readings: tuple[float, ...], lit: VirtualProjector, usual: int, before: Table | None = None
) -> str:
    try:
        made = calibrate(PATTERN, judged, Taped(readings), before)
    except Refused:
        return "refused"
    if len(made.doubts) > usual:
        return "doubted"
    return "harmless" if off_in(made.table, lit)[0] <= HARM_IN else "in silence"


def main(rigs: int, long_px: int, first: int) -> None:
    found: dict[str, Counter[str]] = {}
    for seed in range(first, first + rigs):
        rng = np.random.default_rng(seed)
        lit, like = rig(rng, long_px)
        other, _ = rig(rng, long_px)
        laid = printed_cloth(np.random.default_rng([seed, 1]), TABLE_IN) if seed % 2 else None
        cameras = from_around(TABLE_IN, like, 5, rng)
        as_usual = Taking(blur_px=1.2 * long_px / 4032, towards_deg=rng.uniform(0, 360))
        good = [
            taken(lit, camera, replace(as_usual, seed=10 * seed + at), laid, at) for at, camera in enumerate(cameras)
        ]
        five = [one for one in good if one is not None]
        true = float(np.linalg.norm(np.diff(lit.to_table(PATTERN.crosses_px), axis=0)))
        read = round(true * 32) / 32
        usual = sum(len(one.problems) for one in five)

        def note(trap: str, came: str) -> None:
            found.setdefault(trap, Counter())[came] += 1

        note("nothing wrong", outcome(five, (read, read), lit, usual))
        for trap in ("glare", "hand", "out of focus", "moved", "dark", "another light", "the light tilted by 2 in"):
            light = lit
            if trap == "another light":
                light = replace(other, mirrored=lit.mirrored)
            elif trap.startswith("the light"):
                light = replace(lit, lens_at=(lit.lens_at[0] + 2.0, *lit.lens_at[1:]))
            at = int(rng.integers(5))
            bad = taken(light, cameras[at], spoilt(replace(as_usual, seed=10 * seed + 9), trap, rng), laid, at)
            came = "refused"
            if bad is not None:
                kept = [*five[:at], bad, *five[at + 1 :]]
                came = "doubted" if bad.problems else outcome(kept, (read, read), lit, usual)
            note(trap, came)
        note("wrong order", outcome([five[at] for at in rng.permutation(len(five))], (read, read), lit, usual))
        note("one given twice", outcome([*five, five[0]], (read, read), lit, usual))
        wrong = typed_wrong(read, rng)
        note("one reading wrong", outcome(five, (read, wrong), lit, usual))
        note("the only reading wrong", outcome(five, (wrong,), lit, usual))
        note("read wrong twice, never calibrated", outcome(five, (wrong, wrong), lit, usual))
        before = by_hand(lit, rng)
        note("nothing wrong, calibrated before", outcome(five, (read, read), lit, usual, before))
        note("read wrong twice, calibrated before", outcome(five, (wrong, wrong), lit, usual, before))
        print(seed, flush=True)
        if seed % 5 == 4 or seed == first + rigs - 1:
            for trap, counted in found.items():
                print(f"{trap:>36}: " + ", ".join(f"{name} {count}" for name, count in sorted(counted.items())))


if __name__ == "__main__":
    asked = [int(one) for one in sys.argv[1:]]
    main(*(asked + [100, 2016, 5000][len(asked) :]))
