"""What a job comes to, as plain data: every window worked out, with the steps of the arithmetic. Lengths are inches."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from enum import StrEnum
from fractions import Fraction

from jobs.model.cuts import Cut, Edge, Hand, Way
from jobs.model.job import Job
from jobs.model.problems import JobRefused, Problem
from jobs.model.records import dataclass
from jobs.model.schema import ZERO
from jobs.model.window import Window


@dataclass(frozen=True)
class Seams:
    """The seam lines of a cut joined at both sides, so far from the near and the far selvedge edge.

    ``between`` is how far they lie apart. ``columns`` is by how many the print has moved on from one line to the other;
    0 on plain cloth and where it is not known. ``at_printed_edge``: the repeat across is wider than the print, and the
    cuts are joined where the print ends.
    """

    near: Fraction
    far: Fraction
    between: Fraction
    columns: int
    at_printed_edge: bool = False

    def inset(self, edge: Edge) -> Fraction:
        """How far inside this selvedge edge a cut is seamed."""
        return self.near if edge is Edge.NEAR else self.far

    @property
    def match(self) -> bool:
        """Whether the print runs on across a seam."""
        return self.columns > 0 or self.at_printed_edge


@dataclass(frozen=True)
class FlatWidth:
    """The width of a window's panels laid flat.

    ``overall`` is the track that is covered; ``flat`` that with its fullness, for all panels of the window; ``needed``
    one panel with its side hems.
    """

    overall: Fraction
    flat: Fraction
    panels: int
    needed: Fraction


class Pairing(StrEnum):
    """What makes the right panel of a pair from the left one."""

    SAME = "same"
    TURNED = "turned"
    OWN_IMAGE = "own image"
    FACE_DOWN = "face down"
    OWN_SLID = "own image, slid"
    """Its own image once its rows hang half a repeat further down."""
    TURNED_SLID = "turned, slid"
    """The image once its columns hang half a repeat further to the side."""

    @property
    def way(self) -> Way:
        """How the right panel lies; the left one lies upright."""
        if self in (Pairing.TURNED, Pairing.TURNED_SLID):
            return Way.TURNED
        return Way.FACE_DOWN if self is Pairing.FACE_DOWN else Way.UPRIGHT


@dataclass(frozen=True)
class WayChoice:
    """What makes the right panel of a pair; of a window without a pair, and of two that hang the same way, ``SAME``.

    ``columns_guessed``: the pair hangs on a mirror line along the cloth, and where it lies was not measured. ``first``
    is how the left or the only panel lies: other than upright where a border shall lead.
    """

    pairing: Pairing = Pairing.SAME
    columns_guessed: bool = False
    first: Way = Way.UPRIGHT


@dataclass(frozen=True)
class Trims:
    """What is cut from the leading and from the return edge of a panel before it is hemmed."""

    leading: Fraction = ZERO
    returning: Fraction = ZERO


@dataclass(frozen=True)
class ResolvedWindow:
    """A window worked out, the steps of the arithmetic with it.

    ``width`` is None where the cuts are given. ``choice`` tells how the right panel of a pair lies. ``count`` is the
    whole and half cuts of one panel. ``lost`` of its width each panel loses by ``trims``, so that the pair mirrors;
    ``is_narrow`` tells that panels are strips of the cloth. ``row`` is the distance from the finished top down to a row
    of the print; where it is not ``row_is_asked`` the print is taken as it lies. ``seams`` are the lines at which all
    its cuts are joined; None where the cloth is run sideways, and has none, and of a flat panel that is wider than its
    cloth, which has each where it must lie.
    """

    window: Window
    width: FlatWidth | None
    choice: WayChoice
    cuts: tuple[Cut, ...]
    row: Fraction
    row_is_asked: bool
    count: Fraction = Fraction(1)
    lost: Fraction = ZERO
    trims: tuple[tuple[Hand, Trims], ...] = ()
    is_narrow: bool = False
    seams: Seams | None = None


@dataclass(frozen=True)
class ResolvedJob:
    """A job worked out: its windows and all its cuts, in the order of its windows, left panel before right, leading cut
    first; or its ``problems``, and then neither. ``seams`` are the seam lines of its cloth with the job's allowances.
    ``ways`` are the cuts in several ways to share lengths of cloth, ``cuts`` one of them; ``all_ways`` tells that no
    other could be better. ``shares`` are measures, by name, of the cuts that may lie beside others: no length holds
    more than 1 of any. The first is the part of the width.

    Lengths of cuts are those of cloth as bought, that is before it shrinks.
    """

    job: Job
    seams: Seams
    windows: tuple[ResolvedWindow, ...] = ()
    cuts: tuple[Cut, ...] = ()
    problems: tuple[Problem, ...] = ()
    ways: tuple[tuple[Cut, ...], ...] = ()
    all_ways: bool = True
    shares: tuple[Mapping[str, Fraction], ...] = ()

    def sharing(self, cuts: tuple[Cut, ...]) -> ResolvedJob:
        """The same with the cuts in one of the ways to share lengths."""
        if cuts == self.cuts:
            return self
        by_id = {cut.id: cut for cut in cuts}
        windows = tuple(replace(one, cuts=tuple(by_id[cut.id] for cut in one.cuts)) for one in self.windows)
        return replace(self, windows=windows, cuts=cuts)

    def sound(self) -> ResolvedJob:
        """The same. Raises JobRefused with every problem found."""
        if self.problems:
            raise JobRefused(self.problems)
        return self
