"""Fifteen kinds of slip in sets of 5, 6, 9 and 12 marks: what is found, what is said, what passes.

Run from the top of the repository: ``python -m tests.benchmarks.calibration_slips [trials a cell [marks [seed]]]``.
Marks are spread, read to 1/16 in and placed with a standard error of 1/32 in, zero being the first; then one slip is
made. "wrong" is a correction or a mark named beyond doubt that is not the right one (more than 1/8 in off); "silent" is
a light more than 1/8 in off somewhere, and beyond what was predicted, without a word: no slip named, no refusal, no
word that the marks disagree more than careful ones ("told"; of sets without a slip one in twenty is told so).
"untested" is that again, but said to be possible: the marks are such that nothing shows such a slip.
"""

from __future__ import annotations

import sys
from collections import Counter
from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from calibration.advice import untested
from calibration.marks import Mark
from calibration.problems import MarksRefused
from calibration.slips.judging import find_slip
from calibration.table import fit_table
from calibration.uncertainty import Uncertainty
from tests.benchmarks.calibration_coverage import layout_px, usual_lens
from tests.calibration.rigs import HEIGHT_PX, WIDTH_PX, Array, lit, marks_of, random_rig

CLOSE_IN = 1 / 8
Make = Callable[[Array, int, np.random.Generator], Array]


def _number(change: Callable[[float, np.random.Generator], float]) -> Make:
    def make(places: Array, mark: int, rng: np.random.Generator) -> Array:
        wrong, axis = places.copy(), int(rng.integers(2))
        wrong[mark, axis] = change(float(places[mark, axis]), rng)
        return wrong

    return make


def _whole(value: float, change: Callable[[list[str]], None]) -> float:
    inches = int(abs(value))
    digits = list(str(inches))
    change(digits)
    sign = -1.0 if value < 0 else 1.0
    return sign * (int("".join(digits) or "0") + abs(value) - inches)


def _digit(value: float, rng: np.random.Generator) -> float:
    def change(digits: list[str]) -> None:
        at = int(rng.integers(len(digits)))
        digits[at] = str(rng.choice([digit for digit in "0123456789" if digit != digits[at]]))

    return _whole(value, change)


def _exchanged_digits(value: float, rng: np.random.Generator) -> float:
    return _whole(value, lambda digits: digits.reverse())


def _dropped(value: float, rng: np.random.Generator) -> float:
    return _whole(value, lambda digits: digits.__delitem__(int(rng.integers(len(digits)))))


def _wrong_side(value: float, rng: np.random.Generator) -> float:
    below = np.floor(value)
    return float(2 * (below + 1) - value if rng.integers(2) else 2 * below - value)


def _anything(value: float, rng: np.random.Generator) -> float:
    return value + float(rng.choice([-1, 1]) * np.exp(rng.uniform(np.log(0.3), np.log(10))))


def _mark(change: Callable[[Array], Array]) -> Make:
    def make(places: Array, mark: int, rng: np.random.Generator) -> Array:
        wrong = places.copy()
        wrong[mark] = change(places[mark])
        return wrong

    return make


def _two(places: Array, mark: int, rng: np.random.Generator) -> Array:
    wrong, other = places.copy(), (mark + 1 + int(rng.integers(len(places) - 1))) % len(places)
    wrong[[mark, other]] = places[[other, mark]]
    return wrong


def _order(places: Array, mark: int, rng: np.random.Generator) -> Array:
    return np.roll(places, 1 + int(rng.integers(len(places) - 1)), axis=0)


KINDS: dict[str, Make] = {
    "off by an inch": _number(lambda value, rng: value + float(rng.choice([-1, 1]))),
    "off by a half": _number(lambda value, rng: value + float(rng.choice([-0.5, 0.5]))),
    "a digit": _number(_digit),
    "digits exchanged": _number(_exchanged_digits),
    "a digit dropped": _number(_dropped),
    "minus": _number(lambda value, rng: -value),
    "decimal sign": _number(lambda value, rng: value * float(rng.choice([0.1, 10.0]))),
    "wrong side": _number(_wrong_side),
    "a foot": _number(lambda value, rng: value + float(rng.choice([-12, 12]))),
    "cm for in": _number(lambda value, rng: value * 2.54),
    "cm for in, both": _mark(lambda place: place * 2.54),
    "numbers exchanged": _mark(lambda place: place[::-1]),
    "two marks exchanged": _two,
    "another order": _order,
    "anything": _number(_anything),
}


def tried(rng: np.random.Generator, count: int, make: Make) -> str:
    """One set of marks with one slip: what became of it."""
    while True:
        matrix, lens = random_rig(rng), usual_lens(rng)
        pixels = layout_px(rng, count, "regular")
        true = lit(matrix, lens.undo(pixels))
        zero = true[0].copy()
        meant = np.round((true - zero + rng.normal(0, 1 / 32, true.shape)) * 16) / 16
        typed = make(meant, int(rng.integers(count)), rng)
        if np.abs(typed - meant).max() > CLOSE_IN:
            break
    marks = marks_of(typed, pixels + rng.normal(0, 0.25, pixels.shape))
    found = find_slip(marks, WIDTH_PX, HEIGHT_PX)
    if found is None:
        return _unsaid(marks, np.abs(typed - meant) > CLOSE_IN, lambda points: lit(matrix, lens.undo(points)) - zero)
    if not found.is_sure:
        return "unsure"
    named = [number - 1 for number in found.suspects[0]]
    right = typed.copy()
    if found.slip is not None:
        right[named] = found.slip.meant
        return "corrected" if np.abs(right - meant).max() <= CLOSE_IN else "wrong"
    right[named] = meant[named]
    return "mark named" if np.abs(right - meant).max() <= CLOSE_IN else "wrong"


def _unsaid(marks: tuple[Mark, ...], wrong: NDArray[np.bool_], lands: Callable[[Array], Array]) -> str:
    try:
        table = fit_table(marks, WIDTH_PX, HEIGHT_PX)
    except MarksRefused:
        return "refused"
    made, wanted = Uncertainty(table), table.lit_points(17, 11)
    off = np.linalg.norm(lands(table.to_frame(wanted)) - wanted, axis=1).max()
    if off <= max(CLOSE_IN, made.everywhere_in()):
        return "within"
    if made.disagree:
        return "told"
    warned = untested(made)
    numbers = set((np.flatnonzero(wrong.any(axis=1)) + 1).tolist())
    return "untested" if warned is not None and numbers <= set(warned.marks) else "silent"


OUTCOMES = ("corrected", "mark named", "unsure", "refused", "within", "told", "untested", "silent", "wrong")


def main() -> None:
    """Print a table for each number of marks."""
    trials, only, seed = (int(given) for given in (sys.argv[1:] + ["40", "0", "0"][len(sys.argv) - 1 :]))
    for count in (only,) if only else (5, 6, 9, 12):
        print(f"{count} marks" + " " * 14 + " ".join(f"{name:>10}" for name in OUTCOMES))
        total: Counter[str] = Counter()
        for name, make in KINDS.items():
            rng = np.random.default_rng(seed + count)
            found = Counter(tried(rng, count, make) for _ in range(trials))
            total += found
            print(f"{name:21}" + " ".join(f"{found[outcome]:10d}" for outcome in OUTCOMES), flush=True)
        print(f"{'in all':21}" + " ".join(f"{total[outcome]:10d}" for outcome in OUTCOMES), flush=True)


if __name__ == "__main__":
    main()
