import re
from pathlib import Path

import pytest

from jobs.io.reader import parse_job
from tests.docs.commands_page import page
from tests.projector.commands.running import run

ROOT = Path(__file__).parents[2]
PAGES = sorted([ROOT / "README.md", ROOT / "DEVELOPERS.md", *(ROOT / "docs").rglob("*.md")])


def test_the_page_of_commands_is_what_help_says(monkeypatch):
    monkeypatch.setenv("COLUMNS", "100")
    assert (ROOT / "docs" / "commands.md").read_text(encoding="utf-8") == page()


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_link_and_picture_of_a_document_is_there(path):
    for target in re.findall(r"\]\(([^)#\s]+)[^)]*\)", path.read_text(encoding="utf-8")):
        if not target.startswith("http"):
            assert (path.parent / target).exists(), target


def test_the_readme_opens_with_the_job_and_gives_two_commands_that_set_themselves_up():
    text = (ROOT / "README.md").read_text(encoding="utf-8")
    paragraph = text.split("\n\n")[1]
    for word in ("window", "cut", "repeat", "table", "mirror", "light"):
        assert word in paragraph.replace("faces the other way", "mirror")
    for name, last in (("demo", "lightchalk demo"), ("test", "python -m pytest")):
        found = re.search(rf"<!-- the {name} command -->\s*```sh\n(.*?)\n```", text, re.S)
        assert found
        assert found[1].startswith("python3 -m venv .venv && ")
        assert found[1].endswith(last)


def test_the_top_level_holds_what_it_should_and_nothing_else():
    import subprocess

    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout.split(
        "\n"
    )
    top = {name.split("/")[0] for name in tracked if name}
    named = {"README.md", "DEVELOPERS.md", "pyproject.toml", "projector", "calibration", "tests", "jobs", "docs"}
    assert {name for name in top if not name.startswith(".")} == named


def commands_in(path: Path) -> list[str]:
    """The lines of a document that begin with ``$ lightchalk``, and what it says they print."""
    return re.findall(r"^\$ (lightchalk .*)\n((?:(?!\$ |```).*\n)*)", path.read_text(encoding="utf-8"), re.M)


def test_what_the_first_job_says_a_command_prints_is_what_it_prints(tmp_path, monkeypatch):
    (tmp_path / "reading_room.yaml").write_text((ROOT / "jobs" / "examples" / "reading_room.yaml").read_text())
    (tmp_path / "marks.yaml").write_text((ROOT / "docs" / "first-job" / "marks.yaml").read_text())
    monkeypatch.chdir(tmp_path)
    found = commands_in(ROOT / "docs" / "first-job.md")
    assert len(found) >= 5
    for command, printed in found:
        ran = run(*command.split()[1:])
        assert ran.err == "", command
        shown = [line.rstrip() for line in printed.rstrip().splitlines() if line.strip() != "..."]
        said = re.sub(r"calibrated \d{4}-\d\d-\d\d", "calibrated 2026-11-25", ran.out)
        for line in shown:
            assert line in said.splitlines(), (command, line)


def test_the_example_jobs_are_read_without_a_problem():
    for path in (ROOT / "jobs" / "examples").glob("*.yaml"):
        assert parse_job(path.read_text(encoding="utf-8"), str(path)).windows
