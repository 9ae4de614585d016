"""A key on the help page does something or says why not now; a tick is seen until the next key."""

from __future__ import annotations

from dataclasses import replace

import pytest

from projector.scene.marks import Text
from projector.session.actions import Action
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import press
from projector.session.cutting.state import Session, setup_of
from projector.session.cutting.status import ANSWERED
from projector.session.keys import DEFAULT_KEYS
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, lit
from tests.projector.session.tables import table_of

ASKED = sorted(set(DEFAULT_KEYS.values()))


def words_lit(session: Session, pulls: int = 1) -> str:
    scene = lit(replace(session, setup=setup_of(plan_of(3, pulls), table_of(1280, 720))))
    return " ".join(" ".join(mark.text for mark in scene.marks if isinstance(mark, Text)).split())


@pytest.mark.parametrize("action", ASKED)
@pytest.mark.parametrize(
    "before", [(), (Action.LAY,), (Action.LAY, *[Action.CUT_DONE] * 4), (Action.CUT_DONE,), (Action.NEXT_STOP,)]
)
def test_every_key_of_the_help_page_changes_something_or_says_why_not(
    before: tuple[Action, ...], action: Action
) -> None:
    was, _ = after(at_work(3, 1), *before)
    now, events = press(was, action)
    changed = replace(now, status="") != replace(was, status="", just_ticked=False, fresh_tick=now.fresh_tick)
    assert changed or events or now.status
    if now.status and not changed and now.page in ANSWERED:
        assert now.status.split()[0] in words_lit(now), "what is said is lit"


def test_planning_anew_says_why_not_now() -> None:
    fresh = replace(at_work(3, 1), may_replan=True)
    assert "first lay the cloth" in after(fresh, Action.REPLAN)[0].status
    laying, _ = after(fresh, Action.LAY, Action.REPLAN)
    assert laying.page is Page.MARKING
    assert "first lay the cloth" in laying.status
    cut, _ = after(fresh, Action.CUT_DONE, Action.NEXT_CUT)
    assert "a cut is made already" in after(replace(cut, page=Page.STOP), Action.REPLAN)[0].status


def test_what_was_ticked_and_what_comes_next_are_lit_until_the_next_key() -> None:
    session, _ = after(at_work(3, 1), Action.CUT_DONE)
    assert session.status == "TICKED: Window 1, left, 1 of 1. Next: Window 1, right, 1 of 1"
    assert "TICKED: Window 1, left" in words_lit(session)
    assert "TICKED" not in words_lit(after(session, Action.WIDER)[0])
    last = at_work(3, 1, done=("cut-1", "cut-2"))
    done, _ = after(last, Action.CUT_DONE)
    assert done.page is Page.ALL_DONE
    assert "TICKED: Window 2, left, 1 of 1" in words_lit(done)


def test_what_remains_is_to_do_and_left_is_a_hand() -> None:
    session, _ = after(at_work(3, 1, done=("cut-1",)), Action.REMAINING)
    said = words_lit(session)
    assert "To do: 2 cuts of 3" in said
    assert "Window 2, left, 1 of 1: 80 in" in said
    assert "Left to cut" not in said
    assert "2 cuts to do" in words_lit(after(session, Action.ANY_OTHER, Action.LEAVE)[0])
