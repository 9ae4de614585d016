"""What can be wrong with a marks, table, points, readings, keys or light file beyond what any file can have wrong."""

from __future__ import annotations

from enum import StrEnum


class FileCode(StrEnum):
    """A closed set, as ``jobs.model.problems.Code`` is for jobs; the words are in ``projector.words``."""

    NOT_USABLE = "not a usable number"
    NUMBER_BELOW_ZERO = "number below zero"
    NO_ERROR_AT_ALL = "no error at all"
    MAP_DOES_NOT_FIT = "map does not fit"
    NOT_A_MAP = "not a map"
    FOCAL_NOT_ABOVE_ZERO = "focal not above zero"
    SAME_PLACE = "same place"
    TOO_MANY_KEYS = "too many keys"
    KEY_GIVEN_TWICE = "key given twice"
    KEY_GIVEN_TO_OTHER = "key given to other"
    ACTION_NEEDS_KEY = "action needs key"
    ONLY_KEY_TAKEN = "only key taken"
    NO_SUCH_KEY = "no such key"
    NO_SUCH_LAYER = "no such layer"
    NOT_STEPS = "not steps"
