"""How far off the light may be, and how thick the cloth lies."""

from fractions import Fraction

import pytest

from jobs.io.reader import parse_job
from tests.jobs.io.texts import only_problem_of

JOB = """
job: Ferry-house landing
units: in
cloth: {width: 54}
windows: [{name: Landing, panels: pair, hang: same, finished_length: 70}]
"""


def test_a_sixteenth_and_one_layer_of_unknown_thickness_are_taken_when_nothing_is_said():
    job = parse_job(JOB, "ferry")
    assert (job.tolerance, job.cloth.thickness, job.cloth.layers) == (Fraction(1, 16), None, 1)


def test_tolerance_thickness_and_layers_are_read():
    job = parse_job(JOB.replace("{width: 54", "{thickness: 1 mm, layers: 4, width: 54") + "tolerance: 1/8\n", "ferry")
    assert (job.tolerance, job.cloth.thickness, job.cloth.layers) == (Fraction(1, 8), Fraction(5, 127), 4)


@pytest.mark.parametrize("written", ["thickness: 0", "thickness: -1/8", "layers: 0", "layers: 1 1/2", "layers: 101"])
def test_cloth_that_cannot_lie_so_is_refused(written):
    found = only_problem_of(JOB.replace("{width: 54", f"{{{written}, width: 54"))
    assert found.path == ("cloth", written.split(":")[0])


def test_a_tolerance_of_nothing_is_refused():
    assert only_problem_of(JOB + "tolerance: 0\n").path == ("tolerance",)
