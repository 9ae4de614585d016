import re
import subprocess
import sys

import pytest

from jobs.io.reader import parse_job
from tests.docs.commands_page import PAGE, page
from tests.docs.reading import PAGES, ROOT, text_of
from tests.projector.commands.running import run


def test_the_page_of_commands_is_what_the_commands_make(monkeypatch):
    # Where this fails: python -m tests.docs.commands_page
    monkeypatch.setenv("COLUMNS", "100")
    made = page()
    assert PAGE.read_text(encoding="utf-8") == made
    for words in ((), ("measure",)):
        assert run(*words, "--help").out in made


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_link_and_picture_of_a_document_is_there(path):
    text = path.read_text(encoding="utf-8")
    for target, heading in re.findall(r"\]\(([^)#\s]*)(?:#([^)\s]+))?\)", text):
        if target.startswith("http"):
            continue
        assert (path.parent / target).exists(), target
        if heading:
            page = (path.parent / target if target else path).read_text(encoding="utf-8")
            assert heading in headings(page), f"{target}#{heading}"


def headings(text: str) -> set[str]:
    """The headings of a page as links name them."""
    found = re.findall(r"^#+ (.+)$", text, re.M)
    return {re.sub(r"[^\w\- ]", "", heading.lower()).replace(" ", "-") for heading in found}


def test_no_picture_of_the_documents_is_left_unshown():
    text = "".join(path.read_text(encoding="utf-8") for path in PAGES)
    pictures = [f"{path.parent.name}/{path.name}" for path in (ROOT / "docs").rglob("*.png")]
    assert [picture for picture in pictures if f"{picture})" not in text] == []


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
    tracked = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True).stdout
    top = {name.split("/")[0] for name in tracked.splitlines()}
    named = {"README.md", "DEVELOPERS.md", "pyproject.toml", "projector", "calibration", "tests", "jobs", "docs"}
    assert {name for name in top if not name.startswith(".")} == named


def test_the_example_jobs_are_read_without_a_problem():
    for path in (ROOT / "jobs" / "examples").glob("*.yaml"):
        assert parse_job(path.read_text(encoding="utf-8"), str(path)).windows


def test_names_are_completed_in_the_shells_of_the_page_of_commands(monkeypatch):
    from click.shell_completion import get_completion_class

    for shell in ("bash", "zsh", "fish"):
        assert f"_LIGHTCHALK_COMPLETE={shell}_source lightchalk" in text_of("commands.md")
        assert get_completion_class(shell) is not None
    # The shell's own process: what is asked for stands in its environment.
    monkeypatch.setenv("_LIGHTCHALK_COMPLETE", "zsh_source")
    program = "from projector.commands.main import run; run()"
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert "_LIGHTCHALK_COMPLETE=zsh_complete" in done.stdout
