"""Colour and weight in a terminal: headings coloured, refusals red; never in a pipe or where NO_COLOR is set."""

from __future__ import annotations

import os
import sys
import unicodedata
from typing import TextIO

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
    return unicodedata.category(letter) in ("Cc", "Cs", "Zl", "Zp") or letter in _TURNS_ROUND


# Unicode 15, Bidirectional Algorithm, 3.2: explicit directional embeddings, overrides and isolates.
_TURNS_ROUND = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
