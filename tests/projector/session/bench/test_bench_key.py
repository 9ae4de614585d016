"""Tab shows the bench screen in place of the light; whatever comes next only brings the light back."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from projector.session.actions import Action
from projector.session.cutting.demo import Demo
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import not_kept
from projector.session.lighting.lighting import bench_of
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of

SIZE = (960, 540)
REST_S = 2.0


def seen(cutting: Cutting) -> np.ndarray:
    pixels = np.zeros(SIZE[::-1], np.uint32)
    cutting.paint(pixels)
    return pixels


def at_a_stop() -> Cutting:
    table = table_of(*SIZE)
    cutting = Cutting(bench_of(plan_of(2, 1), table), table, not_kept)
    cutting.press(Action.NEXT_STOP, REST_S)
    return cutting


def test_the_bench_screen_is_light_paper_with_dark_letters_and_the_light_comes_back_the_same() -> None:
    cutting = at_a_stop()
    lit = seen(cutting)
    assert (lit == 0).mean() > 0.8
    cutting.press(Action.BENCH, REST_S)
    bench = seen(cutting)
    assert (bench == 0).mean() < 0.2
    assert len(np.unique(bench)) > 20
    cutting.press(Action.BENCH, REST_S)
    assert (seen(cutting) == lit).all()


@pytest.mark.parametrize("action", [a for a in Action if a is not Action.DARK])
def test_no_key_does_anything_on_the_bench_screen_but_bring_the_light_back(action: Action) -> None:
    cutting = at_a_stop()
    before = cutting.session
    cutting.press(Action.BENCH, REST_S)
    cutting.press(action, REST_S)
    assert replace(cutting.session, just_ticked=before.just_ticked) == before


def test_in_the_demo_the_window_itself_is_the_bench_screen() -> None:
    cutting = at_a_stop()
    demo = Demo(cutting, lambda stop, size_px: lambda frame: np.zeros((*size_px[::-1], 3), np.uint8), (800, 600))
    cutting.press(Action.BENCH, REST_S)
    pixels = np.zeros((600, 800), np.uint32)
    demo.paint(pixels)
    assert (pixels == cutting.bench_screen((800, 600))).all()
    assert len(np.unique(pixels)) > 20


def test_dark_is_dark_on_the_bench_screen_too() -> None:
    cutting = at_a_stop()
    cutting.press(Action.BENCH, REST_S)
    cutting.press(Action.DARK, REST_S)
    assert not seen(cutting).any()
