"""The words of what no longer agrees with what is cut already, and of what cannot be cut or planned.

They are written as those of ``job_problems``.
"""

from __future__ import annotations

from collections.abc import Mapping
from enum import StrEnum

from jobs.model.problems import Code
from projector.words.job_problems import Words

_OR_SAME = "or {write:hang=same} for a pair that hangs the same way"
_NO_PAIR = "no mirrored pair can be cut from this cloth because "
_SAME = "{write:hang=same} for a pair that hangs the same way"

_MADE = "{cut} is cut already: "
_ANEW = "or, where it shall be cut anew and what is cut kept as a spare: lightchalk status JOB --cut-anew {id}"
_PUT_BACK = f"put back what was changed; {_ANEW}"
_FACING_BACK = "put {key:facing} back as it was"
MADE: Mapping[StrEnum, Words] = {
    Code.CUT_FROM_ANOTHER_PIECE: (
        "{cut} is cut from piece {piece}, which was {length:length} long",
        "write that piece with its whole length, {length:length}: what is cut from it is taken off by itself",
    ),
    Code.CUT_WINDOW_GONE: (
        "{window} is cut already and the job has no such window any more; it may be {fitting:or} now",
        "give the one that it is the name {window} again",
    ),
    Code.CUT_IN_ONE_PLACE: (
        "{cut} and {other} are cut already, both from the same place of piece {piece} as the pieces are now",
        "write the pieces as they were, in the order they had",
    ),
    Code.CUT_OTHER_WAY_OF_CLOTH: (f"{_MADE}it was cut with its length the other way of the cloth", _PUT_BACK),
    Code.CUT_OTHER_WAY: (f"{_MADE}it was cut {{made}}, the job now asks for {{wanted}}", _PUT_BACK),
    Code.CUT_OTHER_SIDES: (
        f"{_MADE}its sides were cut for other seams and hems than the job now asks for",
        _PUT_BACK,
    ),
    Code.CUT_OTHER_TOP: (f"{_MADE}its top was cut at the other end", _PUT_BACK),
    Code.CUT_OTHER_ROW: (
        f"{_MADE}its first row lies {{made:length}} below its top edge, the job now asks for {{wanted:length}}",
        _PUT_BACK,
    ),
    Code.CHANGED_HALF_LEADS: (
        f"{_MADE}its panel cannot hang on the other hand, for then its half cut would lead",
        f"{_FACING_BACK}, or {{write:half_at=leading edge}}; {_ANEW}",
    ),
    Code.CHANGED_ROWS: (
        f"{_MADE}on the other hand its rows would hang {{off:length}} off those that the job asks for, for its cuts "
        "follow each other the other way about",
        f"{_FACING_BACK}, or move the row by so much under {{key:row}}; {_ANEW}",
    ),
    Code.CUT_OTHER_HEIGHT: (
        f"{_MADE}its height or its rows were cut otherwise than the job now asks for",
        _PUT_BACK,
    ),
    Code.CUT_OTHER_LENGTH: (
        f"{_MADE}it was cut {{made:length}} long, the job now asks for {{wanted:length}}",
        _PUT_BACK,
    ),
}
CUTS: Mapping[StrEnum, Words] = {
    Code.NO_WINDOW: ("the job has no window, so there is nothing to cut", "write at least one window"),
    Code.CUTS_OR_ROD: (
        "the panels need either the number of their cuts or a rod to work it out from",
        "write {key:cuts_per_panel} or {key:rod}, one of the two",
    ),
    Code.NO_MIRROR_WITH_DROP: (
        "a print with a drop of {drop:number} of the repeat has no mirror line; only drops of 0 and 1/2 allow one",
        f"measure the drop again or correct how it mirrors, {_OR_SAME}",
    ),
    Code.GLIDE_WITH_DROP: (
        "on a half-drop print a mirror with a slide never comes alone: a quarter of a repeat away from its line there "
        "is one without a slide",
        "find that line, {mirror:mirror} and measure {mirror:offset} to it",
    ),
    Code.GLIDE_NEEDS_ACROSS: (
        "the print mirrors only with a slide of half a repeat across, and the repeat across is not known",
        f"measure it and write {{key:across}} below {{key:repeat}}, {_OR_SAME}",
    ),
    Code.ONE_WAY_NEVER_TURNED: (
        f"{_NO_PAIR}it mirrors only when a panel is turned, and one-way cloth is never turned",
        _SAME,
    ),
    Code.ONE_WAY_NEVER_TURNED_SIDEWAYS: (
        f"{_NO_PAIR}run sideways, it mirrors only when a panel is turned, and one-way cloth is never turned",
        _SAME,
    ),
    Code.HALF_TURN_ALONE: (
        f"{_NO_PAIR}the print has a half-turn but no mirror: turned by half a turn a panel looks exactly as before, "
        "not mirrored (a common mistake)",
        _SAME,
    ),
    Code.NO_MIRROR_LINE: (f"{_NO_PAIR}the print has no mirror line and its two faces differ", _SAME),
    Code.PAIR_NEEDS_ACROSS: (
        "the rows of a mirrored pair of half-drop cloth depend on the repeat across, which is not known",
        "measure it and write {key:across} below {key:repeat}",
    ),
    Code.TRIM_LEAVES_TOO_LITTLE: (
        "the edges of this pair mirror only when {lost:length} of the width is trimmed from each panel, which leaves "
        "too little",
        "{write:hang=same}, or take wider cloth",
    ),
    Code.ACROSS_NOT_KNOWN: (
        "the panel is wider than one cut, and the repeat across is not known; it is needed to plan and to cut, not to "
        "order",
        "measure it and write {key:across} below {key:repeat}, or write {key:cuts_per_panel}",
    ),
    Code.ONLY_WHOLE_HAS_BOTH_SIDES: (
        "only one panel for the whole window has a whole cut in the middle",
        "{write:half_at=return edge}, {write:half_at=leading edge}, or {write:panels=whole}",
    ),
    Code.FACING_IS_FIXED: (
        "which way this pair looks is given by where its columns lie, not by which panel is turned",
        "leave {key:facing} out, or trim other columns to the leading edges",
    ),
    Code.FACING_OF_SIDEWAYS: (
        "of cloth run sideways the left panel of a pair shows the print as it lies",
        "leave {key:facing} out, or let the cloth run up ({write:run=up})",
    ),
    Code.FACING_BY_BORDER: (
        "the border leads at the {edge} selvedge, and it does so only where the left panel shows the print as it lies",
        "leave {key:facing} out",
    ),
    Code.HALF_NOT_SPLIT: (
        "beside a whole cut in the middle {cuts:number} cuts would leave three quarters of a cut for each side",
        "write half a cut more or less in {key:cuts_per_panel}",
    ),
    Code.HALF_LEADS_MIRRORED: (
        "the leading edges of this pair lie on mirrored columns, and a half cut that leads is slit elsewhere",
        "{write:half_at=return edge}",
    ),
    Code.NO_ROOM_FOR_SEAMS: (
        "the panel is wider than one cut, and where the print runs on, seams {across:length} apart, only {left:length} "
        "of the cloth would be left outside each, less than the least seam of {least:length}",
        "measure the cloth width from edge to edge, its selvedges and the repeat across again, or write a smaller "
        "{key:least_seam} below {key:allowances}",
    ),
    Code.NO_COLUMN_TWICE: (
        "the print comes again only {across:length} across and is {printed:length} wide, so no place of it lies at "
        "both selvedges, and with a drop of {drop:number} it is not known how the rows of two cuts meet",
        "lay two lengths edge to edge: write the width of the print as {key:across} below {key:repeat}, and as "
        "{key:drop} how much lower the second must lie",
    ),
    Code.TOO_MANY_CUTS: (
        "the panel would take {cuts:number} cuts, more than {most}",
        "look for a slip of the finger in rod, fullness or cloth width",
    ),
    Code.SEAMS_LEAVE_NOTHING: (
        "two seams leave nothing of the cloth width",
        "correct the seam allowance, the selvedge or the cloth width",
    ),
    Code.DROP_NEEDS_COLUMNS: (
        "cuts of cloth with a drop can only be joined on whole columns, and the repeat across is not known; it is "
        "needed to plan and to cut, not to order",
        "measure it and write {key:across} below {key:repeat}, or write one cut per panel",
    ),
    Code.WIDTH_NOT_KNOWN: (
        "cloth run sideways is cut to the flat width of a panel, and only the number of cuts is given",
        "write {key:rod} and {key:fullness} instead of {key:cuts_per_panel}; for a flat width, {key:fullness} of 1",
    ),
    Code.NOT_TALL_ENOUGH: (
        "cloth run sideways is not tall enough here: the panel takes {takes:length} with heading and hem, and "
        "{lies:length} lie between the selvedges",
        "{write:run=up}, take cloth at least {missing:length} wider, or allow that much less for heading and hem",
    ),
    Code.SIDEWAYS_NEEDS_ACROSS: (
        "where cloth is run sideways its rows lie a repeat across apart, and that is not known",
        "measure it and write {key:across} below {key:repeat}",
    ),
    Code.PARTNER_DOES_NOT_FIT: (
        "the mirror image of the left panel lies elsewhere across the cloth, and with {spare:length} of height to "
        "spare the right panel does not fit there ({pairing})",
        "{write:hang=same}, or allow less for heading and hem",
    ),
    Code.ROW_NOT_REACHED: (
        "run sideways, the rows lie where the print lies across the cloth; with {spare:length} of height to spare a "
        "row cannot come to hang {wanted:length} below the finished top",
        "the nearest it can hang is {best:length} below the finished top: write {key:row_value}, leave "
        "the row out to take the print as it lies, or take wider cloth",
    ),
    Code.LEVEL_ROW_NOT_REACHED: (
        "run sideways, the rows lie where the print lies across the cloth; with {spare:length} of height to spare a "
        "row cannot come to hang {wanted:length} below the finished top",
        "the nearest it can hang is {best:length} below the finished top: leave the row out of both windows, or change "
        "the heading of the whole job by the difference",
    ),
    Code.TOO_LONG_FOR_A_PIECE: (
        "the cuts of one window must come from one piece, and those of {names:and} take {takes:length}; the cloth is "
        "sold no longer than {most:length}",
        "make two windows of it, each with its own name, or find a longer piece",
    ),
    Code.TABLE_TOO_SHORT: (
        "a cut of {cut:length} must be pulled along the table of {table:length}, which is shorter than a pull of "
        "{pull:length}",
        "use a longer table, at least one repeat long",
    ),
    Code.TOO_MANY_STOPS: (
        "on a table of {table:length} the cuts take {stops:,} stops or more; the most that are planned is {most:,}",
        "use a longer table, or make several jobs of it",
    ),
    Code.TOO_MANY_FROM_SEVERAL: (
        "{cuts:,} cuts from {pieces:,} pieces; the most that are planned is {most:,}",
        "make several jobs of it, each with pieces of its own",
    ),
    Code.LIGHT_TOO_NARROW: (
        "the light does not reach across even half the width of the cloth, counted from the near edge (y = 0)",
        "mount the projector higher, or calibrate with the origin nearer to you",
    ),
}
