"""Files that are not what they should be: bombs, other encodings, broken layout; and any mutation of a good job."""

from __future__ import annotations

import random
from enum import StrEnum
from pathlib import Path

import pytest

from jobs.io.log import MOST_PROBLEMS, FileRefused, Log, Place
from jobs.io.nodes import DEEPEST, Mapping, Scalar, Sequence, parse
from jobs.io.reader import parse_job, read_job
from jobs.model.job import Job
from jobs.model.problems import Code
from projector.words.wording import file_lines
from tests.jobs.io.texts import SMALL, at, only_problem_of, problems_of


def refusal_of(path: Path) -> FileRefused:
    with pytest.raises(FileRefused) as caught:
        read_job(path)
    return caught.value


def code_of(path: Path) -> StrEnum:
    (found,) = refusal_of(path).problems
    return found.code


def test_nodes_know_their_place_also_after_letters_of_other_scripts() -> None:
    root = parse("é: [1, 'ü', {b: 𝛼}]\nd: |\n  two\n  lines\n", Log("f"))
    assert isinstance(root, Mapping)
    key, value = root.entries[0]
    assert (key.text, key.place.line, key.place.column) == ("é", 1, 1)
    assert isinstance(value, Sequence)
    one, quoted, inner = value.items
    assert isinstance(one, Scalar)
    assert isinstance(quoted, Scalar)
    assert isinstance(inner, Mapping)
    assert (one.plain, quoted.plain) == (True, False)
    assert [item.place.column for item in value.items] == [5, 8, 13]
    assert inner.entries[0][1].place.column == 17
    assert root.entries[1][1].place.line == 2


@pytest.mark.parametrize(
    "text",
    ["[" * 100_000, "{a: " * 100_000, "- " * 100_000, "a:\n" + "".join(" " * n + "a:\n" for n in range(1, 900))],
    ids=["brackets", "braces", "dashes", "indents"],
)
def test_depth_is_refused_without_exhausting_the_stack(text: str) -> None:
    assert only_problem_of(text).code in (Code.TOO_DEEP, Code.LINE_TOO_LONG)


def test_depth_is_refused_one_step_beyond_the_deepest() -> None:
    assert only_problem_of("[" * (DEEPEST + 1) + "]" * (DEEPEST + 1)).code is Code.TOO_DEEP
    assert only_problem_of("[" * DEEPEST + "]" * DEEPEST).code is Code.KEYS_BELONG_HERE


def test_a_bomb_of_references_is_refused() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    problems = problems_of("\n".join(lines))
    assert any(problem.code is Code.REFERENCE for problem in problems)
    assert len(problems) <= MOST_PROBLEMS + 1


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", Code.EMPTY_FILE),
        ("# only a comment\n", Code.EMPTY_FILE),
        ("just words", Code.KEYS_BELONG_HERE),
        ("[1, 2]", Code.KEYS_BELONG_HERE),
        ("job: a: b", Code.LAYOUT_BROKEN),
        ("job: [1, 2", Code.LAYOUT_BROKEN),
        ("\tjob: 1", Code.LAYOUT_BROKEN),
        ("job: 'a", Code.LAYOUT_BROKEN),
        ("? [a]\n: b", Code.KEY_NOT_SINGLE),
        (SMALL + "---\n" + SMALL, Code.SECOND_DOCUMENT),
        ("job: \x07", Code.CONTROL_CHARACTER),
        ("job: \u2028", Code.CONTROL_CHARACTER),
        ("job: " + "x" * 200_000, Code.LINE_TOO_LONG),
        ("job: x\n" * 300_000, Code.FILE_TOO_LARGE),
    ],
)
def test_text_that_is_no_job_is_refused(text: str, code: Code) -> None:
    found = only_problem_of(text)
    assert (found.code, found.path) == (code, ())


def test_a_broken_layout_is_told_where_it_breaks() -> None:
    # The bracket of line 2 is closed by the brace of line 3, its second letter; lines follow.
    with pytest.raises(FileRefused) as caught:
        parse_job("job: x\ncloth: [54,\n }\nunits: in\n", "job.yaml")
    assert caught.value.places == (Place(3, 2),)


