"""What is lit for each page: words inside the light, clear of each other and of cut lines."""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations

import pytest

from calibration.marks import Mark
from calibration.table import fit_table
from jobs.model.choices import Unit
from jobs.model.job import Pins
from projector.commands.shared.planned import load_plan
from projector.demo.setup import demo_setup
from projector.light.letters import text_width as set_width
from projector.scene.boxes import Box, around
from projector.scene.lettering import box_of
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import Kind, Point, Scene, Stroke, Text
from projector.scene.motifs import drawn_motifs
from projector.session.actions import Action
from projector.session.cutting.doubts import doubt_of
from projector.session.cutting.pages import Page
from projector.session.cutting.reducer import in_trouble, press
from projector.session.cutting.scene import lit as layers
from projector.session.cutting.state import Session, setup_of
from projector.session.cutting.text import help_lines
from projector.session.keys import DEFAULT_KEYS
from projector.session.layout import words as words_lit
from projector.session.layout import words_area
from tests.projector.commands.running import EXAMPLES
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import begun, lit, setup
from tests.projector.session.tables import table_of

PLAN = plan_of(4, 2)
AREAS: dict[str, tuple[Point, ...]] = {
    "upright": ((-5, -4), (70, -4), (70, 56), (-5, 56)),
    "keystone": ((-5, -4), (70, 0), (60, 56), (5, 52)),
    "mirrored": ((-5, 56), (70, 56), (70, -4), (-5, -4)),
    "small": ((0, 0), (24, 0), (24, 16), (0, 16)),
}


def after(*actions: Action) -> Session:
    session = begun(PLAN)
    for action in (Action.ANY_OTHER, *actions):
        session, _ = press(session, action)
    return session


PAGES = {
    Page.CAUTIONS: begun(PLAN),
    Page.IS_IT_CUT: after(Action.NEXT_STOP, Action.NEXT_STOP),
    Page.HELP: after(Action.HELP),
    Page.LEGEND: after(Action.LEGEND),
    Page.REMAINING: after(Action.REMAINING),
    Page.LEAVE: after(Action.LEAVE),
    Page.NOT_CUT: after(Action.NEXT_STOP, Action.CUT_DONE, Action.PREVIOUS_STOP, Action.PREVIOUS_STOP),
    Page.PLAN_AS_BEFORE: replace(after(), page=Page.PLAN_AS_BEFORE),
    Page.ORIENTATION: after(Action.NEXT_CUT),
    Page.TROUBLE: in_trouble(after(), "The disk is full.\nMake room, then press the key again."),
    Page.ALL_DONE: replace(after(), done=("cut-1", "cut-2", "cut-3", "cut-4"), page=Page.ALL_DONE),
}


def texts(scene: Scene) -> list[Text]:
    return [mark for mark in scene.marks if isinstance(mark, Text)]


def ink(text: Text) -> Box:
    """Where the letters as drawn lie, capitals to baseline."""
    return around(text.at, set_width(text.text) * text.height, text.height)


def inside(area: tuple[Point, ...], point: Point) -> bool:
    """Whether a point lies in a convex polygon, on the same side of every edge."""
    x, y = point
    sides = [
        (x1 - x0) * (y - y0) - (y1 - y0) * (x - x0)
        for (x0, y0), (x1, y1) in zip(area, (*area[1:], area[0]), strict=True)
    ]
    return all(side >= -1e-9 for side in sides) or all(side <= 1e-9 for side in sides)


@pytest.mark.parametrize("area", AREAS)
@pytest.mark.parametrize("page", PAGES)
def test_every_page_of_words_lies_inside_the_light_and_its_lines_keep_apart(page: Page, area: str) -> None:
    session = PAGES[page]
    assert session.page is page
    bench = setup(PLAN, AREAS[area])
    said = texts(lit(replace(session, setup=bench)))
    assert len(said) >= 3
    boxes = [ink(text) for text in said]
    for box in boxes:
        assert all(inside(AREAS[area], corner) for corner in box.corners)
    assert not [pair for pair in combinations(boxes, 2) if pair[0].overlaps(pair[1])]


