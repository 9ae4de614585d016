"""A pair that shall look the other way once some of it is cut: its panels change places, and no cloth does."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.journal import history_of, read_journal
from jobs.journal.history import GIVEN_UP
from jobs.model.choices import Unit
from jobs.model.cuts import Hand, Placement
from jobs.model.problems import Code, JobRefused, problem
from jobs.planning.going_on import GoneOn
from projector.words.told import note_lines
from projector.words.wording import sentence
from tests.jobs.planning.being_cut import HOUSE, Table, is_sound, of, where

OTHER_WAY = ("84,", "84, facing: right as it lies,")
BACK = (OTHER_WAY[1], OTHER_WAY[0])
JOINED = HOUSE.replace("84,", "84, cuts_per_panel: 2,")
HALVES = HOUSE.replace("84,", "84, cuts_per_panel: 1 1/2,")
NARROW = HOUSE.replace("84,", "84, rod: 20, fullness: 2,").replace("side_hem: 3", "side_hem: 1")
"""The panels of the East bay are 20 in flat, with their hems 22 in wide: both lie beside each other in the 55 in."""


def half_drop(cuts: int) -> str:
    """Three columns of 13 1/2 in lie between two seams, so with a half-drop each next cut is half a repeat lower."""
    of_pieces = HOUSE.replace("drop: 0", "drop: 1/2").replace("15 yd", "30 yd")
    return of_pieces.replace("84,", f"84, cuts_per_panel: {cuts},")


def lies(placements: Iterable[Placement]) -> dict[tuple[object, ...], tuple[str, str]]:
    """What is cut from where, whatever hand it is for: way, turnings and rows with the place."""
    found = {}
    for one in placements:
        cut = one.cut
        key = (where(one), cut.across, cut.way, cut.top_edge, cut.row, cut.length, cut.heading, cut.hem)
        found[key] = (cut.window, cut.hand.value)
    return found


def swapped(before: GoneOn, after: GoneOn, window: str = "East bay") -> None:
    """Every cut lies as it lay, those of the window in the other hand."""
    hands = {"left": "right", "right": "left"}
    old, new = lies(before.plan.placements), lies(after.plan.placements)
    assert new == {key: (name, hands[hand] if name == window else hand) for key, (name, hand) in old.items()}


@pytest.mark.parametrize("text", [HOUSE, JOINED, NARROW, half_drop(3)], ids=["one cut", "two", "narrow", "half-drop"])
@pytest.mark.parametrize("count", [1, 2])
def test_the_panels_change_places_and_nothing_moves(tmp_path: Path, text: str, count: int) -> None:
    table = Table(tmp_path / "house.yaml.cuts", text)
    first = table.begun()
    made = table.tick(of("East bay"), count)
    record = table.path.read_bytes()
    table.change(OTHER_WAY)
    begun = table.begun()
    swapped(first, begun)
    assert begun.plan.job.windows[0].facing.value == "right as it lies"
    assert len(begun.done) == count
    assert {one.cut.hand for one in begun.plan.placements if one.cut.id in begun.done} == {
        {Hand.LEFT: Hand.RIGHT, Hand.RIGHT: Hand.LEFT}[one.cut.hand] for one in made
    }
    hands = tuple(sorted({one.cut.hand for one in made}))
    assert problem((), Code.CUT_PANELS_CHANGED, window="East bay", hands=hands) in begun.notes
    # To look is not to write; what was written stands.
    assert table.path.read_bytes() == record
    table.tick()
    assert table.path.read_bytes().startswith(record)
    again = table.begun()
    assert not again.notes
    assert again.done[:count] == begun.done
    assert lies(again.plan.placements) == lies(begun.plan.placements)


def test_the_record_tells_the_new_hands_without_the_job(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    left, right = sorted(table.tick(of("East bay"), 2), key=lambda one: one.cut.hand)
    table.change(OTHER_WAY)
    table.tick(of("Porch"))
    made = {one.cut: one.placed for one in history_of(read_journal(table.path).events).made if one.placed}
    now = made["east-bay-right"]
    assert (now.piece, now.start, now.hand, now.panel) == (left.piece, left.start, Hand.RIGHT, "East bay, right")
    assert now.leading_edge is left.cut.return_edge
    assert made["east-bay-left"].start == right.start


def test_changed_there_and_back_all_is_as_it_was(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts", JOINED)
    table.tick(of("East bay"), 3)
    first = table.begun()
    table.change(OTHER_WAY)
    table.tick(of("Porch"))
    table.change(BACK)
    begun = table.begun()
    assert begun.plan.placements == first.plan.placements
    assert begun.done[:3] == first.done


def test_before_the_next_session_it_may_be_put_back_as_if_nothing_had_been(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    table.tick(of("East bay"))
    first = table.begun()
    table.change(OTHER_WAY)
    assert table.begun().notes
    table.change(BACK)
    assert table.begun() == first


def test_a_tick_taken_back_after_the_change_is_that_of_the_panel_as_it_is_called_now(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    table.tick(of("East bay"), 2)
    table.change(OTHER_WAY)
    table.append("undone", "east-bay-left")
    begun = table.begun()
    assert begun.done == ("east-bay-right",)
    is_sound(begun)


def test_a_cut_given_up_after_the_change_is_cut_anew_on_its_new_hand(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    made = table.tick(of("East bay"), 2)
    table.change(OTHER_WAY)
    table.append(GIVEN_UP, "east-bay-left")
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ("east-bay-right",)
    was_right = next(one for one in made if one.cut.hand is Hand.RIGHT)
    spare = next(one for one in begun.plan.placements if one.cut.window.endswith("(spare)"))
    assert where(spare) == where(was_right)


def test_a_window_may_be_renamed_in_the_same_breath(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    (made,) = table.tick(lambda one: one.cut.id == "east-bay-left")
    table.change(OTHER_WAY, ("East bay", "Sunrise bay"))
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ("sunrise-bay-right",)
    assert where(next(one for one in begun.plan.placements if one.cut.id in begun.done)) == where(made)


def test_a_pair_of_plain_cloth_changes_hands_with_its_border(tmp_path: Path) -> None:
    rows = [", row: {below_top: 5}", "first_row: 7 1/4, ", "first_row: 2, "]
    print_of = HOUSE[HOUSE.index("  repeat:") : HOUSE.index("  pieces:")]
    text = HOUSE.replace(print_of, "  border: near\n")
    for row in rows:
        text = text.replace(row, "")
    table = Table(tmp_path / "house.yaml.cuts", text)
    (made,) = table.tick(lambda one: one.cut.id == "east-bay-left")
    table.change(("border: near", "border: far"))
    begun = table.begun()
    assert begun.done == ("east-bay-right",)
    ours = next(one for one in begun.plan.placements if one.cut.id in begun.done)
    assert (where(ours), ours.cut.leading_edge) == (where(made), made.cut.return_edge)


def test_only_the_window_that_was_changed_changes(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    table.tick(count=5)
    first = table.begun()
    table.change(OTHER_WAY)
    swapped(first, table.begun())


def refused(table: Table) -> JobRefused:
    with pytest.raises(JobRefused) as found:
        table.begun()
    return found.value


def test_a_half_cut_that_would_lead_is_refused_until_the_job_lets_it_lead(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts", HALVES)
    made = table.tick(of("East bay"), 1)
    record = table.path.read_bytes()
    table.change(OTHER_WAY)
    said = refused(table).problems
    assert [(one.path, one.code) for one in said] == [(("windows", 0, "facing"), Code.CHANGED_HALF_LEADS)]
    assert sentence(said[0]) == (
        f"{made[0].cut.panel}, 1 of 2 is cut already: its panel cannot hang on the other hand, for then its half cut "
        "would lead; put `facing` back as it was, or write `half_at: leading edge`; or, where it shall be cut anew and "
        f"what is cut kept as a spare: lightchalk status JOB --cut-anew {made[0].cut.id}"
    )
    assert table.path.read_bytes() == record
    table.change(("84, facing", "84, half_at: leading edge, facing"))
    begun = table.begun()
    is_sound(begun)
    ours = next(one for one in begun.plan.placements if one.cut.id in begun.done)
    assert (where(ours), ours.cut.number) == (where(made[0]), 2)


def test_rows_that_would_hang_elsewhere_are_refused_until_the_job_asks_for_them(tmp_path: Path) -> None:
    """Of two cuts with a half-drop the second hangs half a repeat lower; were it first, so would the whole panel."""
    table = Table(tmp_path / "house.yaml.cuts", half_drop(2))
    table.tick(of("East bay"), 4)
    table.change(OTHER_WAY)
    said = refused(table).problems
    assert {(one.path, one.code, one.value("off")) for one in said} == {
        (("windows", 0, "facing"), Code.CHANGED_ROWS, Fraction(75, 8))
    }
    assert "rows would hang 9 3/8 in off those that the job asks for" in sentence(said[0])
    # 5 in below the top and half of 18 3/4 in more.
    table.text = table.text.replace("2, row: {below_top: 5}", "2, row: {below_top: 14 3/8}")
    assert len(table.begun().done) == 4


def test_what_is_told_names_the_panels_that_are_cut(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts")
    table.tick(lambda one: one.cut.id == "east-bay-left")
    table.change(OTHER_WAY)
    assert note_lines(table.begun().notes, Unit.INCH) == (
        "East bay looks the other way now: what was cut as its left panel hangs at the right, with the edge that led "
        "as its return edge. Mark it anew.",
    )


def test_the_right_panel_of_a_pair_cut_the_same_way_becomes_the_left_one_of_a_mirrored_pair(tmp_path: Path) -> None:
    table = Table(tmp_path / "house.yaml.cuts", HOUSE.replace("84,", "84, hang: same,"))
    (made,) = table.tick(lambda one: one.cut.id == "east-bay-right")
    table.change(("84, hang: same,", "84,"))
    begun = table.begun()
    is_sound(begun)
    assert begun.done == ("east-bay-left",)
    assert where(next(one for one in begun.plan.placements if one.cut.id in begun.done)) == where(made)


@pytest.mark.parametrize(
    "cloth",
    [
        ("selvedge: 3/4", "selvedge: {near: 1/2, far: 1 1/2}"),
        ("one_way: no}", "one_way: no, top_towards: last end}"),
        ("print: {top_to_bottom: mirror,", "faces_alike: yes\n  print: {top_to_bottom: none,"),
        ("print: {top_to_bottom: mirror,", "print: {mirror_offset: 3, top_to_bottom: mirror,"),
        ("width: 55", "width: 55\n  shrinkage: 3 %"),
    ],
    ids=["unlike selvedges", "tops to the last end", "face down", "a mirror between rows", "shrinking"],
)
@pytest.mark.parametrize("text", [HOUSE, JOINED, NARROW], ids=["one cut", "two", "narrow"])
def test_it_is_so_for_every_cloth_that_is_turned_or_used_face_down(
    tmp_path: Path, text: str, cloth: tuple[str, str]
) -> None:
    table = Table(tmp_path / "house.yaml.cuts", text)
    table.change(cloth)
    first = table.begun()
    table.tick(of("East bay"), 2)
    table.change(OTHER_WAY)
    begun = table.begun()
    swapped(first, begun)
    assert len(begun.done) == 2
    # A job that had looked so from the beginning asks for just these cuts.
    fresh = Table(tmp_path / "fresh.cuts", table.text).begun()
    assert {one.cut for one in begun.plan.placements} == {one.cut for one in fresh.plan.placements}
