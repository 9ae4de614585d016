"""A window as it will hang, in plain letters: which way the motif looks in each panel and where its rows stand."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Facing, Hang, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut, Hand
from jobs.model.job import Job
from jobs.model.lengths import show_cut
from jobs.model.print import Repeat
from jobs.model.window import Window

LINES, COLUMNS, PITCH = 9, 3, 4
SWAPPED = str.maketrans("<>/\\", "><\\/")


def window_picture(job: Job, window: Window, cuts: Sequence[Cut]) -> list[str]:
    """Lines of text: the panels of the window side by side. ``cuts`` are the cuts of this window."""
    if job.cloth.run is Run.SIDEWAYS:
        job = replace(job, cloth=_as_hung(job.cloth))
    titles, *rows = _side_by_side(job, window, cuts)
    rows[len(rows) // 2] += f"   {show_cut(window.finished_length, job.unit)} finished"
    return [titles.rstrip(), *rows]


def both_looks(job: Job, window: Window, cuts: Sequence[Cut]) -> list[str]:
    """Lines of text: a pair that may look either way with either answer, each named above it."""
    drawn = [_side_by_side(job, replace(window, facing=facing), cuts)[1:] for facing in Facing]
    names = [f"{facing.value.split()[0] + ':':<{len(rows[0])}}" for facing, rows in zip(Facing, drawn, strict=True)]
    return [(" " * 6).join(parts).rstrip() for parts in (names, *zip(*drawn, strict=True))]


def _side_by_side(job: Job, window: Window, cuts: Sequence[Cut]) -> list[str]:
    """The panels of a window, each under its hand."""
    firsts = [cut for cut in cuts if cut.number == 1]
    firsts.sort(key=lambda cut: [Hand.LEFT, Hand.WHOLE, Hand.RIGHT].index(cut.hand))
    panels = [_panel(job, window, cut) for cut in firsts]
    titles = "   ".join(f"{cut.hand.value:^{COLUMNS * PITCH + 2}}" for cut in firsts)
    return [titles, *("   ".join(parts) for parts in zip(*panels, strict=True))]


def _as_hung(cloth: Cloth) -> Cloth:
    """Cloth run sideways as if it were printed the way it hangs: a quarter turn round."""
    if cloth.repeat is None or cloth.repeat.across is None:
        return cloth
    sheet = replace(
        cloth.print, top_to_bottom=cloth.print.side_to_side, side_to_side=cloth.print.top_to_bottom, group=None
    )
    return replace(cloth, repeat=Repeat(cloth.repeat.across, cloth.repeat.along), drop=Fraction(0), print=sheet)


def _panel(job: Job, window: Window, cut: Cut) -> list[str]:
    inside = [[" "] * (COLUMNS * PITCH) for _ in range(LINES)]
    if cut.row is not None and job.cloth.repeat is not None:
        turned = Hand.RIGHT if window.facing is Facing.LEFT else Hand.LEFT
        flipped = cut.hand is turned and _mirrored(window)
        for column in range(COLUMNS):
            for number in _line_numbers(job.cloth, window, cut.row - cut.heading, column):
                _draw(inside[number], column, _glyph(job.cloth), flipped)
    edge = "+" + "-" * (COLUMNS * PITCH) + "+"
    return [edge, *("|" + "".join(line) + "|" for line in inside), edge]


def _mirrored(window: Window) -> bool:
    return window.panels == "pair" and window.hang is Hang.MIRRORED


def _line_numbers(cloth: Cloth, window: Window, row: Fraction, column: int) -> list[int]:
    """The lines of the picture on which motifs of this column stand; ``row`` is below the finished top, inches."""
    assert cloth.repeat is not None
    along = cloth.repeat.along
    at = (row + column * cloth.drop * along) % along
    lines = set()
    while at <= window.finished_length:
        lines.add(min(LINES - 1, int(at * LINES / window.finished_length)))
        at += along
    return sorted(lines)


def _glyph(cloth: Cloth) -> str:
    """A motif with the mirrors of the print and no others, as far as two letters can show it."""
    down, across = (kind is Symmetry.MIRROR for kind in (cloth.print.top_to_bottom, cloth.print.side_to_side))
    if down and across:
        return "<>"
    return ">-" if down else "\\/" if across else "/-"


def _draw(line: list[str], column: int, glyph: str, flipped: bool) -> None:
    shown = glyph[::-1].translate(SWAPPED) if flipped else glyph
    start = column * PITCH + 1
    if flipped:
        start = len(line) - start - len(shown)
    line[start : start + len(shown)] = shown
