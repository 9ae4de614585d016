"""The program in a process that can be killed at any instant, and a client that speaks as a page does."""

from __future__ import annotations

import json
import multiprocessing
import os
import urllib.parse
import urllib.request
from collections.abc import Iterator
from contextlib import contextmanager
from http.cookiejar import CookieJar
from multiprocessing.connection import Connection
from pathlib import Path
from typing import Any

from websockets.sync.client import ClientConnection, connect

from projector.page.server.serving import serve


def _served(folder: Path, state: Path, port: int, told: Connection) -> None:
    os.environ["LIGHTCHALK_STATE"] = str(state)
    serve(folder, state, None, port, False, told.send)


class Program:
    """One run of the server; everything it needs is loaded already, so that it is there at once."""

    def __init__(self, folder: Path, state: Path) -> None:
        ours, theirs = multiprocessing.Pipe(duplex=False)
        fork = multiprocessing.get_context("fork")
        self.process = fork.Process(target=_served, args=(folder, state, 0, theirs), daemon=True)
        self.process.start()
        url = ours.recv()
        self.home = url.partition("/?")[0]
        self._jar = CookieJar()
        self._opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(self._jar))
        self.get(url.removeprefix(self.home))

    def kill(self) -> None:
        """End it without a warning."""
        self.process.kill()
        self.process.join()

    def get(self, path: str) -> tuple[str, str]:
        """The address that was led to, below the home, and the page there."""
        with self._opener.open(self.home + path) as answer:
            return answer.url.removeprefix(self.home), answer.read().decode()

    def post(self, path: str, **fields: str) -> tuple[str, str]:
        """The same for a form that is sent."""
        request = urllib.request.Request(self.home + path, urllib.parse.urlencode(fields).encode())
        request.add_header("Origin", self.home)
        with self._opener.open(request) as answer:
            return answer.url.removeprefix(self.home), answer.read().decode()

    @contextmanager
    def live(self, at: str, page: str = "client") -> Iterator[ClientConnection]:
        """The connection of a page at this address."""
        cookie = "; ".join(f"{one.name}={one.value}" for one in self._jar)
        headers = {"Cookie": cookie, "Origin": self.home}
        where = f"{self.home.replace('http', 'ws')}/live?at={at}"
        with connect(where, additional_headers=headers, max_size=None) as socket:
            socket.send(json.dumps({"page": page}))
            yield socket


def ask(socket: ClientConnection, number: int, **message: Any) -> dict[str, Any]:
    """Ask for something and wait for the answer, whatever else is told meanwhile."""
    socket.send(json.dumps({"n": number, **message}))
    while (told := json.loads(socket.recv())).get("ack") != number:
        pass
    return told
