"""Windows under SDL's dummy driver: keys in as events, frames out, ticks on disk before they are seen."""

from __future__ import annotations

import itertools
import threading
from collections.abc import Callable, Iterator
from pathlib import Path

import numpy as np
import pygame
import pytest

from jobs.journal.events import progress
from jobs.journal.file import JournalFile, read_journal
from jobs.plan import Stop
from projector.session import run
from projector.session.cutting_host import Cutting
from projector.session.displays import DisplayError, NoDisplayError, UnknownDisplayError, WrongSizeError
from projector.session.host import Pixels
from projector.session.lighting import bench_of
from projector.session.recording import not_kept, recording_in
from projector.session.state import Done, Page, Undone
from projector.session.window import displays
from projector.simulated.view import Outlook, View
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import TABLE_IN, rig_of, table_of

DUMMY = (1024, 768)
"""What SDL's dummy driver says its only screen measures."""
GIVE_UP_S = 20.0

PAGE_DOWN, ENTER, ESCAPE, ANY = pygame.K_PAGEDOWN, pygame.K_RETURN, pygame.K_ESCAPE, pygame.K_SPACE


@pytest.fixture(autouse=True)
def dummy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")


class Hands:
    """Presses one more of ``presses`` each time a frame is shown, and keeps the frames.

    A press is a key, a key with what it types, or a posted event. A watchdog closes the window when nothing moves.
    """

    def __init__(self, *presses: int | tuple[int, str] | pygame.Event) -> None:
        self.presses = list(presses)
        self.frames: list[Pixels] = []
        self._watchdog = threading.Timer(GIVE_UP_S, self._give_up)
        self._watchdog.daemon = True
        self._watchdog.start()

    def __call__(self, frame: Pixels) -> None:
        self.frames.append(frame)
        if self.presses:
            press = self.presses.pop(0)
            if not isinstance(press, pygame.Event):
                key, typed = press if isinstance(press, tuple) else (press, "")
                press = pygame.Event(pygame.KEYDOWN, key=key, mod=0, unicode=typed)
            pygame.event.post(press)

    def done(self) -> None:
        self._watchdog.cancel()
        assert not self.presses, "the window was closed before all keys were pressed"

    def _give_up(self) -> None:
        for _ in range(3):
            pygame.event.post(pygame.Event(pygame.QUIT))


def rested() -> Callable[[], float]:
    """A clock by which every press comes after a rest of at least a second."""
    seconds = itertools.count()
    return lambda: float(next(seconds))


def hurried() -> float:
    """A clock by which no time passes between presses."""
    return 0.0


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
        run.run_cutting(plan_of(), table_of(*DUMMY), not_kept)


def test_a_screen_that_is_not_there_is_refused() -> None:
    with pytest.raises(UnknownDisplayError, match="there is no screen 3: there is only screen 1"):
        run.run_cutting(plan_of(), table_of(*DUMMY), not_kept, display=3)


def test_a_calibration_of_another_resolution_is_refused() -> None:
    with pytest.raises(WrongSizeError, match=r"made for 1920 x 1080 pixels, screen 1 .* has 1024 x 768"):
        run.run_cutting(plan_of(), table_of(1920, 1080), not_kept)


def test_a_job_is_cut_with_forward_alone_and_every_tick_is_on_disk(journal: JournalFile) -> None:
    plan = plan_of(2, 2)
    # Cautions, (stop, stop, question) twice, then "all is cut", "leave" and gone.
    hands = Hands(*[PAGE_DOWN] * 9)
    left = run.run_cutting(
        plan, table_of(*DUMMY), recording_in(journal, plan), display=1, on_frame=hands, clock=rested()
    )
    hands.done()
    assert left.done == ("cut-1", "cut-2")
    assert progress(read_journal(journal.path).events) == ("cut-1", "cut-2")


def test_the_window_shows_exactly_the_frame_of_the_session() -> None:
    plan, table = plan_of(2, 2), table_of(*DUMMY)
    hands = Hands(ANY, PAGE_DOWN, ESCAPE, ESCAPE)
    run.run_cutting(plan, table, not_kept, on_frame=hands, clock=rested())
    hands.done()
    alone = Cutting(bench_of(plan, table), table, not_kept)
    expected = []
    for name in ("", "Space", "PageDown"):
        if name:
            alone.key(name, 1.0)
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

    left = run.run_cutting(plan_of(2, 2), table_of(*DUMMY), events.append, on_frame=on_frame, clock=hurried)
    hands.done()
    assert (events, left.page) == ([], Page.LEFT)


def test_a_tick_is_recorded_before_it_is_shown() -> None:
    hands = Hands(ANY, ENTER, ESCAPE, ESCAPE)
    frames_at_tick: list[int] = []
    run.run_cutting(
        plan_of(2, 1),
        table_of(*DUMMY),
        lambda event: frames_at_tick.append(len(hands.frames)),
        on_frame=hands,
        clock=rested(),
    )
    hands.done()
    (at_tick,) = frames_at_tick
    assert not np.array_equal(hands.frames[at_tick - 1], hands.frames[at_tick])


