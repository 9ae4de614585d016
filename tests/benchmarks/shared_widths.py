"""Narrow cuts that share lengths of cloth, against a solver of constraints, on 200 random jobs.

python -m tests.benchmarks.shared_widths [jobs, 200 unless given]
"""

from __future__ import annotations

import sys
import time

from jobs.planning.planner import plan_job
from tests.jobs.packing.checker import faults_of
from tests.jobs.packing.shared_jobs import least_by_solver, random_job


def main(count: int) -> None:
    """Print how often both agree, and what each took."""
    proved = agree = shorter = longer = faults = 0
    ours = theirs = 0.0
    for seed in range(count):
        made = random_job(seed)
        start = time.process_time()
        plan = plan_job(made)
        ours += time.process_time() - start
        start = time.process_time()
        least, sure = least_by_solver(made, 5)
        theirs += time.process_time() - start
        faults += bool(faults_of(plan))
        proved += plan.proved_shortest
        agree += plan.used == least
        shorter += plan.used < least
        longer += plan.used > least
        if plan.used > least or (plan.used < least and sure):
            print(f"  job {seed}: ours {float(plan.used)} in, the solver {float(least)} in, proved {sure}")
    print(f"{count} jobs: {agree} equal, {shorter} shorter, {longer} longer than the solver; {proved} proved by us")
    print(f"{faults} with a fault; {ours:.1f} s of processor time, the solver {theirs:.1f} s")


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 200)
