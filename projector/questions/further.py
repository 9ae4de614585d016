"""What is asked besides where a person wants it: further cloths, and what goes with the face of a window."""

from __future__ import annotations

from dataclasses import replace
from functools import partial

from jobs.model.problems import Path
from projector.questions.answers import Answers
from projector.questions.order import CLOTH, window
from projector.questions.question import ANY_FLAW, OTHER_CLOTH, PATTERNED, Question, as_before, asked, fixed, patterned
from projector.questions.typed import YES_NO

ANY_CLOTH = Question(
    (OTHER_CLOTH,),
    "Is there another cloth for it (lining, contrast)?",
    "Each cloth is ordered and cut by itself; all are told of in one job.",
    "A cloth that you described already need not be told again.",
    YES_NO,
    lambda answers, path: "no" if names_of_cloths(answers)[1:] else "yes",
)


def names_of_cloths(answers: Answers) -> list[str]:
    """The cloths that were described, the first one first."""
    return [answer for path, answer in answers.pairs if path[:1] in (("cloth",), ("cloths",)) and path[-1] == "name"]


further = partial(asked, group="cloths")
FURTHER_CLOTH = (
    further("name", heading="Another cloth"),
    further("width"),
    further("selvedge"),
    replace(next(one for one in CLOTH if one.path == PATTERNED), rest=PATTERNED[-1:], default=fixed("no")),
    further("repeat.along"),
    further("repeat.across"),
    further("drop"),
    further("print.one_way", default=lambda answers, path: "" if patterned(answers, path[:2]) else "no"),
    further("shrinkage"),
    further("colour"),
    further("sold_by"),
)


def _usual_cloth(answers: Answers, path: Path) -> str:
    """The last that was described."""
    return names_of_cloths(answers)[-1]


def _whether(name: str, ask: str, term: str, more: str = "") -> Question:
    return Question((name,), ask, term, more or term, YES_NO, as_before("no"))


def _layer(key: str) -> tuple[Question, ...]:
    cloth = window(f"{key}.cloth", default=_usual_cloth)
    return (cloth, *(window(f"{key}.{name}") for name in ("shorter", "heading", "hem")))


BESIDE_FACE = (
    replace(
        _whether("lined", "Is it lined?", "A lining hangs behind the face, as wide as that is laid flat."),
        heading="What goes with it",
    ),
    *_layer("lining"),
    _whether("interlined", "Is it interlined?", "An interlining lies between face and lining."),
    *_layer("interlining"),
)
MORE_BANDS = Question(
    (ANY_FLAW,),
    "Is there a contrast band?",
    "A strip of another cloth, sewn to the leading edge, the top or the foot of each panel.",
    "It is cut along the cloth; write `cut: across` in the file to have its print stand upright at top or foot.",
    YES_NO,
    as_before("no"),
)
band = partial(asked, group="windows.bands")
BAND = (band("edge"), band("width"), band("cloth", default=_usual_cloth))
TIED_BACK = (
    _whether("tied back", "Are there tie-backs?", "One for each panel."),
    *(window(f"tie_backs.{name}") for name in ("length", "width")),
    window("tie_backs.cloth", default=_usual_cloth),
)
