"""A job that changes after cuts were ticked: the rest is planned around what is cut, or it is said what to do."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.journal import JournalFile, fingerprint, history_of, read_journal
from jobs.journal.history import GIVEN_UP, PLANNED, tick_values
from jobs.model.cuts import Placement
from jobs.model.plan import Plan
from jobs.model.problems import Code, JobRefused, problem
from jobs.planning.going_on import GoneOn, PlacesUnknown, go_on, note_plan
from jobs.planning.planner import plan_job
from projector.words.wording import sentence
from tests.jobs.planning.being_cut import HOUSE, Table, is_sound, of, where


@pytest.fixture
def table(tmp_path: Path) -> Table:
    return Table(tmp_path / "house.yaml.cuts")


PORCH = "  - {name: Porch, panels: whole, finished_length: 50, row: {below_top: 5}}\n"
EAST = "  - {name: East bay, panels: pair, finished_length: 84, row: {below_top: 5}}\n"
WEST = "  - {name: West bay, panels: pair, finished_length: 70, row: {below_top: 5}}\n"

PIECES = HOUSE[HOUSE.index("  pieces:") : HOUSE.index("allowances")]

GOES_ON = {
    "a flaw in the next cut": [("7 1/4, dye_lot", "7 1/4, flaws: [{from: 130, to: 132}], dye_lot")],
    "another window longer": [("70, row", "76, row")],
    "another window shorter": [("70, row", "61 1/2, row")],
    "another window renamed": [("West bay", "Sunset bay")],
    "the window renamed": [("East bay", "Sunrise bay")],
    "two windows renamed": [("East bay", "Sunrise bay"), ("West bay", "Sunset bay")],
    "a window added": [(PORCH, PORCH + PORCH.replace("Porch", "Pantry"))],
    "a window added before": [(EAST, PORCH.replace("Porch", "Attic") + EAST)],
    "another window left out": [(PORCH, "")],
    "windows in another order": [(EAST + WEST, WEST + EAST)],
    "a smaller hem": [("hem: 8", "hem: 6")],
    "a larger hem": [("hem: 8", "hem: 9")],
    "another heading": [("heading: 4", "heading: 4 1/2")],
    "another side hem": [("side_hem: 3", "side_hem: 2")],
    "the window shorter": [("finished_length: 84", "finished_length: 82")],
    "one panel of the pair left out": [(EAST, EAST.replace("pair", "left"))],
    "more cuts in a panel of another window": [("70, row", "70, cuts_per_panel: 2, row")],
    "more cuts in a panel of the window": [("84, row", "84, cuts_per_panel: 2, row")],
    "a piece added": [("first_row: 2, dye_lot: A}\n", "first_row: 2, dye_lot: A}\n    - {length: 4 yd, dye_lot: A}\n")],
    "a piece measured longer": [("length: 15 yd", "length: 15 1/4 yd")],
    "pieces in another order": [
        ("    - {length: 15 yd, first_row: 7 1/4, dye_lot: A}\n", ""),
        (
            "first_row: 2, dye_lot: A}\n",
            "first_row: 2, dye_lot: A}\n    - {length: 15 yd, first_row: 7 1/4, dye_lot: A}\n",
        ),
    ],
    "the first row measured anew": [("first_row: 7 1/4", "first_row: 7 1/2")],
    "the repeat measured anew": [("along: 18 3/4", "along: 18 7/8")],
    "another drop": [("drop: 0", "drop: 1/2")],
    "more squaring": [("squaring: 1", "squaring: 2")],
    "another table": [("length: 120, width", "length: 72, width")],
    "a table left out": [("table: {length: 120, width: 60}\n", "")],
    "flaws may lie in the hem": [("windows:", "flaws_may_lie_in: [hem]\nwindows:")],
    "another title and colour": [("Signal box", "Signal cabin"), ("width: 55", 'width: 55\n  colour: "#203040"')],
    "wider cloth on the ticket": [("width: 55", "width: 55 1/2")],
    "the pieces left out": [(PIECES, "")],
}
"""Changes after which work goes on around what is cut, first among them those that locked a job before."""


@pytest.mark.parametrize("change", GOES_ON)
@pytest.mark.parametrize("count", [1, 2])
def test_after_a_change_what_is_cut_stays_and_the_rest_is_planned_around_it(
    table: Table, change: str, count: int
) -> None:
    made = table.tick(of("East bay"), count)
    table.change(*GOES_ON[change])
    begun = table.begun()
    is_sound(begun)
    lie = sorted(where(one)[1:] for one in made)
    placed = {one.cut.id: one for one in begun.plan.placements}
    spares = [one for one in placed.values() if one.cut.window.endswith("(spare)")]
    assert sorted(where(one)[1:] for one in [*(placed[cut] for cut in begun.done), *spares]) == lie
    # What the next session finds is what this one noted, renamed or not.
    table.tick()
    again = table.begun()
    is_sound(again)
    assert again.done[: len(begun.done)] == begun.done
    assert len(again.done) == len(begun.done) + 1
    news = (Code.CUT_WINDOW_RENAMED, Code.CUT_SPARE_NO_WINDOW, Code.CUT_SPARE_NOT_ASKED)
    assert again.notes == tuple(note for note in begun.notes if note.code not in news)


SAID = {
    "the window longer": (
        [("84, row", "90, row")],
        "East bay, left is cut already: it was cut 96 in long, the job now asks for 102 in",
    ),
    "its rows elsewhere": (
        [("84, row: {below_top: 5}", "84, row: {below_top: 9}")],
        "its first row lies 9 in below its top edge, the job now asks for 13 in",
    ),
    "cloth that shrinks": (
        [("width: 55", "width: 55\n  shrinkage: 3 %")],
        "it was cut 96 in long, the job now asks for about 99 in",
    ),
    "cloth run sideways": (
        [
            ("width: 55", "width: 112\n  run: sideways"),
            ("84, row", "84, rod: 40, row"),
            ("70, row", "70, rod: 40, row"),
            ("50, row", "50, rod: 40, row"),
        ],
        "it was cut with its length the other way of the cloth",
    ),
    "the print the other way up": (
        [("one_way: no", "one_way: no, top_towards: last end")],
        "is cut already: it",
    ),
    "a piece cut down to what remains": (
        [("length: 15 yd", "length: 2 yd")],
        "East bay, left is cut from piece 1, which was 540 in long",
    ),
    "the piece left out": (
        [("    - {length: 15 yd, first_row: 7 1/4, dye_lot: A}\n", "")],
        "East bay, left is cut from piece 1, which was 540 in long",
    ),
    "the window renamed to one of two": (
        [("East bay", "Sunrise bay"), (PORCH, EAST.replace("East bay", "Sunset bay"))],
        "East bay is cut already and the job has no such window any more; it may be Sunrise bay or Sunset bay now",
    ),
}
"""Changes that contradict what is cut."""


def left_panel(one: Placement) -> bool:
    return one.cut.id == "east-bay-left"


@pytest.mark.parametrize("change", SAID)
def test_what_contradicts_a_cut_is_said_with_what_to_do_and_putting_it_back_goes_on(table: Table, change: str) -> None:
    (made,) = table.tick(left_panel)
    changes, words = SAID[change]
    before = table.text
    table.change(*changes)
    with pytest.raises(JobRefused) as refused:
        table.begun()
    told = [sentence(one) for one in refused.value.problems]
    assert any(words in one for one in told), told
    table.text = before
    begun = table.begun()
    is_sound(begun)
    assert begun.done == (made.cut.id,)


def test_a_pair_hung_the_same_way_keeps_its_upright_panel_and_a_turned_one_is_told(table: Table) -> None:
    table.tick(left_panel)
    before = table.text
    table.change(("84, row", "84, hang: same, row"))
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ("east-bay-left",)
    table.text = before
    table.tick(lambda one: one.cut.id == "east-bay-right")
    table.change(("84, row", "84, hang: same, row"))
    with pytest.raises(JobRefused) as refused:
        table.begun()
    assert sentence(refused.value.problems[0]).startswith(
        "East bay, right is cut already: it was cut turned, the job now asks for upright"
    )


def test_a_window_that_is_cut_and_left_out_is_a_spare_whose_cloth_is_not_cut_again(table: Table) -> None:
    (made,) = table.tick(left_panel)
    table.change((EAST, ""))
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ()
    assert begun.notes == (problem((), Code.CUT_SPARE_NO_WINDOW, cut="East bay, left"),)
    (spare,) = [one for one in begun.plan.placements if one.cut.id not in {cut.id for cut in begun.plan.cuts}]
    assert where(spare) == where(made)
    # It stays a spare, and is not told of again as if it were news.
    table.tick()
    again = table.begun()
    assert where(spare) in [where(one) for one in again.plan.placements]
    assert again.notes == ()
    assert len(again.done) == 1


def test_a_cut_given_up_is_planned_anew_beside_what_is_cut(table: Table) -> None:
    (made,) = table.tick(left_panel)
    table.change(("84, row", "90, row"))
    with JournalFile(table.path) as journal:
        journal.append(GIVEN_UP, made.cut.id, "plan")
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ()
    anew = next(one for one in begun.plan.placements if one.cut.id == made.cut.id)
    assert (anew.cut.length, where(anew) == where(made)) == (102, False)
    assert where(made) in [where(one) for one in begun.plan.placements]
    table.tick(left_panel)
    assert table.begun().done == (made.cut.id,)


def test_a_trim_is_told_where_a_cut_is_longer_than_the_job_asks_for_now(table: Table) -> None:
    table.tick(left_panel)
    table.change(("84, row", "82, row"))
    assert table.begun().notes == (problem((), Code.CUT_TO_TRIM, cut="East bay, left", foot=Fraction(2)),)


def test_a_cut_a_sixteenth_too_short_is_long_enough(table: Table) -> None:
    table.tick(left_panel)
    table.change(("84, row", "84 1/16, row"))
    begun = table.begun()
    assert (begun.done, begun.notes) == (("east-bay-left",), ())
    table.change(("84 1/16, row", "84 1/8, row"))
    with pytest.raises(JobRefused) as refused:
        table.begun()
    assert [one.code for one in refused.value.problems] == [Code.CUT_OTHER_LENGTH]


def test_rows_counted_from_the_foot_are_trimmed_at_the_top(table: Table) -> None:
    table.change(("84, row: {below_top: 5}", "84, row: {above_foot: 2}"))
    table.tick(left_panel)
    table.change(("84, row", "82, row"))
    assert table.begun().notes == (problem((), Code.CUT_TO_TRIM, cut="East bay, left", top=Fraction(2)),)


def test_hems_cut_before_they_were_changed_are_told(table: Table) -> None:
    table.tick(left_panel)
    table.change(("hem: 8", "hem: 10"))
    sewn = {"cut": "East bay, left", "heading": Fraction(4), "hem": Fraction(8)}
    assert table.begun().notes == (problem((), Code.CUT_OTHER_TURNINGS, **sewn),)


def test_a_row_measured_anew_is_told_of_each_cut_that_lies_off_it(table: Table) -> None:
    table.tick(left_panel)
    table.change(("first_row: 7 1/4", "first_row: 7 3/4"))
    assert table.begun().notes == (problem((), Code.CUT_OFF_ROWS, cut="East bay, left", off=Fraction(1, 2)),)


def test_a_joined_cut_follows_the_cut_of_its_panel_that_is_made(table: Table) -> None:
    table.change(("84, row", "84, cuts_per_panel: 2, row"))
    (made,) = table.tick(lambda one: one.cut.id == "east-bay-left-1")
    table.change(("hem: 8", "hem: 6"), ("heading: 4", "heading: 5"))
    placed = {one.cut.id: one for one in table.begun().plan.placements}
    second = placed["east-bay-left-2"].cut
    # Rows meet at the seam where both finished tops are level: 5 below them, for 13 1/2 across is one straight column.
    assert (made.cut.row, made.cut.heading) == (9, 4)
    assert (second.row, second.heading) == (10, 5)


def test_renamed_twice_and_taken_back_in_between(table: Table) -> None:
    table.tick(left_panel)
    table.change(("East bay", "Sunrise bay"))
    assert table.begun().done == ("sunrise-bay-left",)
    renamed = problem((), Code.CUT_WINDOW_RENAMED, window="East bay", name="Sunrise bay")
    assert table.begun().notes == (renamed,)
    table.tick(lambda one: one.cut.id == "sunrise-bay-right")
    table.change(("Sunrise bay", "Morning bay"))
    assert table.begun().done == ("morning-bay-left", "morning-bay-right")
    table.append("undone", "morning-bay-left")
    assert table.begun().done == ("morning-bay-right",)
    table.change(("Morning bay", "East bay"))
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ("east-bay-right",)


def test_a_window_there_already_is_never_taken_for_one_renamed(table: Table) -> None:
    table.change((WEST, EAST.replace("East", "West")))
    table.tick(left_panel)
    table.change((EAST, ""))
    begun = table.begun()
    assert begun.done == ()
    assert begun.notes[0].code is Code.CUT_SPARE_NO_WINDOW


def test_an_unchanged_job_goes_on_by_the_plan_it_was_cut_by_however_that_was_found(table: Table) -> None:
    """A search that was interrupted, another version: the plan is in the record."""
    found = plan_job(table.job)
    longest = max(found.placements, key=lambda one: (one.piece, one.start))
    later = replace(longest, start=longest.start + table.job.cloth.repeat.along)  # type: ignore[union-attr]
    # A plan that no search would find: its last cut lies a repeat farther on than it must.
    poor: Plan = replace(found, placements=tuple(later if one is longest else one for one in found.placements))
    first = poor.placements[0].cut.id
    with JournalFile(table.path) as journal:
        note_plan(journal, GoneOn(poor))
        journal.append("done", first, fingerprint(poor), **tick_values(poor, first))
    begun = table.begun()
    assert begun.plan.placements == poor.placements
    assert begun.done == (first,)
    with JournalFile(table.path) as journal:
        note_plan(journal, begun)
        assert [event.event for event in journal.events] == [PLANNED, "done"]


def test_without_the_line_of_the_plan_cuts_are_known_by_their_ticks(table: Table) -> None:
    made = table.tick(count=3)
    lines = table.path.read_bytes().splitlines(keepends=True)
    table.path.write_bytes(b"spoilt\n" + b"".join(lines[1:]))
    history = history_of(read_journal(table.path).events)
    assert [where(one.placed) for one in history.made if one.placed] == [where(one) for one in made]
    begun = go_on(table.job, history)
    is_sound(begun)
    assert [where(one) for one in begun.plan.placements if one.cut.id in begun.done] == [where(one) for one in made]


def old_ticks(table: Table, count: int = 2) -> Plan:
    """Ticks as versions wrote them that kept no places."""
    plan = plan_job(table.job)
    with JournalFile(table.path) as journal:
        for one in plan.placements[:count]:
            journal.append("done", one.cut.id, fingerprint(plan))
    return plan


def test_ticks_of_an_older_version_get_their_places_when_the_job_is_planned_as_then(table: Table) -> None:
    plan = old_ticks(table)
    begun = table.begun()
    assert begun.plan.placements[:2] == plan.placements[:2]
    assert begun.plan.used == plan.used
    with JournalFile(table.path) as journal:
        note_plan(journal, begun)
    table.change(("84, row", "86, row"))
    begun = table.begun()
    is_sound(begun)
    assert [where(one) for one in begun.plan.placements if one.cut.id in begun.done] == [
        where(one) for one in plan.placements[:2]
    ]


def test_ticks_of_an_older_version_for_another_plan_are_named(table: Table) -> None:
    old_ticks(table)
    table.change(("70, row", "76, row"))
    with pytest.raises(PlacesUnknown) as unknown:
        table.begun()
    assert len(unknown.value.cuts) == 2


def test_a_record_from_elsewhere_with_absurd_values_never_runs_away(table: Table) -> None:
    made = table.tick()[0]
    for absurd in ("1/0", "1e99999999", "9" * 90, None, -1, [], "nan"):
        with JournalFile(table.path) as journal:
            values = tick_values(plan_job(table.job), made.cut.id)["placed"]
            journal.append("undone", made.cut.id, "plan")
            journal.append("done", made.cut.id, "plan", placed={**values, "start": absurd})
        known = history_of(read_journal(table.path).events).made[0]
        assert (known.cut, known.placed) == (made.cut.id, None)


def test_a_wish_that_came_after_cutting_began_moves_what_is_to_do_and_nothing_else(table: Table) -> None:
    made = table.tick(of("East bay"), 2)
    before = {one.cut.id: where(one) for one in table.begun().plan.placements}
    table.change(("{name: Porch,", "{places: [{panel: whole, near: 200, piece: 2}], name: Porch,"))
    begun = table.begun()
    is_sound(begun)
    after = {one.cut.id: where(one) for one in begun.plan.placements}
    assert all(after[one.cut.id] == where(one) for one in made)
    # Rows of piece 2 lie at 2, 20 3/4 ...; the one of the porch is 5 + 4 in below its top edge: 193 is on the row.
    piece, start, _ = after["porch-whole"]
    assert piece == 2
    assert (start + 9 - 2) % Fraction(75, 4) == 0
    assert abs(start - 200) <= Fraction(75, 8)
    assert before["porch-whole"] != after["porch-whole"]
    table.tick(of("Porch"))
    assert {one.cut.id: where(one) for one in table.begun().plan.placements} == after


def test_a_wish_for_a_cut_that_is_made_does_nothing(table: Table) -> None:
    (made,) = table.tick(left_panel)
    table.change(("{name: East bay,", "{places: [{panel: left, near: 300}], name: East bay,"))
    begun = table.begun()
    assert where(next(one for one in begun.plan.placements if one.cut.id == made.cut.id)) == where(made)
    assert begun.plan.unmet == ()


def test_a_narrow_panel_that_is_cut_serves_wherever_across_the_cloth_it_came_from(table: Table) -> None:
    """Three panels of 20 in and two hems of 1 in each: two lie beside each other in 54 in, in the order they are found.

    With one more before it the panel that is cut would lie at the near selvedge; it was cut 22 in from there.
    """
    narrow = "  - {name: %s, panels: whole, finished_length: 60, rod: 20, fullness: 1}\n"
    plain = "cloth: {name: Sand, width: 54, pieces: [{length: 20 yd}]}\nallowances: {side_hem: 1, hem: 8}\n"
    table.text = f"job: Hut\nunits: in\n{plain}windows:\n{narrow % 'M'}{narrow % 'N'}"
    (made,) = table.tick(of("N"))
    assert made.cut.across == (22, 44)
    table.change((narrow % "M", narrow % "O" + narrow % "M"))
    begun = table.begun()
    assert begun.done == ("n-whole",)
    assert {one.cut.id for one in begun.plan.placements} == {"m-whole", "n-whole", "o-whole"}
    table.change(("rod: 20", "rod: 23"))
    with pytest.raises(JobRefused):
        table.begun()
