"""What a session lights: the scene of its stop moved by hand, or a page of words. Pure.

What is lit comes in two layers: the stop's own scene, moved as a whole, and over it what changes with the keys. The
scene is laid out, and laid on the print as it was registered, once for each stop and change, not with every key.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from calibration.registration.fit import PrintFit
from jobs.model.cloth import Cloth
from jobs.model.cuts import Placement
from jobs.model.plan import Plan, Stop
from jobs.model.records import dataclass
from projector.scene.boxes import Box, box_of_stroke
from projector.scene.doubtful import with_doubt
from projector.scene.identity import ByIdentity
from projector.scene.lettering import box_of
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import GAP_IN, Kind, Mark, Point, Scene, Stroke, Text
from projector.scene.motifs import drawn_motifs
from projector.scene.moved import NOTHING_UNDER, Affine, MovedScene, fit_to_follow, followed
from projector.scene.stop_scene import Layers, scene_of_stop
from projector.session.actions import Action
from projector.session.cutting.doubts import Doubt
from projector.session.cutting.legend import legend_lit
from projector.session.cutting.orientation import orientation_lit
from projector.session.cutting.pages import Page
from projector.session.cutting.registration.marking import Registered
from projector.session.cutting.registration.scene import (
    ARROW_IN,
    first_of_pair,
    ghost,
    marking_lit,
    pull_arrow,
    row_in_question,
)
from projector.session.cutting.startup_check import startup_check_lit
from projector.session.cutting.state import Session
from projector.session.cutting.text import help_lines, pull_text, remote_help, text_of
from projector.session.keys import spoken
from projector.session.layout import Lines, columns, framed, note, words
from projector.words.shared_length import SELVEDGE_FIRST, is_cut_off_first

PULL_IN = 1.6
TICKED_IN = 1.2
"""What was ticked and what comes next: smaller than what is to be done."""
ARROW = 2.2
"""Room for the arrow of a pull, in cap heights below the last line of its words."""
DARK_IN = 1.2
"""Letters that say that cut lines are dark: nobody may take a table without them for one where nothing is to be cut."""
CLEAR_IN = 0.5
"""Dark kept between words and a cut line."""
CACHED = 32
"""Scenes cached: the stops on both sides of this one, with a few layers hidden."""
CUTS = (Kind.CUT, Kind.CUT_DOUBTFUL)


def lit(session: Session) -> tuple[Scene, MovedScene]:
    """Everything to light now, in table inches, and the scene under it; nothing in the dark."""
    if session.page is Page.STOP and not session.dark:
        return _at_a_stop(session)
    if session.page is Page.MARKING and session.marking is not None and not session.dark:
        shown = _only(ByIdentity(_where_the_cloth_lies(session)), (*CUTS, Kind.CROSSING))
        return marking_lit(session.marking, text_of(session), session.setup.area), MovedScene(shown)
    return page_lit(session), NOTHING_UNDER


def page_lit(session: Session) -> Scene:
    """A page of words, with the few lines that belong to it."""
    setup, said = session.setup, text_of(session)
    match session.page:
        case page if session.dark or page is Page.LEFT:
            return Scene()
        case Page.ORIENTATION:
            pull = tuple((text, 1.0) for text in pull_text(session)[:1])
            question = session.questions[session.answered]
            return orientation_lit(session.placement.cut, question, (*pull, *said), setup.area)
        case Page.IS_IT_CUT:
            under = stop_lit(replace(session, light=replace(session.light, hidden=frozenset())))
            edges = Scene(MovedScene(_only(ByIdentity(under.scene), CUTS), under.motion).marks)
            return Scene((*edges.marks, *framed(said, setup.area, tuple(_boxes(edges))).marks))
        case Page.STARTUP_CHECK | Page.MOVING | Page.MOVED if session.check is not None:
            return startup_check_lit(session.page, session.check, setup.area, said)
        case Page.LEAVE | Page.PLAN_AS_BEFORE | Page.NOT_CUT:
            return framed(said, setup.area)
        case Page.REGISTRATION if session.marking is not None:
            row = row_in_question(session.marking, setup.area)
            return Scene((*row.marks, *words(said, setup.area, tuple(_boxes(row))).marks))
        case Page.LEGEND:
            return legend_lit(setup.plan.job, setup.area)
        case Page.HELP:
            return columns(help_lines(setup.keys), remote_help(setup.keys), setup.area, "Keys")
    return words(said, setup.area)


def stop_lit(session: Session) -> MovedScene:
    """The stop where the cloth lies, without what is hidden, moved as the person moved the light."""
    setup, motion = session.setup, session.light.motion
    affine = None if motion.is_still else motion.affine(setup.middle)
    scene = _where_the_cloth_lies(session)
    return MovedScene(scene if setup.doubt is None else _doubted(scene, setup.doubt, affine), affine)


def planned(session: Session, layers: Layers) -> Scene:
    """The scene of the stop as planned."""
    setup = session.setup
    key = (ByIdentity(setup.plan), ByIdentity(session.stop), frozenset(session.done), setup.lit_width_in, layers)
    return _planned(*key)


@lru_cache(maxsize=CACHED)
def _planned(
    plan: ByIdentity[Plan], stop: ByIdentity[Stop], done: frozenset[str], lit_width_in: float | None, layers: Layers
) -> Scene:
    return scene_of_stop(plan.value, stop.value, done=done, lit_width_in=lit_width_in, layers=layers)


def _where_the_cloth_lies(session: Session) -> Scene:
    """The scene laid on the registration, with the rows of the first panel when this is the second of a pair."""
    scene, setup, placed = planned(session, session.light.layers), session.setup, session.placement
    fit = session.marking.fit if session.marking else session.fit
    if fit is None:
        return scene
    first = first_of_pair(placed, session.registered, setup.plan.placements)
    if first is not None and (first[1].cut.id not in session.done or placed.cut.id in session.done):
        first = None
    xs = [x for x, _ in setup.area]
    pair = None if first is None else _Pair(*first, placed, min(xs), max(xs))
    return _laid(ByIdentity(scene), fit, ByIdentity(setup.plan.job.cloth), float(session.stop.cloth_at_left), pair)


@dataclass(frozen=True)
class _Pair:
    """The first panel of a pair as it was registered, the second one, and from where to where its rows are lit."""

    registered: Registered
    first: Placement
    second: Placement
    low: float
    high: float

    def reaches(self, bar: Stroke) -> bool:
        """Whether a bar begins where words may stand, along."""
        return self.low <= bar.points[0][0] <= self.high


@lru_cache(maxsize=CACHED)
def _laid(
    planned: ByIdentity[Scene], fit: PrintFit, cloth: ByIdentity[Cloth], at_left: float, pair: _Pair | None
) -> Scene:
    laid = followed(planned.value, fit_to_follow(fit, cloth.value.follow), at_left)
    if pair is None:
        return laid
    bars = (bar for bar in ghost((pair.registered, pair.first), pair.second, fit, cloth.value).marks)
    return Scene((*laid.marks, *(bar for bar in bars if isinstance(bar, Stroke) and pair.reaches(bar))))


@lru_cache(maxsize=CACHED)
def _only(scene: ByIdentity[Scene], kinds: tuple[Kind, ...]) -> Scene:
    """The marks of these kinds alone, the same scene for the same."""
    return Scene(scene.value.of(*kinds))


@dataclass(frozen=True)
class _Stop:
    """What is lit at a stop so far: its scene, words over it, and the boxes that further words keep clear of."""

    under: MovedScene
    over: tuple[Mark, ...]
    taken: tuple[Box, ...]

    def saying(self, said: Scene) -> _Stop:
        """With words over it: no row, fold or trim runs through them."""
        boxes = tuple(box_of(mark) for mark in said.marks if isinstance(mark, Text))
        rooms = (*self.under.rooms, *(box.grown(GAP_IN) for box in boxes))
        return _Stop(replace(self.under, rooms=rooms), (*self.over, *said.marks), (*self.taken, *boxes))


def _at_a_stop(session: Session) -> tuple[Scene, MovedScene]:
    under = stop_lit(session)
    shown = _with_notes(_with_pull(_Stop(under, (), _taken(under, session)), session), session)
    return Scene(shown.over), shown.under


def _taken(under: MovedScene, session: Session) -> tuple[Box, ...]:
    """What words keep clear of. While the light is moved by small steps it stays the same, and so do the words."""
    fixed, motion = _fixed(ByIdentity(under.scene)), session.light.motion
    if motion.turn_deg:
        return tuple(_boxes(MovedScene(fixed, under.motion)))
    further = math.ceil(2 * max(abs(motion.dx), abs(motion.dy))) / 2
    return tuple(box.grown(further) for box in _boxes(fixed))


@lru_cache(maxsize=CACHED)
def _fixed(scene: ByIdentity[Scene]) -> Scene:
    """Letters and cut lines: what words keep clear of."""
    return Scene(tuple(mark for mark in scene.value.marks if isinstance(mark, Text) or mark.kind in CUTS))


def _with_pull(shown: _Stop, session: Session) -> _Stop:
    """What is to be pulled or laid, and an arrow, until the person says that it is done or moves on."""
    keys, area = session.setup.keys, session.setup.area
    ticked = tuple((part, 1.0) for part in session.status.split(". ")) if session.just_ticked else ()
    text = pull_text(session)
    if not text and not ticked:
        return _with_doubt_of_pull(shown, session)
    motifs = _motifs(session)
    if not text:
        return shown.saying(words(ticked, area, shown.taken, tallest_in=TICKED_IN, motifs=motifs))
    done = (f"{spoken(Action.PULLED, keys)}: the cloth lies so", 0.75)
    lines = (*((part, 1.0 if number == 0 else 0.75) for number, part in enumerate(text)), done)
    said = words(lines, area, shown.taken, tallest_in=PULL_IN, below=ARROW, motifs=motifs)
    if not said.marks:
        # Where nothing is free it stands across what is lit, rather than not at all.
        said = words(lines, area, tallest_in=PULL_IN, below=ARROW)
    shown, before = shown.saying(said), session.pulled_from
    if before is not None:
        letters = [mark for mark in said.marks if isinstance(mark, Text)]
        under = (letters[0].at[0], min(mark.at[1] for mark in letters) - ARROW * letters[0].height)
        to_left = session.stop.cloth_at_left > before.cloth_at_left
        arrow = pull_arrow(under, to_left, ARROW_IN * letters[0].height / PULL_IN)
        room = tuple(box_of_stroke(mark).grown(CLEAR_IN) for mark in arrow.marks if isinstance(mark, Stroke))
        shown = replace(shown, over=(*shown.over, *arrow.marks), taken=(*shown.taken, *room))
    return shown.saying(words(ticked, area, shown.taken, tallest_in=TICKED_IN, motifs=motifs)) if ticked else shown


def _with_doubt_of_pull(shown: _Stop, session: Session) -> _Stop:
    """Beside a stop to which the cloth was pulled since it was registered, that this is so."""
    if session.fit is None or session.is_registered_here or session.cut_is_done:
        return shown
    key = spoken(Action.LAY, session.setup.keys)
    unsure = f"the cloth was pulled since it was laid: {key} confirms one motif point"
    return shown.saying(note(unsure, session.setup.area, _cloth(session), shown.taken))


def _doubted(scene: Scene, doubt: Doubt, affine: Affine | None) -> Scene:
    """The scene with its doubtful cut lines, judged where the moved light really falls."""

    def error_of(start: Point, end: Point) -> float:
        return doubt.error_of(_through(start, affine), _through(end, affine))

    return with_doubt(scene, error_of, doubt.tolerance_in, doubt.say, doubt.is_lit)


def _through(point: Point, affine: Affine | None) -> Point:
    if affine is None:
        return point
    (a, b, c), (d, e, f) = affine
    return a * point[0] + b * point[1] + c, d * point[0] + e * point[1] + f


def _with_notes(shown: _Stop, session: Session) -> _Stop:
    """Beside the scene what nobody may forget and what the last key did."""
    keys, area = session.setup.keys, session.setup.area
    if session.cut_lines_are_dark and not session.cut_is_done:
        line: Lines = ((f"CUT LINES ARE DARK: {spoken(Action.CUT_LINES, keys)} lights them", 1.0),)
        said = words(line, area, shown.taken, DARK_IN, motifs=_motifs(session))
        # Where nothing is free it stands across what is lit, rather than not at all.
        shown = shown.saying(said if said.marks else words(line, area, (), DARK_IN))
    if is_cut_off_first(session.placement, session.setup.plan, session.done):
        said = words(((SELVEDGE_FIRST, 1.0),), area, shown.taken, tallest_in=TICKED_IN, motifs=_motifs(session))
        shown = shown.saying(said)
    for text in _notes(session):
        shown = shown.saying(note(text, area, _cloth(session), shown.taken))
    return shown


def _notes(session: Session) -> Iterator[str]:
    """The light moved by hand, what the last key did."""
    keys, motion = session.setup.keys, session.light.motion
    if not motion.is_still:
        moved_by = motion.in_words(session.setup.plan.job.unit)
        yield f"light moved: {moved_by} ({spoken(Action.LIGHT_BACK, keys)} puts it back)"
    if session.status and not session.just_ticked:
        yield session.status
    if session.may_untick:
        yield f"not cut after all? {spoken(Action.PREVIOUS_STOP, keys)} again asks"


def _cloth(session: Session) -> Box:
    """Room of the cloth with its cut line ticks, wherever the light was moved: it is grown by the shift."""
    motion = session.light.motion
    shift = float(max(abs(motion.dx), abs(motion.dy)))
    return lit_stop(session.setup.plan, session.stop, session.setup.lit_width_in).light.grown(CLEAR_IN + shift)


def _motifs(session: Session) -> tuple[Box, ...]:
    """Where motifs are taken to lie as planned; before a pull they lie in the same rows along the piece."""
    setup = session.setup
    return _motif_boxes(ByIdentity(setup.plan), ByIdentity(session.stop), setup.lit_width_in)


@lru_cache(maxsize=CACHED)
def _motif_boxes(plan: ByIdentity[Plan], stop: ByIdentity[Stop], lit_width_in: float | None) -> tuple[Box, ...]:
    return drawn_motifs(lit_stop(plan.value, stop.value, lit_width_in))


def _boxes(scene: Scene | MovedScene) -> Iterator[Box]:
    """Upright boxes around letters and cut lines, with some dark around the lines."""
    for mark in scene.marks:
        if isinstance(mark, Text):
            yield box_of(mark)
        elif isinstance(mark, Stroke) and mark.kind in CUTS:
            yield box_of_stroke(mark).grown(CLEAR_IN)
