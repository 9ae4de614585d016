"""Every simple slip is among the hypotheses, with how often it happens."""

from __future__ import annotations

from collections import Counter

import numpy as np
import pytest

from calibration.slips.hypotheses import SHARES, SLIPS_IN_ALL, slips_of

OTHERS = [(0.0, 0.0), (90.0, 1.0), (91.0, 50.0), (2.0, 51.0), (44.0, 3.0)]
EACH = SLIPS_IN_ALL / 6
"""How often something is wrong with one of six marks."""


def meant_by(kind: str, typed: tuple[float, float]) -> dict[tuple[float, float], float]:
    """What a slip of this kind could have been meant by the sixth mark, with the share of its kind."""
    found: Counter[tuple[float, float]] = Counter()
    for slip in slips_of(np.array([*OTHERS, typed]), [5]):
        if slip.kind == kind:
            x, y = np.round(slip.meant[0], 9).tolist()
            found[x, y] += slip.chance / EACH / SHARES[kind]
    return found


@pytest.mark.parametrize(
    ("kind", "meant", "typed", "share"),
    [
        # Each of the two numbers is as likely to be the wrong one; of a number of three digits each is.
        ("digit", 148.0, 158.0, 0.2 / 3 / 2),  # the key beside it
        ("digit", 148.0, 178.0, 0.6 / 8 / 3 / 2),  # one of the eight others
        ("digit", -12.5, -12.6, 0.2 / 3 / 2),
        ("exchanged digits", 184.0, 148.0, 1 / 2 / 2),  # of three digits two pairs stand side by side
        ("dropped digit", 148.0, 48.0, 1 / 3 / 2),
        ("dropped digit", 148.0, 18.0, 1 / 3 / 2),
        ("dropped digit", 148.0, 14.0, 1 / 3 / 2),
        ("added digit", 14.0, 144.0, 2 * 1 / 3 / 3 / 2),  # either 4 may be the one too many
        ("added digit", 0.0, 10.0, 1 / 2 / 3 / 2),
        ("decimal sign", 48.5, 4.85, 0.4 / 2),
        ("decimal sign", 48.5, 4850.0, 0.1 / 2),
        ("minus", 48.5, -48.5, 1 / 2),
        ("fraction", 48.75, 48.5, 1 / 10 / 2),
        ("miscounted", 48.5, 47.5, 0.3 / 2),
        ("miscounted", 48.5, 36.5, 0.1 / 2),
        ("wrong side", 48.25, 47.75, 0.5 / 2),
        ("wrong side", 48.25, 49.75, 0.5 / 2),
        ("half", 48.5, 24.25, 0.5 / 2),
        ("half", 48.5, 97.0, 0.5 / 2),
        ("unit", 48.5, 123.19, 0.5 / 2),
    ],
)
def test_one_number_typed_or_read_wrong(kind: str, meant: float, typed: float, share: float) -> None:
    for both in (lambda number: (number, 31.3), lambda number: (31.3, number)):
        assert meant_by(kind, both(typed))[both(meant)] == pytest.approx(share)


def test_both_numbers_of_a_mark_exchanged_or_in_another_unit() -> None:
    assert meant_by("exchanged numbers", (12.5, 48.0)) == {(48.0, 12.5): pytest.approx(1.0)}
    assert meant_by("both in another unit", (5.08, 2.54))[2.0, 1.0] == pytest.approx(0.5)
    assert meant_by("exchanged numbers", (12.5, 12.5)) == {}


def test_the_digits_of_a_fraction_are_not_exchanged() -> None:
    # 31 1/16 is 31.0625: nobody typed 0625.
    assert set(meant_by("exchanged digits", (31.0625, 0.0))) == {(13.0625, 0.0)}


def test_a_number_that_no_slip_explains_may_be_anything() -> None:
    unknown = [slip for slip in slips_of(np.array([*OTHERS, (7.0, 8.0)]), [5]) if not slip.is_known]
    assert [(slip.kind, slip.unknown.tolist()) for slip in unknown] == [
        ("one number wrong", [[True, False]]),
        ("one number wrong", [[False, True]]),
        ("mark wrong", [[True, True]]),
    ]


def test_marks_exchanged_or_in_another_order_keep_their_places() -> None:
    places = np.array([*OTHERS, (7.0, 8.0)])
    moved = [slip for slip in slips_of(places, range(6)) if len(slip.marks) > 1]
    pairs = [slip for slip in moved if slip.kind == "two marks exchanged"]
    assert len(pairs) == 15  # of six marks
    assert sum(slip.chance for slip in pairs) == pytest.approx(SLIPS_IN_ALL * SHARES["two marks exchanged"])
    for slip in moved:
        assert sorted(slip.meant.tolist()) == sorted(places[list(slip.marks)].tolist())
        assert (slip.meant != places[list(slip.marks)]).any(axis=1).all()
    # One mark skipped: each stands where the next one should.
    assert any((slip.meant == np.roll(places, -1, axis=0)).all() for slip in moved if len(slip.marks) == 6)
    ordered = sum(slip.chance for slip in moved if slip.kind == "another order")
    assert ordered == pytest.approx(SLIPS_IN_ALL * SHARES["another order"])
