"""The cloth laid by a photograph: the pattern lit, what it shows taken over, kept as motif points are, taken back."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from calibration.photographs.pattern import Pattern
from calibration.registration.fitting import ALL_TERMS, pivot_of
from calibration.registration.lattice import PrintPoint
from calibration.registration.record import NoRecord, record_of, registration_of
from calibration.registration.registering import Registration, Surveyed
from jobs.journal.events import Event
from jobs.journal.placed import fingerprint
from projector.light.pattern import pattern_frame
from projector.scene.boxes import box_of_stroke
from projector.scene.lettering import box_of
from projector.scene.marks import Kind, Stroke
from projector.session.actions import Action, Lies, UnknownAction, parse, written
from projector.session.cutting.journal import REGISTERED, RegistrationKept, registered_in, values_of
from projector.session.cutting.pages import Page
from projector.session.cutting.photographed import lit_on_white, read_asked
from projector.session.cutting.registration.marking import lattices_of
from projector.session.cutting.registration.scene import ARM_IN, GAP_IN
from projector.session.cutting.state import Session
from tests.projector.session.cutting.registration.test_marking import truth_at
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, cutting_of, key
from tests.projector.session.tables import table_of


def seen_of(session: Session) -> Registration:
    """What a photograph of this stop shows: the truth, of some motif points."""
    fit = truth_at(session)
    motifs = [(row, column) for row in (0, 2, 4) for column in (0, 2)]
    points = tuple(PrintPoint(row, column, fit.expected((row, column))) for row, column in motifs)
    return Registration(fit, points, ALL_TERMS, (), Surveyed(pivot_of(points, fit.lattice), 1e-6 * np.eye(7), 0.01))


def shown(session: Session, seen: Session | None = None) -> Lies:
    return Lies(session.stop.number, record_of(seen_of(seen or session)))


def test_a_record_comes_back_as_it_was() -> None:
    found = seen_of(at_work())
    back = registration_of(record_of(found), found.fit.lattice)
    assert (back.fit, back.points, back.measured, back.outliers) == (found.fit, found.points, found.measured, ())
    assert back.surveyed is not None
    assert found.surveyed is not None
    assert back.surveyed.pivot == found.surveyed.pivot
    np.testing.assert_array_equal(back.surveyed.covariance, found.surveyed.covariance)


@pytest.mark.parametrize(
    "spoilt",
    [
        lambda told: told | {"points": []},
        lambda told: told | {"points": [[0, 0, "1", 2.0]]},
        lambda told: told | {"covariance": [[1.0]]},
        lambda told: told | {"uneven_in": None},
        lambda told: told | {"fit": {}},
        lambda told: told | {"measured": ["colour"]},
        lambda told: told | {"lattice": told["lattice"] | {"along_in": 3.0}},
        lambda told: [told],
    ],
)
def test_what_is_no_record_of_this_print_is_refused(spoilt) -> None:
    found = seen_of(at_work())
    told = json.loads(record_of(found))
    with pytest.raises(NoRecord):
        registration_of(json.dumps(spoilt(told)), found.fit.lattice)
    with pytest.raises(NoRecord):
        registration_of(record_of(found).replace("1e-06", "NaN"), found.fit.lattice)


def test_the_action_is_written_and_read_and_nonsense_is_none() -> None:
    action = shown(at_work())
    assert parse(written(action)) == action
    for name in ("lies", "lies 1", "lies x row-open {}", "lies 1 {}", "lies 1 row-open"):
        with pytest.raises(UnknownAction):
            parse(name)


def test_the_pattern_is_lit_photographed_kept_and_read_back_from_the_journal() -> None:
    cutting = cutting_of(plan_of())
    key(cutting, "Space")
    assert key(cutting, "V")
    assert cutting.state.page is Page.PATTERN
    frame = np.zeros(cutting.size_px[::-1], np.uint32)
    cutting.paint(frame)
    # Cloth of one colour is less bold than the light: codes on a white field show more of it.
    np.testing.assert_array_equal(frame, pattern_frame(Pattern(*cutting.size_px), on_white=True))
    asked = read_asked(json.loads(json.dumps(cutting.publish()["lay"])))
    places = [[1.0, 2.0], [60.0, 40.0]]
    np.testing.assert_allclose(asked.table.to_frame(places), cutting.state.setup.table.to_frame(places))
    assert cutting.state.marking is not None
    assert (asked.carried, asked.stop) == (cutting.state.marking.carried, 1)
    piece, placed = cutting.state.setup.plan.pieces[0].piece, cutting.state.placement
    assert asked.ends_in == (0.0, float(piece.length))
    assert asked.cut_in == (float(placed.start), float(placed.end))
    assert asked.job.cloth == cutting.state.setup.plan.job.cloth

    assert cutting.act(shown(cutting.state), 10.0)
    assert cutting.state.page is Page.REGISTRATION
    assert any("by hand instead" in one["says"] for one in cutting.publish()["text"])
    session, events = after(cutting.state, Action.CUT_DONE)
    (kept,) = events
    assert isinstance(kept, RegistrationKept)
    assert (session.page, session.fit) == (Page.STOP, truth_at(session))
    assert session.is_registered_here
    plan = session.setup.plan
    line = Event(1, REGISTERED, kept.registered.cut, "", fingerprint(plan), values_of(kept.registered))
    (again,) = registered_in([line], lattices_of(plan), fingerprint(plan))
    assert again.fit == kept.registered.fit


def test_the_other_pattern_is_lit_by_one_key_or_click_and_told_to_what_reads_the_photograph() -> None:
    cutting = cutting_of(plan_of())
    key(cutting, "Space")
    key(cutting, "V")
    frames, told = [], []
    for number in range(3):
        frame = np.zeros(cutting.size_px[::-1], np.uint32)
        cutting.paint(frame)
        frames.append(frame)
        published = json.loads(json.dumps(cutting.publish()))
        told.append((read_asked(published["lay"]).on_white, published["offers"][1]["says"]))
        asked = parse(published["offers"][1]["action"])
        assert asked is Action.COLOURS
        assert key(cutting, "K") if number else cutting.act(asked, 10.0)
        assert cutting.state.page is Page.PATTERN
    assert told == [(True, "the whole pattern"), (False, "codes on a white field"), (True, "the whole pattern")]
    pattern = Pattern(*cutting.size_px)
    for frame, on_white in zip(frames, (True, False, True), strict=True):
        np.testing.assert_array_equal(frame, pattern_frame(pattern, on_white=on_white))
    # Light that was set so stays so at the next photograph, and the colours of the lines were not asked about.
    key(cutting, "L")
    key(cutting, "V")
    assert not lit_on_white(cutting.state)
    assert cutting.state.light.colour == 0


def test_one_row_looks_like_the_next_so_it_is_lit_and_asked_about() -> None:
    cutting = cutting_of(plan_of())
    key(cutting, "Space")
    key(cutting, "V")
    cutting.act(shown(cutting.state), 10.0)
    marking = cutting.state.marking
    assert marking is not None
    assert marking.row_in_question == 0
    assert any("the first row of this piece?" in one["says"] for one in cutting.publish()["text"])
    at = marking.fit.expected((0, 0))
    lit = [stroke for stroke in cutting.lit().scene.of(Kind.TARGET) if isinstance(stroke, Stroke)]
    middles = {tuple(round(v, 6) for v in np.mean(stroke.points, axis=0)) for stroke in lit}
    arm = (ARM_IN + GAP_IN) / 2
    assert {(round(at[0] + arm, 6), round(at[1], 6)), (round(at[0] - arm, 6), round(at[1], 6))} <= middles
    boxes = [box_of(mark) for mark in cutting.lit().scene.of(Kind.LETTER)]
    crosses = [box_of_stroke(stroke) for stroke in lit]
    assert not any(box.overlaps(other) for box in boxes for other in crosses)
    # An end of the cloth that was seen has told which row it is.
    key(cutting, "V")
    cutting.act(replace(shown(cutting.state), row_open=False), 10.0)
    assert cutting.state.marking is not None
    assert cutting.state.marking.row_in_question is None
    assert not cutting.lit().scene.of(Kind.TARGET)


def test_a_photograph_is_taken_back_whole_and_the_hand_begins_anew() -> None:
    session, _ = after(at_work(), Action.PHOTOGRAPH)
    cutting = cutting_of(plan_of())
    cutting.state = session
    cutting.act(shown(session), 10.0)
    back, _ = after(cutting.state, Action.PREVIOUS_STOP)
    assert (back.page, back.marking.points if back.marking else None) == (Page.PATTERN, ())
    by_hand, _ = after(cutting.state, Action.LAY)
    assert (by_hand.page, by_hand.marking.points if by_hand.marking else None) == (Page.MARKING, ())
    looked_up, _ = after(cutting.state, Action.HELP, Action.NEXT_STOP)
    assert (looked_up.page, looked_up.marking) == (Page.REGISTRATION, cutting.state.marking)
    left, _ = after(back, Action.LEAVE)
    assert (left.page, left.marking) == (Page.STOP, None)


def test_points_marked_by_hand_outlast_a_look_at_the_pattern() -> None:
    session, _ = after(at_work(), Action.LAY, Action.CUT_DONE, Action.PHOTOGRAPH)
    assert session.page is Page.PATTERN
    session, _ = after(session, Action.LAY)
    assert session.marking is not None
    assert (session.page, len(session.marking.points)) == (Page.MARKING, 1)


@pytest.mark.parametrize("stop", [0, 2])
def test_a_photograph_of_another_stop_or_asked_for_by_nobody_changes_nothing(stop: int) -> None:
    cutting = cutting_of(plan_of())
    key(cutting, "Space")
    record = record_of(seen_of(cutting.state))
    assert not cutting.act(Lies(1, record), 10.0)
    key(cutting, "V")
    assert not cutting.act(Lies(stop, record), 10.0)
    key(cutting, "B")
    assert not cutting.act(Lies(1, record), 10.0), "what is dark stays dark"


def test_a_record_of_another_print_is_said_to_tell_nothing() -> None:
    cutting = cutting_of(plan_of())
    key(cutting, "Space")
    key(cutting, "V")
    found = seen_of(cutting.state)
    other = replace(found, fit=replace(found.fit, lattice=replace(found.fit.lattice, along_in=3.0)))
    cutting.act(Lies(1, record_of(other)), 10.0)
    assert cutting.state.page is Page.PATTERN
    assert "nothing of this cloth" in cutting.state.status


def test_a_frame_too_small_for_the_pattern_says_so() -> None:
    cutting = cutting_of(plan_of(), table_of(60, 40))
    key(cutting, "Space")
    key(cutting, "V")
    assert cutting.state.page is Page.TROUBLE
    assert "cannot be lit here" in cutting.state.trouble
    key(cutting, "Space")
    assert cutting.state.page is Page.MARKING
