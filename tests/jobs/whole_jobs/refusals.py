"""Whether a refusal is right: each reason held against what the cloth and the window are, by arithmetic of its own."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction
from math import ceil, floor

from jobs.model.choices import HalfAt, Panels, Run, Symmetry
from jobs.model.cloth import Cloth
from jobs.model.problems import Code, Problem
from jobs.model.records import dataclass
from tests.jobs.whole_jobs.parts import Part
from tests.jobs.whole_jobs.print_plane import ZERO, about_a_line_along, first_column

Between = tuple[Fraction, Fraction]


@dataclass(frozen=True)
class Case:
    """What was refused, the cloth with every question about its print answered, and what else is said of it."""

    problem: Problem
    part: Part | None
    cloth: Cloth

    @property
    def printed(self) -> Fraction:
        return self.cloth.width - self.cloth.near_selvedge - self.cloth.far_selvedge

    @property
    def across(self) -> Fraction | None:
        return self.cloth.repeat.across if self.cloth.repeat is not None else None

    @property
    def needed(self) -> Fraction:
        """Across the cloth, with its side hems."""
        return (self.part.flat or ZERO) + 2 * self.part.turnings.side if self.part is not None else ZERO


def is_right(case: Case) -> bool:
    """Whether the reason holds; one that nothing here knows does not."""
    reason = REASONS.get(Code(case.problem.code)) if isinstance(case.problem.code, Code) else None
    return reason is not None and reason(case)


def _ways(cloth: Cloth) -> Iterator[str]:
    """How a mirrored partner can be had: the lines of the print that a lattice with this drop leaves, or its back."""
    sheet, sideways = cloth.print, cloth.run is Run.SIDEWAYS
    level, upright = (sheet.top_to_bottom, sheet.side_to_side)[:: -1 if sideways else 1]
    straight = (2 * cloth.drop).denominator == 1
    for name, line, may in (("turned", level, not sheet.one_way), ("own", upright, True)):
        slides = line is Symmetry.GLIDE
        # A slide with a drop is a mirror without one a quarter of a repeat away: that line must be told. A turned
        # panel is moved by half a repeat across, which must be known.
        known = not slides or (not cloth.drop and (name == "own" or sideways or _across(cloth) is not None))
        if line is not Symmetry.NONE and may and straight and known:
            yield f"{name} slid" if slides else name
    if cloth.faces_alike:
        yield "face down"


def _across(cloth: Cloth) -> Fraction | None:
    return cloth.repeat.across if cloth.repeat is not None else None


def _no_partner(case: Case) -> bool:
    part = case.part
    return part is not None and part.mirrored and part.panels is Panels.PAIR and not list(_ways(case.cloth))


def _facing_is_fixed(case: Case) -> bool:
    may = list(_ways(case.cloth))
    own, turned, down = ("own" in may, "turned" in may, "face down" in may)
    # What comes first: of cloth that runs up a turned panel, run sideways one that is its own image.
    first = own and (case.cloth.run is Run.SIDEWAYS or not turned)
    return first or not (turned or down)


def _facing_of_sideways(case: Case) -> bool:
    return case.cloth.run is Run.SIDEWAYS and not _facing_is_fixed(case)


def _border_cannot_lead(case: Case) -> bool:
    """Of two upright panels it leads in one; for both, or in a single one at the wrong hand, one must lie otherwise."""
    cloth, part = case.cloth, case.part
    if part is None or cloth.border is None:
        return False
    plain = cloth.repeat is None
    may = ["turned"] if plain and not cloth.print.one_way else [way for way in _ways(cloth) if way == "turned"]
    may += ["face down"] if cloth.faces_alike else []
    if part.panels is Panels.PAIR:
        kept_same = not plain and not part.mirrored
        return ((not may or kept_same) and cloth.border_leads.value == "both") or "turned slid" in list(_ways(cloth))
    tops_first = cloth.print.top_towards.value == "first end"
    leads = "far" if (part.panels is Panels.LEFT) is tops_first else "near"
    return leads != cloth.border.value and not may


def _joined(case: Case) -> bool:
    part = case.part
    return (part is not None and (part.cuts or 0) > 1) or case.needed + _most_lost(case) > case.printed


def _most_lost(case: Case) -> Fraction:
    """By trimming so that a pair mirrors: half a repeat at the most, a whole one where its columns must be met."""
    pair = case.part is not None and case.part.panels is Panels.PAIR and case.part.mirrored
    return case.across or ZERO if pair else ZERO


def _no_column_twice(case: Case) -> bool:
    """Whether less than a repeat across lies between the outermost places where a seam may lie."""
    cloth, part = case.cloth, case.part
    if part is None or case.across is None:
        return False
    least = part.turnings.least_seam
    return cloth.width - max(cloth.near_selvedge, least) - max(cloth.far_selvedge, least) < case.across


def _cannot_be_joined(case: Case) -> bool:
    """A flat panel wider than its cloth, about its middle: a seam may lie where one width of the print still shows what
    the next one does, and clear of the side hems; to one side or the other it finds no such place."""
    cloth, part, across = case.cloth, case.part, case.across
    if part is None or across is None or case.needed <= case.printed or _no_column_twice(case):
        return part is not None and across is not None and case.needed > case.printed
    least, half = part.turnings.least_seam, case.needed / 2
    low, high = max(cloth.near_selvedge, least), cloth.width - max(cloth.far_selvedge, least)
    middle = (low + high) / 2
    if part.middle is not None:
        wanted = first_column(cloth) + part.middle
        middle = wanted + floor((middle - wanted) / across + Fraction(1, 2)) * across
    clear = half - 2 * part.turnings.side - least
    ways = ((middle - low, cloth.width - cloth.far_selvedge - middle), (high - middle, middle - cloth.near_selvedge))
    for back, reach in ways:
        widths = max(0, ceil((half - reach) / across))
        if widths and widths * across - back > clear:
            return True
    return False


def _no_room_for_seams(case: Case) -> bool:
    cloth, part = case.cloth, case.part
    if part is None or case.across is None or not _joined(case):
        return False
    if case.across > case.printed:
        return min(cloth.near_selvedge, cloth.far_selvedge) < part.turnings.least_seam
    return _no_column_twice(case)


def _trim_leaves_too_little(case: Case) -> bool:
    cloth, part = case.cloth, case.part
    if part is None or case.across is None:
        return False
    lost = case.across / 2
    if "turned slid" not in list(_ways(cloth)) or any(way in ("own", "own slid") for way in _ways(cloth)):
        line = about_a_line_along(cloth)
        over = cloth.near_selvedge + case.printed / 2 - first_column(cloth) - (line.across / 2 if line else ZERO)
        lost = min(2 * over % case.across, -2 * over % case.across)
    return lost >= case.printed / 2 - 2 * part.turnings.side


def _cannot_be_centred(case: Case) -> bool:
    part, cloth = case.part, case.cloth
    if part is None or part.middle is None or case.needed > case.printed:
        return False
    low, high = cloth.near_selvedge + case.needed / 2, cloth.width - cloth.far_selvedge - case.needed / 2
    first = first_column(cloth) + part.middle
    if case.across is None:
        return not low <= first <= high
    return floor((high - first) / case.across) < ceil((low - first) / case.across)


def _height(case: Case) -> Fraction:
    part = case.part
    assert part is not None
    return (part.finished + part.turnings.heading + part.turnings.hem) / (1 - case.cloth.shrinkage_across)


def _tops(case: Case) -> list[Between]:
    """Where the top of an upright panel run sideways may lie across so that its partner lies within the print too."""
    cloth, part, high = case.cloth, case.part, _height(case)
    near, far, across = cloth.near_selvedge, cloth.width - cloth.far_selvedge, case.across
    whole = [(near + high, far)] if near + high <= far else []
    if across is None or part is None or not part.mirrored or part.panels is not Panels.PAIR:
        return whole
    # What leaves every top at the far selvedge is taken before what turns a panel.
    way = next((one for one in ("own", "turned", "face down", "turned slid", "own slid") if one in _ways(cloth)), "")
    if way == "own slid":
        half = across / 2
        moved = [(max(near + high, near + high - by), min(far, far - by)) for by in (half, -half)]
        return [(low, top) for low, top in moved if low <= top]
    if not way.startswith("turned"):
        return whole
    line = about_a_line_along(cloth)
    twice = 2 * first_column(cloth) + (line.across if line is not None else ZERO)
    found = []
    for columns in range(-60, 60):
        # Turned, the partner's top lies at 2 x + k W - t, and its foot as much further across as it is high.
        low, top = twice + columns * across - (far - high), twice + columns * across - near
        low, top = max(low, near + high), min(top, far)
        found += [(low, top)] if low <= top else []
    return found


def _row_not_reached(case: Case) -> bool:
    part, across = case.part, case.across
    if part is None or part.depth is None or across is None:
        return False
    below = (part.turnings.heading + part.depth) / (1 - case.cloth.shrinkage_across)
    first = first_column(case.cloth) + below
    return all(floor((high - first) / across) < ceil((low - first) / across) for low, high in _tops(case))


def _own_image(case: Case) -> bool:
    """Whether the right panel of a pair lies upright and is the mirror image all the same."""
    may = list(_ways(case.cloth))
    return "turned" not in may and ("own" in may or ("face down" not in may and "own slid" in may))


def _half_leads(case: Case) -> bool:
    part = case.part
    return part is not None and part.half_at is HalfAt.LEADING and part.mirrored and _own_image(case)


def _half_not_split(case: Case) -> bool:
    """A whole cut in the middle, as many at either hand of it, and a half that is split: 1 1/2, 3 1/2, 5 1/2."""
    part = case.part
    return part is not None and part.half_at is HalfAt.BOTH and (part.cuts or ZERO) % 2 == Fraction(5, 2) % 2


def _too_long(case: Case) -> bool:
    takes, most = case.problem.value("takes"), case.problem.value("most")
    return isinstance(takes, Fraction) and isinstance(most, Fraction) and takes > most == case.cloth.longest_piece


def _drop_without_columns(case: Case) -> bool:
    return case.across is None and bool(case.cloth.drop)


REASONS: dict[Code, Callable[[Case], bool]] = {
    Code.NO_MIRROR_LINE: _no_partner,
    Code.HALF_TURN_ALONE: lambda case: _no_partner(case) and case.cloth.print.half_turn,
    Code.ONE_WAY_NEVER_TURNED: lambda case: _no_partner(case) and case.cloth.print.one_way,
    Code.ONE_WAY_NEVER_TURNED_SIDEWAYS: lambda case: _no_partner(case) and case.cloth.print.one_way,
    Code.NO_MIRROR_WITH_DROP: lambda case: _no_partner(case) and case.cloth.drop not in (0, Fraction(1, 2)),
    Code.GLIDE_WITH_DROP: lambda case: _no_partner(case) and bool(case.cloth.drop),
    Code.GLIDE_NEEDS_ACROSS: lambda case: _no_partner(case) and case.across is None,
    Code.PAIR_NEEDS_ACROSS: lambda case: _drop_without_columns(case) and "own" in _ways(case.cloth),
    Code.FACING_IS_FIXED: _facing_is_fixed,
    Code.FACING_OF_SIDEWAYS: _facing_of_sideways,
    Code.BORDER_CANNOT_LEAD: _border_cannot_lead,
    Code.BORDER_ALONG_THE_FOOT: lambda case: case.cloth.run is Run.SIDEWAYS and case.cloth.border is not None,
    Code.ACROSS_NOT_KNOWN: lambda case: case.across is None and _joined(case),
    Code.DROP_NEEDS_COLUMNS: lambda case: _drop_without_columns(case) and _joined(case),
    Code.NO_ROOM_FOR_SEAMS: _no_room_for_seams,
    Code.NO_COLUMN_TWICE: lambda case: case.across is not None and case.across > case.cloth.width and _joined(case),
    Code.TRIM_LEAVES_TOO_LITTLE: _trim_leaves_too_little,
    Code.WIDER_THAN_ITS_CLOTH: lambda case: case.needed > case.printed,
    Code.WIDE_NEEDS_ACROSS: lambda case: case.needed > case.printed and case.across is None,
    Code.WIDE_CANNOT_BE_JOINED: _cannot_be_joined,
    Code.CANNOT_BE_CENTRED: _cannot_be_centred,
    Code.HALF_NOT_SPLIT: _half_not_split,
    Code.HALF_LEADS_MIRRORED: _half_leads,
    Code.NOT_TALL_ENOUGH: lambda case: _height(case) > case.printed,
    Code.SIDEWAYS_NEEDS_ACROSS: lambda case: case.cloth.run is Run.SIDEWAYS and case.across is None,
    Code.PARTNER_DOES_NOT_FIT: lambda case: not _tops(case),
    Code.ROW_NOT_REACHED: _row_not_reached,
    Code.LEVEL_ROW_NOT_REACHED: _row_not_reached,
    Code.TOO_LONG_FOR_A_PIECE: _too_long,
}
