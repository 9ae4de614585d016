"""Windows under SDL's dummy driver: keys in as events, frames out, ticks on disk before they are seen."""

from __future__ import annotations

import itertools
import threading
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import Any

import numpy as np
import pygame
import pytest

from jobs.journal.file import JournalFile, read_journal
from jobs.journal.history import progress
from projector.files.table_file import Stored
from projector.papers.drawing import Drawing
from projector.session import run
from projector.session.actions import UnknownAction
from projector.session.cutting.journal import Done, Undone, not_kept, recording_in
from projector.session.cutting.mode import Cutting
from projector.session.cutting.pages import Page
from projector.session.cutting.state import setup_of
from projector.session.mode import Pixels, Rim
from projector.session.windows import monitors, window
from projector.session.windows.displays import (
    Display,
    DisplayError,
    NoDisplayError,
    UnknownDisplayError,
    WrongSizeError,
)
from projector.session.windows.window import displays
from tests.projector.session.hands import ANY, DUMMY, ENTER, ESCAPE, PAGE_DOWN, Hands, hurried, rested
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import cutting_of, key
from tests.projector.session.tables import table_of


@pytest.fixture(autouse=True)
def dummy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")


@pytest.fixture
def journal(tmp_path: Path) -> Iterator[JournalFile]:
    with JournalFile(tmp_path / "room.yaml.cuts") as file:
        yield file


def test_the_dummy_screen_is_listed() -> None:
    assert [(d.number, d.width_px, d.height_px) for d in displays()] == [(1, *DUMMY)]


def test_no_screen_at_all_is_an_empty_list_and_a_refusal(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "no such driver")
    assert displays() == ()
    with pytest.raises(NoDisplayError, match="plug the projector in"):
        run.run_cutting(setup_of(plan_of(), table_of(*DUMMY)), not_kept)


def test_a_screen_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownDisplayError, match="there is no screen 3: there is only screen 1"):
        run.run_cutting(setup_of(plan_of(), table_of(*DUMMY)), not_kept, rim=Rim(display=3))


def test_a_calibration_of_another_resolution_is_refused() -> None:
    with pytest.raises(WrongSizeError, match=r"made for 1920 x 1080 pixels, screen 1 .* has 1024 x 768"):
        run.run_cutting(setup_of(plan_of(), table_of(1920, 1080)), not_kept)


def test_a_job_is_cut_with_forward_alone_and_every_tick_is_on_disk(journal: JournalFile) -> None:
    plan = plan_of(2, 2)
    # Cautions, (stop, stop, question) twice with two questions about the turned panel between, then "all is cut",
    # "leave" and gone.
    hands = Hands(*[PAGE_DOWN] * 11)
    left = run.run_cutting(
        setup_of(plan, table_of(*DUMMY)),
        recording_in(journal, plan),
        rim=Rim(display=1, on_frame=hands, clock=rested()),
    )
    hands.done()
    assert left.done == ("cut-1", "cut-2")
    assert progress(read_journal(journal.path).events) == ("cut-1", "cut-2")


def test_the_window_shows_exactly_the_frame_of_the_session() -> None:
    plan, table = plan_of(2, 2), table_of(*DUMMY)
    hands = Hands(ANY, PAGE_DOWN, ESCAPE, ESCAPE)
    run.run_cutting(setup_of(plan, table), not_kept, rim=Rim(on_frame=hands, clock=rested()))
    hands.done()
    alone = cutting_of(plan, table)
    expected = []
    for name in ("", "Space", "PageDown"):
        if name:
            key(alone, name, 1.0)
        frame = np.zeros(DUMMY[::-1], np.uint32)
        alone.paint(frame)
        assert frame.any()
        expected.append(frame)
    # The window system may ask for a frame to be shown again, so each expected frame is looked for.
    for frame in expected:
        assert any(np.array_equal(shown, frame) for shown in hands.frames)


def test_hurried_presses_through_the_window_never_tick() -> None:
    events: list[Done | Undone] = []
    hands = Hands(*[PAGE_DOWN] * 3)
    # Nothing is painted once presses are ignored, so the close button is pressed by the last of many posted at once.
    hands.presses.append(pygame.Event(pygame.KEYDOWN, key=PAGE_DOWN, mod=0, unicode=""))

    def on_frame(frame: Pixels) -> None:
        hands(frame)
        if not hands.presses:
            for _ in range(5):
                pygame.event.post(pygame.Event(pygame.KEYDOWN, key=PAGE_DOWN, mod=0, unicode=""))
            for _ in range(2):
                pygame.event.post(pygame.Event(pygame.QUIT))

    left = run.run_cutting(
        setup_of(plan_of(2, 2), table_of(*DUMMY)), events.append, rim=Rim(on_frame=on_frame, clock=hurried)
    )
    hands.done()
    assert (events, left.page) == ([], Page.LEFT)


def test_a_tick_is_recorded_before_it_is_shown() -> None:
    hands = Hands(ANY, ENTER, ESCAPE, ESCAPE)
    frames_at_tick: list[int] = []
    run.run_cutting(
        setup_of(plan_of(2, 1), table_of(*DUMMY)),
        lambda event: frames_at_tick.append(len(hands.frames)),
        rim=Rim(on_frame=hands, clock=rested()),
    )
    hands.done()
    (at_tick,) = frames_at_tick
    assert not np.array_equal(hands.frames[at_tick - 1], hands.frames[at_tick])


