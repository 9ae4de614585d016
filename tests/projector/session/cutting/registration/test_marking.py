"""The cloth laid key by key: points confirmed, taken back, counted otherwise, kept, undone."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from calibration.problems import Code
from calibration.registration.fit import PrintFit
from jobs.journal.events import Event
from jobs.journal.placed import fingerprint
from projector.session.actions import NUDGES_64THS, Action
from projector.session.cutting.journal import (
    REGISTERED,
    UNREGISTERED,
    Done,
    RegistrationKept,
    RegistrationUndone,
    registered_in,
    values_of,
)
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import press
from projector.session.cutting.registering import point_at
from projector.session.cutting.registration.marking import Registered, lattices_of
from projector.session.cutting.state import Session
from projector.session.cutting.text import text_of
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import QUICK_S, after, at_work, begun

NEAR_IN = 1 / 32
"""Crosses stand on 64ths of an inch; the fit through four of them is nowhere worse than twice that."""


def truth_at(session: Session) -> PrintFit:
    """Cloth 1 % long, skewed and bowed, laid aslant, as it lies at the stop."""
    lattice = session.setup.lattices[0]
    assert lattice is not None
    left = float(session.stop.cloth_at_left)
    fit = PrintFit(lattice, (0.3, 0.2), 0.4, 1.01, 1.0, 0.6, 0.4)
    return fit.pulled(left)


def confirm(session: Session, count: int = 1) -> Session:
    """Motif points confirmed where they really are, as the program asks for them."""
    for _ in range(count):
        assert session.marking is not None
        session = point_at(session, truth_at(session).expected(session.marking.aimed))
        session, _ = after(session, Action.CUT_DONE)
    return session


def laid(session: Session) -> tuple[Session, list[object]]:
    session, _ = after(session, Action.LAY)
    session, events = after(confirm(session, 4), Action.CUT_DONE)
    return session, list(events)


def off_in(session: Session) -> float:
    """How far the light of the stop is off the truth at worst over what is lit, inches."""
    assert session.fit is not None
    stop, width = session.stop, session.fit.lattice.width_in
    piece = [(float(s), c) for s in (stop.lit_from, stop.lit_to) for c in np.linspace(0, width, 9)]
    return float(np.abs(session.fit.to_table(piece) - truth_at(session).to_table(piece)).max())


def test_four_points_where_the_program_asks_bring_the_light_onto_the_print() -> None:
    session, events = laid(at_work(3, 1))
    assert session.page is Page.STOP
    assert [type(event) for event in events] == [RegistrationKept]
    # Two points' placing at the lit ends, beyond the outermost motif points: no more than a sixteenth.
    assert off_in(session) < 2 * NEAR_IN


def test_the_light_follows_each_point() -> None:
    session, _ = after(at_work(3, 1), Action.LAY)
    assert session.marking is not None
    before = session.marking.fit
    session = confirm(session)
    assert session.marking is not None
    last = session.marking.points[-1]
    assert session.marking.fit != before
    assert session.marking.fit.expected(last.motif) == pytest.approx(last.table_in, abs=1e-9)


def test_page_down_confirms_so_that_a_remote_is_enough() -> None:
    session, _ = after(at_work(3, 1), Action.LAY, *[Action.NEXT_STOP] * 4)
    assert session.page is Page.REGISTRATION
    session, events = after(session, Action.NEXT_STOP)
    assert (session.page, [type(event) for event in events]) == (Page.STOP, [RegistrationKept])


def test_a_bouncing_key_confirms_one_point_and_keeps_no_laying() -> None:
    session, _ = after(at_work(3, 1), Action.LAY)
    session, _ = after(session, *[Action.NEXT_STOP] * 9, quiet_s=QUICK_S)
    assert session.marking is not None
    assert session.marking.points == ()
    found, _ = after(session, *[Action.NEXT_STOP] * 4)
    same, events = after(found, *[Action.NEXT_STOP] * 3, quiet_s=QUICK_S)
    assert (same.page, events) == (Page.REGISTRATION, [])


def test_rows_and_columns_can_be_counted_otherwise() -> None:
    session, _ = after(at_work(3, 1), Action.LAY)
    assert session.marking is not None
    row, column = session.marking.proposed
    session, _ = after(session, Action.TURN_RIGHT, Action.WIDER, Action.CUT_DONE)
    assert session.marking is not None
    assert session.marking.points[0].motif == (row + 1, column + 1)


def test_a_point_one_repeat_off_is_named_and_cannot_be_kept() -> None:
    session, _ = after(at_work(3, 1), Action.LAY)
    session = confirm(session, 3)
    assert session.marking is not None
    session, _ = after(point_at(session, truth_at(session).expected(session.marking.aimed)), Action.TURN_RIGHT)
    session, _ = after(session, Action.CUT_DONE)
    assert session.marking is not None
    assert session.marking.registration is not None
    assert session.marking.registration.outliers
    session, events = after(session, Action.CUT_DONE)
    assert (session.page, events, session.registered) == (Page.MARKING, [], ())


def test_two_motif_points_at_one_place_are_refused_and_the_point_is_not_taken() -> None:
    session = confirm(after(at_work(3, 1), Action.LAY)[0])
    assert session.marking is not None
    first = session.marking.points[0]
    session, _ = after(point_at(session, first.table_in), Action.TURN_RIGHT, Action.CUT_DONE)
    assert session.marking is not None
    assert session.marking.points == (first,)
    assert session.marking.refused is not None
    assert session.marking.refused.code is Code.TWO_MOTIFS_IN_ONE_PLACE


def test_after_a_pull_the_fit_is_carried_and_one_point_is_enough() -> None:
    session, _ = laid(at_work(3, 2))
    session, _ = after(session, Action.NEXT_STOP)
    assert session.cloth_is_to_move
    assert not session.is_registered_here
    carried = session.fit
    assert carried is not None
    session = confirm(after(session, Action.LAY)[0])
    assert session.page is Page.REGISTRATION
    session, _ = after(session, Action.CUT_DONE)
    assert session.is_registered_here
    assert session.fit is not None
    assert session.fit.stretch_along == carried.stretch_along


def test_stretch_is_carried_to_the_next_cut() -> None:
    session, _ = laid(at_work(3, 1))
    found = session.registered[0].fit.stretch_along
    session, events = after(session, Action.CUT_DONE)
    assert events == [Done("cut-1")]
    assert session.fit is not None
    assert session.fit.stretch_along == found != 1


def test_undo_takes_the_last_thing_first() -> None:
    session, _ = laid(at_work(3, 1))
    session, _ = after(session, Action.CUT_DONE)
    session, _ = laid_again(session)
    session, first = after(session, Action.UNDO)
    session, second = after(session, Action.UNDO)
    session, third = after(session, Action.UNDO)
    assert [type(event) for event in (*first, *second, *third)] == [
        RegistrationUndone,
        type(UNDONE),
        RegistrationUndone,
    ]
    assert (session.registered, session.done, session.at) == ((), (), 0)


def laid_again(session: Session) -> tuple[Session, list[object]]:
    session, events = after(confirm(after(session, Action.LAY)[0]), Action.CUT_DONE)
    return session, list(events)


UNDONE = after(after(at_work(3, 1), Action.CUT_DONE)[0], Action.UNDO)[1][0]
MOVES = [*NUDGES_64THS, Action.CUT_DONE, Action.TURN_LEFT, Action.WIDER, Action.LIGHT_BACK, Action.HELP, Action.LAY]


@settings(max_examples=40)
@given(st.lists(st.sampled_from(MOVES), max_size=12))
@example([Action.CUT_DONE, Action.LAY, Action.CUT_DONE])
def test_leaving_the_page_or_undoing_restores_the_light_whatever_was_marked(moves: list[Action]) -> None:
    start = at_work(3, 1)
    session, _ = after(start, Action.LAY)
    events = []
    for move in moves:
        if session.page in (Page.MARKING, Page.REGISTRATION, Page.HELP):
            session, new = press(session, move)
            events += new
    if session.page is Page.HELP:
        session, _ = press(session, Action.ANY_OTHER)
    if events:
        session, _ = press(session, Action.UNDO)
    else:
        session, _ = press(session, Action.LEAVE)
    # What was taken back is said in words besides.
    assert replace(session, ask_again=False, status="") == start


@settings(max_examples=25)
@given(st.integers(1, 4), st.integers(-40, 40), st.integers(-40, 40))
def test_taking_back_the_last_point_restores_the_fit(count: int, right: int, away: int) -> None:
    session = confirm(after(at_work(3, 1), Action.LAY)[0], count - 1)
    marking = session.marking
    assert marking is not None
    more = marking.nudged(right, away).confirmed()
    if len(more.points) > len(marking.points):
        assert more.taken_back().points == marking.points
        assert more.taken_back().fit == marking.fit


def events_of(*layings: Registered | str) -> list[Event]:
    mark = fingerprint(plan_of(3, 1))
    return [
        Event(n, UNREGISTERED, one, "", mark)
        if isinstance(one, str)
        else Event(n, REGISTERED, one.cut, "", mark, values_of(one))
        for n, one in enumerate(layings, 1)
    ]


def test_a_laying_read_back_from_the_journal_is_the_same() -> None:
    session, _ = laid(at_work(3, 1))
    (one,) = session.registered
    plan = plan_of(3, 1)
    lattices, mark = lattices_of(plan), fingerprint(plan)
    assert registered_in(events_of(one), lattices, mark) == (one,)
    assert registered_in(events_of(one, one.cut), lattices, mark) == ()
    assert registered_in(events_of(one), lattices, "another plan") == ()


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("at_left", "1/0"),
        ("at_left", "1e99999999"),
        ("at_left", 3),
        ("piece", 0),
        ("piece", -1),
        ("piece", "1"),
        ("piece", 9**999),
        ("repeat_in", None),
        ("fit", {"shift": [10**400, 0]}),
        ("points", [{"row": 0, "column": 0, "table": 5}]),
    ],
)
def test_a_laying_with_absurd_values_is_as_if_it_had_not_been_made(key: str, value: object) -> None:
    session, _ = laid(at_work(3, 1))
    plan = plan_of(3, 1)
    (event,) = events_of(session.registered[0])
    spoilt = replace(event, more={**event.more, key: value})
    assert registered_in([spoilt], lattices_of(plan), fingerprint(plan)) == ()


def test_a_resumed_session_asks_for_one_point_and_can_go_on_without() -> None:
    session, _ = laid(at_work(3, 1))
    again = begun(plan_of(3, 1), registered=session.registered)
    asked, _ = press(again, Action.ANY_OTHER)
    assert asked.page is Page.MARKING
    skipped, _ = after(asked, Action.PREVIOUS_STOP)
    assert (skipped.page, skipped.fit) == (Page.STOP, session.fit)
    kept, events = after(confirm(asked), Action.CUT_DONE)
    assert (kept.page, len(kept.registered), [type(e) for e in events]) == (Page.STOP, 2, [RegistrationKept])


def test_cloth_without_a_print_is_laid_by_its_selvedge() -> None:
    plan = plan_of()
    plain = plan.with_job(replace(plan.job, cloth=replace(plan.job.cloth, repeat=None)))
    session = at_work(plan=plain)
    session, _ = after(session, Action.LAY)
    assert session.page is Page.TROUBLE
    assert any("no print to lay it by" in text for text, _ in text_of(session))
