"""Which way the second panel of a pair lies, from the symmetry of the print as it hangs.

A print with a mirror line that hangs level looks, when turned by half a turn, like its own mirror image, because a
half-turn is that mirror followed by one about an upright line. A half-turn symmetry alone looks, when turned, exactly
as before. A line that hangs upright makes every panel its own mirror image. A glide is a mirror line with a slide of
half a repeat along it: the panel made by it is the mirror image moved by that slide. Groups of plane symmetry:
International Tables for Crystallography, vol. A.
"""

from __future__ import annotations

from jobs.model.choices import Hang, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.cuts import Hand, Way
from jobs.model.problems import Code, JobRefused, Problem, problem
from jobs.model.resolved import Pairing, WayChoice

UP = (Pairing.TURNED, Pairing.OWN_IMAGE, Pairing.FACE_DOWN, Pairing.OWN_SLID, Pairing.TURNED_SLID)
"""What is tried first: what costs no width comes before what does."""
SIDEWAYS = (Pairing.OWN_IMAGE, Pairing.TURNED, Pairing.FACE_DOWN, Pairing.TURNED_SLID, Pairing.OWN_SLID)
"""Here first what leaves every top at the far selvedge."""


def second_panel(cloth: Cloth, hang: Hang) -> WayChoice:
    """The right panel of a pair. Raises JobRefused, with the reason, when no mirrored pair can be cut of this cloth."""
    if cloth.repeat is None or hang is Hang.SAME:
        return WayChoice()
    order = SIDEWAYS if cloth.run is Run.SIDEWAYS else UP
    pairing = next((one for one in order if _gives(cloth, one)), None)
    if pairing is None:
        raise JobRefused([_no_mirrored_pair(cloth)])
    measured = cloth.first_column is not None and cloth.print.mirror_offset_across is not None
    hung_level = pairing in (Pairing.TURNED, Pairing.TURNED_SLID)
    along_the_cloth = pairing is not Pairing.FACE_DOWN and hung_level is (cloth.run is Run.SIDEWAYS)
    return WayChoice(pairing, along_the_cloth and not measured)


def hand_ways(choice: WayChoice, hands: tuple[Hand, ...]) -> dict[Hand, Way]:
    """The way of each panel of one window: that of the left or only one, and what the pairing makes of it."""
    ways = dict.fromkeys(hands, choice.first)
    if Hand.LEFT in ways and Hand.RIGHT in ways and choice.pairing.way is not Way.UPRIGHT:
        ways[Hand.RIGHT] = choice.pairing.way if choice.first is Way.UPRIGHT else Way.UPRIGHT
    return ways


def mirroring_ways(cloth: Cloth) -> tuple[Way, ...]:
    """How else than upright a panel may lie and still hang with its print upright; the mirror image, or plain cloth."""
    plain = cloth.repeat is None and not cloth.print.one_way
    found = (
        (Way.TURNED, plain or (cloth.repeat is not None and _gives(cloth, Pairing.TURNED))),
        (Way.FACE_DOWN, cloth.faces_alike),
    )
    return tuple(way for way, may in found if may)


def mirror_is_possible(cloth: Cloth) -> bool:
    """A lattice with a drop is its own mirror image only when twice the drop is a whole repeat."""
    return (2 * cloth.drop).denominator == 1


def hanging_mirrors(cloth: Cloth) -> tuple[Symmetry, Symmetry]:
    """The mirror that hangs level and the one that hangs upright: run sideways, a print hangs a quarter turn round."""
    sheet = cloth.print
    lines = sheet.top_to_bottom, sheet.side_to_side
    return lines[::-1] if cloth.run is Run.SIDEWAYS else lines


def _gives(cloth: Cloth, pairing: Pairing) -> bool:
    """Whether this makes the mirror image of a panel."""
    (level, upright), may_turn = hanging_mirrors(cloth), not cloth.print.one_way
    match pairing:
        case Pairing.TURNED:
            return level is Symmetry.MIRROR and may_turn and mirror_is_possible(cloth)
        case Pairing.OWN_IMAGE:
            return upright is Symmetry.MIRROR and mirror_is_possible(cloth)
        case Pairing.FACE_DOWN:
            return cloth.faces_alike
        case Pairing.OWN_SLID:
            return upright is Symmetry.GLIDE and not cloth.drop
    return level is Symmetry.GLIDE and may_turn and not cloth.drop and _slide_is_known(cloth)


def _slide_is_known(cloth: Cloth) -> bool:
    """Whether the repeat is known that a turned panel of a print with a slide is moved by half of."""
    return cloth.run is Run.SIDEWAYS or (cloth.repeat is not None and cloth.repeat.across is not None)


def _no_mirrored_pair(cloth: Cloth) -> Problem:
    (level, upright), may_turn = hanging_mirrors(cloth), not cloth.print.one_way
    if {level, upright} != {Symmetry.NONE} and not mirror_is_possible(cloth):
        return problem(("cloth", "drop"), Code.NO_MIRROR_WITH_DROP, drop=cloth.drop)
    slides = {"level": level is Symmetry.GLIDE and may_turn, "upright": upright is Symmetry.GLIDE}
    if cloth.drop and any(slides.values()):
        # The slide together with the step to the next column of a half-drop is a mirror line without a slide.
        down = slides["upright" if cloth.run is Run.SIDEWAYS else "level"]
        return problem(("cloth", "print"), Code.GLIDE_WITH_DROP, mirror="top_to_bottom" if down else "side_to_side")
    if level is Symmetry.GLIDE and may_turn:
        return problem(("cloth", "repeat", "across"), Code.GLIDE_NEEDS_ACROSS)
    if level is not Symmetry.NONE and not may_turn:
        sideways = cloth.run is Run.SIDEWAYS
        code = Code.ONE_WAY_NEVER_TURNED_SIDEWAYS if sideways else Code.ONE_WAY_NEVER_TURNED
        return problem(("cloth", "print"), code)
    return problem(("cloth", "print"), Code.HALF_TURN_ALONE if cloth.print.half_turn else Code.NO_MIRROR_LINE)