def test_a_tick_that_cannot_be_recorded_is_not_ticked_and_says_so() -> None:
    def full_disk(event: object) -> None:
        raise OSError(28, "No space left on device")

    plan, table = plan_of(2, 1), table_of(*DUMMY)
    alone = cutting_of(plan, table, full_disk)
    key(alone, "Space", 1.0)
    key(alone, "Enter", 1.0)
    assert alone.state.page is Page.TROUBLE
    assert "No space left on device" in alone.state.trouble
    assert alone.state.done == ()
    hands = Hands(ANY, ENTER, ANY, ESCAPE, ESCAPE)
    left = run.run_cutting(setup_of(plan, table), full_disk, rim=Rim(on_frame=hands, clock=rested()))
    hands.done()
    assert left.done == ()


def test_the_close_button_asks_once() -> None:
    hands = Hands(ANY, pygame.Event(pygame.QUIT), ANY, pygame.Event(pygame.QUIT), pygame.Event(pygame.QUIT))
    assert (
        run.run_cutting(setup_of(plan_of(), table_of(*DUMMY)), not_kept, rim=Rim(on_frame=hands, clock=rested())).page
        is Page.LEFT
    )
    hands.done()


def test_dark_is_wholly_dark() -> None:
    hands = Hands(ANY, (pygame.K_b, "b"), ANY, ESCAPE, ESCAPE)
    run.run_cutting(setup_of(plan_of(), table_of(*DUMMY)), not_kept, rim=Rim(on_frame=hands, clock=rested()))
    hands.done()
    assert any(not frame.any() for frame in hands.frames)


def test_a_screen_that_shrinks_while_at_work_ends_with_words(monkeypatch: pytest.MonkeyPatch) -> None:
    class Shrinking(Cutting):
        size_px = property(lambda self: next(sizes), lambda self, size: None)

    monkeypatch.setattr(run, "Cutting", Shrinking)
    sizes = itertools.chain([DUMMY] * 4, itertools.repeat((800, 600)))
    with pytest.raises(DisplayError, match="changed to 1024 x 768"):
        run.run_cutting(setup_of(plan_of(), table_of(*DUMMY)), not_kept)


def test_a_scaled_screen_is_told_of_in_the_light_before_work_begins(monkeypatch: pytest.MonkeyPatch) -> None:
    scaled = Display(1, "lamp", *DUMMY, modes_px=((1280, 960),))
    for module in (window, monitors):
        monkeypatch.setattr(module, "screens", lambda: (scaled,))
    hands = Hands(ANY, PAGE_DOWN, ESCAPE, ESCAPE)
    stored = Stored(table_of(*DUMMY))
    left = run.run_cutting(
        setup_of(plan_of(), stored.table), not_kept, stored=stored, rim=Rim(on_frame=hands, clock=rested())
    )
    hands.done()
    assert left.check is not None
    assert any("the desktop seems to be scaled" in said for said in left.check.notices)


class Phone:
    """Another process that asks for one action each time it is told the state, from a thread of its own."""

    def __init__(self, *names: str) -> None:
        self.names, self.states, self.closed = list(names), list[dict[str, Any]](), False

    def open(self, ask: Callable[..., None]) -> None:
        self.ask = ask

    def tell(self, state: dict[str, Any], draw: Callable[[], Mapping[str, Drawing]]) -> None:
        self.states.append(state)
        self.draw = draw
        if self.names:
            asking = threading.Thread(target=self.ask, args=(self.names.pop(0),))
            asking.start()
            asking.join()

    def close(self) -> None:
        self.closed = True


class Late(Phone):
    """A phone that asks for what it saw at the first place."""

    def tell(self, state: dict[str, Any], draw: Callable[[], Mapping[str, Drawing]]) -> None:
        self.states.append(state)
        if self.names:
            name = self.names.pop(0)
            self.ask(name, self.states[0]["seen"] if name == "cut done" else state["seen"])


def test_what_was_asked_for_a_place_that_is_left_is_not_done_and_that_is_said() -> None:
    phone = Late("next stop", "cut done", "leave", "leave")
    kept: list[object] = []
    hands = Hands()
    run.run_cutting(
        setup_of(plan_of(2, 1), table_of(*DUMMY)), kept.append, rim=Rim(on_frame=hands, clock=rested(), link=phone)
    )
    hands.done()
    # Cautions read; the tick was meant for the cautions; leave, asked at the stop, twice.
    assert [(state["page"], state["late"]) for state in phone.states] == [
        ("cautions", False),
        ("stop", False),
        ("stop", True),
        ("leave", False),
        ("left", False),
    ]
    assert kept == []


def test_another_process_is_told_every_state_and_its_actions_count_as_keys_do() -> None:
    kept: list[object] = []
    phone = Phone("next stop", "next stop", "next stop", "leave", "leave")
    hands = Hands()
    session = run.run_cutting(
        setup_of(plan_of(2, 1), table_of(*DUMMY)), kept.append, rim=Rim(on_frame=hands, clock=rested(), link=phone)
    )
    hands.done()
    # Cautions read; the only stop of cut 1 asks whether it is cut; yes; leave, twice.
    assert [state["page"] for state in phone.states] == [
        "cautions",
        "stop",
        "is_it_cut",
        "orientation",
        "leave",
        "left",
    ]
    assert kept == [Done("cut-1")]
    assert session.done == ("cut-1",)
    assert phone.states[-1]["over"]
    assert {name: one.title for name, one in phone.draw().items()} == {
        "piece": "The piece: what is cut, and where the light is",
        "pair": "The window as it will hang, this panel framed",
    }
    assert phone.states[0]["projector"] == ""
    assert phone.closed
    with pytest.raises(UnknownAction):
        phone.ask("cut everything")
