"""The loudspeaker: plays what it is given, and is silent without complaint where there is none."""

from __future__ import annotations

import contextlib
import os
from collections.abc import Callable, Iterator

import numpy as np
import pygame

from projector.session.sounds import RATE_HZ, Sound, samples_of

STANDARD_ERROR = 2


class Speaker:
    """Opened once; ``works`` tells whether anything can be heard."""

    def __init__(self) -> None:
        self._sounds: dict[Sound, pygame.mixer.Sound] = {}
        try:
            with _hushed():
                pygame.mixer.init(RATE_HZ, -16, 1, 512)
        except pygame.error:
            return
        opened = pygame.mixer.get_init()
        channels = opened[2] if opened else 1
        for sound in Sound:
            heard = samples_of(sound)
            self._sounds[sound] = pygame.sndarray.make_sound(
                heard if channels == 1 else np.stack([heard] * channels, 1)
            )

    @property
    def works(self) -> bool:
        """Whether there is a loudspeaker."""
        return bool(self._sounds)

    def play(self, sound: Sound) -> None:
        """Begin a sound and go on at once."""
        if self._sounds:
            self._sounds[sound].play()

    def close(self) -> None:
        """Let the loudspeaker go, after what is being played."""
        if not self._sounds:
            return
        while pygame.mixer.get_busy():
            pygame.time.wait(10)
        self._sounds.clear()
        pygame.mixer.quit()


@contextlib.contextmanager
def _hushed() -> Iterator[None]:
    """Nothing on standard error meanwhile: where there is no loudspeaker the system's library would complain there."""
    try:
        kept, nowhere = os.dup(STANDARD_ERROR), os.open(os.devnull, os.O_WRONLY)
    except OSError:
        yield
        return
    os.dup2(nowhere, STANDARD_ERROR)
    try:
        yield
    finally:
        os.dup2(kept, STANDARD_ERROR)
        for number in (kept, nowhere):
            os.close(number)


@contextlib.contextmanager
def speaking(wanted: bool) -> Iterator[Callable[[Sound], None] | None]:
    """What plays a sound, for as long as it is needed; None when no sound is wanted."""
    if not wanted:
        yield None
        return
    speaker = Speaker()
    try:
        yield speaker.play
    finally:
        speaker.close()
