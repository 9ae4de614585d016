"""From a key to its frame, for a real stop at two sizes, against drawing libraries in one run.

Ours: key name in, session, scene, calibration, frame written into a window's pixels. Peers draw the lines and letters
of the stop as it is first lit, given in pixels, and nothing else: what a program around them needs comes on top.

Run: python -m tests.benchmarks.key_to_frame [rounds]
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable
from pathlib import Path

import numpy as np

from calibration.table import Table, fit_table
from jobs.reading.job_file import read_job
from projector.light.labels import fills_of
from projector.light.looks import LOOKS
from projector.light.view import view_of
from projector.light.warp import lines_of
from projector.scene.lit_stretch import plan_on_table
from projector.scene.marks import Text
from projector.session.cutting_host import Cutting
from projector.session.lighting import bench_of
from projector.simulated.rig import marks_of, rig_over
from tests.benchmarks import light_reference_scene as reference

JOB = Path(__file__).parents[2] / "jobs" / "examples" / "reading_room.yaml"
SIZES = ((1920, 1080, 16.0), (3840, 2160, 33.0))
"""Width, height, and the milliseconds a key may take."""
KEYS = ("Right", "Left", "G", "G", "K", "]", "[")


def table_of(width_px: int, height_px: int) -> Table:
    rig = rig_over(96.0, 54.0, tilt_deg=8, roll_deg=1, width_px=width_px, height_px=height_px)
    places = ((0.0, 0.0), (94.0, 0.0), (94.0, 52.0), (0.0, 52.0))
    return fit_table(marks_of(rig, places), width_px, height_px)


def at_a_stop(table: Table) -> Cutting:
    """A session at its first stop, cautions read."""
    job = read_job(JOB)
    plan = plan_on_table(job, table.lit_area())
    cutting = Cutting(bench_of(plan, table), table, lambda event: None)
    cutting.key("Space", 10.0)
    return cutting


def measured(width_px: int, height_px: int, limit_ms: float, rounds: int) -> None:
    table = table_of(width_px, height_px)
    cutting = at_a_stop(table)
    pixels = np.zeros((height_px, width_px), np.uint32)
    numbers = iter(range(10**9))

    def ours() -> None:
        cutting.key(KEYS[next(numbers) % len(KEYS)], 10.0)
        cutting.paint(pixels)

    view = view_of(table)
    lines = lines_of(cutting.scene, view)
    texts = [mark for mark in cutting.scene.marks if isinstance(mark, Text)]
    fills = [fill for text in texts for fill in fills_of(text, view, LOOKS[text.kind].colour)]
    reference.WIDTH, reference.HEIGHT = width_px, height_px
    routes: dict[str, Callable[[], object]] = {"ours, key to frame": ours, **reference.peers(lines, fills)}
    spent: dict[str, list[float]] = {name: [] for name in routes}
    for turn in range(rounds + len(KEYS)):
        for name, route in routes.items():
            begun = time.perf_counter()
            route()
            if turn >= len(KEYS):  # every key once before it counts: tables and letters are made then
                spent[name].append(1000 * (time.perf_counter() - begun))
    base = float(np.median(spent["ours, key to frame"]))
    print(f"{width_px} x {height_px}: {len(lines)} straight parts, {len(fills)} lines of letters")
    for name, times in spent.items():
        middle = float(np.median(times))
        print(f"  {name:<22} median {middle:7.2f} ms, best {min(times):7.2f}   ours / it {base / middle:5.2f}")
    own = spent["ours, key to frame"]
    by_key = {key: [ms for turn, ms in enumerate(own) if KEYS[turn % len(KEYS)] == key] for key in dict.fromkeys(KEYS)}
    print("  by key: " + ", ".join(f"{key} {np.median(times):.1f}" for key, times in by_key.items()))
    print(f"  a key may take {limit_ms:g} ms: {'kept' if base <= limit_ms else 'NOT kept'} ({base:.1f})")


def main(rounds: int) -> None:
    for width_px, height_px, limit_ms in SIZES:
        measured(width_px, height_px, limit_ms, rounds)


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 40)
