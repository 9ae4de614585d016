"""Cloth run up: from a window to the cuts of its panels, joined side by side, before strips share a length."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from jobs.cutting.borders import with_border
from jobs.cutting.columns import printed_width, seam_allowance, seams, selvedge_at
from jobs.cutting.hands import cut_name
from jobs.cutting.mirroring import HANDS, PairFit, pair_fit, top_edge, way_choice
from jobs.cutting.rows import phase_of, row_step
from jobs.cutting.strips import Draft, Half, Narrow, may_share, narrow_strips, wide_strip
from jobs.cutting.wide import wide_pieces
from jobs.cutting.widths import (
    HALF,
    Share,
    arranged,
    can_be_split,
    cut_length,
    cuts_for,
    flat_width,
    handbook_cut,
    lost_at_a_slit,
    reached,
)
from jobs.model.choices import Facing, HalfAt, Part
from jobs.model.cuts import MOST_CUTS, Cut, Edge, Hand, Side, Way, leading_edge
from jobs.model.job import Job, allowances_of
from jobs.model.problems import Code, JobRefused, Path, Value, problem
from jobs.model.records import dataclass
from jobs.model.resolved import FlatWidth, Pairing, Seams, Trims, WayChoice
from jobs.model.schema import ZERO
from jobs.model.window import Window
from jobs.prints.pairs import hand_ways

ONE = Fraction(1)


@dataclass(frozen=True)
class Panels:
    """How the panels of a window are made up, before it is known where their rows hang.

    ``count`` is the whole and half cuts of one panel, ``strips`` those of narrow ones, ``pieces`` the widths of a flat
    panel that is wider than its cloth, ``wide`` what a panel of one cut takes across where others lie beside it,
    ``seams`` the lines at which cuts are joined.
    """

    window: Window
    choice: WayChoice
    width: FlatWidth | None
    fit: PairFit
    strips: Mapping[Hand, Narrow]
    count: Fraction
    seams: Seams
    wide: Narrow | None = None
    pieces: tuple[Narrow, ...] = ()


def panels_of(window: Window, job: Job, path: Path) -> Panels:
    """The panels of a window. Raises JobRefused with the first thing that is wrong: what follows would only puzzle."""
    lines = seams(job.cloth, job.allowances)
    choice = with_border(way_choice(window, job, path), window, job.cloth, path)
    fit = _pair_fit(choice, window, job, path)
    width = flat_width(window, job)
    strips = narrow_strips(window, job, width, choice.pairing)
    if window.made is not None and window.made.exact and width is not None and not strips:
        pieces = _joined_pieces(window, job, width.needed, (*path, "width"))
        return Panels(window, choice, width, fit, {}, Fraction(len(pieces)), lines, pieces=pieces)
    count = HALF if strips else _count(window, width, fit, job, lines, path)
    if count > MOST_CUTS:
        raise _refused((*path, "rod"), Code.TOO_MANY_CUTS, cuts=count, most=MOST_CUTS)
    if count > 1 and lines.between <= 0:
        raise _refused(path, Code.SEAMS_LEAVE_NOTHING)
    if count > 1 and not can_be_split(count, window.half_at):
        raise _refused((*path, "cuts_per_panel"), Code.HALF_NOT_SPLIT, cuts=count)
    on_columns = choice.pairing in (Pairing.OWN_IMAGE, Pairing.OWN_SLID)
    if window.half_at is HalfAt.LEADING and on_columns and count.denominator == 2 and not strips:
        raise _refused((*path, "half_at"), Code.HALF_LEADS_MIRRORED)
    if count > 1 and job.cloth.repeat is not None and not lines.match:
        _check_match(window, job, path)
    wide = wide_strip(window, job, width) if count == 1 and not fit.row_shift and not fit.trims else None
    return Panels(window, choice, width, fit, strips, count, lines, wide)


def _joined_pieces(window: Window, job: Job, needed: Fraction, path: Path) -> tuple[Narrow, ...]:
    """The widths of which a flat panel is joined. Raises JobRefused where that cannot be, and for all else."""
    lies, repeat = printed_width(job.cloth), job.cloth.repeat
    if needed <= lies:
        raise _refused(path, Code.CANNOT_BE_CENTRED, needed=needed, lies=lies)
    if window.made is None or window.made.part is not Part.FLAT_PANEL:
        raise _refused(path, Code.WIDER_THAN_ITS_CLOTH, needed=needed, lies=lies)
    if repeat is not None and repeat.across is None:
        raise _refused(path, Code.WIDE_NEEDS_ACROSS, needed=needed, lies=lies)
    pieces = wide_pieces(window, job, needed)
    if not pieces:
        raise _refused(path, Code.WIDE_CANNOT_BE_JOINED, needed=needed, lies=lies)
    return pieces


def _check_match(window: Window, job: Job, path: Path) -> None:
    """Raise JobRefused where cuts are to be joined and the print would not run on, so far as that is known.

    Who writes how many cuts a panel has may join a straight print as it comes; the order says so.
    """
    cloth, by_rod = job.cloth, window.cuts_per_panel is None
    across = cloth.repeat.across if cloth.repeat is not None else None
    if not by_rod and not cloth.drop:
        return
    if across is None:
        raise _refused((*path, "rod"), Code.ACROSS_NOT_KNOWN) if by_rod else _refused(path, Code.DROP_NEEDS_COLUMNS)
    at: Path = (*path, "rod" if by_rod else "cuts_per_panel")
    printed, least = printed_width(cloth), job.allowances.least_seam
    joined = min(across, printed)
    if joined == across or min(cloth.near_selvedge, cloth.far_selvedge) < least:
        left = (cloth.width - joined) / 2
        raise _refused(at, Code.NO_ROOM_FOR_SEAMS, across=joined, left=left, least=least)
    raise _refused(at, Code.NO_COLUMN_TWICE, across=across, printed=printed, drop=cloth.drop)


def _pair_fit(choice: WayChoice, window: Window, job: Job, path: Path) -> PairFit:
    cloth = job.cloth
    across = cloth.repeat.across if cloth.repeat else None
    if choice.pairing is Pairing.OWN_IMAGE and cloth.drop and across is None:
        raise _refused((*path, "hang"), Code.PAIR_NEEDS_ACROSS)
    fit = pair_fit(cloth, choice.pairing)
    if fit.lost and fit.lost >= printed_width(cloth) / 2 - 2 * _side_hem(window, job):
        raise _refused((*path, "hang"), Code.TRIM_LEAVES_TOO_LITTLE, lost=fit.lost)
    return fit


def _count(window: Window, width: FlatWidth | None, fit: PairFit, job: Job, lines: Seams, path: Path) -> Fraction:
    """Whole and half cuts of one panel: as written, or worked out from the rod and what trimming loses."""
    if width is None:
        return max(ONE, window.cuts_per_panel or ONE)
    try:
        return max(ONE, cuts_for(width.needed + fit.lost, job.cloth, lines, window.half_at))
    except ValueError:
        raise _refused((*path, "rod"), Code.SEAMS_LEAVE_NOTHING) from None


def _refused(path: Path, code: Code, **values: Value) -> JobRefused:
    return JobRefused([problem(path, code, **values)])


def drafts_of(panels: Panels, slug: str, depth: Fraction, job: Job) -> list[Draft]:
    """All cuts of a window, left panel before right, leading cut first; ``depth`` is from finished top to a row."""
    found: list[Draft] = []
    window, fit, lines = panels.window, panels.fit, panels.seams
    if panels.pieces:
        return _pieces(panels, slug, depth, job)
    other_way = window.facing is Facing.RIGHT and panels.choice.first is not Way.UPRIGHT
    for hand, way in hand_ways(panels.choice, HANDS[window.panels]).items():
        right = hand is Hand.RIGHT
        if panels.strips:
            slide = panels.choice.pairing is Pairing.OWN_SLID and right and job.cloth.repeat is not None
            lower = job.cloth.repeat.along / 2 if slide and job.cloth.repeat else ZERO
            lower -= row_step(job.cloth, panels.strips[hand].column, top_edge(way, job.cloth), Edge.NEAR)
            panel = _Panel(window, slug, hand, way, depth, lower, Trims())
            found.append(Draft(panel.cut(1, 1, job, lines), panels.strips[hand], other_way))
            continue
        trims = fit.trims.get(hand, Trims())
        shares = arranged(panels.count, window.half_at)
        first = shares.index(Share()) if window.half_at is not HalfAt.BOTH else len(shares) // 2
        panel = _Panel(window, slug, hand, way, depth, fit.row_shift if right else ZERO, trims, first + 1)
        for number, share in enumerate(shares, 1):
            cut = panel.cut(number, len(shares), job, lines)
            strip = None if share == Share() else _joined_strip(share, cut, trims, panels, job)
            found.append(Draft(cut, strip, other_way))
        if panels.wide is not None:
            found[-1] = replace(found[-1], strip=panels.wide)
    return found


def _pieces(panels: Panels, slug: str, depth: Fraction, job: Job) -> list[Draft]:
    """The widths of a flat panel, the leading one first, each on the row of its columns."""
    top, found = top_edge(Way.UPRIGHT, job.cloth), list[Draft]()
    from_near = leading_edge(Hand.WHOLE, top, Way.UPRIGHT) is Edge.NEAR
    for number, piece in enumerate(panels.pieces if from_near else panels.pieces[::-1], 1):
        lower = -row_step(job.cloth, piece.column, top, Edge.NEAR)
        panel = _Panel(panels.window, slug, Hand.WHOLE, Way.UPRIGHT, depth, lower, Trims(), number)
        found.append(Draft(panel.cut(number, len(panels.pieces), job, panels.seams), piece))
    return found


def _joined_strip(share: Share, cut: Cut, trims: Trims, panels: Panels, job: Job) -> Half:
    """What a cut that takes only a part of the cloth needs across, joined at one side and slit at the other."""
    return Half(
        share.part,
        cut.return_edge if share.leads else cut.leading_edge,
        trims.leading if share.leads else trims.returning,
        _side_hem(panels.window, job),
        job.allowances.seam,
        _reaches_at_slit(panels, job),
        may_share(panels.window, job),
    )


def _side_hem(window: Window, job: Job) -> Fraction:
    return allowances_of(window, job.allowances).side_hem


def _reaches_at_slit(panels: Panels, job: Job) -> bool:
    """Whether a panel whose half cut is seamed along its slit is wide enough; only plain cloth may be seamed there."""
    if panels.width is None or panels.window.half_at is HalfAt.BOTH:
        return panels.width is None
    lost = lost_at_a_slit(job.cloth, panels.seams, job.allowances.seam)
    return reached(panels.count, job.cloth, panels.seams) - lost >= panels.width.needed + panels.fit.lost


@dataclass(frozen=True)
class _Panel:
    """One panel of a window: its row lies ``depth`` below the finished top, ``lower`` in some, on its ``first`` cut."""

    window: Window
    slug: str
    hand: Hand
    way: Way
    depth: Fraction
    lower: Fraction
    trims: Trims
    first: int = 1

    def cut(self, number: int, of: int, job: Job, lines: Seams) -> Cut:
        """A cut of the panel as if it took the whole width: whole cuts lead, a half cut comes last."""
        cloth, allowances = job.cloth, allowances_of(self.window, job.allowances)
        length = cut_length(self.window.finished_length, allowances, cloth.shrinkage)
        top = top_edge(self.way, cloth)
        leads = leading_edge(self.hand, top, self.way)
        row = None
        if cloth.repeat is not None:
            first = (allowances.heading + self.depth) / (1 - cloth.shrinkage) + self.lower
            row = (first + (number - self.first) * row_step(cloth, lines.columns, top, leads)) % cloth.repeat.along
        return Cut(
            id=cut_name(self.slug, self.hand, number, of),
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
            leading_side=self._side(leads, number == 1, job, lines),
            return_side=self._side(leads.opposite, number == of, job, lines),
        )

    def _side(self, edge: Edge, hemmed: bool, job: Job, lines: Seams) -> Side:
        """A side that is hemmed inside the printed edge, what is trimmed there cut away first, or one that is joined,
        print that lies further out than the seam allowance trimmed away first."""
        if not hemmed:
            inset = lines.inset(edge)
            return Side(inset, joined=True, trim=inset - seam_allowance(edge, job.cloth, job.allowances, lines))
        leads = edge is leading_edge(self.hand, top_edge(self.way, job.cloth), self.way)
        trim, hem = self.trims.leading if leads else self.trims.returning, _side_hem(self.window, job)
        inside = selvedge_at(edge, job.cloth) + trim
        return Side(inside + hem, hem, trim=inside if trim else ZERO)
