from fractions import Fraction

import pytest

from jobs.model.allowances import Allowances
from jobs.model.choices import Follow, Panels, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.job import CuttingTable, Job
from jobs.model.piece import Flaw, Piece
from jobs.model.print import Print, Repeat
from jobs.model.window import RowRule, Window
from projector.questions.answers import Answers, job_of
from projector.questions.typed import colour
from projector.questions.walk import next_question, questions, replayed
from tests.projector.questions.scripts import INCHES, METRIC, after, reason

F = Fraction
HARBOUR = Job(
    title="Harbour office",
    unit=Unit.INCH,
    cloth=Cloth(
        name="Kites on sand",
        width=F(55),
        selvedge=F(3, 4),
        repeat=Repeat(F(75, 4), F(27, 2)),
        print=Print(top_to_bottom=Symmetry.MIRROR),
        shrinkage=F(3, 100),
        colour="#e9e2cf",
        sold_by=F(9),
        pieces=(Piece(F(324), F(29, 4), (Flaw(F(96), F(197, 2), (F(10), F(14)), "slub"),)),),
    ),
    windows=(
        Window("East bay", Panels.PAIR, F(84), top_height=F(92), row=RowRule(below_top=F(5))),
        Window(
            "West",
            Panels.LEFT,
            F(60),
            top_height=F(92),
            cuts_per_panel=None,
            rod=F(40),
            returns=F(4),
            fullness=F(5, 2),
            row=RowRule(level_with="East bay"),
        ),
    ),
    allowances=Allowances(F(9, 2), F(8), F(3), F(1, 2), F(1)),
    table=CuttingTable(F(120), F(60)),
)
CM = F(50, 127)
LOFT = Job(
    title="Quay loft",
    unit=Unit.CENTIMETRE,
    cloth=Cloth(
        name="Plain linen",
        width=140 * CM,
        print=Print(one_way=True),
        shrinkage=F(25, 1000),
        colour="#aabbcc",
        sold_by=10 * CM,
        follow=Follow.SELVEDGE,
    ),
    windows=(Window("Hatch", Panels.WHOLE, F(1725, 10) * CM, cuts_per_panel=F(3, 2)),),
    allowances=Allowances(10 * CM, 20 * CM, 4 * CM, F(3, 2) * CM, 3 * CM),
)


@pytest.mark.parametrize(("typed", "job"), [(INCHES, HARBOUR), (METRIC, LOFT)], ids=["inches", "metric"])
def test_the_job_is_what_was_said_and_then_nothing_is_left_to_ask(typed, job):
    answers = after(*typed)
    assert next_question(answers) is None
    assert job_of(answers) == job


@pytest.mark.parametrize("typed", [INCHES, METRIC], ids=["inches", "metric"])
def test_kept_answers_replayed_are_the_same_from_any_place_and_back_undoes_one(typed):
    answers = after(*typed)
    for count in range(len(answers.pairs) + 1):
        part = Answers(answers.pairs[:count])
        assert replayed(part.pairs) == part
    assert answers.back() == after(*typed[:-1])


def test_answers_kept_by_another_order_of_questions_are_used_as_far_as_they_follow():
    answers = after("in", "Loft", "Linen")
    assert replayed((*answers.pairs, (("windows", 0, "name"), "Door"))) == answers
    assert replayed((*answers.pairs, (("cloth", "width"), "wide"))) == answers


def test_every_question_explains_its_term_in_one_line_and_more_when_asked():
    for typed in (INCHES, METRIC):
        for question in questions(after(*typed)):
            assert question.ask.rstrip(".").endswith(("?", "level", "width")), question.ask
            assert 10 < len(question.term) < 130
            assert len(question.more) > 10
            assert question.term != question.more


TO_THE_PRINT = ("in", "Loft", "Kites", "54", "1/2", "yes")
TO_THE_WINDOW = (
    *TO_THE_PRINT,
    "18",
    "skip",
    "0",
    "no",
    "no",
    "no",
    "no",
    "0",
    "red",
    "9",
    "no",
    "4",
    "8",
    "3",
    "0",
    "1",
)


@pytest.mark.parametrize(
    ("typed", "before", "words"),
    [
        ("wide", ("in", "Loft", "Linen"), "is not a length"),
        ("0", ("in", "Loft", "Linen"), "above zero"),
        ("28,6", ("cm", "Loft", "Linen"), "write 28.6"),
        ("27", ("in", "Loft", "Linen", "54"), "leave nothing of the cloth width"),
        ("1/16", TO_THE_PRINT, "too small to be matched"),
        ("1", (*TO_THE_PRINT, "18", "skip"), "out of bounds"),
        ("18", (*TO_THE_PRINT, "18", "skip", "0", "yes"), "not less than the repeat"),
        ("mauve", TO_THE_WINDOW[:14], "is not a colour"),
        ("maybe", TO_THE_PRINT[:5], "yes or no"),
        ("mirrored", (*TO_THE_WINDOW, "Bay", "pair"), "no mirrored pair can be cut"),
        ("level", (*TO_THE_WINDOW, "Bay", "pair", "same", "90", "80", "cuts", "1"), "no window before this one"),
        ("81", (*TO_THE_WINDOW, "Bay", "pair", "same", "90", "80", "cuts", "1", "foot"), "outside the finished panel"),
        ("3/4", (*TO_THE_WINDOW, "Bay", "pair", "same", "90", "80", "cuts"), "whole and half cuts"),
        ("bay", (*TO_THE_WINDOW, "Bay", "pair", "same", "90", "80", "cuts", "1", "top", "0", "yes"), "of its own"),
    ],
)
def test_an_answer_that_cannot_be_is_refused_with_the_reason(typed, before, words):
    assert words in reason(typed, *before)


def test_where_the_print_gives_no_mirrored_pair_enter_hangs_the_panels_the_same():
    answers = after(*TO_THE_WINDOW, "Bay", "pair")
    question = next_question(answers)
    assert question is not None
    assert question.enter(answers) == "same"


def test_tones_of_everyday_colours_are_known_by_name():
    # a pale one goes 0.45 of the way to white: 0x2f = 47, 47 + 208 x 0.45 = 140.6; a dark one 0.35 to black: 79 x 0.65
    assert colour("Pale  teal") == "#8db0b2"
    assert colour("dark green") == "#334b34"
    assert colour("gray") == colour("grey") == "#8d8f92"


def test_the_rows_of_the_next_window_are_level_with_the_last_one_that_set_its_own():
    bay = ("Bay", "pair", "same", "90", "80", "cuts", "1", "foot", "2", "yes")
    door = ("Door", "whole", "90", "80", "cuts", "1", "level", "", "yes")
    attic = ("Attic", "whole", "60", "40", "cuts", "1", "top", "5", "yes")
    answers = after(*TO_THE_WINDOW, *bay, *door, *attic, "Loft", "whole", "60", "40", "cuts", "1", "level", "")
    assert answers.text(("windows", 1, "row", "level_with")) == "Bay"
    assert answers.text(("windows", 3, "row", "level_with")) == "Attic"
