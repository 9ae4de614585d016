"""What the page on new jobs shows is what the program shows."""

import io
import sys
from pathlib import Path

from tests.projector.commands.running import run
from tests.projector.questions.scripts import INCHES

PAGE = Path(__file__).parents[2] / "docs" / "new-job.md"


def test_the_pair_and_the_order_of_the_page_are_those_of_the_talk(tmp_path, monkeypatch):
    monkeypatch.setattr(sys, "stdin", io.StringIO("".join(f"{line}\n" for line in [*INCHES, ""])))
    out = run("new", tmp_path / "parlour.yaml").out
    (shown,) = [block for block in PAGE.read_text(encoding="utf-8").split("```\n") if "finished" in block]
    assert shown.rstrip() in out


def test_the_shells_of_the_page_are_those_for_which_completion_can_be_made(monkeypatch):
    import subprocess

    from click.shell_completion import get_completion_class

    page = PAGE.read_text(encoding="utf-8")
    program = "from projector.commands.main import run; run()"
    for shell in ("bash", "zsh", "fish"):
        assert f"_LIGHTCHALK_COMPLETE={shell}_source lightchalk" in page
        assert get_completion_class(shell) is not None
    monkeypatch.setenv("_LIGHTCHALK_COMPLETE", "zsh_source")
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True, check=True)
    assert "_LIGHTCHALK_COMPLETE=zsh_complete" in done.stdout
