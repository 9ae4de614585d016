"""What is to be known to read a photograph of the cloth under the lit pattern: light, job, where the cloth lay."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

import numpy as np

from calibration.lens import Lens
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.table import Table
from jobs.io.reader import parse_job
from jobs.io.writer import job_text
from jobs.model.job import Job
from jobs.model.records import dataclass
from projector.session.cutting.state import Session

Json = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Asked:
    """``table`` maps inches of the cloth's surface to the pattern's pixels, ``carried`` is where the light has the
    print of ``job``. The ``stop`` of this number lights its piece between ``lit_from_in`` and ``lit_to_in``; the cloth
    ends at ``ends_in`` of it, left and right, and the coming cut goes from and to ``cut_in``.
    """

    table: Table
    job: Job
    carried: PrintFit
    stop: int
    lit_from_in: float
    lit_to_in: float
    ends_in: tuple[float, float]
    cut_in: tuple[float, float]


def asked_of(session: Session) -> Json:
    """The same as JSON values, for the process that does it: ``read_asked`` reads them back."""
    table, marking, stop = session.setup.table, session.marking, session.stop
    assert marking is not None
    return {
        "size_px": [table.width_px, table.height_px],
        "matrix": (table.matrix * table.side).tolist(),
        "lens": _plain(table.lens) if table.lens else None,
        "gamma": table.gamma,
        "job": job_text(session.setup.plan.job),
        "carried": _plain(marking.carried),
        "stop": stop.number,
        "lit_in": [float(stop.lit_from), float(stop.lit_to)],
        "ends_in": _ends_in(session),
        "cut_in": [float(stop.placement.start), float(stop.placement.end)],
    }


def _ends_in(session: Session) -> list[float]:
    """Where the piece ends now: what was cut off its first end before is gone."""
    placed = session.placement
    gone = [
        one.end
        for one in session.placements
        if one.piece == placed.piece and one.cut.id in session.done and one.end <= placed.start
    ]
    return [float(max(gone, default=0)), float(session.setup.plan.pieces[placed.piece - 1].piece.length)]


def _plain(value: Lens | PrintFit) -> Json:
    return {name: list(one) if isinstance(one, tuple) else one for name, one in asdict(value).items()}


def read_asked(told: Json) -> Asked:
    """What ``asked_of`` wrote. Raises KeyError, TypeError, ValueError for anything else."""
    lens = told["lens"]
    if lens is not None:
        lens = Lens(**{**lens, "centre_px": tuple(lens["centre_px"]), "decentring": tuple(lens["decentring"])})
    width, height = told["size_px"]
    table = Table(width, height, np.array(told["matrix"]), (), gamma=told["gamma"], lens=lens)
    carried = {**told["carried"], "lattice": PrintLattice(**told["carried"]["lattice"])}
    fit = PrintFit(**{**carried, "shift": tuple(carried["shift"])})
    (low, high), (left, right), (start, end) = told["lit_in"], told["ends_in"], told["cut_in"]
    return Asked(table, parse_job(told["job"], "the job"), fit, told["stop"], low, high, (left, right), (start, end))
