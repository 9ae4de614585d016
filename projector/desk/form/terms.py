"""What terms mean in one line: the words of the questions, so that both ways of making a job say the same."""

from __future__ import annotations

from projector.desk.asking.about_cloth import PRINT, REST, SIZES
from projector.desk.asking.about_pieces import FLAW, PIECE
from projector.desk.asking.about_windows import WINDOW
from projector.desk.asking.opening import ALLOWANCES, OPENING, TABLE

_GROUPS = {"job": OPENING, "cloth": (*SIZES, *PRINT, *REST), "piece": PIECE, "flaw": FLAW, "window": WINDOW}
_TERMS = {
    (name, question.key): question.term
    for name, questions in {**_GROUPS, "allowances": ALLOWANCES, "table": TABLE}.items()
    for question in questions
}


def term(group: str, key: str) -> str:
    """The line that explains the term of this question. Raises KeyError for a question that is not asked."""
    return _TERMS[group, key]
