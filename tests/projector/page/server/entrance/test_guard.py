import asyncio

import pytest
from starlette.testclient import TestClient
from starlette.websockets import WebSocketDisconnect

from projector.page.server.app import application
from projector.page.server.entrance import guard
from projector.page.server.entrance.guard import Doors, cookie_name, new_secret, phone_may
from projector.page.server.workshop import Workshop
from tests.projector.page.server.serving import HOST, ORIGIN, phones_of, served


@pytest.fixture
def at(tmp_path):
    (tmp_path / "jobs").mkdir()
    with served(tmp_path / "jobs", tmp_path / "state") as found:
        yield found


def stranger(workshop: Workshop, doors: Doors) -> TestClient:
    return TestClient(application(workshop, doors, phones_of(doors)), f"http://{HOST}", follow_redirects=False)


def test_without_the_secret_nobody_is_in(at):
    _, doors, workshop = at
    client = stranger(workshop, doors)
    for path in ("/", "/job/abcd", "/look/a.yaml", "/static/page.js", "/nowhere"):
        answer = client.get(path)
        assert answer.status_code == 403
        assert "lightchalk open" in answer.text


def test_the_address_with_its_key_lets_in_and_the_key_goes_into_a_cookie_no_script_can_read(at):
    _, doors, workshop = at
    answer = stranger(workshop, doors).get(f"/?key={doors.secret}&to=/job/abcd")
    assert (answer.status_code, answer.headers["location"]) == (303, "/job/abcd")
    cookie = answer.headers["set-cookie"].lower()
    assert "httponly" in cookie
    assert "samesite=strict" in cookie


@pytest.mark.parametrize("to", ["//evil.example/", "https://evil.example", "/\\evil.example", "javascript:0", "/x?y"])
def test_the_address_with_its_key_leads_nowhere_else(at, to):
    _, doors, workshop = at
    answer = stranger(workshop, doors).get("/", params={"key": doors.secret, "to": to})
    assert answer.headers["location"] == "/"


def test_a_key_that_is_good_once_is_good_once(at):
    _, doors, workshop = at
    doors.once.add("once-only")
    assert stranger(workshop, doors).get("/?key=once-only").status_code == 303
    assert stranger(workshop, doors).get("/?key=once-only").status_code == 403


@pytest.mark.parametrize("host", ["evil.example", "evil.example:4000", "127.0.0.1", "127.0.0.1:4001", "", "[::1]:4000"])
def test_a_name_bent_to_this_computer_is_turned_away_even_with_the_secret(at, host):
    client, _, _ = at
    assert client.get("/", headers={"host": host}).status_code == 421


@pytest.mark.parametrize("origin", [None, "null", "http://evil.example", "http://127.0.0.1:4001", "https://" + HOST])
def test_a_post_of_another_page_changes_nothing(at, origin):
    client, _, workshop = at
    headers = {} if origin is None else {"origin": origin}
    answer = client.post("/new", data={"unit": "in"}, headers=headers)
    assert answer.status_code == 403
    assert workshop.jobs == {}
    assert client.post("/new", data={"unit": "in"}, headers=ORIGIN).status_code == 303


def test_another_page_does_not_listen_in(at):
    client, _, _ = at
    for headers in ({}, {"origin": "http://evil.example"}):
        with pytest.raises(WebSocketDisconnect), client.websocket_connect(f"ws://{HOST}/live?at=/", headers=headers):
            pass
    with client.websocket_connect(f"ws://{HOST}/live?at=/", headers=ORIGIN) as socket:
        socket.send_json({"page": "a"})
        socket.send_json({"n": 1})
        assert socket.receive_json() == {"ack": 1}


def test_a_listener_without_the_secret_is_let_go(at):
    _, doors, workshop = at
    client = stranger(workshop, doors)
    with pytest.raises(WebSocketDisconnect), client.websocket_connect(f"ws://{HOST}/live?at=/", headers=ORIGIN):
        pass


def test_every_answer_says_that_nothing_from_elsewhere_is_run_or_framed(at):
    client, _, _ = at
    for path in ("/", "/static/page.js", "/nowhere", "/static/../app.py"):
        headers = client.get(path).headers
        policy = headers["content-security-policy"]
        assert "default-src 'none'" in policy
        assert "unsafe" not in policy
        assert headers["x-content-type-options"] == "nosniff"
        assert headers["cache-control"] == "no-store"


def test_no_page_has_a_script_or_style_of_its_own(at):
    client, _, _ = at
    job = client.post("/new", data={"unit": "in"}, headers=ORIGIN).headers["location"]
    for path in ("/", job):
        text = client.get(path).text
        assert "<style" not in text
        assert " style=" not in text
        assert text.count("<script") == text.count('<script src="/static/')
        assert " onclick=" not in text


def test_no_folder_is_listed_and_no_path_climbs_out_of_the_files_of_the_page(at):
    client, _, _ = at
    for path in ("/static/", "/static", "/static/..%2fserver/app.py", "/static/%2e%2e/app.py", "/static//etc/passwd"):
        assert client.get(path).status_code in (404, 307, 405)
    for name in ("..%2f..%2fetc%2fpasswd", "%2e%2e%2fx.yaml", ".bashrc"):
        assert client.get(f"/open/{name}").status_code == 404
        assert client.get(f"/look/{name}").status_code == 404


def test_wrong_secrets_wait_longer_each_time_and_only_so_many_at_once(monkeypatch):
    waits = []

    async def slept(seconds):
        waits.append(seconds)

    monkeypatch.setattr(guard.asyncio, "sleep", slept)
    doors = Doors({HOST}, 4000)

    async def guess() -> None:
        for _ in range(7):
            assert await doors.slow()
        doors.waiting = guard.MOST_WRONG_AT_ONCE
        assert not await doors.slow()

    asyncio.run(guess())
    assert waits == [0.5, 1.0, 2.0, 4.0, 8.0, 8.0, 8.0]
    doors.forgive()
    assert doors.wrong == 0


def test_guessing_is_slowed_and_does_not_get_in(at):
    _, doors, workshop = at
    client = stranger(workshop, doors)
    for number in range(20):
        client.cookies.set(cookie_name(doors), f"{doors.secret[:-1]}{number}")
        assert client.get("/").status_code == 403
    assert doors.wrong == 20


def test_a_secret_has_128_bits_and_no_two_are_alike():
    # 16 bytes in base 64 without padding are 22 letters.
    assert {len(new_secret()) for _ in range(100)} == {22}
    assert len({new_secret() for _ in range(100)}) == 100


def test_a_phone_has_the_light_and_the_table_and_nothing_else():
    assert all(phone_may(path) for path in ("/cut", "/table", "/live", "/static/page.css"))
    assert not any(phone_may(path) for path in ("/", "/job/abcd", "/open/a.yaml", "/cutting", "/new", "/bring"))
