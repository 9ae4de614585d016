"""Jobs whose print is not known altogether: what is asked, what is taken, and what cutting waits for."""

from fractions import Fraction
from itertools import product

import pytest

from jobs.io.reader import parse_job
from jobs.model.choices import PrintKey, Symmetry
from jobs.model.problems import Code, JobRefused
from jobs.ordering import across_needed, assumed, assumed_to_order, open_problems, order
from jobs.planning.planner import plan_job
from projector.words.notices import notice_lines
from tests.jobs.made import cut_list, ordered
from tests.jobs.refused import refused

F = Fraction
DROP, DOWN, ACROSS, ONE_WAY = PrintKey


def two_cuts(print_keys: str = "", panels: str = "pair", repeat: str = "{along: 11 1/4, across: 13 1/4}") -> str:
    """Two cuts of 58 on a repeat of 11 1/4, or what else hangs there."""
    return f"""
job: Two cuts
units: in
cloth: {{width: 54, selvedge: 1/2, repeat: {repeat}, sold_by: 1/4 in{print_keys}}}
windows:
  - {{name: Bay, panels: {panels}, finished_length: 50, row: {{below_top: 0}}}}
allowances: {{heading: 0, hem: 8, side_hem: 2, seam: 1/2, squaring: 0}}
"""


def read(print_keys: str = "", panels: str = "pair", repeat: str = "{along: 11 1/4, across: 13 1/4}"):
    return parse_job(two_cuts(print_keys, panels, repeat), "job")


def test_nothing_is_known_of_a_print_the_file_says_nothing_of():
    assert read().cloth.not_known == {DROP, DOWN, ACROSS, ONE_WAY}


def test_nothing_is_asked_of_plain_cloth():
    plain = parse_job("job: A\ncloth: {width: 54}\nwindows: [{name: B, panels: pair, finished_length: 50}]\n", "job")
    assert plain.cloth.not_known == frozenset()
    assert open_problems(plain) == ()


@pytest.mark.parametrize(
    ("keys", "not_known"),
    [
        ("drop: 0, print: {top_to_bottom: mirror, side_to_side: none, one_way: no}", set()),
        ("drop: 0, print: {group: pmm}", {ONE_WAY}),
        ("print: {group: pm, top_to_bottom: mirror, one_way: no}", {DROP}),
        ("drop: 0, print: {top_to_bottom: mirror, one_way: no}", {ACROSS}),
        ("drop: 0, print: {side_to_side: none, one_way: no}", {DOWN}),
        # Two mirrors bring the half-turn: with one and no half-turn there is no other.
        ("drop: 0, print: {top_to_bottom: mirror, half_turn: no, one_way: no}", set()),
        # A half-turn and one mirror bring the other: without one there is no other.
        ("drop: 0, print: {side_to_side: none, half_turn: yes, one_way: no}", set()),
        ("drop: 0, print: {half_turn: no, one_way: no}", {DOWN, ACROSS}),
    ],
)
def test_what_follows_from_what_is_stated_is_known(keys, not_known):
    assert read(f", {keys}").cloth.not_known == not_known


def test_the_dearest_case_of_two_cuts_is_the_upright_one():
    # Turned on a mirror row two cuts of 58 take 9 1/2 less a repeat than upright ones: 11 1/4 + 67 1/2 + 58 = 136 3/4
    # guaranteed upright, 125 1/2 turned (common practice, no source: 4 yd and 3 1/2 yd are bought).
    found = assumed(read())
    assert (ordered(read()).buy, found.least) == (F("136.75"), F("125.5"))
    assert found.asked == (DROP, DOWN, ACROSS, ONE_WAY)
    assert found.taken[ACROSS] is Symmetry.MIRROR
    assert found.some_refused


def test_the_dearest_case_is_that_of_every_answer_written_into_the_file():
    dearest = F(0)
    for drop, down, across, one_way in product(("0", "1/2"), *[("none", "mirror", "glide")] * 2, ("yes", "no")):
        said = f", drop: {drop}, print: {{top_to_bottom: {down}, side_to_side: {across}, one_way: {one_way}}}"
        job = read(said, panels="pair, cuts_per_panel: 2")
        try:
            dearest = max(dearest, ordered(job).buy)
        except JobRefused:
            continue
    assert ordered(read(panels="pair, cuts_per_panel: 2")).buy == dearest > 0


@pytest.mark.parametrize("panels", ["whole", "pair, hang: same"])
def test_what_the_cuts_do_not_depend_on_is_not_asked(panels):
    found = assumed(read(panels=panels, repeat="{along: 11 1/4}"))
    assert found.asked == ()
    assert not any(notice.code is Code.ASSUMED for notice in found.job.notices)
    assert open_problems(read(panels=panels, repeat="{along: 11 1/4}")) == ()


def test_cutting_waits_for_the_drop_where_columns_are_lit():
    assert [problem.path for problem in open_problems(read(panels="whole"))] == [("cloth", "drop")]


