"""Every example command of the documents and of the help is run, or where it asks a person, understood."""

import re
import shlex
import shutil
from importlib import import_module
from pathlib import Path

import click
import numpy as np
import pytest
from PIL import Image

from projector.commands.main import COMMANDS
from tests.docs.first_hour import HERE as FIRST_HOUR
from tests.docs.first_hour import TYPED, talk
from tests.docs.test_documents import PAGES, ROOT, commands_in
from tests.projector.commands.running import EXAMPLES, run

PARLOUR = FIRST_HOUR / "parlour.yaml"
POINTS = (
    "units: in\npoints:\n  - {row: 0, column: 0, table: [3.2, 5.1]}\n  - {row: 4, column: 2, table: [52.7, 31.6]}\n"
)
JOB = "jobs/examples/reading_room.yaml"
STAND_INS = {"JOB": JOB, "PHOTO": "cloth.png", "N": "40"}
CHECKED = ("first-job.md", "first-hour.md", "whole-house.md")
"""Documents whose commands are run for what they print."""


def blocks(path: Path) -> list[str]:
    """Commands that stand on a line of their own in a block of the document."""
    held = re.findall(r"^```[a-z]*\n(.*?)^```", path.read_text(encoding="utf-8"), re.M | re.S)
    begins = "lightchalk " if path.name in CHECKED else ("lightchalk ", "$ lightchalk ")
    return [line.removeprefix("$ ") for block in held for line in block.splitlines() if line.startswith(begins)]


def inline(path: Path) -> list[str]:
    """Commands within a sentence, those that name a command and something to do it with."""
    return re.findall(r"`(lightchalk [a-z]+ [^`\n|]+)`", path.read_text(encoding="utf-8"))


def help_examples() -> list[str]:
    found = []
    for name in COMMANDS:
        command = import_module(f"projector.commands.{name}").command
        assert command.epilog, f"{name} has no example in its help"
        assert command.epilog.startswith(f"Example: lightchalk {name}"), name
        found.append(command.epilog.removeprefix("Example: "))
    return found


def documents() -> list[tuple[str, str]]:
    pages = [path for path in PAGES if path.name not in ("commands.md", "changelog.md")]
    found = [(path.name, line) for path in pages for line in dict.fromkeys([*blocks(path), *inline(path)])]
    return [*found, *(("help", line) for line in help_examples())]


def asks_a_person(words: list[str]) -> bool:
    """Whether the command opens a window, asks at the terminal, or depends on the screens there are.

    The pictures of the demo are tried with the command itself, for they take long; so are those measured in page.jpg,
    with the photograph that its document is about.
    """
    name = words[0]
    return (
        name in ("cut", "open", "demo", "new", "displays")
        or "page.jpg" in words
        or (name == "calibrate" and "--marks" not in words)
        or (name == "tape" and "--readings" not in words)
    )


@pytest.fixture(scope="module")
def desk(tmp_path_factory):
    """A folder with what the examples name."""
    folder = tmp_path_factory.mktemp("desk")
    (folder / "jobs").mkdir()
    shutil.copytree(EXAMPLES, folder / "jobs" / "examples")
    for path in (EXAMPLES / "reading_room.yaml", ROOT / "docs" / "first-job" / "marks.yaml", PARLOUR):
        shutil.copy(path, folder)
    shutil.copy(EXAMPLES / "ferry_lane.yaml", folder / "ferry.yaml")
    (folder / "points.yaml").write_text(POINTS)
    y, x = np.mgrid[:1000, :2900]
    waves = 90 + 60 * np.sin(2 * np.pi * x / 290) * np.cos(2 * np.pi * y / 175) + 30 * np.sin(2 * np.pi * y / 175)
    for name in ("cloth.png", "cloth.jpg"):
        Image.fromarray(np.repeat(waves.astype(np.uint8)[..., None], 3, 2)).save(folder / name)
    shutil.copy(folder / "cloth.png", folder / "tile.png")
    assert run("calibrate", folder / "table.yaml", "--marks", folder / "marks.yaml").code == 0
    return folder


@pytest.mark.parametrize(("where", "line"), documents())
def test_an_example_of_a_document_runs_or_is_understood(where, line, desk, monkeypatch):
    monkeypatch.chdir(desk)
    words = [STAND_INS.get(word, word) for word in shlex.split(line)[1:]]
    words = [("points.yaml" if "--points" in words else JOB) if word == "FILE" else word for word in words]
    command = import_module(f"projector.commands.{words[0]}").command
    if re.fullmatch(r"lightchalk \w+ --[a-z-]+", line):  # an option that a sentence names with its command
        assert any(words[1] in option.opts for option in command.params)
        return
    if asks_a_person(words):
        assert isinstance(command.make_context(words[0], words[1:]), click.Context)
        return
    ran = run(*words)
    assert ran.code == 0, (where, line, ran.err)


@pytest.mark.parametrize("name", ["first-hour", "whole-house"])
def test_what_a_document_says_a_command_prints_is_what_it_prints(name, desk, monkeypatch):
    monkeypatch.chdir(desk)
    found = commands_in(ROOT / "docs" / f"{name}.md")
    assert len(found) >= 3
    for command, printed in found:
        ran = run(*shlex.split(command)[1:])
        assert ran.code == 0, ran.err
        for line in printed.rstrip().splitlines():
            assert line.rstrip() in (*ran.out.splitlines(), "...", "", "```"), (command, line)


def test_the_job_of_the_first_hour_is_what_its_answers_make_and_all_answers_are_in_the_document(tmp_path):
    shown = talk(tmp_path / "parlour.yaml")
    assert (tmp_path / "parlour.yaml").read_text() == PARLOUR.read_text()
    assert "To buy so far: 6 1/4 yd" in shown
    table = re.findall(r"^\| .*? \| (.*) \|$", (FIRST_HOUR.parent / "first-hour.md").read_text(), re.M)
    said = [answer for row in table for answer in re.findall(r"`([^`]*)`", row)]
    assert said == [answer for answer in TYPED if answer]
