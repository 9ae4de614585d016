"""Which colours of light show best on a cloth: those that are bright enough first, and of these the most different.

Thin lines and letters are found by luminance, not by hue. A line lies on the ground or on a motif, and what borders it
on both sides is the same cloth unlit: its contrast with that must reach a floor on the ground and on every motif. A
line may besides lie beside another colour of the cloth that it does not touch, and many eyes lack one kind of cone: of
all these pairs, seen by every kind of eye, the smallest CIEDE2000 difference decides among the colours that reach the
floor. Differences are taken against the brightest white the projector and the room make together.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from projector.light.appearance import Illumination, line_contrast, line_share
from projector.light.colour import by_all_visions, channels, ciede2000, decoded, lab
from projector.light.raster.arrays import Array
from projector.light.styles import CANDIDATES, CUTS, GROUPS, LETTERS, STYLES, UNUSUAL, WHITE, Style, recoloured
from projector.scene.marks import Kind

FLOOR = 2.5
"""Contrast that every mark reaches on ground and motifs where any light does; our own judgement, no source."""
ALIKE = 0.05
"""Differences within this share of each other are as good as equal: then white and the usual colours win."""
FEWEST = 3
"""Sets of colours that are offered at least, even where fewer reach the floor."""
TOLD_APART = 3.0
"""Below this difference the lights of two kinds of line are as good as one; our own judgement, no source."""
LEAST_ROOM_LX = 5.0
"""Nobody works in less light than this."""


@dataclass(frozen=True)
class Chosen:
    """A colour for a group of kinds, on the surface where each figure is worst.

    ``contrast`` is that with the unlit cloth around it, ``shows`` the smallest difference from what it lies beside,
    ``apart`` from the lights of the lines before it (None for the first, and for letters).
    """

    group: str
    colour: int
    contrast: float
    shows: float
    apart: float | None


@dataclass(frozen=True)
class Choice:
    """Colours for every kind of mark, the cut lines first."""

    chosen: tuple[Chosen, ...]

    @property
    def smallest(self) -> float:
        """The smallest difference of the cut lines."""
        return self.chosen[0].shows

    @property
    def contrast(self) -> float:
        """The least contrast of the cut lines."""
        return self.chosen[0].contrast

    @property
    def least_contrast(self) -> float:
        """The least contrast of any mark."""
        return min(one.contrast for one in self.chosen)

    @property
    def styles(self) -> Mapping[Kind, Style]:
        """The usual line types in these colours."""
        return recoloured(STYLES, {kind: one.colour for one in self.chosen for kind in GROUPS[one.group]})


def contrasts(surfaces: Sequence[int | str], colours: Sequence[int], light: Illumination, share: float) -> Array:
    """Contrast (n, m) of lines of each of ``colours`` (n) on each of the surfaces (m) with the same surface unlit."""
    return line_contrast(_linear(surfaces), _linear(colours)[:, None], light, share)


def differences(surfaces: Sequence[int | str], colours: Sequence[int], light: Illumination, share: float) -> Array:
    """Smallest difference (n,) of lines of each of ``colours`` (n) on any of the surfaces from any unlit surface."""
    marks = _seen(surfaces, colours, light, share)
    beside = _seen(surfaces, (0,), light, share)[:, 0]
    pairs = ciede2000(marks[:, :, :, None, :], beside[:, None, None, :, :])
    return pairs.min(axis=(0, 2, 3))


def share_of(group: str) -> float:
    """Share of its light that the thinnest line of a group keeps in its middle."""
    return line_share(min(STYLES[kind].width_in for kind in GROUPS[group]))


def room_to_reach(surfaces: Sequence[int | str], light: Illumination) -> float | None:
    """The brightest room, in lux, in which letters reach the floor; None where they do as it is, or never would.

    Letters are lit in white and have the thinnest strokes: where they reach it, cut lines do.
    """

    def reached(room_lx: float) -> bool:
        return bool(contrasts(surfaces, (WHITE,), replace(light, room_lx=room_lx), share_of(LETTERS)).min() >= FLOOR)

    if reached(light.room_lx) or not reached(LEAST_ROOM_LX):
        return None
    low, high = LEAST_ROOM_LX, light.room_lx
    while high - low > 1:
        middle = (low + high) / 2
        low, high = (middle, high) if reached(middle) else (low, middle)
    return low


def ranked_choices(ground: str, motifs: Sequence[str] = (), light: Illumination | None = None) -> tuple[Choice, ...]:
    """Sets of colours for a cloth, the best first; each begins with another cut line.

    Those whose cut lines reach the floor come first, the most different from the cloth leading, and sets that differ
    less than half as much as the first are left out; where none reaches it, the one of most contrast leads.
    """
    light = light or Illumination()
    surfaces = tuple(dict.fromkeys((ground, *motifs)))
    made = _Reckoned(surfaces, light).choices()
    made.sort(key=_rank)
    best = made[0]
    good = [one for one in made if one.contrast >= FLOOR and one.smallest >= best.smallest / 2]
    return tuple(good if len(good) >= FEWEST else made[:FEWEST])


def _rank(choice: Choice) -> tuple[bool, float]:
    """Sorts first what reaches the floor, by difference; then the rest, by contrast."""
    reaches = choice.contrast >= FLOOR
    return not reaches, -float(_worth(choice.chosen[0].colour, choice.smallest) if reaches else choice.contrast)


def _worth(colour: int, difference: float) -> float:
    """A difference, less ``ALIKE`` for an unusual colour."""
    return difference * (1 - ALIKE * (colour in UNUSUAL))


class _Reckoned:
    """Contrasts and differences of every candidate on a cloth, for lines as thin as each group has."""

    def __init__(self, surfaces: Sequence[str], light: Illumination) -> None:
        self._surfaces, self._light = surfaces, light
        self._of_share: dict[float, tuple[Array, Array, Array]] = {}

    def choices(self) -> list[Choice]:
        return [self._choice(first) for first in range(len(CANDIDATES))]

    def _figures(self, group: str) -> tuple[Array, Array, Array]:
        """Contrast (n,), difference (n,) from the cloth and difference (n, n) from each other."""
        share = share_of(group)
        if share not in self._of_share:
            seen = _seen(self._surfaces, CANDIDATES, self._light, share)
            self._of_share[share] = (
                contrasts(self._surfaces, CANDIDATES, self._light, share).min(axis=1),
                differences(self._surfaces, CANDIDATES, self._light, share),
                ciede2000(seen[:, :, None], seen[:, None]).min(axis=(0, 3)),
            )
        return self._of_share[share]

    def _choice(self, first: int) -> Choice:
        """The set whose cut lines have colour number ``first``."""
        taken, chosen = [first], [self._chosen(CUTS, first, ())]
        for group in list(GROUPS)[1:]:
            if group == LETTERS:
                chosen.append(self._chosen(group, int(np.argmax(self._figures(group)[0])), ()))
                continue
            number = self._told_apart(group, taken)
            chosen.append(self._chosen(group, number, taken))
            taken.append(number)
        return Choice(tuple(chosen))

    def _told_apart(self, group: str, taken: Sequence[int]) -> int:
        """The candidate that shows and stays apart from those taken, of those that reach the floor.

        Where none is told apart from all, apart from the cut lines will do; where none is from these, it is the one of
        most contrast: line types tell the kinds apart.
        """
        contrast, shows, apart = self._figures(group)
        usual = np.array([_worth(colour, 1.0) for colour in CANDIDATES])
        for others in (list(taken), list(taken[:1])):
            worth = np.where(contrast >= FLOOR, np.minimum(shows, apart[:, others].min(axis=1)), 0.0)
            if worth.max() >= TOLD_APART:
                return int(np.argmax(worth * usual))
        return int(np.argmax(contrast))

    def _chosen(self, group: str, number: int, taken: Sequence[int]) -> Chosen:
        contrast, shows, apart = self._figures(group)
        away = float(apart[number, list(taken)].min()) if taken else None
        return Chosen(group, CANDIDATES[number], float(contrast[number]), float(shows[number]), away)


def _linear(colours: Sequence[int | str]) -> Array:
    """Linear light (n, 3) of colours."""
    return decoded(np.array([channels(colour) for colour in colours]))


def _seen(surfaces: Sequence[int | str], colours: Sequence[int], light: Illumination, share: float) -> Array:
    """L*a*b* (eyes, colours, surfaces, 3) in the middle of lines of colours of light on surfaces."""
    lux = light.in_line(_linear(colours), share)
    return lab(by_all_visions(lux[:, None, :] * _linear(surfaces) / light.most_lx))
