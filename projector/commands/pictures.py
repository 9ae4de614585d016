"""Making the pictures that several commands write."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from calibration.table import Table
from jobs.model.job import Job
from jobs.model.plan import Plan
from jobs.prints.photographs.refusals import PhotoRefused
from projector.commands.errors import InputAtFault
from projector.commands.watching import watching
from projector.files.write import write_whole
from projector.papers.cloth_picture import cloth_picture
from projector.papers.hung_drawing import HungStyle
from projector.papers.hung_picture import hung_picture
from projector.papers.svg import frame_svg, svg_of_pixels
from projector.papers.write import write_drawing
from projector.prints.face import Face, photographed
from projector.session.cutting.host import Cutting
from projector.simulated.stage import AsCalibrated, cloth_at, stage_for, table_size
from projector.simulated.view import picture_of

Rgb = NDArray[np.uint8]

TABLE_PICTURE_PX = (1400, 900)


def simulated_table(job: Job) -> Table:
    """The calibration of the simulated projector over the job's table."""
    return stage_for(job).table


def write_drawn(plan: Plan, what: str, out: Path, *, folded: bool = False, face: Face | None = None) -> None:
    """The picture of the piece ("cloth") or of the windows as hung ("hung"), with a face of the cloth, in folds."""
    drawing = cloth_picture(plan, face) if what == "cloth" else hung_picture(plan, HungStyle(folded, face))
    with watching("Drawing, lines of the picture") as tell:
        write_drawing(drawing, out, tell)


def face_from(path: Path, job: Job) -> Face:
    """The face of the job's cloth from a picture of its repeat. Raises InputAtFault for what is none."""
    try:
        return photographed(path, job.cloth)
    except PhotoRefused as refused:
        raise InputAtFault(f"{path}: {refused.what}; {refused.advice}") from None


def write_lit(cutting: Cutting, what: str, out: Path) -> None:
    """What a session lights: its frame, as PNG or as true lines of an SVG, or the table with that frame on it."""
    if what == "frame" and out.suffix.lower() == ".svg":
        write_whole(out, frame_svg(cutting.scene, cutting.table, cutting.styles, cutting.session.width_factor))
        return
    frame = frame_of(cutting)
    pixels = rgb_of(frame) if what == "frame" else table_picture(cutting, frame)
    write_pixels(pixels, out)


def frame_of(cutting: Cutting) -> NDArray[np.uint32]:
    """The frame (height, width) that a session lights, packed 0x00RRGGBB."""
    width, height = cutting.size_px
    frame = np.zeros((height, width), np.uint32)
    cutting.paint(frame)
    return frame


def table_picture(cutting: Cutting, frame: NDArray[np.uint32]) -> Rgb:
    """What the eye sees from above at the stop of a session when the calibration is the truth."""
    plan = cutting.bench.plan
    cloth = cloth_at(plan, cutting.session.stop)
    return picture_of(AsCalibrated(cutting.table), cloth, frame, *TABLE_PICTURE_PX, table_size(plan.job))


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
