"""The light on the page: what is lit now, what can be asked for, and the pictures that go with it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from jobs.model.records import dataclass
from projector.page.places.templates import rendered

CAREFUL = frozenset(
    (
        "next stop", "previous stop", "next cut", "cut done", "undo", "lay", "replan", "leave", "pulled", "enter",
        "again", "drop", "save", "put right", "add mark", "add check", "turn check", "light back", "photograph",
    )
)  # fmt: skip
"""What is meant for the stop or question that the person sees, and for no other."""
MOVES = (
    ("light left", "left", "\u2190"),
    ("light right", "right", "\u2192"),
    ("light away", "away from you", "\u2191"),
    ("light nearer", "nearer to you", "\u2193"),
)
PARTS = ("now", "presses", "type", "moves", "checks", "view", "piece", "pair", "todo", "more")


@dataclass(frozen=True)
class Press:
    """A button: what it asks for and says, its key at the table, and whether it is meant for this place alone."""

    action: str
    says: str
    key: str = ""
    careful: bool = True
    why_not: str = ""


def light_parts(
    about: Mapping[str, Any] | None, state: Mapping[str, Any], pictures: Mapping[str, str], idle: str
) -> dict[str, str]:
    """The parts of the place by name. Without a light ``idle`` stands in place of all."""
    if about is None or not state:
        waiting = "" if about is None else '<p class="quiet">The light is coming on.</p>'
        empty = dict.fromkeys(PARTS, "")
        return {"idle": idle or waiting, **empty}
    offers = [_offer(one) for one in state["offers"]]
    moves = [one for one in offers if one.action.startswith("light ") and one.action != "light back"]
    presses = [one for one in offers if one not in moves]
    show = {"state": state, "about": about, "seen": state.get("seen", 0)}
    return {
        "idle": "",
        "now": rendered("parts/now.html", **show),
        "presses": rendered("parts/presses.html", presses=presses, **show),
        "moves": rendered("parts/moves.html", moves=MOVES if moves else (), **show),
        "type": rendered("parts/type.html", **show),
        "checks": rendered("parts/checks.html", **show),
        "pair": _picture(pictures, "pair"),
        "piece": _picture(pictures, "piece"),
        "todo": rendered("parts/todo.html", **show),
        "more": rendered("parts/more.html", actions=_more(state, presses), **show),
        "view": rendered("parts/view.html", **show),
    }


def _offer(one: Mapping[str, Any]) -> Press:
    keys = one.get("keys") or [""]
    return Press(one["action"], one["says"], keys[0], one["action"] in CAREFUL)


def _more(state: Mapping[str, Any], offered: list[Press]) -> list[Press]:
    """What else can be asked for; of what cannot be, why."""
    shown = {one.action for one in offered}
    return [
        Press(one["action"], one["means"], (one["keys"] or [""])[0], one["action"] in CAREFUL, one["why_not"])
        for one in state.get("actions", ())
        if one["action"] not in shown and one["action"] != "any other"
    ]


def _picture(pictures: Mapping[str, str], name: str) -> str:
    svg = pictures.get(name, "")
    return rendered("parts/picture.html", id=name, svg=svg, old=False) if svg else ""
