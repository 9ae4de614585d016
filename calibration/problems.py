"""What is wrong with marks, points and tape readings, as data: where, which of a closed set, and what its words need.

Words are made where a person reads them, never here.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

Path = tuple[str | int, ...]
"""Names of keys and numbers of list items (from 0), from the root of a file down."""
Value = float | int | tuple[int, ...] | None


class Code(StrEnum):
    """Everything for which marks, points or readings are refused."""

    TOO_FEW_MARKS = "too few marks"
    TOO_MANY_MARKS = "too many marks"
    MARK_IS_NO_PLACE = "mark is no place"
    REPEATED_ON_TABLE = "repeated on the table"
    REPEATED_IN_FRAME = "repeated in the frame"
    IN_LINE_ON_TABLE = "in line on the table"
    IN_LINE_IN_FRAME = "in line in the frame"
    CROSSED_ORDER = "crossed order"
    MAP_FOLDS = "map folds"
    BEYOND_HORIZON = "beyond the horizon"
    CONTRADICT = "contradict each other"
    ORIGIN_ON_HORIZON = "origin on the horizon"
    NO_POINT = "no point"
    TOO_MANY_POINTS = "too many points"
    POINT_IS_NO_PLACE = "point is no place"
    TWO_MOTIFS_IN_ONE_PLACE = "two motifs in one place"
    MIRRORED_POINTS = "mirrored points"
    NO_SUCH_CLOTH = "no such cloth"
    BEYOND_A_TAPE = "beyond a tape"
    TOO_DARK = "too dark"
    TOO_BRIGHT = "too bright"
    MOVED_OR_BLURRED = "moved or blurred"
    PATTERN_NOT_SEEN = "pattern not seen"
    TABLE_CUT_OFF = "table cut off"
    TOO_FAR_AWAY = "too far away"
    GLARE = "glare"
    PATTERN_HIDDEN = "pattern hidden"
    SAME_PHOTOGRAPH = "same photograph"
    OTHER_LIGHT = "other light"
    HARDLY_TOGETHER = "hardly together"
    TOO_FEW_PHOTOGRAPHS = "too few photographs"
    SHAPE_OPEN = "shape left open"
    LENGTHS_DIFFER = "lengths differ"
    UNTESTED = "untested"
    READ_ONCE = "read once"
    UNLIKELY_HEIGHT = "unlikely height"
    LENGTH_BEFORE = "another length before"
    LENS_MOVED = "lens moved since it was measured"
    PRINT_NOT_FOUND = "print not found"
    NO_PICTURE = "no picture of the print"
    LIES_TURNED = "cloth lies turned"
    OTHER_WIDTH = "cloth of another width"
    OTHER_SCALE = "print of another scale"
    NO_SELVEDGE = "no selvedge in the photograph"
    CUT_LEAVES_CLOTH = "cut leaves the cloth"
    OTHER_SIZE = "second photograph of another size"
    OTHER_VIEW = "second photograph of something else"
    PATTERN_LIT = "second photograph of the pattern"
    NOT_SETTLED = "second photograph does not settle the print"
    LIES_FACE_DOWN = "cloth lies face down"
    LIES_FACE_DOWN_TURNED = "cloth lies face down and turned"
    PANEL_FACE_DOWN = "panel lies face down"
    PANEL_MAY_BE_TURNED = "panel may lie turned"
    OTHER_LENGTH = "panel of another length"
    OTHER_PANEL_WIDTH = "panel of another width"
    NO_END_SEEN = "no end of the panel is seen"
    SIDES_NOT_SEEN = "sides of the panel are not seen"


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong: ``path`` is where, ``code`` what, ``values`` what its words need.

    Lengths among the values are inches; marks and points are counted from 1.
    """

    path: Path
    code: Code
    values: tuple[tuple[str, Value], ...] = ()

    def value(self, name: str) -> Value:
        """The value of this name, None where it has none."""
        return dict(self.values).get(name)

    @property
    def marks(self) -> tuple[int, ...]:
        """The numbers of the marks it is about; none where it is about all of them, or about no marks."""
        found = self.value("marks")
        return found if isinstance(found, tuple) else ()


def problem(path: Path, code: Code, /, **values: Value) -> Problem:
    """A problem with its values by name."""
    return Problem(path, code, tuple(values.items()))


class Refused(ValueError):  # noqa: N818 - says what happened
    """What was measured cannot be used; ``problems`` holds everything found wrong."""

    def __init__(self, *problems: Problem) -> None:
        self.problems = problems
        super().__init__("; ".join(f"{'.'.join(map(str, one.path))}: {one.code}" for one in problems))


class MarksRefused(Refused):
    """The marks cannot carry a calibration."""


class PhotographRefused(Refused):
    """A photograph, or all of them together, cannot carry a calibration."""


class PointsRefused(Refused):
    """The confirmed points cannot be a cloth."""


class ReadingsRefused(Refused):
    """The tape cannot have said this."""