def test_the_question_keeps_the_cut_line_lit_and_clear() -> None:
    for actions in ((Action.NEXT_STOP,), (Action.LIGHT_FAR_RIGHT, Action.TURN_LEFT, Action.NEXT_STOP)):
        session = after(*actions, Action.NEXT_STOP)
        scene = lit(replace(session, setup=setup(PLAN, AREAS["keystone"])))
        (line, *ticks) = scene.of(Kind.CUT)
        assert isinstance(line, Stroke)
        xs = [x for mark in (line, *ticks) for x, _ in getattr(mark, "points")]  # noqa: B009
        for text in texts(scene):
            box = box_of(text)
            assert box.right < min(xs) or box.left > max(xs) or box.near > 50 or box.far < 0


def test_the_question_names_the_cut_and_both_answers() -> None:
    said = " ".join(
        text.text for text in texts(lit(replace(PAGES[Page.IS_IT_CUT], setup=setup(PLAN, AREAS["upright"]))))
    )
    for words in ("Is it cut?", "Window 1, left", "Page Down again: yes", "Page Up: not yet"):
        assert words in said


def test_a_cut_out_of_turn_is_asked_about_with_a_warning() -> None:
    session = after(Action.NEXT_CUT, Action.NEXT_CUT, Action.CUT_DONE)
    said = " ".join(text.text for text in texts(lit(replace(session, setup=setup(PLAN, AREAS["upright"])))))
    assert "The plan cuts Window 1, left" in said


def test_the_question_looks_like_nothing_else() -> None:
    assert len(lit(replace(PAGES[Page.IS_IT_CUT], setup=setup(PLAN, AREAS["upright"]))).of(Kind.GUIDE)) == 2
    assert not lit(replace(after(), setup=setup(PLAN, AREAS["upright"]))).of(Kind.GUIDE)


def test_nothing_is_lit_in_the_dark_on_any_page() -> None:
    for session in PAGES.values():
        assert lit(replace(replace(session, dark=True), setup=setup(PLAN, AREAS["upright"]))) == Scene()


def test_a_done_cut_has_no_cut_line_and_is_hatched() -> None:
    bench = setup(PLAN, AREAS["upright"])
    session = after(Action.NEXT_STOP, Action.CUT_DONE, Action.PREVIOUS_STOP)
    scene = lit(replace(session, setup=bench))
    assert not scene.of(Kind.CUT, Kind.CUT_DOUBTFUL)
    assert scene.of(Kind.DONE)


def test_a_moved_light_moves_the_stop_and_says_by_how_much() -> None:
    bench = setup(PLAN, AREAS["upright"])
    still, moved = (
        lit(replace(after(), setup=bench)),
        lit(replace(after(Action.LIGHT_FAR_RIGHT, Action.LIGHT_HAIR_NEARER), setup=bench)),
    )
    before, now = still.of(Kind.CUT)[0], moved.of(Kind.CUT)[0]
    assert isinstance(before, Stroke)
    assert isinstance(now, Stroke)
    # 1/2 in right and 1/64 in nearer, exactly: both are binary fractions.
    assert now.points == tuple((x + 0.5, y - 1 / 64) for x, y in before.points)
    assert texts(moved)[-1].text == "light moved: 1/2 in right, 1/64 in nearer (0 puts it back)"
    assert not [text for text in texts(still) if text.text.startswith("light moved")]


def test_the_note_of_a_moved_light_stands_beside_the_cloth_where_there_is_room() -> None:
    scene = lit(replace(after(Action.LIGHT_RIGHT), setup=setup(PLAN, AREAS["upright"])))
    box = box_of(texts(scene)[-1])
    cloth = Box(0, 0, 42, 50)
    assert not box.overlaps(cloth)


def test_a_metric_job_says_the_shift_in_millimetres() -> None:
    plan = plan_of(2, 2, Unit.CENTIMETRE)
    session, _ = press(press(begun(plan), Action.ANY_OTHER)[0], Action.LIGHT_FAR_LEFT)
    # 1/2 in = 12.7 mm exactly.
    assert "12.7 mm left" in texts(lit(replace(session, setup=setup(plan, AREAS["upright"]))))[-1].text


