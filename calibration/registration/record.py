"""What a photograph told of a cloth as one line of text, from the process that looked at it to the one that lights."""

from __future__ import annotations

import json
import math
from dataclasses import asdict
from typing import Any

import numpy as np

from calibration.registration.fit import PrintFit
from calibration.registration.fitting import ALL_TERMS, Pivot, Term
from calibration.registration.lattice import PrintLattice, PrintPoint
from calibration.registration.registering import MOST, Registration, Surveyed

NUMBERS = ("turn_deg", "stretch_along", "stretch_across", "skew_in", "bow_in")


class NoRecord(ValueError):  # noqa: N818 - says what it is not
    """The text is no record of a print, or of another one than is cut."""


def record_of(found: Registration) -> str:
    """The line, JSON, of a registration that a photograph made; its outliers are left out of it already."""
    fit, surveyed = found.fit, found.surveyed
    if surveyed is None:
        raise NoRecord("no photograph made it")
    return json.dumps(
        {
            "lattice": asdict(fit.lattice),
            "fit": {"shift": fit.shift, **{name: getattr(fit, name) for name in NUMBERS}},
            "points": [[p.row, p.column, *p.table_in] for p in found.points],
            "measured": [term.value for term in found.measured],
            "pivot": asdict(surveyed.pivot),
            "covariance": surveyed.covariance.tolist(),
            "uneven_in": surveyed.uneven_in,
        }
    )


def registration_of(record: str, lattice: PrintLattice) -> Registration:
    """The registration of the print ``lattice``. Raises NoRecord."""
    try:
        told = json.loads(record, parse_constant=_no_number)
        if told["lattice"] != asdict(lattice):
            raise NoRecord("it is of another print")
        x, y = map(_number, told["fit"]["shift"])
        fit = PrintFit(lattice, (x, y), **{name: _number(told["fit"][name]) for name in NUMBERS})
        points = tuple(
            PrintPoint(int(row), int(column), (_number(u), _number(v))) for row, column, u, v in told["points"]
        )
        covariance = np.array([[_number(value) for value in row] for row in told["covariance"]])
        surveyed = Surveyed(
            Pivot(**{name: _number(value) for name, value in told["pivot"].items()}),
            covariance,
            _number(told["uneven_in"]),
        )
        measured = tuple(Term(value) for value in told["measured"])
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        raise NoRecord(str(fault)) from None
    if not 0 < len(points) <= MOST or covariance.shape != (len(ALL_TERMS), len(ALL_TERMS)):
        raise NoRecord("it does not hold together")
    return Registration(fit, points, measured, (), surveyed)


def _number(value: Any) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise NoRecord(f"{value!r} is no number")
    return float(value)


def _no_number(name: str) -> Any:
    raise NoRecord(f"{name} is no number")
