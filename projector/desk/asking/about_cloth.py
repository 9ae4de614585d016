"""The questions about the cloth: its sizes, its print, and the pieces when they are there already."""

from __future__ import annotations

from fractions import Fraction

from jobs.io import values
from projector.desk.asking.answers import YES_NO, Unfit, a_colour, a_length, a_name, a_share, of_reader, one_of
from projector.desk.asking.question import Question, by_unit, fixed
from projector.desk.asking.said import SKIPPED, Said
from projector.desk.asking.small_pictures import DROP, HALF_TURN, SIDE_TO_SIDE, TOP_TO_BOTTOM


def patterned(said: Said, group: str) -> bool:
    """Whether the cloth has a print that must meet."""
    return said.yes("patterned")


def tall(said: Said, group: str) -> bool:
    """Whether the cloth is so wide that panels might be cut from it sideways."""
    return said.length("width") >= SIDEWAYS_FROM


def sideways(said: Said, group: str) -> bool:
    """Whether the cloth is run sideways."""
    return said.yes("sideways")


def _known_where_rows_run_along(said: Said, key: str) -> None:
    if sideways(said, "") and not said.given(key):
        raise Unfit("run sideways, the rows hang this far apart, so it must be known", "measure it on the cloth")


def mirrored(key: str) -> bool:
    """Whether an answer about a mirror is other than no and not known."""
    return key not in ("", "no", *SKIPPED)


def _drop(typed: str, said: Said) -> str:
    if typed.casefold() in SKIPPED:
        return SKIPPED[0]
    return of_reader(values.within(values.fraction, 0, 1, below=True))(typed, said)


def _no_of_plain_cloth(said: Said, key: str) -> str:
    return "" if said.yes("patterned") else "no"


SKIP = "skip: the order is reckoned for the dearest case, and cutting waits for the answer."

SIDEWAYS_FROM = Fraction(84)
"""Inches; narrower cloth is not tall enough for a long curtain, so nobody is asked about it."""

SIZES = (
    Question(
        "cloth",
        "What do you call the cloth?",
        "Its name and colour, as on the ticket.",
        "It stands on the order. Up to 120 characters.",
        a_name(),
        heading="The cloth",
    ),
    Question(
        "width",
        "How wide is it, from selvedge edge to selvedge edge?",
        "Selvedge: the woven edge along each side of the cloth, which does not fray.",
        "Lay it flat, do not pull. The ticket is often out by half an inch: measure.",
        a_length(above_zero=True),
        by_unit("54", "140", "1400"),
    ),
    Question(
        "selvedge",
        "How wide is the unprinted strip at each side?",
        "It is cut away or lost in the seam, so it does not count as width.",
        "Measure from the very edge to where the print begins. 0 where the print runs to the edge.",
        a_length(),
        by_unit("1/2", "1.5", "15"),
    ),
    Question(
        "patterned",
        "Is it patterned, so that the print must meet from panel to panel?",
        "No for plain cloth, and for a print so small or wild that nothing needs to meet.",
        "With yes you are asked for the repeat, and every cut is placed so that its rows hang level with the others.",
        YES_NO,
        fixed("yes"),
    ),
    Question(
        "sideways",
        "Is it tall enough to run sideways, and shall it be?",
        "Sideways: its selvedges lie along top and foot, so that a panel has no seam, however wide it is.",
        "The finished length with heading and hem must lie across the cloth, between the selvedges. Patterned cloth "
        "must be made for it, or look right lying on its side. The print is then taken as it lies across the cloth.",
        YES_NO,
        fixed("no"),
        tall,
    ),
)

