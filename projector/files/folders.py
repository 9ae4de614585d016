"""Folders for what is written."""

from __future__ import annotations

from pathlib import Path

from projector.files.write import CannotWrite


def make_folder(path: Path) -> None:
    """Make the folder, and those above it, unless it is there. Raises CannotWrite."""
    try:
        path.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise CannotWrite(path, f"the folder cannot be made ({error.strerror})", "name another folder") from error
