"""From a key to its frame and the drawing of a busy scene, against drawing libraries: time and accuracy, one run.

Ours, real stop: key name in, session, scene, calibration, frame in a window's pixels. Ours, busy scene: from table
inches to the pixels. Peers draw the very same lines and letters, given in pixels, and nothing else: what a program
around them needs comes on top. Times are of one core's work (process time, medians), rounds taken in turn, so that
whatever else the machine does falls on all alike. The busy scene is lit again as it was (letters that stay are kept),
and moved by 1/64 in each time (nothing can be kept).

Run: python -m tests.benchmarks.key_to_frame [rounds]
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from fractions import Fraction
from itertools import cycle

import numpy as np

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import read_job
from projector.light.labels import fills_of
from projector.light.raster.canvas import Canvas
from projector.light.raster.fills import Fill
from projector.light.raster.strips import Lines, lines_px
from projector.light.styles import STYLES, letter_colour
from projector.light.view import view_of
from projector.light.warp import draw, lines_of
from projector.scene.marks import Scene, Text
from projector.scene.moved import MovedScene
from projector.session.cutting.mode import Cutting
from tests.benchmarks.light_peers import Paint, peers
from tests.benchmarks.light_real_stop import EXAMPLES, at_a_stop, dense_job, registered, table_of
from tests.benchmarks.light_reference_scene import SIZE_PX, reference_scene, reference_table
from tests.projector.session.sessions import key

GAMMA = 2.2
LIMITS_MS = {1: 16.0, 2: 33.0}
"""Milliseconds that a key may take, by how many times 1920 x 1080 there are pixels each way."""
MOST_OF_PYCAIRO = 0.9
KEYS = ("Right", "Left", "G", "G", "K", "]", "[")


def in_pixels(scene: Scene, table: object) -> tuple[Lines, list[Fill]]:
    view = view_of(table)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    return lines_of(scene, view), fills_of(texts, view, letter_colour(STYLES))


def measured(routes: dict[str, Callable[[], object]], rounds: int, before: int) -> dict[str, list[float]]:
    """Milliseconds of each round of each route, after ``before`` rounds that do not count."""
    spent: dict[str, list[float]] = {name: [] for name in routes}
    for turn in range(rounds + before):
        for name, route in routes.items():
            begun = time.process_time()
            route()
            if turn >= before:
                spent[name].append(1000 * (time.process_time() - begun))
    return spent


ROW = 4
"""Presses at a stop before the next stop is taken."""


def in_a_row(routes: dict[str, Callable[[], object]], rounds: int) -> dict[str, list[float]]:
    """As ``measured``, a few times each before the next: a person stays at a stop, and what is kept of it is at hand.

    The first two of a row do not count.
    """
    spent: dict[str, list[float]] = {name: [] for name in routes}
    for _ in range(-(-rounds // (ROW - 2))):
        for name, route in routes.items():
            for turn in range(ROW):
                begun = time.process_time()
                route()
                if turn >= 2:
                    spent[name].append(1000 * (time.process_time() - begun))
    return spent


def real_stop(scale: int, rounds: int) -> None:
    width_px, height_px = SIZE_PX[0] * scale, SIZE_PX[1] * scale
    table = table_of(width_px, height_px)
    cutting = at_a_stop(table)
    marks, canvas = cutting.lit().scene, Canvas(width_px, height_px, GAMMA)
    frame = np.zeros((height_px, width_px), np.uint32)

    def drawing() -> None:
        draw(marks, table, canvas)
        canvas.into(frame)

    lines, fills = in_pixels(marks, table)
    print(f"\nreal stop, {width_px} x {height_px}: {len(lines)} straight parts, {len(fills)} lines of letters")
    routes: dict[str, Callable[[], object]] = {
        "ours, key to frame": pressing(cutting, KEYS),
        "ours, drawing alone": drawing,
    }
    spent = measured(routes | peers((width_px, height_px), lines, fills), rounds, len(KEYS))
    table_of_times(spent, "ours, key to frame")
    own = spent["ours, key to frame"]
    by_key = {
        name: [ms for turn, ms in enumerate(own) if KEYS[turn % len(KEYS)] == name] for name in dict.fromkeys(KEYS)
    }
    print("  by key, ms: " + ", ".join(f"{name} {np.median(times):.1f}" for name, times in by_key.items()))


def nudges(scale: int, rounds: int) -> None:
    """Nudges at the first stop of every example, and of cloth with a small print, laid as planned and as measured."""
    table = table_of(SIZE_PX[0] * scale, SIZE_PX[1] * scale)
    print(f"\na nudge, {table.width_px} x {table.height_px}: it may take {LIMITS_MS[scale]:g} ms")
    jobs = {path.stem: jobs_of_cloths(read_job(path))[0].job for path in sorted(EXAMPLES.glob("*.yaml"))}
    stops = {name: at_a_stop(table, job) for name, job in jobs.items()}
    for repeat_in in (Fraction(3), Fraction(3, 2)):
        job = dense_job(repeat_in)
        stops[f"print of {float(repeat_in):g} in"] = at_a_stop(table, job)
        stops[f"print of {float(repeat_in):g} in, registered"] = registered(at_a_stop(table, job))
    spent = in_a_row({name: pressing(stop, KEYS[:2]) for name, stop in stops.items()}, rounds)
    for name, times in spent.items():
        middle = float(np.median(times))
        kept = "kept" if middle <= LIMITS_MS[scale] else "NOT kept"
        count = len(stops[name].lit().scene.marks)
        print(f"  {name:<32} {count:5} marks: {middle:6.2f} ms, best {min(times):6.2f}: {kept}")


def pressing(cutting: Cutting, keys: Sequence[str]) -> Callable[[], None]:
    """The next of these keys, and the frame it makes."""
    table, turns = cutting.lit().table, cycle(keys)
    pixels = np.zeros((table.height_px, table.width_px), np.uint32)

    def press() -> None:
        key(cutting, next(turns), 10.0)
        cutting.paint(pixels)

    return press


def busy_scene(scale: int, rounds: int) -> None:
    table, scene = reference_table(scale), reference_scene()
    size_px = table.width_px, table.height_px
    canvas, frame = Canvas(*size_px, GAMMA), np.zeros(size_px[::-1], np.uint32)
    lines, fills = in_pixels(scene, table)

    shown, moved = (Canvas(*size_px, GAMMA), np.zeros_like(frame)), iter(range(10**9))

    def ours() -> None:
        draw(scene, table, canvas)
        canvas.into(frame)

    def ours_moved() -> None:
        nudged = MovedScene(scene, ((1.0, 0.0, next(moved) % 2 / 64), (0.0, 1.0, 0.0)))
        draw(Scene(), table, shown[0], under=nudged)
        shown[0].into(shown[1])

    tall = [np.ptp(fill.points[:, 1]) for fill in fills]
    print(
        f"\nbusy scene, {size_px[0]} x {size_px[1]}: {len(lines)} straight parts, "
        f"{len(fills)} labels {min(tall):.0f} to {max(tall):.0f} px tall"
    )
    own: dict[str, Callable[[], object]] = {"ours, from table inches": ours, "ours, moved each time": ours_moved}
    spent = measured(own | peers(size_px, lines, fills), rounds, 3)
    table_of_times(spent, "ours, from table inches")
    if "pycairo" in spent:
        for name in own:
            ratio = float(np.median(spent[name]) / np.median(spent["pycairo"]))
            kept = "kept" if ratio <= MOST_OF_PYCAIRO else "NOT kept"
            print(f"  {name}: at most {MOST_OF_PYCAIRO:g} of pycairo: {kept} ({ratio:.2f} x)")


def table_of_times(spent: dict[str, list[float]], base: str) -> None:
    own = float(np.median(spent[base]))
    for name, times in spent.items():
        middle = float(np.median(times))
        print(f"  {name:<24} median {middle:7.2f} ms, best {min(times):7.2f}   ours / it {own / middle:5.2f}")


def accuracy() -> None:
    """A line 2.5 px wide at a slight slope, measured in light."""
    slope, middle = 0.0313, 500.37
    line = lines_px([[-10, middle - 10 * slope]], [[1930, middle + 1930 * slope]], 2.5)
    canvas = Canvas(*SIZE_PX, GAMMA)

    def ours() -> np.ndarray:
        canvas.light(line)
        return canvas.frame

    print("\ncentre of a line 2.5 px wide, measured in light: RMS / largest px, width px")
    for name, paint in {"ours": ours, **peers(SIZE_PX, line, [])}.items():
        rms, worst, width = centre_error(paint, slope, middle)
        print(f"  {name:<24} {rms:.4f} / {worst:.4f}   {width:.3f}")


def centre_error(paint: Paint, slope: float, middle: float) -> tuple[float, float, float]:
    """Error of the line's centre, RMS and largest px, and its mean width."""
    light = ((paint() & 255) / 255.0) ** GAMMA
    columns = np.arange(200, 1700)
    rows = np.arange(len(light))[:, None] + 0.5
    total = light[:, columns].sum(axis=0)
    error = (light[:, columns] * rows).sum(axis=0) / total - (middle + slope * (columns + 0.5))
    return float(np.sqrt(np.mean(error**2))), float(np.abs(error).max()), float(total.mean() / np.hypot(1, slope))


def main(rounds: int) -> None:
    for scale in LIMITS_MS:
        real_stop(scale, rounds)
        nudges(scale, rounds)
    for scale in LIMITS_MS:
        busy_scene(scale, max(rounds // 3, 5))
    accuracy()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 42)
