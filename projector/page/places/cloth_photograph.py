"""The photograph of the cloth on the place Cut: what is asked for, what was found."""

from __future__ import annotations

from typing import Any, Protocol

from projector.page.places.templates import rendered

DOING = {"taking": "The photograph is being taken.", "looking": "The print is looked for in it."}


class OnePhotograph(Protocol):
    """A photograph as it stands: what was ``found``, its ``number``, what is being done."""

    found: dict[str, Any]
    number: int
    doing: str


def cloth_photograph_parts(photograph: OnePhotograph, *, simulated: bool, asking: bool) -> dict[str, str]:
    """The parts ``photographs``, what is asked for (nothing once the light shows what was found), and ``shots``."""
    show = {
        "doing": DOING.get(photograph.doing, ""),
        "wrong": photograph.found.get("wrong", []),
        "says": photograph.found.get("says", []),
        "wants_point": asking and bool(photograph.found.get("wants_point")),
        "mated": bool(photograph.found.get("mated")),
        "number": photograph.number,
        "there": bool(photograph.found) and not photograph.doing,
        "simulated": simulated,
    }
    return {
        "photographs": rendered("parts/cloth_photograph.html", **show) if asking else "",
        "shots": rendered("parts/cloth_shot.html", **show) if show["there"] else "",
    }
