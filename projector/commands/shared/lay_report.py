"""What a laying measured, as a document for other programs and as lines for the person."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import numpy as np

from calibration.registration.advice import ENOUGH, where_next
from calibration.registration.fitting import ALL_TERMS, Term
from calibration.registration.measures import Measured, SquareMismatch, largest_difference_in, measured, square_mismatch
from calibration.registration.registering import Registration
from jobs.cutting.columns import seams
from jobs.model.choices import Follow, Unit
from jobs.model.job import Job
from projector.session.cutting.registration.text import size_said
from projector.words.findings import describe_outlier
from projector.words.measures import format_error, format_length

GOOD_IN = 1 / 16
"""Light that may be further off than this asks for another point."""


def document(job: Job, laying: Registration, cut_in: float) -> dict[str, Any]:
    """What ``lay --json`` prints; ``cut_in`` is the length of the coming cut."""
    cloth = measured(laying)
    limits = 100 * float(job.limits.bow), 100 * float(job.limits.skew)
    square = _mismatch(job, laying)
    off = np.hypot(*laying.off_in.T).tolist()
    return {
        "along_in": cloth.along_in,
        "across_in": cloth.across_in,
        "drop": cloth.drop,
        "turn_deg": cloth.turn_deg,
        "skew_pct": cloth.skew_pct,
        "bow_pct": cloth.bow_pct,
        "rms_in": laying.rms_in,
        "worst_in": laying.worst_in,
        "accepted": not laying.outliers and cloth.is_within(*limits),
        "matrix": laying.fit.matrix.tolist(),
        "bow_in": laying.fit.bow_in,
        "skew_in": laying.fit.skew_in,
        "measured": [term.value for term in laying.measured],
        "along_uncertainty_in": cloth.along_uncertainty_in,
        "across_uncertainty_in": cloth.across_uncertainty_in,
        "skew_uncertainty_pct": cloth.skew_uncertainty_pct,
        "bow_uncertainty_pct": cloth.bow_uncertainty_pct,
        "limits": {"bow_pct": limits[0], "skew_pct": limits[1]},
        "largest_difference_in": largest_difference_in(laying.fit, 0.0, cut_in),
        "light_error_in": _light_error_in(laying, cut_in),
        "square": {"seam_in": square.seam_in, "row_in": square.row_in},
        "points": [
            {"row": point.row, "column": point.column, "table": list(point.table_in), "off_in": away}
            for point, away in zip(laying.points, off, strict=True)
        ],
        "doubts": [
            {
                "point": outlier.number,
                "row": outlier.motif[0],
                "column": outlier.motif[1],
                "proposed": list(outlier.proposed) if outlier.proposed else None,
                "left_out": outlier.sure,
            }
            for outlier in laying.outliers
        ],
    }


def lines(job: Job, laying: Registration, found: dict[str, Any], cut_in: float) -> Iterator[str]:
    """The same for a person, in the unit of the job."""
    cloth, unit = measured(laying), job.unit
    repeat = laying.fit.lattice
    how = "laid by a photograph" if laying.surveyed else f"{len(laying.points)} points marked"
    yield f"{job.title}: {job.cloth.name}, {how}"
    yield _size("Repeat along", cloth.along_in, repeat.along_in, cloth.along_uncertainty_in, unit)
    yield _size("Repeat across", cloth.across_in, repeat.across_in, cloth.across_uncertainty_in, unit)
    if job.cloth.drop:
        yield f"Drop: {cloth.drop:.3f} of a repeat, planned {float(job.cloth.drop):.3f}"
    yield f"Turn: {abs(cloth.turn_deg):.2f} degrees {'counter-clockwise' if cloth.turn_deg >= 0 else 'clockwise'}"
    yield from _verdicts(laying, cloth, found, unit)
    missing = [term.value for term in ALL_TERMS if term not in laying.measured]
    if missing:
        yield f"Not measured, taken as planned: {', '.join(missing)}"
    yield f"Points are off the fit by {laying.rms_in:.3f} in on the whole, {laying.worst_in:.3f} in at worst"
    for outlier in laying.outliers:
        yield f"Look: {describe_outlier(outlier)}"
    most = format_length(found["largest_difference_in"], unit)
    cut = format_length(cut_in, unit)
    yield f"Cut by the plan's numbers alone, a cut of {cut} would miss the print by up to {most}"
    yield from _how(job, _mismatch(job, laying))
    yield from _advice(laying, found["light_error_in"], cut_in, unit)
    if found["accepted"]:
        yield "Verdict: within what was agreed"
    else:
        why = "answer what is asked above first" if laying.outliers else "more than was agreed: ask the supplier first"
        yield f"Verdict: not accepted; {why}. No claim is taken once cloth is cut"


def _size(what: str, found_in: float, planned_in: float, known_in: float | None, unit: Unit) -> str:
    if known_in is None:
        return f"{what}: {format_length(planned_in, unit)} as planned, not measured"
    return f"{what}: {size_said(found_in, planned_in, known_in, unit)}"


def _verdicts(laying: Registration, cloth: Measured, found: dict[str, Any], unit: Unit) -> Iterator[str]:
    for term, pct, offset, where, limit in (
        (Term.SKEW, cloth.skew_pct, laying.fit.skew_in, "at the far selvedge", found["limits"]["skew_pct"]),
        (Term.BOW, cloth.bow_pct, laying.fit.bow_in, "in the middle", found["limits"]["bow_pct"]),
    ):
        if term not in laying.measured:
            continue
        way = "further along" if offset >= 0 else "further back"
        fits = "within" if abs(pct) <= limit + 1e-9 else "OVER"
        size = format_length(abs(offset), unit)
        yield f"{term.value.capitalize()}: {abs(pct):.2f} %, {size} {way} {where}; {fits} the limit of {limit:g} %"


def _how(job: Job, square: SquareMismatch) -> Iterator[str]:
    if job.cloth.follow is Follow.PRINT:
        yield "Cut lines follow the print"
        return
    seam, row = format_length(square.seam_in, job.unit), format_length(square.row_in, job.unit)
    yield f"Cut lines stand square to the selvedge: the print will miss by {seam} at a seam, by up to {row} in a cut"


def _mismatch(job: Job, laying: Registration) -> SquareMismatch:
    lines = seams(job.cloth, job.allowances)
    return square_mismatch(laying.fit, float(lines.near), float(lines.far))


def _light_error_in(laying: Registration, cut_in: float) -> float:
    """The largest error of the light along both edges of a cut that begins at the first point marked, 95 of 100."""
    start = float(laying.fit.lattice.places([point.motif for point in laying.points])[:, 0].min())
    return float(laying.along_error_in(laying.fit.lattice.edges(start, start + cut_in, 16)).max())


def _advice(laying: Registration, light_in: float, cut_in: float, unit: Unit) -> Iterator[str]:
    within = format_error(light_in, unit)
    if laying.surveyed:
        yield f"The light is within {within} of the print (95 of 100)"
        return
    yield f"By how these points were placed, the light is within {within} of the print (95 of 100)"
    motifs = [point.motif for point in laying.points]
    if len(motifs) >= ENOUGH and light_in <= GOOD_IN:
        return
    start = float(laying.fit.lattice.places(motifs)[:, 0].min())
    motif = where_next(laying.fit.lattice, start, start + cut_in, motifs)
    if motif is not None:
        yield f"Better still with one more point: row {motif[0]}, column {motif[1]}"
