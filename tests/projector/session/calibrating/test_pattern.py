"""The pattern for photographs, lit by a session: reached and left by keys alone, pixel for pixel."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from calibration.photographs.pattern import Pattern
from jobs.model.choices import Unit
from projector.light import pattern as lit_pattern
from projector.light.pattern import pattern_frame
from projector.session.actions import Action
from projector.session.calibrating.mode import Calibration
from projector.session.calibrating.state import Step, begin
from projector.session.run import fitting, parsing
from tests.projector.session.sessions import key

SIZE = (640, 480)


def calibration(size: tuple[int, int] = SIZE, by_photographs: bool = False) -> Calibration:
    state = replace(begin(*size, Unit.INCH), by_photographs=by_photographs)
    return Calibration(state, fitting(*size), parsing(Unit.INCH), lambda stored: None)


def frame(mode: Calibration) -> np.ndarray:
    pixels = np.full(mode.size_px[::-1], 7, np.uint32)
    mode.paint(pixels)
    return pixels


def test_the_pattern_is_lit_pixel_for_pixel_and_dark_makes_it_dark() -> None:
    mode = calibration()
    key(mode, "P")
    assert mode.state.step is Step.PATTERN
    assert (frame(mode) == pattern_frame(Pattern(*SIZE))).all()
    key(mode, "B")
    assert not frame(mode).any()
    key(mode, "Space")
    assert (frame(mode) == pattern_frame(Pattern(*SIZE))).all()


def test_the_cautions_are_lit_before_the_pattern_and_the_marks_are_a_key_away() -> None:
    mode = calibration(by_photographs=True)
    assert "Never look into the lens" in str(mode.publish()["text"])
    assert not (frame(mode) == pattern_frame(Pattern(*SIZE))).all()
    key(mode, "Space")
    assert mode.state.step is Step.PATTERN
    key(mode, "Space")
    assert mode.state.step is Step.PATTERN
    key(mode, "M")
    assert mode.state.step is Step.POINTING
    key(mode, "P")
    assert mode.publish()["page"] == "pattern"
    key(mode, "Esc")
    assert mode.finished


def test_marks_that_were_entered_are_not_lost_by_looking_at_the_pattern() -> None:
    mode = calibration()
    for name in ("Space", "Enter", "0", "Enter", "0", "Enter", "P"):
        key(mode, name)
    assert mode.state.step is Step.PATTERN
    key(mode, "Esc")
    assert mode.state.step is Step.LEAVE
    key(mode, "Space")
    assert mode.state.step is Step.PATTERN
    assert mode.state.crosses[0].table == (0, 0)


@pytest.mark.parametrize("missing", [False, True])
def test_where_the_pattern_cannot_be_lit_marks_are_offered(missing: bool, monkeypatch: pytest.MonkeyPatch) -> None:
    if missing:

        def no_library(number: int) -> np.ndarray:
            raise ImportError("no module named cv2")

        monkeypatch.setattr(lit_pattern, "code_bits", no_library)
    mode = calibration(SIZE if missing else (90, 90))
    mode.act(Action.PHOTOGRAPH, 1.0)
    assert mode.state.step is Step.CAUTIONS
    assert "by four marks" in mode.publish()["trouble"]
    key(mode, "Space")
    assert mode.state.step is Step.POINTING


def test_the_code_for_a_phone_is_lit_upon_the_pattern_while_it_is_good() -> None:
    mode = calibration(by_photographs=True)
    key(mode, "Space")
    plain = frame(mode)
    mode.card = ("10", "01")
    assert (frame(mode) != plain).any()
    mode.card = ()
    assert (frame(mode) == plain).all()