@pytest.mark.parametrize(
    ("action", "kinds"),
    [
        (Action.CUT_LINES, (Kind.CUT, Kind.CUT_DOUBTFUL)),
        (Action.TRIMS, (Kind.TRIM,)),
        (Action.PINS, (Kind.PIN,)),
        (Action.ROWS, (Kind.ROW, Kind.COLUMN, Kind.CROSSING)),
        (Action.MATCH_MARKS, (Kind.MATCH,)),
        (Action.FOLDS, (Kind.FOLD,)),
        (Action.LETTERS, (Kind.LETTER, Kind.TOP)),
    ],
)
def test_each_layer_key_hides_its_marks_and_shows_them_again(action: Action, kinds: tuple[Kind, ...]) -> None:
    read = load_plan(EXAMPLES / "lock_cottage.yaml")
    plan = read.with_job(replace(read.job, pins=Pins(spacing=Fraction(5))))
    bench = setup(plan, AREAS["upright"])

    def pressed(*actions: Action) -> Scene:
        session = begun(plan)
        for asked in (Action.ANY_OTHER, *actions, Action.ANY_OTHER):
            session, _ = press(session, asked)
        return lit(replace(session, setup=bench))

    full, less = pressed(), pressed(action)
    assert full.of(*kinds)
    assert not less.of(*kinds)
    others = [kind for kind in Kind if kind not in (*kinds, Kind.LETTER)]
    assert {mark.kind for mark in less.of(*others)} == {mark.kind for mark in full.of(*others)}
    assert pressed(action, action) == full


def test_words_stand_between_the_marks_and_inside_the_light() -> None:
    table = table_of(1920, 1080)
    bench = setup_of(PLAN, table)
    for session in PAGES.values():
        for text in texts(lit(replace(session, setup=bench))):
            assert table.contains(ink(text).corners).all()
            assert Box(0, 0, 58, 50).holds(ink(text))


def test_the_area_for_words_is_the_hull_of_the_marks_drawn_in() -> None:
    marks = [Mark(at, (100 + 10 * at[0], 700 - 10 * at[1])) for at in ((0, 0), (60, 0), (60, 40), (0, 40), (30, 20))]
    area = words_area(fit_table(marks, 800, 800))
    # 3 % of the way from each corner to the middle (30, 20): 0.9 in along, 0.6 in across.
    expected = ((0.9, 0.6), (59.1, 0.6), (59.1, 39.4), (0.9, 39.4))
    rounded = sorted((round(x, 9), round(y, 9)) for x, y in area)
    assert rounded == [pytest.approx(corner) for corner in sorted(expected)]


def test_marks_outside_the_light_do_not_lead_words_there() -> None:
    marks = [Mark(at, (100 + 10 * at[0], 700 - 10 * at[1])) for at in ((0, 0), (90, 0), (90, 40), (0, 40))]
    table = fit_table(marks, 800, 800)
    assert table.contains(words_area(table)).all()
    assert max(x for x, _ in words_area(table)) > 60


def test_the_help_page_names_every_key_that_does_something() -> None:
    shown = " ".join(keys for keys, _ in help_lines())
    usual = {key for key in DEFAULT_KEYS if not key.endswith(("Left", "Right", "Up", "Down")) or key.startswith("Page")}
    names = {"PageDown": "Page Down", "PageUp": "Page Up", ".": "full stop", "=": "+"}
    for key in usual:
        assert names.get(key, key) in shown, key


def test_a_remapped_key_is_what_the_words_say() -> None:
    keys = {**{k: a for k, a in DEFAULT_KEYS.items() if a is not Action.NEXT_STOP}, "F8": Action.NEXT_STOP}
    said = " ".join(
        text.text for text in texts(lit(replace(PAGES[Page.IS_IT_CUT], setup=setup(PLAN, AREAS["upright"], keys))))
    )
    assert "F8 again: yes, tick it" in said


def test_what_is_said_of_a_doubtful_line_stands_on_the_table() -> None:
    job, table = load_plan(EXAMPLES / "ferry_lane.yaml"), demo_setup(load_plan(EXAMPLES / "ferry_lane.yaml").job).table
    bench = replace(setup_of(job, table), doubt=doubt_of(table, 1e-6))
    session, _ = press(begun(job), Action.ANY_OTHER)
    # The second stop: its top edge is lit 3 in from the end of the table.
    for _ in range(6):
        if session.page is not Page.STOP or session.at < 1:
            session, _ = press(session, Action.NEXT_STOP)
    assert session.at == 1
    said = [text for text in texts(lit(replace(session, setup=bench))) if text.text.startswith("within")]
    assert said
    for text in said:
        assert all(inside(words_area(table), corner) for corner in box_of(text).corners), text