def test_a_tick_that_cannot_be_recorded_is_not_ticked_and_says_so() -> None:
    def full_disk(event: object) -> None:
        raise OSError(28, "No space left on device")

    plan, table = plan_of(2, 1), table_of(*DUMMY)
    alone = Cutting(bench_of(plan, table), table, full_disk)
    alone.key("Space", 1.0)
    alone.key("Enter", 1.0)
    assert alone.session.page is Page.TROUBLE
    assert "No space left on device" in alone.session.trouble
    assert alone.session.done == ()
    hands = Hands(ANY, ENTER, ANY, ESCAPE, ESCAPE)
    left = run.run_cutting(plan, table, full_disk, on_frame=hands, clock=rested())
    hands.done()
    assert left.done == ()


def test_the_close_button_asks_once() -> None:
    hands = Hands(ANY, pygame.Event(pygame.QUIT), ANY, pygame.Event(pygame.QUIT), pygame.Event(pygame.QUIT))
    assert run.run_cutting(plan_of(), table_of(*DUMMY), not_kept, on_frame=hands, clock=rested()).page is Page.LEFT
    hands.done()


def test_dark_is_wholly_dark() -> None:
    hands = Hands(ANY, (pygame.K_b, "b"), ANY, ESCAPE, ESCAPE)
    run.run_cutting(plan_of(), table_of(*DUMMY), not_kept, on_frame=hands, clock=rested())
    hands.done()
    assert any(not frame.any() for frame in hands.frames)


def test_the_demo_shows_the_light_on_the_simulated_table() -> None:
    size = (640, 400)
    rig = rig_of(960, 540)
    view = View(rig, None, Outlook.over(*TABLE_IN, *size), TABLE_IN)
    hands = Hands(ANY, (pygame.K_b, "b"), ANY, ENTER, ESCAPE, ESCAPE)
    left = run.run_demo(
        plan_of(2, 1), table_of(960, 540), lambda stop, size_px: view.seen, size_px=size, on_frame=hands, clock=rested()
    )
    hands.done()
    assert left.done == ("cut-1",)
    dark = view.seen(np.zeros((540, 960), np.uint32)).astype(np.uint32)
    packed = dark[..., 0] << 16 | dark[..., 1] << 8 | dark[..., 2]
    assert any(np.array_equal(frame, packed) for frame in hands.frames)
    assert not all(np.array_equal(frame, packed) for frame in hands.frames)


def test_the_demo_fits_the_screen_and_says_so_where_there_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[int, int]] = []

    def eye_at(stop: Stop, size_px: tuple[int, int]) -> Callable[[Pixels], np.ndarray]:
        asked.append(size_px)
        return lambda frame: np.zeros((*size_px[::-1], 3), np.uint8)

    hands = Hands(ANY, ESCAPE, ESCAPE)
    run.run_demo(plan_of(), table_of(960, 540), eye_at, on_frame=hands, clock=rested())
    hands.done()
    # 1024 x 768: 92 % of the width is 942, less than 84 % of the height x 1.6 = 1032; 942 / 1.6 = 588.
    assert set(asked) == {(942, 588)}
    monkeypatch.setenv("SDL_VIDEODRIVER", "no such driver")
    with pytest.raises(NoDisplayError):
        run.run_demo(plan_of(), table_of(960, 540), eye_at)


def typed(text: str) -> list[tuple[int, str]]:
    return [(ord(letter), letter) for letter in text]


def test_a_calibration_by_hand_gives_the_table_of_its_marks() -> None:
    rig = rig_of(*DUMMY)
    places = (("0", "0"), ("58", "0"), ("58", "49 1/2"), ("0", "49.5"))
    pixels = np.floor(rig.to_frame([(0, 0), (58, 0), (58, 49.5), (0, 49.5)])).astype(int)
    presses: list[int | tuple[int, str] | pygame.Event] = [ANY]
    for (x, y), (u, v) in zip(places, pixels.tolist(), strict=True):
        presses.append(pygame.Event(pygame.MOUSEBUTTONDOWN, pos=(u, v), button=1))
        presses += [ENTER, *typed(x), ENTER, *typed(y), ENTER]
    saved = []
    hands = Hands(*presses, (pygame.K_s, "s"))
    table = run.run_calibrating(saved.append, on_frame=hands, clock=rested())
    hands.done()
    assert table is not None
    assert saved == [table]
    assert (table.width_px, table.height_px) == DUMMY
    assert [mark.table for mark in table.marks] == [(0, 0), (58, 0), (58, 49.5), (0, 49.5)]
    # Each click is in the middle of the pixel, so within half a pixel each way of the true place.
    off = table.to_frame([(0, 0), (58, 0), (58, 49.5), (0, 49.5)]) - rig.to_frame(
        [(0, 0), (58, 0), (58, 49.5), (0, 49.5)]
    )
    assert np.abs(off).max() <= 0.5 + 1e-9


def test_a_screen_that_shrinks_while_at_work_ends_with_words(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(Cutting, "size_px", property(lambda self: next(sizes)))
    sizes = itertools.chain([DUMMY, DUMMY], itertools.repeat((800, 600)))
    with pytest.raises(DisplayError, match="changed to 1024 x 768"):
        run.run_cutting(plan_of(), table_of(*DUMMY), not_kept)
