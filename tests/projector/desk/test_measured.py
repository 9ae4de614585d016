import json

from jobs.job import Unit
from jobs.reading.job_file import parse_job
from projector.desk.form.blank import blank_job
from projector.desk.form.changes import with_value
from projector.desk.measured import measured, taken

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


def values(unit: Unit) -> dict[str, str]:
    return {path[-1]: value for path, value in read(unit).values}


def test_a_measured_print_is_told_in_the_unit_of_the_job_as_fine_as_a_tape():
    # 12.3742 in x 2.54 = 31.43 cm, to half a millimetre 31.45; 13.2518 x 25.4 = 336.6 mm, to half a millimetre 336.5.
    assert values(Unit.INCH)["along"] == "12.37"
    assert values(Unit.CENTIMETRE)["along"] == "31.45"
    assert values(Unit.MILLIMETRE)["across"] == "336.5"
    assert values(Unit.INCH)["drop"] == "1/2"
    assert values(Unit.INCH)["half_turn"] == "no"


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


def test_a_drop_that_is_nearly_a_simple_part_is_that_part():
    drops = {0.4961: "1/2", 0.996: "0", 0.3305: "1/3", 0.0041: "0", 0.46: "0.460"}
    assert {given: dict(read(drop=given).values)["cloth", "drop"] for given in drops} == drops


def test_two_close_answers_are_both_offered_and_the_picture_belongs_to_the_first():
    found = read(second=SECOND)
    assert [answer.label for answer in found.answers] == [
        "Repeat along 12.37, across 13.25 in, half-drop",
        "Repeat along 24.75, across 13.25 in, straight",
    ]
    assert [answer.pictured for answer in found.answers] == [True, False]
    assert any("Two answers are possible" in line for line in found.lines)
    cloth = parse_job(taken(blank_job(Unit.INCH), found.answers[1]), "a").cloth
    assert (cloth.repeat.along * 100, cloth.drop, cloth.print.mirror_offset) == (2475, 0, 0)


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
