"""What is wrong, as data: where, which of a closed set, and what its words need. Words are made at the rim."""

from __future__ import annotations

from collections.abc import Iterable
from enum import StrEnum
from fractions import Fraction

from jobs.model.records import dataclass

Path = tuple[str | int, ...]
"""Names of keys and numbers of list items (from 0), from the root of a file down."""
Value = str | int | Fraction | tuple[str, ...] | tuple[int, ...] | None


class Code(StrEnum):
    """Everything that can be wrong with a job or with the text of a file, and what is told of it."""

    # The file as a whole.
    NO_SUCH_FILE = "no such file"
    NOT_A_FILE = "not a file"
    CANNOT_BE_READ = "cannot be read"
    FILE_TOO_LARGE = "file too large"
    OTHER_ENCODING = "other encoding"
    NOT_UTF8 = "not utf-8"
    CONTROL_CHARACTER = "control character"
    LINE_TOO_LONG = "line too long"
    EMPTY_FILE = "empty file"
    NOT_YAML = "not yaml"
    LAYOUT_BROKEN = "layout broken"
    TOO_DEEP = "too deep"
    SECOND_DOCUMENT = "second document"
    TOO_MANY_VALUES = "too many values"
    TOO_MANY_PROBLEMS = "too many problems"
    REFERENCE = "reference"
    ANCHOR = "anchor"
    TAG = "tag"
    KEY_NOT_SINGLE = "key not single"
    # Keys and the shape of their values.
    KEYS_BELONG_HERE = "keys belong here"
    UNKNOWN_KEY = "unknown key"
    MISSPELT_KEY = "misspelt key"
    DECIMALS_CUT_OFF = "decimals cut off"
    MISSING_KEY = "missing key"
    REPEATED_KEY = "repeated key"
    SINGLE_VALUE_BELONGS_HERE = "single value belongs here"
    NOTHING_WRITTEN = "nothing written"
    LIST_BELONGS_HERE = "list belongs here"
    LIST_TOO_SHORT = "list too short"
    NOT_TWO = "not two"
    # Single values.
    NAME_TOO_LONG = "name too long"
    HIDDEN_CHARACTERS = "hidden characters"
    NOT_YES_OR_NO = "not yes or no"
    NOT_A_WORD = "not a word"
    NOT_A_COLOUR = "not a colour"
    COLOUR_IS_A_REMARK = "colour is a remark"
    NOT_A_GROUP = "not a group"
    TEXT_TOO_LONG = "text too long"
    COMMA = "comma"
    DIVIDES_BY_NOTHING = "divides by nothing"
    IMPROPER = "improper"
    NOT_A_NUMBER = "not a number"
    TOO_LARGE = "too large"
    BELOW_ZERO = "below zero"
    NOT_WHOLE = "not whole"
    NO_PERCENT = "no percent"
    NOT_A_LENGTH = "not a length"
    UNKNOWN_UNIT = "unknown unit"
    PARTS_WITHOUT_UNITS = "parts without units"
    PARTS_OUT_OF_ORDER = "parts out of order"
    LENGTH_TOO_LONG = "length too long"
    LENGTH_BELOW_ZERO = "length below zero"
    MUST_BE_ABOVE_ZERO = "must be above zero"
    OUT_OF_BOUNDS = "out of bounds"
    SHARE_TOO_LARGE = "share too large"
    NOT_HALVES = "not halves"
    # What the keys of a job say of each other.
    TOO_WIDE = "too wide"
    REPEAT_TOO_SMALL = "repeat too small"
    SELVEDGES_LEAVE_NOTHING = "selvedges leave nothing"
    OFFSET_BEYOND_REPEAT = "offset beyond repeat"
    OFFSET_WITHOUT_MIRROR = "offset without mirror"
    ACROSS_NEEDS_REPEAT = "across needs repeat"
    BEYOND_REPEAT_ACROSS = "beyond repeat across"
    DROP_NEEDS_REPEAT = "drop needs repeat"
    SYMMETRY_NEEDS_REPEAT = "symmetry needs repeat"
    NO_PRINT_TO_FOLLOW = "no print to follow"
    ROW_NEEDS_REPEAT = "row needs repeat"
    FIRST_ROW_BEYOND_PIECE = "first row beyond piece"
    FLAW_ENDS_BEFORE = "flaw ends before"
    FLAW_BEYOND_PIECE = "flaw beyond piece"
    FLAW_ACROSS_ORDER = "flaw across order"
    FLAW_BEYOND_WIDTH = "flaw beyond width"
    ONLY_SIDEWAYS = "only sideways"
    TOPS_TO_A_SELVEDGE = "tops to a selvedge"
    GROUP_LIES_TWO_WAYS = "group lies two ways"
    GROUP_CONTRADICTS = "group contradicts"
    HALF_TURN_CONTRADICTS = "half-turn contradicts"
    THIRD_CONTRADICTS = "third contradicts"
    THIRD_NOT_KNOWN = "third not known"
    ROW_FIXED_TWICE = "row fixed twice"
    NOTHING_FIXES_ROW = "nothing fixes row"
    PLAIN_HAS_NO_ROWS = "plain has no rows"
    PLAIN_HAS_NO_MOTIF = "plain has no motif"
    PLACES_OF_LEFTOVERS = "places of leftovers"
    ROW_OUTSIDE_PANEL = "row outside panel"
    ONLY_PAIRS_HANG = "only pairs hang"
    CUTS_AND_ROD = "cuts and rod"
    ONLY_WHOLE_HAS_BOTH_SIDES = "only whole has both sides"
    HALF_NOT_SPLIT = "half not split"
    FACING_IS_FIXED = "facing is fixed"
    FACING_OF_SIDEWAYS = "facing of sideways"
    FACING_BY_BORDER = "facing by border"
    HALF_LEADS_MIRRORED = "half leads mirrored"
    ONLY_WITH_ROD = "only with rod"
    NAME_TWICE = "name twice"
    NO_SUCH_WINDOW = "no such window"
    LEVEL_IN_ANOTHER_CLOTH = "level in another cloth"
    LEVEL_WITH_ITSELF = "level with itself"
    LEVEL_IN_A_CIRCLE = "level in a circle"
    HEIGHT_NOT_KNOWN = "height not known"
    CLOTH_NAME_TWICE = "cloth name twice"
    NO_SUCH_CLOTH = "no cloth of this name"
    LINING_TOO_SHORT = "lining too short"
    LINING_TOO_NARROW = "lining too narrow"
    LINING_CUTS_NOT_KNOWN = "lining cuts not known"
    BORDER_CANNOT_LEAD = "border cannot lead"
    BORDER_ALONG_THE_FOOT = "border along the foot"
    BAND_WIDTH_NOT_KNOWN = "band width not known"
    NO_SUCH_FLAT_PANEL = "no such flat panel"
    BESIDE_ANOTHER_CLOTH = "beside another cloth"
    WIDER_THAN_ITS_CLOTH = "wider than its cloth"
    WIDE_NEEDS_ACROSS = "wide needs across"
    WIDE_CANNOT_BE_JOINED = "wide cannot be joined"
    CANNOT_BE_CENTRED = "cannot be centred"
    CUTS_FOLLOW_THE_FACE = "cuts follow the face"
    PINS_TOO_CLOSE = "pins too close"
    STIFFENER_BELOW_HEADING = "stiffener below heading"
    HEADING_NOT_DOUBLED = "heading not doubled"
    NOTHING_TO_DOUBLE = "nothing to double"
    # What nobody has answered yet of a print.
    DROP_NOT_KNOWN = "drop not known"
    TOP_TO_BOTTOM_NOT_KNOWN = "top-to-bottom not known"
    SIDE_TO_SIDE_NOT_KNOWN = "side-to-side not known"
    ONE_WAY_NOT_KNOWN = "one-way not known"
    # What keeps the cuts of a job from being worked out, laid or lit.
    NO_WINDOW = "no window"
    CUTS_OR_ROD = "cuts or rod"
    NO_MIRROR_WITH_DROP = "no mirror with drop"
    GLIDE_WITH_DROP = "glide with drop"
    GLIDE_NEEDS_ACROSS = "glide needs across"
    ONE_WAY_NEVER_TURNED = "one-way never turned"
    ONE_WAY_NEVER_TURNED_SIDEWAYS = "one-way never turned sideways"
    HALF_TURN_ALONE = "half-turn alone"
    NO_MIRROR_LINE = "no mirror line"
    PAIR_NEEDS_ACROSS = "pair needs across"
    TRIM_LEAVES_TOO_LITTLE = "trim leaves too little"
    ACROSS_NOT_KNOWN = "across not known"
    NO_ROOM_FOR_SEAMS = "no room for seams"
    NO_COLUMN_TWICE = "no column twice"
    TOO_MANY_CUTS = "too many cuts"
    SEAMS_LEAVE_NOTHING = "seams leave nothing"
    DROP_NEEDS_COLUMNS = "drop needs columns"
    WIDTH_NOT_KNOWN = "width not known"
    NOT_TALL_ENOUGH = "not tall enough"
    SIDEWAYS_NEEDS_ACROSS = "sideways needs across"
    PARTNER_DOES_NOT_FIT = "partner does not fit"
    ROW_NOT_REACHED = "row not reached"
    LEVEL_ROW_NOT_REACHED = "level row not reached"
    TOO_LONG_FOR_A_PIECE = "too long for a piece"
    TABLE_TOO_SHORT = "table too short"
    TOO_MANY_STOPS = "too many stops"
    TOO_MANY_FROM_SEVERAL = "too many from several"
    LIGHT_TOO_NARROW = "light too narrow"
    # What contradicts a cut that is made already.
    CUT_FROM_ANOTHER_PIECE = "cut from another piece"
    CUT_WINDOW_GONE = "cut window gone"
    CUT_IN_ONE_PLACE = "cut in one place"
    CUT_OTHER_WAY_OF_CLOTH = "cut other way of cloth"
    CUT_OTHER_WAY = "cut other way"
    CUT_OTHER_SIDES = "cut other sides"
    CUT_OTHER_TOP = "cut other top"
    CUT_OTHER_ROW = "cut other row"
    CUT_OTHER_HEIGHT = "cut other height"
    CUT_OTHER_LENGTH = "cut other length"
    CHANGED_HALF_LEADS = "changed, half leads"
    CHANGED_ROWS = "changed rows"
    # What is told of cuts that are made.
    CUT_WINDOW_RENAMED = "cut window renamed"
    CUT_PANELS_CHANGED = "cut panels changed"
    CUT_SPARE_NO_WINDOW = "cut spare, no window"
    CUT_SPARE_NOT_ASKED = "cut spare, not asked"
    CUT_TO_TRIM = "cut to trim"
    CUT_OTHER_TURNINGS = "cut other turnings"
    CUT_OFF_ROWS = "cut off rows"
    # Why a cut does not lie where it was wished.
    WISH_FOR_NO_CUT = "wish for no cut"
    WISH_FOR_NO_PIECE = "wish for no piece"
    WISH_FOUND_NO_PLACE = "wish found no place"
    WISH_FROM_ANOTHER_LOT = "wish from another lot"
    WISH_LEAVES_NO_ROOM = "wish leaves no room"
    # What would make a job fit its cloth, or need less of it.
    ROWS_MOVED = "rows moved"
    PAIR_MIRRORED = "pair mirrored"
    RUN_SIDEWAYS = "run sideways"
    SHALLOWER = "shallower"
    ANOTHER_PIECE = "another piece"
    # What was left out, or is legal but absurd: said, never refused.
    DOUBTFUL_LENGTH = "doubtful length"
    DOUBTFUL_SHARE = "doubtful share"
    DOUBTFUL_NUMBER = "doubtful number"
    LONGER_THAN_ITS_HEIGHT = "longer than its height"
    SHORT_CUT = "short cut"
    REPEAT_BEYOND_CUTS = "repeat beyond cuts"
    LEFT_OUT = "left out"
    ALLOWANCE_OF_KIND = "allowance of kind"
    MIRROR_FOLLOWS = "mirror follows"
    ASSUMED = "assumed"
    COLUMNS_TAKEN = "columns taken"
    ROWS_UNLEVEL = "rows unlevel"
    TABLE_ENDS_AT_MARK = "table ends at mark"
    LIGHT_REACHES = "light reaches"


@dataclass(frozen=True)
class Problem:
    """One thing that is wrong or to be told: ``path`` is where, ``code`` what, ``values`` what its words need.

    Lengths among the values are inches. ``code`` is a member of ``Code`` or of another closed set of the same kind.
    """

    path: Path
    code: StrEnum
    values: tuple[tuple[str, Value], ...] = ()

    def value(self, name: str) -> Value:
        """The value of this name, None where it has none."""
        return dict(self.values).get(name)


def problem(path: Path, code: StrEnum, /, **values: Value) -> Problem:
    """A problem with its values by name."""
    return Problem(path, code, tuple(values.items()))


class Refused(Exception):  # noqa: N818 - says what happened
    """Something cannot be used; ``problems`` holds one or more of what stands in the way."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems = tuple(problems)
        super().__init__("; ".join(f"{'.'.join(map(str, one.path))}: {one.code}" for one in self.problems))


class JobRefused(Refused):
    """The job cannot be cut as it is written."""
