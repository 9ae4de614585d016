"""Without a table in the job, stops keep to the table its marks show."""

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

from jobs.io.reader import read_job
from jobs.model.job import CuttingTable, Job
from projector.scene.lit_stretch import between_marks, plan_on_table
from projector.words.notices import notice_lines

MARKS = [(0.0, 0.0), (92.0, 0.0), (92.0, 58.0), (0.0, 58.0)]
WIDE_LIGHT = [(-20.0, -5.0), (110.0, -5.0), (110.0, 70.0), (-20.0, 70.0)]
"""The projector lights a floor's breadth beside the table."""


def a_job() -> Job:
    return read_job(Path("jobs/examples/reading_room.yaml"))


def test_no_stop_begins_left_of_the_table_or_ends_beyond_its_marks():
    plan = plan_on_table(between_marks(replace(a_job(), table=None), MARKS), WIDE_LIGHT)
    for stop in plan.stops:
        assert stop.lit_from - stop.cloth_at_left >= 0
        assert stop.lit_to - stop.cloth_at_left <= 92
    assert any("92 in along" in line for line in notice_lines(plan.job))


def test_a_table_that_the_job_names_is_believed():
    job = replace(a_job(), table=CuttingTable(Fraction(120), Fraction(60)))
    assert between_marks(job, MARKS) == job


def test_marks_about_an_origin_in_the_middle_tell_no_table():
    job = replace(a_job(), table=None)
    assert between_marks(job, [(-40.0, 0.0), (40.0, 0.0), (40.0, 50.0), (-40.0, 50.0)]) == job
