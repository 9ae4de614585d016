"""Drawings as pages of a PDF: paths stay paths, letters stay letters that can be searched and copied."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from io import BytesIO
from typing import TYPE_CHECKING

from projector.light.letters import font_path, missing
from projector.papers.drawing import Drawing, Path, Raster, Words
from projector.papers.svg import CAP_SHARE

if TYPE_CHECKING:
    from fpdf import FPDF

_POINTS_AN_INCH = 72
_FACE = "letters"


def pdf_bytes(
    pages: Sequence[Drawing],
    title: str,
    made: datetime | None = None,
    on_progress: Callable[[int, int], None] | None = None,
) -> bytes:
    """The drawings as one PDF file, a page each, one drawing inch to an inch of paper, the font embedded.

    ``made`` is written into the file as the time it was made (None: now). ``on_progress`` gets after each page
    how many are done, of how many. Raises ValueError without pages.
    """
    from fpdf import FPDF

    if not pages:
        raise ValueError("a paper without pages cannot be written")
    paper = FPDF(unit="in")
    paper.set_auto_page_break(False)
    paper.set_margin(0)
    paper.set_title(_shown(title))
    paper.set_creation_date(made or datetime.now(UTC))
    paper.add_font(_FACE, fname=font_path())
    for number, page in enumerate(pages, 1):
        paper.add_page(format=(page.width, page.height))
        for section in page.sections:
            paper.start_section(_shown(section))
        for shape in page.shapes:
            if isinstance(shape, Words):
                _write(paper, shape)
            elif isinstance(shape, Raster):
                paper.image(BytesIO(shape.png), *shape.at, w=shape.width, h=shape.height)
            else:
                _path(paper, shape)
        if on_progress is not None:
            on_progress(number, len(pages))
    return bytes(paper.output())


def _write(paper: FPDF, words: Words) -> None:
    text = _shown(words.text)
    if not text.strip():
        return
    x, y = words.start
    paper.set_font(_FACE, size=words.height / CAP_SHARE * _POINTS_AN_INCH)
    paper.set_text_color(words.colour)
    if words.upwards:
        with paper.rotation(90, x, y):
            paper.text(x, y, text)
    else:
        paper.text(x, y, text)


def _path(paper: FPDF, path: Path) -> None:
    if len(path.points) < 2 or not (path.stroke or path.fill):
        return
    if path.fill:
        paper.set_fill_color(path.fill)
    if path.stroke:
        paper.set_draw_color(path.stroke)
        paper.set_line_width(path.width)
        on, off = (path.dash[0], path.dash[-1]) if path.dash else (0.0, 0.0)
        paper.set_dash_pattern(on, off)
    style = ("D" if path.stroke else "") + ("F" if path.fill else "")
    paper.polyline(path.points, style=style, polygon=path.closed)


def _shown(text: str) -> str:
    """The text with plain spaces, and a question mark where the font has no letter."""
    unknown = missing(text)
    return "".join(" " if letter.isspace() else "?" if letter in unknown else letter for letter in text)
