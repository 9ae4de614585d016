"""Colour only where a person sees it, and names completed by the shell."""

import os
import pty
import subprocess
import sys

import pytest

from projector.commands.loading import yaml_files
from tests.projector.commands.running import modules_after

RUN = [sys.executable, "-c", "from projector.commands.main import run; run()"]
RED, BOLD = "\x1b[31m", "\x1b[1m"


def surroundings(**more):
    kept = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "TERM")}
    return {**kept, "TERM": "xterm", **more}


def in_a_terminal(*words, **more):
    """What a command shows in a real terminal, standard error included."""
    master, slave = pty.openpty()
    process = subprocess.Popen([*RUN, *words], stdout=slave, stderr=slave, env=surroundings(**more))
    os.close(slave)
    shown = b""
    while True:
        try:
            part = os.read(master, 4096)
        except OSError:  # a Linux terminal whose program has ended
            break
        if not part:
            break
        shown += part
    process.wait(20)
    os.close(master)
    return shown.decode()


def completed(*words):
    """What the shell is offered for the last of these words."""
    more = {"_LIGHTCHALK_COMPLETE": "bash_complete", "COMP_WORDS": " ".join(words), "COMP_CWORD": str(len(words) - 1)}
    done = subprocess.run(RUN, env=surroundings(**more), capture_output=True, text=True, check=True)
    return done.stdout.splitlines()


def test_refusals_are_red_in_a_terminal_and_plain_in_a_pipe():
    assert in_a_terminal("order", "nowhere.yaml").startswith(RED + "nowhere.yaml:1:1: ")
    piped = subprocess.run([*RUN, "order", "nowhere.yaml"], env=surroundings(), capture_output=True, text=True)
    assert piped.returncode == 1
    assert piped.stderr.startswith("nowhere.yaml:1:1: ")


def test_headings_are_bold_in_a_terminal_and_plain_in_a_pipe():
    words = ("check", "jobs/examples/potting_shed.yaml")
    assert in_a_terminal(*words).startswith(BOLD)
    piped = subprocess.run([*RUN, *words], env=surroundings(), capture_output=True, text=True, check=True)
    assert "\x1b" not in piped.stdout


@pytest.mark.parametrize("more", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_who_asks_for_no_colour_gets_none(more):
    assert "\x1b" not in in_a_terminal("order", "nowhere.yaml", **more)
    assert "\x1b" not in in_a_terminal("check", "jobs/examples/potting_shed.yaml", **more)


def test_commands_options_and_job_files_are_completed():
    assert completed("lightchalk", "or") == ["plain,order"]
    assert completed("lightchalk", "--vers") == ["plain,--version"]
    assert completed("lightchalk", "order", "jobs/examples/pot") == ["plain,jobs/examples/potting_shed.yaml"]
    # Where no YAML file begins so, the shell is left to complete folders and files itself.
    assert completed("lightchalk", "order", "jobs/exa") == ["file,jobs/exa"]


def test_completing_a_command_imports_none_of_them():
    loaded = modules_after(
        "import contextlib, io, os\n"
        "os.environ.update(_LIGHTCHALK_COMPLETE='bash_complete', COMP_WORDS='lightchalk o', COMP_CWORD='1')\n"
        "from projector.commands.main import run\n"
        "with contextlib.suppress(SystemExit), contextlib.redirect_stdout(io.StringIO()): run()"
    )
    assert "projector.commands.main" in loaded
    assert not {name for name in loaded if name.startswith("projector.commands.order")}
    assert not loaded & {"pygame", "numpy", "yaml"}


def test_only_yaml_files_of_the_folder_are_offered_and_hidden_ones_only_when_begun(tmp_path):
    for name in ("bay.yaml", "barn.yml", "bay.txt", ".kept.yaml"):
        (tmp_path / name).touch()
    assert yaml_files(f"{tmp_path}/") == [f"{tmp_path}/barn.yml", f"{tmp_path}/bay.yaml"]
    assert yaml_files(f"{tmp_path}/bay") == [f"{tmp_path}/bay.yaml"]
    assert yaml_files(f"{tmp_path}/.k") == [f"{tmp_path}/.kept.yaml"]
    assert yaml_files(f"{tmp_path}/nowhere/") == []
