"""The questions about the job as a whole, the allowances and the table."""

from __future__ import annotations

from projector.desk.asking.answers import YES_NO, a_length, a_name, one_of
from projector.desk.asking.question import Question, by_unit, fixed

OPENING = (
    Question(
        "units",
        "Inches, centimetres or millimetres?",
        "The unit of every number typed without one. Any length may still carry its own, such as 6 yd or 28.6 cm.",
        "Type in, cm or mm. Use the unit of the tape you measure with: nothing is converted by hand then.",
        one_of(in_="inch,inches", cm="centimetre,centimetres,centimeters", mm="millimetre,millimetres,millimeters"),
        fixed("in"),
        heading="The job",
    ),
    Question(
        "title",
        "What is this job called?",
        "A name by which you know it later: the room, the house, the order.",
        "It stands on the order, on the pictures and on every list. Up to 120 characters.",
        a_name(),
    ),
)

ALLOWANCES = (
    Question(
        "heading",
        "How much cloth is turned over at the top?",
        "Heading: cloth above the finished top that is folded over, or around a stiffener.",
        "Measure it from the finished top to the raw edge. It is added to the finished length of every panel.",
        a_length(),
        by_unit("4", "10", "100"),
        heading="Allowances: what is added to the finished sizes",
    ),
    Question(
        "hem",
        "How much cloth is turned up at the foot?",
        "Hem: all of it. A doubled hem of 4 in takes 8 in.",
        "A hem that is folded twice takes twice its depth. It is added to the finished length of every panel.",
        a_length(),
        by_unit("8", "20", "200"),
    ),
    Question(
        "side_hem",
        "How much is turned in at each side of a panel?",
        "Side hem: at one side, all of it. A doubled side hem of 1 1/2 in takes 3 in.",
        "It is taken from the width of the cloth, and decides how many cuts a panel needs.",
        a_length(),
        by_unit("3", "8", "80"),
    ),
    Question(
        "seam",
        "How much does a seam take from each edge that is joined?",
        "Seam: where two cuts are joined side by side in one panel.",
        "With a selvedge that is cut away, count from where the print ends.",
        a_length(),
        by_unit("1/2", "1.5", "15"),
    ),
    Question(
        "squaring",
        "How much is lost in straightening the first end?",
        "Squaring: the shop's cut is seldom straight, so a strip of it is cut away first.",
        "It is lost once for each piece and added to the order.",
        a_length(),
        by_unit("1", "3", "30"),
    ),
)

TABLE = (
    Question(
        "table",
        "Do you know the size of the cutting table?",
        "Long cuts are moved along a short table in several pulls; its size tells how many.",
        "A calibrated projector knows its own lit area; this size serves before there is one.",
        YES_NO,
        fixed("yes"),
        heading="The table",
    ),
    Question(
        "table_length",
        "How long is it?",
        "From left to right as you stand at it.",
        "Measure the flat top that is free for the cloth.",
        a_length(above_zero=True),
        by_unit("120", "300", "3000"),
        lambda said, group: said.yes("table"),
    ),
    Question(
        "table_width",
        "How wide is it?",
        "From the edge before you to the far edge.",
        "Measure the flat top that is free for the cloth.",
        a_length(above_zero=True),
        by_unit("60", "150", "1500"),
        lambda said, group: said.yes("table"),
    ),
)
