"""Every command of a document is run in this process, or understood where it asks a person; what it prints is shown."""

import io
import re
import shlex
import shutil
import sys
from importlib import import_module

import click
import numpy as np
import pytest
from PIL import Image

from jobs.journal import JournalFile, journal_path
from jobs.journal.placed import fingerprint
from projector.commands.main import COMMANDS
from projector.commands.shared.planned import load_plan
from tests.docs.first_hour import HERE as FIRST_HOUR
from tests.docs.first_hour import TYPED, talk
from tests.docs.reading import PAGES, ROOT, commands_in, commands_within, text_of, yaml_blocks
from tests.jobs.prints.photographs import desk_lamp
from tests.projector.commands.running import EXAMPLES, READING_ROOM, run
from tests.projector.questions.scripts import INCHES

JOB = "jobs/examples/reading_room.yaml"
STAND_INS = {"JOB": JOB, "PHOTO": "cloth.png", "N": "40"}
FERRY = """job: Ferry
cloth: {width: 54, repeat: {along: 3, across: 2}, print: {top_to_bottom: mirror}}
windows: [{name: Bay, panels: whole, finished_length: 84}]
"""
WITH_COMMANDS = [
    path
    for path in PAGES
    if path.name not in ("commands.md", "changelog.md")
    for text in [path.read_text(encoding="utf-8")]
    if commands_in(text) or commands_within(text)
]


@pytest.fixture
def desk(tmp_path, monkeypatch):
    """The folder a person works in, with what the examples name."""
    shutil.copytree(EXAMPLES, tmp_path / "jobs" / "examples")
    for path in (READING_ROOM, FIRST_HOUR / "parlour.yaml"):
        shutil.copy(path, tmp_path)
    (tmp_path / "ferry.yaml").write_text(FERRY)
    (tmp_path / "marks.yaml").write_text(yaml_blocks(text_of("calibration.md"))[0])
    (tmp_path / "points.yaml").write_text(yaml_blocks(text_of("the-print.md"))[0])
    assert run("calibrate", tmp_path / "table.yaml", "--marks", tmp_path / "marks.yaml").code == 0
    monkeypatch.chdir(tmp_path)
    return tmp_path


def photographed(folder) -> None:
    """A made-up scan of a print for the examples that name one."""
    y, x = np.mgrid[:1000, :2900]
    waves = 90 + 60 * np.sin(2 * np.pi * x / 290) * np.cos(2 * np.pi * y / 175) + 30 * np.sin(2 * np.pi * y / 175)
    photo = Image.fromarray(waves.astype(np.uint8)).convert("RGB")
    for name in ("cloth.png", "cloth.jpg"):
        photo.save(folder / name)
    photo.crop((0, 0, 212, 198)).save(folder / "tile.png")  # as wide to high as the repeat: 13 1/4 to 12 3/8


def half_cut(folder) -> None:
    """The first cut of the reading room is ticked."""
    job = folder / "reading_room.yaml"
    plan = load_plan(job)
    with JournalFile(journal_path(job)) as journal:
        journal.append("done", plan.placements[0].cut.id, fingerprint(plan))


BEFORE = {
    "README.md": photographed,
    "papers.md": photographed,
    "the-print.md": lambda folder: desk_lamp.write_photo(folder / "page.jpg"),
    "at-the-table.md": half_cut,
}
"""What has happened before the commands of a page."""


def words_of(line: str) -> list[str]:
    """The words after ``lightchalk``, with real files for those that stand for any."""
    words = [STAND_INS.get(word, word) for word in shlex.split(line)[1:]]
    return [("points.yaml" if "--points" in words else JOB) if word == "FILE" else word for word in words]


def asks_a_person(words: list[str]) -> bool:
    """Whether the command opens a window, asks at the terminal, or depends on the screens there are.

    The pictures of the demo are tried with the command itself, for they take long.
    """
    return (
        words[0] in ("cut", "open", "demo", "new", "displays")
        or (words[0] == "calibrate" and "--marks" not in words)
        or (words[0] == "table" and "--photo" in words)  # photographs of the lit table, tried with the command itself
        or (words[0] == "tape" and "--readings" not in words)
    )


def try_out(line: str) -> list[str]:
    """Run a line, or have it understood; the lines that it printed. Fails where it is refused."""
    words = words_of(line)
    command = import_module(f"projector.commands.{words[0]}").command
    if re.fullmatch(r"lightchalk \w+ --[a-z-]+", line):  # an option that a sentence names with its command
        assert any(words[1] in option.opts for option in command.params), line
        return []
    if asks_a_person(words):
        assert isinstance(command.make_context(words[0], words[1:]), click.Context)
        return []
    ran = run(*words)
    assert (ran.code, ran.err) == (0, ""), line
    return [said.rstrip() for said in ran.out.splitlines()]


@pytest.mark.parametrize("path", WITH_COMMANDS, ids=lambda path: str(path.relative_to(ROOT)))
def test_the_commands_of_a_document_run_and_print_what_it_shows(path, desk):
    BEFORE.get(path.name, lambda folder: None)(desk)
    text = path.read_text(encoding="utf-8")
    tried = set()
    for line, shown in commands_in(text):
        said = try_out(line)
        tried.add(line)
        if not asks_a_person(words_of(line)):
            assert [one for one in shown if one not in said] == [], (line, said)
    for line in dict.fromkeys(commands_within(text)):
        if line not in tried:
            try_out(line)


def test_the_example_of_each_command_runs(desk):
    photographed(desk)
    for name in COMMANDS:
        example = import_module(f"projector.commands.{name}").command.epilog
        assert example.startswith(f"Example: lightchalk {name}"), name
        try_out(example.removeprefix("Example: "))


def test_the_job_of_the_first_hour_is_what_its_answers_make_and_all_answers_are_in_the_document(tmp_path):
    shown = talk(tmp_path / "parlour.yaml")
    assert (tmp_path / "parlour.yaml").read_text() == (FIRST_HOUR / "parlour.yaml").read_text()
    assert "To buy so far: 6 1/4 yd" in shown
    table = re.findall(r"^\| .*? \| (.*) \|$", text_of("first-hour.md"), re.M)
    said = [answer for row in table for answer in re.findall(r"`([^`]*)`", row)]
    assert said == [answer for answer in TYPED if answer]


def test_the_pair_that_new_draws_in_the_document_is_the_one_it_draws(tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in [*INCHES, ""])))
    out = run("new", tmp_path / "parlour.yaml").out
    (shown,) = [block for block in text_of("job-format.md").split("```\n") if "in finished" in block]
    assert shown.rstrip() in out
