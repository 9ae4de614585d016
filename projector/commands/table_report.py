"""What a calibration says, as a document for other programs and as lines for the person."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from calibration.table import Table
from calibration.uncertainty import Uncertainty

Point = tuple[float, float]


def document(table: Table, points: Sequence[Point]) -> dict[str, Any]:
    """What ``table --json`` prints. Raises OutOfReach when a point cannot be lit."""
    uncertainty = Uncertainty(table)
    worst = uncertainty.worst()
    residuals = zip(table.marks, table.residuals_px.tolist(), table.residuals_in.tolist(), strict=True)
    return {
        "width_px": table.width_px,
        "height_px": table.height_px,
        "gamma": table.gamma,
        "date": table.date,
        "matrix": table.matrix.tolist(),
        "lens": {"k1": table.lens.k1, "k2": table.lens.k2} if table.lens else None,
        "marks": [
            {"table": list(mark.table), "pixel": list(mark.pixel), "residual_px": off_px, "residual_in": off_in}
            for mark, off_px, off_in in residuals
        ],
        "rms_px": table.rms_px,
        "worst_in": worst.error_in,
        "worst_at": list(worst.at_in),
        "lit_area": table.lit_area().tolist(),
        "at": [_at(table, uncertainty, point) for point in points],
    }


def _at(table: Table, uncertainty: Uncertainty, point: Point) -> dict[str, Any]:
    pixel = table.to_frame([point])[0].tolist()
    return {"table": list(point), "pixel": pixel, "error_in": float(uncertainty.error_in([point])[0])}


def lines(table: Table, found: dict[str, Any]) -> Iterator[str]:
    """The same for a person: inches to hundredths, pixels to tenths."""
    yield f"Projector {table.width_px} x {table.height_px} pixels{f', calibrated {table.date}' if table.date else ''}"
    yield f"{len(table.marks)} marks, disagreement {found['rms_px']:.2f} px on the whole"
    for number, mark in enumerate(found["marks"], 1):
        (x, y), (u, v) = mark["table"], mark["pixel"]
        off = f"off by {mark['residual_px']:.2f} px, {mark['residual_in']:.3f} in"
        yield f"  mark {number}: {x:8.3f}, {y:8.3f} in   pixel {u:9.2f}, {v:9.2f}   {off}"
    if len(table.marks) == 4:
        yield "Four marks always agree with each other, which proves nothing. A fifth mark would test them."
    xs, ys = zip(*found["lit_area"], strict=True)
    yield f"Lit: from {min(xs):.1f} to {max(xs):.1f} in along, from {min(ys):.1f} to {max(ys):.1f} in across"
    x, y = found["worst_at"]
    yield f"Expected error: within {found['worst_in']:.3f} in everywhere (95 of 100), largest near {x:.0f}, {y:.0f} in"
    for point in found["at"]:
        (x, y), (u, v) = point["table"], point["pixel"]
        yield f"  at {x:.3f}, {y:.3f} in: pixel {u:.2f}, {v:.2f}; expected error {point['error_in']:.3f} in"
