"""Asked by the system to end: the work in hand is finished, then the windows are closed, and nobody is asked."""

from __future__ import annotations

import contextlib
import signal
from collections.abc import Iterator

from jobs.model.records import dataclass

SIGNALS = tuple(getattr(signal, name) for name in ("SIGTERM", "SIGHUP") if hasattr(signal, name))
"""What a system sends at its shutdown, a person with ``kill``, a terminal that is closed."""


@dataclass
class Ending:
    """Whether the program was asked to end."""

    asked: bool = False


@contextlib.contextmanager
def ending() -> Iterator[Ending]:
    """Notices the system's wish instead of dying of it, as long as work lasts.

    SDL would make a click on the close button of it, which asks whether to leave; it takes no signal that somebody else
    takes already, so this is entered before the screens are opened. Outside the main thread nothing is noticed.
    """
    found = Ending()

    def notice(number: int, frame: object) -> None:
        found.asked = True

    before = {}
    with contextlib.suppress(ValueError):
        for number in SIGNALS:
            before[number] = signal.signal(number, notice)
    try:
        yield found
    finally:
        for number, handler in before.items():
            signal.signal(number, handler)
