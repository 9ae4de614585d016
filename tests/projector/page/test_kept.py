import json

from projector.page.kept import Draft, Drafts, Settings, state_folder


def test_unsaved_work_of_a_server_that_is_no_more_is_found_again_and_taken_once(tmp_path):
    gone, here = Drafts(tmp_path), Drafts(tmp_path)
    gone.keep("abcd", Draft("job: A", "/a.yaml", "job: B", ("cloth/width=12",)))
    assert here.left() == {}
    gone.close()
    assert here.left() == {"abcd": Draft("job: A", "/a.yaml", "job: B", ("cloth/width=12",))}
    here.take("abcd")
    assert here.left() == {}
    assert list((tmp_path / "drafts").iterdir()) == []


def test_work_that_was_saved_is_not_offered_and_leaves_nothing_behind(tmp_path):
    one = Drafts(tmp_path)
    one.keep("abcd", Draft("job: A"))
    one.keep("abcd", Draft("job: AB"))
    one.drop("abcd")
    one.close()
    assert Drafts(tmp_path).left() == {}
    assert list((tmp_path / "drafts").iterdir()) == []


def test_a_spoilt_draft_is_let_be(tmp_path):
    (tmp_path / "drafts" / "x").mkdir(parents=True)
    spoilt = ("{", "[1]", '{"text": 3}', '{"other": "x"}', '{"text": "job: A", "agreed": [3]}')
    for number, text in enumerate(spoilt):
        (tmp_path / "drafts" / "x" / f"name{number}.json").write_text(text)
    (tmp_path / "drafts" / "x" / "a name with blanks.json").write_text('{"text": "job: A"}')
    assert Drafts(tmp_path).left() == {}


def test_spoilt_settings_count_as_none(tmp_path):
    for text in ("", "[]", '{"table": 3}', "\x00"):
        (tmp_path / "page.json").write_text(text)
        settings = Settings(tmp_path)
        assert settings.text("table") == ""
    settings.remember("table", "table.yaml")
    assert json.loads((tmp_path / "page.json").read_text()) == {"table": "table.yaml"}
    assert Settings(tmp_path).text("table") == "table.yaml"


def test_a_folder_that_cannot_be_written_stops_nothing(tmp_path):
    (tmp_path / "state").write_text("a file where the folder should be")
    settings = Settings(tmp_path / "state")
    settings.remember("table", "a")
    assert settings.text("table") == "a"


def test_where_things_are_kept_can_be_named(tmp_path, monkeypatch):
    monkeypatch.setenv("LIGHTCHALK_STATE", str(tmp_path))
    assert state_folder() == tmp_path
