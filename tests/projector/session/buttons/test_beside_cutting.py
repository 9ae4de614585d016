"""The bench screen beside the table: painted on a change alone, with buttons; a projector that is away shows first."""

from __future__ import annotations

import numpy as np
import pytest

from projector.light.colour import channels
from projector.session.actions import Action
from projector.session.bench.parts import BAD, PAPER
from projector.session.buttons.beside_cutting import BenchBeside
from projector.session.buttons.button import boxes, strip_height
from projector.session.buttons.cutting import cutting_buttons
from projector.session.cutting.host import Cutting
from projector.session.cutting.recording import Recorded
from projector.session.lighting.lighting import bench_of
from projector.session.pressing.interruptions import gone
from projector.session.state.pages import Page
from projector.session.state.state import Done
from tests.projector.session.plans import plan_of
from tests.projector.session.rigs import table_of

SIZE = (1366, 768)


def bench() -> tuple[BenchBeside, list[Recorded]]:
    table, kept = table_of(960, 540), list[Recorded]()
    cutting = Cutting(bench_of(plan_of(2, 1), table), table, kept.append)
    return BenchBeside(cutting), kept


def painted(beside: BenchBeside, size: tuple[int, int] = SIZE) -> np.ndarray:
    pixels = np.full(size[::-1], 0xFF00FF, np.uint32)
    beside.paint(pixels, np.zeros((540, 960), np.uint32))
    return pixels


def click(beside: BenchBeside, says: str, quiet_s: float = 2.0) -> bool:
    shown = beside._buttons()
    number = [button.says for button in shown].index(says)
    strip = strip_height(SIZE[1])
    left, upper, _, _ = boxes(shown, SIZE[0], strip)[number]
    return beside.click((left + 5, SIZE[1] - strip + upper + 5), SIZE, quiet_s)


def colour(name: str) -> int:
    return int.from_bytes(bytes(channels(name).astype(np.uint8).tolist()), "big")


@pytest.mark.parametrize("size", [SIZE, (1920, 1080), (800, 600), (300, 200), (90, 60)])
def test_every_pixel_is_painted_at_any_size(size: tuple[int, int]) -> None:
    beside, _ = bench()
    assert not (painted(beside, size) == 0xFF00FF).any()


def test_moving_the_light_or_its_colours_changes_nothing_on_the_bench_screen() -> None:
    beside, _ = bench()
    beside.cutting.press(Action.NEXT_STOP, 2.0)
    shown, before = beside.shows(), painted(beside)
    for action in (Action.LIGHT_LEFT, Action.TURN_LEFT, Action.COLOURS, Action.WIDER, Action.ROWS):
        beside.cutting.press(action, 2.0)
    assert beside.shows() == shown
    assert (painted(beside) == before).all()


@pytest.mark.parametrize("action", [Action.NEXT_STOP, Action.CUT_DONE, Action.DARK, Action.HELP, Action.LEAVE])
def test_what_the_bench_screen_tells_of_is_shown_at_once(action: Action) -> None:
    beside, _ = bench()
    beside.cutting.press(Action.NEXT_STOP, 2.0)
    shown, before = beside.shows(), painted(beside)
    beside.cutting.press(action, 2.0)
    assert beside.shows() != shown
    assert not (painted(beside) == before).all()


def test_a_job_is_cut_by_clicks_on_the_bench_screen() -> None:
    beside, kept = bench()
    # The second cut lies turned: before it there are two questions about its way.
    seen = "yes, I see it"
    for says in ("read: go on", "next", "yes: tick it", seen, seen, "done", "leave", "leave"):
        assert click(beside, says)
    assert [event for event in kept if isinstance(event, Done)] == [Done("cut-1"), Done("cut-2")]
    assert beside.cutting.finished


def test_a_double_click_ticks_nothing_and_a_click_beside_the_buttons_does_nothing() -> None:
    beside, kept = bench()
    click(beside, "read: go on")
    click(beside, "next")
    click(beside, "yes: tick it", quiet_s=0.1)
    assert not beside.click((700, 300), SIZE, 2.0)
    assert not beside.click((1, 1), SIZE, 2.0)
    assert kept == []


def test_the_light_is_never_replaced_by_the_bench_screen_when_that_has_its_own() -> None:
    beside, _ = bench()
    beside.cutting.press(Action.NEXT_STOP, 2.0)
    assert not beside.cutting.press(Action.BENCH, 2.0)
    assert not beside.cutting.session.on_bench


def test_a_projector_that_is_gone_stands_first_and_only_leaving_can_be_clicked() -> None:
    beside, _ = bench()
    click(beside, "read: go on")
    plain = painted(beside)
    assert not (plain[:200] == colour(BAD)).any()
    beside.tell(gone("lamp"))
    told = painted(beside)
    assert (told[:200] == colour(BAD)).sum() > 2000
    assert [button.says for button in beside._buttons()] == ["leave"]
    click(beside, "leave")
    assert beside.cutting.session.page is Page.LEAVE
    assert [button.says for button in beside._buttons()] == ["leave", "stay"]
    click(beside, "stay")
    beside.tell("")
    assert (painted(beside) == plain).all()


def test_a_window_too_small_to_read_stays_dark() -> None:
    beside, _ = bench()
    assert (painted(beside, (90, 60)) == colour(PAPER)).all()
    assert cutting_buttons(beside.cutting.session, beside.cutting.bench.keys)
