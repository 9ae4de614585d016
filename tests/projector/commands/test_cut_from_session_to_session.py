"""``lightchalk cut`` over several sessions: the plan made anew and taken back, the light remembered, answers kept."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from calibration.registration.fit import PrintFit
from jobs.journal import journal_path, read_journal
from jobs.journal.events import measured_repeat
from jobs.model.numbers import show_number
from projector.commands.shared import screen
from projector.files.table_file import Stored, write_stored
from projector.scene.marks import Text
from projector.session import run as running
from projector.session.actions import Action, Pointed
from projector.session.cutting.light import Layer
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.windows.displays import Display
from tests.projector.commands.running import READING_ROOM, Ran, run
from tests.projector.session.tables import table_of

REST_S = 9.0
Hands = Callable[[Cutting], None]


def pressed(cutting: Cutting, *actions: Action) -> None:
    for action in actions:
        cutting.act(action, REST_S)


def at_a_stop(cutting: Cutting) -> None:
    """Cautions read, the marks met."""
    while cutting.state.page in (Page.CAUTIONS, Page.STARTUP_CHECK):
        pressed(cutting, Action.NEXT_STOP)


@pytest.fixture
def cut(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Ran]:
    """Runs the command with one pair of hands for each session it opens, on a job of its own; no screen is reached."""
    job, table = tmp_path / "porch.yaml", tmp_path / "table.yaml"
    job.write_text(READING_ROOM.read_text(encoding="utf-8"), encoding="utf-8")
    write_stored(table, Stored(table_of(1280, 720)))
    monkeypatch.setattr(screen, "screen_for", lambda *given: 1)
    waiting: list[Hands] = []

    def full_screen(make: Callable[[Display], Cutting], rim: object, **kept: Any) -> None:
        cutting = make(Display(1, "lamp", 1280, 720))
        waiting.pop(0)(cutting)
        if not cutting.finished:
            pressed(cutting, Action.LEAVE, Action.LEAVE)
        assert cutting.finished

    monkeypatch.setattr(running, "run_full_screen", full_screen)

    def command(*hands: Hands) -> Ran:
        waiting.extend(hands)
        ran = run("cut", job, "--table", table)
        assert not waiting, "fewer sessions were opened than there are hands"
        assert (ran.code, ran.err) == (0, "")
        return ran

    command.job = job  # type: ignore[attr-defined]
    return command


def lay_longer(cutting: Cutting) -> None:
    """The cloth is laid by motif points that lie 1 % farther apart than its ticket says."""
    at_a_stop(cutting)
    pressed(cutting, Action.LAY)
    while cutting.state.page is Page.MARKING:
        marking = cutting.state.marking
        assert marking is not None
        truth = PrintFit(marking.carried.lattice, (0.3, 0.2), 0.0, 1.01, 1.0, 0.0, 0.0)
        (pixel,) = cutting.state.setup.table.to_frame([truth.expected(marking.aimed)]).tolist()
        cutting.act(Pointed(tuple(pixel)), REST_S)
        pressed(cutting, Action.CUT_DONE)
    assert cutting.state.page is Page.REGISTRATION


def test_a_plan_made_anew_is_taken_back_in_the_next_session_and_the_job_goes_on_as_before(
    cut: Callable[..., Ran],
) -> None:
    job: Path = cut.job  # type: ignore[attr-defined]
    starts: list[list[Fraction]] = []

    def plan_anew(cutting: Cutting) -> None:
        starts.append([placed.start for placed in cutting.state.setup.plan.placements])
        lay_longer(cutting)
        pressed(cutting, Action.REPLAN)
        assert cutting.finished

    def take_it_back(cutting: Cutting) -> None:
        starts.append([placed.start for placed in cutting.state.setup.plan.placements])
        at_a_stop(cutting)
        pressed(cutting, Action.UNDO)
        assert cutting.state.page is Page.PLAN_AS_BEFORE
        pressed(cutting, Action.UNDO)
        assert cutting.finished

    def cut_one(cutting: Cutting) -> None:
        starts.append([placed.start for placed in cutting.state.setup.plan.placements])
        at_a_stop(cutting)
        assert not cutting.state.made_anew
        pressed(cutting, *[Action.NEXT_STOP] * 3)
        assert len(cutting.state.done) == 1

    cut(plan_anew, take_it_back, cut_one)
    assert starts[0] == starts[2] != starts[1]
    assert measured_repeat(read_journal(journal_path(job)).events) is None
    assert "1 of 2 cuts done" in run("status", job).out


def test_answers_and_the_light_are_there_in_the_next_session(cut: Callable[..., Ran]) -> None:
    def first(cutting: Cutting) -> None:
        at_a_stop(cutting)
        pressed(cutting, *[Action.NEXT_STOP] * 3)
        assert cutting.state.page is Page.ORIENTATION
        pressed(cutting, Action.NEXT_STOP, Action.NEXT_STOP, Action.ROWS, Action.WIDER, Action.CUT_LINES)

    def second(cutting: Cutting) -> None:
        assert cutting.state.light.hidden == {Layer.ROWS}
        assert cutting.state.light.width_step == 1
        at_a_stop(cutting)
        assert cutting.state.page is Page.STOP
        assert cutting.state.status == "dark as you left them: rows and columns"
        pressed(cutting, Action.ROWS)

    def third(cutting: Cutting) -> None:
        assert cutting.state.light.hidden == frozenset()

    cut(first)
    cut(second)
    cut(third)


def test_a_record_taken_away_at_work_is_told_when_the_session_ends(cut: Callable[..., Ran]) -> None:
    job: Path = cut.job  # type: ignore[attr-defined]

    def hands(cutting: Cutting) -> None:
        at_a_stop(cutting)
        pressed(cutting, *[Action.NEXT_STOP] * 3)
        journal_path(job).unlink()
        pressed(cutting, Action.NEXT_STOP, Action.NEXT_STOP)
        assert "it was written anew" in cutting.state.status

    assert "The record of cuts was taken away while you were at work; it was written anew, whole." in cut(hands).out
    assert "1 of 2 cuts done" in run("status", job).out


def words(cutting: Cutting) -> str:
    return " ".join(" ".join(mark.text for mark in cutting.lit().scene.marks if isinstance(mark, Text)).split())


def tick_one(cutting: Cutting) -> None:
    at_a_stop(cutting)
    pressed(cutting, *[Action.NEXT_STOP] * 3)
    assert len(cutting.state.done) == 1


def test_a_spoilt_last_line_is_told_in_the_light(cut: Callable[..., Ran]) -> None:
    job: Path = cut.job  # type: ignore[attr-defined]
    cut(tick_one)
    whole = journal_path(job).read_bytes()
    journal_path(job).write_bytes(whole[:-9] + b"spoilt!!\n")
    seen: list[str] = []

    def second(cutting: Cutting) -> None:
        pressed(cutting, Action.NEXT_STOP)
        assert cutting.state.page is Page.STARTUP_CHECK
        seen.append(words(cutting))
        assert cutting.state.done == ()

    cut(second)
    assert "ended in a torn or spoilt line" in seen[0]
    assert "look whether the last cut is ticked" in seen[0]


def test_a_flaw_found_in_the_next_cut_moves_that_and_leaves_what_is_cut(cut: Callable[..., Ran]) -> None:
    job: Path = cut.job  # type: ignore[attr-defined]
    plans: list[dict[str, Fraction]] = []

    def hands(cutting: Cutting) -> None:
        plans.append({placed.cut.id: placed.start for placed in cutting.state.setup.plan.placements})
        if len(plans) == 1:
            tick_one(cutting)
        else:
            plans[1]["done"] = Fraction(len(cutting.state.done))

    cut(hands)
    done = read_journal(journal_path(job)).events[-1].cut
    assert done is not None
    other = next(name for name in plans[0] if name != done)
    at = plans[0][other] + 10
    text = job.read_text(encoding="utf-8")
    flaw = f"- {{from: {show_number(at)}, to: {show_number(at + 1)}}}"
    job.write_text(text.replace("- {from: 105", f"{flaw}\n        - {{from: 105"), encoding="utf-8")
    cut(hands)
    assert plans[1]["done"] == 1
    assert plans[1][done] == plans[0][done]
    assert plans[1][other] > at
