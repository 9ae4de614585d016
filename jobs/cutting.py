"""From windows to cuts: how long each is, where its rows lie, which selvedge leads.

The piece lies with its first end to the left, the near selvedge towards the person, face up; a panel hangs with its
face to the room and is seen from inside. An upright cut whose top lies towards the first end therefore hangs, after a
quarter turn to the right, with the near selvedge at the left. Turning the cut or using it face down swaps the sides.
"""

from __future__ import annotations

from fractions import Fraction

from jobs.job import Allowances, Cloth, End, Job, Panels, Place, RowRule, Window
from jobs.plan import Cut, Hand, Selvedge, Way
from jobs.prints import hand_ways
from jobs.refusals import JobRefused, Problem
from jobs.slugs import window_slugs

HANDS = {
    Panels.PAIR: (Hand.LEFT, Hand.RIGHT),
    Panels.LEFT: (Hand.LEFT,),
    Panels.RIGHT: (Hand.RIGHT,),
    Panels.WHOLE: (Hand.WHOLE,),
}


def cut_list(job: Job) -> tuple[Cut, ...]:
    """All cuts of the job, in the order of its windows, left panel before right, leading cut first.

    Lengths are inches of cloth as bought, that is before it shrinks. Raises JobRefused with every problem found.
    """
    problems = cut_problems(job)
    if problems:
        raise JobRefused(problems)
    slugs = window_slugs(window.name for window in job.windows)
    return tuple(cut for window in job.windows for cut in _cuts_of(window, slugs[window.name], job))


def cut_length(finished: Fraction, allowances: Allowances, shrinkage: Fraction) -> Fraction:
    """(finished length + heading + hem) / (1 - shrinkage)."""
    return (finished + allowances.heading + allowances.hem) / (1 - shrinkage)


def handbook_cut(length: Fraction, repeat_along: Fraction | None) -> Fraction:
    """The length rounded up to whole repeats; an exact multiple takes nothing extra, plain cloth neither."""
    return length if repeat_along is None else -(-length // repeat_along) * repeat_along


def first_row(rule: RowRule | None, length: Fraction, allowances: Allowances, cloth: Cloth) -> Fraction | None:
    """Distance from a cut's top edge down to its first row, in [0, repeat); None for plain cloth.

    Without a rule a row stands at the finished top. A rule that names another window is refused before this.
    """
    if cloth.repeat is None:
        return None
    grown = 1 - cloth.shrinkage
    if rule is not None and rule.above_foot is not None:
        return (length - (allowances.hem + rule.above_foot) / grown) % cloth.repeat.along
    below_top = rule.below_top if rule is not None and rule.below_top is not None else Fraction(0)
    return (allowances.heading + below_top) / grown % cloth.repeat.along


def top_is_first(way: Way, top_towards: End) -> bool:
    """Whether the top edge of a cut lies nearer the piece's first end."""
    return (way is Way.TURNED) is (top_towards is End.LAST)


def leading_selvedge(hand: Hand, way: Way, top_first: bool) -> Selvedge:
    """The selvedge at the panel's leading edge: the right edge of a left panel, the left edge of a right one.

    A whole panel, which has no partner to meet, counts like a left one.
    """
    near_hangs_left = top_first is not (way is Way.FACE_DOWN)
    leads_left = hand is Hand.RIGHT
    return Selvedge.NEAR if near_hangs_left is leads_left else Selvedge.FAR


def _cuts_of(window: Window, slug: str, job: Job) -> list[Cut]:
    cloth, allowances = job.cloth, job.allowances
    length = cut_length(window.finished_length, allowances, cloth.shrinkage)
    hands = HANDS[window.panels]
    count = int(window.cuts_per_panel or 0)
    cuts = []
    for hand, way in hand_ways(cloth, window.hang, hands).items():
        top_first = top_is_first(way, cloth.print.top_towards)
        for number in range(1, count + 1):
            cut = Cut(
                id=f"{slug}-{hand}" if count == 1 else f"{slug}-{hand}-{number}",
                window=window.name,
                hand=hand,
                panel=f"{window.name}, {hand}",
                number=number,
                of=count,
                length=length,
                handbook=handbook_cut(length, cloth.repeat.along if cloth.repeat else None),
                row=first_row(window.row, length, allowances, cloth),
                way=way,
                top_first=top_first,
                leading_selvedge=leading_selvedge(hand, way, top_first),
                heading=allowances.heading / (1 - cloth.shrinkage),
                hem=allowances.hem / (1 - cloth.shrinkage),
            )
            cuts.append(cut)
    return cuts


def cut_problems(job: Job) -> list[Problem]:
    """Everything that keeps the cuts from being worked out; empty when ``cut_list`` gives an answer."""
    if not job.windows:
        return [Problem("windows", "the job has no window, so there is nothing to cut", "write at least one window")]
    problems = [problem for window in job.windows for problem in _window_problems(window, job.cloth)]
    seen: set[str] = set()
    for window in job.windows:
        if window.name in seen:
            what = "two windows have this name, so their cuts could not be told apart"
            problems.append(_problem(window, what, "give each window its own name"))
        seen.add(window.name)
    return list(dict.fromkeys([*problems, *_pair_problems(job)]))


def _pair_problems(job: Job) -> list[Problem]:
    problems = []
    for window in job.windows:
        try:
            hand_ways(job.cloth, window.hang, HANDS[window.panels])
        except JobRefused as refused:
            problems += [_problem(window, one.what, one.advice) for one in refused.problems]
    return problems


def _problem(window: Window, what: str, advice: str) -> Problem:
    place: Place | None = window.place
    return Problem(f"window {window.name}", what, advice, place)


def _window_problems(window: Window, cloth: Cloth) -> list[Problem]:
    problems, cuts = [], window.cuts_per_panel
    if window.rod is not None or cuts is None:
        what = "this version does not work out the number of cuts from rod and fullness"
        problems.append(_problem(window, what, "for now write `cuts_per_panel` with a whole number"))
    elif cuts.denominator != 1 or cuts < 1:
        what = f"this version cuts whole cuts only, not {cuts} to a panel"
        problems.append(_problem(window, what, "for now write `cuts_per_panel` as a whole number, 1 or more"))
    elif cuts > 1 and cloth.repeat is not None and cloth.drop % 1:
        what = f"this version does not join cuts of cloth with a drop ({cloth.drop} of the repeat)"
        problems.append(_problem(window, what, "for now only panels of one cut are planned: write `cuts_per_panel: 1`"))
    if window.row is not None and window.row.level_with is not None and cloth.repeat is not None:
        what = f"this version does not level rows with another window ({window.row.level_with})"
        problems.append(_problem(window, what, "for now write `row: {below_top: ...}` with the height worked out"))
    return problems
