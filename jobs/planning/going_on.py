"""The plan of a job of which some is cut already: what is cut stays where it is, the rest is planned around it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from jobs.cutting import cut_list
from jobs.journal.events import fingerprint, fingerprint_of
from jobs.journal.file import JournalFile
from jobs.journal.history import PLANNED, History, Made, Planned, planned_values
from jobs.model.cloth import Piece
from jobs.model.cuts import Cut, Placement
from jobs.model.job import Job
from jobs.model.lengths import show_length
from jobs.model.plan import Plan
from jobs.model.problems import Code, JobRefused, Path, Problem, Value, problem
from jobs.packing.items import sound_part
from jobs.packing.rolls import start_after_row
from jobs.planning.planner import Progress, plan_cuts, plan_job
from jobs.planning.serving import NEAREST, Fit, fit_of

Tell = Callable[[Progress], None]
MOST_NAMED = 3


class PlacesUnknown(Exception):  # noqa: N818 - says what is the matter
    """Cuts (``cuts``) were ticked by a version that kept no places, and the job is not planned as it was then."""

    def __init__(self, cuts: tuple[str, ...]) -> None:
        super().__init__(", ".join(cuts))
        self.cuts = cuts


@dataclass(frozen=True)
class GoneOn:
    """A plan, the made cuts in it (``done``, by the names they have in it, in the order they were cut).

    ``called`` tells the new name of each made cut that still serves, ``spares`` are the names of those that were found
    not to serve any more; ``notes`` are sentences for the person.
    """

    plan: Plan
    done: tuple[str, ...] = ()
    called: Mapping[str, str] = field(default_factory=dict)
    spares: tuple[str, ...] = ()
    anew: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()


def go_on(job: Job, history: History, table_length: Fraction | None = None, tell: Tell | None = None) -> GoneOn:
    """The plan of the job around what the history tells is cut.

    Where the plan that was cut by last still holds for the job, it is that one, without any search. Raises
    JobRefused where the job contradicts a cut that is made, PlacesUnknown, and as ``plan_job``.
    """
    if not history.is_begun:
        return GoneOn(plan_job(job, table_length, progress=tell))
    cuts = cut_list(job)
    lacking = tuple(one.cut for one in history.made if one.placed is None)
    if lacking:
        history = _with_places(job, cuts, history, lacking, tell)
    assumed = not job.cloth.pieces
    if assumed:
        job = _with_pieces(job, history)
    made = _on_pieces(job, history.made)
    found = _Matching(job, cuts, history)
    found.match(made)
    if found.problems:
        raise JobRefused(found.problems)
    spares = found.spare_places(_on_pieces(job, history.spares))
    _check_apart([*found.serving, *spares], job)
    served = {one.cut.id: one.cut for one in found.serving}
    cuts = tuple(served.get(cut.id, cut) for cut in cuts)
    fixed = _as_planned(history.planned, [*found.serving, *spares], cuts, job)
    plan = plan_cuts(job, cuts, table_length, fixed=fixed or [*found.serving, *spares], progress=tell)
    plan = _without_stops_of({one.cut.id for one in spares}, plan)
    notes = (*found.notes, *_together([*found.fits, *_rows_apart(found.serving, job)]))
    return GoneOn(
        plan=replace(plan, assumed_piece=assumed),
        done=tuple(found.called[one.cut] for one in made if one.cut in found.called),
        called=found.called,
        spares=tuple(found.spares),
        anew=(*(found.called[cut] for cut in lacking if cut in found.called), *found.renamed),
        notes=notes,
    )


def _without_stops_of(spares: set[str], plan: Plan) -> Plan:
    """The plan without stops for spares, which lie on the cloth and are neither to do nor done."""
    if not spares:
        return plan
    stops = [stop for stop in plan.stops if stop.placement.cut.id not in spares]
    return replace(
        plan,
        cuts=tuple(cut for cut in plan.cuts if cut.id not in spares),
        stops=tuple(replace(stop, number=number) for number, stop in enumerate(stops, 1)),
    )


def _rows_apart(serving: Sequence[Placement], job: Job) -> list[tuple[str, str]]:
    """The name of each made cut that lies off the rows as the job has them now, and what to say of it."""
    if job.cloth.repeat is None:
        return []
    found, along = [], job.cloth.repeat.along
    for one in serving:
        row = job.cloth.pieces[one.piece - 1].first_row + start_after_row(one.cut, job.cloth)
        off = (one.start - row) % along
        if min(off, along - off) > NEAREST:
            lies = show_length(min(off, along - off), job.unit)
            what = (
                f"cut {lies} off the rows that the job has now: look where the rows lie, and match the next cut to them"
            )
            found.append((name_of(one.cut), what))
    return found


def _together(told: Iterable[tuple[str, str]]) -> list[str]:
    """A sentence for all cuts of which the same is said."""
    of: dict[str, list[str]] = {}
    for name, what in told:
        of.setdefault(what, []).append(name)
    return [
        f"{'; '.join(names[:MOST_NAMED])}{f' and {len(names) - MOST_NAMED} more' if len(names) > MOST_NAMED else ''}: "
        f"{what}."
        for what, names in of.items()
    ]


def note_plan(journal: JournalFile, begun: GoneOn) -> None:
    """Record the plan that is cut by from now on, unless it is the last one recorded. Raises CannotRecord."""
    mark = fingerprint(begun.plan)
    last = next((event.plan for event in reversed(journal.events) if event.event == PLANNED), None)
    if last != mark:
        journal.append(PLANNED, None, mark, **planned_values(begun.plan, begun.called, begun.spares, begun.anew))


def _with_places(
    job: Job, cuts: Sequence[Cut], history: History, lacking: tuple[str, ...], tell: Tell | None
) -> History:
    """The history with the places of cuts that it does not hold, where the job is planned as it was then."""
    plan = plan_cuts(job, cuts, progress=tell)
    placed, mark = {one.cut.id: one for one in plan.placements}, fingerprint(plan)
    if any(one.placed is None and (one.plan != mark or one.cut not in placed) for one in history.made):
        raise PlacesUnknown(lacking)

    def known(one: Made) -> Made:
        if one.placed is not None:
            return one
        place = placed[one.cut]
        return replace(one, placed=place, piece=plan.pieces[place.piece - 1].piece)

    return replace(history, made=tuple(map(known, history.made)))


def _with_pieces(job: Job, history: History) -> Job:
    """The job with the pieces that were assumed when it was first cut: they lie on the table now."""
    if history.planned is not None:
        pieces = history.planned.pieces
    else:
        by_number = {one.placed.piece: one.piece for one in history.made if one.placed and one.piece}
        if sorted(by_number) != list(range(1, len(by_number) + 1)):
            return job
        pieces = tuple(by_number[number] for number in sorted(by_number))
    return replace(job, cloth=replace(job.cloth, pieces=pieces))


def _on_pieces(job: Job, made: Iterable[Made]) -> list[Made]:
    """The made cuts on the pieces as the job lists them now. Raises JobRefused where one is not among them."""
    found, problems = [], []
    for one in made:
        if one.placed is None or one.piece is None:
            continue
        number = _number_of(one.piece, one.placed.piece, job.cloth.pieces)
        if number is None or one.placed.end > job.cloth.pieces[number - 1].length:
            values: dict[str, Value] = {
                "cut": name_of(one.placed.cut),
                "piece": one.placed.piece,
                "length": one.piece.length,
            }
            problems.append(problem(("cloth", "pieces"), Code.CUT_FROM_ANOTHER_PIECE, **values))
        else:
            found.append(replace(one, placed=replace(one.placed, piece=number)))
    if problems:
        raise JobRefused(problems)
    return found


def _number_of(piece: Piece, number: int, pieces: Sequence[Piece]) -> int | None:
    """The number that a piece has now: pieces may have been put in another order, or measured anew."""

    def same(other: Piece) -> bool:
        return (other.length, other.first_row, other.dye_lot) == (piece.length, piece.first_row, piece.dye_lot)

    if number <= len(pieces) and same(pieces[number - 1]):
        return number
    others = [at for at, other in enumerate(pieces, 1) if same(other)]
    if len(others) == 1:
        return others[0]
    return number if number <= len(pieces) else None


class _Matching:
    """Made cuts and the cuts that the job asks for, brought together one after another."""

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
        self.notes: list[str] = []
        self.fits: list[tuple[str, str]] = []
        self.problems: list[Problem] = []
        self._spare_places: list[Placement] = []

    def match(self, made: Sequence[Made]) -> None:
        windows = {window.name for window in self.job.windows}
        by_window: dict[str, list[Made]] = {}
        for one in made:
            if one.placed is not None:
                by_window.setdefault(one.placed.cut.window, []).append(one)
        taken = set(by_window)
        for window, ours in by_window.items():
            name = window if window in windows else self._renamed(window, ours, taken)
            for one in ours:
                if name is None:
                    self._spare(one, "the job has no such window any more")
                else:
                    self._take(one, name)

    def _renamed(self, window: str, made: list[Made], taken: set[str]) -> str | None:
        """The window that was called so before; None where there is none."""
        fitting = [
            name
            for name in self.fresh
            if name not in taken and all((fit := self._fit(one, name)) and not fit.against for one in made)
        ]
        exact = [name for name in fitting if all((fit := self._fit(one, name)) and not fit.note for one in made)]
        if len(exact) == 1 and self.has_names:
            fitting = exact
        if not fitting:
            return None
        if len(fitting) == 1 and self.has_names:
            taken.add(fitting[0])
            self.notes.append(f"{window} is taken to be called {fitting[0]} now: what is cut for it is kept for that.")
            return fitting[0]
        self.problems.append(problem(("windows",), Code.CUT_WINDOW_GONE, window=window, fitting=tuple(fitting)))
        return fitting[0]

    def _fit(self, one: Made, window: str) -> Fit | None:
        if one.placed is None:
            return None
        wanted = self.wanted.get((window, one.placed.cut.hand, one.placed.cut.number))
        return fit_of(one.placed.cut, wanted, self.job) if wanted else None

    def _take(self, one: Made, window: str) -> None:
        if one.placed is None:
            return
        cut = one.placed.cut
        wanted, fit = self.wanted.get((window, cut.hand, cut.number)), self._fit(one, window)
        if wanted is None or fit is None:
            self._spare(one, "the job asks for no such cut any more")
        elif fit.against:
            self.problems.append(self._problem(one, window, fit.against))
        else:
            self.called[one.cut] = wanted.id
            if (cut.id, cut.window) != (wanted.id, wanted.window):
                self.renamed.append(wanted.id)
            named = replace(
                cut, id=wanted.id, window=wanted.window, panel=wanted.panel, number=wanted.number, of=wanted.of
            )
            self.serving.append(replace(one.placed, cut=named))
            if fit.note:
                self.fits.append((name_of(named), fit.note))

    def _problem(self, one: Made, window: str, against: Problem) -> Problem:
        number = next((at for at, listed in enumerate(self.job.windows) if listed.name == window), None)
        path: Path = ("windows",) if number is None else ("windows", number)
        called = name_of(one.placed.cut) if one.placed else one.cut
        return problem(path, against.code, cut=called, id=one.cut, **dict(against.values))

    def _spare(self, one: Made, why: str) -> None:
        self.spares.append(one.cut)
        if one.placed is not None:
            self._spare_places.append(one.placed)
            self.notes.append(f"{name_of(one.placed.cut)} is cut already, and {why}: it is kept as a spare.")

    def spare_places(self, before: Iterable[Made]) -> list[Placement]:
        """Where spares lie, those of ``before`` too, each under a name that no cut of the job has."""
        found: list[Placement] = []
        for place in [*(one.placed for one in before if one.placed is not None), *self._spare_places]:
            name, number = f"{place.cut.id}-spare", 1
            while name in self._names:
                number += 1
                name = f"{place.cut.id}-spare-{number}"
            self._names.add(name)
            window = f"{place.cut.window} (spare)"
            panel = f"{window}, {place.cut.hand}"
            found.append(replace(place, cut=replace(place.cut, id=name, window=window, panel=panel, beside="")))
        return found


def _check_apart(fixed: Sequence[Placement], job: Job) -> None:
    """Raise JobRefused where two made cuts lie in the same cloth: pieces that were exchanged, not known apart."""
    whole = (Fraction(0), job.cloth.width)
    order = sorted(fixed, key=lambda one: (one.piece, one.start))
    for at, one in enumerate(order):
        for other in order[at + 1 :]:
            if other.piece != one.piece or other.start >= one.end:
                break
            (near, far), (low, high) = one.cut.across or whole, other.cut.across or whole
            if near < high and low < far:
                values: dict[str, Value] = {"cut": name_of(one.cut), "other": name_of(other.cut), "piece": one.piece}
                raise JobRefused([problem(("cloth", "pieces"), Code.CUT_IN_ONE_PLACE, **values)])


def _as_planned(
    planned: Planned | None, fixed: Sequence[Placement], cuts: Sequence[Cut], job: Job
) -> list[Placement] | None:
    """All placements of the last plan; None where there is none, or where it no longer holds for the job."""
    if planned is None:
        return None
    made, wanted = {one.cut.id: one for one in fixed}, {cut.id: cut for cut in cuts}
    if planned.places.keys() != made.keys() | wanted.keys():
        return None
    places = [
        made[name] if name in made else Placement(wanted[name], piece, start)
        for name, (piece, start) in planned.places.items()
    ]
    if fingerprint_of(places) != planned.plan or not all(one.cut.id in made or _holds(one, job) for one in places):
        return None
    return places


def _holds(place: Placement, job: Job) -> bool:
    """Whether a cut that is to do may still lie where it was planned: on its rows, on the piece, clear of flaws."""
    if place.piece > len(job.cloth.pieces):
        return False
    piece, repeat = job.cloth.pieces[place.piece - 1], job.cloth.repeat
    row = piece.first_row + start_after_row(place.cut, job.cloth)
    if repeat is not None and (place.start - row) % repeat.along:
        return False
    if place.start < job.allowances.squaring or place.end > piece.length:
        return False
    sound = sound_part(place.cut, job)
    return not any(
        flaw.start < place.start + sound.end
        and place.start + sound.start < flaw.end
        and (flaw.across is None or (flaw.across[0] < sound.far and sound.near < flaw.across[1]))
        for flaw in piece.flaws
    )


def name_of(cut: Cut) -> str:
    """A cut as a person calls it."""
    return f"{cut.panel}, {cut.number} of {cut.of}" if cut.of > 1 else cut.panel
