"""From windows to cuts."""

from __future__ import annotations

from jobs.cutting.lanes import settled
from jobs.cutting.panels import window_drafts
from jobs.cutting.problems import cut_problems
from jobs.cutting.rows import named
from jobs.cutting.sideways.cuts import sideways_cuts
from jobs.cutting.sideways.rows import with_rows
from jobs.cutting.sideways.stacking import stacked
from jobs.cutting.slugs import window_slugs
from jobs.cutting.unanswered import unanswered
from jobs.model.choices import Run
from jobs.model.cuts import Cut
from jobs.model.job import Job
from jobs.model.problems import JobRefused


def cut_list(job: Job) -> tuple[Cut, ...]:
    """All cuts of the job, in the order of its windows, left panel before right, leading cut first.

    Lengths are inches of cloth as bought, that is before it shrinks. Raises JobRefused with every problem found; a
    print of which something is not known is one (see ``jobs.ordering.assumed``).
    """
    problems = unanswered(job.cloth.not_known) or cut_problems(job)
    if problems:
        raise JobRefused(problems)
    slugs = window_slugs(window.name for window in job.windows)
    if job.cloth.run is Run.SIDEWAYS:
        level = with_rows(job)
        return stacked([cut for one in job.windows for cut in sideways_cuts(one, slugs[one.name], job, level)], job)
    windows = named(job.windows)
    drafts = [draft for one in job.windows for draft in window_drafts(one, slugs[one.name], job, windows)]
    return settled(drafts, job)
