from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from projector.session.actions import Action, AnyAction, Chosen, Pointed, Typed, UnknownAction, parse, written

FLOATS = st.floats(allow_nan=False, allow_infinity=False)
ANY = st.one_of(
    st.sampled_from(Action),
    st.builds(Typed, st.text("0123456789 /.,-", min_size=1)),
    st.builds(Chosen, st.integers(0, 10**6)),
    st.builds(Pointed, st.tuples(FLOATS, FLOATS)),
)


@given(ANY)
def test_the_name_of_an_action_is_read_back_as_that_action(action: AnyAction) -> None:
    assert parse(written(action)) == action


def test_names_are_those_of_a_keys_file() -> None:
    assert parse("next stop") is Action.NEXT_STOP
    assert parse("light far left") is Action.LIGHT_FAR_LEFT
    assert parse("choose 3") == Chosen(3)
    assert parse("point 812.5 301") == Pointed((812.5, 301.0))
    assert parse("type 60 1/4") == Typed("60 1/4")


@pytest.mark.parametrize(
    "name",
    [
        *("", "Next stop", "next", "choose", "choose -1", "choose ²"),
        *("point 1", "point 1 2 3", "point nan 1", "point inf 1"),
        *("type", "type ", "type a\x00b", "type 1\n2"),
    ],
)
def test_what_is_no_action_is_refused(name: str) -> None:
    with pytest.raises(UnknownAction):
        parse(name)
