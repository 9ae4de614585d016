"""What options and arguments take: names of files, lengths, places, numbers."""

from __future__ import annotations

import math
import os
from collections.abc import Callable
from dataclasses import fields
from functools import wraps
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length
from projector.commands.shared.errors import InputAtFault
from projector.commands.shared.terminal import printable

if TYPE_CHECKING:
    from click.shell_completion import CompletionItem

LONGEST_NAME = 255
"""Bytes that a file system takes for one name."""
LONGEST_PATH = 4000
MOST_FRAME_PX = 16384
"""No frame is wider or higher."""


class YamlPath(click.Path):
    """The name of a job, table or marks file; the shell completes names of YAML files first."""

    def convert(
        self, value: str | os.PathLike[str], param: click.Parameter | None, ctx: click.Context | None
    ) -> str | bytes | os.PathLike[str]:
        """As click does. Raises InputAtFault for what can be no name of a file, or could not be shown as it is."""
        name = os.fspath(value)
        if not Path(name).name or Path(name).name == "..":
            raise InputAtFault(f"{name!r} is no name of a file; write one, such as curtains.yaml")
        if printable(name) != name:
            raise InputAtFault(f"{printable(name)}: this name holds hidden characters; rename the file or its folder")
        if (
            max(len(os.fsencode(part)) for part in Path(name).parts) > LONGEST_NAME
            or len(os.fsencode(name)) > LONGEST_PATH
        ):
            raise InputAtFault(f"{name[:40]}...: this name is longer than that of a file can be; shorten it")
        return super().convert(value, param, ctx)

    def shell_complete(self, ctx: click.Context, param: click.Parameter, incomplete: str) -> list[CompletionItem]:
        from click.shell_completion import CompletionItem

        found = yaml_files(incomplete)
        return [CompletionItem(name) for name in found] or super().shell_complete(ctx, param, incomplete)


def yaml_files(begun: str) -> list[str]:
    """Names of YAML files that begin so, the folder as it was typed; none where the folder cannot be read."""
    folder, _, name = begun.rpartition("/")
    typed = begun[: len(begun) - len(name)]
    try:
        names = sorted(entry.name for entry in Path(folder or typed or ".").iterdir() if entry.suffix in YAML)
    except OSError:
        return []
    return [typed + one for one in names if one.startswith(name) and (name or not one.startswith("."))]


# Whether a file exists is said by its reader, in words and with exit code 1, not by click.
FILE = YamlPath(path_type=Path, dir_okay=True)
YAML = (".yaml", ".yml")


def _sentence(refused: LengthError) -> str:
    from projector.words.wording import sentence  # for what is refused

    return sentence(refused.problem)


def units_option(what: str) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """The option ``--units``: ``what`` is given in it. It is read before all others, for ``Length`` and ``Pair``."""
    choice = click.Choice([unit.value for unit in Unit])
    return click.option("--units", type=choice, default="in", show_default=True, is_eager=True, help=what)


def _unit(of_units: bool, ctx: click.Context | None) -> Unit:
    """That of bare numbers: what the command's ``--units`` says where these are ``of_units``, else inches."""
    return Unit(ctx.params["units"]) if of_units and ctx is not None else Unit.INCH


class Pair(click.ParamType):
    """``X,Y``: two lengths, inches (or, ``of_units``, what ``--units`` says) unless they carry a unit; either may be
    negative."""

    name = "X,Y"

    def __init__(self, *, of_units: bool = False) -> None:
        self._of_units = of_units

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> tuple[float, float]:
        parts = str(value).split(",")
        if len(parts) != 2:
            self.fail(f"{value!r} is not two lengths with a comma between them, like 30,12 or '60 1/4,0'", param, ctx)
        try:
            x, y = (float(parse_length(part, _unit(self._of_units, ctx), signed=True)) for part in parts)
        except LengthError as refused:
            self.fail(_sentence(refused), param, ctx)
        return x, y


class Length(click.ParamType):
    """One length above zero, inches (or, ``of_units``, what ``--units`` says) unless it carries a unit."""

    name = "LENGTH"

    def __init__(self, *, of_units: bool = False) -> None:
        self._of_units = of_units

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:
        try:
            length = float(parse_length(str(value), _unit(self._of_units, ctx)))
        except LengthError as refused:
            self.fail(_sentence(refused), param, ctx)
        if not length:
            self.fail("a length of nothing; give one such as 96 or 2.4 m", param, ctx)
        return length


class Size(click.ParamType):
    """``WxH``: two lengths above zero, inches unless they carry a unit."""

    name = "WxH"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> tuple[float, float]:
        if isinstance(value, tuple):
            return value
        parts = str(value).lower().split("x")
        if len(parts) != 2:
            self.fail(f"{value!r} is not a size; write width x height, like 3.5x2.5 or '9 cm x 6 cm'", param, ctx)
        width, height = (Length().convert(part, param, ctx) for part in parts)
        return width, height


class FramePixels(click.ParamType):
    """``WxH``: width and height of a projector's frame, in whole pixels."""

    name = "WxH"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> tuple[int, int]:
        if isinstance(value, tuple):
            return value
        parts = str(value).lower().split("x")
        if len(parts) != 2 or not all(part.strip().isascii() and part.strip().isdigit() for part in parts):
            self.fail(f"{value!r} is not a size in pixels; write width x height, like 1920x1080", param, ctx)
        width, height = (int(part) for part in parts)
        if not (0 < width <= MOST_FRAME_PX and 0 < height <= MOST_FRAME_PX):
            self.fail(f"no projector has {value} pixels; write width x height, like 1920x1080", param, ctx)
        return width, height


class PixelPair(click.ParamType):
    """``X,Y``: a place in a picture, in pixels from its top left corner."""

    name = "X,Y"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> tuple[float, float]:
        try:
            x, y = (float(part) for part in str(value).split(","))
        except ValueError:
            self.fail(f"{value!r} is not a place in the picture, like 412,950", param, ctx)
        if not (math.isfinite(x) and math.isfinite(y)):
            self.fail(f"{value!r} is not a place in the picture, like 412,950", param, ctx)
        return x, y


class Number(click.FloatRange):
    """A number in a range; what is none, or has no end, is no number."""

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> float:
        number: float = super().convert(value, param, ctx)
        if not math.isfinite(number):
            self.fail(f"{value!r} is not a number to reckon with", param, ctx)
        return number


def check_ending(out: Path, what: str, *endings: str) -> None:
    """Raises InputAtFault for the name of a file to be written that ends in none of these."""
    if out.suffix.lower() not in endings:
        raise InputAtFault(f"{out}: {what} ends in {' or '.join(endings)}; name it so")


def check_picture(out: Path) -> None:
    """Raises InputAtFault for a picture that could not be written under this name."""
    check_ending(out, "a picture file", ".png", ".svg")


def as_value(name: str, kind: type[Any]) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Hands those options of a command that are fields of the data class ``kind`` to it as one value called so."""
    keys = [one.name for one in fields(kind)]

    def decorate(command: Callable[..., Any]) -> Callable[..., Any]:
        @wraps(command)
        def called(**given: Any) -> Any:
            value = kind(**{key: given.pop(key) for key in keys})
            return command(**given, **{name: value})

        return called

    return decorate
