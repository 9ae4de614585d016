"""Small drawings beside the questions: each shows what an answer means, and changes with it.

They are SVG text whose lines take the colour of the words around them (``currentColor``); what is meant has the class
``mark``. Lengths inside a drawing are its own units, 72 wide and 44 high.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction

from jobs.model.lengths import LengthError, parse_length
from jobs.model.numbers import parse_fraction
from jobs.model.problems import Path
from projector.page.form.field import Field
from projector.page.form.values import Values

WIDE, HIGH = 72, 44


def choice_drawing(field: Field, word: str, group: Path, values: Values) -> str:
    """The drawing of one answer to a choice, empty where it has none."""
    draw = _CHOICES.get(str(field.key[-1]))
    return _svg(draw(word)) if draw is not None else ""


def field_drawing(field: Field, group: Path, values: Values) -> str:
    """The drawing of a field as it is filled in now, empty where it has none."""
    name = str(field.key[-1])
    draw = _FIELDS.get(name)
    return _svg(draw(values, group)) if draw is not None else ""


def _svg(inside: str) -> str:
    return f'<svg class="small" viewBox="0 0 {WIDE} {HIGH}" aria-hidden="true" focusable="false">{inside}</svg>'


def _motif(x: float, y: float, how: str = "", size: float = 1.0, mark: bool = False) -> str:
    """A sprig with one leaf to the right, its foot at (x, y); ``how`` is a turn or mirror about that foot."""
    turn = {"": "", "down": " scale(1 -1)", "across": " scale(-1 1)", "turned": " scale(-1 -1)"}[how]
    look = ' class="mark"' if mark else ""
    return (
        f'<g transform="translate({x:g} {y:g}){turn} scale({size:g})"{look}>'
        '<path class="line" d="M0 0V-13"/><path class="fill" d="M0 -5C7 -5 10 -9 9 -15C3 -14 0 -11 0 -5Z"/></g>'
    )


def _line(x1: float, y1: float, x2: float, y2: float, kind: str = "line") -> str:
    return f'<path class="{kind}" d="M{x1:g} {y1:g}L{x2:g} {y2:g}"/>'


def _box(x: float, y: float, wide: float, high: float, kind: str = "line") -> str:
    return f'<rect class="{kind}" x="{x:g}" y="{y:g}" width="{wide:g}" height="{high:g}" rx="1"/>'


def _unknown() -> str:
    return '<text class="ask" x="36" y="29" text-anchor="middle">?</text>'


def _top_to_bottom(word: str) -> str:
    if word == "none":
        return _motif(18, 18) + _motif(44, 18) + _motif(18, 40) + _motif(44, 40)
    shift = 13 if word == "glide" else 0
    under = _motif(18 + shift, 26, "down", mark=True) + _motif(44 + shift, 26, "down", mark=True)
    return _motif(18, 18) + _motif(44, 18) + _line(6, 22, 66, 22, "dash mark") + under


def _side_to_side(word: str) -> str:
    if word == "none":
        return _motif(14, 20) + _motif(44, 20) + _motif(14, 40) + _motif(44, 40)
    shift = 10 if word == "glide" else 0
    right = _motif(54, 20 + shift, "across", mark=True)
    more = "" if shift else _motif(54, 40, "across", mark=True)
    return _motif(18, 20) + _motif(18, 40) + _line(36, 3, 36, 42, "dash mark") + right + more


def _half_turn(word: str) -> str:
    ring = '<path class="dash mark" d="M25 22A11 11 0 0 1 47 22M47 22A11 11 0 0 1 25 22"/>'
    if word == "yes":
        return ring + _motif(36, 21) + _motif(36, 23, "turned", mark=True)
    return ring + _motif(36, 28)


def _one_way(word: str) -> str:
    if word == "yes":
        return _motif(20, 40, size=1.4) + _motif(44, 40, size=1.4)
    return _motif(20, 40, size=1.2) + _motif(52, 8, "turned", 1.2)


def _panels(word: str) -> str:
    window = _line(8, 5, 64, 5, "thick") + _box(16, 8, 40, 32, "faint")
    panels = {"pair": ((10, 16), (46, 16)), "left": ((10, 16),), "right": ((46, 16),), "whole": ((10, 52),)}
    return window + "".join(_box(x, 6, wide, 36, "cloth mark") for x, wide in panels.get(word, ()))


def _hang(word: str) -> str:
    right = _motif(58, 32, "across", mark=True) if word == "mirrored" else _motif(46, 32, mark=True)
    panels = _box(8, 6, 25, 36, "cloth") + _box(39, 6, 25, 36, "cloth")
    return _line(5, 5, 67, 5, "thick") + panels + _motif(15, 32) + right


def _facing(word: str) -> str:
    """As it is until the pair itself is drawn."""
    left, right = ("", "across") if word == "left as it lies" else ("across", "")
    panels = _box(8, 6, 25, 36, "cloth") + _box(39, 6, 25, 36, "cloth")
    places = (15 if not left else 26), (58 if right else 46)
    return _line(5, 5, 67, 5, "thick") + panels + _motif(places[0], 32, left) + _motif(places[1], 32, right)


def _top_towards(word: str) -> str:
    piece = _box(6, 10, 60, 24, "cloth") + '<path class="line" d="M66 10l3 4l-3 4l3 4l-3 4l3 4l-3 4"/>'
    turn = -90 if word == "first end" else 90
    at = "44 22" if word == "first end" else "28 22"
    return piece + f'<g class="mark" transform="translate({at}) rotate({turn})">{_motif(0, 6)}</g>'


def _rule(word: str) -> str:
    panel = _box(12, 5, 22, 36, "cloth") + _line(9, 5, 37, 5, "thick")
    row = {"below_top": 16.0, "above_foot": 32.0}.get(word, 20.0)
    lit = _line(9, row, 37, row, "dash mark")
    if word == "level_with":
        return (
            panel + _box(46, 11, 18, 30, "cloth") + _line(43, 11, 67, 11, "thick") + _line(9, 20, 67, 20, "dash mark")
        )
    ends = (5.0, row) if word == "below_top" else (row, 41.0)
    return panel + lit + _line(44, ends[0], 44, ends[1], "mark line") + _arrows(44, *ends)


def _arrows(x: float, upper: float, lower: float) -> str:
    return (
        f'<path class="mark line" d="M{x - 3:g} {upper + 3:g}L{x:g} {upper:g}L{x + 3:g} {upper + 3:g}'
        f'M{x - 3:g} {lower - 3:g}L{x:g} {lower:g}L{x + 3:g} {lower - 3:g}"/>'
    )


_CHOICES: dict[str, Callable[[str], str]] = {
    "top_to_bottom": _top_to_bottom,
    "side_to_side": _side_to_side,
    "half_turn": _half_turn,
    "one_way": _one_way,
    "panels": _panels,
    "hang": _hang,
    "facing": _facing,
    "top_towards": _top_towards,
}
SWITCHES: dict[str, Callable[[str], str]] = {"rule": _rule}


def switch_drawing(name: str, word: str) -> str:
    """The drawing of one answer to a question that decides which fields there are, empty where it has none."""
    draw = SWITCHES.get(name)
    return _svg(draw(word)) if draw is not None else ""


def _drop(values: Values, group: Path) -> str:
    told = values.text(("cloth", "drop"))
    try:
        share = float(parse_fraction(told)) % 1 if told.strip() else None
    except LengthError:
        share = None
    if share is None:
        return _motif(8, 20) + _motif(8, 41) + _unknown()
    columns = "".join(
        _motif(x, y + (share * 21 if x == 30 else 0) - lift, size=0.85, mark=x == 30)
        for x in (8, 30, 52)
        for y, lift in ((20, 0), (41, 0), (-1, 0))
        if -1 < y + (share * 21 if x == 30 else 0) < 44
    )
    return _line(2, 20, 70, 20, "dash") + columns


def _share(values: Values, path: Path, most: Fraction) -> float | None:
    """The length at the path as a share of the most that is drawn; None where there is none to be read."""
    told = values.text(path)
    try:
        return float(min(Fraction(1), abs(parse_length(told, values.unit)) / most)) if told.strip() else None
    except LengthError:
        return None


def _returns(values: Values, group: Path) -> str:
    """The rod from above: the wall, the rod before it, and the cloth that goes back to the wall at its ends."""
    share = _share(values, (*group, "returns"), Fraction(12))
    wall = _line(2, 6, 70, 6, "thick")
    deep = 8 + 24 * (share or 0)
    front = _line(12, 6 + deep, 60, 6 + deep)
    if not share:
        return wall + front
    return wall + front + _line(12, 6, 12, 6 + deep, "wide mark") + _line(60, 6, 60, 6 + deep, "wide mark")


def _overlap(values: Values, group: Path) -> str:
    """The rod from above: two panels that meet in the middle, and how far one lies over the other."""
    share = _share(values, (*group, "overlap"), Fraction(12))
    reach = 16 * (share or 0)
    left = _line(6, 20, 36 + reach / 2, 20, "wide")
    right = _line(36 - reach / 2, 26, 66, 26, "wide")
    ends = _line(36 - reach / 2, 12, 36 - reach / 2, 34, "dash mark")
    return left + right + (ends + _line(36 + reach / 2, 12, 36 + reach / 2, 34, "dash mark") if share else "")


def _row_at(values: Values, group: Path, key: str) -> str:
    """A panel with its row where the number puts it; a row an answer leaves open stands in the middle."""
    at, most = values.text((*group, "row", key)), values.text((*group, "finished_length"))
    panel = _box(22, 4, 28, 37, "cloth") + _line(18, 4, 54, 4, "thick")
    try:
        share = float(parse_length(at, values.unit) / parse_length(most, values.unit))
    except (LengthError, ZeroDivisionError):
        return panel + _unknown()
    y = 4 + 37 * min(1.0, max(0.0, share if key == "below_top" else 1 - share))
    return panel + _line(16, y, 56, y, "dash mark") + _motif(31, y + 6, size=0.8) + _motif(43, y + 6, size=0.8)


_FIELDS: dict[str, Callable[[Values, Path], str]] = {
    "drop": _drop,
    "returns": _returns,
    "overlap": _overlap,
    "below_top": lambda values, group: _row_at(values, group, "below_top"),
    "above_foot": lambda values, group: _row_at(values, group, "above_foot"),
}
