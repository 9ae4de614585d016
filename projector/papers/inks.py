"""Colours of the papers."""

from __future__ import annotations

INK = "#1d2430"
QUIET = "#66707c"
CLOTH = "#e9e4d8"
SELVEDGE = "#d3ccbb"
LEFT = "#cfe3ee"
RIGHT = "#f6dfc0"
WHOLE = "#dcebd5"
THING = "#ecdbe8"
WARNING = "#b3401f"
ROW = "#8a6d9c"
PAPER = "#fbf9f4"


def ground_and_motif(colour: str, motifs: tuple[str, ...]) -> tuple[str, str]:
    """A ground and a motif colour that can be told apart: the cloth's own, or dark or pale where it names none."""
    if motifs and abs(_luma(motifs[0]) - _luma(colour)) > 0.12:
        return colour, motifs[0]
    return colour, "#2b3440" if _luma(colour) > 0.5 else "#efe9dc"


def _luma(colour: str) -> float:
    digits = colour.removeprefix("#")
    red, green, blue = (int(digits[i : i + 2], 16) / 255 for i in (0, 2, 4))
    return 0.299 * red + 0.587 * green + 0.114 * blue
