"""Which slip, if any, the marks tell of: all of them compared, and one named only when it is beyond doubt."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from calibration.fitting import PLANE, USUAL
from calibration.mark_checks import spread_out
from calibration.marks import CAREFUL, Mark, Placing, pixels_of, tables_of
from calibration.quantiles import squares_tail
from calibration.slips.evidence import Batch, Evidence, Frame
from calibration.slips.hypotheses import SLIPS_IN_ALL, Slip, slips_of

Array = NDArray[np.float64]

SURE = 50.0
"""Odds against all other explanations together at which one is named."""
MOST_SUSPECTS = 12
"""Slips are looked for in this many marks, those that fit worst."""
MOST_WEIGHED = 28
"""So many marks are weighed against each other; of more the suspects, and others to hold them against."""
MOST_NAMED = 3
"""More marks than these that may be wrong are as good as all."""
LOOKED_INTO = 0.5
"""Slips are weighed when careful placing leaves the marks so far apart in no more than this share of fits."""
SOUND = 0.9
"""Marks go together when it is as likely as this that nothing is wrong: as a rule of careful ones it is 0.97."""
LISTED = 0.8
"""Marks are named as those that may be wrong when together they are as likely as this to hold what is wrong."""
EXPLAINED = 0.001
"""A slip that leaves the others farther apart than chance does in this share of fits explains nothing."""
SAME_IN = 1 / 16
"""Corrections nearer to each other than this are the same."""
GLANCE, SETTLED = 2, 5
"""Steps of the fits: for all hypotheses, for those that are not out of the question."""
OUT_OF_QUESTION = -30.0
"""Logarithm of a chance that a few more steps do not bring back."""


@dataclass(frozen=True)
class Finding:
    """Marks (numbers from 1) that do not go with the others.

    ``suspects`` are the groups of marks one of which is wrong, the likeliest first; none when no single slip explains
    the marks. ``slip`` tells what was meant when that is beyond doubt, in the numbers as they were typed; ``wanted``
    is where the others want the mark when it alone is to blame. ``is_sure``: the wrong marks are named beyond doubt.
    """

    suspects: tuple[tuple[int, ...], ...]
    slip: Slip | None = None
    wanted: tuple[float, float] | None = None
    is_sure: bool = True


def find_slip(
    marks: Sequence[Mark], width_px: int, height_px: int, placing: Placing = CAREFUL, typed_per_in: float = 1.0
) -> Finding | None:
    """What is wrong with five or more marks; None when they go together as careful marks do.

    ``typed_per_in`` says what the numbers were typed in (2.54 for centimetres): slips happen to the numbers as typed.
    Works on marks that ``check_marks`` refuses, as long as each has a number.
    """
    if len(marks) < 5:
        return None
    places, pixels = tables_of(marks) * typed_per_in, pixels_of(marks)
    frame = Frame(pixels, width_px, height_px, placing, USUAL)
    alone = Evidence(_batch(places, (), typed_per_in), frame, SETTLED)
    if squares_tail(float(alone.squares[0]), 2 * len(marks) - PLANE) >= LOOKED_INTO:
        return None
    ranked = np.argsort(-np.linalg.norm(alone.missed[0], axis=1))
    if len(marks) > MOST_WEIGHED:
        # Of very many marks the worst are held against enough of the others, well spread.
        rest = ranked[MOST_SUSPECTS:]
        chosen = [*ranked[:MOST_SUSPECTS], *rest[spread_out(pixels[rest], MOST_WEIGHED - MOST_SUSPECTS)]]
        kept = sorted(int(index) for index in chosen)
        found = find_slip([marks[index] for index in kept], width_px, height_px, placing, typed_per_in)
        return found and replace(
            found, suspects=tuple(tuple(kept[number - 1] + 1 for number in group) for group in found.suspects)
        )
    slips = slips_of(places, sorted(ranked[:MOST_SUSPECTS].tolist()))
    batch = _batch(places, slips, typed_per_in)
    glance = Evidence(batch, frame, GLANCE).log_chances()[:-1]
    glance[0] = 0.0
    kept_rows = np.flatnonzero(glance > OUT_OF_QUESTION)
    made = Evidence(batch.only(kept_rows), frame, SETTLED)
    chances = np.exp(made.log_chances())
    if chances[0] >= SOUND:
        return None
    return _named([slips[row - 1] for row in kept_rows[1:].tolist()], chances, made, typed_per_in, len(marks))


def _batch(places: Array, slips: Sequence[Slip], typed_per_in: float) -> Batch:
    """The slips as a batch, with "no slip" first; ``places`` (N, 2) are as typed."""
    many = np.repeat(places[None], len(slips) + 1, axis=0)
    unknown = np.zeros(many.shape, dtype=bool)
    for row, slip in enumerate(slips, 1):
        many[row, list(slip.marks)] = slip.meant
        unknown[row, list(slip.marks)] = slip.unknown
    chances = np.array([1 - SLIPS_IN_ALL, *(slip.chance for slip in slips)])
    return Batch(many / typed_per_in, unknown, chances)


def _named(slips: Sequence[Slip], chances: Array, made: Evidence, typed_per_in: float, count: int) -> Finding:
    """What these ``chances`` say (no slip first, something unforeseen last); ``count`` marks were fitted."""
    of_marks: dict[tuple[int, ...], float] = {}
    for slip, chance in zip(slips, chances[1:-1].tolist(), strict=True):
        of_marks[slip.marks] = of_marks.get(slip.marks, 0.0) + chance
    enough, few, held = SURE / (SURE + 1), [], 0.0
    for marks in sorted(of_marks, key=lambda one: -of_marks[one])[:MOST_NAMED]:
        few.append(tuple(index + 1 for index in marks))
        held += of_marks[marks]
        if held >= enough:
            break
    if len(few) > 1 or held < enough:
        return Finding(tuple(few) if held >= LISTED * (1 - chances[0]) else (), is_sure=False)
    rows = [row for row, slip in enumerate(slips) if tuple(index + 1 for index in slip.marks) == few[0]]
    best = max(rows, key=lambda row: chances[row + 1])
    slip = slips[best]
    alike = sum(chances[row + 1] for row in rows if _same(slips[row], slip, SAME_IN * typed_per_in))
    fits = squares_tail(float(made.squares[best + 1]), 2 * count - PLANE) >= EXPLAINED
    meant = slip if slip.is_known and fits and alike >= enough else None
    if len(slip.marks) > 1:
        return Finding(tuple(few), meant)
    x, y = made.wanted_in(best + 1, slip.marks[0])
    return Finding(tuple(few), meant, (x * typed_per_in, y * typed_per_in))


def _same(one: Slip, other: Slip, within: float) -> bool:
    """Whether two slips in the same marks come to the same numbers."""
    return one.is_known and other.is_known and bool(np.abs(one.meant - other.meant).max() < within)
