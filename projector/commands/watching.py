"""A line on standard error while something takes longer than a second; nothing off a terminal."""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

Tell = Callable[[int, int], None]
"""So many are done, of so many."""

PATIENCE_S = 1.0


@contextmanager
def watching(doing: str, patience_s: float = PATIENCE_S) -> Iterator[Tell | None]:
    """How far a long work is, shown after ``patience_s`` and taken away at the end; None off a terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    began, said = time.monotonic(), False

    def tell(done: int, total: int) -> None:
        nonlocal said
        if time.monotonic() - began >= patience_s:
            said = True
            click.echo(f"\r\033[K{doing}: {done} of {total}", nl=False, err=True)

    try:
        yield tell
    finally:
        if said:
            click.echo("\r\033[K", nl=False, err=True)
