"""The photograph that is kept beside a calibration."""

from __future__ import annotations

from pathlib import Path


def reference_of(table: Path) -> Path:
    """Where one photograph of a calibration is kept beside its table file, to see later whether anything has moved."""
    return table.with_name(f"{table.stem}.lit.jpg")
