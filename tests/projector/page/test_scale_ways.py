import math

import pytest

from jobs.model.choices import Unit
from projector.page.scale_ways import CORNERS, RULER, TAPE, WAYS, WIDTH, Amiss, doubt_of_clicks, words_for

FOUR = [(10.0, 10.0), (90.0, 12.0), (92.0, 70.0), (8.0, 71.0)]


def test_a_length_is_told_in_inches_whatever_it_was_typed_in():
    # 30.48 cm = 12 in; 5 mm = 0.19685 in.
    assert words_for(RULER, FOUR[:2], ["30.48"], Unit.CENTIMETRE) == (
        *("--points", "10.00,10.00", "90.00,12.00", "--distance", "12.0 in"),
    )
    assert words_for(TAPE, FOUR[:2], ["1/8"], Unit.INCH)[-1] == "0.125 in"
    assert words_for(CORNERS, FOUR, ["11", "8.5"], Unit.INCH)[-2:] == ("--size", "11.0 in x 8.5 in")


def test_selvedges_are_told_only_where_they_were_clicked():
    assert words_for(WIDTH, [], ["54"], Unit.INCH) == ("--cloth-width", "54.0 in")
    clicked = words_for(WIDTH, [(90.0, 3.0), (10.0, 5.0)], ["54"], Unit.INCH)
    assert clicked[2:] == ("--selvedges", "10.00", "90.00")


@pytest.mark.parametrize("way", WAYS, ids=lambda way: way.word)
def test_what_is_amiss_is_said_before_anything_is_measured(way):
    typed = ["8"] * len(way.asks)
    places = FOUR[: way.clicks]
    words_for(way, places, typed, Unit.INCH)
    with pytest.raises(Amiss, match="Click 1 more place in"):
        words_for(way, places[:-1], typed, Unit.INCH)
    with pytest.raises(Amiss, match="Two of the places are one"):
        words_for(way, [*places[:-1], places[0]], typed, Unit.INCH)
    for wrong, said in (("", "Type a length"), ("0", "above zero"), ("wide", "not a length")):
        with pytest.raises(Amiss, match=said):
            words_for(way, places, [wrong, *typed[1:]], Unit.INCH)


def test_clicks_far_apart_leave_little_doubt():
    assert doubt_of_clicks(RULER, [(0, 0), (300, 400)]) == 1 / 500
    # The shortest side of a rectangle tells least: from (10, 10) to (8, 71) and from (90, 12) to (92, 70).
    assert doubt_of_clicks(CORNERS, FOUR) == 1 / math.hypot(2, 58)
    assert doubt_of_clicks(WIDTH, []) == doubt_of_clicks(TAPE, FOUR[:2]) == 0
