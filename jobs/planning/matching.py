"""Cuts that are made already and the cuts that a job asks for now, brought together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

from jobs.cutting.hands import OTHER, placed_on_other_hand
from jobs.journal.history import History
from jobs.model.cuts import Cut, Placement
from jobs.model.job import Job
from jobs.model.problems import Code, Path, Problem, problem
from jobs.model.records import dataclass
from jobs.planning.fits import Fit, changed_fit, fit_of, name_of


@dataclass(frozen=True)
class MadeCut:
    """A made cut on the cloth of the job: the name it has in the record, and where it lies.

    ``changed``: its pair looks the other way since it was cut, and it is ``placed`` in the other panel.
    """

    name: str
    placed: Placement
    changed: bool = False

    @property
    def as_cut(self) -> Placement:
        """Where it lies, in the panel that it was cut for."""
        return placed_on_other_hand(self.placed) if self.changed else self.placed


class Matching:
    """Made cuts and the cuts that the job asks for, brought together one after another.

    ``serving`` are the made cuts that serve, under their new names; ``called`` the new name of each by its old one,
    ``renamed`` those of which that is news. ``changed`` are windows whose panels change places, for their pair looks
    the other way since it was cut. ``spares`` are made cuts that serve nobody any more. ``notes`` is what the person is
    told of windows and spares, ``fits`` of single cuts.
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
        self.changed: set[str] = set()
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
            if name is None:
                for one in ours:
                    self._spare(one, Code.CUT_SPARE_NO_WINDOW)
                continue
            hung = self._hung(ours, name)
            for one in hung:
                self._take(one, name)
            if any(one.changed for one in hung):
                self.changed.add(name)
                hands = {one.as_cut.cut.hand for one in hung}
                self.notes.append(problem((), Code.CUT_PANELS_CHANGED, window=name, hands=tuple(sorted(hands))))

    def _renamed(self, window: str, made: list[MadeCut], taken: set[str]) -> str | None:
        """The window that was called so before; None where there is none."""
        names = [name for name in self.fresh if name not in taken]
        fits = {name: [self._fit(one, name) for one in self._hung(made, name)] for name in names}
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
        if wanted is None:
            return None
        return changed_fit(cut, wanted, self.job) if one.changed else fit_of(cut, wanted, self.job)

    def _hung(self, made: Sequence[MadeCut], window: str) -> Sequence[MadeCut]:
        """The made cuts of a window as they hang: in the other panel, where each lies as the job now asks of that."""
        if not all(self._is_of_the_other(one.placed.cut, window) for one in made):
            return made
        return [MadeCut(one.name, placed_on_other_hand(one.placed), changed=True) for one in made]

    def _is_of_the_other(self, cut: Cut, window: str) -> bool:
        hands = (cut.hand, OTHER.get(cut.hand, cut.hand))
        own, other = (self.wanted.get((window, hand, 1)) for hand in hands)
        return own is not None and other is not None and own.way is not cut.way and other.way is cut.way

    def _take(self, one: MadeCut, window: str) -> None:
        cut = one.placed.cut
        wanted, fit = self.wanted.get((window, cut.hand, cut.number)), self._fit(one, window)
        if wanted is None or fit is None:
            self._spare(one, Code.CUT_SPARE_NOT_ASKED)
        elif fit.against:
            self.problems.append(self._problem(one, window, fit.against))
        else:
            self.called[one.name] = wanted.id
            if (one.name, cut.window) != (wanted.id, wanted.window):
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
        if against.code in (Code.CHANGED_HALF_LEADS, Code.CHANGED_ROWS):
            path = (*path, "facing")
        return problem(path, against.code, cut=name_of(one.as_cut.cut), id=one.name, **dict(against.values))

    def _spare(self, one: MadeCut, why: Code) -> None:
        self.spares.append(one.name)
        self._spare_places.append(one.as_cut)
        self.notes.append(problem((), why, cut=name_of(one.as_cut.cut)))

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
