"""Lengths: read exactly, shown as a person in the trade reads them, rounded up to what is sold."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from jobs.model.choices import Unit
from jobs.model.lengths import (
    LengthError,
    order_step,
    parse_fraction,
    parse_length,
    parse_share,
    parse_whole,
    round_up,
    show_cut,
    show_length,
    show_order,
    show_share,
)
from jobs.model.problems import Code
from projector.words.wording import sentence, words

IN, CM, MM = Unit.INCH, Unit.CENTIMETRE, Unit.MILLIMETRE
F = Fraction


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("11 1/4", F(45, 4)),
        ("11-1/4", F(45, 4)),
        ("67-1/2", F(135, 2)),
        ("11.25", F(45, 4)),
        (".5", F(1, 2)),
        ("½", F(1, 2)),
        ("11¼", F(45, 4)),
        ("11 ¼", F(45, 4)),
        ("1⁄2", F(1, 2)),
        ("90/10", F(9)),
        ("84.1", F(841, 10)),
        ("84 in", F(84)),
        ('12"', F(12)),
        ("12″", F(12)),
        ("5 ft", F(60)),
        ("5'", F(60)),
        ("5' 6 1/2\"", F(133, 2)),
        ("5ft6in", F(66)),
        ("6 yd", F(216)),
        ("3 3/4 yd", F(135)),
        ("3 Yards", F(108)),
        ("1 yd 4 in", F(40)),
        # 1 in = 25.4 mm and 1 yd = 0.9144 m exactly (international yard, 1959).
        ("28.6 cm", F(286, 10) / F(254, 100)),
        ("254 mm", F(10)),
        ("0.9144 m", F(36)),
        ("1 m 27 cm", F(50)),
        ("0", F(0)),
        ("-0", F(0)),
        ("+5", F(5)),
    ],
)
def test_what_people_write_is_read_exactly(text: str, inches: Fraction) -> None:
    assert parse_length(text, IN) == inches


def test_a_bare_number_is_in_the_unit_of_the_file() -> None:
    assert parse_length("127", CM) == 50
    assert parse_length("127 1/2", MM) == F(255, 2) / F(254, 10)
    assert parse_length("11 1/4 in", CM) == F(45, 4)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", Code.NOTHING_WRITTEN),
        ("   ", Code.NOTHING_WRITTEN),
        ("-3", Code.LENGTH_BELOW_ZERO),
        ("-67-1/2", Code.LENGTH_BELOW_ZERO),
        ("−3", Code.LENGTH_BELOW_ZERO),
        ("1/0", Code.DIVIDES_BY_NOTHING),
        ("11 5/4", Code.IMPROPER),
        ("28,6 cm", Code.COMMA),
        ("1,000", Code.COMMA),
        ("1,000,000", Code.COMMA),
        ("12 stone", Code.UNKNOWN_UNIT),
        ("1e9999", Code.UNKNOWN_UNIT),
        ("0x10", Code.UNKNOWN_UNIT),
        ("5 ft 6", Code.PARTS_WITHOUT_UNITS),
        ("6 in 5 ft", Code.PARTS_OUT_OF_ORDER),
        ("5 in 6 in", Code.PARTS_OUT_OF_ORDER),
        ("1 1/2 1/2", Code.PARTS_WITHOUT_UNITS),
        ("1:30", Code.NOT_A_LENGTH),
        ("1_000", Code.NOT_A_LENGTH),
        ("5.", Code.NOT_A_LENGTH),
        ("67 - 1/2", Code.NOT_A_LENGTH),
        ("1/2/3", Code.NOT_A_LENGTH),
        ("--5", Code.NOT_A_LENGTH),
        ("-", Code.NOT_A_LENGTH),
        ("nan", Code.NOT_A_LENGTH),
        (".inf", Code.NOT_A_LENGTH),
        ("~", Code.NOT_A_LENGTH),
        ("true", Code.NOT_A_LENGTH),
        ("٣", Code.NOT_A_LENGTH),
        ("²", Code.NOT_A_LENGTH),
        ("1\x00", Code.NOT_A_LENGTH),
        ("10001 yd", Code.LENGTH_TOO_LONG),
        ("9" * 59, Code.LENGTH_TOO_LONG),
        ("9" * 1_000_000, Code.TEXT_TOO_LONG),
        ("1" + " " * 1_000_000, Code.TEXT_TOO_LONG),
    ],
)
def test_what_has_no_meaning_is_refused_with_advice(text: str, code: Code) -> None:
    with pytest.raises(LengthError) as caught:
        parse_length(text, IN)
    assert caught.value.problem.code is code
    what, advice = words(caught.value.problem)
    assert what.isprintable()
    assert advice.isprintable()
    assert len(what + advice) < 250


def test_what_was_meant_is_worked_out() -> None:
    def meant(text: str, name: str) -> object:
        with pytest.raises(LengthError) as caught:
            parse_length(text, IN)
        return caught.value.problem.value(name)

    assert meant("11 5/4", "meant") == F(49, 4)
    assert meant("28,6 cm", "better") == "28.6 cm"
    assert meant("1,000", "better") is None


def test_a_length_below_zero_is_read_only_where_it_is_asked_for() -> None:
    assert parse_length("-67-1/2", IN, signed=True) == F(-135, 2)
    assert parse_length("-2.54 cm", IN, signed=True) == -1


def test_numbers_and_shares_are_read_exactly() -> None:
    assert parse_fraction("1/2") == F(1, 2)
    assert parse_fraction("2 1/2") == F(5, 2)
    assert parse_fraction("2.5") == F(5, 2)
    assert parse_whole("-3", signed=True) == -3
    assert parse_share("3 %") == F(3, 100)
    assert parse_share("2 1/2%") == F(1, 40)
    assert parse_share("0") == 0
    assert show_share(F(1, 40)) == "2.5 %"


@pytest.mark.parametrize("text", ["3", "0.5", "1/2", "%", "-3 %", "3 % %", "x %"])
def test_a_share_without_a_clear_percent_is_refused(text: str) -> None:
    with pytest.raises(LengthError):
        parse_share(text)


@pytest.mark.parametrize("text", ["1/2 in", "3 %", "", "-1", "1e3", "2000000"])
def test_a_bare_number_has_no_unit_and_no_sign(text: str) -> None:
    with pytest.raises(LengthError):
        parse_fraction(text)


def test_half_a_row_is_not_a_whole_number() -> None:
    with pytest.raises(LengthError) as caught:
        parse_whole("1/2")
    assert caught.value.problem.code is Code.NOT_WHOLE


@pytest.mark.parametrize(
    ("inches", "unit", "shown"),
    [
        (F(135, 2), IN, "67 1/2 in"),
        (F(9), IN, "9 in"),
        (F(1, 16), IN, "1/16 in"),
        (F(-3, 2), IN, "-1 1/2 in"),
        (F(0), IN, "0 in"),
        # 15.99 is nearer to 16 than to 15 15/16: never 15 16/16.
        (F(1599, 100), IN, "about 16 in"),
        (F(1, 3), IN, "about 5/16 in"),
        # A tie goes away from zero: 1/32 is shown as 1/16.
        (F(1, 32), IN, "about 1/16 in"),
        # 67 1/2 in = 171.45 cm, rounded as people round.
        (F(135, 2), CM, "about 171.5 cm"),
        (F(50), CM, "127 cm"),
        (F(1715, 10) / F(254, 100), CM, "171.5 cm"),
        (F(1715) / F(254, 10), MM, "1715 mm"),
    ],
)
def test_lengths_are_shown_as_the_trade_reads_them(inches: Fraction, unit: Unit, shown: str) -> None:
    assert show_length(inches, unit) == shown
    assert show_cut(inches, unit) == shown.removeprefix("about ")


@given(st.integers(-200_000, 200_000), st.sampled_from(list(Unit)))
@settings(max_examples=150)
def test_what_is_shown_exactly_is_read_back_as_the_same_length(count: int, unit: Unit) -> None:
    step = {IN: F(1, 16), CM: F(5, 127), MM: F(5, 127)}[unit]
    shown = show_length(count * step, unit)
    assert "about" not in shown
    assert parse_length(shown, unit, signed=True) == count * step
    assert parse_length(shown, IN, signed=True) == count * step


@given(st.fractions(0, 5000, max_denominator=999))
@settings(max_examples=150)
def test_what_is_shown_is_never_off_by_more_than_half_a_sixteenth_and_never_shows_a_full_fraction(
    value: Fraction,
) -> None:
    shown = show_cut(value, IN)
    assert abs(parse_length(shown, IN) - value) <= F(1, 32)
    assert "16/16" not in shown
    assert show_length(value, IN).startswith("about ") == (parse_length(shown, IN) != value)


@given(st.text(max_size=70))
@example("\x1b0,0")
@settings(max_examples=300)
def test_any_text_is_a_length_or_a_refusal(text: str) -> None:
    said = ""
    try:
        assert parse_length(text, IN) >= 0
    except LengthError as error:
        said = sentence(error.problem)
    assert said.isprintable()


@pytest.mark.parametrize(
    ("inches", "unit", "sold_by", "shown"),
    [
        (F(135), IN, None, "3 3/4 yd"),
        # 136 3/4 in is 3.80 yd: a quarter more is bought.
        (F(547, 4), IN, F(9), "4 yd"),
        (F(135), IN, F(36), "4 yd"),
        (F(135), IN, F(12), "12 ft"),
        (F(135), IN, F(6), "11 1/2 ft"),
        (F(135), IN, F(1), "135 in"),
        # 4.15 m in an exact number of inches, sold by 10 cm: 4.2 m.
        (F(4150) / F(254, 10), CM, None, "4.2 m"),
        (F(4200) / F(254, 10), MM, F(100) / F(254, 10), "4.2 m"),
        (F(4150) / F(254, 10), IN, F(1000) / F(254, 10), "5 m"),
        (F(135), CM, F(9), "3 3/4 yd"),
    ],
)
def test_an_order_is_rounded_up_to_the_unit_the_cloth_is_sold_in(
    inches: Fraction, unit: Unit, sold_by: Fraction | None, shown: str
) -> None:
    assert show_order(inches, unit, sold_by) == shown


@given(st.fractions(0, 9000, max_denominator=500), st.sampled_from([F(9), F(36), F(12), F(500, 127), F(7, 3), F(1, 3)]))
@settings(max_examples=150)
def test_an_order_shown_is_enough_and_less_than_one_step_more(value: Fraction, step: Fraction) -> None:
    bought = parse_length(show_order(value, IN, step), IN)
    assert value <= bought
    # A step that no unit says without a remainder is shown in metres to the next millimetre (5/127 in).
    assert bought < value + step + F(5, 127)


def test_rounding_up_keeps_an_exact_multiple() -> None:
    assert round_up(F(135), F(45, 4)) == 135
    assert round_up(F(135) + F(1, 1000), F(45, 4)) == 135 + F(45, 4)
    assert round_up(F(0), F(9)) == 0
    assert order_step(IN) == 9
    with pytest.raises(ValueError, match="above zero"):
        round_up(F(1), F(0))
