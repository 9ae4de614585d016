"""How the cuts of each panel were come by, as plain sentences with their numbers, in the job's unit."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import count as count_from

from jobs.cutting.columns import printed_width, seams
from jobs.cutting.mirroring import fit_of
from jobs.cutting.narrow import narrow_strips
from jobs.cutting.panels import panel_cuts
from jobs.cutting.sideways.told import sideways_cautions, sideways_steps
from jobs.cutting.widths import RETURNS, FlatWidth, flat_width, joined_width
from jobs.model.choices import Panels, ReturnsAdded, Run, Unit
from jobs.model.cuts import Cut, Hand
from jobs.model.job import Job
from jobs.model.lengths import show_length
from jobs.model.numbers import counted, show_number
from jobs.model.window import Window


def panel_steps(job: Job, cuts: Sequence[Cut]) -> tuple[str, ...]:
    """From rod to cuts, what seams and trims take, and which cuts lie side by side; empty for panels of one cut.

    Raises JobRefused as ``cut_list`` does for the same job.
    """
    if job.cloth.run is Run.SIDEWAYS:
        level = (step for one in job.windows for step in _sideways(one, job, cuts))
        return (*level, *_lane_steps(job, cuts), *sideways_cautions(job))
    steps = dict.fromkeys(step for window in job.windows for step in _window_steps(window, job))
    return (*steps, *_lane_steps(job, cuts))


def _window_steps(window: Window, job: Job) -> Iterator[str]:
    width = flat_width(window, job)
    if width is not None:
        yield from _width_steps(window, job, width)
        yield _count_step(window, job, width)
        yield from _saving_step(window, job)
    elif panel_cuts(window, job) > 1:
        yield f"{window.name}: {_cuts(panel_cuts(window, job))} to a panel, as written."
    if panel_cuts(window, job) > 1:
        yield from _seam_steps(job)
    yield from _trim_steps(window, job)


def _sideways(window: Window, job: Job, cuts: Sequence[Cut]) -> Iterator[str]:
    width = flat_width(window, job)
    if width is not None:
        yield from _width_steps(window, job, width)
    yield from sideways_steps(window, job, cuts)


def _width_steps(window: Window, job: Job, width: FlatWidth) -> Iterator[str]:
    number = RETURNS[window.panels]
    parts = [f"rod {_say(job, window.rod or Fraction(0))}"]
    parts += [f"overlap {_say(job, window.overlap)}"] if window.overlap else []
    returns = (
        f"{number} returns of {_say(job, window.returns)}" if number > 1 else f"return {_say(job, window.returns)}"
    )
    before = job.returns_added is ReturnsAdded.BEFORE
    parts += [returns] if window.returns and before else []
    if len(parts) > 1:
        yield f"{window.name}: {' + '.join(parts)} = {_say(job, width.overall)} over all."
    overall = _say(job, width.overall) if len(parts) > 1 else parts[0]
    later = f" + {returns}" if window.returns and not before else ""
    order = f" (returns added {job.returns_added})" if window.returns else ""
    flat = f"{overall} x {_fullness(job, window.fullness)}{later} = {_say(job, width.flat)} flat{order}"
    half = f", {_say(job, width.flat / 2)} for each panel" if width.panels == 2 else ""
    hem = job.allowances.side_hem
    hems = f"; with 2 side hems of {_say(job, hem)} a panel takes {_say(job, width.needed)}" if hem else ""
    yield f"{window.name}: {flat}{half}{hems}."


def _fullness(job: Job, fullness: Fraction) -> str:
    """As it is said beside the unit: 1 3/4 with inches, 1.75 with centimetres, where that is exact."""
    decimal = f"{float(fullness):g}"
    return decimal if job.unit is not Unit.INCH and Fraction(decimal) == fullness else show_number(fullness)


def _count_step(window: Window, job: Job, width: FlatWidth) -> str:
    cuts, lost = panel_cuts(window, job), fit_of(window, job).lost
    if narrow_strips(window, job):
        return f"{window.name}: that is no more than half the cloth, so a panel is cut as a strip of its own width."
    needed = width.needed + lost
    said = f"{_say(job, width.needed)} + {_say(job, lost)} that is trimmed" if lost else _say(job, needed)
    two = f", {_cuts(2 * cuts)} for the pair" if window.panels is Panels.PAIR else ""
    printed = printed_width(job.cloth)
    if cuts <= 1:
        return f"{window.name}: one cut of {_say(job, printed)} between the selvedges is enough{two}."
    lines = seams(job.cloth, job.allowances.seam)
    if job.cloth.repeat is None:
        gives = _say(job, joined_width(cuts, printed, 2 * job.allowances.seam))
        how = f"{_cuts(cuts)} of {_say(job, printed)} between the selvedges, joined, give {gives}"
    else:
        each = lines.far - lines.near
        how = (
            f"each cut gives {_say(job, each)}, {counted(lines.columns, 'whole column')} between its seams: "
            f"{float(needed / each):.2f} cuts, rounded up to {show_number(cuts)}"
        )
    return f"{window.name}: {said} to a panel; {how}{two}."


def _saving_step(window: Window, job: Job) -> Iterator[str]:
    """Fewer cuts, where the cloth outside the outermost seams makes up for the whole columns not reached."""
    enough = fewer_cuts(window, job)
    if enough is not None:
        yield (
            f"{window.name}: counted to its outer edges, {_cuts(enough)} would reach {_say(job, reached(enough, job))} "
            f"too: to take fewer, say how many cuts a panel has (`cuts_per_panel: {show_number(enough)}`)."
        )


def fewer_cuts(window: Window, job: Job) -> Fraction | None:
    """How many cuts would do for a panel counted to its outer edges; None where that is no fewer or not reckoned."""
    width, cuts = flat_width(window, job), panel_cuts(window, job)
    if width is None or job.cloth.repeat is None or cuts <= 1:
        return None
    needed = width.needed + fit_of(window, job).lost
    enough = next(count for count in _counts() if reached(count, job) >= needed)
    return enough if enough < cuts else None


def _counts() -> Iterator[Fraction]:
    return (Fraction(halves, 2) for halves in count_from(3))


def reached(cuts: Fraction, job: Job) -> Fraction:
    """The width of so many joined cuts of patterned cloth (1 1/2 or more), from one outer printed edge to the other.

    The leading cut reaches from the printed edge to its seam, a half cut from its seam to the slit in the middle.
    """
    lines, printed = seams(job.cloth, job.allowances.seam), printed_width(job.cloth)
    each = lines.far - lines.near
    if cuts.denominator == 1:
        return printed + (cuts - 1) * each
    return (printed + each) / 2 + (cuts - Fraction(3, 2)) * each + each / 2


def _seam_steps(job: Job) -> Iterator[str]:
    lines = seams(job.cloth, job.allowances.seam)
    if lines.columns:
        beyond = lines.near - job.allowances.seam - job.cloth.selvedge
        trim = f", and {_say(job, beyond)} beyond the seam allowance is trimmed" if beyond else ""
        yield (
            f"Seams: {_say(job, lines.near)} and {_say(job, lines.far)} from the near selvedge edge, "
            f"{counted(lines.columns, 'column')} apart, so that the print runs on{trim}. "
            "Match each length to the one before it before you cut it."
        )
    elif job.cloth.repeat is not None:
        yield "Look out: no whole column is known to lie between two seams, so the print may not run on across them."


def _trim_steps(window: Window, job: Job) -> Iterator[str]:
    fit = fit_of(window, job)
    if narrow_strips(window, job) or not fit.lost:
        return
    leading = next(hand for hand, trims in fit.trims.items() if trims.leading)
    other = Hand.LEFT if leading is Hand.RIGHT else Hand.RIGHT
    lost = _say(job, fit.lost)
    yield (
        f"{window.name}: so that the pair mirrors, {lost} is trimmed from the leading edge of the {leading} panel and "
        f"{lost} from the return edge of the {other} one, before they are hemmed."
    )


def _lane_steps(job: Job, cuts: Sequence[Cut]) -> Iterator[str]:
    lanes: dict[str, list[Cut]] = {}
    for cut in cuts:
        if cut.beside:
            lanes.setdefault(cut.beside, []).append(cut)
    for lane in lanes.values():
        names = " and ".join(f"{cut.panel}, {cut.number} of {cut.of}" for cut in lane)
        how = "One above the other across the cloth" if lane[0].is_sideways else "Side by side"
        yield f"{how} in one length of {_say(job, lane[0].length)}: {names}."


def _cuts(count: Fraction) -> str:
    return counted(count, "cut")


def _say(job: Job, length: Fraction) -> str:
    return show_length(length, job.unit)
