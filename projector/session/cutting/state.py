"""The session at the table as one frozen value: which stop is lit, what is cut, how the light was moved."""

from __future__ import annotations

from dataclasses import field, replace
from fractions import Fraction
from functools import cached_property

from calibration.moved import Move
from calibration.registration.fit import PrintFit
from calibration.registration.lattice import PrintLattice
from calibration.table import Table
from jobs.model.cuts import Cut, Placement
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from projector.light.field import on_white
from projector.scene.marks import Point
from projector.session.cutting.doubts import Doubt, doubt_of, raised_table
from projector.session.cutting.light import RUNS, Layer, Light, Motion, light_on
from projector.session.cutting.orientation import Confirmed, Question, is_confirmed, questions_of
from projector.session.cutting.pages import Page
from projector.session.cutting.registration.marking import Marking, Registered, last_on, lattices_of
from projector.session.cutting.startup_check import StartupCheck
from projector.session.keys import DEFAULT_KEYS, Keys
from projector.session.layout import words_area

MOST_STEPS = 200
"""Older changes of the light than so many are not taken back any more."""


@dataclass(frozen=True)
class Setup:
    """What a session is about and by what it lights; only a correction of a moved light changes it.

    ``table`` is the calibration for light on the cloth, ``bare`` the one for the table itself, ``checks`` whether its
    marks are there to be met. ``area`` is the convex part of the table where words may stand, inches, ``lit_width_in``
    how far across the light reaches (None: over all cloth), ``doubt`` how far off a line may be (None: not doubted).
    """

    plan: Plan
    table: Table
    area: tuple[Point, ...]
    keys: Keys = field(default_factory=lambda: DEFAULT_KEYS)
    lit_width_in: float | None = None
    doubt: Doubt | None = None
    bare: Table | None = None

    @cached_property
    def middle(self) -> Point:
        """The point the light is turned about: the mean of the corners of the part of the table that is surely lit."""
        if not self.area:
            return 0.0, 0.0
        return sum(x for x, _ in self.area) / len(self.area), sum(y for _, y in self.area) / len(self.area)

    @cached_property
    def lattices(self) -> tuple[PrintLattice | None, ...]:
        """The print of each piece; None where there is none to register by."""
        return lattices_of(self.plan)

    @cached_property
    def on_white(self) -> bool:
        """Whether for a photograph codes on a white field are lit over this cloth, unless the person changes it."""
        cloth = self.plan.job.cloth
        return on_white(cloth.colour, cloth.motif_colours, light_on(self.plan.job))

    def corrected(self, move: Move) -> Setup:
        """The light put right, on the bare table and on the cloth."""
        bare = move.mended(self.bare or self.table)
        return setup_of(self.plan, raised_table(bare, self.plan.job.cloth), self.keys, self.lit_width_in, bare)


def setup_of(
    plan: Plan,
    table: Table,
    keys: Keys = DEFAULT_KEYS,
    lit_width_in: float | None = None,
    bare: Table | None = None,
) -> Setup:
    """The setup of a calibrated table: words stand where its marks are, lines are doubted as far as it may be wrong.

    ``bare`` is the calibration of the table itself where that is to be checked by its marks.
    """
    doubt = doubt_of(table, float(plan.job.tolerance), plan.job.unit.value)
    return Setup(plan, table, words_area(table), keys, lit_width_in, doubt, bare)


@dataclass(frozen=True)
class Moment:
    """How many ticks, registrations and confirmed ways there were: it orders what is taken back, the last first."""

    ticks: int
    registered: int
    ways: int

    def is_not_before(self, other: Moment) -> bool:
        """Whether nothing was ticked, registered or confirmed since."""
        return self.ticks >= other.ticks and self.registered >= other.registered and self.ways >= other.ways


@dataclass(frozen=True)
class ToMatch:
    """The panel of the cut ``by``, photographed, says of its ``mate``: cut so many 64ths of an inch further right on
    its print than planned, it will match; 0: as planned."""

    mate: str
    by: str
    right_64ths: int


