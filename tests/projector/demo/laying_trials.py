"""Pairs cut from cloth that is stretched, turned, skewed and bowed at random, the light fitted to it or not."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from calibration.registration.advice import where_next
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import Motif, PrintLattice, PrintPoint
from calibration.registration.registering import register
from projector.demo.cloth import LaidCloth

NEAREST = "to the nearest 1/32 in"
WITHIN = "never off by more than 1/32 in"
NORMAL = "normal, standard deviation 1/32 in"
PLACED = {
    NEAREST: lambda rng: rng.uniform(-1 / 64, 1 / 64, 2),
    WITHIN: lambda rng: rng.uniform(-1 / 32, 1 / 32, 2),
    NORMAL: lambda rng: rng.normal(0, 1 / 32, 2),
}
"""What "placed to 1/32 in" may mean, each way."""

SELVEDGE = 0.5


@dataclass(frozen=True)
class Bolt:
    """A cloth as planned and the two equal cuts of its pair; the second is turned or upright."""

    along: float = 12.375
    across: float = 13.25
    width: float = 54.0
    first_row: float = 4.75
    length: float = 93.0
    turned: bool = True

    @property
    def lattice(self) -> PrintLattice:
        return PrintLattice.centred(self.along, self.across, self.width, SELVEDGE, self.first_row)

    @property
    def spans(self) -> tuple[tuple[float, float], tuple[float, float]]:
        """From where to where along the piece each cut goes, first end first; rows are mirror lines."""
        first = 2.0
        if not self.turned:
            second = first + np.ceil((self.length + 1) / self.along) * self.along
            return (first, first + self.length), (second, second + self.length)
        above = (self.first_row - first) % self.along  # the top edge stands this far above the next row
        rows = np.ceil((first + 2 * self.length + 1 - self.first_row - above) / self.along)
        end = self.first_row + rows * self.along + above
        return (first, first + self.length), (end - self.length, end)


def cloth_of(bolt: Bolt, rng: np.random.Generator, most: float = 0.03) -> LaidCloth:
    """Cloth up to 1 1/2 % longer or shorter than its ticket, 1 % wider or narrower, skewed and bowed up to ``most``."""
    return LaidCloth(
        length=400,
        width=bolt.width,
        along=bolt.along,
        across=bolt.across,
        selvedge=SELVEDGE,
        first_row=bolt.first_row,
        skew=rng.uniform(-most, most) * bolt.width,
        bow=rng.uniform(-most, most) * bolt.width,
        stretch_along=1 + rng.uniform(-0.015, 0.015),
        stretch_across=1 + rng.uniform(-0.01, 0.01),
    )


def laid(cloth: LaidCloth, at_left: float, rng: np.random.Generator) -> LaidCloth:
    """The cloth laid for a cut by hand: up to 1/2 in and 1 1/2 degrees off, a little tighter or slacker each time."""
    shift = (float(rng.uniform(-0.5, 0.5)), float(rng.uniform(-0.5, 0.5)))
    tension = 1 + rng.uniform(-0.002, 0.002)
    turn = float(rng.uniform(-1.5, 1.5))
    return replace(cloth, at_left=at_left, shift=shift, turn_deg=turn, stretch_along=cloth.stretch_along * tension)


def confirm(cloth: LaidCloth, motifs: list[Motif], placed: str, rng: np.random.Generator) -> list[PrintPoint]:
    """Motif points as a person confirms them, placed as one of ``PLACED`` says."""
    found = cloth.motif_points(motifs)
    off = [PLACED[placed](rng) for _ in motifs]
    places = (found + off).tolist()
    return [PrintPoint(row, column, (x, y)) for (row, column), (x, y) in zip(motifs, places, strict=True)]


def advised(bolt: Bolt, span: tuple[float, float], count: int) -> list[Motif]:
    """The motif points the program asks for, one after another."""
    motifs: list[Motif] = []
    while len(motifs) < count:
        motif = where_next(bolt.lattice, *span, motifs)
        if motif is None:
            break
        motifs.append(motif)
    return motifs


def off_print(bolt: Bolt, number: int, cloth: LaidCloth, fit: PrintFit) -> np.ndarray:
    """How far (2, 55) top and foot edge of a cut fall below where the print has them, selvedge to selvedge."""
    across = np.linspace(0, bolt.width, 55)
    start, end = bolt.spans[number]
    turned = bolt.turned and number == 1
    off = []
    for edge in (end, start) if turned else (start, end):
        lit = fit.to_table(np.column_stack([np.full_like(across, edge), across]))
        down = -1 if turned else 1
        off.append(down * (cloth.to_print(lit)[:, 0] - edge) * cloth.stretch_along)
    return np.array(off)


def mismatch(bolt: Bolt, rng: np.random.Generator, placed: str, points: int = 4, most: float = 0.03) -> float:
    """The largest distance by which the cut edges of the pair miss each other's print, over the whole cloth width."""
    cloth, off = cloth_of(bolt, rng, most), []
    for number, span in enumerate(bolt.spans):
        at_left = span[0] - 3
        lies = laid(cloth, at_left, rng)
        confirmed = confirm(lies, advised(bolt, span, points), placed, rng)
        off.append(off_print(bolt, number, lies, register(confirmed, PrintFit.plain(bolt.lattice, at_left)).fit))
    return float(np.abs(off[0] - off[1]).max())


def mismatch_unlaid(bolt: Bolt, rng: np.random.Generator, most: float = 0.03) -> float:
    """The same with the light left alone: the cloth is laid with its selvedge true and its left end exact, no more."""
    cloth, off = cloth_of(bolt, rng, most), []
    for number, span in enumerate(bolt.spans):
        lies = replace(laid(cloth, span[0] - 3, rng), shift=(0.0, 0.0), turn_deg=0.0)
        off.append(off_print(bolt, number, lies, PrintFit.plain(bolt.lattice, span[0] - 3)))
    return float(np.abs(off[0] - off[1]).max())
