"""The place Table: each calibration of the folder with its expected error drawn, and what is said of it."""

import pytest

from projector.files.table_file import Stored, write_stored
from projector.page.server import light_pages
from projector.page.server.light_pages import LightPages
from tests.projector.page.server.serving import ORIGIN, served
from tests.projector.session.tables import table_of


@pytest.fixture
def at(tmp_path):
    (tmp_path / "jobs").mkdir()
    write_stored(tmp_path / "jobs" / "attic.yaml", Stored(table_of(1280, 800)))
    with served(tmp_path / "jobs", tmp_path / "state") as (client, _, _):
        yield client, tmp_path


def test_a_calibration_shows_its_expected_error_as_a_picture_and_in_words(at):
    client, _ = at
    assert 'data-about-table="attic.yaml"' in client.get("/table").text
    look = client.get("/table/look/attic.yaml").json()
    assert "<svg" in look["svg"]
    assert len(look["marks"]) == 4
    assert any("Four marks always agree" in line for line in look["lines"])
    assert any(" in " in line for line in look["lines"])
    assert any(" cm" in line for line in client.get("/table/look/attic.yaml?unit=cm").json()["lines"])


def test_a_calibration_that_was_changed_is_looked_at_anew(at):
    client, folder = at
    client.get("/table/look/attic.yaml")
    write_stored(folder / "jobs" / "attic.yaml", Stored(table_of(640, 400)))
    assert any("640 x 400" in line for line in client.get("/table/look/attic.yaml").json()["lines"])


def test_what_was_practised_is_shown_as_practised(at):
    client, folder = at
    assert client.get("/table/look/practice-table.yaml").status_code == 404
    assert "practised it" not in client.get("/table").text
    (folder / "state").mkdir(exist_ok=True)
    write_stored(folder / "state" / "practice-table.yaml", Stored(table_of(1280, 800)))
    assert "As you practised it" in client.get("/table").text
    assert "<svg" in client.get("/table/look/practice-table.yaml").json()["svg"]


@pytest.mark.parametrize("name", ["%2e%2e%2fx.yaml", "nowhere.yaml", ".hidden.yaml"])
def test_only_what_lies_in_the_folder_is_looked_at(at, name):
    client, _ = at
    assert client.get(f"/table/look/{name}").status_code == 404


def test_the_check_with_a_tape_is_started_for_the_tape_the_person_has(at, monkeypatch):
    client, folder = at
    started = []
    monkeypatch.setattr(light_pages.Starting, "start", lambda self, *words: started.append(words))
    monkeypatch.setattr(LightPages, "is_on", False)
    form = {"work": "tape", "name": "attic.yaml", "unit": "cm", "class": "I", "display": "2"}
    assert "say" in client.post("/table/start", data=form, headers=ORIGIN).json()
    form = {"work": "calibrate", "name": "attic.yaml", "unit": "in", "display": "2"}
    client.post("/table/start", data=form, headers=ORIGIN)
    path = str(folder / "jobs" / "attic.yaml")
    tape = ("tape", path, "--display", "2", "--units", "cm", "--class", "I", "--nearest", "1 mm")
    assert [words[:2] for words in started] == [
        ("Tape", tape),
        ("Calibration", ("calibrate", path, "--units", "in", "--display", "2")),
    ]
