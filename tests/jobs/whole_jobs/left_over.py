"""Small things that are placed on what the cuts leave: all told of, none over another thing, a cut or a flaw."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from jobs.model.choices import End, Motif
from jobs.model.cloth import Cloth
from jobs.model.goods import Wanted
from jobs.model.job import Job
from jobs.model.plan import PlacedThing, Plan
from tests.jobs.whole_jobs.print_plane import first_column, on_lattice

Rectangle = tuple[int, Fraction, Fraction, Fraction, Fraction]
"""The piece, along from and to, across from and to."""


def left_over_faults(job: Job, plan: Plan, cloth: Cloth) -> Iterator[str]:
    """Everything that is wrong with the small things that are not ordered."""
    things = dict(_named(job, cloth))
    told = Counter(thing.name for thing in plan.wanted) + Counter({one.name: one.count for one in plan.unplaced})
    if told != Counter({name: thing.count for name, (thing, _) in things.items()}):
        yield "small things are told of wrongly"
    cuts = [_of_cut(one.piece, one.start, one.cut.length, one.cut.across) for one in plan.placements]
    laid = [(one.piece, one.start, one.end, one.near, one.far) for one in plan.wanted]
    for (one, at), (other, there) in combinations(zip(plan.wanted, laid, strict=True), 2):
        if _meet(at, there):
            yield f"{one.name} lies over {other.name}"
    for one, at in zip(plan.wanted, laid, strict=True):
        thing, centred = things[one.name]
        piece = plan.pieces[one.piece - 1].piece
        flaws = [
            (one.piece, flaw.start, flaw.end, *(flaw.across or (Fraction(0), cloth.width))) for flaw in piece.flaws
        ]
        if any(_meet(at, other) for other in (*cuts, *flaws)):
            yield f"{one.name} lies over a cut or a flaw"
        if (one.end - one.start, one.far - one.near) != (thing.along, thing.across):
            yield f"{one.name} has another size"
        printed = cloth.near_selvedge <= one.near and one.far <= cloth.width - cloth.far_selvedge
        if not printed or one.start < job.allowances.squaring or one.end > piece.length:
            yield f"{one.name} lies beyond what may be used"
        if centred and not _is_centred(one, thing, cloth, piece.first_row):
            yield f"{one.name} has no motif in its middle"


def _named(job: Job, cloth: Cloth) -> Iterator[tuple[str, tuple[Wanted, bool]]]:
    """The things of this cloth by name, backs too, and whether a motif shall lie in the middle."""
    for thing in job.wanted:
        first = not thing.cloth and cloth.name == job.cloth.name
        if not thing.ordered and (first or thing.cloth.casefold() == cloth.name.casefold()):
            yield thing.name, (thing, thing.motif is Motif.CENTRED)
            if thing.backs:
                yield f"{thing.name} back", (thing, False)


def _of_cut(piece: int, start: Fraction, length: Fraction, across: tuple[Fraction, Fraction]) -> Rectangle:
    return piece, start, start + length, *across


def _meet(one: Rectangle, other: Rectangle) -> bool:
    return one[0] == other[0] and one[1] < other[2] and other[1] < one[2] and one[3] < other[4] and other[3] < one[4]


def _is_centred(one: PlacedThing, thing: Wanted, cloth: Cloth, first_row: Fraction) -> bool:
    """The point so far down from a motif, as it hangs, and so far away from the near selvedge, lies in the middle."""
    down, aside = thing.point or (Fraction(0), Fraction(0))
    lower = down if cloth.print.top_towards is End.FIRST else -down
    along, across = (one.start + one.end) / 2 - first_row - lower, (one.near + one.far) / 2 - aside
    return on_lattice(cloth, along, across - first_column(cloth))
