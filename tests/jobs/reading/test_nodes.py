"""Files that are not what they should be: bombs, other encodings, broken layout; and any mutation of a good job."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from jobs.job import Job
from jobs.reading.job_file import parse_job, read_job
from jobs.reading.nodes import DEEPEST, Mapping, Scalar, Sequence, parse
from jobs.reading.problems import MOST_PROBLEMS, Log, Problems
from tests.jobs.reading.texts import SMALL, only_problem_of, problems_of


def refusal_of(path: Path) -> str:
    with pytest.raises(Problems) as caught:
        read_job(path)
    return str(caught.value)


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
    assert "too deep" in only_problem_of(text) or "far too long" in only_problem_of(text)


def test_depth_is_refused_one_step_beyond_the_deepest() -> None:
    assert "too deep" in only_problem_of("[" * (DEEPEST + 1) + "]" * (DEEPEST + 1))
    assert "too deep" not in only_problem_of("[" * DEEPEST + "]" * DEEPEST)


def test_a_bomb_of_references_is_refused() -> None:
    lines = ["a0: &a0 [x, x, x, x, x, x, x, x, x]"]
    lines += [f"a{n}: &a{n} [{', '.join([f'*a{n - 1}'] * 9)}]" for n in range(1, 12)]
    problems = problems_of("\n".join(lines))
    assert any("reference" in problem.what for problem in problems)
    assert len(problems) <= MOST_PROBLEMS + 1


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "empty"),
        ("# only a comment\n", "empty"),
        ("just words", "keys with values belong here"),
        ("[1, 2]", "keys with values belong here"),
        ("job: a: b", "layout breaks here"),
        ("job: [1, 2", "layout breaks here"),
        ("\tjob: 1", "layout breaks here"),
        ("job: 'a", "layout breaks here"),
        ("? [a]\n: b", "single word"),
        (SMALL + "---\n" + SMALL, "second document"),
        ("job: \x07", "control character (code 0x07)"),
        ("job: \u2028", "control character"),
        ("job: " + "x" * 200_000, "far too long"),
        ("job: x\n" * 300_000, "over 1 MB"),
    ],
)
def test_text_that_is_no_job_is_refused(text: str, says: str) -> None:
    assert says in only_problem_of(text)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        (SMALL.replace("54", "!!int 54", 1), "a tag (!)"),
        (SMALL.replace("54", "&w 54", 1), "an anchor (&)"),
        (SMALL.replace("width: 54", "<<: {width: 54}", 1), "not known"),
        (SMALL.replace("Landing", '"a\\0b"', 1), "hidden characters"),
        (SMALL.replace("Landing", "a\u202eb", 1), "hidden characters"),
        (SMALL.replace("Landing", "x" * 200, 1), "too long"),
    ],
)
def test_what_plain_words_do_not_need_is_refused(text: str, says: str) -> None:
    assert any(says in str(problem) for problem in problems_of(text))


def test_many_problems_end_with_a_bound() -> None:
    problems = problems_of("\n".join(f"key{n}: 1" for n in range(5000)))
    assert len(problems) == MOST_PROBLEMS + 1
    assert problems[-1].what == "too many problems"


def test_a_huge_file_is_refused_by_its_size_on_disk(tmp_path: Path) -> None:
    path = tmp_path / "huge.yaml"
    with path.open("wb") as stream:
        stream.truncate(30_000_000_000)
    assert "over 1 MB" in refusal_of(path)


@pytest.mark.parametrize(
    ("data", "says"),
    [
        (b"\x00\x01\x02", "1:1: file: a control character"),
        (b"job: x\ncloth: \xff\xfe", "2:8: file: a character here is not UTF-8"),
        (SMALL.encode("utf-16"), "another encoding"),
        (b"", "empty"),
    ],
)
def test_files_that_are_not_text_are_refused_with_the_place(tmp_path: Path, data: bytes, says: str) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(data)
    assert says in refusal_of(path)


def test_a_byte_order_mark_and_other_line_ends_are_taken(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("\n", "\r\n").encode())
    assert read_job(path) == parse_job(SMALL, "f")
    path.write_bytes(b"\xef\xbb\xbf" + SMALL.replace("width: 54", "width: x").replace("\n", "\r\n").encode())
    assert "job.yaml:4:10: " in refusal_of(path)


def test_missing_files_and_folders_are_refused(tmp_path: Path) -> None:
    assert "no such file" in refusal_of(tmp_path / "none.yaml")
    assert "not a file" in refusal_of(tmp_path)
    assert "cannot be read" in refusal_of(tmp_path / ("x" * 5000))
    assert "cannot be read" in refusal_of(tmp_path / "a\x00b")
    assert refusal_of(tmp_path / "a\nb.yaml").count("\n") == 0


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
        said = ""
        try:
            assert isinstance(parse_job(text, "f"), Job)
            kinds["job"] += 1
        except Problems as problems:
            kinds["problems"] += 1
            said = str(problems)
        assert said.encode("utf-8").decode().replace("\n", "").isprintable()
    assert min(kinds.values()) > 20, kinds
