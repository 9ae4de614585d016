"""Job files of several cloths: what is understood, and every problem at its place."""

from __future__ import annotations

from fractions import Fraction

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.log import FileRefused
from jobs.io.reader import parse_job
from jobs.model.problems import Code

HEAD = "job: Bay\nunits: in\n"
FACE = "name: Kites, width: 54, selvedge: 1/2, repeat: {along: 25, across: 26}, drop: 0, print: {one_way: no}"
SATEEN = "{name: Sateen, width: 54, selvedge: 0, pieces: [{length: 9 yd}]}"
REST = "allowances: {heading: 4, hem: 8, side_hem: 3, seam: 1/2, squaring: 1}\n"
WINDOW = "{name: East, panels: whole, finished_length: 84, rod: 40, fullness: 2"


def text(cloths: str, *windows: str) -> str:
    return HEAD + cloths + REST + "windows:\n" + "".join(f"  - {one}\n" for one in windows)


def problems_of(content: str) -> list[tuple[tuple[str | int, ...], Code]]:
    with pytest.raises(FileRefused) as caught:
        parse_job(content, "bay.yaml")
    return [(one.path, Code(one.code)) for one in caught.value.problems]


def test_a_list_of_one_cloth_means_the_same_as_the_one_cloth() -> None:
    listed = parse_job(text(f"cloths: [{{{FACE}}}]\n", f"{WINDOW}}}"), "bay.yaml")
    alone = parse_job(text(f"cloth: {{{FACE}}}\n", f"{WINDOW}}}"), "bay.yaml")
    assert listed == alone
    assert listed.listed
    assert jobs_of_cloths(listed)[0].job == alone


def test_cloths_stand_beside_the_first_one_or_all_in_the_list() -> None:
    beside = parse_job(text(f"cloth: {{{FACE}}}\ncloths: [{SATEEN}]\n", f"{WINDOW}, lining: {{cloth: sateen}}}}"), "a")
    listed = parse_job(text(f"cloths: [{{{FACE}}}, {SATEEN}]\n", f"{WINDOW}, lining: {{cloth: sateen}}}}"), "b")
    assert beside == listed
    assert [one.name for one in beside.every_cloth] == ["Kites", "Sateen"]
    assert [one.frame.cloth for one in jobs_of_cloths(listed)] == [("cloths", 0), ("cloths", 1)]
    assert [one.frame.cloth for one in jobs_of_cloths(beside)] == [("cloth",), ("cloths", 0)]


def test_each_cloth_is_settled_for_itself() -> None:
    """A first row of 30 on a repeat of 25 is 5; a window of plain cloth gets no row, one of patterned a row at top."""
    patterned = "{name: Reeds, width: 54, selvedge: 0, repeat: {along: 25}, pieces: [{length: 300, first_row: 30}]}"
    job = parse_job(
        text(
            f"cloths: [{SATEEN}, {patterned}]\n",
            "{name: East, panels: whole, finished_length: 84}",
            "{name: West, panels: whole, finished_length: 84, cloth: Reeds}",
        ),
        "bay.yaml",
    )
    assert job.cloths[0].pieces[0].first_row == 5
    assert job.windows[0].row is None
    assert job.windows[1].row is not None
    assert job.windows[1].row.below_top == 0
    told = {(notice.path, notice.code) for notice in job.notices}
    assert (("windows", 1, "row"), Code.LEFT_OUT) in told
    assert (("windows", 0, "row"), Code.LEFT_OUT) not in told


@pytest.mark.parametrize(
    ("content", "found"),
    [
        (text("cloths: []\n", f"{WINDOW}}}"), (("cloths",), Code.LIST_TOO_SHORT)),
        (text("", f"{WINDOW}}}"), (("cloth",), Code.MISSING_KEY)),
        (
            text(f"cloths: [{{{FACE}}}, {SATEEN}, {SATEEN}]\n", f"{WINDOW}}}"),
            (("cloths", 2, "name"), Code.CLOTH_NAME_TWICE),
        ),
        (
            text(f"cloth: {{{FACE}}}\ncloths: [{SATEEN}]\n", f"{WINDOW}, cloth: Satin}}"),
            (("windows", 0, "cloth"), Code.NO_SUCH_CLOTH),
        ),
        (
            text(f"cloth: {{{FACE}}}\ncloths: [{SATEEN}]\n", f"{WINDOW}, lining: {{cloth: Satin}}}}"),
            (("windows", 0, "lining", "cloth"), Code.NO_SUCH_CLOTH),
        ),
        (
            text(f"cloth: {{{FACE}}}\n", f"{WINDOW}, lining: {{cloth: Kites, cuts_per_panel: 2}}}}"),
            (("windows", 0, "lining", "cuts_per_panel"), Code.CUTS_FOLLOW_THE_FACE),
        ),
        (
            text(f"cloth: {{{FACE}}}\n", f"{WINDOW}, lining: {{cloth: Kites, shorter: 90}}}}"),
            (("windows", 0, "lining", "shorter"), Code.LINING_TOO_SHORT),
        ),
        (
            text(
                f"cloth: {{{FACE}}}\ncloths: [{SATEEN.replace('length: 9 yd', 'length: 9 yd, first_row: 2')}]\n",
                f"{WINDOW}}}",
            ),
            (("cloths", 0, "pieces", 0, "first_row"), Code.ROW_NEEDS_REPEAT),
        ),
        (
            text(
                f"cloths: [{SATEEN}, {{{FACE}}}]\n",
                f"{WINDOW}, top_height: 90}}",
                "{name: West, panels: whole, finished_length: 84, cloth: Kites, top_height: 90, "
                "row: {level_with: East}}",
            ),
            (("windows", 1, "row", "level_with"), Code.LEVEL_IN_ANOTHER_CLOTH),
        ),
        (
            text(f"cloths: [{SATEEN}, {{{FACE}}}]\n", f"{WINDOW}, row: {{below_top: 3}}}}"),
            (("windows", 0, "row"), Code.PLAIN_HAS_NO_ROWS),
        ),
    ],
)
def test_a_problem_of_a_cloth_stands_at_its_place(content: str, found: tuple[tuple[str | int, ...], Code]) -> None:
    assert problems_of(content) == [found]


def test_windows_of_one_name_are_found_whatever_their_cloth() -> None:
    content = text(
        f"cloth: {{{FACE}}}\ncloths: [{SATEEN}]\n",
        f"{WINDOW}}}",
        "{name: east, panels: whole, finished_length: 84, cloth: Sateen}",
    )
    assert problems_of(content) == [(("windows", 1, "name"), Code.NAME_TWICE)]


def test_turnings_of_its_own_are_read() -> None:
    job = parse_job(text(f"cloth: {{{FACE}}}\n", f"{WINDOW}, allowances: {{hem: 5, side_hem: 1 1/2}}}}"), "a")
    own = job.windows[0].allowances
    assert own is not None
    assert (own.heading, own.hem, own.side_hem) == (None, Fraction(5), Fraction(3, 2))
