"""The application asked without a network: a client that is let in, and what strangers send."""

from __future__ import annotations

import contextlib
from collections.abc import Callable, Iterator
from pathlib import Path
from unittest.mock import patch

from starlette.testclient import TestClient

from projector.page.server import thumbs
from projector.page.server.app import application
from projector.page.server.entrance.guard import Doors, cookie_name
from projector.page.server.entrance.phones import Phones
from projector.page.server.workshop import Workshop

HOST = "127.0.0.1:4000"
ORIGIN = {"origin": f"http://{HOST}"}


PHONE_HOST = "192.0.2.7:4001"
"""An address for documentation (RFC 5737): nothing is sent to it, the client speaks to the application itself."""


def phones_of(doors: Doors, clock: Callable[[], float] = lambda: 0.0) -> Phones:
    """Phones that need no network."""

    async def reach() -> str:
        return PHONE_HOST

    return Phones(doors, reach, lambda: None, clock)


@contextlib.contextmanager
def served(folder: Path, state: Path, **more: object) -> Iterator[tuple[TestClient, Doors, Workshop]]:
    """A client with the cookie, the doors it came in by and what the server holds."""
    workshop, doors = Workshop(folder, state), Doors({HOST}, 4000, wait_s=0.0)
    app = application(workshop, doors, phones_of(doors))
    # However busy the machine is, a picture is waited for.
    with (
        patch.object(thumbs, "PATIENCE_S", None),
        TestClient(app, f"http://{HOST}", follow_redirects=False, **more) as client,
    ):
        client.cookies.set(cookie_name(doors), doors.secret)
        yield client, doors, workshop
