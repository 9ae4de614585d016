"""What a terminal shows besides text: colour and weight, and how far a long work is; never in a pipe.

Headings are coloured and refusals red, but not where NO_COLOR is set.
"""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import TYPE_CHECKING, TextIO

import click


def wants_colour(stream: TextIO) -> bool:
    """Whether a person sees this stream in a terminal that shows colour and has not asked for none (no-color.org)."""
    if os.environ.get("NO_COLOR") or os.environ.get("TERM") == "dumb":
        return False
    return hasattr(stream, "isatty") and stream.isatty()


def heading(words: str) -> str:
    """Words that begin a part of what is printed on standard output."""
    return click.style(words, bold=True, fg="cyan") if wants_colour(sys.stdout) else words


def important(words: str) -> str:
    """Words that a person looks for on standard output: what to buy, what is next."""
    return click.style(words, bold=True) if wants_colour(sys.stdout) else words


def headed(line: str) -> str:
    """A line whose first words, up to a colon, are a heading; one that begins with a blank is left as it is."""
    first, colon, rest = line.partition(":")
    return heading(first + colon) + rest if colon and not line[0].isspace() else line


def refusal(words: str) -> str:
    """Words that say on standard error what cannot be done."""
    return click.style(words, fg="red") if wants_colour(sys.stderr) else words


def printable(words: str) -> str:
    """The words with a mark in the place of whatever would steer a terminal, turn the line round or break it off."""
    return "".join("\ufffd" if letter != "\n" and _steers(letter) else letter for letter in words)


def _steers(letter: str) -> bool:
    import unicodedata  # only what is refused is looked at letter by letter

    return unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") or letter in _TURNS_ROUND


# Unicode 15, Bidirectional Algorithm, 3.2: explicit directional embeddings, overrides and isolates.
_TURNS_ROUND = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")


if TYPE_CHECKING:
    from jobs.model.job import Job
    from jobs.planning.planner import Progress

Tell = Callable[[int, int], None]
"""So many are done, of so many."""

PATIENCE_S = 1.0


@contextmanager
def watching(doing: str, patience_s: float = PATIENCE_S) -> Iterator[Tell | None]:
    """How far a long work is, shown after ``patience_s`` and taken away at the end; None off a terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    began, shown = time.monotonic(), False

    def on_progress(done: int, total: int) -> None:
        nonlocal shown
        if time.monotonic() - began >= patience_s:
            shown = True
            click.echo(f"\r\033[K{doing}: {done} of {total}", nl=False, err=True)

    try:
        yield on_progress
    finally:
        if shown:
            click.echo("\r\033[K", nl=False, err=True)


@contextmanager
def searching(job: Job) -> Iterator[Callable[[Progress], None] | None]:
    """A line on standard error while a plan takes longer than a second, taken away at the end; none off a terminal."""
    if not sys.stderr.isatty():
        yield None
        return
    import shutil
    from fractions import Fraction

    from jobs.model.lengths import show_cut

    shown = False

    def on_progress(progress: Progress) -> None:
        nonlocal shown
        shown = True
        found, least = (show_cut(Fraction(length), job.unit) for length in (progress.used, progress.bound))
        better = f"the next is {progress.laid:.0%} laid; " if progress.laid else ""
        words = f"Planning: {found} so far, none under {least} can be; {better}Ctrl-C takes the best so far"
        # A line that wraps could not be taken away again.
        click.echo(f"\r\033[K{words[: shutil.get_terminal_size().columns - 1]}", nl=False, err=True)

    try:
        yield on_progress
    finally:
        if shown:
            click.echo("\r\033[K", nl=False, err=True)
