"""The status beside a stop until the next action: what the last one did, or why it did nothing."""

from __future__ import annotations

from jobs.model.cuts import Cut
from projector.scene.labels import name_of
from projector.session.actions import Action
from projector.session.cutting.light import LAYERS, Layer, Light, colours_in_words
from projector.session.cutting.pages import Page
from projector.session.cutting.state import Session

FEW = 3
NOTHING_TO_TAKE_BACK = "there is nothing to take back"
ANSWERED = frozenset((Page.STOP, Page.MARKING, Page.PATTERN, Page.REGISTRATION, Page.ORIENTATION, Page.IS_IT_CUT))
"""Pages on which there is room to say why not; on the others any key answers, or closes them."""
REGISTERING = frozenset((Page.MARKING, Page.PATTERN, Page.REGISTRATION))
AGAIN = frozenset((Action.NEXT_STOP, Action.CUT_DONE))


def adjusted_status(session: Session, light: Light, action: Action) -> str:
    """The light was changed; that cut lines are dark is said larger, for as long as they are."""
    if action is Action.COLOURS:
        return colours_in_words(session.setup.plan.job, light.colour)
    layer = LAYERS.get(action)
    hidden = layer in light.hidden
    if layer is None or (layer is Layer.CUT_LINES and hidden):
        return ""
    where = ", where the job has them" if layer is Layer.PINS and not hidden else ""
    return f"{layer.value}: {'dark' if hidden else 'lit'}{where}"


def hidden_status(light: Light) -> str:
    """Layers that are dark; empty where none is. Cut lines are told of apart from these."""
    names = [layer.value for layer in Layer if layer in light.hidden - {Layer.CUT_LINES}]
    if not names:
        return ""
    return f"dark as you left them: {', '.join(names)}" if len(names) <= FEW else f"{len(names)} layers are dark"


def ticked(cut: Cut, following: Cut | None) -> str:
    """A cut was ticked, and which one comes next."""
    return f"TICKED: {name_of(cut)}" + (f". Next: {name_of(following)}" if following else "")


def taken_back(what: str) -> str:
    """Something was undone."""
    return f"taken back: {what}"


def why_not(session: Session, action: Action) -> str:
    """What is said where an action has changed nothing; empty where nothing was asked for.

    A key on the help page that does nothing and says nothing looks broken.
    """
    if action is Action.ANY_OTHER or session.page not in ANSWERED:
        return ""
    if action is Action.REPLAN:
        return _no_planning_anew(session)
    if session.page is not Page.STOP:
        return _elsewhere(session.page, action)
    match action:
        case Action.CUT_DONE:
            return "this cut is done already"
        case Action.NEXT_CUT:
            return "no other cut is to do"
        case Action.PREVIOUS_STOP:
            return "this is the first stop"
        case Action.LIGHT_BACK:
            return "the light lies where it should"
        case Action.WIDER:
            return "lines are as wide as they get"
        case Action.THINNER:
            return "lines are as thin as they get"
    return ""


def _no_planning_anew(session: Session) -> str:
    """Why the plan is not made anew now."""
    if not any(session.setup.lattices):
        return "not planned anew: this cloth has no print to measure"
    if session.done:
        return "not planned anew: a cut is made already"
    if not session.may_replan:
        return "not planned anew: that is for a real table"
    if session.page is Page.REGISTRATION:
        return "not planned anew: the repeat is as planned, or not yet measured for sure"
    return "not planned anew: first lay the cloth by its print, so that the repeat is measured"


def _elsewhere(page: Page, action: Action) -> str:
    if page is Page.PATTERN and action in AGAIN:
        return "photograph the cloth, or lay it by hand"
    if action in AGAIN:
        return "too quick: look, wait a second, then press again"
    return f"not now ({action}): {'finish laying the cloth' if page in REGISTERING else 'answer this'} first"
