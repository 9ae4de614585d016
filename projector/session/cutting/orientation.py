"""Which way a panel lies when it does not lie upright: asked before its first cut, in words and a picture in light."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum

from jobs.model.cuts import Cut, Edge, Way
from jobs.model.records import dataclass
from projector.scene.boxes import Box, around
from projector.scene.labels import direction, name_of, side_words
from projector.scene.lettering import Line, text_width
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text
from projector.session.actions import Action
from projector.session.keys import Keys, spoken
from projector.session.layout import Lines, above_a_picture
from projector.words.edges import WHERE, side_word

PICTURE = 13.0
"""Depth of the picture in cap heights of the words above it."""
TALLEST_IN = 1.6
LONGEST = 3.2
"""The panel is drawn at most so many times as long as wide."""


class Question(StrEnum):
    """What is asked about a panel, one after another, each on a page of its own."""

    FACE = "which face is its back"
    TOP = "where the top is"
    SIDES = "where the leading side is"


@dataclass(frozen=True)
class Confirmed:
    """The way of a panel was confirmed before its cut ``cut``, after so many ``ticks`` and registrations."""

    cut: str
    ticks: int = 0
    registered: int = 0


def panel_of(cut: Cut) -> tuple[str, str, str, str]:
    """What a confirmation holds for: all cuts of one panel that lie the same way."""
    return cut.window, cut.hand.value, cut.panel, cut.way.value


def questions_of(cut: Cut) -> tuple[Question, ...]:
    """What is asked before the first cut of the panel; nothing where it lies upright."""
    match cut.way:
        case Way.TURNED:
            return Question.TOP, Question.SIDES
        case Way.FACE_DOWN:
            return Question.FACE, Question.TOP, Question.SIDES
    return ()


def is_confirmed(cut: Cut, ways: Sequence[Confirmed], cuts: Iterable[Cut]) -> bool:
    """Whether nothing is left to ask about the way of a cut; ``cuts`` are those of the plan."""
    if not questions_of(cut):
        return True
    named = {way.cut for way in ways}
    return any(panel_of(other) == panel_of(cut) for other in cuts if other.id in named)


def orientation_lit(cut: Cut, question: Question, said: Lines, area: Sequence[Point]) -> Scene:
    """The words of the question, and a picture of the panel as it lies; no cut line is lit before all are answered."""
    laid = above_a_picture(said, area, PICTURE, TALLEST_IN)
    if laid is None:
        return Scene()
    words, room = laid
    return Scene((*words.marks, *_picture(cut, room, question)))


def orientation_text(cut: Cut, answered: int, keys: Keys, *, can_go_back: bool) -> Lines:
    """The words of the question in hand, with the keys that answer it."""
    questions = questions_of(cut)
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    title = "This panel lies TURNED" if cut.way is Way.TURNED else "This panel is cut FACE DOWN"
    said, yes = _asked(questions[answered], cut)
    number = f"question {answered + 1} of {len(questions)}"
    refuse: Lines = ((f"{back}: back", 1.0),) if can_go_back else ()
    return (
        (title, 1.8),
        (f"{name_of(cut)}   ({number}, before anything of it is cut)", 1.0),
        (said, 1.3),
        (f"Look, wait a second, then {forward}: yes, {yes}", 1.0),
        *refuse,
    )


def _asked(question: Question, cut: Cut) -> tuple[str, str]:
    """What is to be seen on the cloth, and what the answer says."""
    match question:
        case Question.FACE:
            said = "FRONT SIDE DOWN: leave the cloth as it lies; the side you see will be the BACK of this panel."
            return f"{said} Mark it so.", "this side is its back"
        case Question.TOP:
            said = f"Its TOP is to lie {_loud(cut.top_edge)}, its foot {WHERE[cut.foot_edge]}."
            return said, f"the top lies {side_word(cut.top_edge)}"
        case Question.SIDES:
            lead, over = _loud(cut.leading_edge), WHERE[cut.return_edge]
            leading, other = _sides(cut)
            said = f"{lead[0].upper()}{lead[1:]}: {leading}. {over[0].upper()}{over[1:]}: {other}."
            return said, f"its leading side is {WHERE[cut.leading_edge]}"


def _loud(edge: Edge) -> str:
    """Where an edge is, with the word that matters in capitals."""
    where = WHERE[edge]
    last = where.split()[-1]
    return where.removesuffix(last) + last.upper() if "your" in where else where.upper()


def _sides(cut: Cut) -> tuple[str, str]:
    """The words for the leading side of a cut and for the one across."""
    return side_words(cut, cut.leading_edge)[0], side_words(cut, cut.return_edge)[0]


def _picture(cut: Cut, room: Box, question: Question) -> tuple[Mark, ...]:
    """The panel from above: its ends and sides by name, what is asked about drawn full, and where the person stands."""
    letter = room.depth / 11
    deep = room.depth - 2 * letter
    panel = around((room.middle[0], room.middle[1] + letter), min(room.width, LONGEST * deep), deep)
    x, y = panel.middle

    def inside(edge: Edge, word: str, more: float = 0.0) -> Point:
        """Where a word stands just inside an edge."""
        if not edge.is_end:
            return x, (panel.near + letter if edge is Edge.NEAR else panel.far - letter)
        inset = letter / 2 + text_width(word, letter) / 2 + more
        return (panel.left + inset if edge is Edge.FIRST else panel.right - inset), y

    leading, other = _sides(cut)
    return (
        *_outline(panel, cut, question),
        *Line(Kind.TOP, "TOP", letter, direction(cut.top_edge)).marks(inside(cut.top_edge, "TOP", 2 * letter)),
        Text(Kind.LETTER, "FOOT", inside(cut.foot_edge, "TOP", 2 * letter), letter * 0.8),
        Text(Kind.LETTER, leading, inside(cut.leading_edge, leading), letter * 0.8),
        Text(Kind.LETTER, other, inside(cut.return_edge, other), letter * 0.8),
        *(_face((x, y + 1.7 * letter), 0.9 * letter) if question is Question.FACE else ()),
        Text(Kind.LETTER, "you stand here", (x, panel.near - letter), letter * 0.8),
    )


def _face(at: Point, height: float) -> tuple[Text, ...]:
    return (Text(Kind.LETTER, "FRONT SIDE DOWN", at, height),)


def _outline(panel: Box, cut: Cut, question: Question) -> tuple[Stroke, ...]:
    """Four sides, each dashed but those that the question is about."""
    near_left, near_right, far_right, far_left = panel.corners
    edges = {
        Edge.NEAR: (near_left, near_right),
        Edge.FAR: (far_left, far_right),
        Edge.FIRST: (near_left, far_left),
        Edge.LAST: (near_right, far_right),
    }
    asked = {
        Question.FACE: set(edges),
        Question.TOP: {cut.top_edge},
        Question.SIDES: {cut.leading_edge},
    }[question]
    return tuple(Stroke(Kind.TOP if edge in asked else Kind.GUIDE, line) for edge, line in edges.items())
