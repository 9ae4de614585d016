"""What is not known of a print yet, as problems."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.model.choices import PrintKey
from jobs.model.problems import Code, Path, Problem, problem

_ASKED: dict[PrintKey, tuple[Code, Path]] = {
    PrintKey.DROP: (Code.DROP_NOT_KNOWN, ("cloth", "drop")),
    PrintKey.TOP_TO_BOTTOM: (Code.TOP_TO_BOTTOM_NOT_KNOWN, ("cloth", "print", "top_to_bottom")),
    PrintKey.SIDE_TO_SIDE: (Code.SIDE_TO_SIDE_NOT_KNOWN, ("cloth", "print", "side_to_side")),
    PrintKey.ONE_WAY: (Code.ONE_WAY_NOT_KNOWN, ("cloth", "print", "one_way")),
}


def unanswered(keys: Iterable[PrintKey]) -> tuple[Problem, ...]:
    """One problem for each of these keys, in the order in which they are asked."""
    wanted = set(keys)
    return tuple(problem(path, code) for key, (code, path) in _ASKED.items() if key in wanted)
