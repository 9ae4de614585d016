"""The list of jobs: how far each is cut, its picture, and what was not saved last time."""

import re
from fractions import Fraction

import pytest

from jobs.io.reader import read_job
from jobs.journal import JournalFile, fingerprint, history_of
from jobs.journal.file import journal_path
from jobs.journal.history import tick_values
from jobs.planning.going_on import go_on, note_plan
from projector.page.form.blank import examples
from projector.page.kept import Draft, Drafts
from projector.page.work.how_far import how_far
from tests.projector.page.server.serving import served

MILL = examples()["Mill-race reading room"]
"""A pair: two cuts."""


@pytest.fixture
def job(tmp_path):
    (tmp_path / "jobs").mkdir()
    path = tmp_path / "jobs" / "mill.yaml"
    path.write_text(MILL)
    return path


def cut(job, count: int) -> None:
    """A session in which so many cuts are made."""
    with JournalFile(journal_path(job)) as journal:
        begun = go_on(read_job(job), history_of(journal.events))
        note_plan(journal, begun)
        to_do = [one.cut.id for one in begun.plan.placements if one.cut.id not in begun.done]
        for name in to_do[:count]:
            journal.append("done", name, fingerprint(begun.plan), **tick_values(begun.plan, name))


def told(job) -> tuple[int, int, str]:
    found = how_far(read_job(job), 2, job)
    return found["done"], found["of"], found["wrong"]


def test_cuts_that_are_made_are_counted_from_the_record(job):
    assert told(job) == (0, 2, "")
    cut(job, 1)
    assert told(job) == (1, 2, "")
    cut(job, 1)
    assert told(job) == (2, 2, "")


def test_a_window_that_came_to_the_job_since_is_counted_among_what_is_to_do(job):
    cut(job, 2)
    more = re.search(r"\n  - name: .*?(?=\n\S|\Z)", MILL, re.S).group()
    job.write_text(MILL.replace(more, more + more.replace("River window", "Weir window")).replace("7 1/2 yd", "15 yd"))
    assert told(job) == (2, 4, "")


def test_a_job_that_does_not_go_with_what_is_cut_says_so_and_how_much_that_is(job):
    cut(job, 2)
    job.write_text(MILL.replace("length: 7 1/2 yd", "length: 110"))
    done, of, wrong = told(job)
    assert (done, of) == (2, 0)
    assert wrong.startswith("The job does not go with what is cut: ")


def test_a_damaged_record_is_told_and_not_guessed_at(job):
    cut(job, 1)
    record = journal_path(job)
    record.write_text(record.read_text().replace('"planned"', '"plonned"'))
    assert "damaged" in told(job)[2]
    record.write_text("nothing of the kind\n" * 3)
    assert "damaged" in told(job)[2]


def test_a_repeat_that_was_measured_at_the_table_counts(job):
    with JournalFile(journal_path(job)) as journal:
        begun = go_on(read_job(job), history_of(journal.events))
        along = begun.plan.job.cloth.repeat.along + Fraction(1, 8)
        journal.append("replanned", None, fingerprint(begun.plan), along=str(along))
    cut(job, 1)
    assert told(job)[:2] == (1, 2)


def test_the_list_shows_each_job_and_shows_it_anew_when_a_cut_was_made(job, tmp_path):
    with served(job.parent, tmp_path / "state") as (client, _, _):
        first = client.get("/look/mill.yaml").json()
        assert "River window" in first["svg"]
        assert "2 cuts, none made yet" in first["far"]
        cut(job, 1)
        second = client.get("/look/mill.yaml").json()
        assert "<b>1</b> of 2 cuts made" in second["far"]
        assert second["far"].count('class="done"') == 1
        job.write_text("job: [\n")
        assert client.get("/look/mill.yaml").json() == {"svg": "", "far": ""}


def test_unsaved_work_of_last_time_has_its_picture_and_is_gone_on_with_or_dropped(job, tmp_path):
    drafts = Drafts(tmp_path / "state")
    drafts.keep("abcd", Draft(MILL.replace("River window", "Weir window")))
    drafts.close()
    with served(job.parent, tmp_path / "state") as (client, _, _):
        page = client.get("/").text
        assert "Not saved last time" in page
        assert 'data-thumb="/draft/abcd/look"' in page
        assert "Weir window" in client.get("/draft/abcd/look").json()["svg"]
        assert client.get("/draft/abce/look").status_code == 404
