"""The questions about one window, in the order a person measures it."""

from __future__ import annotations

from fractions import Fraction

from jobs.cutting.sideways.sizes import spare_height
from jobs.io import values
from jobs.model.choices import Hang
from jobs.model.lengths import show_length
from jobs.model.problems import JobRefused
from jobs.ordering import still_possible
from jobs.prints import second_panel
from projector.desk.asking.about_cloth import sideways
from projector.desk.asking.answers import YES_NO, Unfit, a_length, a_name, of_reader, one_of
from projector.desk.asking.gathered import job_of
from projector.desk.asking.question import Question, as_before, fixed
from projector.desk.asking.said import Said
from projector.desk.asking.small_pictures import WHERE_A_ROW_STANDS
from projector.words.wording import words


def _worked_out(said: Said, group: str) -> bool:
    return said.text(f"{group} how") == "rod" or sideways(said, group)


def _row_wanted(said: Said, group: str) -> bool:
    """Of cloth run sideways the print is taken as it lies: few rows could be reached."""
    return said.yes("patterned") and not sideways(said, group)


def _tall_enough(said: Said, key: str) -> None:
    job = job_of(said)
    if not sideways(said, ""):
        return
    spare = spare_height(job.windows[-1], job)
    if spare < 0:
        raise Unfit(
            f"with heading and hem that is {show_length(-spare, job.unit)} more than lies between the selvedges",
            "type a shorter length, or back to have the cloth run upright",
        )


def _distance_wanted(said: Said, group: str) -> bool:
    return said.yes("patterned") and said.text(f"{group} rule") in ("top", "foot")


def _others_to_be_level_with(said: Said, group: str) -> list[str]:
    """Names of the windows before this one whose height is known."""
    number = int(group.rpartition(" ")[2])
    names = [f"window {other}" for other in range(1, number) if said.given(f"window {other} top_height")]
    return [said.text(f"{other} name") for other in names]


def _last_level(said: Said, key: str) -> str:
    """The window that the rows of this room are counted from: the last one that set a row of its own."""
    group = key.rpartition(" ")[0]
    number = int(group.rpartition(" ")[2])
    own = [f"window {n}" for n in range(1, number) if said.text(f"window {n} rule") in ("top", "foot")]
    names = _others_to_be_level_with(said, group)
    known = [said.text(f"{other} name") for other in own if said.given(f"{other} top_height")]
    return known[-1] if known else names[0] if names else ""


def _no_mirrored_pair(said: Said) -> str:
    """Why this cloth gives no mirrored pair, whatever it is that is not known of its print yet; empty if it may."""
    why = ""
    for cloth in still_possible(job_of(said).cloth):
        try:
            second_panel(cloth, Hang.MIRRORED)
        except JobRefused as refused:
            why = why or words(refused.problems[0], said.unit)[0]
        else:
            return ""
    return why


def _hang_default(said: Said, key: str) -> str:
    """As before, unless this cloth gives no mirrored pair."""
    return "same" if _no_mirrored_pair(said) else as_before("mirrored")(said, key)


def _can_mirror(said: Said, key: str) -> None:
    if said.text(key) == "mirrored" and (why := _no_mirrored_pair(said)):
        raise Unfit(why, "type same, or back to mend what you said of the print")


def _can_be_level(said: Said, key: str) -> None:
    group = key.rpartition(" ")[0]
    if said.text(key) == "level":
        if not _others_to_be_level_with(said, group):
            raise Unfit("there is no window before this one whose height above the floor is known", "type top or foot")
        if not said.given(f"{group} top_height"):
            raise Unfit("the height of this window is not known", "type top or foot, or back to give the height")


def _rule_default(said: Said, key: str) -> str:
    group = key.rpartition(" ")[0]
    level = _others_to_be_level_with(said, group) and said.given(f"{group} top_height")
    return "level" if level else "top"


