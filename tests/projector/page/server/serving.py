"""The application asked without a network: a client that is let in, and what strangers send."""

from __future__ import annotations

import contextlib
from collections.abc import Iterator
from pathlib import Path

from starlette.testclient import TestClient

from projector.page.server.app import application
from projector.page.server.guard import Doors, cookie_name
from projector.page.server.workshop import Workshop

HOST = "127.0.0.1:4000"
ORIGIN = {"origin": f"http://{HOST}"}


@contextlib.contextmanager
def served(folder: Path, state: Path, **more: object) -> Iterator[tuple[TestClient, Doors, Workshop]]:
    """A client with the cookie, the doors it came in by and what the server holds."""
    workshop, doors = Workshop(folder, state), Doors({HOST}, wait_s=0.0)
    app = application(workshop, doors)
    with TestClient(app, f"http://{HOST}", follow_redirects=False, **more) as client:
        client.cookies.set(cookie_name({HOST}), doors.secret)
        yield client, doors, workshop
