"""The legend shows a sample of every kind of line that the job lights, with its word, by one key."""

from dataclasses import replace
from fractions import Fraction

from jobs.model.print import Repeat
from projector.light.letters import text_width
from projector.scene.boxes import Box, around
from projector.scene.marks import LEAST_LABEL_IN, Hatch, Kind, Stroke, Text
from projector.session.actions import Action
from projector.session.cutting.legend import LINES, legend_lines, legend_lit
from projector.session.cutting.reducer import press
from projector.session.cutting.text import help_lines
from tests.projector.session.plans import plan_of
from tests.projector.session.sessions import at_work, lit

AREA = ((2.0, 2.0), (92.0, 2.0), (92.0, 56.0), (2.0, 56.0))


def ink(text: Text) -> Box:
    """Where the letters as drawn lie, capitals to baseline."""
    return around(text.at, text_width(text.text) * text.height, text.height)


def test_every_kind_of_line_has_a_word() -> None:
    not_lines = {Kind.TOP, Kind.LETTER, Kind.GUIDE, Kind.TARGET}
    assert {kind for kind, _ in LINES} == set(Kind) - not_lines
    assert len({text for _, text in LINES}) == len(LINES)


def test_only_what_the_job_may_light_is_explained() -> None:
    job = plan_of(1, 1).job
    bare = replace(job, cloth=replace(job.cloth, repeat=None), stiffener=None, pins=None)
    kinds = {kind for kind, _ in legend_lines(bare)}
    assert kinds.isdisjoint({Kind.ROW, Kind.COLUMN, Kind.CROSSING, Kind.MATCH, Kind.STIFFENER, Kind.PIN})
    fine = replace(job, cloth=replace(job.cloth, repeat=Repeat(Fraction(3, 2), Fraction(3, 2))))
    assert {kind for kind, _ in legend_lines(job)} - {kind for kind, _ in legend_lines(fine)} == {Kind.ROW, Kind.COLUMN}
    assert Kind.STIFFENER in {kind for kind, _ in legend_lines(replace(bare, stiffener=Fraction(3)))}


def test_each_word_stands_beside_its_sample_large_enough_to_read_and_nothing_overlaps() -> None:
    job = plan_of(1, 1).job
    scene = legend_lit(job, AREA)
    texts = [mark for mark in scene.marks if isinstance(mark, Text)]
    for kind, words in legend_lines(job):
        (word,) = [text for text in texts if text.text == words]
        samples = [mark for mark in scene.of(kind) if isinstance(mark, Stroke)]
        points = [point for mark in samples for point in mark.points]
        points += [point for mark in scene.of(kind) if isinstance(mark, Hatch) for point in mark.outline]
        xs, ys = zip(*points, strict=True)
        assert max(xs) < ink(word).left
        assert word.at[1] - word.height < min(ys) <= max(ys) < word.at[1] + word.height
    assert min(text.height for text in texts) >= LEAST_LABEL_IN
    boxes = [ink(text) for text in texts]
    assert all(Box(2, 2, 92, 56).holds(box) for box in boxes)
    assert not any(box.overlaps(other) for at, box in enumerate(boxes) for other in boxes[:at])


def test_one_key_calls_it_up_and_any_key_puts_it_away() -> None:
    assert "W" in {keys for keys, what in help_lines() if what == "what the lines mean"}
    opened, _ = press(at_work(), Action.LEGEND)
    words = {mark.text for mark in lit(opened).marks if isinstance(mark, Text)}
    assert {"What the lines mean", "cut here", "fold"} <= words
    assert press(opened, Action.LEGEND)[0] == at_work()
