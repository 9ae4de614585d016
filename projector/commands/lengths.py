"""Lengths as words of the command line."""

from __future__ import annotations

import math
from typing import Any

import click

from jobs.model.choices import Unit
from jobs.model.lengths import LengthError, parse_length
from projector.words.wording import sentence


class Pair(click.ParamType):
    """``X,Y``: two lengths, inches unless they carry a unit; either may be negative."""

    name = "X,Y"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> tuple[float, float]:
        parts = str(value).split(",")
        if len(parts) != 2:
            self.fail(f"{value!r} is not two lengths with a comma between them, like 30,12 or '60 1/4,0'", param, ctx)
        try:
            x, y = (float(parse_length(part, Unit.INCH, signed=True)) for part in parts)
        except LengthError as refused:
            self.fail(sentence(refused.problem), param, ctx)
        return x, y


class Length(click.ParamType):
    """One length above zero, inches unless it carries a unit."""

    name = "LENGTH"

    def convert(self, value: object, param: click.Parameter | None, ctx: click.Context | None) -> float:
        try:
            length = float(parse_length(str(value), Unit.INCH))
        except LengthError as refused:
            self.fail(sentence(refused.problem), param, ctx)
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
