"""The session at the table as one frozen value: which stop is lit, what is cut, how the light was moved."""

from __future__ import annotations

from dataclasses import dataclass, field, replace
from fractions import Fraction

from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from jobs.model.cuts import Cut, Placement
from jobs.model.plan import Stop
from projector.scene.marks import Point
from projector.session.state.confirmed import Confirmed, Question, is_confirmed, questions_of
from projector.session.state.events import Corrected, Done, Event, LaidEvent, Left, Replanned, Undone, UnlaidEvent
from projector.session.state.laid import Laid, fit_at, last_on
from projector.session.state.marking import Marking
from projector.session.state.meeting import Meeting
from projector.session.state.motion import Motion
from projector.session.state.pages import Layer, Page
from projector.session.state.steps import Light, LightStep, Moment

__all__ = [
    "Corrected",
    "Done",
    "Event",
    "LaidEvent",
    "Layer",
    "Left",
    "Page",
    "Replanned",
    "Session",
    "Undone",
    "UnlaidEvent",
    "first_stop_of",
    "last_stop_of",
]


@dataclass(frozen=True)
class Session:
    """Everything the light depends on.

    ``ticked_at`` tells, for each done cut, the stop at which it was ticked, ``cut_by`` the light it was cut by (None:
    not known, or no print). ``just_ticked`` is true until the next key, ``fresh_tick`` until one other than back;
    ``on_bench``: the bench screen stands in place of the light; ``width_step`` counts presses of wider (positive) and
    thinner; ``colour`` counts presses of the colour key. ``meeting`` is the check whether anything has moved, if
    there is one. ``lattices`` are those of the pieces (None: no print to lay by), ``layings`` how the cloth was laid,
    the first ``laid_before`` of them in an earlier session; ``marking`` the points in hand. ``ask_again``: one point
    is still to be asked for. ``lies_at`` is the stop for which the cloth lies now, as far as the person has said
    (None: not known): until it is the lit one the cloth is to be pulled. ``about`` is the place that the light is
    turned about by hand, ``area`` the convex part of the table that is surely lit. ``may_replan`` lets the person
    have the plan made anew while nothing is cut; ``replanned`` is then the repeat along that was measured, and the
    session has ended for it; ``made_anew``: the plan was made so before, and ``as_before``: the session has ended
    because that was taken back. ``steps`` are changes of the light that can be taken back. ``ways`` tells of which
    turned panels it was confirmed how they lie, ``answered`` how many questions of the one in hand are. ``told`` is
    what the last key did, in words, until the next one.
    """

    stops: tuple[Stop, ...]
    at: int = 0
    done: tuple[str, ...] = ()
    ticked_at: tuple[int, ...] = ()
    cut_by: tuple[PrintFit | None, ...] = ()
    page: Page = Page.CAUTIONS
    cautions_read: bool = False
    dark: bool = False
    on_bench: bool = False
    motion: Motion = field(default_factory=Motion)
    hidden: frozenset[Layer] = frozenset()
    width_step: int = 0
    colour: int = 0
    trouble: str = ""
    just_ticked: bool = False
    fresh_tick: bool = False
    meeting: Meeting | None = None
    lattices: tuple[PrintLattice | None, ...] = ()
    layings: tuple[Laid, ...] = ()
    laid_before: int = 0
    marking: Marking | None = None
    ask_again: bool = False
    lies_at: int | None = 0
    about: tuple[float, float] = (0.0, 0.0)
    area: tuple[Point, ...] = ()
    may_replan: bool = False
    replanned: Fraction | None = None
    made_anew: bool = False
    as_before: bool = False
    steps: tuple[LightStep, ...] = ()
    ways: tuple[Confirmed, ...] = ()
    answered: int = 0
    told: str = ""

    @property
    def light(self) -> Light:
        """How the person has set the light."""
        return Light(self.motion, self.hidden, self.width_step, self.colour)

    @property
    def moment(self) -> Moment:
        """How many ticks, layings and confirmed ways there are."""
        return Moment(len(self.done), len(self.layings), len(self.ways))

    @property
    def questions(self) -> tuple[Question, ...]:
        """What there is to confirm about the way of the lit cut's panel."""
        return questions_of(self.placement.cut)

    @property
    def way_is_open(self) -> bool:
        """Whether the lit cut may not be cut yet, because nobody has confirmed which way its panel lies."""
        cuts = (stop.placement.cut for stop in self.stops)
        return not self.cut_is_done and not is_confirmed(self.placement.cut, self.ways, cuts)

    @property
    def fit(self) -> PrintFit | None:
        """The fit that the lit stop follows; None where its piece was never laid."""
        return fit_at(self.layings, self.stop)

    @property
    def is_laid_here(self) -> bool:
        """Whether the cloth was laid in this session as it lies at the lit stop."""
        laid = last_on(self.layings[self.laid_before :], self.placement.piece)
        return laid is not None and laid.is_for(self.stop)

    @property
    def stop(self) -> Stop:
        """The stop that is lit."""
        return self.stops[self.at]

    @property
    def placement(self) -> Placement:
        """The cut that the lit stop belongs to, with its place."""
        return self.stop.placement

    @property
    def cut_is_done(self) -> bool:
        """Whether the cut of the lit stop is ticked; it is then shown hatched."""
        return self.placement.cut.id in self.done

    def cut_of(self, cut: str) -> Cut:
        """The cut with this id."""
        return self.stops[first_stop_of(self.stops, cut)].placement.cut

    @property
    def may_untick(self) -> bool:
        """Whether back asks to take the tick back: it was made just now, and its cut is looked back at."""
        return self.fresh_tick and self.cut_is_done and self.done[-1] == self.placement.cut.id

    @property
    def left_to_cut(self) -> tuple[Placement, ...]:
        """The cuts not yet ticked, in the order of their stops."""
        placements = {stop.placement.cut.id: stop.placement for stop in self.stops}
        return tuple(placement for cut, placement in placements.items() if cut not in self.done)

    @property
    def is_last_stop_of_cut(self) -> bool:
        """Whether no later stop belongs to the same cut."""
        return self.at == last_stop_of(self.stops, self.placement.cut.id)

    @property
    def cloth_is_to_move(self) -> bool:
        """Whether the cloth is still to be pulled, or a piece laid, for the lit stop. What is cut stays where it is."""
        if self.cut_is_done or self.lies_at == self.at:
            return False
        before = None if self.lies_at is None else self.stops[self.lies_at]
        here = (self.placement.piece, self.stop.cloth_at_left)
        return before is None or (before.placement.piece, before.cloth_at_left) != here

    @property
    def moved_on(self) -> Session:
        """The same for somebody who goes on from the lit stop: the cloth lay for it, unless it was cut before."""
        return self if self.cut_is_done else replace(self, lies_at=self.at)

    @property
    def shows_last_edge(self) -> bool:
        """Whether the lit stop shows the edge at which the blade frees the cut: the one further along the piece."""
        return self.stop.shows_last_edge

    @property
    def is_expected(self) -> bool:
        """Whether the lit cut is the one the plan cuts next."""
        left = self.left_to_cut
        return bool(left) and left[0].cut.id == self.placement.cut.id

    @property
    def width_factor(self) -> float:
        """How much wider than usual lines are lit."""
        return float(1.2**self.width_step)


def first_stop_of(stops: tuple[Stop, ...], cut: str) -> int:
    """Index of the first stop of a cut."""
    return next(i for i, stop in enumerate(stops) if stop.placement.cut.id == cut)


def last_stop_of(stops: tuple[Stop, ...], cut: str) -> int:
    """Index of the last stop of a cut."""
    return max(i for i, stop in enumerate(stops) if stop.placement.cut.id == cut)
