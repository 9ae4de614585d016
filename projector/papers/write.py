"""A drawing into a file, of the kind its name asks for."""

from __future__ import annotations

from pathlib import Path

from projector.files.write import write_whole
from projector.papers.drawing import Drawing
from projector.papers.png import OnProgress, png_bytes
from projector.papers.svg import svg_text


class UnknownPictureError(ValueError):
    """A file name that ends in neither .png nor .svg."""

    def __init__(self, path: Path) -> None:
        super().__init__(f"{path}: a picture is written as .png or .svg; give a name that ends so")
        self.path = path


def write_drawing(drawing: Drawing, path: Path, on_progress: OnProgress | None = None) -> None:
    """Writes the drawing to a .png or .svg file, whole or not at all; ``on_progress`` as for ``image_of``.

    Raises UnknownPictureError for any other ending and ``projector.files.write.CannotWrite`` when the disk refuses.
    """
    kind = path.suffix.lower()
    if kind == ".svg":
        write_whole(path, svg_text(drawing))
    elif kind == ".png":
        write_whole(path, png_bytes(drawing, on_progress=on_progress))
    else:
        raise UnknownPictureError(path)
