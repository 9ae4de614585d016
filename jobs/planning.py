"""From a job to a plan: cuts laid on the piece, what is left, and the stops at the table."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting import cut_list, cut_problems
from jobs.job import Job, Piece
from jobs.layout.laying import lay
from jobs.layout.leftovers import leftovers
from jobs.ordering import order
from jobs.plan import PieceUse, Plan
from jobs.pulls import stops
from jobs.refusals import JobRefused, Problem


def plan_job(job: Job, table_length: Fraction | None = None) -> Plan:
    """The plan of the job on its piece, or on one piece as ordered with its first row at the first end.

    ``table_length`` (inches) takes the place of the job's own table. Cuts that do not fit give a plan with ``short``
    above zero, where ``used`` is what the cuts need and nothing is placed. Raises JobRefused with every problem.
    """
    problems = cut_problems(job)
    if len(job.cloth.pieces) > 1:
        what = f"this version plans on one piece, and the job names {len(job.cloth.pieces)}"
        problems.append(Problem("cloth.pieces", what, "for now write one piece, and one job for each further piece"))
    if problems:
        raise JobRefused(problems)
    cuts, squaring = cut_list(job), job.allowances.squaring
    piece = job.cloth.pieces[0] if job.cloth.pieces else Piece(length=order(job).buy)
    laid = lay(cuts, job.cloth, piece, squaring)
    short = max(Fraction(0), laid.used - piece.length)
    placements = () if short else laid.placements
    table = table_length if table_length is not None else job.table.length if job.table else None
    return Plan(
        job=job,
        cuts=cuts,
        placements=placements,
        pieces=(PieceUse(1, piece, Fraction(0) if short else laid.used, leftovers(piece, squaring, placements)),),
        stops=stops(placements, (piece,), job, table),
        used=laid.used,
        bound=laid.bound,
        proved_shortest=laid.proved_shortest,
        short=short,
        assumed_piece=not job.cloth.pieces,
    )
