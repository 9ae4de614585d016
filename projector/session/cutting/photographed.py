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
from jobs.journal.placed import placed_in, placed_values, recorded
from jobs.model.cuts import Placement
from jobs.model.job import Job
from jobs.model.records import dataclass
from jobs.planning.mates import meetings_of
from projector.session.cutting.state import Session

Json = dict[str, Any]


@dataclass(frozen=True, eq=False)
class Asked:
    """``table`` maps inches of the cloth's surface to the pattern's pixels, ``carried`` is where the light has the
    print of ``job``. The ``stop`` of this number lights its piece between ``lit_from_in`` and ``lit_to_in``; the cloth
    ends at ``ends_in`` of it, left and right, and the coming cut goes from and to ``cut_in``. ``on_white``: codes on a
    white field are lit, not the whole pattern. ``back``: no cloth lies there, but the panel of the stop's cut, which is
    made.
    """

    table: Table
    job: Job
    carried: PrintFit
    stop: int
    lit_from_in: float
    lit_to_in: float
    ends_in: tuple[float, float]
    cut_in: tuple[float, float]
    on_white: bool
    back: Back | None = None


@dataclass(frozen=True)
class Back:
    """A panel that is cut, laid back: its place on its piece, its mates, which cuts are ``done``, and by which light it
    was cut (None: not known)."""

    placed: Placement
    mates: tuple[Placement, ...]
    done: tuple[str, ...]
    light: PrintFit | None


def may_be_laid_back(session: Session) -> bool:
    """Whether the lit stop's cut is made and its panel, laid back, could tell whether a mate will match."""
    placed = session.placement
    return session.cut_is_done and placed.cut.top_edge.is_end and bool(meetings_of(placed, session.placements))


def lit_on_white(session: Session) -> bool:
    """Whether codes on a white field are lit, and not the whole pattern: over cloth as is chosen by its colours, unless
    the person has lit the other one; over a panel that is cut the whole pattern."""
    return session.setup.on_white != session.other_pattern and not may_be_laid_back(session)


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
        "on_white": lit_on_white(session),
        "back": _back(session) if may_be_laid_back(session) else None,
    }


def _back(session: Session) -> Json:
    placed, plan = session.placement, session.setup.plan
    light = session.cut_by[session.done.index(placed.cut.id)]

    def values(one: Placement) -> Json:
        return placed_values(recorded(one, plan.job.cloth), plan.pieces[one.piece - 1].piece)

    mates = {one.mate.cut.id: values(one.mate) for one in meetings_of(placed, session.placements)}
    return {
        "cut": placed.cut.id,
        "placed": values(placed),
        "mates": mates,
        "done": list(session.done),
        "light": _plain(light) if light is not None else None,
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
    (low, high), (left, right), (start, end) = told["lit_in"], told["ends_in"], told["cut_in"]
    job, fit = parse_job(told["job"], "the job"), _fit(told["carried"])
    back = None if told["back"] is None else _read_back(told["back"], job)
    return Asked(table, job, fit, told["stop"], low, high, (left, right), (start, end), bool(told["on_white"]), back)


def _fit(told: Json) -> PrintFit:
    return PrintFit(**{**told, "lattice": PrintLattice(**told["lattice"]), "shift": tuple(told["shift"])})


def _read_back(told: Json, job: Job) -> Back:
    placed = placed_in(told["placed"], told["cut"])[0].placement(job)
    mates = tuple(placed_in(values, name)[0].placement(job) for name, values in told["mates"].items())
    light = None if told["light"] is None else _fit(told["light"])
    return Back(placed, mates, tuple(told["done"]), light)
