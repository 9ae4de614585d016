"""Which way the second panel of a pair lies where the cloth is run sideways.

The print then hangs a quarter turn round: a mirror line along the cloth hangs level, one across it hangs upright. So a
line across makes every panel its own mirror image, and a line along makes a turned panel the image of an upright one:
the parts of the two are the other way about than where the selvedges hang upright.
"""

from __future__ import annotations

from jobs.model.choices import Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Way
from jobs.model.problems import Code, Problem, problem
from jobs.pairings import Pairing, WayChoice, mirror_is_possible, no_mirror_line

_TURNED = "turned by half a turn, its top at the near selvedge,"


def second_panel_sideways(cloth: Cloth) -> WayChoice | None:
    """How the right panel of a mirrored pair lies, its partner upright; None where no mirrored pair can be cut.

    What leaves every top at the far selvedge comes first, then a turned panel, then faces that are alike, then slides.
    """
    return _own_image(cloth) or _turned(cloth) or _face_down(cloth) or _turned_slid(cloth) or _own_slid(cloth)


def _own_image(cloth: Cloth) -> WayChoice | None:
    if cloth.print.top_to_bottom is not Symmetry.MIRROR or not mirror_is_possible(cloth):
        return None
    return WayChoice(
        Way.UPRIGHT,
        "the print mirrors about a line across the cloth, which hangs upright where the cloth is run sideways; so both "
        "panels have their tops at the far selvedge, and their leading edges lie on mirrored places along the piece",
        pairing=Pairing.OWN_IMAGE,
    )


def _turned(cloth: Cloth) -> WayChoice | None:
    if cloth.print.side_to_side is not Symmetry.MIRROR or cloth.print.one_way or not mirror_is_possible(cloth):
        return None
    return WayChoice(
        Way.TURNED,
        "the print mirrors about a line along the cloth, which hangs level where the cloth is run sideways; so the "
        f"right panel, {_TURNED} is the mirror image of the left; both lead with the edge towards the last end",
        _line_notice(cloth),
        Pairing.TURNED,
    )


def _line_notice(cloth: Cloth) -> str:
    if cloth.first_column is not None and cloth.print.mirror_offset_across is not None:
        return ""
    return (
        "where the turned panel lies across the cloth is worked out for columns that are centred between the selvedges "
        "and lie on a mirror line: look before the first cut, and if they do not, write `first_column` and "
        "`mirror_offset_across`"
    )


def _face_down(cloth: Cloth) -> WayChoice | None:
    if not cloth.faces_alike:
        return None
    return WayChoice(
        Way.FACE_DOWN,
        "both faces of the cloth are alike, so the right panel, used face down, is the mirror image of the left; both "
        "lead with the edge towards the last end",
        pairing=Pairing.FACE_DOWN,
    )


def _turned_slid(cloth: Cloth) -> WayChoice | None:
    if cloth.print.side_to_side is not Symmetry.GLIDE or cloth.print.one_way or cloth.drop:
        return None
    return WayChoice(
        Way.TURNED,
        "the print mirrors about a line along the cloth with a slide of half a repeat; so the right panel, "
        f"{_TURNED} begins half a repeat further along the print than the left, and is its mirror image",
        _line_notice(cloth),
        Pairing.TURNED_SLID_ALONG,
    )


def _own_slid(cloth: Cloth) -> WayChoice | None:
    if cloth.print.top_to_bottom is not Symmetry.GLIDE or cloth.drop:
        return None
    return WayChoice(
        Way.UPRIGHT,
        "the print mirrors about a line across the cloth with a slide of half a repeat; so the right panel is cut half "
        "a repeat further up or down across the cloth than the left, and is its mirror image",
        pairing=Pairing.OWN_SLID_ACROSS,
    )


def no_mirrored_pair_sideways(cloth: Cloth) -> Problem:
    """Why no mirrored pair can be cut from this cloth run sideways."""
    sheet = cloth.print
    kinds = {sheet.top_to_bottom, sheet.side_to_side}
    if kinds != {Symmetry.NONE} and not mirror_is_possible(cloth):
        return no_mirror_line(cloth)
    if cloth.drop and Symmetry.GLIDE in kinds:
        key = "top_to_bottom" if sheet.top_to_bottom is Symmetry.GLIDE else "side_to_side"
        return problem(("cloth", "print"), Code.GLIDE_WITH_DROP, mirror=key)
    if sheet.side_to_side is not Symmetry.NONE:
        return problem(("cloth", "print"), Code.ONE_WAY_NEVER_TURNED_SIDEWAYS)
    return problem(("cloth", "print"), Code.HALF_TURN_ALONE if sheet.half_turn else Code.NO_MIRROR_LINE)
