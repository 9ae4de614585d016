"""Allowances of single windows, and heading and hem by the names of the trade."""

from fractions import Fraction

import pytest

from jobs.cutting.resolve import resolve
from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.journal.placed import recorded
from jobs.model.allowances import usual_allowance
from jobs.model.choices import HeadingKind, HemKind, Unit
from jobs.model.cuts import Placement
from jobs.model.job import Job
from jobs.model.lengths import CENTIMETRE
from jobs.model.problems import Code
from projector.words.arithmetic import panel_lines
from projector.words.notices import notice_lines
from tests.jobs.packing.seam_checker import seam_faults

F = Fraction


def read(own: str, allowances: str = "heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1") -> Job:
    return parse_job(
        f"""
job: Two heads
units: in
cloth: {{width: 55, selvedge: 1/2, repeat: {{along: 25, across: 13 1/2}}, drop: 0, print: {{group: p1, one_way: yes}}}}
allowances: {{{allowances}}}
windows:
  - {{name: Bay, panels: left, finished_length: 84, rod: 40, fullness: 2, row: {{below_top: 2}}}}
  - name: Nook
    panels: left
    finished_length: 84
    rod: 40
    fullness: 2
    row: {{below_top: 2}}
    allowances: {{{own}}}
""",
        "job",
    )


def lengths(made: Job) -> dict[str, set[Fraction]]:
    cuts = resolve(made).sound().cuts
    return {name: {cut.length for cut in cuts if cut.window == name} for name in ("Bay", "Nook")}


def test_a_window_has_the_allowances_it_names_and_the_others_of_the_job():
    made = read("heading: 6, side_hem: 1")
    # 84 + 4 + 8 and 84 + 6 + 8.
    assert lengths(made) == {"Bay": {96}, "Nook": {98}}
    bay, nook = resolve(made).windows
    # 40 x 2 with two side hems of 3 and of 1.
    assert (bay.width.needed, nook.width.needed) == (86, 82)
    assert {cut.row for cut in bay.cuts} == {6}
    assert {cut.row for cut in nook.cuts} == {8}
    assert {cut.leading_side.hem for cut in nook.cuts if cut.number == 1} == {1}
    assert nook.cuts[0].hem == bay.cuts[0].hem == 8


def test_seams_differ_from_window_to_window():
    made = read("seam: 1, least_seam: 3/4")
    bay, nook = resolve(made).windows
    # Four columns of 13 1/2 leave 1/2 outside the seams, three 7 1/4.
    assert (bay.seams.columns, nook.seams.columns) == (4, 3)
    assert {cut.return_side.line - cut.return_side.trim for cut in nook.cuts if cut.number == 1} == {1}
    assert seam_faults(made, resolve(made).cuts) == []
    said = [line for line in panel_lines(resolve(made)) if "Seams: " in line]
    assert [line.partition(":")[0] for line in said] == ["Bay", "Nook"]


def test_a_kind_brings_its_usual_allowance_and_a_length_beside_it_counts():
    # Pinch pleats 4 1/2, a narrow hem 1: common practice, no source.
    assert lengths(read("heading_kind: pinch pleats, hem_kind: narrow"))["Nook"] == {84 + F(9, 2) + 1}
    assert lengths(read("heading_kind: pinch pleats, heading: 3"))["Nook"] == {84 + 3 + 8}


def test_the_job_may_name_kinds_in_the_place_of_lengths_and_tells_what_it_took():
    made = read("hem: 2", "heading_kind: eyelets, hem_kind: double, side_hem: 3, seam: 1/2, squaring: 1")
    assert lengths(made) == {"Bay": {84 + 8 + 8}, "Nook": {84 + 8 + 2}}
    assert [(one.path, one.code) for one in made.notices] == [
        (("allowances", "heading"), Code.ALLOWANCE_OF_KIND),
        (("allowances", "hem"), Code.ALLOWANCE_OF_KIND),
    ]
    assert list(notice_lines(made)) == [
        "No heading is given; 8 in is taken, as is usual (eyelets).",
        "No hem is given; 8 in is taken, as is usual (double).",
    ]


def test_a_window_keeps_the_kind_of_the_job_with_a_length_of_its_own():
    made = read("heading: 6", "heading_kind: wave, heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1")
    assert made.allowed_at("Nook").heading_kind is HeadingKind.WAVE
    assert made.allowed_at("Nook").heading == 6
    assert made.allowed_at("No such window") == made.allowances


@pytest.mark.parametrize("kind", [*HeadingKind, *HemKind])
def test_usual_allowances_are_round_lengths_of_either_unit_and_much_the_same(kind):
    inches, metric = usual_allowance(kind, Unit.INCH), usual_allowance(kind, Unit.CENTIMETRE)
    assert (4 * inches).denominator == 1
    assert (2 * metric / CENTIMETRE).denominator == 1
    assert abs(inches - metric) <= F(1, 4)


def test_what_a_window_may_not_have_of_its_own_is_refused():
    # Squaring is lost once for each piece, not for each window.
    with pytest.raises(FileRefused) as caught:
        read("squaring: 1")
    assert [one.path for one in caught.value.problems] == [("windows", 1, "allowances", "squaring")]


def test_the_record_of_a_cut_reads_its_sides_back_with_the_allowances_of_its_window():
    made = read("side_hem: 1")
    for cut in resolve(made).cuts:
        placed = Placement(cut, 1, F(0))
        assert recorded(placed, made.cloth).placement(made).cut.leading_side == cut.leading_side
