"""Which keys of a job are asked for and in which order: that in which a person measures them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from functools import partial

from jobs.cutting.resolve import resolve
from jobs.cutting.sideways import spare_height
from jobs.model.choices import Hang
from jobs.model.lengths import show_length
from jobs.model.problems import JobRefused, Path
from jobs.ordering import still_possible
from jobs.prints.pairs import second_panel
from projector.questions.answers import Answers, job_of
from projector.questions.pair_picture import both_looks
from projector.questions.question import (
    ANOTHER,
    ANY_FLAW,
    BOUGHT,
    HOW,
    LAST,
    PATTERNED,
    RULE,
    TABLE_KNOWN,
    WHERE_A_ROW_STANDS,
    Question,
    as_before,
    asked,
    fixed,
    patterned,
    sideways,
)
from projector.questions.typed import YES_NO, Unfit
from projector.words.wording import words

SIDEWAYS_FROM = Fraction(84)
"""Inches; narrower cloth is not tall enough for a long curtain, so nobody is asked about it."""


def _known_where_rows_run_along(answers: Answers, path: Path) -> None:
    if sideways(answers) and not answers.given(path):
        raise Unfit("run sideways, the rows hang this far apart, so it must be known", "measure it on the cloth")


def _no_mirror(answers: Answers, group: Path) -> bool:
    return all(answers.text(("cloth", "print", key)) == "no" for key in ("top_to_bottom", "side_to_side"))


def _no_of_plain_cloth(answers: Answers, path: Path) -> str:
    return "" if patterned(answers) else "no"


def _yes(path: Path) -> partial[bool]:
    return partial(lambda answers, group, path: answers.yes(path), path=path)


OPENING = (asked("units", heading="The job"), asked("job"))
CLOTH = (
    asked("cloth.name", heading="The cloth"),
    asked("cloth.width"),
    asked("cloth.selvedge"),
    Question(
        PATTERNED,
        "Is it patterned, so that the print must meet from panel to panel?",
        "No for plain cloth, and for a print so small or wild that nothing needs to meet.",
        "With yes you are asked for the repeat, and every cut is placed so that its rows hang level with the others.",
        YES_NO,
        fixed("yes"),
    ),
    asked("cloth.run", when=lambda answers, group: answers.length(("cloth", "width")) >= SIDEWAYS_FROM),
    asked("cloth.repeat.along", heading="The print"),
    asked("cloth.repeat.across", check=_known_where_rows_run_along),
    asked("cloth.drop"),
    asked("cloth.print.top_to_bottom"),
    asked("cloth.print.mirror_offset"),
    asked("cloth.print.side_to_side"),
    asked("cloth.print.half_turn", when=_no_mirror),
    asked("cloth.print.one_way", default=_no_of_plain_cloth),
    asked("cloth.shrinkage"),
    asked("cloth.colour"),
    asked("cloth.sold_by"),
    Question(
        BOUGHT,
        "Have you got the cloth already?",
        "Then its pieces and its flaws are measured now and the cuts are laid on what is there.",
        "With no the program says how much to buy. Add the pieces later, when they have come.",
        YES_NO,
        fixed("no"),
    ),
    asked(
        "cloth.print.top_towards",
        heading="The pieces",
        when=lambda answers, group: answers.yes(BOUGHT) and patterned(answers) and not sideways(answers),
    ),
)

PIECE = (asked("length", "cloth.pieces"), asked("first_row", "cloth.pieces"))
MORE_PIECES = Question(
    (ANOTHER,),
    "Is there another piece of this cloth?",
    "All cuts of a pair come from one piece.",
    "Pieces of other dye lots differ in colour: do not mix them in one window.",
    YES_NO,
    fixed("no"),
)
FLAW = (
    asked("from", "cloth.pieces.flaws"),
    asked("to", "cloth.pieces.flaws"),
    Question(
        ("across", 0),
        "How far from the near selvedge does it begin? skip for the whole width.",
        "Near selvedge: the one before you.",
        "A narrow panel may pass beside a flaw.",
        default=fixed("skip"),
        skip=True,
    ),
    Question(
        ("across", 1),
        "And how far from the near selvedge does it end?",
        "Near selvedge: the one before you.",
        "Measure generously.",
        when=lambda answers, group: answers.given((*group, "across", 0)),
    ),
    asked("note", "cloth.pieces.flaws"),
)
MORE_FLAWS = Question(
    (ANY_FLAW,),
    "Is there a flaw in it that must be kept out?",
    "Flaw: a slub, stain, hole or join. The cuts are placed around it.",
    "Pull the whole piece over the table once, in good light, before the first cut.",
    YES_NO,
    fixed("no"),
)

ALLOWANCES = (
    asked("allowances.heading", heading="Allowances: what is added to the finished sizes"),
    *(asked(f"allowances.{name}") for name in ("hem", "side_hem", "seam", "squaring")),
)

TABLE = (
    Question(
        TABLE_KNOWN,
        "Do you know the size of the cutting table?",
        "Long cuts are moved along a short table in several pulls; its size tells how many.",
        "A calibrated projector knows its own lit area; this size serves before there is one.",
        YES_NO,
        fixed("yes"),
        heading="The table",
    ),
    asked("table.length", when=_yes(TABLE_KNOWN)),
    asked("table.width", when=_yes(TABLE_KNOWN)),
)


def _no_mirrored_pair(answers: Answers) -> str:
    """Why this cloth gives no mirrored pair, whatever it is that is not known of its print yet; empty if it may."""
    why = ""
    for cloth in still_possible(job_of(answers).cloth):
        try:
            second_panel(cloth, Hang.MIRRORED)
        except JobRefused as refused:
            why = why or words(refused.problems[0], answers.unit)[0]
        else:
            return ""
    return why


def _usual_hang(answers: Answers, path: Path) -> str:
    """As before, unless this cloth gives no mirrored pair."""
    return "same" if _no_mirrored_pair(answers) else as_before("mirrored")(answers, path)


def _can_mirror(answers: Answers, path: Path) -> None:
    if answers.text(path) == "mirrored" and (why := _no_mirrored_pair(answers)):
        raise Unfit(why, "type same, or back to mend what you said of the print")


def _tall_enough(answers: Answers, path: Path) -> None:
    job = job_of(answers)
    spare = spare_height(job.windows[-1], job) if sideways(answers) else Fraction(0)
    if spare < 0:
        raise Unfit(
            f"with heading and hem that is {show_length(-spare, job.unit)} more than lies between the selvedges",
            "type a shorter length, or back to have the cloth run upright",
        )


def _before(answers: Answers, group: Path) -> list[Path]:
    """The windows before this one whose height is known."""
    windows: list[Path] = [("windows", number) for number in range(int(group[1]))]
    return [one for one in windows if answers.given((*one, "top_height"))]


def _can_be_level(answers: Answers, path: Path) -> None:
    group = path[:2]
    if answers.text(path) == "level":
        if not _before(answers, group):
            raise Unfit("there is no window before this one whose height above the floor is known", "type top or foot")
        if not answers.given((*group, "top_height")):
            raise Unfit("the height of this window is not known", "type top or foot, or back to give the height")


def _usual_rule(answers: Answers, path: Path) -> str:
    group = path[:2]
    return "level" if _before(answers, group) and answers.given((*group, "top_height")) else "top"


def _last_level(answers: Answers, path: Path) -> str:
    """The window that the rows of this room are counted from: the last one that set a row of its own."""
    known = _before(answers, path[:2])
    own = [one for one in known if answers.text((*one, RULE)) in ("top", "foot")]
    return answers.text((*(own[-1] if own else known[0]), "name")) if known else ""


def _both_looks(answers: Answers, group: Path) -> Sequence[str]:
    """The pair of this window with either answer."""
    job = job_of(answers)
    this = job.windows[int(group[1])]
    cuts = [cut for cut in resolve(job).cuts if cut.window == this.name]
    return both_looks(job, this, cuts) if cuts else ()


window = partial(asked, group="windows")
WINDOW = (
    window("name"),
    window("panels"),
    window("hang", default=_usual_hang, check=_can_mirror),
    window("top_height"),
    window("finished_length", check=_tall_enough),
    Question(
        (HOW,),
        "How wide does it get: by the number of cuts, or worked out from the rod?",
        "cuts: you say how many lengths of cloth are joined in a panel; rod: the program works them out.",
        "One length of cloth from selvedge to selvedge is a cut. A narrow window takes one cut a panel.",
        ("cuts,c,number", "rod,r"),
        as_before("cuts"),
        lambda answers, group: not sideways(answers),
    ),
    window("cuts_per_panel"),
    window("rod"),
    window("returns"),
    window("overlap"),
    window("fullness"),
    Question(
        (RULE,),
        "Where shall a row of the print stand: top, foot or level?",
        "top: so far below the finished top; foot: so far above the finished foot; level: with another window.",
        "A whole motif at the foot shows most; rows level from window to window show in a room with several. Level "
        "needs the heights of both windows above the floor.",
        ("top,t,below top", "foot,f,above foot", "level,l,level with"),
        _usual_rule,
        lambda answers, group: patterned(answers) and not sideways(answers),
        check=_can_be_level,
        picture=WHERE_A_ROW_STANDS,
    ),
    window("row.below_top"),
    window("row.above_foot"),
    window("row.level_with", default=_last_level),
    window("facing", drawn=_both_looks),
)
MORE_WINDOWS = Question(
    (ANOTHER,),
    "Is there another window, or more for this one: yes, no or more?",
    "more: a lining, a contrast band or tie-backs for this window, from another cloth or from the same.",
    "All windows that are cut from one cloth belong in one job, and what hangs with them from another: one order "
    "for all of them needs less cloth than one for each.",
    (*YES_NO, "more,m,lining,lined,interlining,band,bands,contrast,cloth,tie-backs"),
    fixed("no"),
)
LAST_WINDOW = replace(
    MORE_WINDOWS,
    rest=(LAST,),
    ask="Is there another window?",
    term="All windows of one job are ordered together.",
    choices=YES_NO,
)
