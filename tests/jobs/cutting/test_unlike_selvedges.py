"""Selvedges of two widths, as on embroidered cloth: print, columns, hems, strips and seams lie off the middle."""

from fractions import Fraction

import pytest

from jobs.cutting.columns import columns_across, printed_width
from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.io.writer import job_text
from jobs.model.choices import Hang, Panels, Run, Symmetry, Unit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Edge
from jobs.model.doubts import doubts
from jobs.model.job import Job
from jobs.model.print import Print, Repeat
from jobs.model.problems import Code
from jobs.model.schema import EachSide
from projector.page.form.changes import switched
from projector.page.form.switches import STRIPS
from projector.page.form.units import in_unit
from projector.page.form.values import values_of
from tests.jobs.made import cut_list, job, window

F = Fraction
TEXT = """
job: Embroidered
units: in
cloth: {width: 56, selvedge: {near: 1/2, far: 1 1/2}, repeat: {along: 25, across: 13 1/2}, drop: 0, print: {group: p1}}
windows:
  - {name: Bay, panels: left, finished_length: 84, cuts_per_panel: 1, row: {below_top: 0}}
"""


def test_a_file_tells_either_side_and_is_written_so():
    read = parse_job(TEXT, "job")
    assert read.cloth.selvedge == EachSide(F(1, 2), F(3, 2))
    assert (read.cloth.near_selvedge, read.cloth.far_selvedge, printed_width(read.cloth)) == (F(1, 2), F(3, 2), 54)
    assert "selvedge: {near: 1/2, far: 1 1/2}" in job_text(read)
    assert parse_job(job_text(read), "written").cloth.selvedge == read.cloth.selvedge
    assert parse_job(TEXT.replace("far: 1 1/2", "far: 1/2"), "job").cloth.selvedge == F(1, 2)


@pytest.mark.parametrize(
    ("written", "path", "code"),
    [
        ("{near: 1/2}", ("cloth", "selvedge", "far"), Code.MISSING_KEY),
        ("{near: 1/2, far: -1}", ("cloth", "selvedge", "far"), Code.LENGTH_BELOW_ZERO),
        ("{near: 30, far: 26}", ("cloth", "selvedge"), Code.SELVEDGES_LEAVE_NOTHING),
        ("{near: 1/2, far: 1, left: 2}", ("cloth", "selvedge", "left"), Code.UNKNOWN_KEY),
    ],
)
def test_what_is_wrong_with_a_side_is_told_at_its_place(written, path, code):
    with pytest.raises(FileRefused) as caught:
        parse_job(TEXT.replace("{near: 1/2, far: 1 1/2}", written), "job")
    assert (path, code) in [(one.path, one.code) for one in caught.value.problems]


def test_a_strip_of_three_inches_is_doubted_at_its_side():
    read = parse_job(TEXT.replace("far: 1 1/2", "far: 3"), "job")
    assert [one.path for one in doubts(read)] == [("cloth", "selvedge", "far")]


def embroidered(**more: object) -> Cloth:
    of = {"repeat": Repeat(F(25), F(27, 2)), **more}
    return Cloth("Sprigs", F(56), EachSide(F(1, 2), F(3, 2)), **of)


def made(of: Cloth, **more: object) -> Job:
    return job(of, window("Bay", 84, hang=Hang.SAME, **more), side_hem=3, heading=4, hem=8, seam="1/2")


def test_columns_lie_centred_in_the_print_and_not_in_the_cloth():
    # Four columns of 13 1/2 fill 54 from 1/2 to 54 1/2: the first motif 6 3/4 inside.
    assert columns_across(embroidered()) == (F(29, 4), F(83, 4), F(137, 4), F(191, 4))


def test_side_hems_begin_at_either_printed_edge():
    for cut in cut_list(made(embroidered())):
        near, far = (cut.side_at(edge) for edge in (Edge.NEAR, Edge.FAR))
        assert (near.line, far.line, near.hem, far.hem) == (F(7, 2), F(9, 2), 3, 3)


def test_a_mirrored_pair_needs_no_trim_where_its_columns_are_centred_in_the_print():
    of = embroidered(print=Print(side_to_side=Symmetry.MIRROR))
    cuts = cut_list(job(of, window("Bay", 84), side_hem=3))
    assert {side.trim for cut in cuts for side in (cut.leading_side, cut.return_side)} == {0}


def test_narrow_panels_begin_at_the_printed_edge():
    of = Cloth("Linen", F(56), EachSide(F(1, 2), F(3, 2)))
    slim = job(of, window("Slit", 40, rod=F(10), cuts_per_panel=None, fullness=F(2)), side_hem=1, heading=2, hem=2)
    # 10 + 2 hems of 1 = 12 each, from 1/2 on: the near one keeps its selvedge.
    assert [cut.across for cut in cut_list(slim)] == [(0, F(25, 2)), (F(25, 2), F(49, 2))]


def test_cloth_run_sideways_has_its_height_between_the_two_strips():
    of = Cloth("Voile", F(118), EachSide(F(1), F(3)), run=Run.SIDEWAYS)
    (cut,) = cut_list(job(of, window("Bay", 90, Panels.WHOLE, rod=F(60), cuts_per_panel=None), heading=4, hem=8))
    # The top lies at the far printed edge, 115 from the near selvedge edge.
    assert cut.across == (115 - 102, 115)


def test_the_form_asks_for_either_side_once_it_is_told_that_they_differ():
    text = TEXT.replace("selvedge: {near: 1/2, far: 1 1/2}", "selvedge: 1/2")
    aside: dict[object, str] = {}
    unlike = switched(text, ("cloth",), STRIPS, "unlike", aside)
    assert "near" in unlike
    assert values_of(unlike).has(("cloth", "selvedge", "far"))
    assert parse_job(switched(unlike, ("cloth",), STRIPS, "alike", aside), "job") == parse_job(text, "job")


def test_a_change_of_unit_takes_both_sides_with_it():
    read = parse_job(TEXT, "job")
    assert parse_job(in_unit(TEXT, Unit.CENTIMETRE), "job").cloth.selvedge == read.cloth.selvedge
