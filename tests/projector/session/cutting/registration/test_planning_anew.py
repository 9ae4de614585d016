"""The plan made anew with the repeat as measured, before the first cut: state, record, and the next plan."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.journal.events import DONE, REPLANNED, Event, measured_repeat, since_replanned
from jobs.journal.file import JournalFile, journal_path
from projector.session.actions import Action
from projector.session.cutting.journal import Replanned, recording_in
from projector.session.cutting.pages import Page
from projector.session.cutting.registering import repeat_to_plan_with, with_repeat
from projector.session.cutting.state import Session
from tests.projector.commands.running import READING_ROOM, run
from tests.projector.session.cutting.registration.test_marking import confirm
from tests.projector.session.plans import REPEAT, plan_of
from tests.projector.session.sessions import after, at_work

PLACED_IN = 1 / 32
"""Crosses stand on 64ths of an inch; over the three or more repeats between points the repeat is known better."""


def judged(may_replan: bool = True, done: tuple[str, ...] = ()) -> Session:
    """The page that says how cloth 1 % long lies, four points confirmed."""
    session = replace(at_work(3, 1), may_replan=may_replan, done=done, ticked_at=(0,) * len(done))
    session = replace(session, cut_by=(None,) * len(done))
    session, _ = after(session, Action.LAY)
    session = confirm(session, 4)
    assert session.page is Page.REGISTRATION
    return session


def test_the_measured_repeat_is_what_the_plan_is_made_anew_with() -> None:
    session, events = after(judged(), Action.REPLAN)
    assert session.page is Page.LEFT
    assert session.replanned is not None
    assert abs(float(session.replanned) - 1.01 * float(REPEAT)) < PLACED_IN
    assert list(events) == [Replanned(session.replanned)]
    assert with_repeat(plan_of().job, float(session.replanned)).cloth.repeat.along == session.replanned


def test_once_a_cut_is_made_the_plan_stays() -> None:
    session = judged(done=(plan_of(3, 1).cuts[2].id,))
    assert repeat_to_plan_with(session) is None
    same, events = after(session, Action.REPLAN)
    assert (same.page, events) == (Page.REGISTRATION, [])


def test_practice_keeps_its_plan_for_its_cloth_is_made_by_it() -> None:
    session, events = after(judged(may_replan=False), Action.REPLAN)
    assert (session.page, events) == (Page.REGISTRATION, [])


def test_a_repeat_that_was_not_measured_changes_no_plan() -> None:
    session, _ = after(replace(at_work(3, 1), may_replan=True), Action.LAY)
    session = confirm(session, 1)
    assert repeat_to_plan_with(session) is None


def test_the_record_keeps_it_and_what_came_before_is_of_the_old_plan(tmp_path: Path) -> None:
    with JournalFile(tmp_path / "room.yaml.cuts") as journal:
        record = recording_in(journal, plan_of())
        record(Replanned(Fraction(25, 2)))
        assert measured_repeat(journal.events) == Fraction(25, 2)
        assert since_replanned(journal.events) == ()
    assert measured_repeat(()) is None


def test_events_before_the_plan_was_made_anew_do_not_count() -> None:
    events = [Event(1, "laid", "a", "", "old"), Event(2, REPLANNED, None, "", "old", {"along": "12"})]
    done = Event(3, DONE, "a", "", "new")
    assert since_replanned([*events, done]) == (done,)


def test_status_goes_by_the_plan_made_anew(tmp_path: Path) -> None:
    from jobs.journal.placed import fingerprint
    from projector.commands.shared.planned import load_plan

    job = tmp_path / "room.yaml"
    job.write_text(READING_ROOM.read_text())
    repeat = Fraction(25, 2)
    old = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        journal.append(REPLANNED, None, fingerprint(old), along=str(repeat))
        new = load_plan(job)
        assert [placed.start for placed in new.placements] != [placed.start for placed in old.placements]
        journal.append(DONE, new.placements[0].cut.id, fingerprint(new))
    ran = run("status", job)
    assert (ran.code, ran.err) == (0, "")
    assert "1 of 2 cuts done" in ran.out


@pytest.mark.parametrize("spoilt", ["up", None])
def test_a_measured_repeat_that_cannot_be_read_is_refused(tmp_path: Path, spoilt: str | None) -> None:
    job = tmp_path / "room.yaml"
    job.write_text(READING_ROOM.read_text())
    with JournalFile(journal_path(job)) as journal:
        journal.append(REPLANNED, None, "x", along=spoilt)
    ran = run("status", job)
    assert ran.code == 1
    assert "measured repeat" in ran.err
