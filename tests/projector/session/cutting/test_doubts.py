"""What is said of an old calibration, another screen, and cloth that lies high."""

from __future__ import annotations

from dataclasses import replace
from datetime import date
from fractions import Fraction

import pytest

from calibration.height import LensPosition, LensTooLow
from jobs.model.cloth import Cloth
from projector.files.table_file import Stored
from projector.session.cutting.doubts import (
    OLD_DAYS,
    age_days,
    age_in_words,
    height_in_words,
    notices_of,
    raised_in,
    raised_table,
)
from tests.projector.session.tables import table_of

TODAY = date(2026, 5, 20)
QUARTER = Cloth("Felt", Fraction(54), thickness=Fraction(1, 4))


@pytest.mark.parametrize(
    ("made", "days"),
    [("2026-05-20", 0), ("2026-05-19 17:20", 1), ("2026-04-20", 30), ("2026-05-21", -1), ("", None), ("spring", None)],
)
def test_days_are_counted_from_the_date_in_the_table_file(made: str, days: int | None) -> None:
    assert age_days(made, TODAY) == days


def test_a_calibration_of_today_needs_no_word() -> None:
    assert age_in_words("2026-05-20", TODAY) == ""


def test_another_day_is_said_and_a_long_time_is_called_long() -> None:
    assert "yesterday" in age_in_words("2026-05-19", TODAY)
    assert "That is long" not in age_in_words(f"{date.fromordinal(TODAY.toordinal() - OLD_DAYS)}", TODAY)
    assert "That is long" in age_in_words(f"{date.fromordinal(TODAY.toordinal() - OLD_DAYS - 1)}", TODAY)


def test_dates_to_come_and_unknown_dates_are_said() -> None:
    assert "still to come" in age_in_words("2026-06-01", TODAY)
    assert "not known" in age_in_words("", TODAY)


def test_another_screen_is_noticed() -> None:
    stored = Stored(replace(table_of(1920, 1080), date="2026-05-20"), (), "screen 2 at 60 Hz")
    assert notices_of(stored, TODAY, "screen 2 at 60 Hz") == ()
    (said,) = notices_of(stored, TODAY, "screen 1")
    assert "screen 2 at 60 Hz" in said
    assert notices_of(stored, TODAY) == ()


def test_cloth_of_known_thickness_is_lit_by_similar_triangles() -> None:
    # Lens 96 above the table, point 36 from its foot, surface 1/4 up: light aimed at 36 lands at 35.90625, so the
    # light for 35.90625 on the cloth is the one for 36 on the table.
    table = replace(table_of(1920, 1080), lens_position=LensPosition((0.0, 0.0), 96.0))
    raised = raised_table(table, QUARTER)
    lit = raised.to_frame([(35.90625, 0.0)])[0]
    assert lit == pytest.approx(table.to_frame([(36.0, 0.0)])[0], abs=1e-9)


def test_layers_add_up() -> None:
    assert raised_in(replace(QUARTER, layers=3)) == Fraction(3, 4)
    assert raised_in(Cloth("Felt", Fraction(54), layers=3)) == 0


def test_without_a_lens_position_or_thickness_the_table_stays_as_it_is() -> None:
    table = table_of(1920, 1080)
    assert raised_table(table, QUARTER) is table
    known = replace(table, lens_position=LensPosition((0.0, 0.0), 96.0))
    assert raised_table(known, Cloth("Felt", Fraction(54))) is known


def test_without_a_lens_position_the_possible_error_is_said() -> None:
    table = table_of(1920, 1080)
    assert "may be off by up to" in height_in_words(table, QUARTER)
    assert height_in_words(table, Cloth("Felt", Fraction(54))) == ""
    known = replace(table, lens_position=LensPosition((0.0, 0.0), 96.0))
    assert "put right" in height_in_words(known, QUARTER)


def test_cloth_up_to_the_lens_is_refused() -> None:
    low = replace(table_of(1920, 1080), lens_position=LensPosition((0.0, 0.0), 0.5))
    with pytest.raises(LensTooLow):
        raised_table(low, replace(QUARTER, layers=2))
