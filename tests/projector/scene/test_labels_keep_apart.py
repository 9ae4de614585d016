"""Letters never collide with each other, with cut lines or with match marks, whatever the job."""

from fractions import Fraction
from importlib import resources
from pathlib import Path

from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import ImageFont

from jobs.io.reader import read_job
from jobs.model.allowances import Allowances
from jobs.model.cuts import Hand
from jobs.model.piece import Flaw
from jobs.model.print import Repeat
from jobs.planning.planner import plan_job
from projector.scene.boxes import Box
from projector.scene.lettering import Room, box_of, shortened, text_width, wrapped
from projector.scene.lit_stop import lit_stop
from projector.scene.marks import LABEL_IN, LEAST_LABEL_IN, Kind, Stroke, Text
from projector.scene.print_marks import motif_boxes
from projector.scene.stop_scene import scene_of_stop
from tests.projector.scene.plans import Wish, plan_of

F = Fraction

NAMES = (
    "Nook",
    "River window",
    "Seminar room over the old stables, third from the stair",
    "WWMMW " * 6,
    "Unbroken" * 6,
)


def quarters(low: int, high: int) -> st.SearchStrategy[F]:
    return st.integers(low * 4, high * 4).map(lambda n: F(n, 4))


@st.composite
def wishes(draw):
    width = draw(quarters(20, 60))
    lengths = (draw(quarters(10, 130)), draw(quarters(10, 130)))
    flaw_from, flaw_across = draw(quarters(4, 120)), draw(quarters(0, 15))
    flaw = Flaw(flaw_from, flaw_from + draw(quarters(1, 3)), (flaw_across, flaw_across + 4))
    return Wish(
        window=draw(st.sampled_from(NAMES)).strip(),
        lengths=lengths,
        top_first=(draw(st.booleans()), draw(st.booleans())),
        width=width,
        selvedge=draw(st.sampled_from([F(0), F(1, 2), F(3, 4)])),
        repeat=draw(st.sampled_from([None, Repeat(F(3), F(3)), Repeat(F(25, 2), F(27, 2)), Repeat(F(36))])),
        flaws=draw(st.sampled_from([(), (flaw,)])),
        allowances=Allowances(F(4), F(8), draw(st.sampled_from([F(0), F(1), F(2), F(3)])), F(1, 2), F(1)),
        table=draw(st.sampled_from([F(60), F(96), F(144)])),
        piece=F(300),
    )


def stroke_box(stroke: Stroke) -> Box:
    xs, ys = zip(*stroke.points, strict=True)
    return Box(min(xs) - 0.05, min(ys) - 0.05, max(xs) + 0.05, max(ys) + 0.05)


@settings(max_examples=120)
@given(wishes(), st.sampled_from([frozenset(), frozenset({"c1"})]), st.sampled_from([None, 15.0, 40.0, 70.0]))
def test_letters_keep_apart_from_letters_and_lines_and_stay_on_lit_cloth(wish, done, lit_width):
    plan = plan_of(wish)
    for stop in plan.stops:
        scene = scene_of_stop(plan, stop, done=done, lit_width_in=lit_width)
        texts = [mark for mark in scene.marks if isinstance(mark, Text)]
        boxes = [box_of(text) for text in texts]
        chevrons = [stroke_box(s) for s in scene.of(Kind.TOP) if isinstance(s, Stroke)]
        lit = Box(
            float(stop.lit_from - stop.cloth_at_left),
            0.0,
            float(stop.lit_to - stop.cloth_at_left),
            min(float(wish.width), lit_width or 999.0),
        )
        for number, box in enumerate([*boxes, *chevrons]):
            assert lit.holds(box), (texts, box)
            assert not any(box.overlaps(other) for other in [*boxes, *chevrons][:number]), texts
        hard = (Kind.CUT, Kind.TRIM, Kind.MATCH, Kind.ROW, Kind.COLUMN, Kind.FOLD)
        lines = [stroke_box(s) for s in scene.of(*hard) if isinstance(s, Stroke)]
        flaws = [stroke_box(s) for s in scene.of(Kind.FLAW) if isinstance(s, Stroke)]
        for text, box in zip(texts, boxes, strict=True):
            assert text.height >= LEAST_LABEL_IN
            assert not any(box.overlaps(line) for line in lines), text
            # The word of a flaw may stand inside its outline, clear of the teeth.
            inside = [flaw for flaw in flaws if text.text.startswith("flaw") and flaw.grown(-0.2).holds(box)]
            assert not any(box.overlaps(flaw) for flaw in flaws if flaw not in inside), text
        assert not any(t.text.endswith(" of") for t in texts)
        if stop.placement.cut.id not in done and "top" in stop.shows:
            assert [t.text for t in texts].count("TOP") == 1


