"""Sizes of what is lit, in inches on the table.

Cap height = 2 x distance x tan(angle / 2); 20 minutes of arc is advised for labels, 15 to 16 is the least
(NUREG-0700; ISO 9241-303). An eye 96 in away needs 0.559 in for 20 minutes and 0.447 in for 16.
"""

from __future__ import annotations

LABEL_IN = 0.6
LEAST_LABEL_IN = 0.45
TOP_IN = 2.0
NAME_IN = 0.85
FOOT_IN = 1.1
DONE_IN = 2.0

CLEAR_IN = 0.35
"""Dark between a label and any line it must not touch."""
GAP_IN = 0.12
"""Dark left around a label where a faint line is interrupted for it."""

TICK_OFF_IN = 0.4
TICK_HALF_IN = 0.5
MATCH_HALF_IN = 0.5
MATCH_APART_IN = 0.3
PLUS_HALF_IN = 0.3
PLUS_SHARE = 0.2
"""Half a plus is no more than this share of a repeat."""
PIN_HALF_IN = 0.2
ZIGZAG_PITCH_IN = 0.5
ZIGZAG_DEPTH_IN = 0.2
LEAST_LEFTOVER_IN = 1.0
"""A lit leftover narrower than this is not marked: there would be no room for a word."""
SHARED_IN = 0.5
"""An edge no farther than this from a lit cut line is that line."""