WINDOW = (
    Question(
        "name",
        "What do you call this window?",
        "A name of its own, as it shall stand in the light: East bay, Stairs.",
        "Short names are written larger on the cloth.",
        a_name(),
    ),
    Question(
        "panels",
        "What hangs there: pair, left, right or whole?",
        "pair: two panels that meet in the middle; left or right: one panel at that side; whole: one for all of it.",
        "Left and right are as seen from inside the room.",
        one_of(pair="p,two", left="l", right="r", whole="w,one"),
        as_before("pair"),
    ),
    Question(
        "hang",
        "Shall the two panels mirror each other, or hang the same?",
        "mirrored: the print of one is the mirror image of the other; same: both show the print the same way round.",
        "Whether a mirrored pair can be cut at all depends on the print; you are told at once.",
        one_of(mirrored="m,mirror", same="s"),
        _hang_default,
        lambda said, group: said.text(f"{group} panels") == "pair" and said.yes("patterned"),
        check=_can_mirror,
    ),
    Question(
        "top_height",
        "How high is the finished top above the floor?",
        "Needed so that rows hang level from window to window. skip if nothing is to be level.",
        "Measure from the floor up to where the top of the heading will be.",
        a_length(or_skip=True),
        as_before("skip"),
    ),
    Question(
        "finished_length",
        "How long is the finished panel?",
        "Finished length: from the top of the heading to the foot, as it hangs.",
        "Measure at both sides and in the middle, with a tape that does not stretch.",
        a_length(above_zero=True),
        as_before(""),
        check=_tall_enough,
    ),
    Question(
        "how",
        "How wide does it get: by the number of cuts, or worked out from the rod?",
        "cuts: you say how many lengths of cloth are joined in a panel; rod: the program works them out.",
        "One length of cloth from selvedge to selvedge is a cut. A narrow window takes one cut a panel.",
        one_of(cuts="c,number", rod="r"),
        as_before("cuts"),
        lambda said, group: not sideways(said, group),
    ),
    Question(
        "cuts_per_panel",
        "How many cuts are joined in one panel?",
        "Whole and half cuts: 1, 1 1/2, 2.",
        "A half cut is half the width of the cloth and is sewn to the outside of the panel.",
        of_reader(values.within(values.fraction, Fraction(1, 2), 60)),
        as_before("1"),
        lambda said, group: said.text(f"{group} how") == "cuts",
    ),
    Question(
        "rod",
        "How long is the rod?",
        "From bracket to bracket, the part in front of the window.",
        "Without the returns at its ends and without the overlap: they are asked next.",
        a_length(above_zero=True),
        as_before(""),
        _worked_out,
    ),
    Question(
        "returns",
        "How long is one return?",
        "Return: from the front of the rod back to the wall, at one end.",
        "A pair and a whole panel have two, a single left or right panel has one.",
        a_length(),
        as_before("0"),
        _worked_out,
    ),
    Question(
        "overlap",
        "How much do the panels overlap in the middle?",
        "Overlap: where one panel runs past the other. 0 for none.",
        "Counted once for the window.",
        a_length(),
        as_before("0"),
        _worked_out,
    ),
    Question(
        "fullness",
        "How full shall it be?",
        "Fullness: flat width over finished width. 2 means twice as much cloth as rod.",
        "2 to 2 1/2 is common; heavy cloth takes less, sheer cloth 3.",
        of_reader(values.within(values.fraction, 1, 10)),
        as_before("2"),
        _worked_out,
    ),
    Question(
        "rule",
        "Where shall a row of the print stand: top, foot or level?",
        "top: so far below the finished top; foot: so far above the finished foot; level: with another window.",
        "A whole motif at the foot shows most; rows level from window to window show in a room with several. Level "
        "needs the heights of both windows above the floor.",
        one_of(top="t,below top", foot="f,above foot", level="l,level with"),
        _rule_default,
        _row_wanted,
        check=_can_be_level,
        picture=WHERE_A_ROW_STANDS,
    ),
    Question(
        "distance",
        "How far from there is the row?",
        "Row: the line across through the point of the motif that you chose. 0 puts it exactly there.",
        "Half a motif more than its height keeps the motif whole.",
        a_length(),
        as_before("0"),
        _distance_wanted,
    ),
    Question(
        "level_with",
        "Level with which window?",
        "The name of another window of this job, whose rows this one shall meet.",
        "Both need their height above the floor.",
        a_name(),
        _last_level,
        lambda said, group: said.yes("patterned") and said.text(f"{group} rule") == "level",
    ),
)
MORE_WINDOWS = Question(
    "another",
    "Is there another window?",
    "All windows that are cut from this cloth belong in one job.",
    "One order for all of them needs less cloth than one for each.",
    YES_NO,
    fixed("no"),
)
