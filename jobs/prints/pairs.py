"""Which way the second panel of a pair lies, from the symmetry of the print.

A print with a mirror line parallel to the weft ("top to bottom") looks, when turned by half a turn, like its own mirror
image, because a half-turn is that mirror followed by one from side to side. A half-turn symmetry alone looks, when
turned, exactly as before. A glide is a mirror line with a slide of half a repeat along it: the panel made by it is the
mirror image moved by that slide. Groups of plane symmetry: International Tables for Crystallography, vol. A.
"""

from __future__ import annotations

from jobs.model.choices import Hang, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Way
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.pairings import SAME_LEADS, Pairing, WayChoice, mirror_is_possible, no_mirror_line
from jobs.prints.sideways_pairs import no_mirrored_pair_sideways, second_panel_sideways

__all__ = ["Pairing", "WayChoice", "hand_ways", "second_panel"]


def second_panel(cloth: Cloth, hang: Hang) -> WayChoice:
    """The way of the right panel of a pair; the left panel lies upright.

    A plain mirror comes before faces that are alike, those before a slide along, which costs no width, and that before
    a slide across. Raises JobRefused, with the reason, when no mirrored pair can be cut from this cloth.
    """
    if cloth.repeat is None:
        return WayChoice(Way.UPRIGHT, "the cloth is plain, so both panels lie upright")
    if hang is Hang.SAME:
        return WayChoice(Way.UPRIGHT, "both panels hang the same way, so both lie upright")
    if cloth.run is Run.SIDEWAYS:
        level = second_panel_sideways(cloth)
        if level is None:
            raise JobRefused([no_mirrored_pair_sideways(cloth)])
        return level
    mirrored = _turned(cloth) or _own_image(cloth) or _face_down(cloth) or _slid_along(cloth) or _slid_across(cloth)
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


def _turned(cloth: Cloth) -> WayChoice | None:
    if cloth.print.top_to_bottom is not Symmetry.MIRROR or cloth.print.one_way or not mirror_is_possible(cloth):
        return None
    return WayChoice(
        Way.TURNED,
        "the print mirrors from top to bottom, so the right panel, turned by half a turn, is the mirror image of the "
        f"left; {SAME_LEADS}",
        pairing=Pairing.TURNED,
    )


def _own_image(cloth: Cloth) -> WayChoice | None:
    if cloth.print.side_to_side is not Symmetry.MIRROR or not mirror_is_possible(cloth):
        return None
    return WayChoice(
        Way.UPRIGHT,
        "the print mirrors from side to side, so a panel is its own mirror image and both panels lie upright",
        _columns_notice(cloth),
        Pairing.OWN_IMAGE,
    )


def _columns_notice(cloth: Cloth) -> str:
    if cloth.first_column is not None and cloth.print.mirror_offset_across is not None:
        return ""
    return (
        "the pair mirrors when the two leading edges lie on mirrored columns; at the full width of the cloth that is "
        "so only where the columns are centred between the selvedges and lie on a mirror line: look before the first "
        "cut, and if they do not, write `first_column` and `mirror_offset_across`"
    )


def _face_down(cloth: Cloth) -> WayChoice | None:
    if not cloth.faces_alike:
        return None
    return WayChoice(
        Way.FACE_DOWN,
        "both faces of the cloth are alike, so the right panel, used face down, is the mirror image of the left; "
        f"{SAME_LEADS}",
        pairing=Pairing.FACE_DOWN,
    )


def _slid_along(cloth: Cloth) -> WayChoice | None:
    """With a slide of half a repeat along, the rows of the other panel lie half a repeat further down."""
    if cloth.print.side_to_side is not Symmetry.GLIDE or cloth.drop:
        return None
    return WayChoice(
        Way.UPRIGHT,
        "the print mirrors from side to side with a slide: the mirror image lies half a repeat further along. So both "
        "panels lie upright and the rows of the right panel are cut half a repeat away from those of the left: then "
        "one is the mirror image of the other",
        _columns_notice(cloth),
        Pairing.SLID_ALONG,
    )


def _slid_across(cloth: Cloth) -> WayChoice | None:
    """With a slide of half a repeat across, the leading edges must lie half a repeat apart on the print."""
    sheet = cloth.print
    known = cloth.repeat is not None and cloth.repeat.across is not None
    if sheet.top_to_bottom is not Symmetry.GLIDE or sheet.one_way or cloth.drop or not known:
        return None
    return WayChoice(
        Way.TURNED,
        "the print mirrors from top to bottom with a slide: a turned panel is the mirror image moved sideways by half "
        "a repeat across. So the right panel is turned and begins half a repeat further in from its selvedge, and the "
        f"left panel ends half a repeat earlier: then they mirror; {SAME_LEADS}",
        pairing=Pairing.SLID_ACROSS,
    )


def _no_mirrored_pair(cloth: Cloth) -> Problem:
    sheet = cloth.print
    turnable = not sheet.one_way
    if {sheet.top_to_bottom, sheet.side_to_side} != {Symmetry.NONE} and not mirror_is_possible(cloth):
        return no_mirror_line(cloth)
    if cloth.drop and (sheet.side_to_side is Symmetry.GLIDE or (sheet.top_to_bottom is Symmetry.GLIDE and turnable)):
        # The slide together with the step to the next column of a half-drop is a mirror line without a slide.
        key = "top_to_bottom" if sheet.top_to_bottom is Symmetry.GLIDE and turnable else "side_to_side"
        return problem(("cloth", "print"), Code.GLIDE_WITH_DROP, mirror=key)
    if sheet.top_to_bottom is Symmetry.GLIDE and turnable:
        return problem(("cloth", "repeat", "across"), Code.GLIDE_NEEDS_ACROSS)
    if sheet.top_to_bottom is not Symmetry.NONE and not turnable:
        return problem(("cloth", "print"), Code.ONE_WAY_NEVER_TURNED)
    return problem(("cloth", "print"), Code.HALF_TURN_ALONE if sheet.half_turn else Code.NO_MIRROR_LINE)
