"""Mirrors, glides and half-turn of a print, from its mean repeat against its mirrored and turned selves."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from jobs.model.choices import Symmetry
from jobs.model.records import dataclass
from jobs.prints.photographs.opening import Pixels

Waves = NDArray[np.complex128]

SAME = 0.02
"""Share of the print's variance by which a mirrored self may differ, beyond noise, and still be taken as the same: a
seventh of its contrast."""
CLOSE = 0.003
"""From here on it is taken as the same with a word of doubt."""
CLEAR = 0.08
"""From here on it is clearly another."""
_ALIGNED = 0.35
"""Points by which two pictures of the same thing may be misplaced, and so differ where the print has edges."""


@dataclass(frozen=True)
class Match:
    """How much the print differs from a moved self, as a share of its variance beyond noise, and where its line or
    centre lies, in shares of the cell (down, across)."""

    differs: float
    place: tuple[float, float]

    @property
    def same(self) -> bool:
        return self.differs < SAME

    @property
    def close(self) -> bool:
        """Whether the other answer is not out of the question."""
        return CLOSE < self.differs < CLEAR


@dataclass(frozen=True)
class Found:
    """What was found in each direction; a match is None where the drop forbids a mirror."""

    top_to_bottom: Symmetry
    side_to_side: Symmetry
    half_turn: bool
    down: Match | None
    side: Match | None
    turn: Match
    close: tuple[str, ...]


def symmetry_of(cell: Pixels, noise: float, columns: int, mirrors: bool) -> Found:
    """Symmetry of a mean cell (k, l, c), first axis along, ``columns`` columns wide; ``noise`` is its variance.

    ``mirrors``: whether the drop allows mirror lines, so that the cell is a true rectangle.
    """
    spectrum = np.fft.fft2(cell, axes=(0, 1))
    spectrum[0, 0] = 0
    turn = _best(spectrum, _turned(spectrum, True, True), noise, None, None)
    if not mirrors:
        return Found(Symmetry.NONE, Symmetry.NONE, turn.same, None, None, turn, ("half_turn",) if turn.close else ())
    down_self, side_self = _turned(spectrum, True, False), _turned(spectrum, False, True)
    down_kinds = {
        Symmetry.MIRROR: _best(spectrum, down_self, noise, None, 0.0),
        Symmetry.GLIDE: _best(spectrum, down_self, noise, None, 0.5),
    }
    side_kinds = {
        Symmetry.MIRROR: _best(spectrum, side_self, noise, 0.0, None),
        Symmetry.GLIDE: _best(spectrum, side_self, noise, 0.5, None),
    }
    if columns == 2:
        # In a cell of two columns with a half-drop, half a slide is a step of the lattice: no kind of its own.
        down_kinds.pop(Symmetry.GLIDE)
        side_kinds.pop(Symmetry.GLIDE)
    down_kind, down = _kind(down_kinds)
    side_kind, side = _kind(side_kinds)
    half = turn.same
    # Two of the three give the third; the weakest of three that disagree gives way.
    has = {"down": down_kind is not Symmetry.NONE, "side": side_kind is not Symmetry.NONE, "turn": half}
    close = [name for name, one in (("top_to_bottom", down), ("side_to_side", side), ("half_turn", turn)) if one.close]
    if sum(has.values()) == 2:
        by = {"down": down.differs, "side": side.differs, "turn": turn.differs}
        missing = next(name for name, there in has.items() if not there)
        weakest = max((name for name, there in has.items() if there), key=by.__getitem__)
        if by[missing] - SAME < SAME - by[weakest]:
            half = True
            down_kind, side_kind = _nearest(down_kinds), _nearest(side_kinds)
        elif weakest == "down":
            down_kind = Symmetry.NONE
        elif weakest == "side":
            side_kind = Symmetry.NONE
        else:
            half = False
        close.append({"down": "top_to_bottom", "side": "side_to_side", "turn": "half_turn"}[missing])
    return Found(down_kind, side_kind, half, down, side, turn, tuple(dict.fromkeys(close)))


def _nearest(kinds: dict[Symmetry, Match]) -> Symmetry:
    return min(kinds, key=lambda kind: kinds[kind].differs)


def _kind(kinds: dict[Symmetry, Match]) -> tuple[Symmetry, Match]:
    """A mirror before a glide: between the mirrors of a print there may be glides too."""
    for kind, match in kinds.items():
        if match.same:
            return kind, match
    return Symmetry.NONE, min(kinds.values(), key=lambda match: match.differs)


def _turned(spectrum: Waves, down: bool, across: bool) -> Waves:
    """Spectrum of the cell read backwards about its corner, down, across or both."""
    cell = np.fft.ifft2(spectrum, axes=(0, 1)).real
    if down:
        cell = cell[::-1]
    if across:
        cell = cell[:, ::-1]
    return np.fft.fft2(cell, axes=(0, 1))


def _best(own: Waves, other: Waves, noise: float, down: float | None, across: float | None) -> Match:
    """The least difference of the cell from its other self over all shifts, or over those with one part given."""
    high, wide = own.shape[:2]
    finer = 4
    product = (own * np.conj(other)).sum(2)
    alike = np.fft.ifft2(_padded(product, finer)).real * finer**2
    rows = np.arange(alike.shape[0]) if down is None else np.array([round(down * alike.shape[0])])
    cols = np.arange(alike.shape[1]) if across is None else np.array([round(across * alike.shape[1])])
    part = alike[np.ix_(rows, cols)]
    i, j = np.unravel_index(int(part.argmax()), part.shape)
    power = float((np.abs(own) ** 2).sum()) / (high * wide)
    points = high * wide
    residual = (2 * power - 2 * float(part[i, j])) / points
    slopes = _slope_power(own) / points
    allowed = 2 * noise + 2 * slopes * (_ALIGNED / 2) ** 2
    signal = max(power / points - noise, 1e-12)
    shift = rows[i] / alike.shape[0], cols[j] / alike.shape[1]
    return Match(max(0.0, residual - allowed) / (2 * signal), (shift[0] / 2, shift[1] / 2))


def _padded(product: Waves, finer: int) -> Waves:
    high, wide = product.shape
    big = np.zeros((high * finer, wide * finer), complex)
    h, w = high // 2, wide // 2
    big[:h, :w], big[:h, -w:] = product[:h, :w], product[:h, -w:]
    big[-h:, :w], big[-h:, -w:] = product[-h:, :w], product[-h:, -w:]
    return big


def _slope_power(own: Waves) -> float:
    """Sum of squared slopes of the cell, a point of the grid as unit."""
    high, wide = own.shape[:2]
    v = 2 * np.pi * np.fft.fftfreq(high)[:, None, None]
    u = 2 * np.pi * np.fft.fftfreq(wide)[None, :, None]
    return float(((u**2 + v**2) * np.abs(own) ** 2).sum()) / (high * wide) / 2
