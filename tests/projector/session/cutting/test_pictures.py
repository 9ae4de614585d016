"""Pictures that go with a stop: what is cut, what was just ticked, and which panel this one will be."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from jobs.cutting.cloths import jobs_of_cloths
from jobs.io.reader import parse_job, read_job
from jobs.model.cuts import Hand
from jobs.model.plan import Plan
from jobs.planning.planner import plan_job
from projector.light.appearance import wcag_contrast
from projector.light.colour import channels, decoded
from projector.papers.drawing import Drawing
from projector.papers.drawing import Path as Line
from projector.session.actions import Action
from projector.session.cutting.pages import Page
from projector.session.cutting.pictures import BAD, DONE, GOOD, INK, LIT, PAPER, QUIET, hung_shapes, stop_pictures
from projector.session.cutting.reducer import press
from projector.session.cutting.state import Session
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import begun

EXAMPLES = Path(__file__).parents[4] / "jobs" / "examples"


@cache
def planned(example: str) -> tuple[Plan, ...]:
    """The plan of each cloth of an example."""
    return tuple(plan_job(one.job) for one in jobs_of_cloths(read_job(EXAMPLES / example)))


def at_a_stop(plan: Plan, done: Sequence[str] = ()) -> Session:
    return replace(begun(plan, done), page=Page.STOP, cautions_read=True)


def piece(session: Session) -> Drawing:
    return stop_pictures(session)["piece"]


@pytest.mark.parametrize("ink", [INK, QUIET, LIT, DONE, GOOD, BAD])
def test_every_ink_stands_out_from_the_paper(ink: str) -> None:
    """At least 4.5 : 1, as W3C's Web Content Accessibility Guidelines 2 ask of text."""
    assert wcag_contrast(decoded(channels(ink)), decoded(channels(PAPER))) >= 4.5


def test_of_one_panel_there_is_no_hand_to_tell() -> None:
    seen = set()
    for plan in (plan for path in EXAMPLES.glob("*.yaml") for plan in planned(path.name)):
        firsts = {stop.placement.cut.window: at for at, stop in reversed([*enumerate(plan.stops)])}
        for at in firsts.values():
            hand = plan.stops[at].placement.cut.hand
            told = {words.text for words in stop_pictures(replace(begun(plan), at=at))["pair"].words}
            assert (hand.value in told) == (hand is not Hand.WHOLE)
            seen.add(hand)
    assert Hand.WHOLE in seen


@pytest.mark.parametrize("example", sorted(path.name for path in EXAMPLES.glob("*.yaml")))
def test_everything_lies_in_the_picture_and_no_words_on_others(example: str) -> None:
    for plan, at in [
        (one, at) for one in planned(example) for at in range(0, len(one.stops), 1 + len(one.stops) // 10)
    ]:
        for drawing in stop_pictures(replace(begun(plan), at=at)).values():
            boxes = [words.box for words in drawing.words]
            for left, upper, right, lower in boxes:
                assert 0 <= left < right <= drawing.width
                assert 0 <= upper < lower <= drawing.height
            for number, a in enumerate(boxes):
                for b in boxes[:number]:
                    assert not (a[0] < b[2] and b[0] < a[2] and a[1] < b[3] and b[1] < a[3])
            for shape in drawing.shapes:
                if isinstance(shape, Line):
                    assert all(-0.01 <= x <= drawing.width + 0.01 for x, _ in shape.points)
                    assert all(-0.01 <= y <= drawing.height + 0.01 for _, y in shape.points)


def test_what_is_cut_is_hatched_on_the_piece() -> None:
    plan = plan_of(cuts=3)
    slanting = [
        len([s for s in piece(begun(plan, done)).shapes if isinstance(s, Line) and s.width == 0.015])
        for done in ([], ["cut-1"], ["cut-1", "cut-2"])
    ]
    assert 0 == slanting[0] < slanting[1] < slanting[2]


def test_what_was_just_ticked_stands_out_on_the_piece_until_the_next_key() -> None:
    plan = plan_of(3, 1)

    def outlined(session: Session) -> int:
        return len([s for s in piece(session).shapes if isinstance(s, Line) and s.closed and s.stroke == GOOD])

    ticked, _ = press(at_a_stop(plan), Action.CUT_DONE)
    assert outlined(at_a_stop(plan)) == 0
    assert outlined(ticked) == 1
    assert outlined(press(ticked, Action.WIDER)[0]) == 0


def test_of_a_pair_the_panel_of_the_lit_cut_is_framed_and_named() -> None:
    plan = plan_of(2, 1)
    for at, hand in enumerate(("left", "right")):
        pair = stop_pictures(replace(at_a_stop(plan), at=at))["pair"]
        assert [words.text for words in pair.words if words.colour == LIT] == [hand]
        (frame,) = [shape for shape in pair.shapes if isinstance(shape, Line) and shape.stroke == LIT]
        (named,) = [words for words in pair.words if words.colour == LIT]
        assert min(x for x, _ in frame.points) < named.at[0] < max(x for x, _ in frame.points)


def test_in_a_joined_panel_the_strip_of_the_lit_cut_is_outlined_where_it_will_hang() -> None:
    text = """
job: Tow-path hall
units: in
cloth: {width: 50, selvedge: 1, repeat: {along: 12, across: 12}}
allowances: {heading: 4, hem: 8, side_hem: 2, seam: 1/2}
windows: [{name: Hall, panels: pair, hang: same, finished_length: 60, cuts_per_panel: 2}]
table: {length: 120, width: 60}
"""
    plan = plan_job(parse_job(text, "hall.yaml"))
    outlined = {}
    for at, stop in enumerate(plan.stops):
        shapes = hung_shapes(replace(begun(plan), at=at), plan, (0.0, 0.0, 8.0, 8.0))
        (frame,) = [shape for shape in shapes if isinstance(shape, Line) and shape.stroke == LIT]
        outlined[stop.placement.cut.hand.value, stop.placement.cut.number] = frame.points[0][0]
    # Cut 1 has the leading edge, which is the right side of a left panel and the left side of a right one.
    assert outlined["left", 2] < outlined["left", 1] < outlined["right", 1] < outlined["right", 2]
