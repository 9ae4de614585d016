"""What a session lights: the scene of its stop moved by hand, or a page of words. Pure."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from calibration.registration.fit import PrintFit
from calibration.table import Table
from jobs.model.plan import Plan
from projector.scene.boxes import Box, parted
from projector.scene.doubtful import with_doubt
from projector.scene.lettering import box_of
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import Kind, Point, Scene, Stroke, Text
from projector.scene.moved import Affine, fit_to_follow, followed, moved
from projector.scene.sizes import GAP_IN
from projector.scene.stop_scene import Layers
from projector.session.actions import Action
from projector.session.facing.scene import which_way_lit
from projector.session.keys import DEFAULT_KEYS, Keys, spoken
from projector.session.laying.replanning import repeat_to_plan_with, what_the_plan_says
from projector.session.laying.scene import first_of_pair, ghost, marking_lit, pull_arrow
from projector.session.laying.words import laid_lines, marking_lines, pull_words, unsure_note
from projector.session.lighting.doubt import Doubt, doubt_of
from projector.session.lighting.help import help_lines, remote_help
from projector.session.lighting.legend import legend_lit
from projector.session.lighting.meeting_scene import meeting_lit
from projector.session.lighting.planned import planned_scene
from projector.session.saying.area import words_area
from projector.session.saying.banner import columns, framed, note, words
from projector.session.saying.words import lines_of
from projector.session.state.marking import Marking
from projector.session.state.motion import middle_of
from projector.session.state.state import Layer, Page, Session

PULL_IN = 1.6
ARROW = 2.2
"""Room for the arrow of a pull, in cap heights below the last line of its words."""
DARK_IN = 1.2
"""Letters that say that cut lines are dark: nobody may take a table without them for one where nothing is to be cut."""
CLEAR_IN = 0.5
"""Dark kept between words and a cut line."""


@dataclass(frozen=True)
class Bench:
    """What stays the same through a session: the plan, where words may stand (convex, inches), keys, reach across.

    ``doubt`` tells how far off a cut line may be; None: no line is doubted.
    """

    plan: Plan
    area: tuple[Point, ...]
    keys: Keys = field(default_factory=lambda: DEFAULT_KEYS)
    lit_width_in: float | None = None
    doubt: Doubt | None = None

    @property
    def middle(self) -> Point:
        """The point the light is turned about."""
        return middle_of(self.area)


def bench_of(plan: Plan, table: Table, keys: Keys = DEFAULT_KEYS, lit_width_in: float | None = None) -> Bench:
    """The bench of a calibrated table: words are laid where its marks are, lines doubted as far as it may be wrong."""
    doubt = doubt_of(table, float(plan.job.tolerance), plan.job.unit.value)
    return Bench(plan, words_area(table), keys, lit_width_in, doubt)


def lit(session: Session, bench: Bench) -> Scene:
    """Everything to light now, in table inches; nothing in the dark."""
    if session.dark or session.page is Page.LEFT:
        return Scene()
    match session.page:
        case Page.STOP:
            return _with_pull(_with_notes(stop_lit(session, bench), session, bench), session, bench)
        case Page.WHICH_WAY:
            pull = tuple((text, 1.0) for text in pull_words(session, bench.plan.job)[:1])
            return which_way_lit(session, bench.plan, bench.area, bench.keys, pull)
        case Page.IS_IT_CUT:
            edges = Scene(stop_lit(replace(session, hidden=frozenset()), bench).of(Kind.CUT, Kind.CUT_DOUBTFUL))
            asked = framed(lines_of(session, bench.plan.job.unit, bench.keys), bench.area, tuple(_boxes(edges)))
            return Scene((*edges.marks, *asked.marks))
        case Page.MEETING | Page.MOVING | Page.MOVED:
            return meeting_lit(session, bench.area, bench.keys, bench.plan.job.unit)
        case Page.LAYING | Page.LAID if session.marking is not None:
            return _laying_lit(session, session.marking, bench)
        case Page.LEAVE | Page.PLAN_AS_BEFORE | Page.NOT_CUT:
            return framed(lines_of(session, bench.plan.job.unit, bench.keys), bench.area)
        case Page.LEGEND:
            return legend_lit(bench.plan.job, bench.area)
        case Page.HELP:
            return columns(help_lines(bench.keys), remote_help(bench.keys), bench.area, "Keys")
    return words(lines_of(session, bench.plan.job.unit, bench.keys), bench.area)


def stop_lit(session: Session, bench: Bench) -> Scene:
    """The stop as planned, without what is hidden, moved as the person moved the light."""
    layers = layers_of(session)
    done = frozenset(session.done)
    scene = planned_scene(bench.plan, session.stop, done, bench.lit_width_in, layers)
    fit = session.marking.fit if session.marking else session.fit
    if fit is not None:
        scene = _laid_on(scene, fit, session, bench)
    affine = session.motion.affine(bench.middle)
    if session.marking is not None:
        return scene
    if bench.doubt is not None:
        scene = _doubted(scene, bench.doubt, None if session.motion.is_still else affine)
    return scene if session.motion.is_still else moved(scene, affine)


def layers_of(session: Session) -> Layers:
    """The layers of the scene that are not hidden."""
    hidden = session.hidden
    return Layers(
        cut=Layer.CUT_LINES not in hidden,
        rows=Layer.ROWS not in hidden,
        match=Layer.MATCH_MARKS not in hidden,
        trims=Layer.TRIMS not in hidden,
        folds=Layer.FOLDS not in hidden,
        letters=Layer.LETTERS not in hidden,
        pins=Layer.PINS not in hidden,
    )


def _laid_on(scene: Scene, fit: PrintFit, session: Session, bench: Bench) -> Scene:
    """The scene where the cloth really lies, with the rows of the first panel when this is the second of a pair."""
    follow, placed = bench.plan.job.cloth.follow, session.placement
    laid = followed(scene, fit_to_follow(fit, follow), float(session.stop.cloth_at_left))
    first = first_of_pair(placed, session.layings, bench.plan.placements)
    if first is None or first[1].cut.id not in session.done or placed.cut.id in session.done:
        return laid
    return Scene((*laid.marks, *_within(ghost(first, placed, fit, follow), bench)))


def _within(scene: Scene, bench: Bench) -> tuple[Stroke, ...]:
    """The strokes that begin between the ends of the area where words may stand."""
    xs = [x for x, _ in bench.area]
    found = (mark for mark in scene.marks if isinstance(mark, Stroke))
    return tuple(stroke for stroke in found if min(xs) <= stroke.points[0][0] <= max(xs))


def _laying_lit(session: Session, marking: Marking, bench: Bench) -> Scene:
    job, told = bench.plan.job, ((session.told, 1.0),) if session.told else ()
    if session.page is Page.LAID:
        says = "" if session.done else what_the_plan_says(bench.plan, marking)
        lines = laid_lines(marking, job, bench.keys, says, may_replan=repeat_to_plan_with(session) is not None)
        return words((*lines, *told), bench.area)
    said = (*marking_lines(marking, bench.keys, job.unit), *told)
    return marking_lit(marking, stop_lit(session, bench), said, bench.area)


def _with_pull(scene: Scene, session: Session, bench: Bench) -> Scene:
    """What is to be pulled or laid, and an arrow, until the person says that it is done or moves on."""
    ticked = tuple((part, 0.75) for part in session.told.split(". ")) if session.just_ticked else ()
    text = pull_words(session, bench.plan.job)
    if not text and not ticked:
        return _with_doubt_of_pull(scene, session, bench)
    done = ((f"{spoken(Action.PULLED, bench.keys)}: the cloth lies so", 0.75),) if text else ()
    lines = (*ticked, *((part, 1.0 if number == 0 else 0.75) for number, part in enumerate(text)), *done)
    said = words(lines, bench.area, tuple(_boxes(scene)), tallest_in=PULL_IN, below=ARROW)
    if not said.marks:
        # Where nothing is free it stands across what is lit, rather than not at all.
        said = words(lines, bench.area, tallest_in=PULL_IN, below=ARROW)
    before = None if session.lies_at is None else session.stops[session.lies_at]
    scene = _over(scene, said)
    if not text or before is None or before.placement.piece != session.placement.piece:
        return scene
    letters = next(mark for mark in said.marks if isinstance(mark, Text))
    to_left = session.stop.cloth_at_left > before.cloth_at_left
    under = (letters.at[0], min(mark.at[1] for mark in said.marks if isinstance(mark, Text)) - ARROW * letters.height)
    return Scene((*scene.marks, *pull_arrow(under, to_left).marks))


def _over(scene: Scene, said: Scene) -> Scene:
    """Words over the scene: no row, fold or trim runs through them."""
    rooms = [box_of(mark).grown(GAP_IN) for mark in said.marks if isinstance(mark, Text)]
    return Scene((*parted(scene, rooms).marks, *said.marks))


def _with_doubt_of_pull(scene: Scene, session: Session, bench: Bench) -> Scene:
    if session.fit is None or session.is_laid_here or session.cut_is_done:
        return scene
    return _over(scene, note(unsure_note(bench.keys), bench.area, _cloth(session, bench), tuple(_boxes(scene))))


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


def _with_notes(scene: Scene, session: Session, bench: Bench) -> Scene:
    """The scene, and beside it what nobody may forget and what the last key did."""
    if Layer.CUT_LINES in session.hidden and not session.cut_is_done:
        text = f"CUT LINES ARE DARK: {spoken(Action.CUT_LINES, bench.keys)} lights them"
        line = ((text, 1.0),)
        said = words(line, bench.area, tuple(_boxes(scene)), DARK_IN)
        # Where nothing is free it stands across what is lit, rather than not at all.
        scene = _over(scene, said if said.marks else words(line, bench.area, (), DARK_IN))
    for text in _notes(session, bench):
        scene = _over(scene, note(text, bench.area, _cloth(session, bench), tuple(_boxes(scene))))
    return scene


def _notes(session: Session, bench: Bench) -> Iterator[str]:
    """The light moved by hand, what the last key did."""
    if not session.motion.is_still:
        back = spoken(Action.LIGHT_BACK, bench.keys)
        yield f"light moved: {session.motion.in_words(bench.plan.job.unit)} ({back} puts it back)"
    if session.told and not session.just_ticked:
        yield session.told
    if session.may_untick:
        yield f"not cut after all? {spoken(Action.PREVIOUS_STOP, bench.keys)} again asks"


def _cloth(session: Session, bench: Bench) -> Box:
    """Room of the cloth with its cut line ticks, wherever the light was moved: it is grown by the shift."""
    shift = max(abs(session.motion.dx), abs(session.motion.dy))
    return lit_stop(bench.plan, session.stop, bench.lit_width_in).light.grown(CLEAR_IN + float(shift))


def _boxes(scene: Scene) -> Iterator[Box]:
    """Upright boxes around letters and cut lines, with some dark around the lines."""
    for mark in scene.marks:
        if isinstance(mark, Text):
            yield box_of(mark)
        elif isinstance(mark, Stroke) and mark.kind in (Kind.CUT, Kind.CUT_DOUBTFUL):
            yield _around_points(mark.points).grown(CLEAR_IN)


def _around_points(points: Sequence[Point]) -> Box:
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return Box(min(xs), min(ys), max(xs), max(ys))