@dataclass(frozen=True)
class LightStep:
    """One change of the light, or a run of like ones: what it was called, the light ``before`` it, and when."""

    what: str
    before: Light
    moment: Moment


@dataclass(frozen=True)
class Session:
    """Everything the light depends on.

    ``ticked_at`` tells, for each done cut, the stop at which it was ticked, ``cut_by`` the light it was cut by (None:
    not known, or no print). ``just_ticked`` is true until the next action, ``fresh_tick`` until one other than back.
    ``check`` is the one whether anything has moved, if there is one. ``registered`` tells how the cloth was registered,
    the first ``registered_before`` times in an earlier session; ``marking`` the points in hand. ``ask_again``: one
    point is still to be asked for. ``lies_at`` is the stop for which the cloth lies now, as far as the person has said
    (None: not known): until it is the lit one the cloth is to be pulled. ``may_replan`` lets the person have the plan
    made anew while nothing is cut; ``replanned`` is then the repeat along that was measured, and the session has ended
    for it; ``made_anew``: the plan was made so before, and ``as_before``: the session has ended because that was taken
    back. ``steps`` are changes of the light that can be taken back. ``ways`` tells of which turned panels it was
    confirmed how they lie, ``answered`` how many questions of the one in hand are. ``to_match`` is what photographs of
    panels told of their mates. ``other_pattern``: the person lights the other pattern for photographs than the one
    chosen for the cloth. ``status`` is what the last action
    did, in words, until the next one.
    """

    setup: Setup
    at: int = 0
    done: tuple[str, ...] = ()
    ticked_at: tuple[int, ...] = ()
    cut_by: tuple[PrintFit | None, ...] = ()
    page: Page = Page.CAUTIONS
    cautions_read: bool = False
    dark: bool = False
    light: Light = field(default_factory=Light)
    trouble: str = ""
    just_ticked: bool = False
    fresh_tick: bool = False
    check: StartupCheck | None = None
    registered: tuple[Registered, ...] = ()
    registered_before: int = 0
    marking: Marking | None = None
    ask_again: bool = False
    lies_at: int | None = 0
    may_replan: bool = False
    replanned: Fraction | None = None
    made_anew: bool = False
    as_before: bool = False
    steps: tuple[LightStep, ...] = ()
    ways: tuple[Confirmed, ...] = ()
    answered: int = 0
    to_match: tuple[ToMatch, ...] = ()
    other_pattern: bool = False
    status: str = ""

    @property
    def stops(self) -> tuple[Stop, ...]:
        """The stops of the plan."""
        return self.setup.plan.stops

    @property
    def stop(self) -> Stop:
        """The stop that is lit."""
        return self.stops[self.at]

    @property
    def placement(self) -> Placement:
        """The cut that the lit stop belongs to, with its place."""
        return self.stop.placement

    @property
    def moment(self) -> Moment:
        """How many ticks, registrations and confirmed ways there are."""
        return Moment(len(self.done), len(self.registered), len(self.ways))

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
    def lattice(self) -> PrintLattice | None:
        """The print of the lit stop's piece; None where there is none to register by."""
        return self.setup.lattices[self.placement.piece - 1]

    @property
    def fit(self) -> PrintFit | None:
        """The fit that the lit stop follows: the last one of its piece, pulled to it; None where there is none."""
        last = last_on(self.registered, self.placement.piece)
        return None if last is None else last.fit_at(self.stop.cloth_at_left)

    @property
    def fit_by_hand(self) -> PrintFit | None:
        """The light of the lit stop as a fit, moved by hand as it is; None where the cloth has no print."""
        if self.lattice is None:
            return None
        fit, motion = self.fit or PrintFit.plain(self.lattice, float(self.stop.cloth_at_left)), self.light.motion
        if motion.is_still:
            return fit
        (a, b, c), (d, e, f) = motion.affine(self.setup.middle)
        x, y = fit.shift
        shift = (a * x + b * y + c, d * x + e * y + f)
        return replace(fit, shift=shift, turn_deg=fit.turn_deg + float(motion.turn_deg))

    @property
    def is_registered_here(self) -> bool:
        """Whether the cloth was registered in this session as it lies at the lit stop."""
        last = last_on(self.registered[self.registered_before :], self.placement.piece)
        return last is not None and last.is_for(self.stop)

    @property
    def cut_is_done(self) -> bool:
        """Whether the cut of the lit stop is ticked; it is then shown hatched."""
        return self.placement.cut.id in self.done

    @property
    def cut_lines_are_dark(self) -> bool:
        """Whether the person has hidden the cut lines."""
        return Layer.CUT_LINES in self.light.hidden

    def cut_of(self, cut: str) -> Cut:
        """The cut with this id."""
        return self.stops[first_stop_of(self.stops, cut)].placement.cut

    @property
    def may_untick(self) -> bool:
        """Whether back asks to take the tick back: it was made just now, and its cut is looked back at."""
        return self.fresh_tick and self.cut_is_done and self.done[-1] == self.placement.cut.id

    @property
    def placements(self) -> tuple[Placement, ...]:
        """The cuts in the order of their stops."""
        return tuple({stop.placement.cut.id: stop.placement for stop in self.stops}.values())

    @property
    def left_to_cut(self) -> tuple[Placement, ...]:
        """The cuts not yet ticked, in the order of their stops."""
        return tuple(placed for placed in self.placements if placed.cut.id not in self.done)

    @property
    def is_last_stop_of_cut(self) -> bool:
        """Whether no later stop belongs to the same cut."""
        return self.at == last_stop_of(self.stops, self.placement.cut.id)

    @property
    def pulled_from(self) -> Stop | None:
        """The stop for which the cloth lies, where it is to be pulled along the same piece for the lit one."""
        before = None if self.lies_at is None else self.stops[self.lies_at]
        same = before is not None and before.placement.piece == self.placement.piece
        return before if same and self.cloth_is_to_move else None

    @property
    def cloth_is_to_move(self) -> bool:
        """Whether the cloth is still to be pulled, or a piece laid, for the lit stop. What is cut stays where it is."""
        if self.cut_is_done:
            return False
        before = None if self.lies_at is None else self.stops[self.lies_at]
        here = (self.placement.piece, self.stop.cloth_at_left)
        return before is None or (before.placement.piece, before.cloth_at_left) != here

    @property
    def moved_on(self) -> Session:
        """The same for somebody who goes on from the lit stop: the cloth lay for it, unless it was cut before."""
        return self if self.cut_is_done else replace(self, lies_at=self.at)

    @property
    def is_expected(self) -> bool:
        """Whether the lit cut is the one the plan cuts next."""
        left = self.left_to_cut
        return bool(left) and left[0].cut.id == self.placement.cut.id

    def with_light(self, light: Light, what: str) -> Session:
        """The same with the light changed, which can be taken back; a run of like changes is one step."""
        if light == self.light:
            return self
        last = self.steps[-1] if self.steps else None
        runs_on = last is not None and what in RUNS and (last.what, last.moment) == (what, self.moment)
        steps = self.steps if runs_on else (*self.steps, LightStep(what, self.light, self.moment))[-MOST_STEPS:]
        return replace(self, light=light, steps=steps)

    def with_motion(self, motion: Motion) -> Session:
        """The same with the light moved by hand so, which is no step of its own."""
        return replace(self, light=replace(self.light, motion=motion))


def first_stop_of(stops: tuple[Stop, ...], cut: str) -> int:
    """Index of the first stop of a cut."""
    return next(i for i, stop in enumerate(stops) if stop.placement.cut.id == cut)


def last_stop_of(stops: tuple[Stop, ...], cut: str) -> int:
    """Index of the last stop of a cut."""
    return max(i for i, stop in enumerate(stops) if stop.placement.cut.id == cut)
