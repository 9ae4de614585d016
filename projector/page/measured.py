"""A print measured from a photograph, in words and as values for the fields of the form."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from typing import Any

from jobs.io.measured import Measured as MeasuredPrint
from jobs.io.measured import measured_from, print_values, put_measured
from jobs.model.choices import Unit
from jobs.model.records import dataclass


@dataclass(frozen=True)
class Answer:
    """One way to read the photograph: what is said of it, and the print that goes into the job.

    ``pictured``: the mean repeat is of this answer.
    """

    label: str
    measured: MeasuredPrint
    pictured: bool


@dataclass(frozen=True)
class Measured:
    """What was found: the answers, the surest first, and what a person should know."""

    answers: tuple[Answer, ...]
    lines: tuple[str, ...]


def measured(said: str, unit: Unit, scale_doubt: float = 0.0) -> Measured:
    """What ``measure --json`` found, in the unit of the job.

    ``scale_doubt`` is the share by which the clicks may have put the scale out, which the measuring cannot know.
    """
    found: dict[str, Any] = json.loads(said)
    symmetry = found["symmetry"]
    half = _YES_NO[symmetry["half_turn"]]
    answers = [_answer(found, unit, pictured=True)]
    second = found.get("second")
    if second is not None:
        answers.append(_answer({**found, **_NO_PLACES, **second}, unit, pictured=False))
    scale_in = scale_doubt * max(found["along_in"], found["across_in"])
    doubt_in = math.hypot(2 * max(found["along_uncertainty_in"], found["across_uncertainty_in"]), scale_in)
    doubt = _doubt_text(doubt_in, unit)
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
    return put_measured(text, replace(answer.measured, picture=picture or None))


def _answer(one: dict[str, Any], unit: Unit, *, pictured: bool) -> Answer:
    print_found = measured_from(one)
    values = print_values(print_found, unit)
    along, across, drop = (values[path] for path in (_ALONG, _ACROSS, _DROP))
    named = {"0": "straight", "1/2": "half-drop"}.get(str(drop), f"drop {drop}")
    return Answer(f"Repeat along {along}, across {across} {unit.value}, {named}", print_found, pictured)


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
_ALONG, _ACROSS, _DROP = ("cloth", "repeat", "along"), ("cloth", "repeat", "across"), ("cloth", "drop")
_LOOK = {
    "top_to_bottom": "whether it mirrors from top to bottom",
    "side_to_side": "whether it mirrors from side to side",
    "half_turn": "whether it is the same upside down",
}


def _doubt_text(length_in: float, unit: Unit) -> str:
    """A length to a hundredth of an inch or half a millimetre, and never nothing."""
    factor, step, places = {
        Unit.INCH: (1.0, 0.01, 2),
        Unit.CENTIMETRE: (2.54, 0.05, 2),
        Unit.MILLIMETRE: (25.4, 0.5, 1),
    }[unit]
    return f"{max(1, round(length_in * factor / step)) * step:.{places}f}".rstrip("0").rstrip(".")
