"""The questions about the pieces that are there already, and about their flaws."""

from __future__ import annotations

from projector.desk.asking.about_cloth import patterned
from projector.desk.asking.answers import YES_NO, a_length, a_name
from projector.desk.asking.question import Question, fixed

PIECE = (
    Question(
        "length",
        "How long is this piece?",
        "Measured along a selvedge from its first end, flat.",
        "Measure it, do not trust the ticket.",
        a_length(above_zero=True),
    ),
    Question(
        "first_row",
        "How far is it from its first end to a row?",
        "Row: the line across through the point of the motif that you chose. Any row will do.",
        "On a half-drop print take a row of the column nearest the near selvedge, and stay with that column.",
        a_length(),
        fixed("0"),
        patterned,
    ),
)
FLAW = (
    Question("from", "Where along the piece does it begin?", "From the first end.", "Measure generously.", a_length()),
    Question("to", "Where does it end?", "From the first end too.", "Measure generously.", a_length(above_zero=True)),
    Question(
        "across_from",
        "How far from the near selvedge does it begin? skip for the whole width.",
        "Near selvedge: the one before you.",
        "A narrow panel may pass beside a flaw.",
        a_length(or_skip=True),
        fixed("skip"),
    ),
    Question(
        "across_to",
        "And how far from the near selvedge does it end?",
        "Near selvedge: the one before you.",
        "Measure generously.",
        a_length(above_zero=True),
        when=lambda said, group: said.given(f"{group} across_from"),
    ),
    Question(
        "note",
        "What is it?",
        "A word for you: slub, stain, join. skip for none.",
        "It stands on the lists and pictures.",
        a_name(or_skip=True),
        fixed("skip"),
    ),
)

MORE_FLAWS = Question(
    "flaw",
    "Is there a flaw in it that must be kept out?",
    "Flaw: a slub, stain, hole or join. The cuts are placed around it.",
    "Pull the whole piece over the table once, in good light, before the first cut.",
    YES_NO,
    fixed("no"),
)
MORE_PIECES = Question(
    "another",
    "Is there another piece of this cloth?",
    "All cuts of a pair come from one piece.",
    "Pieces of other dye lots differ in colour: do not mix them in one window.",
    YES_NO,
    fixed("no"),
)
