from dataclasses import replace
from fractions import Fraction

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.editing import edited
from jobs.io.reader import parse_job
from jobs.model.choices import Panels
from jobs.model.job import Job
from jobs.model.piece import Piece
from jobs.model.schema import When, keys_of
from jobs.model.window import Window
from jobs.ordering import assumed, order
from jobs.planning.remedies import savings
from projector.page.form.blank import examples
from projector.page.form.differences import differences


def as_a_file_says(job: Job) -> Job:
    """The job without what has no meaning once its windows have no rod."""
    none = Window("", Panels.PAIR, Fraction(1), row=None)
    bare = {key.field: getattr(none, key.field) for key in keys_of(Window) if key.when is When.BY_ROD}
    windows = (window if window.rod is not None else replace(window, **bare) for window in job.windows)
    return replace(job, windows=tuple(windows))


@pytest.mark.parametrize("title", list(examples()))
def test_every_way_to_buy_less_is_written_as_edits_that_say_just_that_job(title):
    text = examples()[title]
    for number, cloth in enumerate(jobs_of_cloths(parse_job(text, "a"))):
        taken = assumed(cloth.job)
        job = taken.job
        for way in savings(taken.resolved, order(taken.resolved)):
            edits = [replace(one, path=cloth.frame.in_file(one.path)) for one in differences(job, way.job)]
            again = jobs_of_cloths(parse_job(edited(text, edits), "a"))[number].job
            assert again == as_a_file_says(way.job)


def test_one_more_piece_and_a_larger_allowance_are_written_beside_what_is_there():
    text = examples()["Mill-race reading room"]
    job = parse_job(text, "a")
    cloth = replace(job.cloth, pieces=(*job.cloth.pieces, Piece(Fraction(90))))
    other = replace(job, cloth=cloth, allowances=replace(job.allowances, hem=Fraction(19, 2)))
    changed = edited(text, differences(job, other))
    assert parse_job(changed, "a") == other
    assert [line for line in text.splitlines() if line.lstrip().startswith("#")] == [
        line for line in changed.splitlines() if line.lstrip().startswith("#")
    ]


def test_a_list_that_got_shorter_is_not_written_so():
    job = parse_job(examples()["Mill-race reading room"], "a")
    with pytest.raises(ValueError, match="lost an item"):
        differences(job, replace(job, windows=()))
