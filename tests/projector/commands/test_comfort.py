"""Colour only where a person sees it, and names completed by the shell."""

import os
import pty
import re
import subprocess
import sys

import pytest

from projector.commands.shared.options import yaml_files
from tests.projector.commands.running import modules_after, run

RUN = [sys.executable, "-c", "from projector.commands.main import run; run()"]
RED, BOLD, HEADING = "\x1b[31m", "\x1b[1m", "\x1b[36m\x1b[1m"


def surroundings(**more):
    kept = {name: value for name, value in os.environ.items() if name not in ("NO_COLOR", "TERM")}
    return {**kept, "TERM": "xterm", **more}


def in_a_terminal(*words, program=None, **more):
    """What a command, or a program of a few lines, shows in a real terminal, standard error included."""
    ran = [sys.executable, "-c", program] if program else [*RUN, *words]
    master, slave = pty.openpty()
    process = subprocess.Popen(ran, stdout=slave, stderr=slave, env=surroundings(**more))
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
    process.wait()
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


@pytest.mark.parametrize(
    ("words", "shown"),
    [
        (("check",), ["Potting-shed doors", "Cloth:", "Window:", "Table:"]),
        (("order",), ["Potting-shed doors: Oat linen, plain"]),
        (("plan",), ["Potting-shed doors: Oat linen, plain"]),
        (("status",), ["Potting-shed doors: 0 of 3 cuts done"]),
    ],
    ids=["check", "order", "plan", "status"],
)
def test_headings_are_coloured_in_a_terminal_and_plain_in_a_pipe(words, shown):
    words = (*words, "jobs/examples/potting_shed.yaml")
    seen = in_a_terminal(*words)
    for heading in shown:
        assert f"{HEADING}{heading}\x1b[0m" in seen
    piped = subprocess.run([*RUN, *words], env=surroundings(), capture_output=True, text=True, check=True)
    assert "\x1b" not in piped.stdout
    assert re.sub(r"\x1b\[\d+m", "", seen).replace("\r", "") == piped.stdout


def test_what_to_buy_and_what_is_next_stand_out():
    assert f"{BOLD}To buy: " in in_a_terminal("order", "jobs/examples/potting_shed.yaml")
    assert f"{BOLD}  next  " in in_a_terminal("status", "jobs/examples/potting_shed.yaml")


@pytest.mark.parametrize("more", [{"NO_COLOR": "1"}, {"TERM": "dumb"}])
def test_who_asks_for_no_colour_gets_none(more):
    assert "\x1b" not in in_a_terminal("order", "nowhere.yaml", **more)
    assert "\x1b" not in in_a_terminal("check", "jobs/examples/potting_shed.yaml", **more)


def test_a_long_work_is_shown_in_a_terminal_and_taken_away_and_never_in_a_pipe():
    program = (
        "from projector.commands.shared.terminal import watching\n"
        "with watching('Writing pages', patience_s=0.0) as tell:\n"
        "    print(tell is None)\n"
        "    tell and tell(3, 9)\n"
    )
    seen = in_a_terminal(program=program)
    assert "\r\x1b[KWriting pages: 3 of 9\r\x1b[K" in seen
    piped = subprocess.run([sys.executable, "-c", program], env=surroundings(), capture_output=True, text=True)
    assert (piped.stdout, piped.stderr) == ("True\n", "")


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("oder", "There is no command oder; did you mean order?"),
        ("pictures", "did you mean picture?"),
        ("zzz", "There is no command zzz; lightchalk --help lists them."),
        ("bay.yaml", "bay.yaml is no command; say what to do with it, such as: lightchalk check bay.yaml"),
    ],
)
def test_a_name_of_no_command_is_answered_with_the_one_that_was_meant(typed, answer):
    ran = run(typed)
    assert (ran.code, ran.out) == (2, "")
    assert answer in ran.err


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
