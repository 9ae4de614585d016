"""Which way the second panel of a pair lies, from the symmetry of the print.

A print with a mirror line parallel to the weft ("top to bottom") looks, when turned by half a turn, like its own mirror
image, because a half-turn is that mirror followed by one from side to side. A half-turn symmetry alone looks, when
turned, exactly as before. Groups of plane symmetry: International Tables for Crystallography, vol. A.
"""

from __future__ import annotations

from dataclasses import dataclass

from jobs.job import Cloth, Hang, Symmetry
from jobs.plan import Hand, Way
from jobs.refusals import JobRefused, Problem

SAME_ADVICE = "write `hang: same` for a pair that hangs the same way"
SLID_ALONG = "the mirror image lies half a repeat further along"


@dataclass(frozen=True)
class WayChoice:
    """How the right panel of a pair lies (the left one lies upright), why, and what the person should know."""

    way: Way
    reason: str
    notice: str = ""


def second_panel(cloth: Cloth, hang: Hang) -> WayChoice:
    """The way of the right panel of a pair; the left panel lies upright.

    Raises JobRefused, with the reason, when no mirrored pair can be cut from this cloth.
    """
    if cloth.repeat is None:
        return WayChoice(Way.UPRIGHT, "the cloth is plain, so both panels lie upright")
    if hang is Hang.SAME:
        return WayChoice(Way.UPRIGHT, "both panels hang the same way, so both lie upright")
    mirrored = _turned(cloth) or _own_image(cloth) or _face_down(cloth)
    if mirrored is None:
        raise JobRefused([_no_mirrored_pair(cloth)])
    return mirrored


def hand_ways(cloth: Cloth, hang: Hang, hands: tuple[Hand, ...]) -> dict[Hand, Way]:
    """The way of each panel of one window; only the right panel of a pair may lie other than upright.

    Raises JobRefused as ``second_panel`` does.
    """
    ways = dict.fromkeys(hands, Way.UPRIGHT)
    if Hand.LEFT in ways and Hand.RIGHT in ways:
        ways[Hand.RIGHT] = second_panel(cloth, hang).way
    return ways


def _mirror_is_possible(cloth: Cloth) -> bool:
    """A lattice with a drop is its own mirror image only when twice the drop is a whole repeat."""
    return (2 * cloth.drop).denominator == 1


def _turned(cloth: Cloth) -> WayChoice | None:
    if cloth.print.top_to_bottom is not Symmetry.MIRROR or cloth.print.one_way or not _mirror_is_possible(cloth):
        return None
    return WayChoice(
        Way.TURNED,
        "the print mirrors from top to bottom, so the right panel, turned by half a turn, is the mirror image of the "
        "left; the same selvedge leads in both panels",
    )


def _own_image(cloth: Cloth) -> WayChoice | None:
    if cloth.print.side_to_side is not Symmetry.MIRROR or not _mirror_is_possible(cloth):
        return None
    return WayChoice(
        Way.UPRIGHT,
        "the print mirrors from side to side, so a panel is its own mirror image and both panels lie upright",
        "the pair mirrors when the two leading edges lie on mirrored columns; at the full width of the cloth that is "
        "so only where the columns are centred between the selvedges: look before the first cut",
    )


def _face_down(cloth: Cloth) -> WayChoice | None:
    if not cloth.faces_alike:
        return None
    return WayChoice(
        Way.FACE_DOWN,
        "both faces of the cloth are alike, so the right panel, used face down, is the mirror image of the left; "
        "the same selvedge leads in both panels",
    )


def _no_mirrored_pair(cloth: Cloth) -> Problem:
    where, sheet = "cloth", cloth.print
    mirrors = Symmetry.MIRROR in (sheet.top_to_bottom, sheet.side_to_side)
    turnable = not sheet.one_way
    if mirrors and not _mirror_is_possible(cloth):
        what = (
            f"a print with a drop of {cloth.drop} of the repeat has no mirror line; only drops of 0 and 1/2 allow one"
        )
        return Problem(where, what, f"measure the drop again or correct `print`, or {SAME_ADVICE}")
    if (sheet.top_to_bottom is Symmetry.GLIDE and turnable) or sheet.side_to_side is Symmetry.GLIDE:
        turned = sheet.top_to_bottom is Symmetry.GLIDE and turnable
        slide = "a turned panel is the mirror image moved sideways by half a repeat across" if turned else SLID_ALONG
        what = f"the print mirrors only with a slide ({slide}), and such a pair is not worked out by this version"
        return Problem(where, what, f"for now {SAME_ADVICE}")
    if sheet.top_to_bottom is not Symmetry.NONE and not turnable:
        why = "it mirrors only when a panel is turned, and one-way cloth is never turned"
    elif sheet.half_turn:
        why = (
            "the print has a half-turn but no mirror: turned by half a turn a panel looks exactly as before, not "
            "mirrored (a common mistake)"
        )
    else:
        why = "the print has no mirror line and its two faces differ"
    return Problem(where, f"no mirrored pair can be cut from this cloth because {why}", SAME_ADVICE)
