import asyncio
import contextlib
from typing import ClassVar

import pytest

from projector.page.form.blank import examples
from projector.page.kept import Drafts
from projector.page.server.live import Asked, talk
from tests.projector.page.server.serving import HOST, ORIGIN, served
from tests.waiting import wait_until

MILL = examples()["Mill-race reading room"]


@pytest.fixture
def at(tmp_path):
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "mill.yaml").write_text(MILL)
    with served(tmp_path / "jobs", tmp_path / "state") as (client, _, workshop):
        where = client.get("/open/mill.yaml").headers["location"]
        with contextlib.ExitStack() as client.sockets:
            yield client, where, workshop


def connect(client, where: str, page: str):
    socket = client.sockets.enter_context(client.websocket_connect(f"ws://{HOST}/live?at={where}", headers=ORIGIN))
    socket.send_json({"page": page})
    socket.receive_json()
    return socket


def until_ack(socket, number: int) -> dict:
    while (message := socket.receive_json()).get("ack") != number:
        pass
    return message


def until_part(socket, name: str, words: str) -> str:
    while words not in (html := socket.receive_json().get("parts", {}).get(name, "")):
        pass
    return html


def type_in(number: int, path: str, value: str, saw: str = "") -> dict:
    return {"n": number, "do": "type", "path": path, "value": value, "saw": saw}


def test_what_one_page_types_is_seen_by_the_other(at):
    client, where, _ = at
    one, other = connect(client, where, "one"), connect(client, where, "other")
    one.send_json(type_in(1, "cloth/name", "Eels on sand"))
    until_ack(one, 1)
    assert 'value="Eels on sand"' in until_part(other, "b-cloth-the-cloth", "Eels")
    other.send_json(type_in(1, "cloth/name", "Newts", saw="Minnows on slate"))
    assert until_ack(other, 1)["clash"] == "Eels on sand"


def test_what_is_sent_again_after_the_network_was_lost_is_done_once(at):
    client, where, workshop = at
    one = connect(client, where, "one")
    one.send_json({"n": 1, "do": "add", "path": "windows"})
    until_ack(one, 1)
    one.close()
    again = connect(client, where, "one")
    again.send_json({"n": 1, "do": "add", "path": "windows"})
    assert until_ack(again, 1)["focus"] == "windows/1/name"
    (topic,) = workshop.jobs.values()
    assert topic.job.values.count(("windows",)) == 2


def test_a_key_is_on_the_disk_before_it_is_answered(at, tmp_path):
    client, where, _ = at
    one = connect(client, where, "one")
    for number, text in enumerate(("E", "Ee", "Eel"), 1):
        one.send_json(type_in(number, "cloth/name", text))
        until_ack(one, number)
        ((path,),) = [list((tmp_path / "state" / "drafts").glob("*/*.json"))]
        assert f"name: {text}" in path.read_text()


def test_unsaved_work_of_a_server_that_was_killed_is_gone_on_with_under_the_same_address(at, tmp_path):
    client, where, workshop = at
    one = connect(client, where, "one")
    one.send_json(type_in(1, "cloth/name", "Eels"))
    until_ack(one, 1)
    # What the system does with the lock of a process that ends.
    Drafts.close(workshop.drafts)
    with served(tmp_path / "jobs", tmp_path / "state") as (second, _, _):
        assert "Mill-race reading room" in second.get("/").text.partition("Not saved last time")[2]
        text = second.get(where).text
        assert 'value="Eels"' in text
        assert "not saved" in text


def test_saving_writes_the_file_and_a_file_changed_meanwhile_is_asked_about(at, tmp_path):
    client, where, _ = at
    one = connect(client, where, "one")
    one.send_json(type_in(1, "cloth/name", "Eels"))
    one.send_json({"n": 2, "do": "save"})
    assert until_ack(one, 2)["say"] == "Saved in mill.yaml."
    file = tmp_path / "jobs" / "mill.yaml"
    assert "name: Eels" in file.read_text()
    assert list((tmp_path / "state" / "drafts").glob("*/*.json")) == []
    file.write_text(MILL)
    one.send_json(type_in(3, "cloth/name", "Newts"))
    one.send_json({"n": 4, "do": "save"})
    assert until_ack(one, 4)["over"] == "mill.yaml"
    assert file.read_text() == MILL
    one.send_json({"n": 5, "do": "save", "name": "mill.yaml", "over": True})
    until_ack(one, 5)
    assert "name: Newts" in file.read_text()


@pytest.mark.parametrize("name", ["../mill", "a/b", ".x", "/tmp/x"])
def test_a_job_is_saved_nowhere_else(at, tmp_path, name):
    client, where, _ = at
    one = connect(client, where, "one")
    one.send_json({"n": 1, "do": "save", "name": name})
    assert until_ack(one, 1)["bad"]
    assert [path.name for path in tmp_path.iterdir() if path.suffix] == []
    assert [path.name for path in (tmp_path / "jobs").iterdir()] == ["mill.yaml"]


@pytest.mark.parametrize("text", ["x", "[]", '{"n": "x"}', '{"n": 1e99}', "{" * 30_000, ""])
def test_a_message_that_is_none_ends_the_connection_and_nothing_else(at, text):
    client, where, _ = at
    one, other = connect(client, where, "one"), connect(client, where, "other")
    one.send_text(text)
    other.send_json({"n": 1, "do": "leave"})
    assert until_ack(other, 1) == {"ack": 1}


def test_a_page_that_does_not_read_is_let_go_and_holds_up_nobody(at):
    from projector.page.server.live import MOST_WAITING, Listener

    slow = Listener("slow", "page")
    for number in range(MOST_WAITING + 1):
        slow.tell({"number": number})
    assert slow.waiting.qsize() == 1
    assert slow.waiting.get_nowait() is None


def test_a_page_that_is_gone_before_it_was_asked_for_more_is_no_fault():
    class Gone:
        """A connection that telling something has closed."""

        heard = iter(('{"page": "one"}',))

        async def accept(self):
            pass

        async def receive_text(self):
            try:
                return next(self.heard)
            except StopIteration:
                raise RuntimeError('WebSocket is not connected. Need to call "accept" first.') from None

        async def close(self):
            raise RuntimeError("closed already")

    class Nothing:
        listeners: ClassVar[list] = []

        def joined(self, listener):
            pass

        def gone(self, listener):
            pass

    asyncio.run(talk(Gone(), Nothing(), Asked(), "page", ""))
    assert Nothing.listeners == []


def test_names_are_escaped_wherever_they_stand(at):
    client, where, _ = at
    evil = '<img src=x onerror="alert(1)">'
    one = connect(client, where, "one")
    for number, path in enumerate(("job", "cloth/name", "windows/0/name"), 1):
        one.send_json(type_in(number, path, evil))
        until_ack(one, number)
    for text in (client.get(where).text, until_part(one, "hung", "<svg")):
        assert "<img src=x" not in text


def test_a_page_that_waits_at_the_table_keeps_the_program_from_ending(at):
    client, _, workshop = at
    assert not workshop.is_used
    socket = connect(client, "/cut", "a")
    assert workshop.is_used
    socket.close()
    wait_until(lambda: not workshop.is_used)