def test_one_answer_that_is_missing_is_the_only_one_asked():
    job = read(", drop: 0, print: {top_to_bottom: mirror, side_to_side: none}")
    (problem,) = open_problems(job)
    assert problem.path == ("cloth", "print", "one_way")
    assert problem.code is Code.ONE_WAY_NOT_KNOWN
    # One-way, no mirrored pair can be cut at all: the turned one is the dearest that can.
    assert ordered(job).buy == F("125.5")


def test_the_notice_names_what_is_not_known_and_what_was_taken():
    *_, notice = notice_lines(plan_job(read(", drop: 0, print: {top_to_bottom: mirror}")).job)
    assert "whether the print mirrors from side to side, whether the cloth must hang one way up" in notice
    assert "`side_to_side: mirror`, `one_way: yes`" in notice
    assert "in the cheapest 125 1/2 in would be bought" in notice


def test_a_job_that_no_answer_mends_is_refused_for_its_own_reason():
    text = two_cuts(panels="pair, cuts_per_panel: 2").replace("width: 54", "width: 2")
    job = parse_job(text.replace("seam: 1/2", "seam: 1/2, least_seam: 1"), "job")
    with refused(Code.TRIM_LEAVES_TOO_LITTLE, Code.SEAMS_LEAVE_NOTHING):
        ordered(job)


def test_cuts_are_never_made_of_answers_that_nobody_gave():
    with refused(Code.DROP_NOT_KNOWN):
        cut_list(read())


# The repeat across.


BY_ROD = "rod: 72, returns: 3 1/2, overlap: 4"
SHORT = ", {name: Low light, panels: left, finished_length: 50, rod: 40}"


def joined(drop: str = "0", across: str = "", hang: str = "same", what: str = BY_ROD, more: str = ""):
    """A pair of 89 in to a panel on 54 in of print, one repeat 25 along."""
    return parse_job(
        f"""
job: Joined
units: in
cloth:
  {{width: 55, selvedge: 1/2, repeat: {{along: 25{across}}}, drop: {drop}, sold_by: 1/4 in,
    print: {{top_to_bottom: none, side_to_side: mirror, one_way: yes}}}}
windows: [{{name: Bay, panels: pair, hang: {hang}, finished_length: 84, {what}}}{more}]
allowances: {{heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 0}}
""",
        "job",
    )


def test_the_repeat_along_is_enough_to_order_joined_cuts():
    """Columns that fill the 54 in lie 54, 27, 18 or 13 1/2 apart, and two seams 54: four cuts of 96 whichever it is;
    25 to wait for the first row, 3 x 100 between them and the last 96: 421."""
    found = assumed_to_order(joined())
    assert found.across in {F(54), F(27), F(18), F("13.5")}
    assert (len(found.resolved.cuts), order(found.resolved).buy) == (4, 421)
    (said,) = [line for line in notice_lines(found.job) if "repeat across" in line]
    assert "whole columns fill the print" in said
    assert "To plan and to cut it must be known" in said


def test_the_order_is_the_dearest_of_one_to_four_columns_written_into_the_file():
    """Where a drop alternates from cut to cut, cuts of unlike lengths lie less well behind each other."""
    differs = False
    for drop, hang in (("1/2", "same"), ("1/4", "same"), ("1/2", "mirrored"), ("0", "mirrored")):
        columns = ("54", "27", "18", "13 1/2")
        written = [ordered(joined(drop, f", across: {across}", hang, more=SHORT)).buy for across in columns]
        differs |= len(set(written)) > 1
        assert order(assumed_to_order(joined(drop, hang=hang, more=SHORT)).resolved).buy == max(written), (drop, hang)
    assert differs


def test_a_plan_needs_the_repeat_across_and_says_so():
    job = joined()
    with refused(Code.ACROSS_NOT_KNOWN):
        plan_job(job)
    with refused(Code.ACROSS_NOT_KNOWN):
        open_problems(job)
    assert [one.code for one in across_needed(job)] == [Code.ACROSS_NOT_KNOWN]
    for drop, what, code in (
        ("1/2", "cuts_per_panel: 2", Code.DROP_NEEDS_COLUMNS),
        ("1/2", "cuts_per_panel: 1", Code.PAIR_NEEDS_ACROSS),
    ):
        job = joined(drop, hang="mirrored", what=what)
        assert {one.code for one in across_needed(job)} <= {code, Code.PAIR_NEEDS_ACROSS}
        assert assumed_to_order(job).across is not None


def test_where_cuts_do_not_hang_on_the_repeat_across_nothing_is_taken():
    for job in (joined(across=", across: 27"), joined(what="cuts_per_panel: 1"), joined(what="cuts_per_panel: 2")):
        assert assumed_to_order(job).across is None
        assert assumed_to_order(job).resolved.cuts == assumed(job).resolved.cuts
        assert across_needed(job) == ()
