"""Job texts the reading tests start from."""

from __future__ import annotations

import pytest

from jobs.job import Job
from jobs.reading.job_file import parse_job
from jobs.reading.problems import Problem, Problems

SMALL = """\
job: Ferry-house porch
units: in
cloth:
  width: 54
  selvedge: 1/2
  repeat: {along: 12 3/8, across: 13 1/4}
  drop: 1/2
  print: {top_to_bottom: mirror, mirror_offset: 2}
  colour: "#5a6672"
  sold_by: 1/4 yd
  pieces:
    - {length: 6 yd, first_row: 4 3/4, flaws: [{from: 79, to: 81 1/2, across: [20, 26], note: thick thread}]}
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2, squaring: 1}
windows:
  - name: Landing
    panels: pair
    hang: mirrored
    top_height: 86
    finished_length: 58
    cuts_per_panel: 1 1/2
    row: {below_top: 6 1/2}
  - {name: Stair, panels: whole, top_height: 80, finished_length: 50, rod: 60, row: {level_with: Landing}}
table: {length: 96, width: 60}
"""


def changed(old: str, new: str) -> str:
    """SMALL with one thing changed; fails when there is nothing to change."""
    assert SMALL.count(old) == 1, f"{old!r} stands {SMALL.count(old)} times in the text"
    return SMALL.replace(old, new)


def job_of(text: str) -> Job:
    """The job in a text that must be in order."""
    return parse_job(text, "porch.yaml")


def problems_of(text: str) -> tuple[Problem, ...]:
    """The problems of a text that must be refused."""
    with pytest.raises(Problems) as caught:
        parse_job(text, "porch.yaml")
    assert caught.value.problems
    for problem in caught.value.problems:
        assert str(problem).isprintable()
        assert problem.advice
    return caught.value.problems


def only_problem_of(text: str) -> str:
    """The one problem of a text, as a person sees it."""
    problems = problems_of(text)
    assert len(problems) == 1, "\n".join(map(str, problems))
    return str(problems[0])
