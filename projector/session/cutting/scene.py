"""What a session lights: the scene of its stop moved by hand, or a page of words. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from functools import lru_cache

from jobs.model.plan import Plan, Stop
from projector.scene.boxes import Box, box_of_stroke, parted
from projector.scene.doubtful import with_doubt
from projector.scene.identity import ByIdentity
from projector.scene.lettering import box_of
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import GAP_IN, Kind, Point, Scene, Stroke, Text
from projector.scene.moved import Affine, fit_to_follow, followed, moved
from projector.scene.stop_scene import Layers, scene_of_stop
from projector.session.actions import Action
from projector.session.cutting.doubts import Doubt
from projector.session.cutting.legend import legend_lit
from projector.session.cutting.orientation import orientation_lit
from projector.session.cutting.pages import Page
from projector.session.cutting.registration_scene import first_of_pair, ghost, marking_lit, pull_arrow
from projector.session.cutting.startup_check import startup_check_lit
from projector.session.cutting.state import Session
from projector.session.cutting.text import help_lines, pull_text, remote_help, text_of
from projector.session.keys import spoken
from projector.session.layout import Lines, columns, framed, note, words

PULL_IN = 1.6
ARROW = 2.2
"""Room for the arrow of a pull, in cap heights below the last line of its words."""
DARK_IN = 1.2
"""Letters that say that cut lines are dark: nobody may take a table without them for one where nothing is to be cut."""
CLEAR_IN = 0.5
"""Dark kept between words and a cut line."""
CACHED = 32
"""Scenes cached: the stops on both sides of this one, with a few layers hidden."""


def lit(session: Session) -> Scene:
    """Everything to light now, in table inches; nothing in the dark."""
    setup, said = session.setup, text_of(session)
    match session.page:
        case page if session.dark or page is Page.LEFT:
            return Scene()
        case Page.STOP:
            return _with_pull(_with_notes(stop_lit(session), session), session)
        case Page.ORIENTATION:
            pull = tuple((text, 1.0) for text in pull_text(session)[:1])
            question = session.questions[session.answered]
            return orientation_lit(session.placement.cut, question, (*pull, *said), setup.area)
        case Page.IS_IT_CUT:
            shown = stop_lit(replace(session, light=replace(session.light, hidden=frozenset())))
            edges = Scene(shown.of(Kind.CUT, Kind.CUT_DOUBTFUL))
            return Scene((*edges.marks, *framed(said, setup.area, tuple(_boxes(edges))).marks))
        case Page.STARTUP_CHECK | Page.MOVING | Page.MOVED if session.check is not None:
            return startup_check_lit(session.page, session.check, setup.area, said)
        case Page.MARKING if session.marking is not None:
            return marking_lit(session.marking, stop_lit(session), said, setup.area)
        case Page.LEAVE | Page.PLAN_AS_BEFORE | Page.NOT_CUT:
            return framed(said, setup.area)
        case Page.LEGEND:
            return legend_lit(setup.plan.job, setup.area)
        case Page.HELP:
            return columns(help_lines(setup.keys), remote_help(setup.keys), setup.area, "Keys")
    return words(said, setup.area)


def stop_lit(session: Session) -> Scene:
    """The stop where the cloth lies, without what is hidden, moved as the person moved the light."""
    setup, motion = session.setup, session.light.motion
    scene = _where_the_cloth_lies(session)
    if session.marking is not None:
        return scene
    affine = None if motion.is_still else motion.affine(setup.middle)
    if setup.doubt is not None:
        scene = _doubted(scene, setup.doubt, affine)
    return scene if affine is None else moved(scene, affine)


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
    scene = planned(session, session.light.layers)
    fit = session.marking.fit if session.marking else session.fit
    if fit is None:
        return scene
    setup, placed = session.setup, session.placement
    follow = setup.plan.job.cloth.follow
    laid = followed(scene, fit_to_follow(fit, follow), float(session.stop.cloth_at_left))
    first = first_of_pair(placed, session.registered, setup.plan.placements)
    if first is None or first[1].cut.id not in session.done or placed.cut.id in session.done:
        return laid
    xs = [x for x, _ in setup.area]
    bars = (bar for bar in ghost(first, placed, fit, follow).marks if isinstance(bar, Stroke))
    return Scene((*laid.marks, *(bar for bar in bars if min(xs) <= bar.points[0][0] <= max(xs))))


def _with_pull(scene: Scene, session: Session) -> Scene:
    """What is to be pulled or laid, and an arrow, until the person says that it is done or moves on."""
    keys, area = session.setup.keys, session.setup.area
    ticked = tuple((part, 0.75) for part in session.status.split(". ")) if session.just_ticked else ()
    text = pull_text(session)
    if not text and not ticked:
        return _with_doubt_of_pull(scene, session)
    done = ((f"{spoken(Action.PULLED, keys)}: the cloth lies so", 0.75),) if text else ()
    lines = (*ticked, *((part, 1.0 if number == 0 else 0.75) for number, part in enumerate(text)), *done)
    said = words(lines, area, tuple(_boxes(scene)), tallest_in=PULL_IN, below=ARROW)
    if not said.marks:
        # Where nothing is free it stands across what is lit, rather than not at all.
        said = words(lines, area, tallest_in=PULL_IN, below=ARROW)
    scene, before = _over(scene, said), session.pulled_from
    if before is None:
        return scene
    letters = next(mark for mark in said.marks if isinstance(mark, Text))
    to_left = session.stop.cloth_at_left > before.cloth_at_left
    under = (letters.at[0], min(mark.at[1] for mark in said.marks if isinstance(mark, Text)) - ARROW * letters.height)
    return Scene((*scene.marks, *pull_arrow(under, to_left).marks))


def _over(scene: Scene, said: Scene) -> Scene:
    """Words over the scene: no row, fold or trim runs through them."""
    rooms = [box_of(mark).grown(GAP_IN) for mark in said.marks if isinstance(mark, Text)]
    return Scene((*parted(scene, rooms).marks, *said.marks))


def _with_doubt_of_pull(scene: Scene, session: Session) -> Scene:
    """Beside a stop to which the cloth was pulled since it was registered, that this is so."""
    if session.fit is None or session.is_registered_here or session.cut_is_done:
        return scene
    key = spoken(Action.LAY, session.setup.keys)
    unsure = f"the cloth was pulled since it was laid: {key} confirms one motif point"
    return _over(scene, note(unsure, session.setup.area, _cloth(session), tuple(_boxes(scene))))


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


def _with_notes(scene: Scene, session: Session) -> Scene:
    """The scene, and beside it what nobody may forget and what the last key did."""
    keys, area = session.setup.keys, session.setup.area
    if session.cut_lines_are_dark and not session.cut_is_done:
        line: Lines = ((f"CUT LINES ARE DARK: {spoken(Action.CUT_LINES, keys)} lights them", 1.0),)
        said = words(line, area, tuple(_boxes(scene)), DARK_IN)
        # Where nothing is free it stands across what is lit, rather than not at all.
        scene = _over(scene, said if said.marks else words(line, area, (), DARK_IN))
    for text in _notes(session):
        scene = _over(scene, note(text, area, _cloth(session), tuple(_boxes(scene))))
    return scene


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


def _boxes(scene: Scene) -> Iterator[Box]:
    """Upright boxes around letters and cut lines, with some dark around the lines."""
    for mark in scene.marks:
        if isinstance(mark, Text):
            yield box_of(mark)
        elif isinstance(mark, Stroke) and mark.kind in (Kind.CUT, Kind.CUT_DOUBTFUL):
            yield box_of_stroke(mark).grown(CLEAR_IN)
