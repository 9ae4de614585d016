from dataclasses import replace
from pathlib import Path

import pytest

from jobs.io.editing import CannotEdit
from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from projector.page.form.blank import blank_job, examples
from projector.page.form.document import Document, elsewhere
from projector.page.form.plainness import made_plain
from projector.page.form.units import in_unit
from projector.page.form.values import values_of

MILL = examples()["Mill-race reading room"]
WIDTH = ("cloth", "width")


def opened() -> Document:
    return Document(MILL, Path("mill.yaml"), MILL)


def test_typing_in_one_field_is_one_step_however_many_keys_it_took():
    document = opened()
    for typed in ("5", "", "1", "13", "137", "137 cm"):
        document = document.typed(WIDTH, typed, needed=True)
    assert document.text == MILL.replace("width: 54 ", "width: 137 cm ")
    assert document.undone().text == MILL
    assert not document.undone().changed
    assert document.undone().redone().text == document.text


def test_a_field_left_and_entered_again_is_another_step():
    document = opened().typed(WIDTH, "55").left_field().typed(WIDTH, "56")
    assert values_of(document.undone().text).text(WIDTH) == "55"
    assert document.undone().undone().text == MILL


def test_a_pause_in_typing_begins_another_step_that_keeps_the_remark_all_the_same():
    document = opened().typed(WIDTH, "55").typed(WIDTH, "", paused=True).typed(WIDTH, "56")
    assert document.text == MILL.replace("width: 54 ", "width: 56 ")
    assert values_of(document.undone().text).text(WIDTH) == "55"


def test_a_field_left_as_it_was_is_no_step():
    document = opened().typed(WIDTH, "55").typed(WIDTH, "54").left_field()
    assert document.text == MILL
    assert document.before == ()


def test_going_back_to_what_the_file_holds_can_be_taken_back():
    document = opened().typed(WIDTH, "55").done(made_plain)
    assert document.reverted().text == MILL
    assert document.reverted().undone().text == document.text


def test_a_new_job_is_unsaved_until_it_is_kept():
    document = Document(blank_job(Unit.CENTIMETRE))
    assert document.changed
    kept = document.kept_in(Path("new.yaml"))
    assert not kept.changed
    assert kept.typed(WIDTH, "150").changed


def test_a_layout_that_cannot_be_changed_piecemeal_is_written_anew_and_says_so():
    text = "job: Tied\ncloth: {width: 54}\nwindows: [{name: Door, panels: whole, finished_length: 80}]\n"
    odd = text.replace("Tied", ">-\n  Tied\n  up")
    for document in (Document(odd, Path("a.yaml"), odd), Document(text, Path("a.yaml"), text)):
        changed = document.typed(("job",), "Loose").typed(WIDTH, "60")
        job = parse_job(changed.text, "a")
        assert (job.title, job.cloth.width) == ("Loose", 60)
    assert not changed.rewritten


def test_what_cannot_be_changed_in_a_broken_file_is_refused_and_stays():
    def never(text, aside):
        raise CannotEdit(("cloth",))

    with pytest.raises(CannotEdit):
        Document(MILL.replace("54", "five")).done(never)


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("title", examples())
def test_another_unit_leaves_every_length_as_long_as_it_was(title, unit):
    text = examples()[title]
    before, after = parse_job(text, "a"), parse_job(in_unit(text, unit), "b")
    assert replace(after, unit=before.unit) == before
    assert after.unit is unit


@pytest.mark.parametrize("unit", Unit)
def test_a_new_job_can_be_cut_as_it_is(unit):
    from jobs.planning.planner import plan_job

    plan = plan_job(parse_job(blank_job(unit), "new"))
    assert plan.short == 0
    assert len(plan.cuts) == 2


def test_windows_level_with_one_that_is_renamed_follow_key_by_key():
    text = examples()["Lock-keeper's cottage"]
    document = Document(text, Path("a.yaml"), text)
    for typed in ("T", "To", "Weir", ""):
        document = document.typed(("windows", 0, "name"), typed, needed=True)
    document = document.typed(("windows", 0, "name"), "Weir window", needed=True)
    assert parse_job(document.text, "a").windows[1].row.level_with == "Weir window"
    assert document.undone().text == text


def test_a_copy_in_another_folder_still_finds_the_picture_of_the_print(tmp_path):
    text = MILL.replace("  drop: 0", "  picture: scans/minnow.png\n  drop: 0")
    document = Document(text, tmp_path / "mill.yaml", text)
    assert values_of(elsewhere(document)).text(("cloth", "picture")) == str(tmp_path / "scans" / "minnow.png")
    assert elsewhere(Document(text)) == text
    assert elsewhere(opened()) == MILL
