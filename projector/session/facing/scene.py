"""The questions about a turned panel as light: words, and a picture of the panel as it lies on the table."""

from __future__ import annotations

from collections.abc import Sequence

from jobs.model.cuts import Way
from jobs.model.plan import Plan
from projector.scene.boxes import Box, around
from projector.scene.labels import name_of
from projector.scene.lettering import Line, text_width
from projector.scene.lit_stop import LitStop, lit_stop
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text
from projector.session.actions import Action
from projector.session.facing.lying import Lying, Side, lying_of
from projector.session.keys import Keys, spoken
from projector.session.saying.banner import above_a_picture
from projector.session.saying.words import Lines
from projector.session.state.confirmed import Question
from projector.session.state.state import Session

PICTURE = 13.0
"""Depth of the picture in cap heights of the words above it."""
TALLEST_IN = 1.6
LONGEST = 3.2
"""The panel is drawn at most so many times as long as wide."""


def which_way_lit(session: Session, plan: Plan, area: Sequence[Point], keys: Keys, first: Lines = ()) -> Scene:
    """The question in hand, below what is ``first`` to be done; no cut line is lit before all are answered."""
    lit = lit_stop(plan, session.stop)
    laid = above_a_picture((*first, *lines_of_question(session, lit, keys)), area, PICTURE, TALLEST_IN)
    if laid is None:
        return Scene()
    said, room = laid
    return Scene((*said.marks, *_picture(lit, room, session.questions[session.answered])))


def lines_of_question(session: Session, lit: LitStop, keys: Keys) -> Lines:
    """The words of the question in hand, with the keys that answer it."""
    cut, question = session.placement.cut, session.questions[session.answered]
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    title = "This panel lies TURNED" if cut.way is Way.TURNED else "This panel is cut FACE DOWN"
    said, yes = _asked(question, lit)
    number = f"question {session.answered + 1} of {len(session.questions)}"
    refuse: Lines = ((f"{back}: back", 1.0),) if session.answered or session.at else ()
    return (
        (title, 1.8),
        (f"{name_of(cut)}   ({number}, before anything of it is cut)", 1.0),
        (said, 1.3),
        (f"Look, wait a second, then {forward}: yes, {yes}", 1.0),
        *refuse,
        *(((session.told, 0.9),) if session.told else ()),
    )


def _asked(question: Question, lit: LitStop) -> tuple[str, str]:
    """What is to be seen on the cloth, and what the answer says."""
    lying = lying_of(lit)
    match question:
        case Question.FACE:
            said = "FRONT SIDE DOWN: leave the cloth as it lies; the side you see will be the BACK of this panel."
            return f"{said} Mark it so.", "this side is its back"
        case Question.TOP:
            said = f"Its TOP is to lie {lying.top.loud}, its foot {lying.top.over}."
            return said, f"the top lies {lying.top.removeprefix('at your ')}"
        case Question.SIDES:
            lead, over = lying.leads.loud, lying.leads.over.value
            said = f"{lead[0].upper()}{lead[1:]}: {lying.leading}. {over[0].upper()}{over[1:]}: {lying.other}."
            return said, f"its leading side is {lying.leads}"


def _picture(lit: LitStop, room: Box, question: Question) -> tuple[Mark, ...]:
    """The panel from above: its ends and sides by name, what is asked about drawn full, and where the person stands."""
    letter = room.depth / 11
    deep = room.depth - 2 * letter
    panel = around((room.middle[0], room.middle[1] + letter), min(room.width, LONGEST * deep), deep)
    lying = lying_of(lit)
    x, y = panel.middle

    def inside(side: Side, word: str, more: float = 0.0) -> Point:
        """Where a word stands just inside a side."""
        if side in (Side.NEAR, Side.FAR):
            return x, (panel.near + letter if side is Side.NEAR else panel.far - letter)
        inset = letter / 2 + text_width(word, letter) / 2 + more
        return (panel.left + inset if side is Side.LEFT else panel.right - inset), y

    pointing = (0, lit.rising) if lit.is_sideways else (lit.towards_top, 0)
    return (
        *_outline(panel, lying, question),
        *Line(Kind.TOP, "TOP", letter, *pointing).marks(inside(lying.top, "TOP", 2 * letter)),
        Text(Kind.LETTER, "FOOT", inside(lying.top.over, "TOP", 2 * letter), letter * 0.8),
        Text(Kind.LETTER, lying.leading, inside(lying.leads, lying.leading), letter * 0.8),
        Text(Kind.LETTER, lying.other, inside(lying.leads.over, lying.other), letter * 0.8),
        *(_face((x, y + 1.7 * letter), 0.9 * letter) if question is Question.FACE else ()),
        Text(Kind.LETTER, "you stand here", (x, panel.near - letter), letter * 0.8),
    )


def _face(at: Point, height: float) -> tuple[Text, ...]:
    return (Text(Kind.LETTER, "FRONT SIDE DOWN", at, height),)


def _outline(panel: Box, lying: Lying, question: Question) -> tuple[Stroke, ...]:
    """Four sides, each dashed but those that the question is about."""
    near_left, near_right, far_right, far_left = panel.corners
    sides = {
        Side.NEAR: (near_left, near_right),
        Side.FAR: (far_left, far_right),
        Side.LEFT: (near_left, far_left),
        Side.RIGHT: (near_right, far_right),
    }
    asked = {
        Question.FACE: set(sides),
        Question.TOP: {lying.top},
        Question.SIDES: {lying.leads},
    }[question]
    return tuple(Stroke(Kind.TOP if side in asked else Kind.GUIDE, line) for side, line in sides.items())
