"""The form library stays at the rim: the folder of the window imports it, nothing else does when it is loaded."""

import ast
import os
import subprocess
import sys
from importlib.util import find_spec
from pathlib import Path

from tests.projector.commands.running import modules_after
from tests.projector.commands.test_main import HELP

ROOT = Path(__file__).parents[3]
HOME = Path("projector/desk/window")


def imports_tkinter(path: Path) -> bool:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        names = [alias.name for alias in node.names] if isinstance(node, ast.Import) else []
        names += [node.module or ""] if isinstance(node, ast.ImportFrom) else []
        if any(name.split(".")[0] == "tkinter" for name in names):
            return True
    return False


def test_only_the_window_imports_the_form_library():
    rooms = ("calibration", "jobs", "projector")
    paths = [path for room in rooms for path in (ROOT / room).rglob("*.py")]
    found = {path.relative_to(ROOT) for path in paths if "tkinter" in path.read_text() and imports_tkinter(path)}
    assert {path for path in found if path.parent != HOME} == {Path("projector/desk/opening.py")}
    assert len(found) > 5


def test_neither_the_help_nor_the_command_loads_the_form_library():
    assert not {"tkinter", "projector.desk"} & modules_after(HELP)
    loaded = modules_after("import projector.commands.desk, projector.desk.opening, projector.page.form.document")
    assert not {"tkinter", "pygame"} & loaded


def test_without_the_form_library_a_sentence_tells_what_to_install():
    program = (
        "import sys; sys.modules['tkinter'] = None; sys.argv[1:] = ['desk'];"
        "from projector.commands.main import run; run()"
    )
    done = subprocess.run([sys.executable, "-c", program], capture_output=True, text=True)
    assert done.returncode == 1
    assert "apt install python3-tk" in done.stderr
    assert "Traceback" not in done.stderr


def test_without_a_screen_a_sentence_and_the_help_are_shown():
    seen = {name: value for name, value in os.environ.items() if name not in ("DISPLAY", "WAYLAND_DISPLAY")}
    command = [sys.executable, "-m", "projector.commands.main"]
    done = subprocess.run(command, env=seen, capture_output=True, text=True, cwd=ROOT)
    assert done.returncode == 2
    assert "Usage: lightchalk" in done.stdout
    missing = "no screen was found for the window" if find_spec("tkinter") else "apt install python3-tk"
    assert missing in done.stderr
    assert len(done.stderr.strip().splitlines()) == 1
