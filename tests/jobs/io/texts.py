"""Job texts the reading tests start from."""

from __future__ import annotations

import pytest

from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.model.job import Job
from jobs.model.problems import Problem
from projector.words.wording import file_lines

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


def refusal_of(text: str) -> FileRefused:
    """The refusal of a text that must be refused: a place and words for each of its problems."""
    with pytest.raises(FileRefused) as caught:
        parse_job(text, "porch.yaml")
    assert caught.value.problems
    assert len(caught.value.problems) == len(caught.value.places)
    for line in file_lines(caught.value):
        assert line.isprintable()
        assert "None" not in line
    return caught.value


def problems_of(text: str) -> tuple[Problem, ...]:
    """The problems of a text that must be refused."""
    return refusal_of(text).problems


def only_problem_of(text: str) -> Problem:
    """The one problem of a text that must be refused."""
    problems = problems_of(text)
    assert len(problems) == 1, problems
    return problems[0]


def at(problem: Problem) -> str:
    """Where it is, in one word: ``cloth.pieces.0.flaws``."""
    return ".".join(map(str, problem.path))
