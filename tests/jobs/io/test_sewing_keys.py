"""What is marked for sewing, and the light of the room."""

from fractions import Fraction

import pytest

from jobs.model.choices import TurnedOver
from jobs.model.job import Pins, RoomLight
from jobs.model.problems import Code
from tests.jobs.io.texts import SMALL, at, job_of, only_problem_of


def test_nothing_is_marked_and_an_ordinary_room_is_taken_when_nothing_is_said() -> None:
    job = job_of(SMALL)
    assert (job.pins, job.stiffener, job.doubled, job.light) == (
        None,
        None,
        (),
        RoomLight(Fraction(300), Fraction(2000)),
    )


def test_pins_stiffener_hems_and_light_are_read() -> None:
    job = job_of(SMALL + "pins: {spacing: 10 cm}\nstiffener: 5/8\ndoubled: [side hem, hem]\nlight: {room: 40}\n")
    assert job.pins == Pins(Fraction(500, 127), Fraction(1))
    assert job.stiffener == Fraction(5, 8)
    assert job.doubled == (TurnedOver.SIDE_HEM, TurnedOver.HEM)
    assert job.light == RoomLight(Fraction(40), Fraction(2000))


@pytest.mark.parametrize(
    ("written", "code", "where"),
    [
        ("pins: {}", Code.MISSING_KEY, "pins.spacing"),
        ("pins: {spacing: 1/4}", Code.PINS_TOO_CLOSE, "pins.spacing"),
        ("pins: {spacing: 4, from_side: -1}", Code.LENGTH_BELOW_ZERO, "pins.from_side"),
        ("pins: 4", Code.KEYS_BELONG_HERE, "pins"),
        ("stiffener: 4", Code.STIFFENER_BELOW_HEADING, "stiffener"),
        ("stiffener: 0", Code.MUST_BE_ABOVE_ZERO, "stiffener"),
        ("doubled: [heading]", Code.HEADING_NOT_DOUBLED, "doubled.0"),
        ("doubled: [top]", Code.NOT_A_WORD, "doubled.0"),
        ("light: {room: -1}", Code.BELOW_ZERO, "light.room"),
        ("light: {projector: 0}", Code.OUT_OF_BOUNDS, "light.projector"),
        ("light: {lamp: 40}", Code.UNKNOWN_KEY, "light.lamp"),
    ],
)
def test_what_cannot_be_sewn_or_lit_is_refused(written: str, code: Code, where: str) -> None:
    found = only_problem_of(SMALL + written + "\n")
    assert (found.code, at(found)) == (code, where)


def test_a_hem_for_which_nothing_is_allowed_is_not_turned_twice() -> None:
    found = only_problem_of(SMALL.replace("hem: 8, ", "") + "doubled: [hem]\n")
    assert (found.code, found.value("hem")) == (Code.NOTHING_TO_DOUBLE, "hem")
