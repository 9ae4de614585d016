import contextlib
import json
import socket

import numpy as np
import pytest

from projector.page.light.found import LIGHTS, lights
from projector.page.light.shared import SharedLight
from projector.papers.drawing import Drawing
from projector.session.actions import UnknownAction
from tests.waiting import wait_until


class Talk:
    """A listener of a light, as the page is one."""

    def __init__(self, about: dict, key: str | None = None) -> None:
        self.socket = socket.create_connection(("127.0.0.1", about["port"]))
        self.lines = self.socket.makefile("r", encoding="utf-8")
        self.say({"key": about["key"] if key is None else key})

    def say(self, message: object) -> None:
        self.socket.sendall(json.dumps(message).encode() + b"\n")

    def until(self, name: str) -> dict:
        while name not in (message := json.loads(self.lines.readline())):
            pass
        return message

    def close(self) -> None:
        self.lines.close()
        self.socket.close()


@pytest.fixture
def on(tmp_path, monkeypatch):
    monkeypatch.setenv("LIGHTCHALK_STATE", str(tmp_path))
    asked = []

    def ask(name, seen):
        if name == "cut everything":
            raise UnknownAction(name)
        asked.append((name, seen))

    light = SharedLight({"work": "cutting", "title": "Mill"})
    light.open(ask)
    (about,) = lights(tmp_path)
    talks = []

    def talk(**more) -> Talk:
        talks.append(Talk(about, **more))
        return talks[-1]

    yield light, talk, asked
    light.close()
    for one in talks:
        one.close()


def drawn() -> dict[str, Drawing]:
    return {"piece": Drawing(2.0, 1.0, (), "#10151d", title="The piece")}


def test_every_listener_is_told_the_state_and_then_its_pictures(on):
    light, talk, _ = on
    one, other = talk(), talk()
    light.tell({"page": "stop"}, drawn)
    for listener in (one, other):
        assert listener.until("state")["state"] == {"page": "stop"}
        assert "The piece" in listener.until("pictures")["pictures"]["piece"]
    late = talk()
    assert late.until("state")["state"] == {"page": "stop"}


def test_what_is_asked_comes_in_turn_with_the_place_it_was_meant_for(on):
    light, talk, asked = on
    light.tell({}, drawn)
    one = talk()
    for message in ({"ask": "next stop", "seen": 3}, {"ask": "cut everything"}, {"ask": "dark"}, {"view": True}):
        one.say(message)
    one.until("view")
    assert asked == [("next stop", 3), ("dark", None)]


def test_what_is_seen_in_the_window_is_shown_to_who_asks(on):
    light, talk, _ = on
    one = talk()
    one.say({"view": True})
    assert one.until("view")["view"] == ""
    light.frame(np.full((40, 60), 0x20304A, np.uint32))
    one.say({"view": True})
    assert len(one.until("view")["view"]) > 100


def test_nobody_without_the_key_is_told_or_heard(on):
    light, talk, asked = on
    light.tell({"page": "stop"}, drawn)
    stranger = talk(key="guess")
    assert stranger.lines.readline() == ""
    with contextlib.suppress(OSError):
        stranger.say({"ask": "next stop"})
    with contextlib.suppress(OSError):
        stranger.lines.read()
    assert asked == []


def test_only_its_owner_can_read_where_a_light_listens(on, tmp_path):
    ((path,),) = [list((tmp_path / LIGHTS).iterdir())]
    assert path.stat().st_mode & 0o077 == 0


def test_a_light_that_is_over_says_so_and_is_found_no_more(on, tmp_path):
    light, talk, _ = on
    light.tell({"over": True}, drawn)
    one = talk()
    one.until("state")
    light.close()
    assert one.until("over") == {"over": True}
    assert lights(tmp_path) == []


def test_the_file_of_a_light_that_was_killed_is_taken_away(tmp_path):
    (tmp_path / LIGHTS).mkdir()
    with socket.create_server(("127.0.0.1", 0)) as free:
        port = free.getsockname()[1]
    (tmp_path / LIGHTS / "1-a.json").write_text(json.dumps({"port": port, "key": "k", "work": "cutting"}))
    (tmp_path / LIGHTS / "2-b.json").write_text("{")
    assert lights(tmp_path) == []
    assert [path.name for path in (tmp_path / LIGHTS).iterdir()] == ["2-b.json"]


def test_a_listener_that_does_not_read_holds_nobody_up(on):
    light, talk, _ = on
    talk()
    other = talk()
    for number in range(300):
        light.tell({"number": number, "long": "x" * 20_000}, dict)
    while other.until("state")["state"]["number"] < 299:
        pass


def test_a_light_that_can_tell_nobody_works_all_the_same(tmp_path, monkeypatch):
    (tmp_path / "state").write_text("a file where the folder should be")
    monkeypatch.setenv("LIGHTCHALK_STATE", str(tmp_path / "state"))
    light = SharedLight({"work": "cutting"})
    light.open(lambda name, seen: None)
    light.tell({}, drawn)
    light.close()


def test_a_code_is_dark_again_when_the_page_that_had_it_lit_is_gone(on):
    _, talk, asked = on
    one, other = talk(), talk()
    one.say({"ask": "card 01/10"})
    one.say({"view": True})
    one.until("view")
    other.close()
    one.close()
    wait_until(lambda: len(asked) == 2)
    assert asked == [("card 01/10", None), ("card", None)]


def test_a_code_that_was_taken_away_is_not_taken_away_twice(on):
    light, talk, asked = on
    one = talk()
    for message in ({"ask": "card 01/10"}, {"ask": "card"}, {"ask": "dark"}, {"view": True}):
        one.say(message)
    one.until("view")
    one.close()
    light.tell({}, drawn)
    talk().until("state")
    assert asked == [("card 01/10", None), ("card", None), ("dark", None)]
