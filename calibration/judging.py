"""Which slip, if any, the marks tell of: all of them compared by how well they explain the marks.

Each hypothesis (``slips.Slip``, and that there is none) is fitted like a calibration, map, lens and prior together,
all in one batch. Its evidence is the chance of the marks under it with map, lens and steadiness of the hand summed
over (Laplace's approximation; D. MacKay, *Information Theory, Inference, and Learning Algorithms*, 2003, chapters 27
and 28, from memory), times how often such a slip happens. One is named only at odds of ``SURE`` to 1 against all the
others together.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from calibration.fitting import PLANE, USUAL, LensPrior
from calibration.marks import Mark, named, pixels_of, tables_of
from calibration.placing import CAREFUL, HANDS, Placing
from calibration.quantiles import squares_tail
from calibration.shapes import spread_out
from calibration.slips import LARGEST, SLIPS_IN_ALL, SMALLEST, Slip, slips_of

Array = NDArray[np.float64]

UNFORESEEN = ((8.0, 0.01), (32.0, 0.01), (128.0, 0.01))
"""``placing.HANDS`` for whatever no hypothesis foresees, such as two wrong marks: how far off, and how often."""
SURE = 50.0
"""Odds against all other explanations together at which one is named."""
MOST_SUSPECTS = 12
"""Slips are looked for in this many marks, those that fit worst."""
MOST_WEIGHED = 28
"""So many marks are weighed against each other; of more the suspects, and others to hold them against."""
MOST_NAMED = 3
"""More marks than these that may be wrong are as good as all."""
LOOKED_INTO = 0.02
"""Marks are looked into when careful placing leaves them so far apart in no more than this share of fits."""
EXPLAINED = 0.001
SAME = 1 / 16
"""Corrections nearer to each other than this, in inches, are the same."""
MAP_WIDTHS = np.array([3.0] * 6 + [0.4] * 2)
"""How large the entries of a map between normalised points are: as good as nothing is said of its turn and size, and of
its slant that no projector hangs more than some 30 degrees off."""
STEPS = 5
LENS = 4


@dataclass(frozen=True)
class Batch:
    """Hypotheses as arrays: places (H, N, 2) in inches as meant, which numbers are unknown (H, N, 2), their chances."""

    places: Array
    unknown: NDArray[np.bool_]
    log_chance: Array


def batch_of(places: Array, slips: Sequence[Slip], per_inch: float) -> Batch:
    """The slips as a batch, with "no slip" first; ``places`` (N, 2) are as typed, ``per_inch`` to the inch."""
    many = np.repeat(places[None], len(slips) + 1, axis=0)
    unknown = np.zeros(many.shape, dtype=bool)
    for row, slip in enumerate(slips, 1):
        many[row, list(slip.marks)] = slip.meant
        unknown[row, list(slip.marks)] = slip.unknown
    chances = np.array([1 - SLIPS_IN_ALL, *(slip.chance for slip in slips)])
    return Batch(many / per_inch, unknown, np.log(chances))


class BatchFit:
    """Table inches from pixels, fitted for every hypothesis at once: 8 entries of a map and 4 of a lens each."""

    def __init__(
        self, batch: Batch, pixels: Array, size_px: tuple[int, int], placing: Placing, prior: LensPrior
    ) -> None:
        self.batch, self._prior, self._placing = batch, prior, placing
        width, height = size_px
        self._away = (pixels - (width / 2, height / 2)) / width
        self._px = 1 / width
        r2 = np.einsum("ni,ni->n", self._away, self._away)
        decentred = r2[:, None, None] * np.eye(2) + 2 * self._away[:, :, None] * self._away[:, None, :]
        radial = self._away[:, :, None] * np.stack([r2, r2**2], axis=1)[:, None, :]
        self._bend = -np.concatenate([radial, decentred], axis=2)
        known = ~batch.unknown
        self._middle = batch.places.mean(axis=1)
        middle = self._middle[:, None]
        self._inches = np.abs(batch.places - middle).mean(axis=(1, 2)) + 1e-9
        self._target = (batch.places - middle) / self._inches[:, None, None]
        self._known = known
        self._fit()

    def _fit(self) -> None:
        count = len(self._target)
        plane, lens = self._direct(), np.zeros((count, LENS))
        k1_square = np.full(count, self._prior.k1**2)
        for _ in range(STEPS):
            missed, rows, self._log_spread = self._rows(plane, lens)
            widths = self._widths(k1_square)
            normal = np.einsum("hnip,hniq->hpq", rows, rows)
            normal[:, range(8, 12), range(8, 12)] += widths**-2.0
            gradient = np.einsum("hnip,hni->hp", rows, missed)
            gradient[:, 8:] += lens * widths**-2.0
            normal[:, range(8), range(8)] += MAP_WIDTHS**-2.0
            gradient[:, :8] += plane * MAP_WIDTHS**-2.0
            spread = np.linalg.inv(normal)
            step = -np.einsum("hpq,hq->hp", spread, gradient)
            plane, lens = plane + step[:, :8], np.clip(lens + step[:, 8:], -0.3, 0.3)
            k1_square = lens[:, 0] ** 2 + spread[:, 8, 8]
        missed, rows, self._log_spread = self._rows(plane, lens)
        self.squares = np.einsum("hni,hni->h", missed, missed)
        self.missed = missed
        self._lens, self._widths_now = lens, self._widths(k1_square)
        self._log_volume = np.linalg.slogdet(normal)[1]
        self._plane = plane

    def _widths(self, k1_square: Array) -> Array:
        prior = self._prior
        k1 = np.sqrt((prior.tails * prior.k1**2 + k1_square) / (prior.tails + 1))
        decentring = prior.axis * np.sqrt(k1_square)
        return np.stack([k1, np.full_like(k1, prior.k2), decentring, decentring], axis=1)

    def _direct(self) -> Array:
        """First maps (H, 8), linear in the algebraic error; the middle of the frame never maps to infinity."""
        x, y = self._away.T
        one, nil = np.ones_like(x), np.zeros_like(x)
        u, v = self._target[:, :, 0], self._target[:, :, 1]
        count = len(u)
        first = np.broadcast_to(np.stack([x, y, one, nil, nil, nil], axis=1), (count, len(x), 6))
        second = np.broadcast_to(np.stack([nil, nil, nil, x, y, one], axis=1), (count, len(x), 6))
        rows = np.stack(
            [
                np.concatenate([first, -u[:, :, None] * self._away], axis=2),
                np.concatenate([second, -v[:, :, None] * self._away], axis=2),
            ],
            axis=2,
        )
        rows = rows * self._known[:, :, :, None]
        wanted = self._target * self._known
        normal = np.einsum("hnip,hniq->hpq", rows, rows) + 1e-10 * np.eye(8)
        return np.linalg.solve(normal, np.einsum("hnip,hni->hp", rows, wanted)[:, :, None])[:, :, 0]

    def _rows(self, plane: Array, lens: Array) -> tuple[Array, Array, Array]:
        """Weighed misses (H, N, 2), their derivatives (H, N, 2, 12) and the logarithm of the spread of each mark."""
        ideal = self._away[None] + np.einsum("nil,hl->hni", self._bend, lens)
        top = np.stack([plane[:, 0:3], plane[:, 3:6]], axis=1)
        lifted = np.concatenate([ideal, np.ones((*ideal.shape[:2], 1))], axis=2)
        below = 1 + np.einsum("hni,hi->hn", ideal, plane[:, 6:8])
        below = np.where(np.abs(below) < 1e-3, 1e-3, below)
        image = np.einsum("hij,hnj->hni", top, lifted) / below[:, :, None]
        over = lifted / below[:, :, None]
        count, marks = image.shape[:2]
        slopes = np.zeros((count, marks, 2, 12))
        slopes[:, :, 0, 0:3] = over
        slopes[:, :, 1, 3:6] = over
        slopes[:, :, :, 6:8] = -image[:, :, :, None] * over[:, :, None, :2]
        by_ideal = (top[:, None, :, :2] - image[:, :, :, None] * plane[:, None, None, 6:8]) / below[:, :, None, None]
        slopes[:, :, :, 8:] = by_ideal @ self._bend
        inches = self._inches[:, None, None, None]
        per_px = by_ideal * self._px * inches
        spread = self._placing.tape_in**2 * np.eye(2) + self._placing.pointing_px**2 * per_px @ per_px.transpose(
            0, 1, 3, 2
        )
        return self._weighed((image - self._target) * self._inches[:, None, None], slopes * inches, spread)

    def _weighed(self, missed: Array, slopes: Array, spread: Array) -> tuple[Array, Array, Array]:
        """With unit variance; of a mark with one unknown number the other counts by itself."""
        both = self._known.all(axis=2)
        a, b, c = spread[..., 0, 0], spread[..., 0, 1], spread[..., 1, 1]
        corner = np.where(both, b / np.sqrt(a), 0.0)
        first, second = 1 / np.sqrt(a), 1 / np.sqrt(np.where(both, c - corner**2, c))
        known = self._known
        m0 = missed[..., 0] * first * known[..., 0]
        m1 = (missed[..., 1] - corner * first * missed[..., 0]) * second * known[..., 1]
        s0 = slopes[:, :, 0] * (first * known[..., 0])[..., None]
        s1 = (slopes[:, :, 1] - (corner * first)[..., None] * slopes[:, :, 0]) * (second * known[..., 1])[..., None]
        log_spread = -(np.log(first) * known[..., 0] + np.log(second) * known[..., 1]).sum(axis=1)
        return np.stack([m0, m1], axis=2), np.stack([s0, s1], axis=2), log_spread

    @cached_property
    def log_evidence(self) -> Array:
        """Logarithm (H + 1,) of the chance of the marks under each hypothesis, times how often it happens.

        The last one is that something else is wrong, which no hypothesis foresees.
        """
        prior, widths = self._prior, self._widths_now
        of_lens = 0.5 * (prior.tails + 1) * np.log1p(self._lens[:, 0] ** 2 / (prior.tails * prior.k1**2))
        of_lens = of_lens + 0.5 * ((self._lens[:, 1:] / widths[:, 1:]) ** 2).sum(axis=1)
        of_lens = of_lens + np.log(widths[:, 2:]).sum(axis=1)
        of_map = 0.5 * ((self._plane / MAP_WIDTHS) ** 2).sum(axis=1)
        rows = self._known.sum(axis=(1, 2))
        base = self.batch.log_chance - self._log_spread - 0.5 * np.log(2 * np.pi) * rows - 0.5 * self._log_volume
        base = base - of_lens - of_map + self._log_of_unknown(self.batch.unknown)

        def of_hands(hands: Sequence[tuple[float, float]], at: slice) -> Array:
            each = [
                np.log(share) - 0.5 * self.squares[at] / worse**2 - (rows[at] - 8) * np.log(worse)
                for worse, share in hands
            ]
            return np.logaddexp.reduce(np.stack(each), axis=0)

        known = base + of_hands(HANDS, slice(None))
        return np.append(known, base[0] + of_hands(UNFORESEEN, slice(1))[0])

    def _log_of_unknown(self, unknown: NDArray[np.bool_]) -> Array:
        """Logarithm (H,) of the density of the numbers that are off by anything, each doubling alike."""
        image = self._image()
        off = np.maximum(np.abs(image - self._target) * self._inches[:, None, None], SMALLEST)
        doublings = np.log(LARGEST / SMALLEST)
        one = -np.log(2 * off * doublings)
        both = -np.log(2 * np.pi * np.maximum((off**2).sum(axis=2), SMALLEST**2) * doublings)
        either = np.where(unknown, one, 0.0).sum(axis=2)
        return np.where(unknown.all(axis=2), both, either).sum(axis=1)

    def _image(self) -> Array:
        ideal = self._away[None] + np.einsum("nil,hl->hni", self._bend, self._lens)
        below = 1 + np.einsum("hni,hi->hn", ideal, self._plane[:, 6:8])
        below = np.where(np.abs(below) < 1e-3, 1e-3, below)
        top = np.stack([self._plane[:, 0:3], self._plane[:, 3:6]], axis=1)
        lifted = np.concatenate([ideal, np.ones((*ideal.shape[:2], 1))], axis=2)
        return np.einsum("hij,hnj->hni", top, lifted) / below[:, :, None]

    def expected_in(self, row: int, mark: int) -> tuple[float, float]:
        """Where hypothesis ``row`` wants a mark (index), inches."""
        image = self._image()[row, mark] * self._inches[row] + self._middle[row]
        return float(image[0]), float(image[1])


@dataclass(frozen=True)
class Finding:
    """Marks (numbers from 1) that do not go with the others.

    ``suspects`` are the groups of marks one of which is wrong, the likeliest first; none when no single slip explains
    the marks. ``slip`` tells what was meant when that is beyond doubt, in the numbers as they were typed; ``wanted``
    is where the others want the mark when it alone is to blame.
    """

    suspects: tuple[tuple[int, ...], ...]
    slip: Slip | None = None
    wanted: tuple[float, float] | None = None

    @property
    def is_sure(self) -> bool:
        """Whether the wrong marks are named beyond doubt."""
        return len(self.suspects) == 1


def find_slip(
    marks: Sequence[Mark], width_px: int, height_px: int, placing: Placing = CAREFUL, typed_per_in: float = 1.0
) -> Finding | None:
    """What is wrong with five or more marks; None when they go together as careful marks do.

    ``typed_per_in`` says what the numbers were typed in (2.54 for centimetres): slips happen to the numbers as typed.
    Works on marks that ``check_marks`` refuses, as long as each has a number.
    """
    if len(marks) < 5:
        return None
    size = (width_px, height_px)
    places, pixels = tables_of(marks) * typed_per_in, pixels_of(marks)
    alone = BatchFit(batch_of(places, (), typed_per_in), pixels, size, placing, USUAL)
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
    made = BatchFit(batch_of(places, slips, typed_per_in), pixels, size, placing, USUAL)
    chances = np.exp(made.log_evidence - np.logaddexp.reduce(made.log_evidence))
    return None if chances[0] > 0.5 else _named(slips, chances, made, typed_per_in, len(marks))


def _named(slips: Sequence[Slip], chances: Array, made: BatchFit, typed_per_in: float, count: int) -> Finding:
    of_marks: dict[tuple[int, ...], float] = {}
    for slip, chance in zip(slips, chances[1:-1].tolist(), strict=True):
        of_marks[slip.marks] = of_marks.get(slip.marks, 0.0) + chance
    ranked = sorted(of_marks, key=lambda one: -of_marks[one])
    enough, held = SURE / (SURE + 1), np.cumsum([of_marks[group] for group in ranked])
    if held[-1] < enough:
        return Finding(())
    few = ranked[: int(np.argmax(held >= enough)) + 1]
    suspects = tuple(tuple(index + 1 for index in group) for group in few)
    if len(few) > 1:
        return Finding(suspects if len(few) <= MOST_NAMED else ())
    best = max((row for row, slip in enumerate(slips) if slip.marks == few[0]), key=lambda row: chances[row + 1])
    slip = slips[best]
    alike = sum(
        chances[row + 1]
        for row, other in enumerate(slips)
        if other.marks == slip.marks and other.is_known and np.abs(other.meant - slip.meant).max() < SAME * typed_per_in
    )
    fits = squares_tail(float(made.squares[best + 1]), 2 * count - PLANE) >= EXPLAINED
    wanted = None
    if len(slip.marks) == 1:
        x, y = made.expected_in(best + 1, slip.marks[0])
        wanted = x * typed_per_in, y * typed_per_in
    return Finding(suspects, slip if slip.is_known and alike >= enough and fits else None, wanted)


def sentence(found: Finding, spelt: str, typed: Array, show: Callable[[float], str]) -> str:
    """The finding in words: ``spelt`` names the unit ("inches"), ``typed`` (N, 2) the numbers, ``show`` writes one."""

    def pair(numbers: Array) -> str:
        return f"({show(float(numbers[0]))}, {show(float(numbers[1]))})"

    if not found.suspects:
        return "These marks contradict each other, and no single slip explains it. Check each mark: measure all again."
    if not found.is_sure:
        either = " or ".join(named(group) for group in found.suspects)
        return f"Something is wrong with {either}: check these. One more mark would tell which."
    marks = found.suspects[0]
    slip = found.slip
    if len(marks) > 1:
        if slip is None:
            return f"{named(marks).capitalize()} do not go with the others: check which is which."
        right = ", ".join(f"mark {mark} {pair(meant)}" for mark, meant in zip(marks, slip.meant, strict=True))
        return f"{named(marks).capitalize()} were taken for each other. Should they be {right}?"
    start = f"Mark {marks[0]} does not go with the others"
    if found.wanted is not None:
        start += f": they want it near ({found.wanted[0]:.1f}, {found.wanted[1]:.1f})"
    if slip is None:
        return f"{start}. Measure it once more."
    was, meant = typed[marks[0] - 1], slip.meant[0]
    if slip.kind == "exchanged numbers":
        return f"{start}. Were its {spelt} swapped, and should be {pair(meant)}?"
    if slip.kind == "both in another unit":
        return f"{start}. Was it measured with the other side of the tape, and should be {pair(meant)}?"
    which = "first" if was[0] != meant[0] else "second"
    at = 0 if which == "first" else 1
    return f"{start}. Is its {which} number of {spelt} {show(float(meant[at]))} instead of {show(float(was[at]))}?"
