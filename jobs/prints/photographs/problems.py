"""What keeps a print from being measured, and what is told beside it, as data; the words are made elsewhere."""

from __future__ import annotations

from enum import StrEnum

from jobs.model.problems import Code, Refused, Value, problem


class PhotoCode(StrEnum):
    """Everything for which a picture is refused, or that is told of one: a closed set, as ``Code`` is for jobs."""

    # The file.
    MAY_NOT_BE_READ = "may not be read"
    FOLDER = "folder"
    PIPE = "pipe"
    OVER_A_GIGABYTE = "over a gigabyte"
    EMPTY_PICTURE = "empty picture"
    NOT_A_PICTURE = "not a picture"
    KIND_NOT_READ = "kind not read"
    TOO_MANY_LAYERS = "too many layers"
    TOO_MANY_PIXELS = "too many pixels"
    TOO_MANY_FOR_WEBP = "too many pixels for webp"
    BROKEN_PICTURE = "broken picture"
    NO_BRIGHTNESS = "no brightness"
    TOO_SMALL_A_PICTURE = "too small a picture"
    TOO_SMALL_FOR_A_PRINT = "too small for a print"
    NOTHING_IN_CROP = "nothing in crop"
    # What is marked in it.
    RECTANGLE_OUTSIDE = "rectangle outside"
    RECTANGLE_TOO_SMALL = "rectangle too small"
    TAPE_TOO_SHORT = "tape too short"
    NO_TICKS = "no ticks"
    # The print.
    NO_PRINT_SEEN = "no print seen"
    ONE_DIRECTION_ONLY = "one direction only"
    FEWER_THAN_TWO = "fewer than two"
    NOT_UPRIGHT = "not upright"
    PLAIN_CLOTH = "plain cloth"
    # Told beside what was measured.
    FIRST_OF_SEVERAL = "first of several"


class PhotoRefused(Refused):
    """The picture cannot be used."""

    def __init__(self, code: PhotoCode | Code, **values: Value) -> None:
        super().__init__([problem((), code, **values)])


class NoPrint(PhotoRefused):
    """The picture is sound but shows no print that comes again often enough."""