@settings(max_examples=60)
@given(quarters(14, 130), quarters(30, 60))
def test_an_ordinary_cut_has_large_labels(length, width):
    plan = plan_of(Wish(lengths=(length,), hands=(Hand.LEFT,), top_first=(True,), width=width, table=F(144)))
    texts = {m.text: m.height for m in scene_of_stop(plan, plan.stops[0]).marks if isinstance(m, Text)}
    assert texts["TOP"] >= 1.2
    assert texts["leading edge"] == texts["return edge"] == LABEL_IN
    assert min(texts.values()) >= 0.559  # 20 minutes of arc at 96 in: 2 x 96 x tan(10')


def test_the_room_kept_for_letters_is_more_than_two_real_faces_take():
    from pathlib import Path

    import pygame

    faces = [ImageFont.load_default(500), ImageFont.truetype(Path(pygame.__file__).parent / "freesansbold.ttf", 500)]
    for face in faces:
        cap = -face.getbbox("H", anchor="ls")[1]
        for text in ("TOP", "leading edge", "River window, left, 1 of 2", "fillit", "MWmw@%", "0123456789 1/4 in"):
            left, _, right, bottom = face.getbbox(text, anchor="ls")
            assert right - left <= text_width(text, cap)
            assert bottom <= 0.32 * cap


def test_a_number_is_never_torn_from_its_fraction_its_unit_and_its_count():
    said = "Pull the cloth 103 1/2 in to the left: 5 repeats and 13 1/2 in. Window, left, 12 of 13"
    for width in range(8, 60):
        lines = wrapped(said, 1.0, float(width))
        assert " ".join(lines) == said
        if width >= text_width("103 1/2 in", 1.0):
            assert not any(line.endswith((" 103", " 13", "103", "1/2", " 12", " 12 of")) for line in lines[:-1]), lines


@given(st.sampled_from(NAMES), st.floats(2, 40))
def test_a_shortened_name_fits_and_wrapping_loses_no_word(name, width):
    assert text_width(shortened(name, 0.5, width), 0.5) <= width
    assert " ".join(wrapped(name, 0.5, width)).split() == name.split()


def test_top_and_foot_stand_beside_the_motifs_where_there_is_room(monkeypatch):
    plan = plan_job(read_job(Path(str(resources.files("jobs.examples") / "ferry_lane.yaml"))))

    def on_motifs() -> float:
        """Square inches of TOP and FOOT that lie on motifs, at all stops."""
        shared = 0.0
        for stop in plan.stops:
            room = Room(Box(0, 0, 0, 0), motifs=motif_boxes(lit_stop(plan, stop, None)))
            words = [mark for mark in scene_of_stop(plan, stop).marks if isinstance(mark, Text)]
            shared += sum(room.covered(box_of(word)) for word in words if word.text in ("TOP", "FOOT"))
        return shared

    with_motifs = on_motifs()
    monkeypatch.setattr("projector.scene.labels.motif_boxes", lambda lit: ())
    assert with_motifs < on_motifs() / 10
