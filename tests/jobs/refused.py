"""A job that must be refused, and why: by code, never by the words made of it."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

import pytest

from jobs.model.problems import Code, JobRefused, Problem
from projector.words.wording import sentence

NO_PAIR = (
    Code.NO_MIRROR_LINE,
    Code.HALF_TURN_ALONE,
    Code.ONE_WAY_NEVER_TURNED,
    Code.ONE_WAY_NEVER_TURNED_SIDEWAYS,
)
"""No mirrored pair can be cut from the cloth at all."""


@contextmanager
def refused(*codes: Code) -> Iterator[list[Problem]]:
    """What is done within is refused, for one of these reasons first; its problems are in the list afterwards."""
    problems: list[Problem] = []
    with pytest.raises(JobRefused) as caught:
        yield problems
    problems += caught.value.problems
    assert problems[0].code in codes
    assert all("None" not in sentence(one) for one in problems)
