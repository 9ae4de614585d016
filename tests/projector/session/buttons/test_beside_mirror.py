"""The light small on the laptop's screen, with buttons: true to the light, clicked through to it, all by mouse."""

from __future__ import annotations

from datetime import date

import numpy as np
import pytest

from calibration.marks import TapeCheck, TapeClass
from jobs.model.choices import Unit
from projector.session.buttons.beside_mirror import FRAME_PX, Mirror
from projector.session.buttons.button import boxes, strip_height
from projector.session.buttons.calibrating import calibrating_buttons
from projector.session.buttons.taping import taping_buttons
from projector.session.calibrating.calibrating import Step
from projector.session.calibrating.host import Calibration
from projector.session.pressing.interruptions import gone
from projector.session.run_calibrating import fitting, parsing
from projector.session.taping.host import TapeProving
from projector.session.taping.taping import begin_taping
from tests.projector.session.rigs import table_of

SIZE, LIGHT = (1366, 768), (1280, 720)


def calibrating() -> tuple[Calibration, Mirror]:
    host = Calibration(LIGHT, Unit.INCH, fitting(*LIGHT), parsing(Unit.INCH), lambda stored: None)
    return host, Mirror(host, lambda: host.state, lambda: calibrating_buttons(host.state))


def painted(mirror: Mirror, light: np.ndarray, size: tuple[int, int] = SIZE) -> np.ndarray:
    pixels = np.full(size[::-1], 0xFF00FF, np.uint32)
    mirror.paint(pixels, light)
    return pixels


def click(mirror: Mirror, says: str) -> bool:
    shown, strip = mirror._buttons(), strip_height(SIZE[1])
    number = [button.says for button in shown].index(says)
    left, upper, _, _ = boxes(shown, SIZE[0], strip)[number]
    return mirror.click((left + 3, SIZE[1] - strip + upper + 3), SIZE, 2.0)


def test_the_picture_is_the_light_made_smaller_colour_by_colour() -> None:
    _, mirror = calibrating()
    light = np.zeros(LIGHT[::-1], np.uint32)
    light[:360], light[360:, :640], light[360:, 640:] = 0xFF0000, 0x00FF00, 0x0000FF
    before = light.copy()
    seen = painted(mirror, light)
    left, upper, wide, high = mirror._box(SIZE)
    assert seen[upper + 5, left + 5] == 0xFF0000
    assert seen[upper + high - 5, left + 5] == 0x00FF00
    assert seen[upper + high - 5, left + wide - 5] == 0x0000FF
    # 1280 : 720 into 1366 x (768 - 65 - 8): height is what binds, 695 x 16 / 9 = 1235.6.
    assert (wide, high) == (1235, 695)
    assert upper >= FRAME_PX
    assert np.array_equal(light, before)


@pytest.mark.parametrize("size", [SIZE, (640, 480), (300, 900), (50, 40), (1920, 300)])
def test_every_pixel_is_painted_at_any_size(size: tuple[int, int]) -> None:
    _, mirror = calibrating()
    assert not (painted(mirror, np.zeros(LIGHT[::-1], np.uint32), size) == 0xFF00FF).any()


def test_a_click_on_the_picture_moves_the_cross_there() -> None:
    host, mirror = calibrating()
    click(mirror, "read: go on")
    left, upper, wide, high = mirror._box(SIZE)
    assert mirror.click((left + wide // 2, upper + high // 4), SIZE, 2.0)
    u, v = host.state.cross.pixel
    # A pixel of the picture is 1.04 of the light.
    assert u == pytest.approx(640, abs=1.1)
    assert v == pytest.approx(180, abs=1.1)
    assert not mirror.click((2, 100), SIZE, 2.0)


def test_a_table_is_calibrated_by_clicks_on_the_laptops_screen() -> None:
    host, mirror = calibrating()
    click(mirror, "read: go on")
    left, upper, wide, high = mirror._box(SIZE)
    for u, v, x, y in ((0.1, 0.9, "0", "0"), (0.9, 0.9, "50", "0"), (0.9, 0.1, "50", "28"), (0.1, 0.1, "0", "28")):
        mirror.click((left + int(u * wide), upper + int(v * high)), SIZE, 2.0)
        click(mirror, "it meets")
        for figure in (x, y):
            for letter in figure:
                click(mirror, letter)
            click(mirror, "Enter")
    assert host.state.step is Step.REVIEW
    click(mirror, "save")
    assert host.saved is not None


def test_what_is_shown_changes_with_the_state_and_with_what_is_told() -> None:
    _, mirror = calibrating()
    first = mirror.shows()
    click(mirror, "read: go on")
    second = mirror.shows()
    assert second != first
    light = np.zeros(LIGHT[::-1], np.uint32)
    plain = painted(mirror, light)
    mirror.tell(gone("lamp"))
    assert mirror.shows() != second
    assert not np.array_equal(painted(mirror, light), plain)
    mirror.tell("")
    assert np.array_equal(painted(mirror, light), plain)


def test_a_proof_with_a_tape_is_typed_by_clicks() -> None:
    kept: list[TapeCheck] = []
    state = begin_taping(table_of(*LIGHT), Unit.INCH, TapeClass.II, 1 / 16, date(2026, 11, 25).isoformat())
    host = TapeProving(state, parsing(Unit.INCH), kept.append)
    mirror = Mirror(host, lambda: host.state, lambda: taping_buttons(host.state))
    for says in ("read: go on", "dark", "light again", "7", "0", "4", "rub out", "Enter", "length before", "Enter"):
        assert click(mirror, says)
    while "keep it" not in [button.says for button in mirror._buttons()]:
        click(mirror, "Enter")
    for says in ("length after", "this one again", "Enter"):
        click(mirror, says)
    while "keep it" not in [button.says for button in mirror._buttons()]:
        click(mirror, "Enter")
    for says in ("leave", "go back", "keep it"):
        click(mirror, says)
    assert [float(reading.tape_in) for reading in kept[0].readings] == [70.0]
    assert host.finished
    assert mirror._buttons() == ()
