"""What was typed as the answer that is kept: a word for its beginning, percent for a bare share, a colour by its name.

Whether the answer can be is left to the strict reader of job files."""

from __future__ import annotations

from jobs.model.schema import Choice, Colour, Key, Share, YesNo

SKIPPED = ("skip", "-")
YES_NO = ("yes,y,true", "no,n,false")
SKIP = ",".join(SKIPPED)


class Unfit(Exception):  # noqa: N818 - says what the answer is
    """An answer that cannot be taken: ``what`` is wrong, ``advice`` on what to type instead."""

    def __init__(self, what: str, advice: str) -> None:
        super().__init__(f"{what}; {advice}")
        self.what = what
        self.advice = advice


def choices_of(key: Key) -> tuple[str, ...]:
    """The words that may be typed for a key, each with what else is taken for it; none: anything may be typed."""
    if key.asked is not None and key.asked.answers:
        return key.asked.answers
    if isinstance(key.kind, YesNo):
        return YES_NO
    return tuple(word.value for word in key.kind.words) if isinstance(key.kind, Choice) else ()


def in_file(key: Key, answer: str) -> str:
    """The answer as the job file has it: the word of the enumeration for the one that was typed."""
    if not isinstance(key.kind, Choice):
        return answer
    firsts = [words.partition(",")[0] for words in choices_of(key)]
    return [word.value for word in key.kind.words][firsts.index(answer)]


def one_of(choices: tuple[str, ...], typed: str) -> str:
    """The answer that is meant; a beginning of one word only will do. Raises Unfit."""
    taken = {word: words.partition(",")[0] for words in choices for word in words.split(",")}
    asked = " ".join(typed.casefold().split())
    if asked in taken:
        return taken[asked]
    begun = {word for written, word in taken.items() if written.startswith(asked)}
    if len(begun) == 1:
        return begun.pop()
    *words, last = dict.fromkeys(taken.values())
    raise Unfit(f'"{typed}" is not one of the answers', f"type {', '.join(words)} or {last}")


def tidied(key: Key, typed: str) -> str:
    """What was typed, as the file has it: a share with its percent, because the question says so; a colour by name."""
    if isinstance(key.kind, Share):
        return typed if typed.endswith("%") else f"{typed} %"
    return colour(typed) if isinstance(key.kind, Colour) else typed


def colour(typed: str) -> str:
    """A colour as ``#rrggbb`` or by an everyday name. Raises Unfit."""
    plain = " ".join(typed.casefold().split())
    first, _, second = plain.partition(" ")
    tone, name = (first, second) if first in TONES else ("", plain)
    name = SPELT.get(name, name)
    if name in COLOURS:
        return _toned(COLOURS[name], TONES.get(tone, 0.0))
    digits = plain.removeprefix("#")
    if len(digits) != 6 or set(digits) - set("0123456789abcdef"):
        raise Unfit(f'"{typed}" is not a colour known here', f"type one of {', '.join(COLOURS)}")
    return f"#{digits}"


def _toned(code: str, share: float) -> str:
    """The colour so far on the way to white, or to black where the share is below 0."""
    target = 255 if share > 0 else 0
    levels = (int(code[at : at + 2], 16) for at in (1, 3, 5))
    return "#" + "".join(f"{round(level + (target - level) * abs(share)):02x}" for level in levels)


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
