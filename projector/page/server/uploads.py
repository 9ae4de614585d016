"""What a page sends as a whole: taken piece by piece, and no further than it may be long."""

from __future__ import annotations

from starlette.requests import Request

MOST_JOB_BYTES = 1_000_000


class TooLarge(Exception):  # noqa: N818 - says what it is
    """More was sent than is taken."""


async def body_of(request: Request, most: int) -> bytes:
    """All that was sent. Raises TooLarge as soon as it is more than ``most`` bytes."""
    held = bytearray()
    told = request.headers.get("content-length", "")
    if told.isdigit() and int(told) > most:
        raise TooLarge
    async for chunk in request.stream():
        held += chunk
        if len(held) > most:
            raise TooLarge
    return bytes(held)
