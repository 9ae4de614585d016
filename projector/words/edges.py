"""Where an edge of what lies on the table is for the person who stands at it."""

from __future__ import annotations

from jobs.model.cuts import Cut, Edge

WHERE = {
    Edge.FIRST: "at your left",
    Edge.LAST: "at your right",
    Edge.NEAR: "nearest you",
    Edge.FAR: "away from you",
}


def side_word(edge: Edge) -> str:
    """The same, short: ``left``, ``nearest you``."""
    return WHERE[edge].removeprefix("at your ")


def lies_said(cut: Cut) -> str:
    """How the panel of a cut whose top lies towards an end is to be laid back: as it lay when it was cut."""
    return (
        f"Lay the panel of {cut.name} back flat, printed side up, its top {WHERE[cut.top_edge]}, bare table in the "
        "light beyond its cut ends and beside it, and no other cloth"
    )
