"""Making the pictures that several commands write."""

from __future__ import annotations

import io
from pathlib import Path

import numpy as np
from numpy.typing import NDArray
from PIL import Image

from jobs.model.job import Job
from jobs.model.plan import Plan
from jobs.prints.photographs.problems import PhotoRefused
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.terminal import watching
from projector.files.write import write_whole
from projector.papers.cloth_picture import cloth_picture
from projector.papers.drawing import Drawing
from projector.papers.hung_drawing import HungStyle
from projector.papers.hung_picture import hung_picture
from projector.papers.png import png_bytes
from projector.papers.svg import svg_of_pixels, svg_text
from projector.prints.face import Face, photographed
from projector.words.wording import sentence

Rgb = NDArray[np.uint8]


def write_drawing(drawing: Drawing, out: Path) -> None:
    """The drawing in a .svg or .png file, whole or not at all, with a word at the terminal of how far it is."""
    if out.suffix.lower() == ".svg":
        write_whole(out, svg_text(drawing))
        return
    with watching("Drawing, lines of the picture") as on_progress:
        write_whole(out, png_bytes(drawing, on_progress=on_progress))


def write_drawn(plan: Plan, what: str, out: Path, *, folded: bool = False, face: Face | None = None) -> None:
    """The picture of the piece ("cloth") or of the windows as hung ("hung"), with a face of the cloth, in folds."""
    drawing = cloth_picture(plan, face) if what == "cloth" else hung_picture(plan, HungStyle(folded, face))
    write_drawing(drawing, out)


def face_from(path: Path, job: Job) -> Face:
    """The face of the job's cloth from a picture of its repeat. Raises InputAtFault for what is none."""
    try:
        return photographed(path, job.cloth)
    except PhotoRefused as refused:
        raise InputAtFault(f"{path}: {sentence(refused.problems[0])}") from None


def write_pixels(pixels: Rgb, out: Path) -> None:
    """A picture file of these pixels; an SVG holds them as one image."""
    held = io.BytesIO()
    Image.fromarray(pixels).save(held, "PNG")
    write_whole(
        out, held.getvalue() if out.suffix.lower() == ".png" else svg_of_pixels(held.getvalue(), *pixels.shape[1::-1])
    )
