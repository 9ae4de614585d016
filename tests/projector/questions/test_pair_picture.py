import pytest

from jobs.model.choices import Facing
from projector.questions.answers import job_of
from projector.questions.pair_picture import window_picture
from projector.questions.question import ANOTHER
from projector.questions.walk import next_question
from tests.jobs.made import cut_list
from tests.projector.questions.scripts import after

TO_THE_MIRRORS = ("in", "Loft", "Kites", "54", "1/2", "yes", "30", "skip", "0")
REST = ("no", "0", "red", "9", "no", "4", "8", "3", "0", "1", "Bay", "pair")


def of(answers):
    job = job_of(answers)
    return job, job.windows[-1], cut_list(job)


def picture(*typed):
    return window_picture(*of(after(*typed)))


def test_a_mirrored_pair_is_its_own_mirror_image_and_its_rows_stand_where_they_were_put():
    # Rows 10 in below the top of 90 in, then every 30: at 10, 40 and 70, that is lines 1, 4 and 7 of 9.
    lines = picture(*TO_THE_MIRRORS, "yes", "0", "no", *REST, "mirrored", "skip", "90", "cuts", "1", "top", "10")
    inside = [line[:31] for line in lines[2:11]]
    assert [number for number, line in enumerate(inside) if ">-" in line] == [1, 4, 7]
    swap = str.maketrans("<>", "><")
    assert all(line[::-1].translate(swap) == line for line in inside)
    assert "90 in" in "".join(lines)


def test_a_pair_that_may_look_either_way_is_shown_with_either_answer():
    typed = (*TO_THE_MIRRORS, "yes", "0", "no", *REST, "mirrored", "skip", "90", "cuts", "1", "top", "10")
    answers = after(*typed)
    question = next_question(answers)
    assert question.path == ("windows", 0, "facing")
    names, *lines = question.drawn(answers, question.group)
    assert names.split() == ["left:", "right:"]
    swap = str.maketrans("<>", "><")
    assert all(line[:14] == line[54:] and line[17:31] == line[37:51] for line in lines)
    assert all(line[:31][::-1].translate(swap) == line[:31] for line in lines)
    chosen = window_picture(*of(after(*typed, "r")))
    assert [line[:31] for line in chosen[1:]] == [line[37:] for line in lines]
    assert job_of(after(*typed, "r")).windows[0].facing is Facing.RIGHT


@pytest.mark.parametrize(
    ("top_to_bottom", "hang"), [(("yes", "0", "no"), "same"), (("no", "yes"), "mirrored"), (("no", "no", "no"), "same")]
)
def test_no_other_pair_is_asked_which_way_it_looks(top_to_bottom, hang):
    typed = (*TO_THE_MIRRORS, *top_to_bottom, *REST, hang, "skip", "90", "cuts", "1", "top", "10")
    assert next_question(after(*typed)).path[-1] == ANOTHER


def test_panels_that_hang_the_same_show_the_same():
    lines = picture(*TO_THE_MIRRORS, "no", "no", "no", *REST, "same", "skip", "90", "cuts", "1", "foot", "0")
    inside = [line[:31] for line in lines[2:11]]
    assert all(line[:14] == line[17:] for line in inside)
    # Rows at the foot and every 30 in above it: 0 and 30, 60, 90 below the top; the last line shows the foot.
    assert [number for number, line in enumerate(inside) if "/-" in line] == [0, 3, 6, 8]


def test_a_half_drop_shows_every_other_column_lower():
    typed = (*TO_THE_MIRRORS[:-2], "13", "1/2", "no", "yes", *REST, "same", "skip", "90", "cuts", "1", "top", "0")
    lines = picture(*typed)[2:11]
    columns = [[line[at : at + 2] == "\\/" for line in lines] for at in (2, 6, 10)]
    assert columns[0] == columns[2]
    assert any(columns[0])
    assert any(columns[1])
    assert not any(one and other for one, other in zip(columns[0], columns[1], strict=True))
