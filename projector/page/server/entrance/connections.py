"""Connections that ask for nothing make room for those that do."""

from __future__ import annotations

from asyncio import BaseTransport, Transport
from itertools import count
from typing import cast

from uvicorn.protocols.http.h11_impl import H11Protocol

MOST_IDLE = 60
"""Connections that may wait for a request at once. A browser holds six; where there are more, the oldest goes."""

_numbers = count()


class Connection(H11Protocol):
    """A connection that is closed, when too many wait, unless a request on it is being answered.

    Without this whoever reaches the port and says nothing would shut everybody out: the server counts connections,
    and does not end one that has never asked.
    """

    def connection_made(self, transport: BaseTransport) -> None:
        """Takes the new one in, and lets the oldest of too many idle ones go."""
        super().connection_made(cast(Transport, transport))
        self._number = next(_numbers)
        idle = [one for one in self.connections if isinstance(one, Connection) and one._idle()]
        if len(idle) > MOST_IDLE:
            oldest = min(idle, key=lambda one: one._number)
            oldest.transport.abort()
            # It is lost a turn of the loop later, and many may come in one turn.
            self.connections.discard(oldest)

    def _idle(self) -> bool:
        return self.cycle is None or self.cycle.response_complete
