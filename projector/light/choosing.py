"""Which colours of light show best on a cloth: the largest smallest CIEDE2000 difference, for every kind of eye.

A mark lies on the ground or on a motif, beside more of the same or of another colour that it does not touch. Of all
these pairs, seen by the usual eye and by eyes that lack one kind of cone, the smallest difference counts. Differences
are taken against the brightest white the projector and the room make together, to which an eye at the table adapts.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from projector.light.appearance import Illumination
from projector.light.candidates import BLACK, FULL, GROUPS, OKABE_ITO
from projector.light.ciede2000 import ciede2000
from projector.light.eyes import by_all_eyes
from projector.light.looks import LOOKS, WHITE, Look, recoloured
from projector.light.srgb import channels, decoded, lab
from projector.scene.marks import Kind

Floats = NDArray[np.float64]

ALIKE = 0.05
"""Differences within this share of each other are as good as equal: then the usual colours win."""
PLAINLY = 10.0
"""Below this difference thin lines are hard to find; our own judgement, no source."""
LIGHTING = 0.15
"""The cloth is lit all over only where that shows the cut lines so much better: unlit cloth is easier to work on."""
DARK_WIDER, DARK_IN = 1.6, 3 / 32
"""On cloth lit all over marks are so much wider, and no narrower than this (inches): light spreads over a thin dark
line from both sides, in the lens and in the eye. Our own judgement, no source."""
WORTH = 0.6
"""A colour that keeps kinds of marks apart may show this much less than the best one."""


@dataclass(frozen=True)
class Chosen:
    """A colour for a group of kinds: ``shows`` is its smallest difference from what it lies beside, ``apart`` from the
    lights of the groups before it (None for the first)."""

    group: str
    colour: int
    shows: float
    apart: float | None


@dataclass(frozen=True)
class Choice:
    """Colours for every kind of mark on a cloth lit all over with ``field`` (0: not lit)."""

    field: int
    chosen: tuple[Chosen, ...]

    @property
    def smallest(self) -> float:
        """The smallest difference of the cut lines."""
        return self.chosen[0].shows

    @property
    def looks(self) -> Mapping[Kind, Look]:
        """The usual line types in these colours; wider on cloth that is lit all over."""
        colours = {kind: one.colour for one in self.chosen for kind in GROUPS[one.group]}
        looks = recoloured(LOOKS, colours)
        if self.field == BLACK:
            return looks
        return {kind: replace(look, width_in=max(DARK_WIDER * look.width_in, DARK_IN)) for kind, look in looks.items()}


def differences(surfaces: Sequence[int | str], field: int, colours: Sequence[int], light: Illumination) -> Floats:
    """Smallest difference (n,) of each of ``colours`` (n) on any of the surfaces from any surface left in ``field``."""
    marks = _seen(surfaces, colours, light)
    beside = _seen(surfaces, (field,), light)[:, 0]
    pairs = ciede2000(marks[:, :, :, None, :], beside[:, None, None, :, :])
    return pairs.min(axis=(0, 2, 3))


def _seen(surfaces: Sequence[int | str], colours: Sequence[int], light: Illumination) -> Floats:
    """L*a*b* (eyes, colours, surfaces, 3) of colours of light on surfaces."""
    cloth = decoded(np.array([channels(surface) for surface in surfaces]))
    lux = light.on_table(decoded(np.array([channels(colour) for colour in colours])))
    return lab(by_all_eyes(lux[:, None, :] * cloth / light.most_lx))


def _apart(surfaces: Sequence[int | str], colours: Sequence[int], light: Illumination) -> Floats:
    """Smallest difference (n, n) between two colours of light on the same surface."""
    marks = _seen(surfaces, colours, light)
    return ciede2000(marks[:, :, None], marks[:, None]).min(axis=(0, 3))


def ranked_choices(
    ground: str,
    motifs: Sequence[str] = (),
    light: Illumination | None = None,
    *,
    fields: Sequence[int] = (BLACK, WHITE),
) -> tuple[Choice, ...]:
    """Sets of colours for a cloth, the one whose cut lines show best first; each begins with another cut line.

    ``fields`` are the lights of the cloth around the marks that are considered: unlit, and lit all over with marks
    darker than it. Sets that show less than half as well as the first are left out.
    """
    light = light or Illumination()
    surfaces = tuple(dict.fromkeys((ground, *motifs)))
    made = [choice for field in fields for choice in _choices(surfaces, field, light)]
    made.sort(key=lambda choice: -_worth(choice))
    return tuple(choice for choice in made if choice.smallest >= made[0].smallest / 2)


def _worth(choice: Choice) -> float:
    """How well the cut lines show, less ``LIGHTING`` for a lit field and ``ALIKE`` for an unusual colour."""
    return choice.smallest * (1 - LIGHTING * (choice.field != BLACK) - ALIKE * (choice.chosen[0].colour in FULL))


def _choices(surfaces: Sequence[str], field: int, light: Illumination) -> list[Choice]:
    colours = tuple(colour for colour in (*OKABE_ITO, BLACK, *FULL) if colour != field)
    shows = differences(surfaces, field, colours, light)
    apart = _apart(surfaces, colours, light)
    return [_set_from(first, field, colours, shows, apart) for first in range(len(colours))]


def _set_from(first: int, field: int, colours: Sequence[int], shows: Floats, apart: Floats) -> Choice:
    """The set whose first group has colour number ``first``; each further group takes what shows and stays apart."""
    names = list(GROUPS)
    taken = [first]
    chosen = [Chosen(names[0], colours[first], float(shows[first]), None)]
    for name in names[1:]:
        from_others = apart[:, taken].min(axis=1)
        worth = np.minimum(shows, from_others) * (1 - ALIKE * np.isin(colours, FULL))
        worth = np.where(shows >= WORTH * shows.max(), worth, -np.inf)
        # Where all that shows is used up, the colour that shows best is used again: line types tell the kinds apart.
        best = int(np.argmax(worth)) if worth.max() > 0 else int(np.argmax(shows))
        chosen.append(Chosen(name, colours[best], float(shows[best]), float(from_others[best])))
        taken.append(best)
    return Choice(field, tuple(chosen))
