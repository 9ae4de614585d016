"""The pages of a session, and what is offered on each in few words: buttons, whoever draws them."""

from __future__ import annotations

from enum import StrEnum

from projector.session.actions import Action, Offers


class Page(StrEnum):
    """What is lit: the stop itself, or words instead of it or over it."""

    CAUTIONS = "cautions"
    STARTUP_CHECK = "has anything moved?"
    MOVING = "move the light onto the mark"
    MOVED = "how it has moved"
    STOP = "stop"
    MARKING = "mark motif points"
    PATTERN = "photograph the cloth"
    REGISTRATION = "how the cloth lies"
    ORIENTATION = "which way does the panel lie?"
    IS_IT_CUT = "is it cut?"
    NOT_CUT = "not cut after all?"
    HELP = "help"
    LEGEND = "what the lines mean"
    REMAINING = "what is to do"
    ALL_DONE = "all is cut"
    PLAN_AS_BEFORE = "plan as before?"
    TROUBLE = "trouble"
    LEAVE = "leave?"
    LEFT = "left"


MOVES: Offers = (
    ("left", Action.LIGHT_LEFT),
    ("right", Action.LIGHT_RIGHT),
    ("away", Action.LIGHT_AWAY),
    ("nearer", Action.LIGHT_NEARER),
)
PHOTOGRAPHED: Offers = (
    ("keep it", Action.CUT_DONE),
    ("another photograph", Action.PHOTOGRAPH),
    ("by hand instead", Action.LAY),
    ("dark", Action.DARK),
    ("do without", Action.LEAVE),
)
"""On the page that tells how the cloth lies, where a photograph has told it."""
BACK = ("will its mate match?", Action.PHOTOGRAPH)
"""At a stop whose cut is made: its panel, laid back, is photographed."""
OTHER_PATTERN = {True: ("the whole pattern", Action.COLOURS), False: ("codes on a white field", Action.COLOURS)}
"""What can be lit instead for a photograph, by whether codes on a white field are lit now."""
DARK: Offers = (("light again", Action.DARK),)
GO_ON: Offers = (("go on", Action.NEXT_STOP),)
OFFERS: dict[Page, Offers] = {
    Page.CAUTIONS: (("read: go on", Action.NEXT_STOP), ("dark", Action.DARK), ("leave", Action.LEAVE)),
    Page.STARTUP_CHECK: (
        ("both meet: go on", Action.NEXT_STOP),
        ("they miss", Action.CUT_DONE),
        ("dark", Action.DARK),
        ("help", Action.HELP),
        ("leave", Action.LEAVE),
    ),
    Page.MOVING: (
        ("it meets: go on", Action.NEXT_STOP),
        *MOVES,
        ("back", Action.PREVIOUS_STOP),
        ("by this one alone", Action.NEXT_CUT),
        ("begin again", Action.LIGHT_BACK),
        ("dark", Action.DARK),
    ),
    Page.MOVED: (
        ("go on so", Action.NEXT_STOP),
        ("back", Action.PREVIOUS_STOP),
        ("leave the light as it was", Action.LIGHT_BACK),
        ("dark", Action.DARK),
    ),
    Page.STOP: (
        ("next", Action.NEXT_STOP),
        ("back", Action.PREVIOUS_STOP),
        ("done", Action.CUT_DONE),
        ("undo", Action.UNDO),
        ("dark", Action.DARK),
        *MOVES,
        ("lay", Action.LAY),
        ("colours", Action.COLOURS),
        ("help", Action.HELP),
        ("leave", Action.LEAVE),
    ),
    Page.MARKING: (
        ("it meets", Action.CUT_DONE),
        *MOVES,
        ("back", Action.PREVIOUS_STOP),
        ("what they say", Action.LAY),
        ("photograph it instead", Action.PHOTOGRAPH),
        ("help", Action.HELP),
        ("dark", Action.DARK),
        ("do without", Action.LEAVE),
    ),
    Page.PATTERN: (
        ("dark", Action.DARK),
        ("by hand instead", Action.LAY),
        ("do without", Action.LEAVE),
    ),
    Page.REGISTRATION: (
        ("keep it", Action.CUT_DONE),
        ("take back a point", Action.PREVIOUS_STOP),
        ("more points", Action.NEXT_CUT),
        ("photograph it", Action.PHOTOGRAPH),
        ("dark", Action.DARK),
        ("do without", Action.LEAVE),
    ),
    Page.ORIENTATION: (
        ("yes, I see it", Action.NEXT_STOP),
        ("back", Action.PREVIOUS_STOP),
        ("lay", Action.LAY),
        ("undo", Action.UNDO),
        ("dark", Action.DARK),
        ("leave", Action.LEAVE),
    ),
    Page.NOT_CUT: (("it is cut", Action.NEXT_STOP), ("take the tick back", Action.PREVIOUS_STOP)),
    Page.PLAN_AS_BEFORE: (("keep it", Action.NEXT_STOP), ("take it back", Action.UNDO)),
    Page.IS_IT_CUT: (
        ("yes: tick it", Action.NEXT_STOP),
        ("not yet", Action.PREVIOUS_STOP),
        ("dark", Action.DARK),
    ),
    Page.HELP: GO_ON,
    Page.LEGEND: GO_ON,
    Page.REMAINING: GO_ON,
    Page.TROUBLE: GO_ON,
    Page.ALL_DONE: (
        ("leave", Action.LEAVE),
        ("back", Action.PREVIOUS_STOP),
        ("undo", Action.UNDO),
        ("dark", Action.DARK),
    ),
    Page.LEAVE: (("leave", Action.LEAVE), ("stay", Action.PREVIOUS_STOP)),
    Page.LEFT: (),
}
