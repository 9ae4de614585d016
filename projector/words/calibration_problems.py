"""The words of why marks, points and tape readings are refused: what is wrong, and what to do instead."""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from calibration.problems import Code

_SET_AGAIN = "check the inches and the pixel of each, or set it again"

STANDING = (
    "from the right end",
    "from the far right corner",
    "from the far side",
    "from the far left corner",
    "from the left end",
    "from the near left corner",
    "from the near side",
    "from the near right corner",
)
"""Where to stand, from the table's right end on, counter-clockwise."""

CALIBRATION: Mapping[StrEnum, tuple[str, str]] = {
    Code.TOO_FEW_MARKS: ("{count:there are marks}", "set at least four, spread to the corners of the lit area"),
    Code.TOO_MANY_MARKS: ("there are {count} marks", "keep at most {most}"),
    Code.MARK_IS_NO_PLACE: (
        "{marks:marks} has a place that is not a usable number",
        "write its inches along and across the table, and its pixel right and down",
    ),
    Code.REPEATED_ON_TABLE: ("{marks:marks} are at the same place on the table", "move {marks:all but the first} out"),
    Code.REPEATED_IN_FRAME: ("{marks:marks} are at the same place in the frame", "move {marks:all but the first} out"),
    Code.IN_LINE_ON_TABLE: (
        "{marks:marks} stand in one line on the table",
        "move one of them well off the line, best to a corner of the lit area",
    ),
    Code.IN_LINE_IN_FRAME: (
        "{marks:marks} stand in one line in the frame",
        "move one of them well off the line, best to a corner of the lit area",
    ),
    Code.CROSSED_ORDER: (
        "the pixels of {marks:marks} are in another order than the marks on the table",
        "if they were swapped, put them right: {order:swaps}",
    ),
    Code.MAP_FOLDS: (
        "no flat table can be lit so: the map would fold at {marks:marks}, beyond its horizon",
        _SET_AGAIN,
    ),
    Code.BEYOND_HORIZON: (
        "{marks:marks} would lie beyond the horizon of the map",
        "check inches and pixel of each, or set it again",
    ),
    Code.CONTRADICT: (
        "the marks contradict each other{off_in:by}, which no careful work does",
        "check a mark: the inches and the pixel of each, or set it again",
    ),
    Code.ORIGIN_ON_HORIZON: ("the origin lies on the horizon of the map", "measure from a point that is lit"),
    Code.NO_POINT: ("no motif point is confirmed", "confirm at least one"),
    Code.TOO_MANY_POINTS: ("{count} points are too many", "a dozen is plenty; {most} are taken at most"),
    Code.POINT_IS_NO_PLACE: ("point {number} lies nowhere on a table", "mark it again"),
    Code.TWO_MOTIFS_IN_ONE_PLACE: (
        "points {one} and {other} lie at one place but are marked as two motif points",
        "leave out the one that is counted wrong",
    ),
    Code.MIRRORED_POINTS: (
        "these points lie as in a mirror",
        "count rows along from the piece's first end and columns away from you, and give x along the table first",
    ),
    Code.NO_SUCH_CLOTH: ("no cloth could lie as these points do", "mark them again, one motif after another"),
    Code.BEYOND_A_TAPE: (
        "a taped length is more than 0 and at most 30 ft (9 m)",
        "correct that reading or leave it out",
    ),
    Code.TOO_DARK: ("it is too dark", "turn a lamp on beside the table, or let the camera expose for the light"),
    Code.TOO_BRIGHT: ("it is too bright: white has run into the dark", "darken the room, or expose less"),
    Code.MOVED_OR_BLURRED: (
        "the camera moved or was out of focus",
        "hold it with both hands, elbows in, and take it again",
    ),
    Code.PATTERN_NOT_SEEN: (
        "the lit pattern is not to be seen well enough: {seen} of its {of} corners",
        "light the pattern of this projector, clear the table and have all of it in the picture",
    ),
    Code.TABLE_CUT_OFF: ("a part of the light is outside the picture", "step back until all of it is inside"),
    Code.TOO_FAR_AWAY: ("the pattern is small in it", "go nearer until the light fills the picture"),
    Code.GLARE: ("a lamp or a window glares on the table", "turn it off, or stand elsewhere"),
    Code.PATTERN_HIDDEN: (
        "a part of the pattern is hidden: {seen} of its {of} corners are seen",
        "take away what lies or stands there, also your own shadow",
    ),
    Code.SAME_PHOTOGRAPH: ("it is photograph {other} once more", "give another, from another place"),
    Code.OTHER_LIGHT: (
        "it does not go with the others: another table, or light or table have moved",
        "leave it out, or take all of them again with nothing moving in between",
    ),
    Code.HARDLY_TOGETHER: (
        "they hardly go together, as if the light, the table or the zoom had changed a little while they were taken, "
        "or one is unsharp",
        "take them again with nothing moving in between, and look whether the calibration says the same",
    ),
    Code.TOO_FEW_PHOTOGRAPHS: (
        "{count:there are photographs}, and fewer than three never tell the shape of the light",
        "take five from around the table, some upright, some across",
    ),
    Code.SHAPE_OPEN: (
        "the photographs leave the light open{error_in:by}",
        "take one more {side:standing}, the camera held {high:high}",
    ),
    Code.LENGTHS_DIFFER: (
        "one length was read as {least_in:read} and as {most_in:read}",
        "lay the tape from cross to cross once more",
    ),
    Code.PRINT_NOT_FOUND: (
        "the print of the job is not to be found on the cloth in it",
        "look whether this is the cloth of the job, and clear it; else lay by touching motifs",
    ),
    Code.NO_PICTURE: (
        "the job has no picture of its print to look for",
        "photograph the cloth with measure --into JOB, or lay by touching motifs",
    ),
    Code.LIES_TURNED: (
        "the cloth lies the other way about: its print stands on its head",
        "turn it by half a turn, so that its first end lies at your left",
    ),
    Code.OTHER_WIDTH: (
        "the cloth on the table is {found_in:taped} wide, that of the job {width_in:taped}",
        "look whether it is the cloth of the job and lies flat, or measure its width and put that into the job",
    ),
    Code.OTHER_SCALE: (
        "the print repeats after {found_in:taped} on this table, after {along_in:taped} in the job, and is out across "
        "the cloth the same way",
        "measure a repeat with a tape: if it is as in the job, the length of the calibration was read or typed wrong, "
        "so calibrate again; else correct the job",
    ),
    Code.NO_SELVEDGE: (
        "no selvedge is to be seen in it, and without one nothing tells this print's columns apart, which lie between "
        "each other's rows",
        "let a selvedge and a hand's breadth of bare table beside it be in the light and in the photograph",
    ),
    Code.CUT_LEAVES_CLOTH: (
        "the cut would leave the cloth by {past_in:taped}",
        "look which row lies where, pull the cloth on, or correct the length of the piece in the job",
    ),
    Code.OTHER_SIZE: (
        "it has not the size of the photograph with the pattern",
        "take both with one camera, held the same way, at one zoom",
    ),
    Code.PATTERN_LIT: (
        "the pattern is lit in it",
        "take it in white light or room light alone, from the place of the first",
    ),
    Code.OTHER_VIEW: (
        "it does not show what the photograph with the pattern shows, or not from nearly the same place",
        "take it again from where the first was taken, nothing moved in between",
    ),
    Code.NOT_SETTLED: (
        "the photograph with the pattern bears out another place of the print than it does",
        "take both again from one place, more of table and cloth's edges in the picture; else lay by touching motifs",
    ),
    Code.LIES_FACE_DOWN: ("the cloth lies on its face", "turn it over, its first end at your left"),
    Code.LIES_FACE_DOWN_TURNED: (
        "the cloth lies on its face, and the other way about",
        "turn it over from end to end, so that its first end lies at your left",
    ),
    Code.PANEL_FACE_DOWN: ("the panel lies on its face", "turn it over, its printed side up"),
    Code.PANEL_MAY_BE_TURNED: (
        "the panel seems to lie the other way about, and its print looks the same so",
        "lay it as it lay when it was cut, its top at the same end of the table",
    ),
    Code.OTHER_LENGTH: (
        "the panel on the table is {found_in:taped} long, this cut {length_in:taped}",
        "look whether it is the panel of this cut, and say which one lies there",
    ),
    Code.OTHER_PANEL_WIDTH: (
        "the panel on the table is {found_in:taped} wide, this cut {width_in:taped}",
        "look whether it is the panel of this cut, and say which one lies there",
    ),
    Code.NO_END_SEEN: (
        "neither end of the panel is to be seen in it",
        "lay the panel so that 2 in (5 cm) of bare table show in the light beyond one of its cut ends, "
        "and no other cloth",
    ),
    Code.SIDES_NOT_SEEN: (
        "the long sides of the panel are not to be seen in it",
        "lay the panel so that 2 in (5 cm) of bare table show in the light beside it, and no other cloth",
    ),
    Code.UNTESTED: (
        "{count:there are photographs}, which nothing tests: one of another light would not show",
        "take five",
    ),
    Code.READ_ONCE: (
        "the tape was read once: a slip in reading or typing it would not show",
        "lay it once more and give that reading too",
    ),
    Code.UNLIKELY_HEIGHT: (
        "with this length a camera was {height_in:taped} above the table",
        "look at the length again: a digit, or centimetres for inches",
    ),
    Code.LENGTH_BEFORE: (
        "the light has the shape it had when it was calibrated last, and then {then_in:read} lay between the crosses, "
        "not {now_in:read}",
        "lay the tape once more; if the projector hangs higher or lower than it did, or was zoomed, the new one may be "
        "right",
    ),
    Code.LENS_MOVED: (
        "the light has another shape than when the place of the lens was measured, so that place is left out",
        "measure it again if you cut thick cloth",
    ),
}
