"""The same lines and letters, given in pixels, drawn by general-purpose drawing libraries.

Each peer clears a frame of its own, draws everything and gives back its pixels (height, width), 32 bits each.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable

import numpy as np

from projector.light.raster.fills import Fill
from projector.light.raster.strips import Lines

Paint = Callable[[], np.ndarray]
Build = Callable[[tuple[int, int], Lines, list[Fill]], Paint]


def peers(size_px: tuple[int, int], lines: Lines, fills: list[Fill]) -> dict[str, Paint]:
    """Every peer that is installed; the others are named and left out."""
    found: dict[str, Paint] = {}
    for name, (module, build) in PEERS.items():
        try:
            importlib.import_module(module)
        except ImportError:
            print(f"{name}: not installed, left out")
            continue
        found[name] = build(size_px, lines, fills)
    return found


def contours(fill: Fill) -> list[np.ndarray]:
    return np.split(fill.points, fill.starts[1:])


def _flat(lines: Lines) -> list[tuple[list[float], list[float], float, int]]:
    return list(
        zip(
            lines.starts.tolist(), lines.ends.tolist(), lines.widths[:, 0].tolist(), lines.colours.tolist(), strict=True
        )
    )


def _shares(colour: int) -> tuple[float, float, float]:
    return (colour >> 16 & 255) / 255, (colour >> 8 & 255) / 255, (colour & 255) / 255


def cairo_peer(size_px: tuple[int, int], lines: Lines, fills: list[Fill]) -> Paint:
    import cairo

    surface = cairo.ImageSurface(cairo.FORMAT_RGB24, *size_px)
    context = cairo.Context(surface)
    flat = [(*start, *end, width, _shares(colour)) for start, end, width, colour in _flat(lines)]
    shapes = [(_shares(fill.colour), [part.tolist() for part in contours(fill)]) for fill in fills]

    def paint() -> np.ndarray:
        context.set_source_rgb(0, 0, 0)
        context.paint()
        for x0, y0, x1, y1, width, colour in flat:
            context.set_source_rgb(*colour)
            context.set_line_width(width)
            context.move_to(x0, y0)
            context.line_to(x1, y1)
            context.stroke()
        for colour, parts in shapes:
            context.set_source_rgb(*colour)
            for part in parts:
                context.move_to(*part[0])
                for point in part[1:]:
                    context.line_to(*point)
                context.close_path()
            context.fill()
        surface.flush()
        return np.ndarray(size_px[::-1], np.uint32, surface.get_data())

    return paint


def skia_peer(size_px: tuple[int, int], lines: Lines, fills: list[Fill]) -> Paint:
    import skia

    frame = np.zeros((*size_px[::-1], 4), np.uint8)
    surface = skia.Surface(frame)
    pens = {
        (width, colour): skia.Paint(
            Color=0xFF000000 | colour, AntiAlias=True, Style=skia.Paint.kStroke_Style, StrokeWidth=width
        )
        for _, _, width, colour in _flat(lines)
    }
    flat = [(*start, *end, pens[width, colour]) for start, end, width, colour in _flat(lines)]
    shapes = []
    for fill in fills:
        path = skia.Path()
        for part in contours(fill):
            path.addPoly([skia.Point(*point) for point in part.tolist()], True)
        shapes.append((path, skia.Paint(Color=0xFF000000 | fill.colour, AntiAlias=True)))

    def paint() -> np.ndarray:
        with surface as canvas:
            canvas.clear(0xFF000000)
            for x0, y0, x1, y1, pen in flat:
                canvas.drawLine(x0, y0, x1, y1, pen)
            for path, brush in shapes:
                canvas.drawPath(path, brush)
        return frame.view(np.uint32)[:, :, 0]

    return paint


def aggdraw_peer(size_px: tuple[int, int], lines: Lines, fills: list[Fill]) -> Paint:
    import aggdraw

    drawing = aggdraw.Draw("BGRA", size_px, "black")
    pens = {(width, colour): aggdraw.Pen(f"#{colour:06x}", width) for _, _, width, colour in _flat(lines)}
    flat = [((*start, *end), pens[width, colour]) for start, end, width, colour in _flat(lines)]
    shapes = []
    for fill in fills:
        path = aggdraw.Path()
        for part in contours(fill):
            path.moveto(*part[0])
            for point in part[1:]:
                path.lineto(*point)
            path.close()
        shapes.append((path, aggdraw.Brush(f"#{fill.colour:06x}")))

    def paint() -> np.ndarray:
        drawing.clear("black")
        for ends, pen in flat:
            drawing.line(ends, pen)
        for path, brush in shapes:
            drawing.path(path, brush)
        return np.frombuffer(drawing.tobytes(), np.uint32).reshape(size_px[::-1])

    return paint


def opencv_peer(size_px: tuple[int, int], lines: Lines, fills: list[Fill]) -> Paint:
    import cv2

    cv2.setNumThreads(1)
    image = np.zeros((*size_px[::-1], 4), np.uint8)
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


def pygame_peer(size_px: tuple[int, int], lines: Lines, fills: list[Fill]) -> Paint:
    import pygame

    surface = pygame.Surface(size_px, 0, 32)
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
        return np.asarray(pygame.surfarray.pixels2d(surface).T)

    return paint


PEERS: dict[str, tuple[str, Build]] = {
    "pycairo": ("cairo", cairo_peer),
    "skia-python": ("skia", skia_peer),
    "aggdraw": ("aggdraw", aggdraw_peer),
    "OpenCV": ("cv2", opencv_peer),
    "pygame-ce": ("pygame", pygame_peer),
}
