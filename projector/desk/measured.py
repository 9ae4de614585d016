"""A print measured from a photograph, in words and as values for the fields of the form."""

from __future__ import annotations

import json
import math
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from jobs.job import Symmetry, Unit
from jobs.reading.groups import GROUPS
from jobs.writing.measured import drop_text
from jobs.writing.node_places import Path
from projector.desk.form.changes import with_value
from projector.desk.form.values import values_of

Value = tuple[Path, str]


@dataclass(frozen=True)
class Answer:
    """One way to read the photograph: what is said of it, and values for the form; an empty one takes a key out.

    ``pictured``: the mean repeat is of this answer.
    """

    label: str
    values: tuple[Value, ...]
    pictured: bool


@dataclass(frozen=True)
class Measured:
    """What was found: the answers, the surest first, and what a person should know."""

    answers: tuple[Answer, ...]
    lines: tuple[str, ...]

    @property
    def values(self) -> tuple[Value, ...]:
        """Of the surest answer."""
        return self.answers[0].values


def measured(said: str, unit: Unit, scale_doubt: float = 0.0) -> Measured:
    """What ``measure --json`` found, in the unit of the job, rounded to a hundredth of an inch or half a millimetre.

    ``scale_doubt`` is the share by which the clicks may have put the scale out, which the measuring cannot know.
    """
    found: dict[str, Any] = json.loads(said)
    symmetry = found["symmetry"]
    half = _YES_NO[symmetry["half_turn"]]
    answers = [_answer(found, unit, _symmetry_values(found, unit, half), pictured=True)]
    second = found.get("second")
    if second is not None:
        answers.append(_answer(second, unit, _symmetry_values({**found, **_NO_PLACES}, unit, half), pictured=False))
    scale_in = scale_doubt * max(found["along_in"], found["across_in"])
    doubt_in = math.hypot(2 * max(found["along_uncertainty_in"], found["across_uncertainty_in"]), scale_in)
    doubt = _in(doubt_in, unit, least=True)
    lines = [
        f"{answers[0].label}, give or take {doubt} {unit.value}.",
        f"It mirrors from top to bottom: {_KIND[symmetry['top_to_bottom']]}. From side to side: "
        f"{_KIND[symmetry['side_to_side']]}. The same upside down: {half}.",
        f"{found['repeats']} repeats were laid on each other; the mirrors are sure to {found['confidence']:.0%}.",
    ]
    if second is not None:
        lines.append(_two(second))
    lines += [f"Look for yourself {_LOOK.get(close, close)}: the answer is close." for close in found["close"]]
    lines += [f"{one[:1].upper()}{one[1:].rstrip('.')}." for one in (*found["notices"], *_whole_picture(found))]
    if found["slanted"]:
        lines.append("The picture was taken at a slant; one from straight above is surer.")
    lines.append("Before you buy, measure ten repeats with a tape and divide by ten.")
    return Measured(tuple(answers), tuple(lines))


def taken(text: str, answer: Answer, picture: str = "") -> str:
    """The text of a job with this answer in it, and with this picture of one repeat where one is named."""
    for path, value in answer.values:
        text = with_value(text, path, value)
    group = ("cloth", "print", "group")
    if values_of(text).has(group) and not _fits(values_of(text).text(group), answer):
        text = with_value(text, group, "")  # would be refused beside the keys just written
    return with_value(text, ("cloth", "picture"), picture) if picture else text


def _answer(one: dict[str, Any], unit: Unit, symmetry: tuple[Value, ...], *, pictured: bool) -> Answer:
    along, across = (_in(one[key], unit) for key in ("along_in", "across_in"))
    drop = _drop(one["drop"] % 1)
    values = (
        (("cloth", "repeat", "along"), along),
        (("cloth", "repeat", "across"), across),
        (("cloth", "drop"), drop),
        *symmetry,
    )
    named = {"0": "straight", "1/2": "half-drop"}.get(drop, f"drop {drop}")
    return Answer(f"Repeat along {along}, across {across} {unit.value}, {named}", values, pictured)


def _drop(share: float) -> str:
    simple = Fraction(share).limit_denominator(6)
    return str(simple % 1) if abs(simple - share) < _DROP_WITHIN else drop_text(share)


def _symmetry_values(found: dict[str, Any], unit: Unit, half: str) -> tuple[Value, ...]:
    """The mirrors, and where their lines lie from the place in the middle of the mean repeat; empty takes a key out."""
    sheet = ("cloth", "print")
    symmetry = found["symmetry"]
    values: list[Value] = [((*sheet, key), symmetry[key]) for key in ("top_to_bottom", "side_to_side")]
    values.append(((*sheet, "half_turn"), half))
    for key, mirror in (("mirror_offset", "top_to_bottom"), ("mirror_offset_across", "side_to_side")):
        offset = found.get(f"{key}_in")
        mirrors = symmetry[mirror] != Symmetry.NONE.value
        values.append(((*sheet, key), _in(offset, unit) if mirrors and offset is not None else ""))
    return tuple(values)


def _fits(group: str, answer: Answer) -> bool:
    values = {path[-1]: value for path, value in answer.values}
    wanted = tuple(values[key] for key in ("top_to_bottom", "side_to_side", "half_turn"))
    settings = GROUPS.get(group, ())
    return wanted in [(one.top_to_bottom.value, one.side_to_side.value, _YES_NO[one.half_turn]) for one in settings]


def _two(second: dict[str, Any]) -> str:
    differ = f"by {second['motifs_differ']:.0%} of the contrast"
    if second["larger"]:
        return f"Two answers are possible: motifs may differ in turn {differ}. Look at the cloth and choose below."
    return f"Two answers are close: motifs differ in turn {differ}, hardly more than a camera makes. Choose below."


def _whole_picture(found: dict[str, Any]) -> list[str]:
    if "whole picture" not in found.get("scale_from", ""):
        return []
    return ["a selvedge was not found, so the picture was taken to end there; click both edges if it does not"]


_YES_NO = {True: "yes", False: "no"}
_KIND = {"none": "no", "mirror": "yes", "glide": "yes, slid by half a repeat"}
_NO_PLACES = {"mirror_offset_in": None, "mirror_offset_across_in": None}
_DROP_WITHIN = 0.01
"""Of a repeat: a drop so near to a simple part of it is that part; cloth is not printed with others on purpose."""
_LOOK = {
    "top_to_bottom": "whether it mirrors from top to bottom",
    "side_to_side": "whether it mirrors from side to side",
    "half_turn": "whether it is the same upside down",
}


def _in(length_in: float, unit: Unit, *, least: bool = False) -> str:
    factor, places = {Unit.INCH: (1.0, 2), Unit.CENTIMETRE: (2.54, 2), Unit.MILLIMETRE: (25.4, 1)}[unit]
    value = length_in * factor
    if unit is not Unit.INCH:
        step = 0.05 if unit is Unit.CENTIMETRE else 0.5
        value = round(value / step) * step
    smallest = 10.0**-places
    return f"{max(value, smallest) if least else value:.{places}f}".rstrip("0").rstrip(".")
