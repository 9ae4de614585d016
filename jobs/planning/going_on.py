"""The plan of a job of which some is cut already: what is cut stays where it is, the rest is planned around it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence, Set
from dataclasses import field, replace
from fractions import Fraction
from itertools import combinations, pairwise

from jobs.cutting.hands import on_other_hand
from jobs.cutting.resolve import resolve
from jobs.journal.file import JournalFile
from jobs.journal.history import PLANNED, History, Made, Planned, planned_values, wish_values
from jobs.journal.placed import fingerprint, fingerprint_of, recorded
from jobs.model.cuts import Cut, Placement
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.plan import Plan
from jobs.model.problems import Code, JobRefused, Problem, Value, problem
from jobs.model.records import dataclass
from jobs.model.resolved import ResolvedJob
from jobs.packing.begun import overlap
from jobs.packing.items import is_spoilt
from jobs.planning.fits import NEAREST, name_of
from jobs.planning.matching import MadeCut, Matching
from jobs.planning.planner import Progress, plan_cuts, plan_job

Tell = Callable[[Progress], None]


class PlacesUnknown(Exception):  # noqa: N818 - says what is the matter
    """Cuts (``cuts``) were ticked by a version that kept no places, and the job is not planned as it was then."""

    def __init__(self, cuts: tuple[str, ...]) -> None:
        super().__init__(", ".join(cuts))
        self.cuts = cuts


@dataclass(frozen=True)
class GoneOn:
    """A plan, the made cuts in it (``done``, by the names they have in it, in the order they were cut).

    ``called`` tells the new name of each made cut that still serves, ``spares`` are the names of those that were found
    not to serve any more; ``notes`` is what the person is to be told.
    """

    plan: Plan
    done: tuple[str, ...] = ()
    called: Mapping[str, str] = field(default_factory=dict)
    spares: tuple[str, ...] = ()
    anew: tuple[str, ...] = ()
    notes: tuple[Problem, ...] = ()


def go_on(job: Job, history: History, table_length: Fraction | None = None, tell: Tell | None = None) -> GoneOn:
    """The plan of the job around what the history tells is cut.

    Where the plan that was cut by last still holds for the job, it is that one, without any search. Raises
    JobRefused where the job contradicts a cut that is made, PlacesUnknown, and as ``plan_job``.
    """
    if not history.is_begun:
        return GoneOn(plan_job(job, table_length, progress=tell))
    resolved = resolve(job).sound()
    lacking = tuple(one.cut for one in history.made if one.placed is None)
    if lacking:
        history = _with_places(resolved, history, lacking, tell)
    assumed = not job.cloth.pieces
    if assumed:
        job = _with_pieces(job, history)
    made = _on_pieces(job, history.made)
    found = Matching(job, resolved.cuts, history)
    found.match(made)
    if found.problems:
        raise JobRefused(found.problems)
    spares = found.spare_places(_on_pieces(job, history.spares))
    _check_apart([*found.serving, *spares])
    served = {one.cut.id: one.cut for one in found.serving}
    made_cuts = [*found.serving, *spares]
    ways = [tuple(served.get(cut.id, cut) for cut in way) for way in _like_made(resolved, served)]
    planned = ((way, _as_planned(history.planned, made_cuts, way, job, found.changed)) for way in ways)
    cuts, fixed = next(((way, places) for way, places in planned if places), (ways[0], made_cuts))
    plan = plan_cuts(replace(resolved, job=job), table_length, cuts=cuts, fixed=fixed, progress=tell)
    plan = _without_stops_of({one.cut.id for one in spares}, plan)
    return GoneOn(
        plan=replace(plan, assumed_piece=assumed),
        done=tuple(found.called[one.name] for one in made if one.name in found.called),
        called=found.called,
        spares=tuple(found.spares),
        anew=(*(found.called[cut] for cut in lacking if cut in found.called), *found.renamed),
        notes=(*found.notes, *found.fits, *_rows_apart(found.serving, job)),
    )


def _like_made(resolved: ResolvedJob, served: Mapping[str, Cut]) -> list[tuple[Cut, ...]]:
    """The ways to share lengths of cloth, those first in which most of what is made lies as it was cut."""

    def alike(way: tuple[Cut, ...]) -> int:
        return sum(_shared(cut) == _shared(served[cut.id]) for cut in way if cut.id in served)

    ways = [resolved.cuts, *(way for way in resolved.ways if way != resolved.cuts)]
    return sorted(ways, key=lambda way: -alike(way))


def _shared(cut: Cut) -> tuple[object, ...]:
    """What a cut has of the length it shares."""
    return cut.beside, cut.before, cut.after, cut.across


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


def _rows_apart(serving: Sequence[Placement], job: Job) -> Iterable[Problem]:
    """What to say of each made cut that lies off the rows as the job has them now."""
    if job.cloth.repeat is None:
        return
    along = job.cloth.repeat.along
    for one in serving:
        off = (one.start - job.cloth.pieces[one.piece - 1].first_row - one.cut.phase) % along
        if min(off, along - off) > NEAREST:
            yield problem((), Code.CUT_OFF_ROWS, cut=name_of(one.cut), off=min(off, along - off))


def note_plan(journal: JournalFile, begun: GoneOn) -> None:
    """Record the plan that is cut by from now on, unless it is the last one recorded. Raises CannotRecord."""
    mark = fingerprint(begun.plan)
    last = next((event.plan for event in reversed(journal.events) if event.event == PLANNED), None)
    if last != mark:
        journal.append(PLANNED, None, mark, **planned_values(begun.plan, begun.called, begun.spares, begun.anew))


def _with_places(resolved: ResolvedJob, history: History, lacking: tuple[str, ...], tell: Tell | None) -> History:
    """The history with the places of cuts that it does not hold, where the job is planned as it was then."""
    plan = plan_cuts(resolved, progress=tell)
    placed, mark = {one.cut.id: one for one in plan.placements}, fingerprint(plan)
    if any(one.placed is None and (one.plan != mark or one.cut not in placed) for one in history.made):
        raise PlacesUnknown(lacking)

    def known(one: Made) -> Made:
        if one.placed is not None:
            return one
        place = placed[one.cut]
        return replace(one, placed=recorded(place, plan.job.cloth), piece=plan.pieces[place.piece - 1].piece)

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


def _on_pieces(job: Job, made: Iterable[Made]) -> list[MadeCut]:
    """The made cuts on the pieces as the job lists them now. Raises JobRefused where one is not among them."""
    found, problems = [], []
    for one in made:
        if one.placed is None or one.piece is None:
            continue
        placed = one.placed.placement(job)
        number = _number_of(one.piece, placed.piece, job.cloth.pieces)
        if number is None or placed.end > job.cloth.pieces[number - 1].length:
            values: dict[str, Value] = {
                "cut": name_of(placed.cut),
                "piece": placed.piece,
                "length": one.piece.length,
            }
            problems.append(problem(("cloth", "pieces"), Code.CUT_FROM_ANOTHER_PIECE, **values))
        else:
            found.append(MadeCut(one.cut, replace(placed, piece=number)))
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


def _check_apart(fixed: Sequence[Placement]) -> None:
    """Raise JobRefused where two made cuts lie in the same cloth: pieces that were exchanged, not known apart."""
    order = sorted(fixed, key=lambda one: (one.piece, one.start))
    for at, one in enumerate(order):
        for other in order[at + 1 :]:
            if other.piece != one.piece or other.start >= one.end:
                break
            if overlap(one, other):
                values: dict[str, Value] = {"cut": name_of(one.cut), "other": name_of(other.cut), "piece": one.piece}
                raise JobRefused([problem(("cloth", "pieces"), Code.CUT_IN_ONE_PLACE, **values)])


def _as_planned(
    planned: Planned | None, fixed: Sequence[Placement], cuts: Sequence[Cut], job: Job, changed: Set[str]
) -> list[Placement] | None:
    """All placements of the last plan; None where there is none, or where it no longer holds for the job and for where
    the job wishes its cuts. In windows that are ``changed`` the panels have changed places since."""
    if planned is None or planned.wishes != wish_values(job):
        return None

    def as_it_was(cut: Cut) -> Cut:
        return on_other_hand(cut) if cut.window in changed else cut

    made = {as_it_was(one.cut).id: one for one in fixed}
    wanted = {as_it_was(cut).id: cut for cut in cuts}
    if planned.places.keys() != made.keys() | wanted.keys():
        return None
    places = [
        made[name] if name in made else Placement(wanted[name], piece, start)
        for name, (piece, start) in planned.places.items()
    ]
    fixed_ids = {one.cut.id for one in fixed}
    held = all(one.cut.id in fixed_ids or _holds(one, job) for one in places) and _lie_together(places)
    mark = fingerprint_of(replace(one, cut=as_it_was(one.cut)) for one in places)
    return places if held and mark == planned.plan else None


def _lie_together(places: Sequence[Placement]) -> bool:
    """Whether what lies beside each other shares a length, and nothing lies in the same cloth."""
    lengths: dict[tuple[int, Fraction, Fraction], list[Placement]] = {}
    for one in places:
        lengths.setdefault((one.piece, *one.crosscuts), []).append(one)
    stretches = sorted(lengths)
    apart = all(a[0] != b[0] or a[2] <= b[1] for a, b in pairwise(stretches))
    return apart and not any(overlap(a, b) for lane in lengths.values() for a, b in combinations(lane, 2))


def _holds(place: Placement, job: Job) -> bool:
    """Whether a cut that is to do may still lie where it was planned: on its rows, on the piece, clear of flaws."""
    if place.piece > len(job.cloth.pieces):
        return False
    piece, repeat = job.cloth.pieces[place.piece - 1], job.cloth.repeat
    if repeat is not None and (place.start - piece.first_row - place.cut.phase) % repeat.along:
        return False
    if place.start < job.allowances.squaring or place.end > piece.length:
        return False
    return not is_spoilt(place, piece, job)
