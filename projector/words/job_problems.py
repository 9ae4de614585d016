"""The words of what is wrong in a file and in a job as it is written: what is wrong, and what to write instead.

Those of what is cut already and of what cannot be cut stand in ``cut_problems``.

``{name:spec}`` is a value of the problem: ``length`` shows inches in the unit of the job, ``number`` a bare number,
``quoted`` a name as it was written, ``or`` and ``and`` join a list. ``{key:NAME}`` names a key of the job and
``{write:NAME=VALUE}`` asks for one, each as the reader sees it: a word of the file, or a field of the form.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from jobs.model.problems import Code

Words = tuple[str, str]

BELONGS = {
    "length": "a length such as 84, 11 1/4, 28.6 cm or 6 yd",
    "number": "a number such as 1/2 or 2.5",
    "count": "a whole number such as 3",
    "share": "a share such as 3 %",
    "colour": 'a colour such as "#8d8f92"',
    "name": "a few words",
    "word": "one of the words known here",
    "yes or no": "yes or no",
    "group": "the name of a plane group",
    "pixels": "a number of pixels such as 212.5",
    "key": "the name of a key such as PageDown",
}
"""What is asked for where a value of this kind belongs."""

FILES: Mapping[StrEnum, Words] = {
    Code.NO_SUCH_FILE: ("there is no such file", "check the name and the folder"),
    Code.NOT_A_FILE: ("this is not a file", "give the name of a text file"),
    Code.CANNOT_BE_READ: ("it cannot be read ({reason:reason})", "check its name and who may read it"),
    Code.FILE_TOO_LARGE: ("the file is far too large (over 1 MB)", "give a file of this program, a few pages at most"),
    Code.OTHER_ENCODING: ("this is text in another encoding", "save it as UTF-8"),
    Code.NOT_UTF8: ("a character here is not UTF-8 text", "save the file as plain text in UTF-8"),
    Code.CONTROL_CHARACTER: (
        "a control character (code {number:hex}) stands here",
        "delete it; only plain text is read",
    ),
    Code.LINE_TOO_LONG: ("this line is far too long", "break it into lines of one key each"),
    Code.EMPTY_FILE: ("the file is empty", "write the keys of the file, one a line"),
    Code.NOT_YAML: ("this is not YAML text", "look for a missing space after a colon, quote, bracket or indent"),
    Code.LAYOUT_BROKEN: (
        "the layout breaks here ({detail:plain})",
        "look at this line and the one above for a missing space after a colon, quote, bracket or indent",
    ),
    Code.TOO_DEEP: ("brackets or lists stand too deep in each other", "close what is open"),
    Code.SECOND_DOCUMENT: ("a second document begins here", "keep one to a file, without ---"),
    Code.TOO_MANY_VALUES: ("the file holds far too many values", "split the job into several files"),
    Code.TOO_MANY_PROBLEMS: ("too many problems", "mend these first"),
    Code.REFERENCE: ("a reference (*) stands here", "write the value out in full"),
    Code.ANCHOR: ("an anchor (&) stands here", "leave it out"),
    Code.TAG: ("a tag (!) stands here", "leave it out"),
    Code.KEY_NOT_SINGLE: ("a key must be a single word", "write it as key: value"),
    Code.KEYS_BELONG_HERE: ("keys with values belong here", "write them as key: value"),
    Code.UNKNOWN_KEY: ("this key is not known", "leave it out ({known:known})"),
    Code.MISSPELT_KEY: ("this key is not known", "write {near} if that is meant"),
    Code.DECIMALS_CUT_OFF: ("this key is not known", "write decimals with a point, such as 28.6"),
    Code.MISSING_KEY: ("this key is missing", "add it and its value"),
    Code.REPEATED_KEY: ("this key stands here a second time (first in line {first})", "keep one of the two"),
    Code.SINGLE_VALUE_BELONGS_HERE: ("a single value belongs here", "write {kind:belongs}"),
    Code.NOTHING_WRITTEN: ("nothing is written here", "write {kind:belongs} or leave the key out"),
    Code.LIST_BELONGS_HERE: (
        "a list belongs here",
        "write each {thing} on its own line after a dash, or in [ ]",
    ),
    Code.LIST_TOO_SHORT: ("the list has {count} in it", "give at least {least}"),
    Code.NOT_TWO: ("two values belong here, not {count}", "write [10, 14]"),
    Code.NAME_TOO_LONG: ("this name is too long", "use at most {most} characters"),
    Code.HIDDEN_CHARACTERS: ("{text:quoted} holds hidden characters", "type it anew"),
    Code.NOT_YES_OR_NO: ("{text:quoted} is neither yes nor no", "write yes or no"),
    Code.NOT_A_WORD: ("{text:quoted} is not one of the words known here", "{near:meant}{words:or}"),
    Code.NOT_A_COLOUR: (
        "{text:quoted} is not a colour",
        'write # and six digits 0-9 a-f in quotes, such as "#8d8f92"',
    ),
    Code.COLOUR_IS_A_REMARK: ("no colour is read here", 'put it in quotes, such as "#8d8f92"'),
    Code.TEXT_TOO_LONG: ("{text:quoted} is too long for a {kind}", "write {kind:belongs}"),
    Code.COMMA: ("{text:quoted} has a comma in it", "write {better:better}"),
    Code.DIVIDES_BY_NOTHING: (
        "{over}/0 divides by nothing",
        "write the fraction with a number under the line, such as 1/2",
    ),
    Code.IMPROPER: ("{text} has a fraction of one or more in it", "write {meant:number}"),
    Code.NOT_A_NUMBER: ("{text:quoted} is not a number", "write a number such as 1/2 or 2.5"),
    Code.TOO_LARGE: ("{text:quoted} is too large", "look for a slip of the finger"),
    Code.BELOW_ZERO: ("{text:quoted} is below zero", "write a number of zero or more"),
    Code.NOT_WHOLE: ("{text:quoted} is not a whole number", "write a whole number such as 3"),
    Code.NO_PERCENT: ("{text:quoted} has no percent sign", "write {bare} % if that is what is meant"),
    Code.NOT_A_LENGTH: ("{text:quoted} is not a length", "write a length such as 84, 11 1/4, 28.6 cm or 6 yd"),
    Code.UNKNOWN_UNIT: (
        "{text:quoted} is not a length in a known unit",
        "write a number, then in, ft, yd, mm, cm or m",
    ),
    Code.PARTS_WITHOUT_UNITS: ("{text:quoted} is not a length", "give each part its unit, such as 5 ft 6 in"),
    Code.PARTS_OUT_OF_ORDER: ("{text:quoted} has its parts out of order", "write the larger unit first: 5 ft 6 in"),
    Code.LENGTH_TOO_LONG: ("{text:quoted} is longer than 10,000 yards", "look for a slip of the finger"),
    Code.LENGTH_BELOW_ZERO: ("{text:quoted} is below zero", "write a length of zero or more"),
    Code.MUST_BE_ABOVE_ZERO: ("this length must be above zero", "write the length that was measured"),
    Code.OUT_OF_BOUNDS: (
        "{value:number} is out of bounds here",
        "write a number from {least:number} to {below:below}{most:number}",
    ),
}
JOBS: Mapping[StrEnum, Words] = {
    Code.NOT_A_GROUP: (
        "{text:quoted} is not a plane group",
        "write one of {groups:or}, or say {key:top_to_bottom}, {key:side_to_side} and {key:half_turn} instead",
    ),
    Code.SHARE_TOO_LARGE: ("cloth that loses half its length is not cut", "write it such as 3 %"),
    Code.NOT_HALVES: ("only whole and half cuts are joined", "write 1, 1 1/2, 2 and so on"),
    Code.TOO_WIDE: ("no cloth is {width:length} wide", "write at most {most:length}, with its unit if that is another"),
    Code.DROP_NOT_KNOWN: (
        "how far the next column of the print sits lower is not known",
        "follow one motif straight across the cloth and {write:drop=0} for level, {write:drop=1/2} for halfway between",
    ),
    Code.TOP_TO_BOTTOM_NOT_KNOWN: (
        "whether the print mirrors from top to bottom is not known",
        "look at the cloth and {write:top_to_bottom=mirror}, `glide` or `none`",
    ),
    Code.SIDE_TO_SIDE_NOT_KNOWN: (
        "whether the print mirrors from side to side is not known",
        "look at the cloth and {write:side_to_side=mirror}, `glide` or `none`",
    ),
    Code.ONE_WAY_NOT_KNOWN: (
        "whether the cloth must hang one way up is not known",
        "stroke it and look at its motifs, and {write:one_way=yes} or {write:one_way=no}",
    ),
    Code.REPEAT_TOO_SMALL: (
        "a repeat under {least:length} is too small to be matched",
        "leave the repeat out and treat the cloth as plain",
    ),
    Code.SELVEDGES_LEAVE_NOTHING: (
        "selvedges of {near:length} and {far:length} leave nothing of the cloth width",
        "write the unprinted strip of one side",
    ),
    Code.OFFSET_BEYOND_REPEAT: (
        "{key:mirror_offset} is not less than the repeat, {repeat:length}",
        "measure from a row down to the nearest mirror line",
    ),
    Code.OFFSET_WITHOUT_MIRROR: (
        "there is no mirror line of that direction to be offset from",
        "leave it out, or {mirror:mirror}",
    ),
    Code.ACROSS_NEEDS_REPEAT: (
        "a place across the print needs the repeat across",
        "{write:across} or leave this out",
    ),
    Code.BEYOND_REPEAT_ACROSS: (
        "this is not less than the repeat across, {repeat:length}",
        "measure to the nearest one",
    ),
    Code.DROP_NEEDS_REPEAT: ("a drop needs a repeat", "{write:repeat} or leave the drop out"),
    Code.SYMMETRY_NEEDS_REPEAT: ("the symmetry of a print needs a repeat", "{write:repeat} or leave it out"),
    Code.NO_PRINT_TO_FOLLOW: ("plain cloth has no print to follow", "{write:follow=selvedge} or leave it out"),
    Code.ROW_NEEDS_REPEAT: ("a first row needs a repeat", "{write:repeat} or leave {key:first_row} out"),
    Code.FIRST_ROW_BEYOND_PIECE: (
        "the first row lies beyond the end of the piece",
        "measure it from the first end",
    ),
    Code.FLAW_ENDS_BEFORE: (
        "the flaw ends before it begins",
        "write the nearer end under {key:from}, the farther under {key:to}",
    ),
    Code.FLAW_BEYOND_PIECE: (
        "the flaw reaches beyond the piece, which is {length:length} long",
        "measure flaws from the first end of the piece",
    ),
    Code.FLAW_ACROSS_ORDER: ("the second number is not the larger", "measure both from the near selvedge"),
    Code.FLAW_BEYOND_WIDTH: ("the flaw reaches beyond the cloth width", "measure from the near selvedge"),
    Code.ONLY_SIDEWAYS: (
        "what is lost across counts only where the height of the panels lies across the cloth",
        "leave it out, or {write:run=sideways} as well",
    ),
    Code.TOPS_TO_A_SELVEDGE: (
        "where the cloth is run sideways the tops of the motifs point to a selvedge, not to an end",
        "leave {key:top_towards} out, and lay the cloth with the tops at the far selvedge",
    ),
    Code.GROUP_LIES_TWO_WAYS: (
        "{group} can lie on the cloth in two ways",
        "say which, as the cloth shows: {key:top_to_bottom} is {ways:or}",
    ),
    Code.GROUP_CONTRADICTS: (
        "{group} contradicts the other keys of the print",
        "{group:settings}",
    ),
    Code.HALF_TURN_CONTRADICTS: (
        "no half-turn contradicts the mirrors: two of mirror, mirror and half-turn always bring the third with them",
        "{write:half_turn=yes}",
    ),
    Code.THIRD_CONTRADICTS: (
        "this contradicts the other two: two of mirror, mirror and half-turn always bring the third with them",
        "write mirror or glide",
    ),
    Code.THIRD_NOT_KNOWN: (
        "{key:key_value} is left out, and it can be mirror or glide: two of mirror, mirror and half-turn always bring "
        "the third with them",
        "look at the cloth and say which",
    ),
    Code.ROW_FIXED_TWICE: ("{keys:lines} fix the row twice", "keep one of them"),
    Code.NOTHING_FIXES_ROW: (
        "nothing fixes the row",
        "give it {key:below_top}, {key:above_foot} or {key:level_with}",
    ),
    Code.PLAIN_HAS_NO_ROWS: ("plain cloth has no rows", "give the cloth its repeat, or leave the row out"),
    Code.PLACES_OF_LEFTOVERS: (
        "what is not ordered lies wherever there is room on what is left",
        "leave {key:places} out, or {write:order=yes}",
    ),
    Code.PLAIN_HAS_NO_MOTIF: ("plain cloth has no motif to centre", "leave it out"),
    Code.ROW_OUTSIDE_PANEL: ("the row lies outside the finished panel", "write less than the finished length"),
    Code.ONLY_PAIRS_HANG: (
        "only a pair hangs mirrored or same",
        "leave {key:hang} out, or {write:panels=pair}",
    ),
    Code.CUTS_AND_ROD: (
        "{key:cuts_per_panel} is given as well",
        "keep one: with {key:rod} the cuts are worked out",
    ),
    Code.ONLY_WITH_ROD: ("this is of use only together with {key:rod}", "add {key:rod}, or leave it out"),
    Code.NAME_TWICE: (
        "{name:quoted} is the name of another window{line:line} as well",
        "give each window a name of its own",
    ),
    Code.NO_SUCH_WINDOW: ("there is no window named {name:quoted}", "write one of {near:names}"),
    Code.LEVEL_IN_ANOTHER_CLOTH: (
        "{name:quoted} is cut from another cloth, whose rows are others",
        "name a window of the same cloth, or use {key:below_top}",
    ),
    Code.LEVEL_WITH_ITSELF: ("the window is level with itself", "name another window, or use {key:below_top}"),
    Code.LEVEL_IN_A_CIRCLE: (
        "its rows are level with {name:quoted}{line:line}, whose rows hang on those of this window again",
        "give one of them {key:below_top} or {key:above_foot}",
    ),
    Code.HEIGHT_NOT_KNOWN: (
        "the height of {name:quoted}{line:line} above the floor is not known",
        "add {key:top_height} to it",
    ),
    Code.CLOTH_NAME_TWICE: (
        "{name:quoted} is the name of another cloth{line:line} as well",
        "give each cloth a name of its own, so that windows can name theirs",
    ),
    Code.NO_SUCH_CLOTH: ("there is no cloth named {name:quoted}", "write one of {near:names}"),
    Code.LINING_TOO_SHORT: (
        "nothing is left of it: the face is {length:length} long",
        "write by how much it is shorter than the face",
    ),
    Code.LINING_TOO_NARROW: (
        "nothing is left of it: a flat panel of the face is {flat:length} wide",
        "write by how much it is narrower than that",
    ),
    Code.LINING_CUTS_NOT_KNOWN: (
        "the width of the face is told in cuts, and {cloth:quoted} is not as wide as its cloth",
        "write {key:cuts_per_panel} here too, or give the window its {key:rod}",
    ),
    Code.BORDER_CANNOT_LEAD: (
        "the border along the {edge} selvedge cannot be at every leading edge: a panel would have to be "
        "turned, {one_way:no turning}",
        "{write:border_leads=one}, or leave the border out where it need not lead",
    ),
    Code.BORDER_ALONG_THE_FOOT: (
        "run sideways, the border lies along the top or the foot, and never at a leading edge",
        "leave {key:border} out, or {write:run=up}",
    ),
    Code.BAND_WIDTH_NOT_KNOWN: (
        "the width of the panels is told in cuts, so it is not known how long a band at the {edge} is",
        "give the window its {key:rod}",
    ),
    Code.NO_SUCH_FLAT_PANEL: (
        "no flat panel named {name:quoted} stands before this one",
        "write the one to the left of it first, and its name here",
    ),
    Code.BESIDE_ANOTHER_CLOTH: (
        "{name:quoted} is cut from another cloth, whose print does not go on here",
        "leave it out, or give both the same cloth",
    ),
    Code.WIDER_THAN_ITS_CLOTH: (
        "with its turnings it is {needed:length} wide, and {lies:length} lie between the selvedges",
        "make it narrower, or take wider cloth",
    ),
    Code.WIDE_NEEDS_ACROSS: (
        "with its turnings it is {needed:length} wide and {lies:length} lie between the selvedges, so widths of cloth "
        "are joined; the repeat across, by which they are matched, is not known; it is needed to plan and to cut, not "
        "to order",
        "measure it and write {key:across} below {key:repeat}",
    ),
    Code.WIDE_CANNOT_BE_JOINED: (
        "with its turnings it is {needed:length} wide and {lies:length} lie between the selvedges, so widths of cloth "
        "would be joined; where a seam would lie the print does not come again on the cloth",
        "measure the repeat across and the selvedges again, make it narrower, or take other cloth",
    ),
    Code.CANNOT_BE_CENTRED: (
        "with its turnings it is {needed:length} wide, and nowhere in the {lies:length} between the selvedges has it "
        "what it shall have in its middle",
        "choose something else for its middle, or wherever there is room",
    ),
    Code.CUTS_FOLLOW_THE_FACE: (
        "the face is worked out from its {key:rod}, and so are these cuts",
        "leave it out",
    ),
    Code.PINS_TOO_CLOSE: ("pins closer than {least:length} cannot be set", "write how far apart they may be"),
    Code.STIFFENER_BELOW_HEADING: (
        "the heading allowance is {heading:length}: the stiffener would lie below it",
        "write how far below the cut edge it is laid, less than the heading",
    ),
    Code.HEADING_NOT_DOUBLED: ("a heading is not marked as turned twice here", "write hem or side hem"),
    Code.NOTHING_TO_DOUBLE: ("nothing is allowed for a {hem}", "add it to the allowances"),
}
_DOUBTFUL = "look for a slip of the finger or of the unit"
DOUBTS: Mapping[StrEnum, Words] = {
    Code.DOUBTFUL_LENGTH: ("{value:length} is unusually {much:much}, {much:at} {limit:length} is common", _DOUBTFUL),
    Code.DOUBTFUL_SHARE: ("{value:share} is unusually {much:much}, {much:at} {limit:share} is common", _DOUBTFUL),
    Code.DOUBTFUL_NUMBER: ("{value:number} is unusually {much:much}, {much:at} {limit:number} is common", _DOUBTFUL),
    Code.LONGER_THAN_ITS_HEIGHT: (
        "the panel is {over:length} longer than its top is high: it would lie on the floor",
        "measure both again, unless it shall",
    ),
    Code.SHORT_CUT: (
        "with heading and hem a cut is only {length:length} long",
        _DOUBTFUL,
    ),
    Code.REPEAT_BEYOND_CUTS: (
        "the repeat of {repeat:length} is longer than every cut, so that no panel shows the whole print",
        _DOUBTFUL,
    ),
}
