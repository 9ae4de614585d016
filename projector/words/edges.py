"""Where an edge of what lies on the table is for the person who stands at it."""

from __future__ import annotations

from jobs.model.cuts import Edge

WHERE = {
    Edge.FIRST: "at your left",
    Edge.LAST: "at your right",
    Edge.NEAR: "nearest you",
    Edge.FAR: "away from you",
}


def side_word(edge: Edge) -> str:
    """The same, short: ``left``, ``nearest you``."""
    return WHERE[edge].removeprefix("at your ")
