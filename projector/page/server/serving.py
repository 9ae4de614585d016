"""The server run until nobody needs it: a free port of this computer alone, a browser opened on it."""

from __future__ import annotations

import asyncio
import contextlib
import socket
import sys
import webbrowser
from collections.abc import Callable
from pathlib import Path
from threading import Thread
from typing import Literal

import uvicorn
from starlette.types import ASGIApp

from projector.page.server.app import application
from projector.page.server.entrance.connections import Connection
from projector.page.server.entrance.guard import Doors, new_secret
from projector.page.server.entrance.phones import Phones, own_address
from projector.page.server.workshop import Workshop, until_unused

LOOPBACK = "127.0.0.1"
UNUSED_S = 120.0
"""So long after the last page was closed the server ends, where all is saved."""
MOST_CONNECTIONS = 150


class NoPort(Exception):  # noqa: N818 - says what there is not
    """The port cannot be used; the words say why."""


def serve(folder: Path, state: Path, job: str | None, port: int, browser: bool, tell: Callable[[str], None]) -> None:
    """Serve the page of this folder until it is not used any more; ``tell`` gets the address with its key.

    ``job`` is the name of a job file in the folder to be opened. Raises NoPort, and KeyboardInterrupt for Ctrl-C.
    """
    listening = listen(port)
    workshop = Workshop(folder, state)
    port = listening.getsockname()[1]
    doors = Doors(hosts_of(listening), port)
    host = f"{LOOPBACK}:{port}"
    network = Network()
    phones = Phones(doors, network.open, network.close)
    app = application(workshop, doors, phones)
    network.app = app
    server = uvicorn.Server(configured(app))

    async def run() -> None:
        start = f"/job/{workshop.open_file(job).job.name}" if job else "/"
        tell(f"http://{host}/?key={doors.secret}&to={start}")
        if browser:
            once = new_secret()
            doors.once.add(once)
            Thread(target=webbrowser.open, args=(f"http://{host}/?key={once}&to={start}",), daemon=True).start()
        serving = asyncio.create_task(server.serve([listening]))
        unused = asyncio.create_task(until_unused(workshop, UNUSED_S))
        await asyncio.wait((serving, unused), return_when=asyncio.FIRST_COMPLETED)
        server.should_exit = True
        unused.cancel()
        with contextlib.suppress(asyncio.CancelledError):
            await serving

    asyncio.run(run())


class Network:
    """The second address, on the local network, for as long as phones are let in."""

    def __init__(self) -> None:
        self.app: ASGIApp | None = None
        self._server: uvicorn.Server | None = None
        self._serving: asyncio.Task[None] | None = None

    async def open(self) -> str:
        """Serve on this computer's own address; its host with port. Raises OSError."""
        assert self.app is not None
        made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
        try:
            made.bind((own_address(), 0))
        except OSError:
            made.close()
            raise
        self._server = uvicorn.Server(configured(self.app, lifespan="off"))
        self._server.install_signal_handlers = lambda: None  # type: ignore[attr-defined]
        self._serving = asyncio.get_running_loop().create_task(self._server._serve([made]))
        address, port = made.getsockname()
        return f"{address}:{port}"

    def close(self) -> None:
        """Serve there no more."""
        if self._server is not None:
            self._server.should_exit = True
            self._server = None


def configured(app: ASGIApp, lifespan: Literal["auto", "off"] = "auto") -> uvicorn.Config:
    """How the server is run: nothing is logged that holds a secret, nothing is taken that is too long."""
    return uvicorn.Config(
        app,
        lifespan=lifespan,
        log_level="critical",
        access_log=False,
        server_header=False,
        proxy_headers=False,
        http=Connection,
        ws="websockets-sansio",
        ws_max_size=65_536,
        ws_per_message_deflate=False,
        limit_concurrency=MOST_CONNECTIONS,
        timeout_keep_alive=20,
        timeout_graceful_shutdown=2,
    )


def listen(port: int) -> socket.socket:
    """A socket that only this computer can reach; port 0 is any that is free. Raises NoPort."""
    made = socket.socket(socket.AF_INET, socket.SOCK_STREAM)
    if sys.platform != "win32":  # there it would let two programs share the port
        made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
    try:
        made.bind((LOOPBACK, port))
        # The browser may come before the server is ready: it waits then.
        made.listen(100)
    except (OSError, OverflowError) as fault:
        made.close()
        reason = getattr(fault, "strerror", None) or "a port is a number from 1 to 65535"
        raise NoPort(f"port {port} cannot be used ({reason}); leave --port out to have one chosen") from None
    return made


def hosts_of(listening: socket.socket) -> set[str]:
    """The names under which a browser of this computer reaches the socket."""
    port = listening.getsockname()[1]
    return {f"{name}:{port}" for name in (LOOPBACK, "localhost")}
