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
GLOW = "#ffffff"
"""Beside dark lines that lie on a print, so that they are seen on any cloth."""
