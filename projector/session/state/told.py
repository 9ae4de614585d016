"""What a key did, in few words beside the stop, until the next key."""

from __future__ import annotations

from collections.abc import Iterable

from jobs.model.cuts import Cut
from projector.scene.labels import name_of
from projector.session.state.pages import Layer

FEW = 3


def layer_said(layer: Layer, *, hidden: bool) -> str:
    """A layer was switched; that cut lines are dark is said larger, for as long as they are."""
    if layer is Layer.CUT_LINES and hidden:
        return ""
    where = ", where the job has them" if layer is Layer.PINS and not hidden else ""
    return f"{layer.value}: {'dark' if hidden else 'lit'}{where}"


def hidden_said(hidden: Iterable[Layer]) -> str:
    """Layers that are dark; empty where none is. Cut lines are told of apart from these."""
    names = [layer.value for layer in Layer if layer in set(hidden) - {Layer.CUT_LINES}]
    if not names:
        return ""
    return f"dark as you left them: {', '.join(names)}" if len(names) <= FEW else f"{len(names)} layers are dark"


def ticked_said(cut: Cut, following: Cut | None) -> str:
    """A cut was ticked, and which one comes next."""
    return f"TICKED: {name_of(cut)}" + (f". Next: {name_of(following)}" if following else "")


def taken_back(what: str) -> str:
    """Something was undone."""
    return f"taken back: {what}"


def nothing_to_take_back() -> str:
    """Undo found nothing."""
    return "there is nothing to take back"


def put_back_said() -> str:
    """The journal was missing or cut short."""
    return "the record of cuts was taken away: it was written anew, whole"
