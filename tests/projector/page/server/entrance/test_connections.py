"""Whoever reaches the port and holds on to it, without the key, shuts nobody out."""

import contextlib
import socket

import pytest

from projector.page.form.blank import examples
from projector.page.server.entrance.connections import MOST_IDLE
from projector.page.server.serving import MOST_CONNECTIONS
from tests.projector.page.program import Program, ask

# Newer versions of Python warn of a fork beside threads; what is forked here starts its own loop and uses no other.
pytestmark = pytest.mark.filterwarnings("ignore:.*fork:DeprecationWarning")

STRANGERS = 200
HALF_ASKED = b"GET / HTTP/1.1\r\nHost: 127.0.0.1\r\nX-"
ASKED = b"GET /table HTTP/1.1\r\nHost: 127.0.0.1:%d\r\nConnection: keep-alive\r\n\r\n"


def test_two_hundred_connections_are_more_than_may_wait():
    assert MOST_IDLE < MOST_CONNECTIONS < STRANGERS


@pytest.mark.parametrize("says", [b"", HALF_ASKED, ASKED], ids=["silent", "half a request", "kept after an answer"])
def test_two_hundred_connections_of_strangers_shut_nobody_out(tmp_path, says):
    (tmp_path / "jobs").mkdir()
    (tmp_path / "jobs" / "mill.yaml").write_text(examples()["Mill-race reading room"])
    program = Program(tmp_path / "jobs", tmp_path / "state")
    port = int(program.home.rpartition(":")[2])
    try:
        where, _ = program.get("/open/mill.yaml")
        with contextlib.ExitStack() as held, program.live(where) as page:
            ask(page, 1, do="type", path="cloth/name", value="Eels on sand", saw="")
            for _ in range(STRANGERS):
                stranger = held.enter_context(socket.create_connection(("127.0.0.1", port)))
                stranger.sendall(says.replace(b"%d", b"%d" % port))
                if says == ASKED:
                    assert stranger.recv(64).startswith(b"HTTP/1.1 403")
            # The page that was there goes on, and one that comes now is let in.
            assert "clash" not in ask(page, 2, do="type", path="cloth/name", value="Newts", saw="Eels on sand")
            assert 'value="Newts"' in program.get(where)[1]
            with program.live(where, "later") as later:
                assert "clash" not in ask(later, 1, do="type", path="cloth/name", value="Carp", saw="Newts")
    finally:
        program.kill()