@pytest.mark.parametrize(
    ("text", "code", "where"),
    [
        (SMALL.replace("54", "!!int 54", 1), Code.TAG, ""),
        (SMALL.replace("54", "&w 54", 1), Code.ANCHOR, ""),
        (SMALL.replace("width: 54", "<<: {width: 54}", 1), Code.UNKNOWN_KEY, "cloth.<<"),
        (SMALL.replace("Landing", '"a\\0b"', 1), Code.HIDDEN_CHARACTERS, "windows.0.name"),
        (SMALL.replace("Landing", "a\u202eb", 1), Code.HIDDEN_CHARACTERS, "windows.0.name"),
        (SMALL.replace("Landing", "x" * 200, 1), Code.NAME_TOO_LONG, "windows.0.name"),
    ],
)
def test_what_plain_words_do_not_need_is_refused(text: str, code: Code, where: str) -> None:
    first = problems_of(text)[0]
    assert (first.code, at(first)) == (code, where)


def test_many_problems_end_with_a_bound() -> None:
    problems = problems_of("\n".join(f"key{n}: 1" for n in range(5000)))
    assert len(problems) == MOST_PROBLEMS + 1
    assert problems[-1].code is Code.TOO_MANY_PROBLEMS


def test_a_huge_file_is_refused_by_its_size_on_disk(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as stream:
        stream.truncate(30_000_000_000)
    assert code_of(path) is Code.FILE_TOO_LARGE


@pytest.mark.parametrize(
    ("data", "code", "place"),
    [
        (b"\x00\x01\x02", Code.CONTROL_CHARACTER, Place(1, 1)),
        (b"job: x\ncloth: \xff\xfe", Code.NOT_UTF8, Place(2, 8)),
        (SMALL.encode("utf-16"), Code.OTHER_ENCODING, Place(1, 1)),
        (b"", Code.EMPTY_FILE, Place(1, 1)),
    ],
)
def test_files_that_are_not_text_are_refused(tmp_path: Path, data: bytes, code: Code, place: Place) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(data)
    refusal = refusal_of(path)
    assert (refusal.problems[0].code, refusal.places[0]) == (code, place)


def test_a_byte_order_mark_and_other_line_ends_are_taken(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    assert read_job(path) == parse_job(SMALL, "f")
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("width: 54", "width: x").replace("\n", "\r\n").encode())
    assert refusal_of(path).places == (Place(4, 10),)


def test_missing_files_and_folders_are_refused(tmp_path: Path) -> None:
    assert code_of(tmp_path / "none.yaml") is Code.NO_SUCH_FILE
    assert code_of(tmp_path) is Code.NOT_A_FILE
    assert code_of(tmp_path / ("x" * 5000)) is Code.CANNOT_BE_READ
    assert code_of(tmp_path / "a\x00b") is Code.CANNOT_BE_READ


def test_any_mutation_of_a_job_gives_a_job_or_problems() -> None:
    chance = random.Random(20)
    scraps = [
        "",
        "[",
        "]",
        "{",
        "}",
        ":",
        "- ",
        "\n",
        "  ",
        "*a",
        "&a ",
        "!!x ",
        "'",
        '"',
        "#",
        "\x00",
        "é",
        "1e9999",
        "~",
    ]
    scraps += [
        "-1",
        "1/0",
        "null",
        "true",
        "9" * 80,
        "\t",
        "? ",
        "|\n",
        ">",
        "%",
        "@",
        ",",
        "---\n",
        "<<: ",
        "\\ud800",
        "½",
        "\\",
    ]
    kinds = {"job": 0, "problems": 0}
    for _ in range(2000):
        text = SMALL
        for _ in range(chance.randint(1, 4)):
            at = chance.randrange(len(text))
            text = text[:at] + chance.choice(scraps) + text[at + chance.choice([0, 0, 1, 3, 20]) :]
        lines: tuple[str, ...] = ()
        try:
            assert isinstance(parse_job(text, "f"), Job)
            kinds["job"] += 1
        except FileRefused as refused:
            kinds["problems"] += 1
            lines = file_lines(refused)
        assert all(line.encode("utf-8").decode().isprintable() for line in lines)
    assert min(kinds.values()) > 20, kinds
