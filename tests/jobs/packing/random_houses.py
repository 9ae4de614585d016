"""Random houses with rooms, dye lots and pieces, as a workroom might get them; the same seed gives the same house."""

from __future__ import annotations

import random
from dataclasses import replace
from fractions import Fraction

from jobs.model.choices import Hang, Panels, TurnedOver
from jobs.model.job import Job
from jobs.model.piece import Flaw, Piece
from jobs.model.window import Window
from tests.jobs.made import MIRROR_DOWN, above_foot, below_top, cloth, job, ordered, window

SIZES = (1, 2, 3, 5, 8, 12)


def random_job(seed: int, most: int = 12, sizes: tuple[int, ...] = SIZES) -> Job:
    """A house of one to ``most`` windows; one in five has too little cloth, one in five hardly enough."""
    dice = random.Random(seed)
    along = dice.choice([None, 9, Fraction(25, 2), 18, 25])
    sheet = replace(MIRROR_DOWN, mirror_offset=Fraction(dice.randrange(8), 2) if along else Fraction(0))
    windows = [_window(dice, number) for number in range(dice.choice([size for size in sizes if size <= most]))]
    made = job(cloth(along, print=sheet), *windows, heading=dice.choice([0, 4]), hem=dice.choice([0, 8]), squaring=1)
    allowed = dice.choice([(), (), (TurnedOver.HEM,), (TurnedOver.HEADING, TurnedOver.HEM)])
    needed = ordered(made).buy * dice.choice([Fraction(9, 10), 1, Fraction(11, 10), Fraction(5, 4), Fraction(3, 2)])
    return replace(
        made, cloth=replace(made.cloth, pieces=_pieces(dice, needed, along or Fraction(1))), flaws_may_lie_in=allowed
    )


def _window(dice: random.Random, number: int) -> Window:
    rule = dice.choice([None, below_top(dice.randrange(12)), above_foot(dice.randrange(12))])
    return window(
        f"Bay {number}",
        Fraction(dice.randrange(40, 200), 2),
        dice.choice(list(Panels)),
        cuts_per_panel=Fraction(dice.choice([2, 2, 2, 3, 4]), 2),
        hang=dice.choice(list(Hang)),
        row=rule,
        room=dice.choice(["", "Hall", "Study", "Parlour"]),
    )


def _pieces(dice: random.Random, needed: Fraction, along: Fraction) -> tuple[Piece, ...]:
    count = dice.randrange(1, 5)
    shares = [dice.randrange(2, 6) for _ in range(count)]
    lots = dice.sample(["41", "42", ""], 2)
    pieces = []
    for share in shares:
        length = Fraction(int(needed * share / sum(shares)) + dice.randrange(30))
        flaws = []
        for _ in range(dice.randrange(3)):
            start = Fraction(dice.randrange(max(1, int(2 * length))), 2)
            across = dice.choice([None, (Fraction(20), Fraction(24))])
            flaws.append(Flaw(start, min(length, start + Fraction(dice.randrange(1, 6), 2)), across))
        pieces.append(Piece(length, Fraction(dice.randrange(int(2 * along)), 2), tuple(flaws), dice.choice(lots)))
    return tuple(pieces)
