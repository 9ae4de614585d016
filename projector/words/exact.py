"""What is cut to its own width, in sentences: how wide, what of the print lies in its middle, of what it is joined."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from jobs.cutting.columns import printed_width
from jobs.model.job import Job, allowances_of
from jobs.model.lengths import show_length
from jobs.model.resolved import ResolvedJob, ResolvedWindow
from projector.words.measures import listed


def exact_lines(resolved: ResolvedJob) -> Iterator[str]:
    """Once for all that are alike."""
    job = resolved.job
    alike: dict[tuple[Fraction, Fraction, bool, Fraction | None], list[str]] = {}
    for one in resolved.windows:
        made, flat = one.window.made, one.window.flat
        if made is not None and made.exact and flat is not None:
            hem = allowances_of(one.window, job.allowances).side_hem
            alike.setdefault((flat, hem, made.seamed, made.middle), []).append(one.window.name)
    for (flat, hem, seamed, middle), names in alike.items():
        turned = f" + two {'seams' if seamed else 'side hems'} of {_say(job, hem)}" if hem else ""
        total = f"{turned} = {_say(job, flat + 2 * hem)}" if hem else ""
        yield f"{', '.join(names)}: {_say(job, flat)} wide{total}, cut to just that{_middle_words(job, middle)}."
    yield from joined_lines(resolved)


def joined_lines(resolved: ResolvedJob) -> Iterator[str]:
    """Of which widths a flat panel is joined that is wider than its cloth, and what is left outside their seams."""
    job, alike = resolved.job, dict[str, list[str]]()
    for one in resolved.windows:
        if one.window.made is not None and one.window.made.exact and one.cuts[0].of > 1:
            alike.setdefault(_joined_words(one, job), []).append(one.window.name)
    for words, names in alike.items():
        yield f"{', '.join(names)}: {words}"


def _joined_words(one: ResolvedWindow, job: Job) -> str:
    cuts = sorted(one.cuts, key=lambda cut: cut.number)
    wide = [cut.finished_width + cut.leading_side.hem + cut.return_side.hem for cut in cuts]
    wanted, left = job.allowed_at(one.window.name).seam, cuts[0].return_side.line - cuts[0].return_side.trim
    less = f", less than the {_say(job, wanted)} that a seam is to have" if left < wanted else ""
    runs_on = "; the print runs on. Match each to the one before it before you cut it" if job.cloth.repeat else ""
    parts = listed([_say(job, width) for width in wide])
    return (
        f"wider than the {_say(job, printed_width(job.cloth))} between the selvedges, so {len(cuts)} widths are "
        f"joined, {parts} without their seams; {_say(job, left)} is left outside each seam{less}{runs_on}."
    )


def _middle_words(job: Job, middle: Fraction | None) -> str:
    across = job.cloth.repeat.across if job.cloth.repeat is not None else None
    if middle is None or across is None:
        return ""
    off = middle % across
    if not off:
        return "; a column of motifs lies in the middle"
    if off == across / 2:
        return "; the gap between two columns lies in the middle"
    return f"; the middle lies {_say(job, off)} beyond a column, away from the near selvedge"


def _say(job: Job, length: Fraction) -> str:
    return show_length(length, job.unit)
