"""A measured print put into the text of a job: lengths as a person writes them, all else as it was."""

import pytest

from jobs.io.measured import Measured, drop_text, with_measured
from jobs.model.choices import Symmetry

JOB = """# kept
job: Loft
units: {unit}
cloth:
  width: 54  {width}
  repeat: {{along: 1, across: 1}}
windows:
  - {{name: Loft, panels: whole, finished_length: 60}}
"""


def put(along_in: float, across_in: float, unit: str) -> str:
    text = JOB.format(unit=unit, width="# ticket")
    measured = Measured(along_in, across_in, 0.0, Symmetry.NONE, Symmetry.NONE, half_turn=False)
    return with_measured(text, measured, "loft.yaml")[0]


@pytest.mark.parametrize(
    ("along_in", "across_in", "unit", "written"),
    [
        (12.3751, 13.2498, "in", "{along: 12 3/8, across: 13 1/4}"),
        (12.381, 24.0, "in", "{along: 12.381, across: 24}"),
        (12.5, 10.03125, "in", "{along: 12 1/2, across: 10.031}"),
        (12.5, 12.6, "cm", "{along: 31.75, across: 32}"),
    ],
)
def test_a_length_that_falls_on_a_tape_is_written_as_on_a_tape(along_in, across_in, unit, written):
    # 12.6 in is 32.004 cm; a photograph does not tell a hundredth of a millimetre.
    assert f"  repeat: {written}\n" in put(along_in, across_in, unit)


def test_remarks_and_order_stay():
    lines = put(12.375, 13.25, "in").splitlines()
    assert lines[0] == "# kept"
    assert lines[4] == "  width: 54  # ticket"


def test_a_drop_that_is_nearly_a_simple_part_is_that_part():
    drops = {0.4961: "1/2", 0.493: "1/2", 0.996: "0", 0.3305: "1/3", 0.0041: "0", 0.46: "0.460"}
    assert {given: drop_text(given) for given in drops} == drops
