"""Cuts that are made already and the cuts that a job asks for now, brought together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace
from fractions import Fraction

from jobs.journal.history import History
from jobs.model.cuts import Cut, Edge, Placement
from jobs.model.job import Job
from jobs.model.problems import Code, Path, Problem, Value, problem
from jobs.model.records import dataclass
from jobs.model.schema import ZERO

NEAREST = Fraction(1, 16)
"""Differences up to this are not seen under scissors."""


@dataclass(frozen=True)
class MadeCut:
    """A made cut on the cloth of the job: the name it has in the record, and where it lies."""

    name: str
    placed: Placement


@dataclass(frozen=True)
class Fit:
    """``against`` is why the made cut does not serve (None: it does), ``note`` what is to be known where it does."""

    against: Problem | None = None
    note: Problem | None = None


def name_of(cut: Cut) -> str:
    """A cut as a person calls it."""
    return f"{cut.panel}, {cut.number} of {cut.of}" if cut.of > 1 else cut.panel


def fit_of(made: Cut, wanted: Cut, job: Job) -> Fit:
    """How a made cut serves as the one that is wanted now.

    It serves as it is, or longer than wanted with its rows in the right place, so that it is trimmed, or with other
    turnings (heading, hem) and the same finished length.
    """
    tops = made.top_edge, wanted.top_edge
    if tops[0] is not tops[1] and not all(edge.is_end for edge in tops):
        return _against(Code.CUT_OTHER_WAY_OF_CLOTH)
    if made.way is not wanted.way:
        return _against(Code.CUT_OTHER_WAY, made=made.way.value, wanted=wanted.way.value)
    if _narrower(made, wanted):
        return _against(Code.CUT_OTHER_SIDES)
    if tops[0] is not tops[1]:
        return _against(Code.CUT_OTHER_TOP)
    return _rows_across(made, wanted, job) if tops[0].is_end else _rows_along(made, wanted)


def _narrower(made: Cut, wanted: Cut) -> bool:
    """Whether cloth was cut away at a side where it is wanted now."""
    sides = [edge for edge in (Edge.NEAR, Edge.FAR) if edge in (made.leading_edge, made.return_edge)]
    return any(edge.sense * (_reach(wanted, edge) - _reach(made, edge)) > NEAREST for edge in sides)


def _reach(cut: Cut, edge: Edge) -> Fraction:
    """To where a cut reaches across the cloth, once it is trimmed."""
    side = cut.side_at(edge)
    return edge.at(cut.across, cut.across, side.trim if side is not None else ZERO)


def _rows_across(made: Cut, wanted: Cut, job: Job) -> Fit:
    """Rows run across the piece, so that what is trimmed along it moves them under the top."""
    top = _trimmed_at_top(made, wanted, job)
    foot = made.length - wanted.length - top if top is not None else ZERO
    if top is not None and foot >= -NEAREST:
        return _trimmed(top=top, foot=foot)
    lengths = [cut.length - cut.heading - cut.hem for cut in (made, wanted)]
    if abs(lengths[0] - lengths[1]) <= NEAREST and _apart(_below_top(made), _below_top(wanted), job) <= NEAREST:
        return Fit(note=problem((), Code.CUT_OTHER_TURNINGS, heading=made.heading, hem=made.hem))
    if abs(made.length - wanted.length) > NEAREST:
        return _against(Code.CUT_OTHER_LENGTH, made=made.length, wanted=wanted.length)
    return _against(Code.CUT_OTHER_ROW, made=made.row or ZERO, wanted=wanted.row or ZERO)


def _trimmed_at_top(made: Cut, wanted: Cut, job: Job) -> Fraction | None:
    """The least that is trimmed at the top of a made cut so that rows lie as wanted; None where no trim gives that."""
    if made.row is None or wanted.row is None or job.cloth.repeat is None:
        return ZERO
    along = job.cloth.repeat.along
    top = (made.row - wanted.row) % along
    return ZERO if along - top <= NEAREST else top


def _below_top(cut: Cut) -> Fraction | None:
    return None if cut.row is None else cut.row - cut.heading


def _apart(one: Fraction | None, other: Fraction | None, job: Job) -> Fraction:
    """How far rows lie apart."""
    if one is None or other is None or job.cloth.repeat is None:
        return ZERO
    apart = (one - other) % job.cloth.repeat.along
    return min(apart, job.cloth.repeat.along - apart)


def _rows_along(made: Cut, wanted: Cut) -> Fit:
    """Rows run along the piece: what is trimmed along it leaves them where they are."""
    rows = [cut.row if cut.row is not None else ZERO for cut in (made, wanted)]
    if abs(made.height - wanted.height) > NEAREST or abs(rows[0] - rows[1]) > NEAREST:
        return _against(Code.CUT_OTHER_HEIGHT)
    more = made.length - wanted.length
    if more < -NEAREST:
        return _against(Code.CUT_OTHER_LENGTH, made=made.length, wanted=wanted.length)
    return _trimmed(returning=more)


def _against(code: Code, **values: Value) -> Fit:
    return Fit(problem((), code, **values))


def _trimmed(**trims: Fraction) -> Fit:
    seen: dict[str, Value] = {where: trim for where, trim in trims.items() if trim > NEAREST}
    return Fit(note=problem((), Code.CUT_TO_TRIM, **seen)) if seen else Fit()


class Matching:
    """Made cuts and the cuts that the job asks for, brought together one after another.

    ``serving`` are the made cuts that serve, under their new names; ``called`` the new name of each by its old one,
    ``renamed`` those of which that is news. ``spares`` are made cuts that serve nobody any more. ``notes`` is what the
    person is told of windows and spares, ``fits`` of single cuts.
    """

    def __init__(self, job: Job, cuts: Sequence[Cut], history: History) -> None:
        self.job = job
        self.wanted = {(cut.window, cut.hand, cut.number): cut for cut in cuts}
        self._names = {cut.id for cut in cuts}
        planned = history.planned
        known = planned.windows if planned else None
        self.fresh = [window.name for window in job.windows if known is None or window.name not in known]
        self.has_names = known is not None
        self.serving: list[Placement] = []
        self.called: dict[str, str] = {}
        self.renamed: list[str] = []
        self.spares: list[str] = []
        self.notes: list[Problem] = []
        self.fits: list[Problem] = []
        self.problems: list[Problem] = []
        self._spare_places: list[Placement] = []

    def match(self, made: Sequence[MadeCut]) -> None:
        windows = {window.name for window in self.job.windows}
        by_window: dict[str, list[MadeCut]] = {}
        for one in made:
            by_window.setdefault(one.placed.cut.window, []).append(one)
        taken = set(by_window)
        for window, ours in by_window.items():
            name = window if window in windows else self._renamed(window, ours, taken)
            for one in ours:
                if name is None:
                    self._spare(one, Code.CUT_SPARE_NO_WINDOW)
                else:
                    self._take(one, name)

    def _renamed(self, window: str, made: list[MadeCut], taken: set[str]) -> str | None:
        """The window that was called so before; None where there is none."""
        fits = {name: [self._fit(one, name) for one in made] for name in self.fresh if name not in taken}
        fitting = [name for name, found in fits.items() if all(fit and not fit.against for fit in found)]
        exact = [name for name in fitting if all(fit and not fit.note for fit in fits[name])]
        if len(exact) == 1 and self.has_names:
            fitting = exact
        if not fitting:
            return None
        if len(fitting) == 1 and self.has_names:
            taken.add(fitting[0])
            self.notes.append(problem((), Code.CUT_WINDOW_RENAMED, window=window, name=fitting[0]))
            return fitting[0]
        self.problems.append(problem(("windows",), Code.CUT_WINDOW_GONE, window=window, fitting=tuple(fitting)))
        return fitting[0]

    def _fit(self, one: MadeCut, window: str) -> Fit | None:
        cut = one.placed.cut
        wanted = self.wanted.get((window, cut.hand, cut.number))
        return fit_of(cut, wanted, self.job) if wanted else None

    def _take(self, one: MadeCut, window: str) -> None:
        cut = one.placed.cut
        wanted, fit = self.wanted.get((window, cut.hand, cut.number)), self._fit(one, window)
        if wanted is None or fit is None:
            self._spare(one, Code.CUT_SPARE_NOT_ASKED)
        elif fit.against:
            self.problems.append(self._problem(one, window, fit.against))
        else:
            self.called[one.name] = wanted.id
            if (cut.id, cut.window) != (wanted.id, wanted.window):
                self.renamed.append(wanted.id)
            named = replace(
                cut, id=wanted.id, window=wanted.window, panel=wanted.panel, number=wanted.number, of=wanted.of
            )
            self.serving.append(replace(one.placed, cut=named))
            if fit.note:
                self.fits.append(problem((), fit.note.code, cut=name_of(named), **dict(fit.note.values)))

    def _problem(self, one: MadeCut, window: str, against: Problem) -> Problem:
        number = next((at for at, listed in enumerate(self.job.windows) if listed.name == window), None)
        path: Path = ("windows",) if number is None else ("windows", number)
        return problem(path, against.code, cut=name_of(one.placed.cut), id=one.name, **dict(against.values))

    def _spare(self, one: MadeCut, why: Code) -> None:
        self.spares.append(one.name)
        self._spare_places.append(one.placed)
        self.notes.append(problem((), why, cut=name_of(one.placed.cut)))

    def spare_places(self, before: Iterable[MadeCut]) -> list[Placement]:
        """Where spares lie, those of ``before`` too, each under a name that no cut of the job has."""
        found: list[Placement] = []
        for place in [*(one.placed for one in before), *self._spare_places]:
            name, number = f"{place.cut.id}-spare", 1
            while name in self._names:
                number += 1
                name = f"{place.cut.id}-spare-{number}"
            self._names.add(name)
            window = f"{place.cut.window} (spare)"
            panel = f"{window}, {place.cut.hand}"
            found.append(replace(place, cut=replace(place.cut, id=name, window=window, panel=panel, beside="")))
        return found
