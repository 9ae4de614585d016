"""What windows need of the things they show: keys in, pixels out. No window toolkit here."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Protocol, runtime_checkable

import numpy as np
from numpy.typing import NDArray

from projector.session.actions import AnyAction

Pixels = NDArray[np.uint32]


class Host(Protocol):
    """Something that is run in a window: a session, a calibration, a demo."""

    @property
    def size_px(self) -> tuple[int, int]:
        """Width and height of what it paints."""

    @property
    def finished(self) -> bool:
        """Whether the window is to be closed."""

    def key(self, name: str, quiet_s: float) -> bool:
        """Take one key by name, ``quiet_s`` after the last change of the light or key; tell whether to paint anew."""

    def click(self, pixel: tuple[int, int], quiet_s: float) -> bool:
        """Take a click on a pixel, ``quiet_s`` as for keys; tell whether to paint anew."""

    def close(self) -> bool:
        """Take a press of the window's close button; tell whether to paint anew."""

    def repeats(self, name: str) -> bool:
        """Whether a key, held down, counts again and again."""

    def paint(self, pixels: Pixels) -> None:
        """Write the frame into (height, width) 32-bit pixels 0x00RRGGBB."""


@runtime_checkable
class Interruptible(Protocol):
    """A host that wants to know when the computer slept, or the projector was away."""

    def interrupted(self, why: str) -> bool:
        """Take what came between, in plain words; tell whether to paint anew."""


@runtime_checkable
class Published(Protocol):
    """A host whose state others see, and who may ask for what its keys ask for."""

    def act(self, action: AnyAction, quiet_s: float) -> bool:
        """Take one action, ``quiet_s`` as for keys; tell whether to paint anew."""

    def publish(self) -> dict[str, Any]:
        """The state as JSON values."""


class Link(Protocol):
    """Others beside the person at the keyboard: a page, a phone. One order of actions holds, and all see each state.

    None of it may keep the light waiting.
    """

    def open(self, ask: Callable[[str], None]) -> None:
        """Work begins: ``ask``, called from any thread, asks for an action by its name, and raises UnknownAction."""

    def tell(self, state: dict[str, Any]) -> None:
        """What is so now, after each change: as the host publishes it, and ``projector``: words while it is away."""

    def close(self) -> None:
        """Work has ended."""


class Beside(Protocol):
    """What stands on the laptop's own screen while a host lights the table."""

    def shows(self) -> object:
        """What its picture depends on, to be compared: it is painted anew only when this has changed."""

    def tell(self, words: str) -> None:
        """Say something about the projector until told otherwise; empty when all is well."""

    def paint(self, pixels: Pixels, light: Pixels) -> None:
        """Write the picture into (height, width) 32-bit pixels 0x00RRGGBB, whatever their number.

        ``light`` is the frame as it is lit now, to be looked at only.
        """

    def click(self, pixel: tuple[int, int], size_px: tuple[int, int], quiet_s: float) -> bool:
        """Take a click on a pixel of a picture of this size; tell whether to paint the light anew."""
