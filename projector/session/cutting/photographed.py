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
    print of ``job``. The ``stop`` of this number lights its piece between ``lit_from_in`` and ``lit_to_in``.
    """

    table: Table
    job: Job
    carried: PrintFit
    stop: int
    lit_from_in: float
    lit_to_in: float


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
    }


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
    low, high = told["lit_in"]
    return Asked(table, parse_job(told["job"], "the job"), fit, told["stop"], low, high)
