"""Times the drawing of one reference scene against general-purpose drawing libraries, in one run.

The scene at 1920 x 1080: 60 long lines, 40 dashed ones, 30 crosses, 8 labels in perspective. Peers get the very
same lines and outlines in pixels; only our time includes the way from table inches. Run it as
``python tests/benchmarks/light_reference_scene.py [rounds]``; what is not installed is left out and said so.
"""

from __future__ import annotations

import random
import sys
import time
from collections.abc import Callable

import numpy as np

from calibration.marks import Mark
from calibration.table import Table, fit_table
from projector.light.fills import Fill
from projector.light.labels import fills_of
from projector.light.looks import LOOKS
from projector.light.raster import Canvas
from projector.light.segments import Segments, segments
from projector.light.view import view_of
from projector.light.warp import draw, lines_of
from projector.scene.marks import Kind, Scene, Stroke, Text

WIDTH, HEIGHT, GAMMA = 1920, 1080, 2.2


def reference_table(scale: int = 1) -> Table:
    """A projector 120 in wide on the table, looking a little askew."""
    corners = ((0, 0), (120, 0), (120, 60), (0, 60))
    pixels = ((60, 1000), (1860, 1040), (1750, 60), (150, 90))
    marks = [Mark(corner, (u * scale, v * scale)) for corner, (u, v) in zip(corners, pixels, strict=True)]
    return fit_table(marks, WIDTH * scale, HEIGHT * scale)


def reference_scene() -> Scene:
    """60 long lines, 40 dashed lines, 30 crosses and 8 labels 60 to 200 px tall."""
    chance = random.Random(7)
    marks: list[Stroke | Text] = []
    for kind, count in ((Kind.CUT, 30), (Kind.TOP, 30), (Kind.TRIM, 20), (Kind.FOLD, 20)):
        for _ in range(count):
            a, b = chance.uniform(2, 58), chance.uniform(2, 58)
            x, y = chance.uniform(2, 118), chance.uniform(2, 118)
            upright = chance.random() < 0.3
            marks.append(Stroke(kind, ((x, 0), (y, 60)) if upright else ((0, a), (120, b))))
    for _ in range(30):
        x, y = chance.uniform(5, 115), chance.uniform(5, 55)
        marks.append(Stroke(Kind.CROSSING, ((x - 0.5, y), (x + 0.5, y))))
        marks.append(Stroke(Kind.CROSSING, ((x, y - 0.5), (x, y + 0.5))))
    for number in range(8):
        height = 4 + 9 * number / 7
        marks.append(Text(Kind.LETTER, "TOP left 1", (40 + 6 * number, 5 + 7 * number), height))
    return Scene(tuple(marks))


def peers(lines: Segments, fills: list[Fill]) -> dict[str, Callable[[], np.ndarray]]:
    """Drawing by other libraries: each clears a frame, draws everything and gives back its pixels."""
    found: dict[str, Callable[[], np.ndarray]] = {}
    for name, build in (("pycairo", cairo_peer), ("OpenCV", opencv_peer), ("pygame-ce", pygame_peer)):
        try:
            found[name] = build(lines, fills)
        except ImportError:
            print(f"{name}: not installed, left out")
    return found


def cairo_peer(lines: Segments, fills: list[Fill]) -> Callable[[], np.ndarray]:
    import cairo

    surface = cairo.ImageSurface(cairo.FORMAT_RGB24, WIDTH, HEIGHT)
    context = cairo.Context(surface)
    flat = list(
        zip(lines.starts.tolist(), lines.ends.tolist(), lines.widths.tolist(), lines.colours.tolist(), strict=True)
    )
    shapes = [(fill.colour, [part.tolist() for part in contours(fill)]) for fill in fills]

    def rgb(colour: int) -> tuple[float, float, float]:
        return (colour >> 16 & 255) / 255, (colour >> 8 & 255) / 255, (colour & 255) / 255

    def paint() -> np.ndarray:
        context.set_source_rgb(0, 0, 0)
        context.paint()
        for (x0, y0), (x1, y1), (width, _), colour in flat:
            context.set_source_rgb(*rgb(colour))
            context.set_line_width(width)
            context.move_to(x0, y0)
            context.line_to(x1, y1)
            context.stroke()
        for colour, parts in shapes:
            context.set_source_rgb(*rgb(colour))
            for part in parts:
                context.move_to(*part[0])
                for point in part[1:]:
                    context.line_to(*point)
                context.close_path()
            context.fill()
        surface.flush()
        return np.ndarray((HEIGHT, WIDTH), np.uint32, surface.get_data())

    return paint


def opencv_peer(lines: Segments, fills: list[Fill]) -> Callable[[], np.ndarray]:
    import cv2

    cv2.setNumThreads(1)
    image = np.zeros((HEIGHT, WIDTH, 4), np.uint8)
    shift = 8
    fixed = np.rint((np.stack([lines.starts, lines.ends], axis=1) - 0.5) * (1 << shift)).astype(int).tolist()
    widths = np.maximum(np.rint(lines.widths[:, 0]), 1).astype(int).tolist()
    colours = [(c & 255, c >> 8 & 255, c >> 16 & 255) for c in lines.colours.tolist()]
    shapes = [[np.rint((part - 0.5) * (1 << shift)).astype(np.int32) for part in contours(fill)] for fill in fills]

    def paint() -> np.ndarray:
        image[:] = 0
        for (a, b), width, colour in zip(fixed, widths, colours, strict=True):
            cv2.line(image, a, b, colour, width, cv2.LINE_AA, shift)
        for shape in shapes:
            cv2.fillPoly(image, shape, (255, 255, 255), cv2.LINE_AA, shift)
        return image.view(np.uint32)[:, :, 0]

    return paint


