"""A job of a workroom read, ordered and planned without a fault: what its tests compare with sums by hand."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping
from fractions import Fraction

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job
from jobs.model.job import Job
from jobs.model.plan import Plan
from jobs.model.records import dataclass
from jobs.ordering import Order, assumed, order
from jobs.planning.planner import plan_job
from tests.jobs.whole_jobs.checker import faults_of_job

YARD = 36


@dataclass(frozen=True)
class Worked:
    """A job with its plans and its orders by the names of its cloths."""

    job: Job
    plans: Mapping[str, Plan]
    orders: Mapping[str, Order]

    def cut(self, cloth: str) -> Counter[tuple[str, Fraction]]:
        """How many cuts of each window or thing, and how long each is."""
        return Counter((cut.window, cut.length) for cut in self.plans[cloth].cuts)

    def yards(self, cloth: str) -> Fraction:
        """What is bought."""
        return self.orders[cloth].buy / YARD


def worked(text: str) -> Worked:
    """All of a job file worked out, and its plans held against what the job asks for."""
    job = parse_job(text, "a job of the workroom")
    cloths = jobs_of_cloths(job)
    plans = {one.name: plan_job(one.job) for one in cloths}
    assert faults_of_job(job, plans) == []
    assert not any(plan.short for plan in plans.values())
    return Worked(job, plans, {one.name: order(assumed(one.job).resolved) for one in cloths})
