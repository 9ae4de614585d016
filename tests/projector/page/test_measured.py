import json
from fractions import Fraction

import pytest

from jobs.io.measured import measured_from, with_measured
from jobs.io.reader import parse_job
from jobs.model.choices import Unit
from projector.page.form.blank import blank_job
from projector.page.form.changes import with_value
from projector.page.measured import measured, taken

SHEET = ("cloth", "print")
FOUND = {
    "along_in": 12.3742,
    "across_in": 13.2518,
    "drop": 0.5,
    "symmetry": {"top_to_bottom": "mirror", "side_to_side": "none", "half_turn": False},
    "confidence": 0.83,
    "along_uncertainty_in": 0.004,
    "across_uncertainty_in": 0.006,
    "mirror_offset_in": 2.3,
    "mirror_offset_across_in": None,
    "scale_from": "two points",
    "second": None,
    "repeats": 14,
    "slanted": False,
    "close": ["top_to_bottom"],
    "notices": ["light falls off towards one side"],
}
SECOND = {"along_in": 24.7484, "across_in": 13.2518, "drop": 0.0, "larger": True, "motifs_differ": 0.11}


def read(unit: Unit = Unit.INCH, scale_doubt: float = 0.0, **others):
    return measured(json.dumps({**FOUND, **others}), unit, scale_doubt)


def test_a_measured_print_is_told_in_the_unit_of_the_job():
    # 12.3742 in x 2.54 = 31.43 cm and 314.3 mm; 13.2518 in x 2.54 = 33.66 cm.
    assert read().answers[0].label == "Repeat along 12.374, across 13.252 in, half-drop"
    assert read(Unit.CENTIMETRE).answers[0].label == "Repeat along 31.43, across 33.66 cm, half-drop"
    assert read(Unit.MILLIMETRE).answers[0].label == "Repeat along 314.3, across 336.6 mm, half-drop"


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize(("along", "drop", "mirror"), [(12.378, 0.493, "none"), (12.378, 0.493, "mirror"),
                                                       (12.3751, 0.3308, "none"), (9.0, 0.46, "none")])  # fmt: skip
def test_the_form_and_the_command_write_the_same_numbers_into_a_job(unit, along, drop, mirror):
    symmetry = {"top_to_bottom": mirror, "side_to_side": "none", "half_turn": False}
    found = {**FOUND, "along_in": along, "drop": drop, "symmetry": symmetry}
    blank = blank_job(unit)
    by_form = taken(blank, measured(json.dumps(found), unit).answers[0])
    by_command, _ = with_measured(blank, measured_from(found), "job")
    assert by_form == by_command
    cloth = parse_job(by_form, "job").cloth
    assert cloth.drop == {0.493: Fraction(1, 2), 0.3308: Fraction(1, 3), 0.46: Fraction(46, 100)}[drop]


def test_a_word_where_the_keys_of_a_repeat_belong_makes_way_for_them():
    half_typed = with_value(with_value(blank_job(Unit.INCH), ("cloth", "repeat"), "12"), ("cloth", "print"), "pm")
    assert parse_job(taken(half_typed, read().answers[0]), "a").cloth.repeat.along * 1000 == 12374


def test_the_doubt_of_the_two_clicks_is_counted():
    # 2 x 0.006 = 0.012, alone 0.01; with a scale out by 1 %: the root of 0.012^2 + 0.1325^2 = 0.133.
    assert "give or take 0.01 in" in read().lines[0]
    assert "give or take 0.13 in" in read(scale_doubt=0.01).lines[0]


def test_what_is_close_and_what_was_noticed_is_said_in_words():
    said = " ".join(read().lines)
    assert "whether it mirrors from top to bottom" in said
    assert "Light falls off towards one side." in said
    assert "_" not in said


def test_a_selvedge_that_was_not_found_is_said():
    assert any(
        "selvedge was not found" in line for line in read(scale_from="cloth width, taken as the whole picture").lines
    )


def test_two_close_answers_are_both_offered_and_the_picture_belongs_to_the_first():
    found = read(second=SECOND)
    assert [answer.label for answer in found.answers] == [
        "Repeat along 12.374, across 13.252 in, half-drop",
        "Repeat along 24.748, across 13.252 in, straight",
    ]
    assert [answer.pictured for answer in found.answers] == [True, False]
    assert any("Two answers are possible" in line for line in found.lines)
    cloth = parse_job(taken(blank_job(Unit.INCH), found.answers[1]), "a").cloth
    assert (cloth.repeat.along * 1000, cloth.drop, cloth.print.mirror_offset) == (24748, 0, 0)


def test_what_is_taken_is_a_job_whatever_stood_there_before():
    named = with_value(blank_job(Unit.INCH), (*SHEET, "group"), "pmm")
    for key, value in (("side_to_side", "mirror"), ("half_turn", "yes"), ("mirror_offset_across", "3")):
        named = with_value(named, (*SHEET, key), value)
    parse_job(named, "before")
    cloth = parse_job(taken(named, read().answers[0], "mill-repeat.png"), "after").cloth
    assert (cloth.print.group, cloth.print.mirror_offset * 10, cloth.print.mirror_offset_across) == (None, 23, None)
    assert cloth.picture == "mill-repeat.png"
    kept = parse_job(taken(with_value(blank_job(Unit.INCH), (*SHEET, "group"), "pm"), read().answers[0]), "a")
    assert kept.cloth.print.group == "pm"
