"""Everything a person can do in the form, in any order: the text stays a job file, and all of it can be taken back."""

import random

import pytest

from jobs.io.editing import CannotEdit
from jobs.model.choices import Unit
from projector.page.form import changes, plainness
from projector.page.form.blank import blank_job, examples
from projector.page.form.complaints import complaints
from projector.page.form.document import Document
from projector.page.form.field import Field, Switch
from projector.page.form.pages import PAGES, Adding, Block, shown
from projector.page.form.units import in_unit
from projector.page.form.values import values_of

TYPED = (
    "12",
    "5 ft 6 in",
    "0",
    "",
    "x: {y",
    "Weir window",
    "Towpath window",
    "3 %",
    "#aabbcc",
    "1/2",
    "'",
    "- a",
    "None",
)
JOBS = {**examples(), "new": blank_job(Unit.INCH)}


def done_once(document: Document, drawn: random.Random) -> Document:
    """One thing that some page of the form offers now, done."""
    values = values_of(document.text)
    part = drawn.choice(shown(drawn.choice(PAGES), values) or [None])
    if part is None:
        return document
    if isinstance(part, Adding):
        group, path = part.group, part.path
        return document.done(lambda text, _: changes.with_item(text, group, path, "New one"))
    if part.number is not None and drawn.random() < 0.25:
        if part.group.thing == "window" and drawn.random() < 0.5:
            return document.done(lambda text, _: changes.with_copy(text, part.path, changes.other_name(values, "W")))
        if values.count(part.path[:-1]) > part.group.least:
            return document.done(lambda text, _: changes.without(text, part.path))
    return chosen(document, part, drawn)


def chosen(document: Document, part: Block, drawn: random.Random) -> Document:
    """A field typed into, a choice made or a switch thrown."""
    item = drawn.choice(part.items)
    if isinstance(item, Switch):
        answer = drawn.choice(item.choices).word
        if item.name == "patterned":
            wanted = plainness.made_patterned if answer == "yes" else plainness.made_plain
            return document.done(wanted) if (answer == "yes") != values_of(document.text).patterned else document
        return document.done(lambda text, aside: changes.switched(text, part.path, item, answer, aside))
    assert isinstance(item, Field)
    if item.key == ("units",):
        unit = drawn.choice(list(Unit))
        return document.done(lambda text, _: in_unit(text, unit))
    typed = drawn.choice([choice.word for choice in item.choices] or TYPED)
    return document.typed(
        part.path_of(item), typed, needed=item.needed, paused=drawn.random() < 0.5, listed=item.listed
    )


@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("title", JOBS)
def test_whatever_is_done_in_the_form_can_be_read_and_taken_back(title, seed):
    drawn = random.Random(f"{title} {seed}")
    document = Document(JOBS[title], None, JOBS[title])
    for _ in range(25):
        try:
            document = done_once(document, drawn)
        except CannotEdit as refused:
            pytest.fail(f"{refused.path}: {document.text}")
        complaints(document.text)
        assert not document.rewritten
    while document.before:
        document = document.undone()
    assert document.text == JOBS[title]
