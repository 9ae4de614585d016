"""Making the pictures that several commands write."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from calibration.table import Table
from jobs.job import Job
from jobs.photo.refusals import PhotoRefused
from jobs.plan import Plan, Stop
from projector.commands.errors import InputAtFault
from projector.commands.watching import watching
from projector.files.write import write_whole
from projector.light.raster import Canvas
from projector.light.warp import draw
from projector.papers.cloth_picture import cloth_picture
from projector.papers.embed import svg_of_pixels
from projector.papers.frame_svg import frame_svg
from projector.papers.hung.drawing import Look
from projector.papers.hung_picture import hung_picture
from projector.papers.write import write_drawing
from projector.prints.face import Face, photographed
from projector.scene.lit_stretch import reach_across
from projector.scene.marks import Scene
from projector.scene.stop_scene import scene_of_stop
from projector.simulated.stage import AsCalibrated, cloth_at, stage_for, table_size
from projector.simulated.view import picture_of

Rgb = NDArray[np.uint8]

TABLE_PICTURE_PX = (1400, 900)


def simulated_table(job: Job) -> Table:
    """The calibration of the simulated projector over the job's table."""
    return stage_for(job).table


def write_drawn(plan: Plan, what: str, out: Path, *, folded: bool = False, face: Face | None = None) -> None:
    """The picture of the piece ("cloth") or of the windows as hung ("hung"), with a face of the cloth, in folds."""
    drawing = cloth_picture(plan, face) if what == "cloth" else hung_picture(plan, Look(folded, face))
    with watching("Drawing, lines of the picture") as tell:
        write_drawing(drawing, out, tell)


def face_from(path: Path, job: Job) -> Face:
    """The face of the job's cloth from a picture of its repeat. Raises InputAtFault for what is none."""
    try:
        return photographed(path, job.cloth)
    except PhotoRefused as refused:
        raise InputAtFault(f"{path}: {refused.what}; {refused.advice}") from None


def write_lit(plan: Plan, table: Table, stop: Stop, what: str, out: Path) -> None:
    """The frame of a stop, as PNG or as true lines of an SVG, or the table with that frame on it, as its pixels."""
    if what == "frame" and out.suffix.lower() == ".svg":
        write_whole(out, frame_svg(scene_lit(plan, table, stop), table))
        return
    frame = frame_of(plan, table, stop)
    pixels = rgb_of(frame) if what == "frame" else table_picture(plan, table, stop, frame)
    write_pixels(pixels, out)


def frame_of(plan: Plan, table: Table, stop: Stop) -> NDArray[np.uint32]:
    """The frame (height, width) of a stop with nothing done yet, packed 0x00RRGGBB."""
    canvas = Canvas(table.width_px, table.height_px, table.gamma)
    draw(scene_lit(plan, table, stop), table, canvas)
    return canvas.frame


def scene_lit(plan: Plan, table: Table, stop: Stop) -> Scene:
    """What is lit at a stop, its letters where the light reaches."""
    return scene_of_stop(plan, stop, lit_width_in=reach_across(plan.job, table.lit_area()))


def table_picture(plan: Plan, table: Table, stop: Stop, frame: NDArray[np.uint32]) -> Rgb:
    """What the eye sees from above when the calibration is the truth."""
    return picture_of(AsCalibrated(table), cloth_at(plan, stop), frame, *TABLE_PICTURE_PX, table_size(plan.job))


def rgb_of(frame: NDArray[np.uint32]) -> Rgb:
    """Packed pixels (height, width) as (height, width, 3)."""
    return np.stack([(frame >> shift & 255).astype(np.uint8) for shift in (16, 8, 0)], axis=-1)


def write_pixels(pixels: Rgb, out: Path) -> None:
    """A picture file of these pixels; an SVG holds them as one image."""
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "PNG")
    write_whole(
        out, held.getvalue() if out.suffix.lower() == ".png" else svg_of_pixels(held.getvalue(), *pixels.shape[1::-1])
    )
