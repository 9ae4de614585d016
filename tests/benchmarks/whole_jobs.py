"""Random jobs over the whole job format, planned and held against a checker that knows nothing of the search.

python -m tests.benchmarks.whole_jobs [jobs, 600 unless given] [the first, 0]
"""

from __future__ import annotations

import sys
import time
from collections import Counter
from collections.abc import Iterator

from jobs.model.choices import Run
from jobs.model.plan import Plan
from tests.jobs.whole_jobs.judging import judged
from tests.jobs.whole_jobs.random_whole_jobs import job_text


def main(count: int, first: int) -> None:
    """Print what was planned and refused, of what kinds the plans were, and every fault."""
    kinds, reasons, told = Counter[str](), Counter[str](), Counter[str]()
    spent, longest = 0.0, (0.0, 0)
    for seed in range(first, first + count):
        begun = time.process_time()
        verdict = judged(job_text(seed))
        took = time.process_time() - begun
        spent, longest = spent + took, max(longest, (took, seed))
        reasons.update(verdict.refused)
        for plan in verdict.plans.values():
            kinds.update(_kinds(plan))
        told["jobs with a fault"] += bool(verdict.faults)
        told["faults"] += len(verdict.faults)
        told["plans short of cloth where that is not proved"] += verdict.open_shorts
        told["orders held against every order of their cuts"] += verdict.ordered
        told["orders cut from another first row"] += verdict.tried
        for fault in verdict.faults:
            print(f"  job {seed}: {fault}")
    for title, table in ((f"{count} jobs", told), ("plans of cloths", kinds), ("refused, rightly", reasons)):
        print(title)
        for name, number in sorted(table.items(), key=lambda one: -one[1]):
            print(f"  {number:6}  {name}")
    print(f"{spent:.0f} s of processor time, job {longest[1]} {longest[0]:.1f} s of it")


def _kinds(plan: Plan) -> Iterator[str]:
    """What is to be seen in a plan, each once."""
    cloth, cuts = plan.job.cloth, plan.cuts
    yield "all"
    yield "short of cloth" if plan.short else "proved the shortest" if plan.proved_shortest else "not proved"
    yield "plain" if cloth.repeat is None else f"drop {cloth.drop}"
    yield from (f"a cut {way}" for way in {cut.way.value for cut in cuts})
    yield from (f"a {window.made.part.value}" for window in plan.job.windows if window.made is not None)
    seen = {
        "run sideways": cloth.run is Run.SIDEWAYS,
        "on pieces with flaws": any(use.piece.flaws for use in plan.pieces),
        "on several pieces": len(plan.pieces) > 1,
        "cuts joined": any(cut.of > 1 for cut in cuts),
        "cuts side by side": any(cut.beside for cut in cuts),
        "a border leads": cloth.border is not None,
        "a pair trimmed to mirror": any(window.lost for window in plan.resolved.windows),
        "unlike selvedges": cloth.near_selvedge != cloth.far_selvedge,
        "the print is not all known": any(notice.code == "assumed" for notice in plan.job.notices),
    }
    yield from (name for name, is_so in seen.items() if is_so)


if __name__ == "__main__":
    count, first, *_ = [*(int(word) for word in sys.argv[1:]), *(600, 0)[len(sys.argv) - 1 :]]
    main(count, first)
