"""Random jobs over the whole job format: each is planned, or refused with a reason that holds.

Six hundred of them: ``python -m tests.benchmarks.whole_jobs``.
"""

from __future__ import annotations

import pytest

from tests.jobs.whole_jobs.judging import judged
from tests.jobs.whole_jobs.random_whole_jobs import job_text


@pytest.mark.parametrize("first", range(0, 40, 5))
def test_random_jobs_over_the_whole_format_are_planned_or_rightly_refused(first: int) -> None:
    for seed in range(first, first + 5):
        verdict = judged(job_text(seed))
        assert verdict.faults == (), seed
        assert verdict.plans or verdict.refused
