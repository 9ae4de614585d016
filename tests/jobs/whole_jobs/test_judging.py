"""The judges judged: a reason that does not hold, a shortage that is none and an order that is too small are found."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job
from jobs.model.choices import Symmetry
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.problems import Code, problem
from jobs.planning.planner import plan_job
from tests.jobs.whole_jobs.judging import judged
from tests.jobs.whole_jobs.parts import parts_of
from tests.jobs.whole_jobs.refusals import Case, is_right
from tests.jobs.whole_jobs.room_for import has_room

F = Fraction

PAIR = """
job: A pair
cloth: {name: Reeds, width: 54, selvedge: 1/2, repeat: {along: 24, across: 26 1/2}, drop: 0,
  print: {top_to_bottom: mirror, side_to_side: none, one_way: no}}
allowances: {squaring: 1}
windows: [{name: Bay, panels: pair, finished_length: 96, rod: 40, half_at: leading edge}]
"""


def pair() -> Job:
    (one,) = jobs_of_cloths(parse_job(PAIR, "a pair"))
    return one.job


@pytest.mark.parametrize(
    "code",
    [
        Code.NO_MIRROR_LINE,
        Code.ONE_WAY_NEVER_TURNED,
        Code.NO_MIRROR_WITH_DROP,
        Code.FACING_IS_FIXED,
        Code.HALF_LEADS_MIRRORED,
        Code.ACROSS_NOT_KNOWN,
        Code.NO_ROOM_FOR_SEAMS,
        Code.NO_COLUMN_TWICE,
        Code.TRIM_LEAVES_TOO_LITTLE,
        Code.CANNOT_BE_CENTRED,
        Code.WIDE_CANNOT_BE_JOINED,
        Code.TABLE_TOO_SHORT,
    ],
)
def test_a_reason_that_does_not_hold_is_not_taken(code: Code) -> None:
    """The pair can be cut: none of these stands in its way, and of a table nothing is known here."""
    (part,) = parts_of(pair())
    assert not is_right(Case(problem(("windows", 0), code), part, pair().cloth))


def test_a_reason_that_holds_is_taken() -> None:
    (part,) = parts_of(pair())
    none = replace(pair().cloth, print=replace(pair().cloth.print, top_to_bottom=Symmetry.NONE))
    assert is_right(Case(problem(("windows", 0, "hang"), Code.NO_MIRROR_LINE), part, none))
    unknown = replace(pair().cloth, repeat=replace(pair().cloth.repeat, across=None))  # type: ignore[type-var]
    wide = replace(part, flat=F(70))
    assert is_right(Case(problem(("windows", 0, "rod"), Code.ACROSS_NOT_KNOWN), wide, unknown))


@pytest.mark.parametrize(
    ("piece", "room"),
    [
        # Upright a cut begins on a row, turned it ends on one: 96 is four repeats, so both do. 24 to 120, 120 to 216.
        (Piece(F(216), F(0)), True),
        (Piece(F(215), F(0)), False),
        # The first row at 4: 4 to 100, 100 to 196.
        (Piece(F(196), F(4)), True),
        (Piece(F(216), F(0), (Flaw(F(119), F(121)),)), False),
        (Piece(F(216), F(0), (Flaw(F(0), F(24)),)), True),
    ],
)
def test_room_is_found_just_where_there_is_some(piece: Piece, room: bool) -> None:
    of = pair()
    plan = plan_job(replace(of, cloth=replace(of.cloth, pieces=(Piece(F(5000)),))))
    assert has_room(plan, [piece], of) is room
    assert bool(plan_job(replace(of, cloth=replace(of.cloth, pieces=(piece,)))).short) is not room


def test_what_cannot_be_read_and_what_is_refused_is_told() -> None:
    assert judged("job: [").faults
    assert judged(PAIR).faults == ()
    verdict = judged(PAIR.replace("top_to_bottom: mirror", "top_to_bottom: none"))
    assert (verdict.faults, verdict.refused, verdict.plans) == ((), ("no mirror line",), {})
