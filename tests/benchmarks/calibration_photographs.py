"""Calibration from rendered photographs of random rigs, beside OpenCV's own calibration and nine marks set by hand.

    python -m tests.benchmarks.calibration_photographs [RIGS [LONG_PX [FIRST]]]

Each rig: a projector tilted up to 18 degrees with a bent lens, its axis off the middle; a table of wood, bare or (every
second) under printed cloth; five photographs by hand from around it (principal point 30 px off in two of three, k1
within 0.08, focused anew each time, blur 1.2 px, noise 5 of 255, JPEG 85, room light a fifth of the light and uneven).
At fewer than 4032 pixels the blur shrinks along. The tape is laid to 1/100 in and read to 1/32; once it is true, and
once of class II, wrong by anything that its class allows. Every calibration is tried on the rig: how far off the light
falls that is sent to places all over the lit area, and how far off the lines are that it lights, found in the frame
that was drawn. Printed is the worst place, the part of it that is not scale, and how often the predicted 95 % error
held (of a tape of class II, for which it is meant).

OpenCV's ``calibrateCamera`` wants to know its target: it is told that the light's fields are squares, which is true
under a projector that hangs plumb. (Its ``calibrateCameraRO``, which lets the target go, ends in an assertion in 5.0.)
Nine marks: corners, mid-edges, middle, tape to 1/32 in, light to 1/4 px, both one standard
deviation.
"""

from __future__ import annotations

import resource
import sys
import time
from dataclasses import replace

import cv2
import numpy as np
from numpy.typing import NDArray

from calibration.homography import OutOfReach
from calibration.marks import Mark, TapeClass
from calibration.photographs.calibrating import calibrate
from calibration.photographs.detecting import Judged, judge
from calibration.photographs.model import CAMERA_WIDTHS, FOCUS_WIDTH
from calibration.photographs.pattern import Pattern
from calibration.photographs.taping import SIGHTED_IN, Taped, table_of
from calibration.problems import PhotographRefused, Refused
from calibration.table import Table, fit_table
from calibration.tape import tape_limit_in
from calibration.uncertainty import Uncertainty
from projector.demo.virtual_camera import LitTable, Taking, VirtualCamera, from_around, photograph
from projector.demo.virtual_projector import Hung, VirtualProjector, projector_over
from projector.light.pattern import pattern_frame
from tests.calibration.photographs.lit_lines import lit_lines_off_in
from tests.calibration.photographs.printed import printed_cloth

PATTERN = Pattern(1920, 1080)
TABLE_IN = (104.0, 64.0)
OPENCV_EVERY = 20
"""Its calibration takes as long as all the rest of a rig."""


def rig(rng: np.random.Generator, long_px: int) -> tuple[VirtualProjector, VirtualCamera]:
    hung = Hung(
        tilt_deg=rng.uniform(0, 18),
        towards_deg=rng.uniform(0, 360),
        roll_deg=rng.uniform(-3, 3),
        k1=rng.uniform(-0.015, 0.015),
        mirrored=bool(rng.random() < 0.15),
    )
    lit = projector_over(*TABLE_IN, hung)
    axis = rng.uniform(-400, 400, 2)
    # Most of the light falls on the table.
    lit = replace(lit, focal_px=lit.focal_px * rng.uniform(1.15, 1.3), axis_px=(float(axis[0]), float(axis[1])))
    k1, share = rng.uniform(-0.08, 0.08), rng.uniform(0.65, 0.85)
    off = rng.normal(0, CAMERA_WIDTHS[0] * long_px, 2)
    return lit, VirtualCamera(
        (0, 0, 70), (52, 32), share * long_px, long_px, long_px * 3 // 4, 0.0, k1, -0.01, (off[0], off[1])
    )


def photographs(lit: VirtualProjector, like: VirtualCamera, rng: np.random.Generator, seed: int) -> list[Judged]:
    cloth = printed_cloth(np.random.default_rng([seed, 1]), TABLE_IN) if seed % 2 else None
    table = LitTable(lit, pattern_frame(PATTERN), cloth, TABLE_IN)
    found = []
    for number, camera in enumerate(from_around(TABLE_IN, like, 5, rng)):
        camera = replace(camera, focal_px=camera.focal_px * float(np.exp(rng.normal(0, FOCUS_WIDTH))))
        taking = Taking(blur_px=1.2 * like.width_px / 4032, towards_deg=rng.uniform(0, 360), seed=100 * seed + number)
        picture = photograph(camera, table, taking)
        found.append(judge(np.asarray(cv2.cvtColor(picture, cv2.COLOR_RGB2GRAY)), PATTERN, "one", None, number))
    return found


def crosses_in(lit: VirtualProjector) -> NDArray[np.float64]:
    """The crosses on the table (2, 2), the one that inches are counted from first."""
    return lit.to_table(PATTERN.crosses_px[::-1] if lit.mirrored else PATTERN.crosses_px)


def off_in(table: Table, lit: VirtualProjector) -> tuple[float, float]:
    """Worst distance over the lit area between where light is meant and falls, and what of it is not scale."""
    crosses = crosses_in(lit)
    along = (crosses[1] - crosses[0]) / np.linalg.norm(crosses[1] - crosses[0])
    meant = table.lit_points(25, 15)
    met = (lit.to_table(table.to_frame(meant)) - crosses[0]) @ np.array([along, (-along[1], along[0])]).T
    scale = (met * meant).sum() / (meant * meant).sum()
    worst, shape = (float(np.linalg.norm(met - much * meant, axis=1).max()) for much in (1.0, scale))
    return worst, shape


