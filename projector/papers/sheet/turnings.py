"""What is turned over and seamed at the edges of one cut, in a few words: on its tag and beside it on the sheet."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from jobs.model.allowances import Allowances, OwnAllowances
from jobs.model.choices import TurnedOver
from jobs.model.cuts import Cut
from jobs.model.job import Job
from projector.papers.sheet.lengths import LengthFormat


def turning_lines(cut: Cut, job: Job, show: LengthFormat) -> tuple[str, ...]:
    """Top, foot and sides, each where there is something to do; one line for what is seamed all round."""
    made = job.made_for(cut.window)
    if made is not None and made.seamed:
        return tuple(_seamed(cut, show))
    return tuple(_hemmed(cut, job, show))


def kinds_of(cut: Cut, job: Job) -> Allowances | OwnAllowances:
    """Whose kinds count for a cut; a lining is turned over as it is told to be, whatever its face is called."""
    return job.allowed_at(cut.window) if job.made_for(cut.window) is None else OwnAllowances()


def _seamed(cut: Cut, show: LengthFormat) -> Iterator[str]:
    seam = cut.leading_side.hem
    if cut.heading == cut.hem == seam:
        yield f"seam {show(seam)} all round"
        return
    yield f"sides: seam {show(seam)}"
    ends = dict.fromkeys((show(cut.heading), show(cut.hem)))
    yield f"ends: {' and '.join(ends)}, turned over with the face"


def _hemmed(cut: Cut, job: Job, show: LengthFormat) -> Iterator[str]:
    kinds = kinds_of(cut, job)
    if cut.heading or kinds.heading_kind:
        turn = f"turn over {show(cut.heading)}" if cut.heading else ""
        yield f"top: {', '.join(filter(None, (kinds.heading_kind, turn)))}"
    if cut.hem:
        hem = f"{kinds.hem_kind} hem, " if kinds.hem_kind else ""
        yield f"foot: {hem}turn up {_turned(cut.hem, job.is_turned_twice(cut.window, TurnedOver.HEM), show)}"
    sides = (cut.leading_side, cut.return_side)
    hems = dict.fromkeys(side.hem for side in sides if side.hem)
    seams = dict.fromkeys(side.line - side.trim for side in sides if side.joined)
    twice = job.is_turned_twice(cut.window, TurnedOver.SIDE_HEM)
    said = [*(f"hem {_turned(hem, twice, show)}" for hem in hems), *(f"seam {show(seam)}" for seam in seams)]
    if said:
        yield f"sides: {', '.join(said)}"


def _turned(length: Fraction, twice: bool, show: LengthFormat) -> str:
    return f"{show(length / 2)} twice" if twice else show(length)
