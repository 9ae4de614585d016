"""What is remembered of a person, and of how the light of a job was set: where it is damaged, it is as at first."""

from __future__ import annotations

import json
import os
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path as FilePath

from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import FileRefused, Log
from jobs.io.nodes import Node
from jobs.journal.file import beside
from jobs.model.problems import Path
from jobs.model.records import dataclass
from projector.files import readers
from projector.files.codes import FileCode
from projector.files.readers import read_file
from projector.files.write import CannotWrite, write_own, write_whole

HEAD = "# What lightchalk remembers of you. It may be deleted: then nothing is remembered.\n"


@dataclass(frozen=True)
class Settings:
    """``display`` is the name of the screen chosen last, empty when none was."""

    display: str = ""


def settings_path(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> FilePath:
    """Where the file lies: under ``XDG_CONFIG_HOME``, else ``~/.config``; on Windows under ``APPDATA``.

    The first two are the XDG Base Directory Specification's, which asks that a path that is not absolute be ignored.
    """
    given = environment.get("XDG_CONFIG_HOME", "")
    if not os.path.isabs(given):
        given = environment.get("APPDATA", "") if platform == "win32" else ""
    return (FilePath(given) if given else FilePath.home() / ".config") / "lightchalk" / "settings.yaml"


def read_settings(path: FilePath) -> Settings:
    """What is remembered; nothing where there is no file. Raises FileRefused with everything wrong with it."""
    if not path.exists():
        return Settings()
    return read_file(path, _settings)


def _settings(fields: Fields, log: Log) -> Settings:
    settings = Settings(display=fields.take("display", values.text, ""))
    fields.close()
    return settings


def settings_or_none(path: FilePath) -> tuple[Settings, str]:
    """What is remembered, and words for the person when that cannot be read: they go on as if for the first time."""
    try:
        return read_settings(path), ""
    except FileRefused:
        return Settings(), f"{path}: it is damaged (nothing is remembered until that is put right)"
    except OSError as fault:
        return Settings(), f"{path}: what was remembered cannot be read ({fault.strerror or fault})"


def write_settings(path: FilePath, settings: Settings) -> None:
    """Write the file whole, its folder made if need be. Raises CannotWrite."""
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        reason = fault.strerror or str(fault)
        raise CannotWrite(path, f"its folder cannot be made ({reason})", "see to that folder") from None
    # A JSON text is a YAML text in double quotes.
    display = f"display: {json.dumps(settings.display, ensure_ascii=False)}\n" if settings.display else ""
    write_whole(path, HEAD + (display or "{}\n"))


BEGINS = "dark: ["
"""How every file of light begins that was written here: what begins otherwise is somebody else's."""
FARTHEST = 100_000
"""A width step or a number of the colour key beyond this is a slip."""


@dataclass(frozen=True)
class LightSettings:
    """Names of the layers left dark, steps of wider (thinner below zero) lines, presses of the colour key."""

    dark: tuple[str, ...] = ()
    wider: int = 0
    colours: int = 0


def light_path(job: FilePath, cloth: str = "") -> FilePath:
    """The file of a job's light: beside it, its name and ``.light``; another for each further ``cloth`` of the job."""
    return beside(job, f".{cloth}.light" if cloth else ".light")


def write_light(path: FilePath, settings: LightSettings) -> None:
    """Put the settings into the file in one step. Raises CannotWrite, also for a file of somebody else's there."""
    dark = ", ".join(f'"{name}"' for name in settings.dark)
    content = f"{BEGINS}{dark}]\nwider: {settings.wider}\ncolours: {settings.colours}\n"
    write_own(path, content, lambda found: not found or found.startswith(BEGINS.encode()))


def read_light(path: FilePath, layers: Sequence[str]) -> LightSettings:
    """The settings of a file, as at first where there is none. Raises FileRefused where it is damaged.

    ``layers`` are the names that may be dark.
    """
    if not path.exists():
        return LightSettings()

    def read(fields: Fields, log: Log) -> LightSettings:
        dark: tuple[str, ...] = fields.take("dark", values.list_of(_one_of(layers), thing="layer"), ())
        found = LightSettings(dark, fields.take("wider", _step, 0), abs(fields.take("colours", _step, 0)))
        fields.close()
        return found

    return readers.read_file(path, read)


def light_or_usual(path: FilePath, layers: Sequence[str]) -> tuple[LightSettings, str]:
    """The settings of a file, and a sentence where it is damaged: the light is then as at first."""
    try:
        return read_light(path, layers), ""
    except FileRefused:
        return LightSettings(), f"{path} is damaged: all layers are lit, in the usual widths and colours."


def _one_of(layers: Sequence[str]) -> values.Reader[str]:
    def read(node: Node, path: Path, log: Log) -> str:
        text = values.written(node, path, log, "name")
        if text not in layers:
            raise log.refuse(node.place, path, FileCode.NO_SUCH_LAYER, text=text, layers=tuple(layers))
        return text

    return read


def _step(node: Node, path: Path, log: Log) -> int:
    text = values.written(node, path, log, "count")
    try:
        value = int(text) if text.isascii() and len(text) < 10 else FARTHEST + 1
    except ValueError:
        value = FARTHEST + 1
    if abs(value) > FARTHEST:
        raise log.refuse(node.place, path, FileCode.NOT_STEPS, text=text)
    return value
