"""What is offered to a person on each page of the session, in few words: buttons, whoever draws them. Pure."""

from __future__ import annotations

from projector.session.actions import Action
from projector.session.laying.replanning import repeat_to_plan_with
from projector.session.state.pages import Page
from projector.session.state.state import Session

Offers = tuple[tuple[str, Action], ...]
"""What each button says and asks for; the first one goes on."""

MOVES: Offers = (
    ("left", Action.LIGHT_LEFT),
    ("right", Action.LIGHT_RIGHT),
    ("away", Action.LIGHT_AWAY),
    ("nearer", Action.LIGHT_NEARER),
)
AT_A_STOP: Offers = (
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
)
DARK: Offers = (("light again", Action.DARK),)
PAGES: dict[Page, Offers] = {
    Page.CAUTIONS: (("read: go on", Action.NEXT_STOP), ("dark", Action.DARK), ("leave", Action.LEAVE)),
    Page.MEETING: (
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
    Page.LAYING: (
        ("it meets", Action.CUT_DONE),
        *MOVES,
        ("back", Action.PREVIOUS_STOP),
        ("what they say", Action.LAY),
        ("help", Action.HELP),
        ("dark", Action.DARK),
        ("do without", Action.LEAVE),
    ),
    Page.LAID: (
        ("keep it", Action.CUT_DONE),
        ("take back a point", Action.PREVIOUS_STOP),
        ("more points", Action.NEXT_CUT),
        ("dark", Action.DARK),
        ("do without", Action.LEAVE),
    ),
    Page.WHICH_WAY: (
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
    Page.HELP: (("go on", Action.NEXT_STOP),),
    Page.LEGEND: (("go on", Action.NEXT_STOP),),
    Page.REMAINING: (("go on", Action.NEXT_STOP),),
    Page.TROUBLE: (("go on", Action.NEXT_STOP),),
    Page.ALL_DONE: (
        ("leave", Action.LEAVE),
        ("back", Action.PREVIOUS_STOP),
        ("undo", Action.UNDO),
        ("dark", Action.DARK),
    ),
    Page.LEAVE: (("leave", Action.LEAVE), ("stay", Action.PREVIOUS_STOP)),
    Page.LEFT: (),
}


def offers_of(session: Session) -> Offers:
    """What is offered now."""
    if session.page is Page.LEFT:
        return ()
    if session.dark:
        return DARK
    if session.on_bench:
        return (("light again", Action.BENCH),)
    asked = PAGES.get(session.page, AT_A_STOP)
    if session.page is Page.LAID and repeat_to_plan_with(session) is not None:
        return (*asked, ("plan anew", Action.REPLAN))
    if session.page is Page.STOP and session.cloth_is_to_move:
        asked = (asked[0], ("it lies so", Action.PULLED), *asked[1:])
    if session.page is Page.STOP and not any(session.lattices):
        return tuple(one for one in asked if one[1] is not Action.LAY)
    return asked
