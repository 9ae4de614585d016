"""Which way a panel lies when it does not lie upright: asked before its first cut, in words and a picture in light."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from enum import StrEnum

from jobs.model.cuts import Cut, Way
from projector.scene.boxes import Box, around
from projector.scene.labels import name_of, side_words
from projector.scene.lettering import Line, text_width
from projector.scene.lit_stop import LitStop
from projector.scene.marks import Kind, Mark, Point, Scene, Stroke, Text
from projector.scene.sideways_labels import edge_words
from projector.session.actions import Action
from projector.session.keys import Keys, spoken
from projector.session.layout import Lines, above_a_picture

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


class Side(StrEnum):
    """A side of what lies on the table; the value says where it is."""

    LEFT = "at your left"
    RIGHT = "at your right"
    NEAR = "nearest you"
    FAR = "away from you"

    @property
    def over(self) -> Side:
        """The side across from it."""
        return {Side.LEFT: Side.RIGHT, Side.RIGHT: Side.LEFT, Side.NEAR: Side.FAR, Side.FAR: Side.NEAR}[self]

    @property
    def loud(self) -> str:
        """Where it is, with the word that matters in capitals."""
        last = self.value.split()[-1]
        return self.value.removesuffix(last) + last.upper() if "your" in self.value else self.value.upper()


@dataclass(frozen=True)
class Lying:
    """``top`` and ``leads`` are sides; ``leading`` and ``other`` the words for the leading side and the one across."""

    top: Side
    leads: Side
    leading: str
    other: str


def lying_of(lit: LitStop) -> Lying:
    """How the panel of a stop lies: its top at an end of it, or at a selvedge where the cloth is run sideways."""
    if lit.is_sideways:
        (leading, *_), (other, *_) = edge_words(lit)
        leads = Side.LEFT if lit.placement.cut.leading_is_first else Side.RIGHT
        return Lying(Side.FAR if lit.rising > 0 else Side.NEAR, leads, leading, other)
    near, far = (words[0] for words in side_words(lit))
    leading, other = (near, far) if lit.leading_is_near else (far, near)
    return Lying(
        Side.RIGHT if lit.towards_top > 0 else Side.LEFT,
        Side.NEAR if lit.leading_is_near else Side.FAR,
        leading,
        other,
    )


def orientation_lit(lit: LitStop, question: Question, said: Lines, area: Sequence[Point]) -> Scene:
    """The words of the question, and a picture of the panel as it lies; no cut line is lit before all are answered."""
    laid = above_a_picture(said, area, PICTURE, TALLEST_IN)
    if laid is None:
        return Scene()
    words, room = laid
    return Scene((*words.marks, *_picture(lit, room, question)))


def orientation_text(lit: LitStop, answered: int, keys: Keys, *, can_go_back: bool) -> Lines:
    """The words of the question in hand, with the keys that answer it."""
    cut = lit.placement.cut
    questions = questions_of(cut)
    forward, back = spoken(Action.NEXT_STOP, keys), spoken(Action.PREVIOUS_STOP, keys)
    title = "This panel lies TURNED" if cut.way is Way.TURNED else "This panel is cut FACE DOWN"
    said, yes = _asked(questions[answered], lit)
    number = f"question {answered + 1} of {len(questions)}"
    refuse: Lines = ((f"{back}: back", 1.0),) if can_go_back else ()
    return (
        (title, 1.8),
        (f"{name_of(cut)}   ({number}, before anything of it is cut)", 1.0),
        (said, 1.3),
        (f"Look, wait a second, then {forward}: yes, {yes}", 1.0),
        *refuse,
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