def pygame_peer(lines: Segments, fills: list[Fill]) -> Callable[[], np.ndarray]:
    import pygame

    surface = pygame.Surface((WIDTH, HEIGHT), 0, 32)
    starts, ends = (lines.starts - 0.5).tolist(), (lines.ends - 0.5).tolist()
    # Only odd whole widths are centred on the line; the nearest one is taken.
    widths = (2 * np.rint((lines.widths[:, 0] - 1) / 2) + 1).astype(int).tolist()
    colours = [(c >> 16 & 255, c >> 8 & 255, c & 255) for c in lines.colours.tolist()]
    # It fills no holes and smooths no edges: the outlines are filled one by one, which flatters its time.
    shapes = [part.tolist() for fill in fills for part in contours(fill)]

    def paint() -> np.ndarray:
        surface.fill(0)
        for start, end, width, colour in zip(starts, ends, widths, colours, strict=True):
            pygame.draw.aaline(surface, colour, start, end, width)
        for shape in shapes:
            pygame.draw.polygon(surface, (255, 255, 255), shape)
        return pygame.surfarray.array2d(surface).T.astype(np.uint32)

    return paint


def contours(fill: Fill) -> list[np.ndarray]:
    return np.split(fill.points, fill.starts[1:])


def centre_error(paint: Callable[[], np.ndarray], slope: float, middle: float) -> tuple[float, float, float]:
    """Error of a line's centre measured in light, RMS and largest px, and mean width, for the line 2.5 px wide."""
    frame = paint()
    light = ((frame & 255) / 255.0) ** GAMMA
    columns = np.arange(200, 1700)
    rows = np.arange(HEIGHT)[:, None] + 0.5
    total = light[:, columns].sum(axis=0)
    error = (light[:, columns] * rows).sum(axis=0) / total - (middle + slope * (columns + 0.5))
    return float(np.sqrt(np.mean(error**2))), float(np.abs(error).max()), float(total.mean() / np.hypot(1, slope))


def median_ms(work: Callable[[], object], rounds: int) -> float:
    spent = []
    for _ in range(rounds):
        begin = time.perf_counter()
        work()
        spent.append(time.perf_counter() - begin)
    return 1000 * sorted(spent)[rounds // 2]


def main(rounds: int) -> None:
    table, scene, canvas = reference_table(), reference_scene(), Canvas(WIDTH, HEIGHT, GAMMA)
    view = view_of(table)
    lines = lines_of(scene, view)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    fills = [fill for text in texts for fill in fills_of(text, view, LOOKS[text.kind].colour)]
    tall = [np.ptp(fill.points[:, 1]) for fill in fills]
    print(f"{len(lines)} straight parts, {len(fills)} labels {min(tall):.0f} to {max(tall):.0f} px tall")

    def ours() -> np.ndarray:
        draw(scene, table, canvas)
        return canvas.frame

    def raster_only() -> np.ndarray:
        canvas.clear()
        canvas.lines(lines)
        canvas.fills(fills)
        return canvas.frame

    routes: dict[str, Callable[[], object]] = {"ours, from table inches": ours, "ours, from pixels": raster_only}
    routes["ours, lines from pixels"] = lambda: canvas.lines(lines)
    routes["ours, letters from pixels"] = lambda: canvas.fills(fills)
    routes |= peers(lines, fills)
    # Rounds are interleaved, so that whatever else the machine does falls on all alike.
    for route in routes.values():
        route()
    spent: dict[str, list[float]] = {name: [] for name in routes}
    for _ in range(rounds):
        for name, route in routes.items():
            spent[name].append(median_ms(route, 1))
    base = sorted(spent["ours, from table inches"])[rounds // 2]
    for name, times in spent.items():
        middle = sorted(times)[rounds // 2]
        print(f"{name:28} {middle:7.2f} ms (best {min(times):6.2f})   ours / it {base / middle:5.2f}")

    big_table, big = reference_table(2), Canvas(2 * WIDTH, 2 * HEIGHT, GAMMA)
    at_4k = median_ms(lambda: (draw(scene, big_table, big), big.frame), rounds)
    print(f"{'ours at 3840 x 2160':28} {at_4k:7.2f} ms")

    print("centre of a line 2.5 px wide, measured in light: RMS / largest px, width px")
    slope, middle = 0.0313, 500.37
    line = segments([[-10, middle - 10 * slope]], [[1930, middle + 1930 * slope]], 2.5)

    def one_line() -> np.ndarray:
        canvas.clear()
        canvas.lines(line)
        return canvas.frame

    for name, route in {"ours": one_line, **peers(line, [])}.items():
        rms, worst, width = centre_error(route, slope, middle)
        print(f"{name:28} {rms:.4f} / {worst:.4f}   {width:.3f}")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 15)
