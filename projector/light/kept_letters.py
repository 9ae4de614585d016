"""Letters of the last frame in pixels: those that stand where they stood are taken from there."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from calibration.table import Table
from projector.light.fills import Fill
from projector.light.labels import fills_of_each
from projector.light.segments import Array
from projector.light.view import View
from projector.scene.marks import Text


class KeptLetters:
    """Lines of letters that went through one map and one motion; only new ones go through it again."""

    def __init__(self) -> None:
        self._table: Table | None = None
        self._motion: bytes | None = None
        self._lit: dict[Text, list[Fill]] = {}

    def fills_of(
        self, texts: Sequence[Text], view: View, colours: Sequence[int], motion: Array | None = None
    ) -> list[Fill]:
        """The same as ``fills_of_all``; outlines that were there the last time are the very same arrays."""
        moved_by = None if motion is None else motion.tobytes()
        if view.table is not self._table or moved_by != self._motion:
            self._table, self._motion, self._lit = view.table, moved_by, {}
        new = [(text, colour) for text, colour in zip(texts, colours, strict=True) if text not in self._lit]
        made = fills_of_each([text for text, _ in new], view, [colour for _, colour in new], motion)
        known = self._lit | {text: fills for (text, _), fills in zip(new, made, strict=True)}
        self._lit = {
            text: [fill if fill.colour == colour else replace(fill, colour=colour) for fill in known[text]]
            for text, colour in zip(texts, colours, strict=True)
        }
        return [fill for text in texts for fill in self._lit[text]]
