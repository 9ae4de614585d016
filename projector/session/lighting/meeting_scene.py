"""The check whether anything has moved, as light: crosses on the bare table and words beside them."""

from __future__ import annotations

from collections.abc import Sequence

from calibration.moved import Mend
from jobs.model.choices import Unit
from projector.scene.boxes import around
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text
from projector.session.actions import Action
from projector.session.keys import Keys, spoken
from projector.session.saying.banner import words
from projector.session.saying.words import Lines
from projector.session.state.meeting import Meeting
from projector.session.state.state import Page, Session
from projector.words.findings import describe_move

ARM_IN = 1.5
SMALL_IN = 0.6
NUMBER_IN = 0.9
TALLEST_IN = 1.6


def meeting_lit(session: Session, area: Sequence[Point], keys: Keys, unit: Unit) -> Scene:
    """The page of the check, in inches of the bare table."""
    meeting = session.meeting
    if meeting is None:
        return Scene()
    shown = [0, 1] if session.page is not Page.MOVING else [meeting.at]
    marks: list[Mark] = []
    for number in shown:
        x, y = meeting.lit_at(number)
        marks.append(Stroke(Kind.TARGET, ((x - ARM_IN, y), (x + ARM_IN, y))))
        marks.append(Stroke(Kind.TARGET, ((x, y - ARM_IN), (x, y + ARM_IN))))
        marks.append(Text(Kind.LETTER, str(meeting.numbers[number]), _beside((x, y), area), NUMBER_IN))
    rooms = tuple(around(meeting.lit_at(number), 2 * ARM_IN + 1, 2 * ARM_IN + 1) for number in shown)
    said = words(lines_of_meeting(session.page, meeting, keys, unit), area, rooms, tallest_in=TALLEST_IN)
    return Scene((*marks, *said.marks))


def _beside(at: Point, area: Sequence[Point]) -> Point:
    """Where the number stands: off the arms, towards the middle of the lit area."""
    middle = (sum(x for x, _ in area) / len(area), sum(y for _, y in area) / len(area))
    return (at[0] + (1.0 if at[0] < middle[0] else -1.0), at[1] + (1.0 if at[1] < middle[1] else -1.0))


def lines_of_meeting(page: Page, meeting: Meeting, keys: Keys, unit: Unit) -> Lines:
    """The words of the page, with the keys that answer."""
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    enter, single = spoken(Action.CUT_DONE, keys), spoken(Action.NEXT_CUT, keys)
    first, second = meeting.numbers
    if page is Page.MEETING:
        return (
            ("Has anything moved?", 1.8),
            *((notice, 1.0) for notice in meeting.notices),
            (f"Crosses are lit where marks {first} and {second} were set. Do they meet their tape?", 1.0),
            (f"{forward}: yes (or the tape is gone), go on", 1.3),
            (f"{enter} or an arrow: they miss", 1.3),
        )
    if page is Page.MOVING:
        number = meeting.numbers[meeting.at]
        alone: Lines = ((f"{single}: go by mark {first} alone", 1.0),)
        return (
            (f"Move the light onto mark {number}", 1.8),
            ("Arrow keys 1/16 in, with Shift 1/2, with Ctrl 1/64.", 1.0),
            (f"{enter} or {forward}: it meets now", 1.3),
            *alone,
            (f"{back}: back", 1.0),
        )
    return _judged(meeting, forward, back, spoken(Action.LIGHT_BACK, keys), spoken(Action.LEAVE, keys), unit)


def _judged(meeting: Meeting, forward: str, back: str, without: str, leave: str, unit: Unit) -> Lines:
    move = meeting.move
    if move is None or move.mend is Mend.REDO:
        what = describe_move(move, unit.value) if move else "These two crosses cannot tell how the light has moved."
        return (
            ("Calibrate anew", 1.8),
            (what, 1.0),
            (f"{leave}: leave, then run lightchalk calibrate", 1.3),
            (f"{back}: look again", 1.0),
            (f"{forward}: go on with the light as it is, at your own risk", 1.0),
        )
    if move.mend is Mend.NOTHING:
        return (("Nothing has moved", 1.8), (describe_move(move, unit.value), 1.0), (f"{forward}: go on", 1.3))
    return (
        ("The light has moved", 1.8),
        (describe_move(move, unit.value), 1.0),
        (f"{forward}: correct it for this session", 1.3),
        (f"{back}: look again", 1.0),
        (f"{without}: go on without the correction", 1.0),
    )
