"""What can be heard, when that is asked for: a cut ticked, something taken back, a press that was refused."""

from __future__ import annotations

from enum import StrEnum

import numpy as np
from numpy.typing import NDArray


class Sound(StrEnum):
    """One sound each."""

    DONE = "done"
    TAKEN_BACK = "taken back"
    REFUSED = "refused"


RATE_HZ = 44_100
LOUD = 0.35
"""Of the loudest there is: a person stands near the laptop."""
EDGE_S = 0.01
"""Notes swell and fade over this time; a sudden end would click."""
NOTES: dict[Sound, tuple[tuple[float, float], ...]] = {
    Sound.DONE: ((660.0, 0.10), (990.0, 0.16)),
    Sound.TAKEN_BACK: ((660.0, 0.10), (440.0, 0.16)),
    Sound.REFUSED: ((196.0, 0.14), (0.0, 0.05), (196.0, 0.14)),
}
"""Pitches in hertz and lengths in seconds; 0 is silence. Up is done, down is taken back, twice low is refused."""


def samples_of(sound: Sound) -> NDArray[np.int16]:
    """The sound as samples (n,) of ``RATE_HZ``, one channel."""
    return np.concatenate([_note(pitch, length) for pitch, length in NOTES[sound]])


def _note(pitch_hz: float, length_s: float) -> NDArray[np.int16]:
    count = round(length_s * RATE_HZ)
    time_s = np.arange(count) / RATE_HZ
    swell = np.minimum(1.0, np.minimum(time_s, time_s[::-1]) / EDGE_S)
    loud = LOUD * np.iinfo(np.int16).max
    return np.asarray(loud * swell * np.sin(2 * np.pi * pitch_hz * time_s), np.int16)
