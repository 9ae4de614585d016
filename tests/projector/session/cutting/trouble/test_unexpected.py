"""No single press ticks a cut that is not expected: skipped ahead, its last edge not lit, cut lines dark, too soon."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st

from projector.session.actions import Action
from projector.session.cutting.journal import Done
from projector.session.cutting.light import Layer
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import DELIBERATE_S, press
from projector.session.cutting.state import Session
from projector.session.cutting.ticking import CUTTING_S
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import after, at_work, begun

PRESSES = st.lists(st.tuples(st.sampled_from(list(Action)), st.floats(0, 9)), max_size=80)


def sure(session: Session) -> bool:
    """Whether one press of Enter may tick the lit cut: it is next, the edge that frees it is lit as a cut line."""
    return session.is_expected and session.stop.shows_last_edge and Layer.CUT_LINES not in session.light.hidden


@given(PRESSES, st.integers(1, 3), st.sets(st.sampled_from(["cut-1", "cut-3", "cut-4"])))
@settings(max_examples=250)
def test_an_unexpected_cut_is_ticked_only_by_a_deliberate_press_after_the_question(
    presses: list[tuple[Action, float]], pulls: int, done: set[str]
) -> None:
    session = begun(plan_of(4, pulls), sorted(done))
    asked: str | None = None
    for action, quiet_s in presses:
        was = session
        session, events = press(session, action, quiet_s)
        for event in events:
            if isinstance(event, Done) and not (sure(was) and was.page is Page.STOP):
                # Two presses: one raised the question for this very cut, this one answers it after it could be read.
                assert was.page is Page.IS_IT_CUT
                assert asked == event.cut
                assert quiet_s >= DELIBERATE_S
                assert not was.dark
        asked = session.placement.cut.id if session.page is Page.IS_IT_CUT else None


@given(PRESSES, st.integers(1, 3), st.sampled_from(list(Action)), st.floats(0, 99))
@settings(max_examples=150)
def test_from_any_stop_one_press_ticks_nothing_but_the_cut_that_is_next_with_its_last_edge_lit(
    presses: list[tuple[Action, float]], pulls: int, slip: Action, quiet_s: float
) -> None:
    session = begun(plan_of(4, pulls))
    for action, quiet in presses:
        session, _ = press(session, action, quiet)
    if session.page is Page.IS_IT_CUT:
        return
    _, events = press(session, slip, quiet_s)
    if any(isinstance(event, Done) for event in events):
        assert slip is Action.CUT_DONE
        assert sure(session)
        assert session.page is Page.STOP
        assert not session.just_ticked or quiet_s >= CUTTING_S


def test_with_cut_lines_dark_enter_asks() -> None:
    session, events = after(at_work(pulls=1), Action.CUT_LINES, Action.CUT_DONE)
    assert (session.page, events) == (Page.IS_IT_CUT, [])
