"""Windows under SDL's dummy driver: the demo and the calibration by hand."""

from __future__ import annotations

import signal
from collections.abc import Callable

import numpy as np
import pygame
import pytest

from jobs.model.plan import Stop
from projector.demo.view import Outlook, View
from projector.session import run
from projector.session.cutting.pages import Page
from projector.session.cutting.state import setup_of
from projector.session.mode import Pixels, Rim
from projector.session.windows.displays import NoDisplayError
from tests.projector.session.hands import ANY, DUMMY, ENTER, ESCAPE, Hands, rested, typed
from tests.projector.session.plans import plan_of
from tests.projector.session.tables import TABLE_IN, projector_of, table_of


def nowhere(pixel: tuple[int, int], size_px: tuple[int, int]) -> tuple[float, float]:
    return 0.0, 0.0


@pytest.fixture(autouse=True)
def dummy(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SDL_VIDEODRIVER", "dummy")


def test_the_demo_shows_the_light_on_the_simulated_table() -> None:
    size = (640, 400)
    projector = projector_of(960, 540)
    view = View(projector, None, Outlook.over(*TABLE_IN, *size), TABLE_IN)
    hands = Hands(ANY, (pygame.K_b, "b"), ANY, ENTER, ESCAPE, ESCAPE)
    left = run.run_demo(
        setup_of(plan_of(2, 1), table_of(960, 540)),
        lambda stop, size_px: view.seen,
        nowhere,
        size_px=size,
        rim=Rim(on_frame=hands, clock=rested()),
    )
    hands.done()
    assert left.done == ("cut-1",)
    dark = view.seen(np.zeros((540, 960), np.uint32)).astype(np.uint32)
    packed = dark[..., 0] << 16 | dark[..., 1] << 8 | dark[..., 2]
    assert any(np.array_equal(frame, packed) for frame in hands.frames)
    assert not all(np.array_equal(frame, packed) for frame in hands.frames)


def test_a_signal_to_end_ends_it_without_a_question_and_keeps_what_was_ticked() -> None:
    events: list[object] = []
    hands = Hands(ANY, ENTER)

    def on_frame(frame: Pixels) -> None:
        hands(frame)
        if events:
            signal.raise_signal(signal.SIGTERM)

    plan, before = plan_of(2, 1), signal.getsignal(signal.SIGTERM)
    left = run.run_cutting(setup_of(plan, table_of(*DUMMY)), events.append, rim=Rim(on_frame=on_frame, clock=rested()))
    hands.done()
    assert (len(events), left.done) == (1, ("cut-1",))
    assert left.page is not Page.LEFT
    assert signal.getsignal(signal.SIGTERM) is before


def test_the_demo_fits_the_screen_and_says_so_where_there_is_none(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[tuple[int, int]] = []

    def eye_at(stop: Stop, size_px: tuple[int, int]) -> Callable[[Pixels], np.ndarray]:
        asked.append(size_px)
        return lambda frame: np.zeros((*size_px[::-1], 3), np.uint8)

    hands = Hands(ANY, ESCAPE, ESCAPE)
    run.run_demo(setup_of(plan_of(), table_of(960, 540)), eye_at, nowhere, rim=Rim(on_frame=hands, clock=rested()))
    hands.done()
    # 1024 x 768: 92 % of the width is 942, less than 84 % of the height x 1.6 = 1032; 942 / 1.6 = 588.
    assert set(asked) == {(942, 588)}
    monkeypatch.setenv("SDL_VIDEODRIVER", "no such driver")
    with pytest.raises(NoDisplayError):
        run.run_demo(setup_of(plan_of(), table_of(960, 540)), eye_at, nowhere)


def test_a_calibration_by_hand_gives_the_table_of_its_marks() -> None:
    projector = projector_of(*DUMMY)
    places = (("0", "0"), ("58", "0"), ("58", "49 1/2"), ("0", "49.5"))
    pixels = np.floor(projector.to_frame([(0, 0), (58, 0), (58, 49.5), (0, 49.5)])).astype(int)
    presses: list[int | tuple[int, str] | pygame.Event] = [ANY]
    for (x, y), (u, v) in zip(places, pixels.tolist(), strict=True):
        presses.append(pygame.Event(pygame.MOUSEBUTTONDOWN, pos=(u, v), button=1))
        presses += [ENTER, *typed(x), ENTER, *typed(y), ENTER]
    saved = []
    hands = Hands(*presses, (pygame.K_s, "s"))
    stored = run.run_calibrating(saved.append, rim=Rim(on_frame=hands, clock=rested()))
    hands.done()
    assert stored is not None
    assert saved == [stored]
    assert stored.display.startswith("screen 1")
    table = stored.table
    assert (table.width_px, table.height_px) == DUMMY
    assert [mark.table for mark in table.marks] == [(0, 0), (58, 0), (58, 49.5), (0, 49.5)]
    # Each click is in the middle of the pixel, so within half a pixel each way of the true place.
    off = table.to_frame([(0, 0), (58, 0), (58, 49.5), (0, 49.5)]) - projector.to_frame(
        [(0, 0), (58, 0), (58, 49.5), (0, 49.5)]
    )
    assert np.abs(off).max() <= 0.5 + 1e-9
