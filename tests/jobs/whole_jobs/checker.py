"""A whole job held against its plans: every part is there, as large as it must be, its print where it must hang.

What must hold follows from the keys of the job (``parts``) and from the symmetry of the print (``print_plane``); of the
plan only the places of its cuts are read, and which of their edges is which. Overlaps, flaws, lots and sums are those
of ``tests.jobs.packing.checker``, the widths of seams those of its ``seam_checker``.
"""

from __future__ import annotations

from collections import Counter, defaultdict
from collections.abc import Iterator, Mapping, Sequence

from jobs.model.choices import Panels
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Placement
from jobs.model.job import Job
from jobs.model.plan import Plan
from tests.jobs.packing.checker import faults_of
from tests.jobs.whole_jobs.hung_print import print_faults
from tests.jobs.whole_jobs.left_over import left_over_faults
from tests.jobs.whole_jobs.panel import Panel
from tests.jobs.whole_jobs.parts import Part, parts_of
from tests.jobs.whole_jobs.print_plane import answered
from tests.jobs.whole_jobs.sizes import size_faults

HANDS = {
    Panels.PAIR: (Hand.LEFT, Hand.RIGHT),
    Panels.LEFT: (Hand.LEFT,),
    Panels.RIGHT: (Hand.RIGHT,),
    Panels.WHOLE: (Hand.WHOLE,),
}


def faults_of_job(job: Job, plans: Mapping[str, Plan]) -> list[str]:
    """Everything that is wrong with the plans of a job, in words; ``plans`` by the names of its cloths."""
    parts: dict[str, list[Part]] = defaultdict(list)
    for part in parts_of(job):
        parts[part.cloth].append(part)
    found = [f"{name}: no plan" for name in parts if name not in plans]
    for name, plan in plans.items():
        cloth = next(one for one in (job.cloth, *job.cloths) if one.name == name)
        if cloth.not_known:
            # Planned with some of the answers that may be right.
            found += [] if plan.job.cloth in answered(cloth) else [f"{name}: planned for another cloth"]
            cloth = plan.job.cloth
        wrong = (*faults_of(plan), *_faults(parts[name], plan, cloth))
        wrong += () if plan.short else tuple(left_over_faults(job, plan, cloth))
        found += (f"{name}: {fault}" for fault in wrong)
    return found


def _faults(parts: Sequence[Part], plan: Plan, cloth: Cloth) -> Iterator[str]:
    if plan.short:
        return
    wanted = Counter((part.name, hand) for part in parts for hand in HANDS[part.panels])
    laid: dict[tuple[str, Hand], list[Placement]] = defaultdict(list)
    for placed in sorted(plan.placements, key=lambda one: one.cut.number):
        laid[placed.cut.window, placed.cut.hand].append(placed)
    yield from (f"{name}, {hand}: not cut" for name, hand in wanted if (name, hand) not in laid)
    yield from (f"{name}, {hand}: cut and not wanted" for name, hand in laid if (name, hand) not in wanted)
    yield from (f"two things are called {name}" for (name, _), count in wanted.items() if count > 1)
    for part in parts:
        hands = HANDS[part.panels]
        panels = {hand: Panel(part, hand, tuple(laid[part.name, hand]), plan, cloth) for hand in hands}
        if not all(panel.placed for panel in panels.values()):
            continue
        for hand, panel in panels.items():
            left = panels[Hand.LEFT] if part.panels is Panels.PAIR and hand is Hand.RIGHT else None
            wrong = (*size_faults(panel), *print_faults(panel, left))
            yield from (f"{part.name}, {hand}: {fault}" for fault in wrong)
