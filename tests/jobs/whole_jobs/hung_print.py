"""The print on a panel as it hangs: rows and motifs where they must be, on over its seams, and alike in a pair."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from jobs.model.choices import Panels
from jobs.model.cuts import Hand, Side, Way
from jobs.model.print import Repeat
from tests.jobs.whole_jobs.panel import Panel
from tests.jobs.whole_jobs.print_plane import (
    ZERO,
    Move,
    about_a_line_across,
    about_a_line_along,
    looks_the_same,
    on_lattice,
)


def print_faults(panel: Panel, left: Panel | None) -> Iterator[str]:
    """Everything that is wrong with the print of a panel; ``left`` is the partner of the right one of a pair."""
    repeat, part = panel.cloth.repeat, panel.part
    if repeat is None:
        return
    yield from _seams(panel, repeat)
    mirrored = left is not None and part.mirrored
    upright = left is not None and left.placed[0].cut.way is panel.placed[0].cut.way
    # Mirror image by its own mirror line, its rows are those of its partner's image, wherever these hang.
    if part.depth is not None and not (mirrored and upright):
        yield from _row(panel, repeat, part.depth)
    if part.middle is not None:
        yield from _middle(panel, repeat)
    elif panel.sideways and (panel.hand is not Hand.RIGHT or part.panels is Panels.RIGHT):
        yield from _leading_row(panel, repeat)
    if left is not None and mirrored:
        yield from _image_of(panel, left)
    elif left is not None and not (part.exact and part.middle is None):
        yield from _same_as(panel, left)


def _seams(panel: Panel, repeat: Repeat) -> Iterator[str]:
    """Sewn together the print runs on: the cloth at the seam is as if it were one."""
    cloth, across, printed = panel.cloth, repeat.across, panel.printed
    for number in range(1, len(panel.placed)):
        begins = panel.from_leading(number - 1).after(Move(1, ZERO, 1, panel.widths[number - 1]))
        step = panel.from_leading(number).after(begins.back())
        if (step.along_sense, step.across_sense) != (1, 1):
            yield "its cuts lie several ways"
        elif across is None or across > printed or (panel.part.cuts is not None and not cloth.drop):
            # No column comes twice, or who counts the cuts joins a straight print as it comes: rows meet.
            lower = cloth.drop * (1 if step.across > 0 else -1) if across is not None else 0
            if (step.along - lower * repeat.along) % repeat.along:
                yield f"the rows do not meet at seam {number}"
            if cloth.drop and across is not None and abs(step.across) != printed:
                yield f"seam {number} is elsewhere than at the printed edges"
        elif not looks_the_same(cloth, step):
            yield f"the print does not run on over seam {number}"


def _row(panel: Panel, repeat: Repeat, depth: Fraction) -> Iterator[str]:
    """A row of the first column, or of that in its middle, or its mirror image, hangs where it must."""
    cloth, at = panel.cloth, panel.named
    hung, below = panel.from_leading(at), depth / panel.kept[0]
    if panel.placed[at].cut.way is Way.TURNED:
        mirror = about_a_line_along(cloth) if panel.sideways else about_a_line_across(cloth)
        hung = mirror.after(hung) if mirror is not None else hung
    if panel.sideways:
        off = (hung.across + hung.across_sense * below) % (repeat.across or 1)
    else:
        columns = _beside_middle(panel) / repeat.across if panel.part.middle is not None and repeat.across else ZERO
        off = (hung.along + hung.along_sense * below - columns * cloth.drop * repeat.along) % repeat.along
    if off:
        yield f"its row hangs {off} off"


def _beside_middle(panel: Panel) -> Fraction:
    """How far from the first column, or row, the point of the print in its middle lies, what is wanted there off."""
    number, inside = panel.in_the_middle
    hung, wanted = panel.from_leading(number), panel.part.middle or ZERO
    if panel.sideways:
        return hung.along + hung.along_sense * inside - wanted
    return hung.across + hung.across_sense * inside - wanted


def _middle(panel: Panel, repeat: Repeat) -> Iterator[str]:
    off = _beside_middle(panel)
    if panel.sideways:
        wrong = not _on_a_row(off, panel, repeat)
    else:
        wrong = bool(off % repeat.across if repeat.across is not None else off)
    if wrong:
        yield f"its middle lies {off} beside what it must"


def _leading_row(panel: Panel, repeat: Repeat) -> Iterator[str]:
    """Run sideways a row, or the mirror line beside it, lies at the cut edge that leads."""
    at = panel.hung(0, panel.placed[0].cut.leading_edge, ZERO).along - panel.cloth.print.mirror_offset
    if not _on_a_row(at, panel, repeat):
        yield f"its leading edge lies {at % repeat.along} from a row"


def _on_a_row(along: Fraction, panel: Panel, repeat: Repeat) -> bool:
    """Of any column."""
    drop = panel.cloth.drop
    return any(not (along - column * drop * repeat.along) % repeat.along for column in range(drop.denominator))


def _image_of(panel: Panel, left: Panel) -> Iterator[str]:
    """What lies alike in from the leading edges looks alike, and both are as wide.

    Seams need not be alike where one panel is trimmed at its leading edge and the other at its return edge: the print
    runs on over them.
    """
    widths = [left.widths, panel.widths]
    unlike = abs(panel.cloth.near_selvedge - panel.cloth.far_selvedge) if len(panel.placed) > 1 else ZERO
    # A half cut is slit in the middle of the cloth, which is not that of the print where its selvedges are unlike.
    if abs(sum(widths[0], ZERO) - sum(widths[1], ZERO)) > unlike:
        yield "it is not as wide as its partner"
    for number in range(len(panel.placed) if widths[0] == widths[1] else 1):
        step = panel.from_leading(number).after(left.from_leading(number).back())
        if not looks_the_same(panel.cloth, step):
            yield f"cut {number + 1} is not the mirror image of its partner"
    lies, of_left = panel.placed[0].cut.way, left.placed[0].cut.way
    is_right = (lies is Way.UPRIGHT) is panel.part.right_as_it_lies
    if lies is not of_left and panel.cloth.border is None and not is_right:
        yield "the other panel shows the print as it lies"


def _same_as(panel: Panel, left: Panel) -> Iterator[str]:
    """The cut that has the row shows what that of the left panel shows, from its left side on."""
    if len(left.placed) != len(panel.placed):
        yield "it has not as many cuts as its partner"
    moves = []
    for one in (left, panel):
        cut, leads = one.placed[one.named].cut, one.hand is Hand.RIGHT
        edge = cut.leading_edge if leads else cut.leading_edge.opposite
        side: Side = cut.leading_side if leads else cut.return_side
        # Cut at its whole width it shows all of the cloth, wherever it is seamed; else it is folded at both sides.
        moves.append(one.hung(one.named, edge, side.line if len(one.placed) == 1 else ZERO))
    step = moves[1].after(moves[0].back())
    if (step.along_sense, step.across_sense) != (1, 1) or not on_lattice(panel.cloth, step.along, step.across):
        yield "it does not show the same as its partner"