PRINT = (
    Question(
        "along",
        "After what length does the print come again, along the selvedge?",
        "Repeat along: from one point of the print to the same point further along.",
        "Measure ten repeats and divide by ten where you can: the ticket is only near the truth.",
        a_length(above_zero=True),
        when=patterned,
        heading="The print",
    ),
    Question(
        "across",
        "And across, from selvedge towards selvedge?",
        "Repeat across: from one point of the print to the same point in the next column. skip if not known.",
        "Mirrored pairs of half-drop prints and of prints that mirror with a slide cannot be worked out without it; "
        "seams and joined cuts are better with it.",
        a_length(above_zero=True, or_skip=True),
        fixed("skip"),
        patterned,
        check=_known_where_rows_run_along,
    ),
    Question(
        "drop",
        "How much lower does the next column sit?",
        "Drop: 0 when the same motif lies level beside it, 1/2 of the repeat for a half-drop print. skip if not known.",
        f"Follow one motif straight across the cloth. Level with it: 0. Halfway between two: 1/2. A third: 1/3. {SKIP}",
        _drop,
        when=patterned,
        picture=DROP,
    ),
    Question(
        "top_to_bottom",
        "Does the print mirror from top to bottom?",
        "Is there a line across the cloth below which all is as above it, upside down? no, yes, slid; skip: not known.",
        "slid: the same upside down, but moved sideways by half a repeat. Try it with a pocket mirror stood across the "
        f"cloth. This decides whether turning a panel makes the mirrored half of a pair. {SKIP}",
        one_of(no="n", yes="y", slid="slide,glide", skip="-"),
        when=patterned,
        picture=TOP_TO_BOTTOM,
    ),
    Question(
        "mirror_offset",
        "How far below a row does the next such line lie, as the cloth hangs?",
        "Row: a line across the cloth through a point of the motif that you choose. Hold it tops up and measure down.",
        "Choose a point you find again at once, an eye or a tip, once for the whole job. 0 when the mirror line goes "
        "through it. It is measured downwards whichever end of the piece the tops point to; of cloth run sideways, "
        "from the row away from the first end.",
        a_length(),
        fixed("0"),
        lambda said, group: patterned(said, group) and mirrored(said.text("top_to_bottom")),
    ),
    Question(
        "side_to_side",
        "Does the print mirror from side to side?",
        "Is there a line along the cloth with the same left and right of it, swapped? no, yes, slid; skip: not known.",
        f"slid: swapped, but moved along by half a repeat. With yes both panels of a pair may lie upright. {SKIP}",
        one_of(no="n", yes="y", slid="slide,glide", skip="-"),
        when=patterned,
        picture=SIDE_TO_SIDE,
    ),
    Question(
        "half_turn",
        "Does it look just the same turned upside down?",
        "Half-turn: not mirrored, only turned. Try it with two small cuttings, one turned.",
        "A print with a half-turn and no mirror looks the same either way up, so turning a panel makes no pair.",
        YES_NO,
        fixed("no"),
        lambda said, group: (
            patterned(said, group) and said.text("top_to_bottom") == "no" and said.text("side_to_side") == "no"
        ),
        picture=HALF_TURN,
    ),
)

REST = (
    Question(
        "one_way",
        "Must every panel hang the same way up?",
        "One way: stems grow up, or pile or sheen has a direction. Then no panel is ever turned. skip if not known.",
        f"Stroke the cloth both ways, and look at it in slanting light. {SKIP}",
        one_of(yes="y,true", no="n,false", skip="-"),
        _no_of_plain_cloth,
    ),
    Question(
        "shrinkage",
        "How much of its length will it lose in the wash, in percent?",
        "Shrinkage: from the label, or from a square you washed. 0 when it is never washed.",
        "Every cut is made longer by it, so that the finished length is right after the wash.",
        a_share,
        fixed("0 %"),
    ),
    Question(
        "colour",
        "What colour is its ground?",
        "The light is chosen so that it shows on the cloth. A name such as cream or blue, or #rrggbb.",
        "Ground: what lies between the motifs. White, cream, ivory, beige, sand, grey, charcoal, black, brown, rust, "
        "red, pink, plum, orange, gold, yellow, green, olive, teal, blue, navy and purple are known by name, and dark "
        "or pale ones: dark green.",
        a_colour,
        fixed("grey"),
    ),
    Question(
        "sold_by",
        "In what steps is it sold?",
        "The order is rounded up to this.",
        "A quarter yard, an eighth, ten centimetres, a whole metre: ask the shop.",
        a_length(above_zero=True),
        by_unit("1/4 yd", "10 cm", "10 cm"),
    ),
    Question(
        "bought",
        "Have you got the cloth already?",
        "Then its pieces and its flaws are measured now and the cuts are laid on what is there.",
        "With no the program says how much to buy. Add the pieces later, when they have come.",
        YES_NO,
        fixed("no"),
    ),
    Question(
        "top_towards",
        "Lay it with its first end at your left. To which end do the tops of the motifs point?",
        "first: to the end at your left; last: to the other.",
        "You may call either end of the cloth its first. Mark it with a pin: all is measured from there.",
        one_of(first_end="first,left,f", last_end="last,right,l"),
        fixed("first end"),
        lambda said, group: said.yes("bought") and said.yes("patterned") and not sideways(said, group),
        heading="The pieces",
    ),
)
