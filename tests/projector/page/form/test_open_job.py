import pytest

from jobs.io.reader import parse_job
from projector.page.form.blank import examples
from projector.page.form.document import Document
from projector.page.form.open_job import OpenJob, Refused, opened
from projector.page.kept import Draft

MILL = examples()["Mill-race reading room"]
AT = ("windows", 0, "finished_length")
LOCK = examples()["Lock-keeper's cottage"]


def job(text: str = MILL) -> OpenJob:
    return OpenJob("abcd", Document(text), clock=iter(range(0, 100_000, 10)).__next__)


def typed(one: OpenJob, path: str, value: str, page: str = "a", saw: str | None = None) -> dict:
    return one.take(page, {"do": "type", "path": path, "value": value, "saw": saw})


def test_what_is_typed_stands_in_the_text_and_what_is_wrong_beside_its_field():
    one = job()
    assert typed(one, "windows/0/finished_length", "9x") == {}
    assert one.values.text(("windows", 0, "finished_length")) == "9x"
    assert list(one.complaints.beside) == [("windows", 0, "finished_length")]
    typed(one, "windows/0/finished_length", "92")
    assert one.complaints.job is not None
    assert one.complaints.job.windows[0].finished_length == 92


@pytest.mark.parametrize("path", ["nothing", "windows/7/name", "cloth", "", "windows/0", "cloth/print/group/x"])
def test_a_field_that_is_not_shown_is_not_written(path):
    one = job()
    with pytest.raises(Refused):
        typed(one, path, "1")
    assert one.document.text == MILL


@pytest.mark.parametrize(
    "asked",
    [{}, {"do": "format"}, {"do": "type"}, {"do": "switch", "path": "", "name": "x", "value": "y"},
     {"do": "add", "path": "cloth"}, {"do": "copy", "path": "windows/9"}, {"do": "remove", "path": "cloth/pieces/4"},
     {"do": "take out", "path": "cloth/width"}, {"do": "save cloth", "value": "x"}, {"do": "agree", "path": "job"}],
)  # fmt: skip
def test_what_makes_no_sense_is_refused_and_changes_nothing(asked):
    one = job()
    with pytest.raises(Refused):
        one.take("a", asked)
    assert one.document.text == MILL


def test_the_last_window_is_not_taken_out():
    one = job()
    with pytest.raises(Refused, match="One is needed"):
        one.take("a", {"do": "remove", "path": "windows/0"})


def test_a_window_is_added_copied_taken_out_and_all_of_it_undone_and_redone():
    one = job()
    assert one.take("a", {"do": "add", "path": "windows"}) == {"focus": "windows/1/name"}
    assert one.take("a", {"do": "copy", "path": "windows/0"}) == {"focus": "windows/2/name"}
    one.take("a", {"do": "remove", "path": "windows/1"})
    changed = one.document.text
    assert one.values.names_of_windows() == ["River window", "River window 2"]
    for _ in range(3):
        one.take("a", {"do": "undo"})
    assert one.document.text == MILL
    for _ in range(3):
        one.take("a", {"do": "redo"})
    assert one.document.text == changed


def test_a_field_that_another_page_has_changed_is_not_written_over():
    one = job()
    typed(one, "cloth/width", "56", page="b")
    before = one.document.text
    assert typed(one, "cloth/width", "60", saw="54") == {"clash": "56"}
    assert one.document.text == before
    assert typed(one, "cloth/width", "60", saw="56") == {}
    assert one.values.text(("cloth", "width")) == "60"


def test_an_answer_that_the_file_implies_is_what_a_page_saw_of_it():
    keys = "    top_to_bottom: mirror       # each fish is the same above and below its own middle\n"
    one = job(
        MILL.replace(keys, "    group: p4m\n")
        .replace("    mirror_offset: 0 ", "    # ")
        .replace("side_to_side: none ", "# ")
    )
    at = "cloth/print/half_turn"
    typed(one, at, "no", page="b")
    one.take("b", {"do": "undo"})
    assert one.values.told(("cloth", "print", "half_turn")) == ""
    # The group says yes, and so the page shows it.
    assert typed(one, at, "no", saw="yes") == {}


def test_two_pages_in_different_fields_both_get_their_way():
    one = job()
    for length in range(1, 4):
        assert typed(one, "cloth/width", "56 "[:length], "b", "5") == {}
        assert typed(one, "cloth/name", "Eels"[:length], "a", "") == {}
    assert one.values.text(("cloth", "width")) == "56"
    assert one.values.text(("cloth", "name")) == "Eel"


def test_another_unit_is_asked_about_before_anything_is_changed():
    one = job()
    typed(one, "units", "cm")
    assert (one.asking_unit, one.document.text) == ("cm", MILL)
    one.take("a", {"do": "unit", "value": "convert"})
    read = parse_job(one.document.text, "a")
    assert read.unit.value == "cm"
    assert read.windows[0].finished_length == parse_job(MILL, "a").windows[0].finished_length
    one.take("a", {"do": "undo"})
    typed(one, "units", "cm")
    one.take("a", {"do": "unit", "value": "leave"})
    assert (one.asking_unit, one.document.text) == ("", MILL)


def test_a_doubt_stands_until_it_is_agreed_to_and_comes_back_with_another_value():
    one = job()
    typed(one, "windows/0/finished_length", "300")
    ((words, agrees),) = [found for path, found in one.doubts.items() if path == AT]
    assert words
    assert agrees == "windows/0/finished_length=300"
    one.take("a", {"do": "agree", "path": "windows/0/finished_length"})
    assert AT not in one.doubts
    assert opened("abcd", one.draft).doubts == one.doubts
    typed(one, "windows/0/finished_length", "301")
    assert AT in one.doubts


def test_patterned_or_plain_and_back_brings_back_what_was_typed():
    one = job(LOCK)
    one.take("a", {"do": "switch", "path": "cloth", "name": "patterned", "value": "no"})
    assert not one.values.patterned
    one.take("a", {"do": "switch", "path": "cloth", "name": "patterned", "value": "yes"})
    assert parse_job(one.document.text, "a") == parse_job(LOCK, "a")


def test_unsaved_work_comes_back_with_what_its_file_held_one_step_back():
    one = opened("abcd", Draft(MILL.replace("54", "55"), "/x.yaml", MILL))
    assert one.unsaved
    one.take("a", {"do": "undo"})
    assert one.document.text == MILL
    assert not one.document.changed


def test_a_new_job_that_nobody_typed_in_is_nothing_to_be_kept():
    one = job()
    assert not one.unsaved
    typed(one, "job", "Mine")
    assert one.unsaved
