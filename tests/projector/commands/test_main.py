import importlib
import tempfile

import pytest

from projector.commands.main import COMMANDS
from projector.commands.shared.errors import InputAtFault, report
from tests.projector.commands.running import READING_ROOM, modules_after, run

HELP = (
    "import contextlib, io\n"
    "from projector.commands.main import lightchalk\n"
    "with contextlib.redirect_stdout(io.StringIO()): lightchalk(['--help'], standalone_mode=False)"
)


def test_help_loads_neither_the_window_library_nor_numpy():
    loaded = modules_after(HELP)
    assert "projector.commands.main" in loaded
    assert not loaded & {"pygame", "numpy", "yaml", "PIL", "fontTools"}


@pytest.mark.parametrize("name", COMMANDS)
def test_the_list_says_of_each_command_what_its_own_help_begins_with(name):
    command = importlib.import_module(f"projector.commands.{name}").command
    assert command.name == name
    assert command.help.splitlines()[0] == COMMANDS[name]
    assert command.epilog.startswith("Example: lightchalk " + name)


@pytest.mark.parametrize("name", [name for name in COMMANDS if name not in ("calibrate", "cut", "demo", "displays")])
def test_only_commands_that_open_windows_load_the_window_library(name):
    loaded = modules_after(f"import projector.commands.{name}")
    assert not loaded & {"pygame", "numpy"}


def test_wrong_usage_exits_with_two_and_says_so():
    ran = run("plan")
    assert ran.code == 2
    assert "JOB" in ran.err
    assert run("no-such-command").code == 2


@pytest.mark.parametrize("port", ["99999", "-1"])
def test_a_port_that_is_none_is_refused_with_what_to_do(port):
    ran = run("open", "--no-browser", "--port", port)
    assert ran.code == 1
    assert (
        ran.err
        == f"port {port} cannot be used (a port is a number from 1 to 65535); leave --port out to have one chosen\n"
    )


def test_a_file_that_is_no_job_is_not_served(tmp_path):
    (tmp_path / "a.yaml").write_text("job: [")
    ran = run("open", str(tmp_path / "a.yaml"))
    assert ran.code == 1
    assert "a.yaml:2:1: file: the layout breaks here" in ran.err


def test_a_missing_file_exits_with_one_line():
    ran = run("plan", "nowhere.yaml")
    assert ran.code == 1
    assert ran.out == ""
    assert ran.err.startswith("nowhere.yaml:1:1: ")


def test_a_fault_of_the_program_says_how_to_report_it(tmp_path, monkeypatch, capsys):
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    assert report(lambda: 1 / 0) == 3
    said = capsys.readouterr().err
    (trace,) = tmp_path.iterdir()
    assert str(trace) in said
    assert "Traceback" not in said
    assert "ZeroDivisionError" in trace.read_text()


def test_an_interrupt_exits_with_130(capsys):
    def interrupted():
        raise KeyboardInterrupt

    assert report(interrupted) == 130


def test_faults_of_the_input_are_one_line_each(capsys):
    def refused():
        raise InputAtFault("a.yaml:1:2: cloth: x; y", "a.yaml:3:4: windows: z; w")

    assert report(refused) == 1
    assert capsys.readouterr().err == "a.yaml:1:2: cloth: x; y\na.yaml:3:4: windows: z; w\n"


def test_the_version_is_told():
    assert run("--version").out.startswith("lightchalk ")


def test_an_order_loads_no_words_of_refusals_no_planner_and_nothing_that_only_a_refusal_needs():
    words = ["lightchalk", "order", str(READING_ROOM)]
    loaded = modules_after(
        f"import os; sys.argv = {words!r}; sys.stdout = open(os.devnull, 'w')\n"
        "from projector.commands.main import lightchalk; lightchalk(standalone_mode=False)"
    )
    assert "jobs.ordering.order" in loaded
    assert not loaded & {
        "projector.words.wording", "jobs.planning.planner", "jobs.journal", "difflib", "numpy", "PIL", "fontTools",
    }  # fmt: skip
