import json
from pathlib import Path

import pytest

from jobs.job import Unit
from projector.desk import errands
from projector.desk.errands import measured, outcome, screens

FOUND = {
    "along_in": 12.3742,
    "across_in": 13.2518,
    "drop": 0.5,
    "symmetry": {"top_to_bottom": "mirror", "side_to_side": "none", "half_turn": False},
    "confidence": 0.83,
    "along_uncertainty_in": 0.004,
    "across_uncertainty_in": 0.006,
    "repeats": 14,
    "slanted": False,
    "close": ["top_to_bottom"],
    "notices": [],
}


def values(unit: Unit) -> dict[str, str]:
    return {path[-1]: value for path, value in measured(json.dumps(FOUND), unit).values}


def test_a_measured_print_is_told_in_the_unit_of_the_job_as_fine_as_a_tape():
    # 12.3742 in x 2.54 = 31.43 cm, to half a millimetre 31.45; 13.2518 x 25.4 = 336.6 mm, to half a millimetre 336.5.
    assert values(Unit.INCH)["along"] == "12.37"
    assert values(Unit.CENTIMETRE)["along"] == "31.45"
    assert values(Unit.MILLIMETRE)["across"] == "336.5"
    assert values(Unit.INCH)["drop"] == "1/2"
    assert values(Unit.INCH)["half_turn"] == "no"


def test_the_doubt_of_the_two_clicks_is_counted():
    # 2 x 0.006 = 0.012, alone 0.01; with a scale out by 1 %: the root of 0.012^2 + 0.1325^2 = 0.133.
    assert "give or take 0.01 in" in measured(json.dumps(FOUND), Unit.INCH).lines[0]
    assert "give or take 0.13 in" in measured(json.dumps(FOUND), Unit.INCH, 0.01).lines[0]


def test_what_is_close_is_said_in_words():
    said = " ".join(measured(json.dumps(FOUND), Unit.INCH).lines)
    assert "whether it mirrors from top to bottom" in said
    assert "_" not in said


@pytest.mark.parametrize(
    ("code", "words"),
    [(1, "could not be done"), (3, "the program itself went wrong"), (130, "was stopped"), (-9, "wrong")],
)
def test_how_an_errand_ended_is_said_in_words(code, words):
    found = outcome(errands.SCREENS, code, "", "")
    assert not found.well
    assert words in found.heading
    assert found.lines


def test_files_the_person_never_chose_are_not_named():
    copy = Path("/somewhere/copies/mill.yaml")
    found = outcome(errands.cut(copy, None, None), 1, "", f"{copy}: cloth: 3 in short; buy more\n", (copy,))
    assert found.lines == ("cloth: 3 in short; buy more",)


def test_after_cutting_the_record_is_told_in_place_of_the_command_that_shows_it():
    job = Path("mill.yaml")
    cutting = outcome(
        errands.cut(job, Path("t.yaml"), 2), 0, "The record of cuts is kept in a. See it with: x y z\n", ""
    )
    record = outcome(errands.status(job), 0, "1 of 2 cuts done\n", "")
    assert errands.with_record(cutting, record).lines == ("The record of cuts is kept in a.", "", "1 of 2 cuts done")


def test_the_screens_are_read_from_what_displays_says():
    well = outcome(errands.SCREENS, 0, "1: screen 1 at 60 Hz, 1366 x 768\n2: screen 2, 1920 x 1080\n", "")
    assert screens(well) == [(1, "screen 1 at 60 Hz, 1366 x 768"), (2, "screen 2, 1920 x 1080")]
    assert screens(outcome(errands.SCREENS, 1, "", "no screen was found")) == []


def test_the_words_of_every_errand_are_words_the_command_line_knows():
    import click

    from projector.commands.main import lightchalk

    job, out = Path("a.yaml"), Path("b.pdf")
    for errand in (
        errands.SCREENS,
        errands.calibrate(out, Unit.INCH, None),
        errands.calibrate(out, Unit.CENTIMETRE, 2),
        errands.cut(job, None, None),
        errands.cut(job, out, 2),
        errands.status(job),
        errands.sheet(job, out, Unit.INCH),
        errands.picture(job, out, "hung"),
        errands.photo(job, [(1, 2), (3, 4)], "12 in"),
    ):
        name, *words = errand.words
        context = click.Context(lightchalk)
        command = lightchalk.get_command(context, name)
        assert command.make_context(name, words, parent=context).info_name == name
