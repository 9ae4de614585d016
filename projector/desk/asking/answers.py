"""Kinds of answers: each takes what was typed and gives the answer to keep, or says what is wrong with it."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from jobs.io import values
from jobs.io.log import Log, Place, Unusable
from jobs.io.nodes import Scalar
from projector.desk.asking.said import SKIPPED, Said
from projector.words.wording import words


class Unfit(Exception):  # noqa: N818 - says what the answer is
    """An answer that cannot be taken: ``what`` is wrong, ``advice`` on what to type instead."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}; {advice}")
        self.what = what
        self.advice = advice


Accept = Callable[[str, Said], str]


def _read(reader: values.Reader[Any], typed: str) -> Any:
    """What the reader of job files makes of the answer, so that both have the same rules."""
    log = Log("answer")
    try:
        return reader(Scalar(Place(1, 1), typed, plain=False), (), log)
    except Unusable:
        raise Unfit(*words(log.all().problems[0])) from None


def a_length(*, above_zero: bool = False, or_skip: bool = False) -> Accept:
    """Any way of writing a length; bare numbers are in the unit of the job."""

    def accept(typed: str, said: Said) -> str:
        if or_skip and typed.casefold() in SKIPPED:
            return SKIPPED[0]
        _read(values.length(said.unit, above_zero=above_zero), typed)
        return typed

    return accept


def of_reader(reader: values.Reader[Any]) -> Accept:
    """Whatever this reader of job files takes."""

    def accept(typed: str, said: Said) -> str:
        _read(reader, typed)
        return typed

    return accept


def a_name(*, or_skip: bool = False) -> Accept:
    """A few words on one line."""

    def accept(typed: str, said: Said) -> str:
        if or_skip and typed.casefold() in SKIPPED:
            return SKIPPED[0]
        return str(_read(values.text, typed))

    return accept


def one_of(**meant: str) -> Accept:
    """One of the words (underscores stand for blanks); each value lists what else is taken for it. A beginning of one
    word only will do."""
    taken = {}
    for name, others in meant.items():
        word = name.strip("_").replace("_", " ")
        taken.update({word: word, **{other: word for other in others.split(",") if other}})

    def accept(typed: str, said: Said) -> str:
        asked = " ".join(typed.casefold().split())
        if asked in taken:
            return taken[asked]
        begun = {word for written, word in taken.items() if written.startswith(asked)}
        if len(begun) == 1:
            return begun.pop()
        words = list(dict.fromkeys(taken.values()))
        raise Unfit(f'"{typed}" is not one of the answers', f"type {', '.join(words[:-1])} or {words[-1]}")

    return accept


def a_share(typed: str, said: Said) -> str:
    """A share; here a bare number means percent, because the question says so."""
    written = typed if typed.endswith("%") else f"{typed} %"
    _read(values.share, written)
    return written


def a_colour(typed: str, said: Said) -> str:
    """A colour as ``#rrggbb`` or by an everyday name."""
    plain = " ".join(typed.casefold().split())
    first, _, second = plain.partition(" ")
    tone, name = (first, second) if first in TONES else ("", plain)
    name = SPELT.get(name, name)
    if name in COLOURS:
        return _toned(COLOURS[name], TONES.get(tone, 0.0))
    written = plain if plain.startswith("#") else f"#{plain}"
    try:
        return str(_read(values.colour, written))
    except Unfit:
        raise Unfit(f'"{typed}" is not a colour known here', f"type one of {', '.join(COLOURS)}") from None


def _toned(colour: str, share: float) -> str:
    """The colour so far on the way to white, or to black where the share is below 0."""
    target = 255 if share > 0 else 0
    levels = (int(colour[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{round(level + (target - level) * abs(share)):02x}" for level in levels)


YES_NO = one_of(yes="y,true", no="n,false")

# Everyday tones of cloth, chosen by eye: the light needs no more than that.
COLOURS = {
    "white": "#f2f0ea",
    "cream": "#e9e2cf",
    "beige": "#cdb99a",
    "grey": "#8d8f92",
    "black": "#222222",
    "brown": "#6b4a32",
    "red": "#a03030",
    "pink": "#d9a0a6",
    "orange": "#c9772e",
    "yellow": "#dcc25a",
    "green": "#4f7350",
    "blue": "#3f5f8a",
    "purple": "#6a4d7c",
    "ivory": "#f0ead6",
    "sand": "#d3bd93",
    "gold": "#b8923f",
    "rust": "#9a4a2a",
    "plum": "#5d2f4f",
    "navy": "#25304d",
    "teal": "#2f6f73",
    "olive": "#6a6a3b",
    "charcoal": "#3d4045",
}
SPELT = {"gray": "grey"}
TONES = {"dark": -0.35, "deep": -0.35, "pale": 0.45, "light": 0.45}
