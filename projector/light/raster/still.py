"""Letters that are lit again just as in the frame before: a question, the distance to pull, while a key moves the rest.

Their pixels are worked out once. Told apart by what they are, not by where they come from, so nobody has to say that
they stay.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np

from projector.light.raster.arrays import Indices, Packed
from projector.light.raster.fills import Boxed, Fill
from projector.light.raster.frame import MARGIN, FlatFrame
from projector.scene.marks import Text


@dataclass(eq=False)
class Still:
    """Letters that stay, as fills; ``lit`` are their pixels, places of the flat frame and values, once lit alone."""

    fills: Sequence[Fill]
    lit: tuple[Indices, Packed] | None = None


@dataclass
class StillLetters:
    """Which letters stay from one frame to the next, seen through the same ``through``."""

    _through: object = None
    _before: frozenset[Text] = frozenset()
    _texts: tuple[Text, ...] = ()
    _still: Still = field(default_factory=lambda: Still(()))

    def parted(self, texts: Sequence[Text], through: object) -> tuple[tuple[Text, ...], tuple[Text, ...]]:
        """Those that were lit in the frame before, and those that were not."""
        if through != self._through:
            self._through, self._before, self._texts, self._still = through, frozenset(), (), Still(())
        before, self._before = self._before, frozenset(texts)
        return tuple(text for text in texts if text in before), tuple(text for text in texts if text not in before)

    def known(self, texts: tuple[Text, ...]) -> Still | None:
        """What is known of letters that stay, None where they are others than those known last."""
        return self._still if texts == self._texts else None

    def learn(self, texts: tuple[Text, ...], fills: Sequence[Fill]) -> Still:
        """Letters that stay, and their fills, to be known from now on."""
        self._texts, self._still = texts, Still(fills)
        return self._still


def lit_alone(frame: FlatFrame, shown: Sequence[Boxed]) -> tuple[Indices, Packed]:
    """The pixels of a frame on which nothing but these fills is lit: their places and values."""
    found = []
    for _, box in shown:
        rows, columns = np.nonzero(frame.inner[box.top : box.top + box.height, box.left : box.left + box.width])
        found.append((rows + (box.top + MARGIN)) * frame.stride + columns + (box.left + MARGIN))
    # Boxes may overlap: a place that two of them have counts once more, to the same value.
    places = np.concatenate(found) if found else np.zeros(0, np.intp)
    return places, frame.flat[places]
