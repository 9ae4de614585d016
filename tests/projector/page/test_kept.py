import json

from projector.page.kept import Draft, Drafts, Settings, state_folder


def test_unsaved_work_of_a_window_that_is_no_more_is_found_again(tmp_path):
    gone, here = Drafts(tmp_path), Drafts(tmp_path)
    gone.keep(Draft("job: A", "/a.yaml", "job: B"))
    assert here.left() == []
    gone.__dict__["_lock"] = _let_go(gone)
    ((path, draft),) = here.left()
    assert draft == Draft("job: A", "/a.yaml", "job: B")
    here.take(path)
    assert here.left() == []
    assert [one for one in (tmp_path / "drafts").iterdir() if one.suffix == ".json"] == []


def _let_go(drafts: Drafts) -> None:
    """What the system does with the lock of a process that ended."""
    from jobs.journal.lock import release_lock

    release_lock(drafts.__dict__["_lock"])


def test_work_that_was_saved_is_not_offered(tmp_path):
    one = Drafts(tmp_path)
    one.keep(Draft("job: A"))
    one.keep(Draft("job: AB"))
    one.drop()
    assert Drafts(tmp_path).left() == []
    assert list((tmp_path / "drafts").iterdir()) == []


def test_a_spoilt_draft_is_let_be(tmp_path):
    (tmp_path / "drafts").mkdir()
    for name, text in (("a", "{"), ("b", "[1]"), ("c", '{"text": 3}'), ("d", '{"other": "x"}')):
        (tmp_path / "drafts" / f"{name}.json").write_text(text)
    assert Drafts(tmp_path).left() == []


def test_jobs_opened_lately_come_back_the_last_one_first_as_far_as_they_are_there(tmp_path):
    files = [tmp_path / f"{number}.yaml" for number in range(12)]
    for file in files:
        file.touch()
        Settings(tmp_path / "state").opened(file)
    Settings(tmp_path / "state").opened(files[5])
    files[11].unlink()
    recent = Settings(tmp_path / "state").recent
    assert recent[:3] == [files[5], files[10], files[9]]
    assert len(recent) == 7


def test_spoilt_settings_count_as_none(tmp_path):
    for text in ("", "[]", '{"recent": 3, "letters": "large"}', "\x00"):
        (tmp_path / "window.json").write_text(text)
        settings = Settings(tmp_path)
        assert settings.recent == []
        assert settings.number("letters", 14) == 14
    settings.remember("letters", 18)
    assert json.loads((tmp_path / "window.json").read_text())["letters"] == 18


def test_a_folder_that_cannot_be_written_stops_nothing(tmp_path):
    (tmp_path / "state").write_text("a file where the folder should be")
    settings = Settings(tmp_path / "state")
    settings.remember("letters", 16)
    assert settings.number("letters", 14) == 16


def test_where_things_are_kept_can_be_named(tmp_path, monkeypatch):
    monkeypatch.setenv("LIGHTCHALK_STATE", str(tmp_path))
    assert state_folder() == tmp_path
