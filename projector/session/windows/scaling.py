"""Desktop scaling told from two sizes of the same screen."""

from __future__ import annotations

SCALES_PERCENT = (110, 120, 125, 133, 140, 150, 160, 167, 175, 180, 200, 225, 250, 300)
"""What systems offer, common practice, no source."""
SLACK_PX = 2
"""Sizes in scaled pixels are rounded, either way."""


def scale_between(true_px: tuple[int, int], seen_px: tuple[int, int]) -> int | None:
    """By how many percent a screen of ``true_px`` must be scaled to seem ``seen_px`` large; None when no scale does."""
    for percent in SCALES_PERCENT:
        wide, high = (value * 100 / percent for value in true_px)
        if abs(wide - seen_px[0]) <= SLACK_PX and abs(high - seen_px[1]) <= SLACK_PX:
            return percent
    return None
