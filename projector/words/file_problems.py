"""The words of what can be wrong with marks, table, points, readings, keys and light files."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from projector.files.codes import FileCode

TABLE_FILES: Mapping[StrEnum, tuple[str, str]] = {
    FileCode.NOT_USABLE: ("{text:quoted} is not a usable number", "write one such as 212.5"),
    FileCode.NUMBER_BELOW_ZERO: ("this number is below zero", "write a number of zero or more"),
    FileCode.NO_ERROR_AT_ALL: ("nobody places marks without any error", "write 1/32 in and 1/4 pixel"),
    FileCode.MAP_DOES_NOT_FIT: (
        "the map does not fit the marks: the file was damaged or edited",
        "calibrate again",
    ),
    FileCode.NOT_A_MAP: ("this is not a map of three rows of three, the last number 1", "calibrate again"),
    FileCode.FOCAL_NOT_ABOVE_ZERO: ("the focal scale is not above zero", "calibrate again"),
    FileCode.SAME_PLACE: ("this is the same place as from", "write the two ends of the lit length"),
    FileCode.TOO_MANY_KEYS: ("{count} keys for one action are too many", "write at most {most}"),
    FileCode.KEY_GIVEN_TWICE: (
        "the key {key_name} is given twice for the same action",
        "let each key ask for one thing, once",
    ),
    FileCode.KEY_GIVEN_TO_OTHER: (
        'the key {key_name} is given for "{other}" as well',
        "let each key ask for one thing, once",
    ),
    FileCode.ACTION_NEEDS_KEY: (
        "without a key for this a session cannot be run safely",
        "give it at least one key",
    ),
    FileCode.ONLY_KEY_TAKEN: (
        '{lost:list} was the only key for "{action}"',
        'give "{action}" another key{needed:or_without}',
    ),
    FileCode.NO_SUCH_KEY: (
        "{text:quoted} is no key that is known here",
        "write what is printed on it: F5, PageDown, Ctrl+Left, U",
    ),
    FileCode.NO_SUCH_LAYER: ("{text:quoted} is no layer", "write one of {layers:list}"),
    FileCode.NOT_STEPS: ("{text:quoted} is not a usable number of steps", "write one such as 2"),
}
