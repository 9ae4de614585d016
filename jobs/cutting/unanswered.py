"""What is not known of a print yet, as problems that say what to look for and what to write."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.job import PrintKey
from jobs.refusals import Problem

_ASKED = {
    PrintKey.DROP: (
        "how far the next column of the print sits lower is not known",
        "follow one motif straight across the cloth and write `drop: 0` for level, `drop: 1/2` for halfway between two",
    ),
    PrintKey.TOP_TO_BOTTOM: (
        "whether the print mirrors from top to bottom is not known",
        "look at the cloth and write `top_to_bottom: mirror`, `glide` or `none`",
    ),
    PrintKey.SIDE_TO_SIDE: (
        "whether the print mirrors from side to side is not known",
        "look at the cloth and write `side_to_side: mirror`, `glide` or `none`",
    ),
    PrintKey.ONE_WAY: (
        "whether the cloth must hang one way up is not known",
        "stroke it and look at its motifs, and write `one_way: yes` or `one_way: no`",
    ),
}


def unanswered(keys: Iterable[PrintKey]) -> tuple[Problem, ...]:
    """One problem for each of these keys, in the order in which they are asked."""
    wanted = set(keys)
    return tuple(Problem(_where(key), *said) for key, said in _ASKED.items() if key in wanted)


def _where(key: PrintKey) -> str:
    return f"cloth, {key}" if key is PrintKey.DROP else f"cloth, print, {key}"
