import asyncio

import pytest
import segno
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from projector.page.server.app import application
from projector.page.server.entrance.guard import Doors, cookie_name
from projector.page.server.entrance.phones import GOOD_FOR_S, MOST_PHONES, Phones
from projector.page.server.workshop import Workshop
from tests.projector.page.server.serving import HOST, PHONE_HOST, phones_of
from tests.projector.page.server.test_photographs import cloth

PHONE = {"origin": f"http://{PHONE_HOST}"}


@pytest.fixture
def at(tmp_path):
    (tmp_path / "jobs").mkdir()
    now = [0.0]
    doors = Doors({HOST}, 4000, wait_s=0.0)
    phones = phones_of(doors, lambda: now[0])
    workshop = Workshop(tmp_path / "jobs", tmp_path / "state")
    app = application(workshop, doors, phones)
    with TestClient(app, f"http://{PHONE_HOST}", follow_redirects=False) as client:
        client.workshop = workshop
        yield client, doors, phones, now


def invited(phones: Phones) -> str:
    asyncio.run(phones.invite())
    return phones.invitation.partition("key=")[2]


def test_off_by_default_no_phone_reaches_anything(at):
    client, doors, phones, _ = at
    assert client.get("/cut").status_code == 421
    assert phones.invitation == ""
    assert phones.enter("", "a phone") is None
    assert PHONE_HOST not in doors.hosts


def test_a_phone_that_shows_the_code_has_the_light_and_nothing_else(at):
    client, _, phones, _ = at
    answer = client.get(f"/enter?key={invited(phones)}")
    assert (answer.status_code, answer.headers["location"]) == (303, "/cut")
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie
    assert client.get("/table").status_code == 200
    text = client.get("/cut").text
    assert "Let a phone in" not in text
    assert ">Jobs<" not in text
    for path in ("/", "/job/abcd", "/open/a.yaml", "/papers"):
        assert client.get(path).headers["location"] == "/cut"
    assert client.post("/phone", json={"do": "invite"}, headers=PHONE).status_code == 303
    with pytest.raises(WebSocketDisconnect), client.websocket_connect(f"ws://{PHONE_HOST}/live?at=/", headers=PHONE):
        pass
    with client.websocket_connect(f"ws://{PHONE_HOST}/live?at=/cut", headers=PHONE) as socket:
        socket.send_json({"page": "p"})
        assert "parts" in socket.receive_json()


def test_a_code_is_good_once_and_for_five_minutes(at):
    client, _, phones, now = at
    key = invited(phones)
    assert client.get(f"/enter?key={key}").status_code == 303
    client.cookies.clear()
    assert client.get(f"/enter?key={key}").status_code == 403
    key = invited(phones)
    now[0] = 300.0
    assert client.get(f"/enter?key={key}").status_code == 403


def test_a_guessed_code_does_not_get_in_and_is_slowed(at):
    client, doors, phones, _ = at
    key = invited(phones)
    for guess in ("", "x", key[:-1], key + "x", key.swapcase()):
        assert client.get("/enter", params={"key": guess}).status_code == 403
    assert doors.wrong == 5
    assert client.get(f"/enter?key={key}").status_code == 303


def test_a_phone_is_put_out_and_all_are_when_the_program_ends(at):
    client, doors, phones, _ = at
    client.get(f"/enter?key={invited(phones)}")
    (phone,) = phones.inside.values()
    phones.put_out(phone.number)
    assert client.get("/cut").status_code == 403
    client.get(f"/enter?key={invited(phones)}")
    phones.end()
    assert doors.phones == set()
    assert client.get("/cut").status_code == 421


def test_only_so_many_phones_are_in_at_once(at):
    _, doors, phones, _ = at
    for _ in range(MOST_PHONES):
        assert phones.enter(invited(phones), "a phone") is not None
    assert phones.enter(invited(phones), "a phone") is None
    assert len({cookie_name(doors), *doors.phones}) == MOST_PHONES + 1


def test_the_code_on_the_page_says_the_address_and_a_phone_is_named_plainly(at):
    _, _, phones, _ = at
    phones.enter(invited(phones), "<b>x</b>")
    invited(phones)
    part = phones.part()
    assert part.count("<svg") == 1
    assert phones.invitation.replace("&", "&amp;") in part
    assert "<b>x</b>" not in part


def test_without_a_network_that_is_said(at):
    async def reach() -> str:
        raise OSError

    phones = Phones(Doors({HOST}, 4000), reach, lambda: None)
    asyncio.run(phones.invite())
    assert "No network was found" in phones.part()
    assert phones.invitation == ""


def test_the_code_on_the_table_is_that_of_the_page_and_only_while_it_is_good(at):
    _, _, phones, now = at
    assert phones.card == ""
    invited(phones)
    rows = [[int(one) for one in row] for row in phones.card.split("/")]
    assert rows == [list(row) for row in segno.make(phones.invitation, error="m").matrix]
    now[0] = GOOD_FOR_S
    assert phones.card == ""
    phones.enter(invited(phones), "a phone")
    assert phones.card == ""


def test_a_phone_cannot_light_a_code_of_its_own(at):
    client, _, phones, _ = at
    client.get(f"/enter?key={invited(phones)}")
    with client.websocket_connect(f"ws://{PHONE_HOST}/live?at=/cut", headers=PHONE) as socket:
        socket.send_json({"page": "p"})
        socket.receive_json()
        socket.send_json({"n": 1, "do": "press", "action": "card 01/10"})
        assert socket.receive_json() == {"ack": 1}


def test_a_photograph_taken_by_a_phone_is_there_on_the_place_print_of_the_job_looked_at_last(at, tmp_path):
    client, _, phones, _ = at
    client.get(f"/enter?key={invited(phones)}")
    cloth(tmp_path / "cloth.jpg")
    picture = (tmp_path / "cloth.jpg").read_bytes()
    assert client.post("/photo?name=a.jpg", content=picture, headers=PHONE).status_code == 404
    assert "The cloth, photographed" not in client.get("/cut").text
    topic = client.workshop.example("Mill-race reading room")
    page = client.get("/cut").text
    assert 'capture="environment"' in page
    assert "Mill-race reading room" in page
    assert "Print of Mill-race" in client.post("/photo?name=a.jpg", content=picture, headers=PHONE).json()["say"]
    assert topic.photograph.name == "a.jpg"
    assert client.post("/photo?name=b.jpg", content=b"no picture", headers=PHONE).json()["bad"]
    assert client.post("/photo", content=picture, headers={"origin": "http://evil.example"}).status_code == 403
