"""The form asks which way a pair looks just where the job may be cut with either answer."""

import pytest

from jobs.cutting.mirroring import looks_either_way
from jobs.io.reader import parse_job
from projector.page.form.conditions import WHEN, When
from projector.page.form.values import values_of

CLOTH = "width: 54, repeat: {along: 24, across: 13}, drop: 0, print: {%s}%s"
PAIR = "panels: pair"
DOWN, ACROSS = "top_to_bottom: mirror, side_to_side: none, one_way: no", "top_to_bottom: none, side_to_side: mirror"
NONE = "top_to_bottom: none, side_to_side: none, half_turn: no, one_way: no"
CASES = {
    "it mirrors down": (DOWN, "", PAIR, True),
    "a half-drop": (DOWN, ", drop: 1/2", PAIR, True),
    "a drop that does not mirror": (DOWN, ", drop: 1/3", PAIR + ", hang: same", False),
    "one-way": (DOWN.replace("one_way: no", "one_way: yes"), "", PAIR + ", hang: same", False),
    "hung the same": (DOWN, "", PAIR + ", hang: same", False),
    "no pair": (DOWN, "", "panels: left", False),
    "it mirrors across": (ACROSS + ", one_way: no", "", PAIR, False),
    "it mirrors across, both faces alike": (ACROSS + ", one_way: no", ", faces_alike: yes", PAIR, False),
    "both faces alike": (NONE, ", faces_alike: yes", PAIR, True),
    "it has a border": (DOWN, ", border: near", PAIR, False),
    "it is run sideways": (
        DOWN.replace("top_to_bottom: mirror, side_to_side: none", ACROSS),
        ", run: sideways",
        PAIR,
        False,
    ),
    "by its plane group": ("group: pm, top_to_bottom: mirror, one_way: no", "", PAIR, True),
}


@pytest.mark.parametrize("case", CASES)
def test_the_form_asks_where_the_job_may_look_either_way(case):
    sheet, more, panels, asked = CASES[case]
    cloth = CLOTH % (sheet, more)
    if "drop: 1" in more:
        cloth = cloth.replace("drop: 0, ", "")
    width = "rod: 40" if "sideways" in more else "cuts_per_panel: 1"
    text = f"job: A\ncloth: {{{cloth}}}\nwindows:\n  - {{name: Bay, {panels}, finished_length: 40, {width}}}\n"
    job = parse_job(text, "a")
    assert looks_either_way(job.windows[0], job.cloth) is asked
    assert WHEN[When.LOOKS_EITHER_WAY](values_of(text), ("windows", 0)) is asked


def test_what_the_file_says_can_always_be_taken_out():
    text = "job: A\ncloth: {width: 54}\nwindows:\n  - {name: Bay, panels: pair, facing: left as it lies}\n"
    assert WHEN[When.LOOKS_EITHER_WAY](values_of(text), ("windows", 0))
