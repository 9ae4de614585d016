"""What is remembered of a person from one time to the next: one small file in their own settings folder."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import FileRefused, Log
from projector.files.readers import read_file
from projector.files.write import CannotWrite, write_whole

HEAD = "# What lightchalk remembers of you. It may be deleted: then nothing is remembered.\n"


@dataclass(frozen=True)
class Settings:
    """``display`` is the name of the screen chosen last, empty when none was."""

    display: str = ""


def settings_path(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> Path:
    """Where the file lies: under ``XDG_CONFIG_HOME``, else ``~/.config``; on Windows under ``APPDATA``.

    The first two are the XDG Base Directory Specification's, which asks that a path that is not absolute be ignored.
    """
    given = environment.get("XDG_CONFIG_HOME", "")
    if not os.path.isabs(given):
        given = environment.get("APPDATA", "") if platform == "win32" else ""
    return (Path(given) if given else Path.home() / ".config") / "lightchalk" / "settings.yaml"


def read_settings(path: Path) -> Settings:
    """What is remembered; nothing where there is no file. Raises FileRefused with everything wrong with it."""
    if not path.exists():
        return Settings()
    return read_file(path, _read)


def _read(fields: Fields, log: Log) -> Settings:
    settings = Settings(display=fields.take("display", values.text, ""))
    fields.close()
    return settings


def settings_or_none(path: Path) -> tuple[Settings, str]:
    """What is remembered, and words for the person when that cannot be read: they go on as if for the first time."""
    try:
        return read_settings(path), ""
    except FileRefused:
        return Settings(), f"{path}: it is damaged (nothing is remembered until that is put right)"
    except OSError as fault:
        return Settings(), f"{path}: what was remembered cannot be read ({fault.strerror or fault})"


def write_settings(path: Path, settings: Settings) -> None:
    """Write the file whole, its folder made if need be. Raises CannotWrite."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise CannotWrite(path, f"its folder cannot be made ({reason})", "see to that folder") from None
    # A JSON text is a YAML text in double quotes.
    display = f"display: {json.dumps(settings.display, ensure_ascii=False)}\n" if settings.display else ""
    write_whole(path, HEAD + (display or "{}\n"))
