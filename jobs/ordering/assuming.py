"""A job whose print is not known altogether: every answer that is still possible is tried, and the dearest is taken.

What the cuts do not depend on is not asked: of one whole panel it does not matter how its print mirrors. To order, the
repeat along is enough even where cuts are joined: then whole columns are taken to fill the print, as they mostly do.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import product
from typing import TypeAlias

from jobs.cutting.columns import seams
from jobs.cutting.resolve import resolve, unanswered
from jobs.model.choices import PrintKey, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.print import Print
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.model.schema import ZERO
from jobs.ordering.sharing import shared_for_order
from jobs.ordering.splitting import parts
from jobs.prints.pairs import mirror_is_possible

Value: TypeAlias = Fraction | Symmetry | bool

DROPS = tuple(map(Fraction, ("0", "1/2", "1/3", "2/3", "1/4", "3/4")))
"""Straight, half-drop and the others that cloth is printed with. Common practice, no source."""
_ANSWERS: Mapping[PrintKey, tuple[Value, ...]] = {
    PrintKey.DROP: DROPS,
    PrintKey.TOP_TO_BOTTOM: (Symmetry.NONE, Symmetry.MIRROR, Symmetry.GLIDE),
    PrintKey.SIDE_TO_SIDE: (Symmetry.NONE, Symmetry.MIRROR, Symmetry.GLIDE),
    PrintKey.ONE_WAY: (False, True),
}

COLUMNS = (2, 1, 3, 4)
"""Whole columns that are tried across a print whose repeat across is not known: cloth is printed so that they fill it
(54 in with 27 in across, 48 with 24). Common practice, no source."""
_NEED_ACROSS = frozenset(
    {Code.ACROSS_NOT_KNOWN, Code.DROP_NEEDS_COLUMNS, Code.PAIR_NEEDS_ACROSS, Code.WIDE_NEEDS_ACROSS}
)

Answers: TypeAlias = tuple[Value, ...]
"""One of each key in ``_ANSWERS``, in that order."""


@dataclass(frozen=True)
class Assumed:
    """A job worked out with every question about its print answered, by the file or by the dearest of what may be.

    ``asked`` are the keys whose answers change the cuts, ``taken`` what was taken for them; both are empty where the
    file says enough. ``least`` is bought where they turn out best; ``some_refused`` tells that with some answers the
    job cannot be cut. ``across`` is the repeat across that was taken; None where it is known or cuts do not hang on it.
    """

    resolved: ResolvedJob
    taken: Mapping[PrintKey, Value]
    least: Fraction = ZERO
    some_refused: bool = False
    across: Fraction | None = None

    @property
    def job(self) -> Job:
        return self.resolved.job

    @property
    def asked(self) -> tuple[PrintKey, ...]:
        """The keys to be answered, in the order in which they are asked."""
        return tuple(self.taken)

    @property
    def is_dearest(self) -> bool:
        """Whether something of the print is not known, so that this is the dearest of several cases."""
        return bool(self.taken) or self.across is not None


@dataclass(frozen=True)
class _Case:
    """One set of answers, and what the job comes to with them."""

    answers: Answers
    resolved: ResolvedJob
    across: Fraction | None = None

    @property
    def cuts(self) -> tuple[Cut, ...] | None:
        """None where they cannot be made."""
        return self.resolved.cuts if not self.resolved.problems else None


def assumed(job: Job) -> Assumed:
    """The job worked out: as it is where its print is known, else with the dearest answers.

    Mirror lines that are not known are taken to lie on the rows. Raises JobRefused with every problem of its cuts, and
    where no answer makes cuts.
    """
    return _dearest(job, _cases(job))


def assumed_to_order(job: Job) -> Assumed:
    """The same, so far as an order asks: where cuts hang on a repeat across that is not known, whole columns fill the
    print. A plan needs it: there ``assumed`` refuses the job."""
    cases = _cases(job)
    if job.cloth.run is Run.SIDEWAYS or not any(one.code in _NEED_ACROSS for c in cases for one in c.resolved.problems):
        return _dearest(job, cases)
    between = seams(job.cloth, job.allowances).between
    filled = [case for columns in COLUMNS for case in _cases(job, between / columns)] if between > 0 else []
    return _dearest(job, filled or cases)


def across_needed(job: Job) -> tuple[Problem, ...]:
    """What keeps a job that can be ordered from being planned."""
    try:
        assumed(job)
    except JobRefused as refused:
        return refused.problems
    return ()


def _cases(job: Job, across: Fraction | None = None) -> list[_Case]:
    """The job with every set of answers that is possible, and with this repeat across where one is taken."""
    cloth = job.cloth
    if across is not None and cloth.repeat is not None:
        cloth = replace(cloth, repeat=replace(cloth.repeat, across=across))
    if not cloth.not_known:
        return [_Case((), resolve(replace(job, cloth=cloth)), across)]
    answered = ((answers, _answered(cloth, answers)) for answers in _possible(cloth))
    return [_Case(answers, resolve(replace(job, cloth=one)), across) for answers, one in answered]


def _dearest(job: Job, cases: list[_Case]) -> Assumed:
    able = [case for case in cases if not case.resolved.problems]
    if not able:
        raise JobRefused(_kindest(cases).problems)
    if len(cases) == 1:
        return Assumed(shared_for_order(able[0].resolved), {})
    figures: dict[tuple[Cut, ...], tuple[Fraction, Fraction]] = {}
    for one in (case.resolved for case in able):
        if one.cuts not in figures:
            bought = parts(one.job, one.cuts)
            figures[one.cuts] = sum((part.buy for part in bought), ZERO), sum((p.guaranteed for p in bought), ZERO)
    dearest = max(able, key=lambda case: figures[case.resolved.cuts])
    asked = [key for at, key in enumerate(_ANSWERS) if key in job.cloth.not_known and _changes(at, cases)]
    taken = {key: dearest.answers[at] for at, key in enumerate(_ANSWERS) if key in asked}
    least, some_refused = min(figures.values())[0], len(able) < len(cases)
    found = Assumed(shared_for_order(dearest.resolved), taken, least, some_refused, dearest.across)
    told = (*found.job.notices, *([_assumption(found)] if taken else []), *_columns_taken(found))
    return replace(found, resolved=replace(found.resolved, job=replace(found.job, notices=told)))


def _columns_taken(found: Assumed) -> Iterator[Problem]:
    """That whole columns were taken to fill the print, and how far apart."""
    if found.across is not None:
        yield problem(("cloth", "repeat"), Code.COLUMNS_TAKEN, across=found.across)


def _assumption(found: Assumed) -> Problem:
    """What is not known, which answers were taken, and what the best of them would cost."""
    return problem(
        ("cloth", "print"),
        Code.ASSUMED,
        asked=tuple(found.asked),
        taken=tuple(f"{key}: {written(value)}" for key, value in found.taken.items()),
        least=found.least,
        sold_by=found.job.cloth.sold_by,
        some_refused=int(found.some_refused),
    )


def written(value: Value) -> str:
    """An answer as it stands in a job file."""
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)


def open_problems(job: Job) -> tuple[Problem, ...]:
    """What must be answered before the cloth is cut: what changes the cuts, and the drop, by which columns are lit."""
    asked = set(assumed(job).asked)
    if PrintKey.DROP in job.cloth.not_known and job.cloth.repeat is not None and job.cloth.repeat.across is not None:
        asked.add(PrintKey.DROP)
    return unanswered(asked)


def still_possible(cloth: Cloth) -> tuple[Cloth, ...]:
    """The cloth with each set of answers that its print may still turn out to have; itself alone where all is known."""
    return tuple(_answered(cloth, answers) for answers in _possible(cloth)) if cloth.not_known else (cloth,)


def _possible(cloth: Cloth) -> list[Answers]:
    """Every set of answers that agrees with what is known; all of them where what is known contradicts itself."""
    sheet = cloth.print
    known: tuple[Value, ...] = (cloth.drop, sheet.top_to_bottom, sheet.side_to_side, sheet.one_way)
    choices = (
        answers if key in cloth.not_known else (value,)
        for (key, answers), value in zip(_ANSWERS.items(), known, strict=True)
    )
    found: list[Answers] = list(product(*choices))
    return [answers for answers in found if _agrees(_answered(cloth, answers), sheet.half_turn)] or found


def _agrees(cloth: Cloth, half_turn: bool) -> bool:
    """Whether a print may have all of this: two mirrors make a half-turn, and a drop leaves few lines or none."""
    kinds = (cloth.print.top_to_bottom, cloth.print.side_to_side)
    if half_turn and kinds.count(Symmetry.NONE) == 1:
        return False
    if not mirror_is_possible(cloth):
        return set(kinds) == {Symmetry.NONE}
    # On a half-drop print a glide never comes without a mirror, and is stated as one.
    return not cloth.drop or Symmetry.GLIDE not in kinds


def _answered(cloth: Cloth, answers: Answers) -> Cloth:
    drop, down, across, one_way = answers
    assert isinstance(drop, Fraction)
    assert isinstance(down, Symmetry)
    assert isinstance(across, Symmetry)
    both = Symmetry.NONE not in (down, across)
    sheet: Print = replace(
        cloth.print,
        top_to_bottom=down,
        side_to_side=across,
        half_turn=cloth.print.half_turn or both,
        one_way=bool(one_way),
    )
    return replace(cloth, drop=drop, print=sheet, not_known=frozenset())


def _kindest(cases: list[_Case]) -> ResolvedJob:
    """With the print with which most can be done: what stands in its way no answer mends."""
    return max((case.resolved for case in cases), key=lambda one: _kindness(one.job.cloth))


def _kindness(cloth: Cloth) -> tuple[bool, int, bool]:
    kinds = (cloth.print.top_to_bottom, cloth.print.side_to_side)
    return not cloth.drop, kinds.count(Symmetry.MIRROR), not cloth.print.one_way


def _changes(at: int, cases: list[_Case]) -> bool:
    """Whether two cases that differ in this answer alone make other cuts."""
    first: dict[object, tuple[Cut, ...] | None] = {}
    return any(first.setdefault((c.across, c.answers[:at], c.answers[at + 1 :]), c.cuts) != c.cuts for c in cases)