def by_opencv(judged: list[Judged], lit: VirtualProjector, taped: Taped) -> Table:
    """The table if the light's fields were squares, its lens taken by nothing: what the camera's own fit gives."""
    spaces = [np.column_stack([PATTERN.corners_px[j.sighting.numbers], 0 * j.sighting.numbers]) for j in judged]
    size = judged[0].sighting.width_px, judged[0].sighting.height_px
    pixels = [j.sighting.pixels.astype(np.float32)[:, None] for j in judged]
    _, inner, bends, turns, shifts = cv2.calibrateCamera(
        [s.astype(np.float32) for s in spaces], pixels, size, None, None
    )
    straight = cv2.undistortPoints(pixels[0], inner, bends)[:, 0]
    plane = np.column_stack([cv2.Rodrigues(turns[0])[0][:, :2], shifts[0]])
    places = cv2.perspectiveTransform(straight[None].astype(float), np.linalg.inv(plane))[0]
    to_places = cv2.findHomography(PATTERN.corners_px[judged[0].sighting.numbers], places, cv2.RANSAC, 2.0)[0]
    first, second = cv2.perspectiveTransform(
        (PATTERN.crosses_px[::-1] if lit.mirrored else PATTERN.crosses_px)[None], to_places
    )[0]
    along = (second - first) * taped.length_in / ((second - first) @ (second - first))
    flip = 1 if lit.mirrored else -1
    turn = np.array([[along[0], along[1]], [flip * along[1] * -1, flip * along[0]]])
    to_inches = np.block([[turn, (-turn @ first)[:, None]], [np.zeros((1, 2)), np.ones((1, 1))]]) @ to_places
    matrix = np.linalg.inv(to_inches)
    return Table(PATTERN.width_px, PATTERN.height_px, matrix / matrix[2, 2], ())


def by_hand(lit: VirtualProjector, rng: np.random.Generator) -> Table:
    u, v = (size * np.array([0.06, 0.5, 0.94]) for size in (PATTERN.width_px, PATTERN.height_px))
    pixels = np.stack(np.meshgrid(u, v), axis=-1).reshape(-1, 2)
    crosses = crosses_in(lit)
    along = (crosses[1] - crosses[0]) / np.linalg.norm(crosses[1] - crosses[0])
    places = (lit.to_table(pixels) - crosses[0]) @ np.array([along, (-along[1], along[0])]).T
    places += rng.normal(0, 1 / 32, places.shape)
    pixels += rng.normal(0, 1 / 4, pixels.shape)
    marks = [Mark((x, y), (a, b)) for (x, y), (a, b) in zip(places.tolist(), pixels.tolist(), strict=True)]
    return fit_table(marks, PATTERN.width_px, PATTERN.height_px)


def main(rigs: int, long_px: int, first: int) -> None:
    rows, refused, spent = [], 0, []
    for seed in range(first, first + rigs):
        rng = np.random.default_rng(seed)
        lit, like = rig(rng, long_px)
        true = float(np.linalg.norm(np.diff(lit.to_table(PATTERN.crosses_px), axis=0)))
        laid = true + rng.normal(0, SIGHTED_IN * 2**0.5)
        read, of_class = laid, laid + rng.uniform(-1, 1) * tape_limit_in(TapeClass.II, true)
        read, of_class = (round(length * 32) / 32 for length in (read, of_class))
        try:
            judged = photographs(lit, like, rng, seed)
            start = time.process_time()
            made = calibrate(PATTERN, judged, Taped((of_class,)))
            spent.append(time.process_time() - start)
        except PhotographRefused as why:
            refused += 1
            print(f"rig {seed}: refused, {why}", flush=True)
            continue
        worst, shape = off_in(table_of(made.bundled, PATTERN, Taped((read,))), lit)
        of_tape, predicted = off_in(made.table, lit)[0], Uncertainty(made.table).everywhere_in()
        lines = lit_lines_off_in(made.table, lit, crosses_in(lit))
        peers = [float("nan")] if seed % OPENCV_EVERY else []
        asked = [lambda: by_opencv(judged, lit, Taped((read,))), lambda: by_hand(lit, rng)]  # noqa: B023 - at once
        for peer in asked[len(peers) :]:
            try:
                peers.append(off_in(peer(), lit)[0])
            except (OutOfReach, Refused, cv2.error, np.linalg.LinAlgError):
                peers.append(float("inf"))
        rows.append((worst, shape, of_tape, predicted, lines, *peers))
        doubts = " ".join(sorted({one.code.name for one in made.doubts}))
        print(f"rig {seed}: " + " ".join(f"{one:.4f}" for one in rows[-1]), doubts, flush=True)
    table = np.array(rows)
    print(f"\n{len(rows)} rigs of {rigs}, {refused} refused, photographs of {long_px} px")
    names = ("worst, a true tape", "not scale", "worst, class II", "predicted", "its lines", "OpenCV", "nine marks")
    for name, column in zip(names, table.T, strict=True):
        column = column[np.isfinite(column)]
        if not len(column):
            continue
        middle, most, largest = np.median(column), np.quantile(column, 0.95), column.max()
        print(f"{name:>18}: median {middle:.4f} in, 95 of 100 {most:.4f}, largest {largest:.4f}")
    print(f"within the predicted error: {np.mean(table[:, 2] <= table[:, 3]):.1%}")
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss // 1024
    print(f"fit: {np.median(spent):.1f} s of processor time; {memory} MB")


if __name__ == "__main__":
    asked = [int(one) for one in sys.argv[1:]]
    main(*(asked + [200, 4032, 0][len(asked) :]))
