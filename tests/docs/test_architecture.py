"""What the page on how it is built claims of rooms and imports is what the imports say."""

import ast
import re
from pathlib import Path

import pytest

from tests.docs.reading import PAGES, ROOT, text_of
from tests.docs.rooms import imported, imports_of, modules_in, rooms

TABLE = re.findall(r"^\| `([a-z/]+)` \| (.+?) \| (.*?) ?\| (.*?) ?\|$", text_of("architecture.md"), re.M)


def test_every_room_has_its_line():
    assert sorted(room for room, *_ in TABLE) == sorted(rooms())


@pytest.mark.parametrize(("room", "stands_on", "packages"), [(room, on, more) for room, _, on, more in TABLE])
def test_a_room_imports_what_the_page_says_and_nothing_else(room, stands_on, packages):
    # Where this fails and the import is meant: write it into the table of docs/architecture.md.
    package = room.split("/")[0]
    others, from_outside = imported(room)
    names = {other.split("/")[1] if other.startswith(f"{package}/") else other.split("/")[0] for other in others}
    assert set(packages.split(", ")) - {""} == from_outside
    if stands_on != "all":
        assert set(re.findall("`([a-z]+)`", stands_on)) == names


def test_only_windows_import_the_window_toolkit():
    found = {path.parent for path in modules_in("projector/session") if "pygame" in imports_of(path)}
    assert found == {ROOT / "projector" / "session" / "windows"}


def test_every_name_of_where_would_i_is_in_its_file():
    text = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
    section = text[text.index("## Where would I") : text.index("## Habits")]
    assert len(re.findall(r"^\| (?!---|change )", section, re.M)) == 5
    named = re.findall(r"`([\w/]+\.py)`: `(\w+)`", section)
    assert len(named) > 10
    for file, name in named:
        assert name in _defined(ROOT / file), f"{file}: {name}"


def _defined(path: Path) -> set[str]:
    """The names that a module gives at its top."""
    found = set()
    for node in ast.parse(path.read_text(encoding="utf-8")).body:
        if isinstance(node, ast.FunctionDef | ast.ClassDef):
            found.add(node.name)
        elif isinstance(node, ast.Assign | ast.AnnAssign):
            targets = node.targets if isinstance(node, ast.Assign) else [node.target]
            found |= {target.id for target in targets if isinstance(target, ast.Name)}
    return found


@pytest.mark.parametrize("path", PAGES, ids=lambda path: str(path.relative_to(ROOT)))
def test_every_file_that_a_document_names_is_there(path):
    if path.name == "changelog.md":  # tells of what was
        return
    text = path.read_text(encoding="utf-8")
    named = set(re.findall(r"`((?:calibration|jobs|projector|tests)/[\w./]*)`", text))
    named |= {f"{module.replace('.', '/')}.py" for module in re.findall(r"python -m (tests\.[\w.]+)", text)}
    assert [name for name in sorted(named) if not (ROOT / name).exists()] == []
