"""What is marked for sewing, and the light of the room."""

from fractions import Fraction

import pytest

from jobs.job import Pins, RoomLight, TurnedOver
from tests.jobs.reading.texts import SMALL, job_of, only_problem_of


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
    ("written", "said"),
    [
        ("pins: {}", "pins, spacing: this key is missing"),
        ("pins: {spacing: 1/4}", "pins closer than 1/2 in cannot be set"),
        ("pins: {spacing: 4, from_side: -1}", "from_side"),
        ("pins: 4", "pins: keys with values belong here"),
        ("stiffener: 4", "stiffener: the heading allowance is 4 in: the stiffener would lie below it"),
        ("stiffener: 0", "stiffener"),
        ("doubled: [heading]", "a heading is not marked as turned twice here"),
        ("doubled: [top]", "doubled"),
        ("light: {room: -1}", "light, room"),
        ("light: {projector: 0}", "light, projector"),
        ("light: {lamp: 40}", "light, lamp: this key is not known"),
    ],
)
def test_what_cannot_be_sewn_or_lit_is_refused(written: str, said: str) -> None:
    assert said in only_problem_of(SMALL + written + "\n")


def test_a_hem_for_which_nothing_is_allowed_is_not_turned_twice() -> None:
    said = only_problem_of(SMALL.replace("hem: 8, ", "") + "doubled: [hem]\n")
    assert "nothing is allowed for a hem; add it to the allowances" in said
