from projector.questions.answers import job_of
from projector.questions.pair_picture import window_picture
from tests.jobs.made import cut_list
from tests.projector.questions.scripts import after

TO_THE_MIRRORS = ("in", "Loft", "Kites", "54", "1/2", "yes", "30", "skip", "0")
REST = ("no", "0", "red", "9", "no", "4", "8", "3", "0", "1", "Bay", "pair")


def picture(*typed):
    job = job_of(after(*typed))
    return window_picture(job, job.windows[-1], cut_list(job))


def test_a_mirrored_pair_is_its_own_mirror_image_and_its_rows_stand_where_they_were_put():
    # Rows 10 in below the top of 90 in, then every 30: at 10, 40 and 70, that is lines 1, 4 and 7 of 9.
    lines = picture(*TO_THE_MIRRORS, "yes", "0", "no", *REST, "mirrored", "skip", "90", "cuts", "1", "top", "10")
    inside = [line[:31] for line in lines[2:11]]
    assert [number for number, line in enumerate(inside) if ">-" in line] == [1, 4, 7]
    swap = str.maketrans("<>", "><")
    assert all(line[::-1].translate(swap) == line for line in inside)
    assert "90 in" in "".join(lines)


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
