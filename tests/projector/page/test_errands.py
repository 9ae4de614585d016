from pathlib import Path

import pytest

from jobs.model.choices import Unit
from projector.desk import errands
from projector.desk.errands import outcome, screens
from projector.page.scale_ways import WAYS, WIDTH, words_for

CLICKS = [(10, 10), (90, 12), (92, 70), (8, 71)]


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
        *(
            errands.photo(job, words_for(way, CLICKS[: way.clicks], ["12", "8"][: len(way.asks)], Unit.INCH), out)
            for way in WAYS
        ),
        errands.photo(job, words_for(WIDTH, [], ["54"], Unit.INCH), out),
    ):
        name, *words = errand.words
        context = click.Context(lightchalk)
        command = lightchalk.get_command(context, name)
        assert command.make_context(name, words, parent=context).info_name == name
