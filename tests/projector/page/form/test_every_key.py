"""The form has a field for every key of a job file, and none for what is no key."""

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction
from pathlib import Path as FilePath

import pytest

from jobs.io.reader import parse_job
from jobs.model import schema
from jobs.model.choices import Unit
from jobs.model.job import Job
from jobs.model.lengths import parse_length
from jobs.model.problems import Path
from jobs.model.schema import walk
from projector.page.form.blank import examples
from projector.page.form.changes import with_value
from projector.page.form.complaints import complaints
from projector.page.form.document import Document
from projector.page.form.field import Field, Group, Kind
from projector.page.form.pages import PAGES, fields_shown
from projector.page.form.units import in_unit
from projector.page.form.values import values_of
from tests.jobs.io.test_job_format_document import EXAMPLES

WHOLE = EXAMPLES[0]


def named(path: Path) -> tuple[str, ...]:
    return tuple(key for key in path if isinstance(key, str))


def fields_of(group: Group, above: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Field]]:
    here = (*above, *named(group.path))
    for item in group.items:
        if isinstance(item, Field):
            yield (*here, *named(item.key)), item
    for within in group.within:
        yield from fields_of(within, here)


FIELDS = dict(one for page in PAGES for group in page.groups for one in fields_of(group))


def test_every_key_of_the_job_has_a_field_and_every_field_a_key():
    keys = {path: key.kind for path, key in walk(Job) if not isinstance(key.kind, schema.Group | schema.Groups)}
    sides = {path for path, kind in keys.items() if isinstance(kind, schema.Length) and kind.sides}
    known = {*keys, *((*path, side) for path in sides for side in schema.SIDES)}
    assert known == set(FIELDS)


def test_every_field_says_in_a_line_what_it_means():
    for key, field in FIELDS.items():
        assert field.label, key
        assert 3 < len(field.term) < 150, key
        assert "_" not in field.label + field.term + field.usual, key


def test_what_the_whole_example_says_is_shown():
    values = values_of(WHOLE)
    shown = {named(path) for path in fields_shown(values)}
    said = {named(path) for path in values.texts}
    assert said - shown == set()


def test_lists_are_typed_with_commas_and_ticked_and_go_when_they_are_empty():
    document = Document(WHOLE, FilePath("a.yaml"), WHOLE)
    colours, hidden = ("cloth", "motif_colours"), ("flaws_may_lie_in",)
    assert values_of(WHOLE).told(colours) == "#e8dcc0, #d9825b"
    assert values_of(WHOLE).told(hidden) == "hem, side hem"
    changed = document.typed(colours, "#112233, ", listed=True).typed(hidden, "heading, side hem", listed=True)
    job = parse_job(changed.text, "a")
    assert job.cloth.motif_colours == ("#112233",)
    assert [place.value for place in job.flaws_may_lie_in] == ["heading", "side hem"]
    job = parse_job(changed.typed(hidden, "", listed=True).text, "a")
    assert job.flaws_may_lie_in == ()
    assert replace(job, flaws_may_lie_in=parse_job(WHOLE, "a").flaws_may_lie_in).windows == job.windows


def test_a_list_below_its_key_is_changed_too():
    text = WHOLE.replace("flaws_may_lie_in: [hem, side hem]", "flaws_may_lie_in:\n  - hem  # deep\n  - side hem")
    document = Document(text, FilePath("a.yaml"), text).typed(("flaws_may_lie_in",), "hem", listed=True)
    assert [place.value for place in parse_job(document.text, "a").flaws_may_lie_in] == ["hem"]


def test_a_wrong_colour_is_said_beside_the_colours():
    path = ("cloth", "motif_colours")
    wrong = with_value(WHOLE, path, "#112233, greenish", listed=True)
    assert list(complaints(wrong).beside) == [path]


@pytest.mark.parametrize("title", examples())
def test_the_keys_few_jobs_need_can_be_filled_in_on_any_job(title):
    text = examples()[title]
    filled = {("light", "room"): "450", ("tolerance",): "1/8 in", ("stiffener",): "1 in", ("cloth", "layers"): "2"}
    for path, value in filled.items():
        text = with_value(text, path, value)
    job = parse_job(text, "a")
    assert (job.light.room, job.tolerance, job.stiffener, job.cloth.layers) == (450, Fraction(1, 8), 1, 2)


def test_the_lengths_among_the_fields_follow_a_change_of_unit():
    # 1 in = 2.54 cm: each key of the whole example that is a length is another number afterwards, and as long.
    before, after = values_of(WHOLE), values_of(in_unit(WHOLE, Unit.CENTIMETRE))
    for path, text in before.texts.items():
        told = {key[: len(named(path))]: field for key, field in FIELDS.items()}.get(named(path))
        if told is not None and told.kind is Kind.LENGTH and text.replace(" ", "").replace("/", "").isdigit():
            assert parse_length(after.texts[path], Unit.CENTIMETRE) == parse_length(text, Unit.INCH), path
            assert after.texts[path] != text or parse_length(text, Unit.INCH) == 0, path