def test_no_row_and_no_fold_runs_through_the_words_of_a_pull() -> None:
    scene = lit(replace(after(Action.NEXT_STOP), setup=setup_of(PLAN, table_of(1280, 720))))
    pull = next(text for text in texts(scene) if text.text.startswith("Pull the cloth"))
    for stroke in scene.of(Kind.ROW, Kind.COLUMN, Kind.FOLD):
        assert isinstance(stroke, Stroke)
        (x0, y0), (x1, y1) = stroke.points
        assert not Box(min(x0, x1), min(y0, y1), max(x0, x1), max(y0, y1)).overlaps(box_of(pull)), stroke


@pytest.mark.parametrize("job", ["reading_room", "ferry_lane", "lock_cottage", "tram_depot"])
def test_no_cut_line_of_the_simulated_table_is_in_doubt(job: str) -> None:
    plan = load_plan(EXAMPLES / f"{job}.yaml")
    table = demo_setup(plan.job).table
    session, _ = press(begun(plan), Action.ANY_OTHER)
    while session.page is Page.ORIENTATION:
        session, _ = press(session, Action.NEXT_STOP)
    assert lit(replace(session, setup=setup_of(plan, table))).of(Kind.CUT)
    assert not lit(replace(session, setup=setup_of(plan, table))).of(Kind.CUT_DOUBTFUL)


def pulled(example: str, at: int) -> Session:
    """A session of an example at a stop to which the cloth is still to be pulled."""
    plan = load_plan(EXAMPLES / example)
    ready = setup_of(plan, demo_setup(plan.job, 1280, 720).table)
    return replace(begun(ready), page=Page.STOP, cautions_read=True, at=at, lies_at=at - 1)


@pytest.mark.parametrize(("example", "stops"), [("ferry_lane.yaml", (1, 8, 18)), ("lock_cottage.yaml", (1, 3))])
def test_what_to_pull_stands_beside_the_motifs_and_can_be_read_from_two_metres(
    example: str, stops: tuple[int, ...]
) -> None:
    for at in stops:
        session = pulled(example, at)
        over, _ = layers(session)
        said = [mark for mark in over.marks if isinstance(mark, Text)]
        assert any(mark.text.startswith("Pull") for mark in said)
        plan, lit_width_in = session.setup.plan, session.setup.lit_width_in
        motifs = drawn_motifs(lit_stop(plan, session.stop, lit_width_in))
        for mark in said:
            assert not any(box_of(mark).grown(-0.2).overlaps(box) for box in motifs), (at, mark.text)
            # 11.6 mm: 2 x 2000 mm x tan(20' / 2) (NUREG-0700: 15 to 20').
            assert mark.height >= 0.45


def test_nothing_is_to_be_pulled_for_a_cut_that_is_done() -> None:
    session = pulled("ferry_lane.yaml", 1)
    assert session.cloth_is_to_move
    assert not replace(session, lies_at=session.at).cloth_is_to_move
    done = replace(session, done=(session.placement.cut.id,))
    assert not done.cloth_is_to_move
    assert not any(text.text.startswith("Pull") for text in texts(lit(done)))


def test_on_a_print_without_room_between_its_motifs_what_to_pull_is_lit_as_large_as_without_motifs() -> None:
    lines, area = (("Pull the cloth 38 in to the left", 1.0), ("Y: the cloth lies so", 0.75)), AREAS["upright"]
    dense = [around((x, y), 1.2, 1.2) for x in range(-6, 72, 2) for y in range(-5, 58, 2)]
    sparse = [around((x, y), 8, 8) for x in range(-6, 72, 20) for y in range(6, 58, 20)]
    plain, among, between = (texts(words_lit(lines, area, tallest_in=1.6, motifs=of)) for of in ((), dense, sparse))
    assert plain == among
    assert plain != between
    assert not any(box_of(text).overlaps(box) for text in between for box in sparse)
