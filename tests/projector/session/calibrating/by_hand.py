"""A calibration by hand for tests: its fit, its parser, and runs of keys."""

from __future__ import annotations

from collections.abc import Sequence

from calibration.marks import Mark
from calibration.table import Table, fit_table
from jobs.model.choices import Unit
from projector.session.actions import Action, Pointed
from projector.session.calibrating.reducer import keys_of, press
from projector.session.calibrating.state import Calibrating, Save, begin
from projector.session.run import parsing

SIZE = (1920, 1080)
# Pixels and inches of a table seen straight from above at 20 px per inch, u = 200 + 20 x, v = 1000 - 20 y.
CORNERS = (((200, 1000), "0", "0"), ((1600, 1000), "70", "0"), ((1600, 200), "70", "40"), ((200, 200), "0", "40"))


def fit(marks: Sequence[Mark]) -> Table:
    return fit_table(marks, *SIZE)


parse = parsing(Unit.INCH)


def keys(state: Calibrating, *names: str) -> tuple[Calibrating, list[Save]]:
    events: list[Save] = []
    for name in names:
        state, new = press(state, keys_of(state.step).get(name, Action.ANY_OTHER), fit, parse)
        events += new
    return state, events


def typed(text: str) -> list[str]:
    return ["Space" if letter == " " else letter for letter in text]


def at_first_cross() -> Calibrating:
    return keys(begin(*SIZE, Unit.INCH), "Space")[0]


def click(state: Calibrating, pixel: tuple[int, int]) -> Calibrating:
    """A click on the middle of a pixel."""
    return press(state, Pointed((pixel[0] + 0.5, pixel[1] + 0.5)), fit, parse)[0]


def placed(state: Calibrating, pixel: tuple[int, int], x: str, y: str) -> Calibrating:
    """The cross in hand clicked to ``pixel`` (its middle) and given its inches."""
    return keys(click(state, pixel), "Enter", *typed(x), "Enter", *typed(y), "Enter")[0]


def reviewed() -> Calibrating:
    state = at_first_cross()
    for pixel, x, y in CORNERS:
        state = placed(state, pixel, x, y)
    return state
