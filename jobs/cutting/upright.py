"""Cloth run up: from a window to the cuts of its panels, joined side by side, before strips share a length."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.cutting.mirroring import HANDS, PairFit, pair_fit, top_edge, way_choice
from jobs.cutting.rows import phase_of, row_step
from jobs.cutting.strips import Draft, Strip, may_share, narrow_strips
from jobs.cutting.widths import (
    HALF,
    cut_length,
    cuts_for,
    enough_to_outer_edges,
    flat_width,
    handbook_cut,
)
from jobs.model.cuts import Cut, Hand, Side, Way, leading_edge
from jobs.model.job import Job
from jobs.model.problems import Code, JobRefused, Path, Value, problem
from jobs.model.resolved import Enough, FlatWidth, Pairing, Seams, Trims, WayChoice
from jobs.model.schema import ZERO
from jobs.model.window import MOST_CUTS, Window
from jobs.prints.pairs import hand_ways

ONE = Fraction(1)


@dataclass(frozen=True)
class Panels:
    """How the panels of a window are made up, before it is known where their rows hang.

    ``count`` is the whole and half cuts of one panel, ``enough`` fewer that would do, ``strips`` those of narrow ones.
    """

    window: Window
    choice: WayChoice
    width: FlatWidth | None
    fit: PairFit
    strips: Mapping[Hand, Strip]
    count: Fraction
    enough: Enough | None


def panels_of(window: Window, job: Job, lines: Seams, path: Path) -> Panels:
    """The panels of a window. Raises JobRefused with the first thing that is wrong: what follows would only puzzle."""
    choice = way_choice(window, job, path)
    fit = _pair_fit(choice, job, path)
    width = flat_width(window, job)
    strips = narrow_strips(window, job, width, choice.pairing)
    count = HALF if strips else _count(window, width, fit, job, lines, path)
    if count > MOST_CUTS:
        raise _refused((*path, "rod"), Code.TOO_MANY_CUTS, cuts=count, most=MOST_CUTS)
    if count > 1 and lines.between <= 0:
        raise _refused(path, Code.SEAMS_LEAVE_NOTHING)
    if count > 1 and job.cloth.drop and not lines.columns:
        raise _refused(path, Code.DROP_NEEDS_COLUMNS)
    enough = enough_to_outer_edges(width.needed + fit.lost, count, job, lines) if width is not None else None
    return Panels(window, choice, width, fit, strips, count, enough)


def _pair_fit(choice: WayChoice, job: Job, path: Path) -> PairFit:
    cloth = job.cloth
    across = cloth.repeat.across if cloth.repeat else None
    if choice.pairing is Pairing.OWN_IMAGE and cloth.drop and across is None:
        raise _refused((*path, "hang"), Code.PAIR_NEEDS_ACROSS)
    fit = pair_fit(cloth, choice.pairing)
    if fit.lost and fit.lost >= printed_width(cloth) / 2 - 2 * job.allowances.side_hem:
        raise _refused((*path, "hang"), Code.TRIM_LEAVES_TOO_LITTLE, lost=fit.lost)
    return fit


def _count(window: Window, width: FlatWidth | None, fit: PairFit, job: Job, lines: Seams, path: Path) -> Fraction:
    """Whole and half cuts of one panel: as written, or worked out from the rod and what trimming loses."""
    if width is None:
        return max(ONE, window.cuts_per_panel or ONE)
    try:
        return max(ONE, cuts_for(width.needed + fit.lost, job, lines))
    except ValueError:
        if job.cloth.repeat is not None and job.cloth.repeat.across is None:
            raise _refused((*path, "rod"), Code.ACROSS_NOT_KNOWN) from None
        room = printed_width(job.cloth) - 2 * job.allowances.seam
        raise _refused((*path, "rod"), Code.NO_WHOLE_COLUMN, room=room) from None


def _refused(path: Path, code: Code, **values: Value) -> JobRefused:
    return JobRefused([problem(path, code, **values)])


def drafts_of(panels: Panels, slug: str, depth: Fraction, job: Job, lines: Seams) -> list[Draft]:
    """All cuts of a window, left panel before right, leading cut first; ``depth`` is from finished top to a row."""
    found: list[Draft] = []
    window, fit = panels.window, panels.fit
    for hand, way in hand_ways(panels.choice, HANDS[window.panels]).items():
        right = hand is Hand.RIGHT
        if panels.strips:
            slide = panels.choice.pairing is Pairing.OWN_SLID and right and job.cloth.repeat is not None
            lower = job.cloth.repeat.along / 2 if slide and job.cloth.repeat else ZERO
            panel = _Panel(window, slug, hand, way, depth, lower, Trims())
            found.append(Draft(panel.cut(1, 1, job, lines), panels.strips[hand]))
            continue
        trims = fit.trims.get(hand, Trims())
        panel = _Panel(window, slug, hand, way, depth, fit.row_shift if right else ZERO, trims)
        of = int(-(-panels.count // 1))
        found += (Draft(panel.cut(number, of, job, lines)) for number in range(1, of + 1))
        if panels.count.denominator == 2:
            strip = Strip(True, trims.returning, may_share=may_share(window, job))
            found[-1] = Draft(found[-1].cut, strip)
    return found


@dataclass(frozen=True)
class _Panel:
    """One panel of a window: its row lies ``depth`` below the finished top, and ``lower`` on its first cut."""

    window: Window
    slug: str
    hand: Hand
    way: Way
    depth: Fraction
    lower: Fraction
    trims: Trims

    def cut(self, number: int, of: int, job: Job, lines: Seams) -> Cut:
        """A cut of the panel as if it took the whole width: whole cuts lead, a half cut comes last."""
        cloth, allowances = job.cloth, job.allowances
        length = cut_length(self.window.finished_length, allowances, cloth.shrinkage)
        top = top_edge(self.way, cloth)
        leads = leading_edge(self.hand, top, self.way)
        row = None
        if cloth.repeat is not None:
            first = (allowances.heading + self.depth) / (1 - cloth.shrinkage) + self.lower
            row = (first + (number - 1) * row_step(cloth, lines.columns, top, leads)) % cloth.repeat.along
        seam = Side(lines.inset, joined=True, trim=_beyond_seam(job, lines))
        return Cut(
            id=f"{self.slug}-{self.hand}" if of == 1 else f"{self.slug}-{self.hand}-{number}",
            window=self.window.name,
            hand=self.hand,
            panel=f"{self.window.name}, {self.hand}",
            number=number,
            of=of,
            length=length,
            across=(ZERO, cloth.width),
            parted=(ZERO, cloth.width),
            top_edge=top,
            leading_edge=leads,
            way=self.way,
            handbook=handbook_cut(length, cloth.repeat.along if cloth.repeat else None),
            row=row,
            phase=phase_of(row, length, top, self.way, cloth),
            heading=allowances.heading / (1 - cloth.shrinkage),
            hem=allowances.hem / (1 - cloth.shrinkage),
            leading_side=_hemmed(job, self.trims.leading) if number == 1 else seam,
            return_side=_hemmed(job, self.trims.returning) if number == of else seam,
        )


def _hemmed(job: Job, trim: Fraction) -> Side:
    """A side that is hemmed inside the printed edge, ``trim`` of the print cut away first."""
    edge, hem = job.cloth.selvedge + trim, job.allowances.side_hem
    return Side(edge + hem, hem, trim=edge if trim else ZERO)


def _beyond_seam(job: Job, lines: Seams) -> Fraction:
    """From the selvedge edge to where the seam allowance begins, where any print is trimmed there."""
    allowance_from = lines.inset - job.allowances.seam
    return allowance_from if allowance_from > job.cloth.selvedge else ZERO
