"""How a person sets the light of a job, remembered beside it: layers left dark, wider lines, other colours."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path as FilePath

from jobs.io import values
from jobs.io.fields import Fields
from jobs.io.log import FileRefused, Log
from jobs.io.nodes import Node
from jobs.journal.file import beside
from jobs.model.problems import Path
from projector.files import readers
from projector.files.codes import FileCode
from projector.files.write import write_own

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


def light_path(job: FilePath) -> FilePath:
    """The file of a job's light: beside it, its name and ``.light``."""
    return beside(job, ".light")


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
