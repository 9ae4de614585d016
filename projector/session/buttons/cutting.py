"""The buttons of a session at the table: what is offered there, by the keys in force."""

from __future__ import annotations

from projector.session.buttons.button import Button
from projector.session.cutting.offers import offers_of
from projector.session.keys import Keys
from projector.session.state.state import Session


def cutting_buttons(session: Session, keys: Keys) -> tuple[Button, ...]:
    """The buttons now; an action that the keys in force leave without a key has none."""
    found = []
    for number, (says, action) in enumerate(offers_of(session)):
        key = next((key for key, what in keys.items() if what is action), None)
        if key is not None:
            found.append(Button(says, key, main=number == 0))
    return tuple(found)
