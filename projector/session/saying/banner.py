"""Words laid out as marks inside the lit area of the table: pages, questions, the note of a moved light."""

from __future__ import annotations

from collections.abc import Sequence

from projector.light.letters import text_width as set_width
from projector.scene.boxes import Box
from projector.scene.lettering import text_width, wrapped
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text
from projector.session.saying.room import largest_box
from projector.session.saying.words import Lines

PITCH = 1.75
"""From baseline to baseline, in cap heights: room for tails below and accents above."""
MARGIN = 1.0
"""Dark kept around words, in cap heights."""
COLUMN_GAP = 2.0
TALLEST_IN = 2.5
NOTE_IN = 1.0
LEAST_IN = 0.3
WRAPS = (200.0, 60.0, 48.0, 38.0, 30.0, 24.0)
"""Line widths tried, in cap heights."""

PARTED = 0.3
"""Extra dark between one line of words and the next, in cap heights, where long ones are wrapped."""

Rows = Sequence[tuple[str, float, float]]
"""Lines as laid: words, size against the usual one, extra dark above in cap heights."""


def words(
    lines: Lines,
    area: Sequence[Point],
    clear_of: Sequence[Box] = (),
    tallest_in: float = TALLEST_IN,
    *,
    below: float = 0.0,
) -> Scene:
    """Lines of words as large as the lit area allows, one below the other, middles aligned.

    ``below`` them so many cap heights are clear as well.
    """
    laid = _largest(lines, area, clear_of, tallest_in, below=below)
    return Scene() if laid is None else Scene(_texts(*laid))


def framed(lines: Lines, area: Sequence[Point], clear_of: Sequence[Box] = (), tallest_in: float = TALLEST_IN) -> Scene:
    """The same in a double frame: a look nothing else at the table has, kept for questions."""
    laid = _largest(lines, area, clear_of, tallest_in)
    if laid is None:
        return Scene()
    _, box, height = laid
    frames = tuple(_outline(box.grown(-height * inset)) for inset in (0.1, 0.35))
    return Scene((*frames, *_texts(*laid)))


def above_a_picture(
    lines: Lines, area: Sequence[Point], picture: float, tallest_in: float = TALLEST_IN
) -> tuple[Scene, Box] | None:
    """Words as large as the lit area allows, with room ``picture`` cap heights deep left dark below them."""
    laid = _largest(lines, area, (), tallest_in, below=picture)
    if laid is None:
        return None
    rows, box, height = laid
    room = Box(box.left, box.near, box.right, box.near + picture * height).grown(-MARGIN * height)
    return Scene(_texts(rows, box, height)), room


def columns(pairs: Sequence[tuple[str, str]], foot: str, area: Sequence[Point], title: str) -> Scene:
    """Pairs of words in two columns, each flush left, a title above and a paragraph below."""
    left = max(text_width(key, 1.0) for key, _ in pairs) + COLUMN_GAP
    wide = left + max(text_width(what, 1.0) for _, what in pairs)
    below = wrapped(foot, 1.0, wide)
    lines = len(pairs) + len(below) + 3
    fit = largest_box(wide + 2 * MARGIN, lines * PITCH + 2 * MARGIN, area, most=TALLEST_IN)
    if fit is None:
        return Scene()
    box, h = fit
    start, y = box.left + MARGIN * h, box.far - (MARGIN + PITCH) * h
    marks: list[Mark] = [flush_left(title, start, y, 1.5 * h)]
    y -= 2 * PITCH * h
    for key, what in pairs:
        marks += [flush_left(key, start, y, h), flush_left(what, start + left * h, y, h)]
        y -= PITCH * h
    y -= PITCH * h / 2
    for line in below:
        marks.append(flush_left(line, start, y, h))
        y -= PITCH * h
    return Scene(tuple(marks))


def flush_left(text: str, left: float, y: float, height: float) -> Text:
    """A line of letters that begins at ``left``."""
    return Text(Kind.LETTER, text, (left + set_width(text) * height / 2, y), height)


def note(text: str, area: Sequence[Point], cloth: Box, clear_of: Sequence[Box]) -> Scene:
    """One line of words beside the cloth where there is room, else on it clear of other words."""
    lines: Lines = ((text, 1.0),)
    for keep in ((cloth, *clear_of), clear_of):
        laid = _largest(lines, area, keep, NOTE_IN, WRAPS[:1])
        if laid is not None and laid[2] >= LEAST_IN:
            return Scene(_texts(*laid))
    return Scene()


def _largest(
    lines: Lines,
    area: Sequence[Point],
    clear_of: Sequence[Box],
    tallest_in: float,
    wraps: Sequence[float] = WRAPS,
    below: float = 0.0,
) -> tuple[Rows, Box, float] | None:
    """The wrapping, box and cap height (inches) that make the letters largest; ``below`` them so much stays dark."""
    best: tuple[Rows, Box, float] | None = None
    for widest in wraps:
        rows = [
            (part, size, PARTED if i == 0 else 0.0)
            for text, size in lines
            for i, part in enumerate(wrapped(text, size, widest))
        ]
        wide = max(text_width(text, size) for text, size, _ in rows)
        tall = sum(size * PITCH + above for _, size, above in rows)
        fit = largest_box(wide + 2 * MARGIN, tall + below + 2 * MARGIN, area, clear_of, most=tallest_in)
        if fit is not None and (best is None or fit[1] > best[2] * 1.001):
            best = (rows, *fit)
        if best is not None and best[2] >= tallest_in:
            break
    return best


def _texts(rows: Rows, box: Box, height: float) -> tuple[Mark, ...]:
    top = box.far - MARGIN * height
    marks: list[Mark] = []
    for text, size, above in rows:
        top -= above * height
        step = size * PITCH * height
        marks.append(Text(Kind.LETTER, text, (box.middle[0], top - step / 2), size * height))
        top -= step
    return tuple(marks)


def _outline(box: Box) -> Stroke:
    return Stroke(Kind.GUIDE, (*box.corners, box.corners[0]))
