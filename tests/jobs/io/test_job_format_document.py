"""The document of the job format: its examples are read, its keys are the keys, its problem is the program's."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path

import pytest

from jobs.io.reader import parse_job
from jobs.model.choices import Symmetry, Unit
from jobs.model.groups import GROUPS
from jobs.model.job import Job
from jobs.model.lengths import parse_length
from jobs.model.schema import walk
from projector.words.reference import TABLES, with_tables
from projector.words.wording import file_lines
from tests.jobs.io.texts import changed, refusal_of

DOCUMENT = (Path(__file__).parents[3] / "docs" / "job-format.md").read_text(encoding="utf-8")
EXAMPLES = re.findall(r"^```yaml\n(.*?)^```", DOCUMENT, re.MULTILINE | re.DOTALL)


def test_the_document_has_examples() -> None:
    assert len(EXAMPLES) == 4


@pytest.mark.parametrize("example", EXAMPLES, ids=range(len(EXAMPLES)))
def test_every_example_of_the_document_is_read(example: str) -> None:
    assert parse_job(example, "document").windows


def test_the_whole_example_leaves_nothing_to_be_assumed() -> None:
    assert parse_job(EXAMPLES[0], "document").notices == ()


def test_the_group_example_is_set_as_the_document_says() -> None:
    sheet = parse_job(EXAMPLES[2], "document").cloth.print
    assert (sheet.top_to_bottom, sheet.side_to_side, sheet.half_turn) == (Symmetry.MIRROR, Symmetry.GLIDE, True)


def test_the_tables_are_those_that_the_keys_make() -> None:
    # Where this fails: write what `with_tables` makes of the page into it.
    assert with_tables(DOCUMENT) == DOCUMENT
    assert [name for name in TABLES if f"<!-- keys: {name} -->" not in DOCUMENT] == []


def test_every_key_of_the_job_has_its_row() -> None:
    for path, key in walk(Job):
        assert re.search(rf"^\| `([a-z_]+: )?{key.name}`", DOCUMENT, re.MULTILINE), path


def test_every_group_is_listed() -> None:
    for group in GROUPS:
        assert re.search(rf"`[^`]*\b{group}\b[^`]*`", DOCUMENT), group


def test_the_lengths_of_the_document_are_lengths() -> None:
    table = DOCUMENT[DOCUMENT.index("## How lengths") : DOCUMENT.index("Lengths are kept exactly")]
    written = [text for row in table.splitlines()[4:] for text in re.findall(r"`([^`]+)`", row)]
    assert len(written) == 17
    for text in written:
        assert parse_length(text, Unit.INCH) > 0
    assert parse_length("90/10", Unit.INCH) == Fraction(9)


def test_the_problem_shown_is_the_one_the_program_reports() -> None:
    (line,) = file_lines(refusal_of(changed("selvedge: 1/2", "selvedge: -3/4")))
    assert line in DOCUMENT
