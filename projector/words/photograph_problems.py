"""The words of what is wrong with a picture of a print, and of what is told of one."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from jobs.prints.photographs.problems import PhotoCode

_FARTHER = "take the photograph from farther away so that two or more repeats are in it each way"
_ON_THE_TAPE = (
    "give two points on the edge of the tape so that the line between them crosses equal ticks, or use --points"
)
_ANEW = "save it anew, as a PNG or JPEG"
_SMALLER = "save it smaller"
_A_PICTURE_FILE = "give the name of a picture file"
_KINDS = "give a PNG, JPEG, TIFF or WebP file"

PHOTOGRAPHS: Mapping[StrEnum, tuple[str, str]] = {
    PhotoCode.MAY_NOT_BE_READ: ("it may not be read", "check who may read it"),
    PhotoCode.FOLDER: ("this is a folder", _A_PICTURE_FILE),
    PhotoCode.PIPE: ("this is no file but a pipe or a device", _A_PICTURE_FILE),
    PhotoCode.OVER_A_GIGABYTE: ("the file is larger than 1 GB", _SMALLER),
    PhotoCode.EMPTY_PICTURE: ("this is not a picture", _KINDS),
    PhotoCode.NOT_A_PICTURE: ("this is not a picture that is read here", _KINDS),
    PhotoCode.KIND_NOT_READ: ("this {kind} file cannot be read", _ANEW),
    PhotoCode.TOO_MANY_LAYERS: ("this JPEG file is put together from too many layers", _ANEW),
    PhotoCode.TOO_MANY_PIXELS: ("the picture has more than {millions} million pixels", _SMALLER),
    PhotoCode.TOO_MANY_FOR_WEBP: (
        "the picture has more than {millions} million pixels, too many for a WebP",
        _SMALLER,
    ),
    PhotoCode.BROKEN_PICTURE: ("the picture is broken", "copy it from the camera again or take another"),
    PhotoCode.NO_BRIGHTNESS: ("the picture holds numbers that are no brightness", "save it as a PNG or JPEG"),
    PhotoCode.TOO_SMALL_A_PICTURE: ("the picture is too small", "give one of {least} pixels or more a side"),
    PhotoCode.TOO_SMALL_FOR_A_PRINT: (
        "the picture is too small to show a print",
        "give one of {least} pixels or more a side",
    ),
    PhotoCode.NOTHING_IN_CROP: ("hardly anything is left inside the crop", "give left,top,right,bottom in pixels"),
    PhotoCode.RECTANGLE_OUTSIDE: (
        "the marked rectangle lies outside the picture",
        "give its four corners in pixels",
    ),
    PhotoCode.RECTANGLE_TOO_SMALL: ("the marked rectangle is too small in the picture", "mark a larger one"),
    PhotoCode.TAPE_TOO_SHORT: ("the two points of the tape lie too near to each other", _ON_THE_TAPE),
    PhotoCode.NO_TICKS: ("no even ticks are seen between the two points of the tape", _ON_THE_TAPE),
    PhotoCode.NO_PRINT_SEEN: (
        "no print that comes again is seen: plain cloth, or its print is larger than half the picture",
        _FARTHER,
    ),
    PhotoCode.ONE_DIRECTION_ONLY: (
        "the print comes again in one direction only, as far as is seen",
        "take the photograph so that two or more repeats are in it each way",
    ),
    PhotoCode.FEWER_THAN_TWO: ("fewer than two whole repeats are in the picture", _FARTHER),
    PhotoCode.NOT_UPRIGHT: (
        "no direction of the print is near to upright",
        "turn the picture so that the selvedge is upright",
    ),
    PhotoCode.PLAIN_CLOTH: ("the cloth of this job is plain", "leave --tile out, or write its repeat into the job"),
    PhotoCode.FIRST_OF_SEVERAL: ("The file holds several pictures", "only the first is measured"),
}
